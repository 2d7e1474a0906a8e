//! The depth of cut at which chatter is to be expected, along a pass and over the lathe's speeds.
//!
//! At each stop of the tool the receptance of the work there, with the jaws that touch there, is turned into the
//! direction of the chip ([`crate::mechanics::chatter`]). Direction and specific force are those of the pass's own depth.
//! The stop's frequencies are found near the natural ones, which are taken at a few stops of every stretch with the same
//! jaws touching.
//!
//! Limits: carriage and tool count as rigid, damping is stated, slow cutting is steadier than this says.

use super::mesh::{Bars, Coarse, FEWEST_ELEMENTS, Looked, jaw_springs};
use crate::job::{Job, Lathe, Pass, PassId, Setup, SetupId};
use crate::mechanics::chain::{JawSpring, Work};
use crate::mechanics::chatter::{Orientation, Response, limit, limit_at_speed};
use crate::mechanics::receptance::{Comb, Line, Receptance, Stop, Travel, frequencies_near_hz};
use crate::mechanics::vibration::frequencies_hz;
use crate::mechanics::walk::NodeSpring;
use crate::study::force::{Factors, ForceModel};
use crate::study::holding::tool_side;
use crate::study::layout::{Fineness, Place};
use crate::study::prepared::{Prepared, Sizes, side_index};
use crate::study::results::{Station, Support};

/// Stops of the tool along a pass.
const N_STOPS: usize = 80;

/// Swings looked at along a pass. Near what holds the work the slow ones hardly move it, and one of the faster decides:
/// against thirty swings, over 9600 stops of 60 jobs drawn by lot (2026-11-28), six said more than a fiftieth too much at
/// 7 in 100 stops, twelve at 1.3, eighteen at 0.1; of the least of a pass, six did in one of 123, twelve in none.
const N_ALONG: usize = 12;
/// To within so many damping ratios natural frequencies are looked for.
const NATURAL_RATIO: f64 = 0.1;

/// Frequencies computed between two looks at `keep_going`.
const FREQUENCIES_AT_ONCE: usize = 32;

/// Where chatter is to be expected at one place of the tool.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct DepthLimit {
    pub z_mm: f64,
    /// Depth on diameter from which chatter is to be expected at the worst speed; an estimate.
    pub limit_on_diameter_mm: f64,
    /// Its pitch.
    pub frequency_hz: f64,
}

/// The same at one spindle speed.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SpeedLimit {
    pub speed_rpm: f64,
    pub limit_on_diameter_mm: f64,
    pub frequency_hz: f64,
}

/// How the limit changes with speed at one place of the tool.
#[derive(Clone, Debug, PartialEq)]
pub struct Lobes {
    /// The limit at the worst speed.
    pub worst: DepthLimit,
    /// Rising speeds over the lathe's range; those that no lobe of the frequencies looked at reaches are left out.
    pub speeds: Vec<SpeedLimit>,
}

/// Limits along a computed turning pass, rising in z, at some 80 places; places where the work cannot chatter, or where
/// the push does not follow the depth, are left out. Empty where there is nothing to compute, or when `keep_going` says
/// no.
#[must_use]
pub fn depth_limits(
    job: &Job,
    result: &crate::study::JobResult,
    setup: SetupId,
    pass: PassId,
    damping_ratio: f64,
    keep_going: &dyn Fn() -> bool,
) -> Vec<DepthLimit> {
    depth_limits_of(job, result, setup, pass, &Look { damping_ratio, ..Look::USUAL }, keep_going)
}

/// How a computed job is looked at.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Look {
    /// How fine the result is.
    pub fineness: Fineness,
    /// By how much the force of the chip was larger in it.
    pub factors: Factors,
    pub damping_ratio: f64,
    /// Stops of the tool along the pass, at most.
    pub n_stops: usize,
}

impl Look {
    /// As on screen.
    pub const USUAL: Self = Self {
        fineness: Fineness::USUAL,
        factors: Factors::ONE,
        damping_ratio: super::DAMPING_RATIO,
        n_stops: N_STOPS,
    };
}

/// As [`depth_limits`], for a result that was computed otherwise than usual.
#[must_use]
pub fn depth_limits_of(
    job: &Job,
    result: &crate::study::JobResult,
    setup: SetupId,
    pass: PassId,
    look: &Look,
    keep_going: &dyn Fn() -> bool,
) -> Vec<DepthLimit> {
    let looked = Looked::at(job, result, setup, pass, look.fineness, look.factors).filter(Looked::turns);
    let Some(looked) = looked else { return Vec::new() };
    let damping_ratio = look.damping_ratio;
    let n_stations = looked.computed.stations.len();
    let n_stops = n_stations.min(look.n_stops);
    let chosen: Vec<usize> = (0..n_stops).map(|stop| stop * (n_stations - 1) / (n_stops - 1).max(1)).collect();
    let found = Pitch::all(&looked, &looked.prepare(None), &chosen).and_then(|pitch| {
        let frequencies_hz = pitch.frequencies_hz(damping_ratio, &Near::ALONG, keep_going)?;
        let responses = pitch.responses(&frequencies_hz, damping_ratio, keep_going)?;
        Some(pitch.tips.iter().zip(responses).filter_map(|(tip, responses)| tip.limit(&responses)).collect())
    });
    found.unwrap_or_default()
}

/// The limit over the lathe's speeds with the tool at the station nearest to `tool_z_mm`.
#[must_use]
pub fn lobes(
    job: &Job,
    result: &crate::study::JobResult,
    setup: SetupId,
    pass: PassId,
    tool_z_mm: f64,
    damping_ratio: f64,
) -> Option<Lobes> {
    let looked = Looked::of(job, result, setup, pass).filter(Looked::turns)?;
    let apart = |station: &Station| (station.z_mm - tool_z_mm).abs();
    let stations = &looked.computed.stations;
    let nearest = (0..stations.len()).min_by(|a, b| apart(&stations[*a]).total_cmp(&apart(&stations[*b])))?;
    let pitch = Pitch::all(&looked, &looked.prepare(None), &[nearest])?;
    let near = Near { comb: Comb { reach_ratio: 0.6, ..Comb::FINE }, ..Near::ALONG };
    let frequencies_hz = pitch.frequencies_hz(damping_ratio, &near, &|| true)?;
    let responses = pitch.responses(&frequencies_hz, damping_ratio, &|| true)?;
    let (tip, responses) = (pitch.tips.first()?, responses.first()?);
    let worst = tip.limit(responses)?;
    let at_speed = |speed_rpm: f64| {
        let limit = limit_at_speed(tip.kc_mpa, responses, speed_rpm)?;
        Some(SpeedLimit {
            speed_rpm,
            limit_on_diameter_mm: tip.on_diameter_mm(limit.width_mm),
            frequency_hz: limit.frequency_hz,
        })
    };
    Some(Lobes { worst, speeds: speeds_rpm(&job.lathe).into_iter().filter_map(at_speed).collect() })
}

/// Speeds over the lathe's range, each a fixed ratio above the last.
fn speeds_rpm(lathe: &Lathe) -> Vec<f64> {
    const N_SPEEDS: i32 = 240;
    let highest_rpm = lathe.speeds_rpm.last().copied().unwrap_or(lathe.chuck_max_rpm.value);
    let lowest_rpm = lathe.speeds_rpm.first().copied().unwrap_or(0.02 * highest_rpm).min(highest_rpm);
    let ratio = highest_rpm / lowest_rpm;
    (0..=N_SPEEDS).map(|step| lowest_rpm * ratio.powf(f64::from(step) / f64::from(N_SPEEDS))).collect()
}

/// The edge at one stop.
#[derive(Clone, Copy, Debug)]
pub struct Tip {
    z_mm: f64,
    orientation: Orientation,
    /// Main force per area of chip.
    kc_mpa: f64,
    chord_angle_rad: f64,
}

impl Tip {
    /// The edge at the pass's own depth; `None` where it takes nothing off or pushes whatever the depth.
    fn of(looked: &Looked, model: &ForceModel, prepared: &Prepared, place: &Place, station: &Station) -> Option<Self> {
        let sizes = &prepared.sizes[place.node][side_index(place.side)];
        Self::cutting(looked.scene.setup, looked.pass, model, sizes, (station.z_mm, station.real_depth_mm / 2.0))
    }

    /// The same for a place and the radial depth that is really cut there.
    pub fn cutting(
        setup: &Setup,
        pass: &Pass,
        model: &ForceModel,
        sizes: &Sizes,
        (z_mm, real_depth_mm): (f64, f64),
    ) -> Option<Self> {
        let dial_mm = (sizes.old_dial_mm - sizes.dial_mm) / 2.0;
        let depth_mm = if dial_mm > 1e-6 { dial_mm } else { real_depth_mm };
        if depth_mm <= 1e-6 {
            return None;
        }
        let (forces, per_mm) = model.law(sizes.old_dial_mm, dial_mm).forces(depth_mm);
        if per_mm.main_n <= 0.0 {
            return None;
        }
        let chord_angle_rad = forces.feed_n.atan2(forces.radial_n);
        let thrust_ratio = forces.feed_n.hypot(forces.radial_n) / forces.main_n;
        let side = tool_side(setup);
        let lever_mm = sizes.dial_mm / 2.0 + dial_mm.max(0.0) / 2.0;
        let feed_lever_mm = side * if pass.feeds_to_headstock() { -lever_mm } else { lever_mm };
        Some(Self {
            z_mm,
            orientation: Orientation::turning(side, chord_angle_rad, thrust_ratio, feed_lever_mm),
            kc_mpa: forces.main_n / (depth_mm * pass.feed_mm_per_rev),
            chord_angle_rad,
        })
    }

    fn on_diameter_mm(&self, width_mm: f64) -> f64 {
        2.0 * width_mm * self.chord_angle_rad.sin()
    }

    /// The response across the edge to what the work does there.
    pub fn response(&self, frequency_hz: f64, work: &Receptance) -> Response {
        Response { frequency_hz, receptance: self.orientation.receptance(work) }
    }

    /// The limit with these responses, rising in frequency; `None` where the edge cannot chatter.
    pub fn limit(&self, responses: &[Response]) -> Option<DepthLimit> {
        let found = limit(self.kc_mpa, responses)?;
        Some(DepthLimit {
            z_mm: self.z_mm,
            limit_on_diameter_mm: self.on_diameter_mm(found.width_mm),
            frequency_hz: found.frequency_hz,
        })
    }
}

/// Which frequencies are asked ([`frequencies_near_hz`]).
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Near {
    /// About so many natural ones.
    pub n_swings: usize,
    pub comb: Comb,
}

impl Near {
    const ALONG: Self = Self { n_swings: N_ALONG, comb: Comb::FINE };
}

/// A pass as chatter sees it.
#[derive(Clone, Debug)]
pub struct Pitch {
    /// The work on the headstock side of the tool, and on its tailstock side.
    pub front: Bars,
    pub back: Bars,
    pub springs: Vec<(usize, NodeSpring)>,
    /// Rising, each once.
    pub rest_nodes: Vec<usize>,
    /// Rising in z, each with its edge.
    pub stops: Vec<Stop>,
    pub tips: Vec<Tip>,
}

impl Pitch {
    /// The chosen stations, rising in z.
    fn all(looked: &Looked, prepared: &Prepared, chosen: &[usize]) -> Option<Self> {
        let cut = looked.scene.cut_span(looked.pass)?;
        let (computed, places) = (looked.computed, &prepared.layout.places);
        let n_stations = computed.stations.len();
        if n_stations == 0 || n_stations != places.len() {
            return None;
        }
        let place_of = |station: usize| places[if cut.to_headstock() { n_stations - 1 - station } else { station }];
        let wanted = chosen.iter().flat_map(|station| {
            let place = place_of(*station);
            [Some(place.node), place.follower].into_iter().flatten()
        });
        let coarse = Coarse::of(prepared, wanted, FEWEST_ELEMENTS);
        let elastic = &looked.scene.elastic;
        let old = coarse.bars(prepared, elastic, &prepared.old, |sizes| sizes.old_mm);
        let finished = coarse.bars(prepared, elastic, &prepared.finished, |sizes| sizes.finished_mm);
        let (front, back) = if cut.to_headstock() { (old, finished) } else { (finished, old) };
        let material = looked.scene.job.material();
        let model = ForceModel::new(&material, &looked.scene.setup.tool, looked.pass, looked.last_depth_mm)
            .times(looked.scene.factors);
        let jaw_columns: Vec<usize> = (computed.supports.iter().enumerate())
            .filter(|(_, support)| matches!(support, Support::Jaw { .. } | Support::FollowerJaw { .. }))
            .map(|(column, _)| column)
            .collect();
        let (mut stops, mut tips) = (Vec::new(), Vec::new());
        for station in chosen {
            let place = place_of(*station);
            let tip = Tip::of(looked, &model, prepared, &place, &computed.stations[*station]);
            let (Some(tip), Some(node)) = (tip, coarse.number(place.node)) else { continue };
            let forces_n = computed.forces_at(*station);
            let touching: Vec<bool> = jaw_columns.iter().map(|column| forces_n[*column] > 0.0).collect();
            let jaws = jaw_springs(prepared, &touching, place.follower, |node| coarse.number(node));
            stops.push(Stop { node, jaws });
            tips.push(tip);
        }
        let springs = &prepared.springs;
        let springs = springs.iter().filter_map(|(node, spring)| Some((coarse.number(*node)?, *spring))).collect();
        let mut rest_nodes: Vec<usize> =
            prepared.jaw_nodes.iter().flatten().filter_map(|node| coarse.number(*node)).collect();
        rest_nodes.sort_unstable();
        rest_nodes.dedup();
        Some(Self { front, back, springs, rest_nodes, stops, tips })
    }

    /// The first natural frequencies with the tool at a stop, as near as damping asks for; `None` where nothing holds the
    /// work. `near_hz` is where they may be thought to lie.
    pub fn natural_hz(&self, stop: &Stop, n_swings: usize, damping_ratio: f64, near_hz: &[f64]) -> Option<Vec<f64>> {
        let merge = |front: &[_], back: &[_]| [&front[..stop.node], &back[stop.node..]].concat();
        let elements = merge(&self.front.elements, &self.back.elements);
        let masses = [&self.front.masses[..stop.node], &self.back.masses[stop.node..]].concat();
        let work =
            Work { elements: &elements, masses: &masses, node_masses: &[], springs: &self.springs, jaws: &stop.jaws };
        frequencies_hz(&work, n_swings, (NATURAL_RATIO * damping_ratio).max(1e-5), near_hz)
    }

    /// Frequencies near the natural ones of every stop; `None` where nothing holds the work or `keep_going` said no.
    pub fn frequencies_hz(&self, damping_ratio: f64, near: &Near, keep_going: &dyn Fn() -> bool) -> Option<Vec<f64>> {
        let alike = |a: &Stop, b: &Stop| {
            // Of several rests, the same one; a follower is elsewhere at every stop.
            let rest = |jaw: &JawSpring| self.rest_nodes.contains(&jaw.node).then_some(jaw.node);
            let standing = |jaw: &JawSpring| (rest(jaw), jaw.direction, jaw.k_n_per_mm);
            a.jaws.iter().map(standing).eq(b.jaws.iter().map(standing))
        };
        let mut ranges_hz: Vec<[f64; 2]> = Vec::new();
        let mut thought_hz: Vec<f64> = Vec::new();
        for run in self.stops.chunk_by(alike) {
            // A follower that travels along changes the frequencies as it goes.
            let travels = run.iter().flat_map(|stop| &stop.jaws).any(|jaw| !self.rest_nodes.contains(&jaw.node));
            let n_looks = if travels { 9 } else { 3 }.min(run.len());
            let mut last: Option<Vec<f64>> = None;
            for look in 0..n_looks {
                if !keep_going() {
                    return None;
                }
                let stop = &run[look * (run.len() - 1) / (n_looks - 1).max(1)];
                let found = self.natural_hz(stop, near.n_swings, damping_ratio, &thought_hz)?;
                thought_hz.clone_from(&found);
                let before = last.as_ref().unwrap_or(&found);
                ranges_hz.extend(found.iter().zip(before).map(|(a, b)| [a.min(*b), a.max(*b)]));
                last = Some(found);
            }
        }
        ranges_hz.sort_by(|a, b| a[0].total_cmp(&b[0]));
        ranges_hz.dedup_by(|later, earlier| {
            let one = later[0] <= earlier[1] * (1.0 + damping_ratio);
            if one {
                earlier[1] = earlier[1].max(later[1]);
            }
            one
        });
        Some(frequencies_near_hz(&ranges_hz, damping_ratio, &near.comb))
    }

    /// The work and its stops, ready to be asked.
    pub fn line(&self) -> Line {
        Line::of(&Travel {
            front: &self.front.elements,
            front_masses: &self.front.masses,
            back: &self.back.elements,
            back_masses: &self.back.masses,
            springs: &self.springs,
            rest_nodes: &self.rest_nodes,
            stops: &self.stops,
        })
    }

    /// The responses of every stop, rising in frequency.
    pub fn responses(
        &self,
        frequencies_hz: &[f64],
        damping_ratio: f64,
        keep_going: &dyn Fn() -> bool,
    ) -> Option<Vec<Vec<Response>>> {
        let mut line = self.line();
        let mut responses = vec![Vec::with_capacity(frequencies_hz.len()); self.stops.len()];
        for chunk in frequencies_hz.chunks(FREQUENCIES_AT_ONCE) {
            if !keep_going() {
                return None;
            }
            line.receptances(chunk, damping_ratio, |stop, frequency, work| {
                responses[stop].push(self.tips[stop].response(chunk[frequency], work));
            });
        }
        Some(responses)
    }
}
