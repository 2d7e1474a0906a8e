//! The depth before chatter at a single stop of the tool, for rests anywhere, at a fraction of the cost of a whole pass.
//!
//! What a placement comes to is the largest of one over the limit of all stops, so every one of them alone is a lower
//! bound. Which jaws touch there is asked of a [`Board`]; then the work is walked as it is with the tool at that stop,
//! on the same coarse elements, at a few frequencies about its own natural ones.
//!
//! Limit: the real thing takes frequencies from a few stops and shares them among all, and later passes have the
//! stiffness of the board's reference, so a bound may be too high. Measured on 60 jobs drawn by lot, 2026-11-28, some 1700
//! placements of one and two rests: in 98 of 100 by less than a fiftieth, at most by a twentieth in a first pass and by a
//! quarter in later ones. Whoever uses it keeps a margin ([`super::Screened`]).

use super::board::{self, Board, Tabled};
use super::measure::Measure;
use super::trial::Trial;
use crate::job::{Material, Pass, PassId};
use crate::mechanics::beam::Element;
use crate::mechanics::chain::{JawSpring, Work};
use crate::mechanics::mass::NodeMass;
use crate::mechanics::receptance::{Stop, Travel, receptances};
use crate::mechanics::vibration::frequencies_hz;
use crate::study::force::ForceModel;
use crate::study::layout::{Fineness, node_at};
use crate::study::lively::{Bars, Coarse, N_SWINGS, Tip};
use crate::study::prepared::{Sizes, side_index};
use crate::study::sweep;

/// Above each natural frequency by so many damping ratios: the real part is least near one.
const ABOVE: [f64; 4] = [0.55, 0.85, 1.15, 1.45];
/// About the frequency found last, in damping ratios.
const ABOUT_LAST: [f64; 8] = [-2.2, -1.5, -0.9, -0.3, 0.3, 0.9, 1.5, 2.2];

/// A stop of the tool.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Spot {
    /// Number among the board's passes.
    pass: usize,
    /// In cutting order.
    stop: usize,
}

impl Spot {
    /// Of a pass that finds what others left.
    #[must_use]
    pub fn is_later(self) -> bool {
        self.pass > 0
    }
}

/// A pass without rests, as it swings.
struct Way {
    pass: Pass,
    tabled: Tabled,
    /// Nodes of the places where rests may stand.
    place_nodes: Vec<usize>,
    base: Coarse,
    old: Bars,
    finished: Bars,
}

/// A set-up ready to be asked.
pub struct Screen {
    trial: Trial,
    material: Material,
    board: Board,
    room: board::Room,
    ways: Vec<Way>,
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
        all_there.then_some(Self { trial, material, board, room, ways })
    }

    /// The stops of a pass at a place.
    #[must_use]
    pub fn spots_at(&self, pass: PassId, z_mm: f64) -> Vec<Spot> {
        let Some(number) = self.ways.iter().position(|way| way.pass.id == pass) else { return Vec::new() };
        let layout = &self.ways[number].tabled.prepared.layout;
        let is_there = |node: usize| (layout.nodes_mm[node] - z_mm).abs() < 1e-6;
        let there = layout.places.iter().enumerate().filter(|(_, place)| is_there(place.node));
        there.map(|(stop, _)| Spot { pass: number, stop }).collect()
    }

    /// Puts rests to places.
    pub fn lay_out(&mut self, rests_at: &[usize]) {
        self.board.lay_out(&mut self.room, rests_at);
    }

    /// One over the depth before chatter at a spot with the rests as laid out; 0 where nothing can chatter, `None` where it
    /// takes the real sweep to tell. Above `limit` a lower bound. `last_hz` is where the spot chattered last, and is put
    /// right.
    pub fn value_at(&mut self, rests_at: &[usize], spot: Spot, limit: f64, last_hz: &mut Option<f64>) -> Option<f64> {
        let Self { trial, material, board, room, ways } = self;
        let way = &ways[spot.pass];
        let contact = board.contact(room, rests_at, spot.pass, spot.stop)?;
        let prepared = &way.tabled.prepared;
        let place = prepared.layout.places[spot.stop];
        let setup = trial.setup();
        let model = ForceModel::new(material, &setup.tool, &way.pass, way.tabled.last_depth_mm).times(trial.factors);
        let sizes = &prepared.sizes[place.node][side_index(place.side)];
        let z_mm = prepared.layout.nodes_mm[place.node];
        let Some(tip) = Tip::cutting(setup, &way.pass, &model, sizes, (z_mm, contact.depth_mm)) else {
            return Some(0.0);
        };
        let rest_nodes: Vec<usize> = rests_at.iter().map(|rest| way.place_nodes[*rest]).collect();
        let also: Vec<usize> = rest_nodes.iter().copied().chain([place.node]).chain(place.follower).collect();
        let (kept, elements, masses) = way.with_tool(place.node, &also);
        let number = |node: usize| kept.binary_search(&node).ok();
        let jaws: Option<Vec<JawSpring>> = (contact.jaws.iter())
            .map(|jaw| {
                let node = rest_nodes.get(jaw.node).copied().or(place.follower)?;
                Some(JawSpring { node: number(node)?, ..*jaw })
            })
            .collect();
        let stop = [Stop { node: number(place.node)?, jaws: jaws? }];
        let springs: Option<Vec<_>> =
            prepared.springs.iter().map(|(node, spring)| Some((number(*node)?, *spring))).collect();
        let springs = springs?;
        let work =
            Work { elements: &elements, masses: &masses, node_masses: &[], springs: &springs, jaws: &stop[0].jaws };
        let damping_ratio = trial.job.spread.damping_ratio.value;
        let last_near_hz = *last_hz;
        let mut rest_nodes: Vec<usize> = rest_nodes.into_iter().filter_map(number).collect();
        rest_nodes.sort_unstable();
        rest_nodes.dedup();
        let travel = Travel {
            front: &elements,
            front_masses: &masses,
            back: &elements,
            back_masses: &masses,
            springs: &springs,
            rest_nodes: &rest_nodes,
            stops: &stop,
        };
        let mut value_near = |asked_hz: &[f64]| {
            let mut responses = Vec::with_capacity(asked_hz.len());
            receptances(&travel, asked_hz, damping_ratio, |_, frequency, work| {
                responses.push(tip.response(asked_hz[frequency], work));
            });
            let limit = tip.limit(&responses);
            if let Some(limit) = limit {
                *last_hz = Some(limit.frequency_hz);
            }
            limit.map_or(0.0, |limit| 1.0 / limit.limit_on_diameter_mm)
        };
        // Any frequency gives a bound: where it chattered last may be enough.
        if let Some(near_hz) = last_near_hz.filter(|_| limit.is_finite()) {
            let value = value_near(&ABOUT_LAST.map(|above| near_hz * (1.0 + above * damping_ratio)));
            if value > limit {
                return Some(value);
            }
        }
        let mut asked_hz: Vec<f64> = (frequencies_hz(&work, N_SWINGS, 1e-3)?.iter())
            .flat_map(|natural_hz| ABOVE.map(|above| natural_hz * (1.0 + above * damping_ratio)))
            .collect();
        asked_hz.sort_by(f64::total_cmp);
        asked_hz.dedup_by(|later, earlier| *later - *earlier < 0.1 * damping_ratio * *earlier);
        Some(value_near(&asked_hz))
    }
}

impl Way {
    fn of(pass: Pass, tabled: Tabled, places_mm: &[f64]) -> Self {
        let prepared = &tabled.prepared;
        let nodes_mm = &prepared.layout.nodes_mm;
        let base = Coarse::of(prepared, std::iter::empty());
        Self {
            pass,
            place_nodes: places_mm.iter().filter_map(|z_mm| node_at(nodes_mm, *z_mm)).collect(),
            old: base.bars(prepared, &tabled.elastic, &prepared.old, |sizes| sizes.old_mm),
            finished: base.bars(prepared, &tabled.elastic, &prepared.finished, |sizes| sizes.finished_mm),
            base,
            tabled,
        }
    }

    /// The work with the tool at a node, on the base's nodes and `also`: its nodes, elements and masses.
    fn with_tool(&self, tool: usize, also: &[usize]) -> (Vec<usize>, Vec<Element>, Vec<[NodeMass; 2]>) {
        let (prepared, elastic) = (&self.tabled.prepared, &self.tabled.elastic);
        let base = &self.base.kept;
        let mut kept = Vec::with_capacity(base.len() + also.len());
        kept.extend_from_slice(base);
        for node in also {
            if let Err(at) = kept.binary_search(node) {
                kept.insert(at, *node);
            }
        }
        let (mut elements, mut masses) = (Vec::with_capacity(kept.len()), Vec::with_capacity(kept.len()));
        let mut at = 0;
        for pair in kept.windows(2) {
            while base[at + 1] <= pair[0] {
                at += 1;
            }
            let is_finished = (pair[0] >= tool) == self.tabled.cut.to_headstock();
            let whole = [base[at], base[at + 1]] == *pair;
            let bars = match (whole, is_finished) {
                (true, true) => &self.finished,
                (true, false) => &self.old,
                (false, _) => {
                    let part = Coarse { kept: pair.to_vec() };
                    let fine = if is_finished { &prepared.finished } else { &prepared.old };
                    let outside = |sizes: &Sizes| {
                        if is_finished { sizes.finished_mm } else { sizes.old_mm }
                    };
                    let bars = part.bars(prepared, elastic, fine, outside);
                    elements.extend(bars.elements);
                    masses.extend(bars.masses);
                    continue;
                }
            };
            elements.push(bars.elements[at]);
            masses.push(bars.masses[at]);
        }
        (kept, elements, masses)
    }
}
