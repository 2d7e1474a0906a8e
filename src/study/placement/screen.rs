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
use super::hands::in_order;
use super::measure::Measure;
use super::trial::Trial;
use crate::job::{Material, Pass};
use crate::mechanics::chain::JawSpring;
use crate::mechanics::chatter::Response;
use crate::mechanics::receptance::{Comb, Line, Stop};
use crate::study::force::ForceModel;
use crate::study::layout::{Fineness, node_at};
use crate::study::lively::{Bars, Coarse, DepthLimit, FEWEST_ELEMENTS, N_SWINGS, Near, Pitch, Tip};
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
/// Elements for the length of the work where a stop is asked by itself: half of what a pass has. Masses err with the fourth
/// power of the length, so that is well within what a stop alone is believed.
const ALONE_ELEMENTS: f64 = FEWEST_ELEMENTS / 2.0;
/// Where all stops are asked together. The worst stop of a pass is hardly ever one that a faster swing decides.
const TOGETHER: Near = Near { n_swings: N_SWINGS, comb: Comb { step_ratio: 0.5, close_ratio: 2.0, reach_ratio: 0.0 } };
/// Where the worst of those is among them, more frequencies about it are worse by less than this: a stop so much less bad
/// than another one of its placement need not be asked closer.
const FAR_RATIO: f64 = 0.8;
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
    /// Where, and at which frequency.
    pub at: Option<(Spot, f64)>,
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
    /// With nodes for all stops, and for one alone where it was asked.
    mesh: Mesh,
    alone: Vec<Option<Mesh>>,
}

/// Some nodes of the work, and what lies between them before the pass and after it.
#[derive(Clone, Debug)]
struct Mesh {
    coarse: Coarse,
    old: Bars,
    finished: Bars,
}

/// A pass with rests in place.
struct Laid {
    coarse: Coarse,
    /// By rest.
    rest_nodes: Vec<usize>,
    pitch: Pitch,
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
    }

    /// One over the depth before chatter at a spot with the rests as laid out, at its own frequencies; infinite where
    /// nothing holds the work, 0 where nothing can chatter. `last_hz` is where the spot chattered last, and is put right.
    pub fn value_at(&mut self, rests_at: &[usize], spot: Spot, last_hz: &mut f64) -> f64 {
        let damping_ratio = self.damping_ratio();
        let Some(pitch) = self.alone(rests_at, spot) else { return f64::INFINITY };
        let Some(tip) = pitch.tips.first() else { return 0.0 };
        let Some(natural_hz) = pitch.natural_hz(&pitch.stops[0], N_SWINGS, damping_ratio, &[]) else {
            return f64::INFINITY;
        };
        let about = |natural_hz: &f64| ABOUT.map(|about| natural_hz * (1.0 + about * damping_ratio));
        let asked_hz: Vec<f64> = natural_hz.iter().flat_map(about).collect();
        let mut alone = Alone { tip, line: pitch.line(), damping_ratio };
        let responses = alone.asked(&asked_hz);
        let rival = RIVAL_RATIO * least(&responses);
        let mut value: f64 = 0.0;
        for swing in responses.chunks(ABOUT.len()).filter(|swing| least(swing) <= rival) {
            let swing = alone.sharpened(swing.to_vec());
            let Some(limit) = tip.limit(&swing) else { continue };
            if 1.0 / limit.limit_on_diameter_mm > value {
                (value, *last_hz) = (1.0 / limit.limit_on_diameter_mm, limit.frequency_hz);
            }
        }
        value
    }

    /// A lower bound of [`Self::value_at`], from frequencies about the last one alone: sharp where that has moved little and
    /// it is neither above `limit` nor far below what is `known` of the placement.
    pub fn bound_at(&mut self, rests_at: &[usize], spot: Spot, [known, limit]: [f64; 2], last_hz: &mut f64) -> f64 {
        let (near_hz, damping_ratio) = (*last_hz, self.damping_ratio());
        let Some(pitch) = self.alone(rests_at, spot) else { return f64::INFINITY };
        let Some(tip) = pitch.tips.first() else { return 0.0 };
        let mut alone = Alone { tip, line: pitch.line(), damping_ratio };
        let mut take = |found: DepthLimit| {
            *last_hz = found.frequency_hz;
            1.0 / found.limit_on_diameter_mm
        };
        let mut responses = alone.asked(&alone.about_hz(near_hz, 0.0));
        for is_first in [true, false] {
            // At the worst of them itself: what lies between two that are far apart may be overrated.
            let found = worst(&responses).and_then(|worst| tip.limit(std::slice::from_ref(worst)));
            let value = found.map_or(0.0, |found| 1.0 / found.limit_on_diameter_mm);
            let is_far = !is_first && value < FAR_RATIO * known;
            if let Some(found) = found.filter(|_| is_far || value > limit) {
                return take(found);
            }
            if is_first {
                alone.go_on(near_hz, &mut responses);
            }
        }
        tip.limit(&alone.sharpened(responses)).map_or(0.0, take)
    }

    /// The worst of all stops of all passes; above `limit` a lower bound. `None` where `keep_going` said no.
    pub fn worst(&mut self, rests_at: &[usize], limit: f64, keep_going: &dyn Fn() -> bool) -> Option<Worst> {
        let damping_ratio = self.damping_ratio();
        let nothing_holds = Worst { value: f64::INFINITY, at: None };
        let first = self.worst_pass;
        let mut parts: Vec<(usize, Pitch, Vec<usize>)> = Vec::with_capacity(self.ways.len());
        for pass in std::iter::once(first).chain((0..self.ways.len()).filter(|pass| *pass != first)) {
            let Some((pitch, stops)) = self.together(rests_at, pass) else { return Some(nothing_holds) };
            parts.push((pass, pitch, stops));
        }
        let limits = |(pass, pitch, stops): &(usize, Pitch, Vec<usize>), keep_going: &dyn Fn() -> bool| {
            let asked_hz = pitch.frequencies_hz(damping_ratio, &TOGETHER, keep_going)?;
            let responses = pitch.responses(&asked_hz, damping_ratio, keep_going)?;
            let limits = pitch.tips.iter().zip(&responses).zip(stops).filter_map(|((tip, responses), stop)| {
                let limit = tip.limit(responses)?;
                Some((Spot { pass: *pass, stop: *stop }, 1.0 / limit.limit_on_diameter_mm, limit.frequency_hz))
            });
            Some(limits.collect::<Vec<_>>())
        };
        let is_enough = |limits: &Option<Vec<(Spot, f64, f64)>>| {
            limits.as_ref().is_none_or(|limits| limits.iter().any(|(_, value, _)| *value > limit))
        };
        let by_pass: Option<Vec<_>> = in_order(&parts, limits, is_enough, keep_going)?.into_iter().collect();
        let Some(by_pass) = by_pass else { return Some(nothing_holds) };
        let mut found: Vec<(Spot, f64, f64)> = by_pass.concat();
        found.sort_by(|a, b| b.1.total_cmp(&a.1));
        let mut worst = Worst { value: 0.0, at: None };
        for (spot, value, near_hz) in found {
            // Of what was asked together the worst may be overrated too.
            if value < NEAR_WORST_RATIO * worst.value {
                break;
            }
            let mut frequency_hz = near_hz;
            let value = self.bound_at(rests_at, spot, [worst.value, f64::INFINITY], &mut frequency_hz);
            if value > worst.value {
                worst = Worst { value, at: Some((spot, frequency_hz)) };
            }
        }
        if let Some((spot, frequency_hz)) = &mut worst.at {
            self.worst_pass = spot.pass;
            worst.value = self.value_at(rests_at, *spot, frequency_hz).max(worst.value);
        }
        Some(worst)
    }

    fn damping_ratio(&self) -> f64 {
        self.trial.job.spread.damping_ratio.value
    }

    /// A pass with the rests as laid out and the tool at all its stops, rising in z, and the numbers of those where the
    /// edge takes something off; the others are left out. `None` where nothing holds the work.
    fn together(&mut self, rests_at: &[usize], pass: usize) -> Option<(Pitch, Vec<usize>)> {
        let way = &self.ways[pass];
        let mut laid = way.with_rests(&way.mesh, rests_at)?;
        let (n_stops, falling) = (way.alone.len(), way.tabled.cut.to_headstock());
        let mut cutting = Vec::with_capacity(n_stops);
        for number in 0..n_stops {
            let stop = if falling { n_stops - 1 - number } else { number };
            if self.put_tool(&mut laid, rests_at, Spot { pass, stop })? {
                cutting.push(stop);
            }
        }
        Some((laid.pitch, cutting))
    }

    /// The same at one stop; with no stop where the edge takes nothing off.
    fn alone(&mut self, rests_at: &[usize], spot: Spot) -> Option<Pitch> {
        let way = &mut self.ways[spot.pass];
        let mesh = way.alone[spot.stop].take().unwrap_or_else(|| way.mesh_alone(spot.stop));
        let laid = way.with_rests(&mesh, rests_at);
        way.alone[spot.stop] = Some(mesh);
        let mut laid = laid?;
        self.put_tool(&mut laid, rests_at, spot)?;
        Some(laid.pitch)
    }

    /// Adds a stop; not where the edge takes nothing off. `None` where nothing holds the work.
    fn put_tool(&mut self, laid: &mut Laid, rests_at: &[usize], Spot { pass, stop }: Spot) -> Option<bool> {
        let Self { trial, material, board, room, ways, .. } = self;
        let way = &ways[pass];
        let prepared = &way.tabled.prepared;
        let setup = trial.setup();
        let model = ForceModel::new(material, &setup.tool, &way.pass, way.tabled.last_depth_mm).times(trial.factors);
        let contact = board.contact(room, rests_at, pass, stop)?;
        let place = prepared.layout.places[stop];
        let sizes = &prepared.sizes[place.node][side_index(place.side)];
        let z_mm = prepared.layout.nodes_mm[place.node];
        let Some(tip) = Tip::cutting(setup, &way.pass, &model, sizes, (z_mm, contact.depth_mm)) else {
            return Some(false);
        };
        let jaws: Option<Vec<JawSpring>> = (contact.jaws.iter())
            .map(|jaw| {
                let node = laid.rest_nodes.get(jaw.node).copied();
                let node = node.or_else(|| laid.coarse.number(place.follower?))?;
                Some(JawSpring { node, ..*jaw })
            })
            .collect();
        laid.pitch.stops.push(Stop { node: laid.coarse.number(place.node)?, jaws: jaws? });
        laid.pitch.tips.push(tip);
        Some(true)
    }
}

/// A stop that is asked by itself.
struct Alone<'a> {
    tip: &'a Tip,
    line: Line,
    damping_ratio: f64,
}

impl Alone<'_> {
    /// The responses at these frequencies.
    fn asked(&mut self, asked_hz: &[f64]) -> Vec<Response> {
        let mut responses = Vec::with_capacity(asked_hz.len());
        self.line.receptances(asked_hz, self.damping_ratio, |_, number, work| {
            responses.push(self.tip.response(asked_hz[number], work));
        });
        responses
    }

    /// About the frequency found last, so many steps on.
    fn about_hz(&self, last_hz: f64, on: f64) -> [f64; 4] {
        ABOUT_WORST.map(|step| last_hz * (1.0 + (step + on) * LAST_STEP * self.damping_ratio))
    }

    /// On to the side where the responses about the frequency found last get worse.
    fn go_on(&mut self, last_hz: f64, responses: &mut Vec<Response>) {
        for on in 1..=MOST_ON {
            let on = (ABOUT_WORST.len() * on) as f64;
            let worst = least(responses);
            let is_worst = |one: Option<&Response>| one.is_some_and(|one| one.receptance.re <= worst);
            if is_worst(responses.first()) {
                let lower = self.asked(&self.about_hz(last_hz, -on));
                responses.splice(0..0, lower);
            } else if is_worst(responses.last()) {
                let higher = self.asked(&self.about_hz(last_hz, on));
                responses.extend(higher);
            } else {
                break;
            }
        }
    }

    /// With more about the worst of them.
    fn sharpened(&mut self, mut responses: Vec<Response>) -> Vec<Response> {
        for step in NEARER {
            let Some(worst_hz) = worst(&responses).map(|worst| worst.frequency_hz) else { break };
            let step_ratio = step * self.damping_ratio;
            responses.extend(self.asked(&ABOUT_WORST.map(|about| worst_hz * (1.0 + about * step_ratio))));
            responses.sort_by(|a, b| a.frequency_hz.total_cmp(&b.frequency_hz));
        }
        responses
    }
}

/// The one with the least real part.
fn worst(responses: &[Response]) -> Option<&Response> {
    responses.iter().min_by(|a, b| a.receptance.re.total_cmp(&b.receptance.re))
}

/// The least real part, or 0.
fn least(responses: &[Response]) -> f64 {
    worst(responses).map_or(0.0, |worst| worst.receptance.re.min(0.0))
}

impl Way {
    fn of(pass: Pass, tabled: Tabled, places_mm: &[f64]) -> Self {
        let layout = &tabled.prepared.layout;
        let place_nodes = places_mm.iter().filter_map(|z_mm| node_at(&layout.nodes_mm, *z_mm)).collect();
        let stops = layout.places.iter().flat_map(|place| [Some(place.node), place.follower]).flatten();
        let mesh = Mesh::of(Coarse::of(&tabled.prepared, stops, FEWEST_ELEMENTS), &tabled);
        let alone = vec![None; layout.places.len()];
        Self { pass, place_nodes, mesh, alone, tabled }
    }

    fn mesh_alone(&self, stop: usize) -> Mesh {
        let place = &self.tabled.prepared.layout.places[stop];
        let nodes = [Some(place.node), place.follower].into_iter().flatten();
        Mesh::of(Coarse::of(&self.tabled.prepared, nodes, ALONE_ELEMENTS), &self.tabled)
    }

    fn with_rests(&self, mesh: &Mesh, rests_at: &[usize]) -> Option<Laid> {
        let places = rests_at.iter().map(|rest| self.place_nodes[*rest]);
        let Mesh { coarse, old, finished } = mesh.with(places.clone(), &self.tabled);
        let (front, back) = if self.tabled.cut.to_headstock() { (old, finished) } else { (finished, old) };
        let rest_by_rest: Option<Vec<usize>> = places.map(|node| coarse.number(node)).collect();
        let springs = &self.tabled.prepared.springs;
        let springs = springs.iter().filter_map(|(node, spring)| Some((coarse.number(*node)?, *spring))).collect();
        let mut rest_nodes = rest_by_rest.clone()?;
        rest_nodes.sort_unstable();
        rest_nodes.dedup();
        let pitch = Pitch { front, back, springs, rest_nodes, stops: Vec::new(), tips: Vec::new() };
        Some(Laid { coarse, rest_nodes: rest_by_rest?, pitch })
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
