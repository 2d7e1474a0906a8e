//! The depth before chatter with rests anywhere, without a sweep: at a single stop of the tool, at a fraction of the cost
//! of a whole pass, or at all of them.
//!
//! What a placement comes to is the largest of one over the limit of all stops, so every one of them alone is a lower
//! bound, and so is a stop at any frequency. Which jaws touch is asked of a [`Board`]; then the work is walked as it is
//! with the tool there. All stops of a pass are walked together, at frequencies taken from a few of them; a stop by
//! itself is asked at its own, and ever nearer to the worst of those. So the worst stops of a pass are asked by
//! themselves after it.
//!
//! Limit: later passes have the stiffness of the board's reference.

use super::board::{self, Board, Tabled};
use super::measure::Measure;
use super::trial::Trial;
use crate::job::{Material, Pass};
use crate::mechanics::chain::JawSpring;
use crate::mechanics::chatter::Response;
use crate::mechanics::receptance::Stop;
use crate::study::force::ForceModel;
use crate::study::layout::{Fineness, node_at};
use crate::study::lively::{Bars, Coarse, N_SWINGS, Near, Pitch, Tip};
use crate::study::prepared::side_index;
use crate::study::sweep;

/// About each natural frequency, in damping ratios: the real part is least near one above, or below where the swing moves
/// the edge against the force.
const ABOUT: [f64; 4] = [-1.3, -0.7, 0.7, 1.3];
/// About the frequency found last, in steps of so many damping ratios, on to one side where that is worst, so many times.
const LAST_STEP: f64 = 0.6;
const MOST_ON: usize = 3;
/// About the worst frequency so far, in steps that get smaller (in damping ratios).
const ABOUT_WORST: [f64; 4] = [-1.5, -0.5, 0.5, 1.5];
const NEARER: [f64; 2] = [0.2, 0.07];
/// Where all stops are asked together. The worst stop of a pass is hardly ever one that a faster swing decides.
const TOGETHER: Near = Near { n_swings: N_SWINGS, step_ratio: 0.5, reach_ratio: 0.0 };
/// Another swing so much less bad than the worst may be worse when it is looked at more nearly.
const RIVAL_RATIO: f64 = 0.9;
/// A stop so much less bad than the worst of its placement may be worse when it is looked at more nearly.
const NEAR_WORST_RATIO: f64 = 0.95;

/// A stop of the tool.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Spot {
    /// Number among the board's passes.
    pass: usize,
    /// In cutting order.
    stop: usize,
}

/// The worst of all stops.
#[derive(Clone, Copy, Debug)]
pub struct Worst {
    /// One over the depth before chatter: infinite where nothing holds the work, 0 where nothing can chatter.
    pub value: f64,
    pub at: Option<Spot>,
    pub frequency_hz: Option<f64>,
}

/// A set-up ready to be asked.
pub struct Screen {
    trial: Trial,
    material: Material,
    board: Board,
    room: board::Room,
    ways: Vec<Way>,
    /// The pass of the last worst stop, which is asked first.
    worst_pass: usize,
}

/// A pass without rests, as it swings.
struct Way {
    pass: Pass,
    tabled: Tabled,
    /// Nodes of the places where rests may stand.
    place_nodes: Vec<usize>,
    mesh: Mesh,
    /// With the rests of this placement.
    laid: Option<Laid>,
}

/// Some nodes of the work, and what lies between them before the pass and after it.
#[derive(Clone, Debug)]
struct Mesh {
    coarse: Coarse,
    old: Bars,
    finished: Bars,
}

/// A pass with rests in place, and the stops that are asked.
struct Laid {
    coarse: Coarse,
    /// By rest.
    rest_nodes: Vec<usize>,
    pitch: Pitch,
    /// Numbers of its stops.
    stops: Vec<usize>,
}

impl Screen {
    /// For rests at `places_mm`; those of the trial stand where the passes' stiffness is taken from. `None` where nothing
    /// is turned or nothing bends.
    #[must_use]
    pub fn new(trial: &Trial, places_mm: &[f64], fineness: Fineness) -> Option<Self> {
        let reference = trial.compute_setup(fineness, &mut sweep::Room::default())?;
        let mut ways: Vec<Way> = Vec::new();
        let board = Board::telling(trial, &reference, places_mm, fineness, Measure::Chatter, &mut |tabled| {
            let pass = trial.setup().passes.iter().find(|pass| pass.id == tabled.pass);
            ways.extend(pass.map(|pass| Way::of(pass.clone(), tabled, places_mm)));
        })?;
        let all_there = ways.iter().all(|way| way.place_nodes.len() == places_mm.len());
        let (trial, material, room) = (trial.clone(), trial.job.material(), board::Room::default());
        all_there.then_some(Self { trial, material, board, room, ways, worst_pass: 0 })
    }

    /// Puts rests to places.
    pub fn lay_out(&mut self, rests_at: &[usize]) {
        self.board.lay_out(&mut self.room, rests_at);
        self.ways.iter_mut().for_each(|way| way.laid = None);
    }

    /// One over the depth before chatter at a spot with the rests as laid out, at its own frequencies; infinite where
    /// nothing holds the work, 0 where nothing can chatter. `last_hz` is where the spot chattered last, and is put right.
    pub fn value_at(&mut self, rests_at: &[usize], spot: Spot, last_hz: &mut Option<f64>) -> f64 {
        let damping_ratio = self.damping_ratio();
        let Some(Laid { pitch, .. }) = self.put(rests_at, spot.pass, [spot.stop]) else { return f64::INFINITY };
        let Some(tip) = pitch.tips.first() else { return 0.0 };
        let Some(natural_hz) = pitch.natural_hz(&pitch.stops[0], N_SWINGS) else { return f64::INFINITY };
        let about = |natural_hz: &f64| ABOUT.map(|about| natural_hz * (1.0 + about * damping_ratio));
        let asked_hz: Vec<f64> = natural_hz.iter().flat_map(about).collect();
        let responses = asked(pitch, &asked_hz, damping_ratio);
        let rival = RIVAL_RATIO * least(&responses);
        let mut value: f64 = 0.0;
        for swing in responses.chunks(ABOUT.len()).filter(|swing| least(swing) <= rival) {
            let swing = sharpened(pitch, swing.to_vec(), damping_ratio);
            let Some(limit) = tip.limit(&swing) else { continue };
            if 1.0 / limit.limit_on_diameter_mm > value {
                (value, *last_hz) = (1.0 / limit.limit_on_diameter_mm, Some(limit.frequency_hz));
            }
        }
        value
    }

    /// A lower bound of [`Self::value_at`], from frequencies about the last one alone: sharp where that has moved little.
    pub fn bound_at(&mut self, rests_at: &[usize], spot: Spot, last_hz: &mut Option<f64>) -> f64 {
        let damping_ratio = self.damping_ratio();
        let Some(near_hz) = *last_hz else { return self.value_at(rests_at, spot, last_hz) };
        let Some(Laid { pitch, .. }) = self.put(rests_at, spot.pass, [spot.stop]) else { return f64::INFINITY };
        let Some(tip) = pitch.tips.first() else { return 0.0 };
        let responses = sharpened(pitch, about_last(pitch, near_hz, damping_ratio), damping_ratio);
        let Some(limit) = tip.limit(&responses) else { return 0.0 };
        *last_hz = Some(limit.frequency_hz);
        1.0 / limit.limit_on_diameter_mm
    }

    /// The worst of all stops of all passes; above `limit` a lower bound. `None` where `keep_going` said no.
    pub fn worst(&mut self, rests_at: &[usize], limit: f64, keep_going: &dyn Fn() -> bool) -> Option<Worst> {
        let damping_ratio = self.damping_ratio();
        let nothing_holds = Worst { value: f64::INFINITY, at: None, frequency_hz: None };
        let mut found: Vec<(Spot, f64, f64)> = Vec::new();
        let first = self.worst_pass;
        for pass in std::iter::once(first).chain((0..self.ways.len()).filter(|pass| *pass != first)) {
            let layout = &self.ways[pass].tabled;
            let n_stops = layout.prepared.layout.places.len();
            let rising = |stop: usize| if layout.cut.to_headstock() { n_stops - 1 - stop } else { stop };
            let stops: Vec<usize> = (0..n_stops).map(rising).collect();
            let Some(Laid { pitch, stops, .. }) = self.put(rests_at, pass, stops) else { return Some(nothing_holds) };
            let Some(asked_hz) = pitch.frequencies_hz(damping_ratio, &TOGETHER, keep_going) else {
                return keep_going().then_some(nothing_holds);
            };
            let responses = pitch.responses(&asked_hz, damping_ratio, keep_going)?;
            for ((tip, responses), stop) in pitch.tips.iter().zip(&responses).zip(stops) {
                let Some(limit) = tip.limit(responses) else { continue };
                found.push((Spot { pass, stop: *stop }, 1.0 / limit.limit_on_diameter_mm, limit.frequency_hz));
            }
            if found.iter().any(|(_, value, _)| *value > limit) {
                break;
            }
        }
        let most = found.iter().map(|(_, value, _)| *value).fold(0.0, f64::max);
        let mut worst = Worst { value: 0.0, at: None, frequency_hz: None };
        for (spot, value, near_hz) in found {
            if value < NEAR_WORST_RATIO * most {
                continue;
            }
            let mut frequency_hz = Some(near_hz);
            let value = self.bound_at(rests_at, spot, &mut frequency_hz);
            if value > worst.value {
                worst = Worst { value, at: Some(spot), frequency_hz };
            }
        }
        if let Some(spot) = worst.at {
            self.worst_pass = spot.pass;
            worst.value = self.value_at(rests_at, spot, &mut worst.frequency_hz).max(worst.value);
        }
        Some(worst)
    }

    fn damping_ratio(&self) -> f64 {
        self.trial.job.spread.damping_ratio.value
    }

    /// A pass with the rests as laid out and the tool at these stops, rising in z; those where the edge takes nothing off
    /// are left out. `None` where nothing holds the work.
    fn put(&mut self, rests_at: &[usize], pass: usize, stops: impl IntoIterator<Item = usize>) -> Option<&Laid> {
        let Self { trial, material, board, room, ways, .. } = self;
        let way = &mut ways[pass];
        let mut laid = match way.laid.take() {
            Some(laid) => laid,
            None => way.with_rests(rests_at)?,
        };
        laid.clear();
        let prepared = &way.tabled.prepared;
        let setup = trial.setup();
        let model = ForceModel::new(material, &setup.tool, &way.pass, way.tabled.last_depth_mm).times(trial.factors);
        for stop in stops {
            let contact = board.contact(room, rests_at, pass, stop)?;
            let place = prepared.layout.places[stop];
            let sizes = &prepared.sizes[place.node][side_index(place.side)];
            let z_mm = prepared.layout.nodes_mm[place.node];
            let Some(tip) = Tip::cutting(setup, &way.pass, &model, sizes, (z_mm, contact.depth_mm)) else { continue };
            let jaws: Option<Vec<JawSpring>> = (contact.jaws.iter())
                .map(|jaw| {
                    let node = laid.rest_nodes.get(jaw.node).copied();
                    let node = node.or_else(|| laid.coarse.number(place.follower?))?;
                    Some(JawSpring { node, ..*jaw })
                })
                .collect();
            laid.pitch.stops.push(Stop { node: laid.coarse.number(place.node)?, jaws: jaws? });
            laid.pitch.tips.push(tip);
            laid.stops.push(stop);
        }
        way.laid = Some(laid);
        way.laid.as_ref()
    }
}

/// The responses at the one stop that is asked, rising in frequency as asked.
fn asked(pitch: &Pitch, asked_hz: &[f64], damping_ratio: f64) -> Vec<Response> {
    let responses = pitch.responses(asked_hz, damping_ratio, &|| true);
    responses.and_then(|responses| responses.into_iter().next()).unwrap_or_default()
}

/// The least real part, or 0.
fn least(responses: &[Response]) -> f64 {
    responses.iter().map(|one| one.receptance.re).fold(0.0, f64::min)
}

/// The responses about the frequency found last, on to the side where they get worse.
fn about_last(pitch: &Pitch, last_hz: f64, damping_ratio: f64) -> Vec<Response> {
    let at_hz = |step: f64| last_hz * (1.0 + step * LAST_STEP * damping_ratio);
    let mut responses = asked(pitch, &ABOUT_WORST.map(at_hz), damping_ratio);
    for on in 1..=MOST_ON {
        let on = (ABOUT_WORST.len() * on) as f64;
        let worst = least(&responses);
        let is_worst = |one: Option<&Response>| one.is_some_and(|one| one.receptance.re <= worst);
        if is_worst(responses.first()) {
            responses.splice(0..0, asked(pitch, &ABOUT_WORST.map(|step| at_hz(step - on)), damping_ratio));
        } else if is_worst(responses.last()) {
            responses.extend(asked(pitch, &ABOUT_WORST.map(|step| at_hz(step + on)), damping_ratio));
        } else {
            break;
        }
    }
    responses
}

/// With more about the worst of them.
fn sharpened(pitch: &Pitch, mut responses: Vec<Response>, damping_ratio: f64) -> Vec<Response> {
    for step in NEARER {
        let worst = responses.iter().min_by(|a, b| a.receptance.re.total_cmp(&b.receptance.re));
        let Some(worst_hz) = worst.map(|worst| worst.frequency_hz) else { break };
        let asked_hz = ABOUT_WORST.map(|about| worst_hz * (1.0 + about * step * damping_ratio));
        responses.extend(asked(pitch, &asked_hz, damping_ratio));
        responses.sort_by(|a, b| a.frequency_hz.total_cmp(&b.frequency_hz));
    }
    responses
}

impl Way {
    fn of(pass: Pass, tabled: Tabled, places_mm: &[f64]) -> Self {
        let layout = &tabled.prepared.layout;
        let place_nodes = places_mm.iter().filter_map(|z_mm| node_at(&layout.nodes_mm, *z_mm)).collect();
        let stops = layout.places.iter().flat_map(|place| [Some(place.node), place.follower]).flatten();
        let mesh = Mesh::of(Coarse::of(&tabled.prepared, stops), &tabled);
        Self { pass, place_nodes, mesh, laid: None, tabled }
    }

    fn with_rests(&self, rests_at: &[usize]) -> Option<Laid> {
        let places = rests_at.iter().map(|rest| self.place_nodes[*rest]);
        let Mesh { coarse, old, finished } = self.mesh.with(places.clone(), &self.tabled);
        let (front, back) = if self.tabled.cut.to_headstock() { (old, finished) } else { (finished, old) };
        let rest_by_rest: Option<Vec<usize>> = places.map(|node| coarse.number(node)).collect();
        let springs = &self.tabled.prepared.springs;
        let springs = springs.iter().filter_map(|(node, spring)| Some((coarse.number(*node)?, *spring))).collect();
        let mut rest_nodes = rest_by_rest.clone()?;
        rest_nodes.sort_unstable();
        rest_nodes.dedup();
        let pitch = Pitch { front, back, springs, rest_nodes, stops: Vec::new(), tips: Vec::new() };
        Some(Laid { coarse, rest_nodes: rest_by_rest?, pitch, stops: Vec::new() })
    }
}

impl Laid {
    fn clear(&mut self) {
        self.pitch.stops.clear();
        self.pitch.tips.clear();
        self.stops.clear();
    }
}

impl Mesh {
    fn of(coarse: Coarse, tabled: &Tabled) -> Self {
        let Tabled { prepared, elastic, .. } = tabled;
        Self {
            old: coarse.bars(prepared, elastic, &prepared.old, |sizes| sizes.old_mm),
            finished: coarse.bars(prepared, elastic, &prepared.finished, |sizes| sizes.finished_mm),
            coarse,
        }
    }

    /// With these nodes too.
    fn with(&self, also: impl Iterator<Item = usize>, tabled: &Tabled) -> Self {
        let mut new: Vec<usize> = also.filter(|node| self.coarse.number(*node).is_none()).collect();
        new.sort_unstable();
        new.dedup();
        let mut mesh = self.clone();
        for node in new {
            let kept = &mut mesh.coarse.kept;
            let at = kept.partition_point(|before| *before < node);
            kept.insert(at, node);
            // What lay across the node becomes two.
            let parts = Self::of(Coarse { kept: kept[at - 1..=at + 1].to_vec() }, tabled);
            for (bars, parts) in [(&mut mesh.old, parts.old), (&mut mesh.finished, parts.finished)] {
                bars.elements.splice(at - 1..at, parts.elements);
                bars.masses.splice(at - 1..at, parts.masses);
            }
        }
        mesh
    }
}
