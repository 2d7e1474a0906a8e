//! The tables of one pass, and what it finds at every stop: of the reference, or of an earlier pass with rests elsewhere.

use crate::job::{FollowerSide, Pass, PassKind, Setup};
use crate::mechanics::cut::ToolAt;
use crate::mechanics::cutting::Law;
use crate::mechanics::held::Held;
use crate::mechanics::influence::{Influence, Rider};
use crate::study::between::{Between, lies_between};
use crate::study::force::ForceModel;
use crate::study::layout::{CutSpan, Place, node_at};
use crate::study::outline::{Outline, SAME_PLACE_MM, Side};
use crate::study::prepared::{Prepared, Scene, side_index};
use crate::study::sweep::tool_and_law;
use crate::study::task::repeated;

/// Nodes between two posts where the tool does not stop.
const NODES_A_POST: usize = 16;
/// Places nearer than this are covered by a pass that ends there.
const EDGE_MM: f64 = 1e-6;

#[derive(Clone, Debug)]
pub struct PassTable {
    pub influence: Influence,
    /// In cutting order.
    pub stops: Vec<Stop>,
    /// A follower rides on what this pass has just left: stops follow from those before.
    pub chained: bool,
    /// What the follower is set on.
    pub first_ride: Option<Surface>,
}

#[derive(Clone, Debug)]
pub struct Stop {
    pub z_mm: f64,
    pub post: usize,
    pub tool: ToolAt,
    pub law: Law,
    pub dial_mm: f64,
    pub old_dial_mm: f64,
    pub old: Old,
    pub ride: Option<Ride>,
}

/// What a pass finds at a place.
#[derive(Clone, Copy, Debug)]
pub enum Old {
    /// So much over the dial's radius, wherever the rests stand.
    Over(f64),
    /// What an earlier pass left.
    Left(usize, Between),
}

#[derive(Clone, Debug)]
pub struct Ride {
    pub rider: Rider,
    pub on: Surface,
}

/// What the follower rides on.
#[derive(Clone, Copy, Debug)]
pub enum Surface {
    /// What this pass has left.
    Fresh(Between),
    Found(Old),
}

/// The passes before one, and the tables of those that have some.
pub struct Sources<'a> {
    pub setup: &'a Setup,
    pub n_before: usize,
    /// Number in the set-up of every table.
    pub numbers: &'a [usize],
    pub tables: &'a [PassTable],
}

impl Sources<'_> {
    /// What is found at a side of a place, where the reference has `over_mm`.
    fn old(&self, z_mm: f64, side: Side, over_mm: f64) -> Old {
        for number in (0..self.n_before).rev() {
            if let Some(table) = self.numbers.iter().position(|other| *other == number) {
                if let Some(between) = self.tables[table].left_at(z_mm, side) {
                    return Old::Left(table, between);
                }
            } else if cuts_outside(self.setup, &self.setup.passes[number]) && covers(&self.setup.passes[number], z_mm) {
                break;
            }
        }
        Old::Over(over_mm)
    }
}

impl PassTable {
    /// Walks the prepared pass, which has no rests, for rests at `places_mm`.
    pub fn new(
        scene: &Scene,
        prepared: &Prepared,
        cut: &CutSpan,
        model: &ForceModel,
        places_mm: &[f64],
        sources: &Sources,
    ) -> Self {
        let (front, back) =
            if cut.to_headstock() { (&prepared.old, &prepared.finished) } else { (&prepared.finished, &prepared.old) };
        let mut held = Held::default();
        held.run(front, back, &prepared.springs, &[]);
        let nodes_mm = &prepared.layout.nodes_mm;
        let posts = posts(nodes_mm.len(), &prepared.layout.places);
        let influence = Influence::new(held, &posts, &nodes_of(nodes_mm, places_mm));
        let stop_mm = |stop: usize| nodes_mm[prepared.layout.places[stop].node];
        let stop = |(number, place): (usize, &Place)| {
            let sizes = &prepared.sizes[place.node][side_index(place.side)];
            let (tool, law) = tool_and_law(scene, prepared, cut, place, model);
            let z_mm = nodes_mm[place.node];
            let post = posts.partition_point(|post| *post < place.node);
            let ride = scene.setup.follower.as_ref().and_then(|follower| {
                let node = place.follower?;
                let brought_on = (z_mm - cut.from_z_mm).abs() >= follower.start_mm - SAME_PLACE_MM;
                let on = match follower.side {
                    _ if !brought_on => return None,
                    FollowerSide::Behind => {
                        Surface::Fresh(lies_between(number, stop_mm, nodes_mm[node], cut.to_headstock())?)
                    }
                    FollowerSide::Ahead => {
                        let side = if cut.to_headstock() { Side::Headstock } else { Side::Tailstock };
                        let sizes = &prepared.sizes[node][side_index(side)];
                        let over_mm = (sizes.old_mm - sizes.old_dial_mm) / 2.0;
                        Surface::Found(sources.old(nodes_mm[node], side, over_mm))
                    }
                };
                Some(Ride { rider: influence.rider(post, node), on })
            });
            Stop {
                z_mm,
                post,
                tool,
                law,
                dial_mm: sizes.dial_mm,
                old_dial_mm: sizes.old_dial_mm,
                old: sources.old(z_mm, place.side, (sizes.old_mm - sizes.old_dial_mm) / 2.0),
                ride,
            }
        };
        let stops: Vec<Stop> = prepared.layout.places.iter().enumerate().map(stop).collect();
        let first_ride = stops.iter().find_map(|stop| stop.ride.as_ref().map(|ride| ride.on));
        let chained = matches!(first_ride, Some(Surface::Fresh(_)));
        Self { influence, stops, chained, first_ride }
    }

    /// Between which stops this pass has left a side of a place, as a surface straight between stations is read.
    fn left_at(&self, z_mm: f64, side: Side) -> Option<Between> {
        let n = self.stops.len();
        let (first, last) = (self.stops.first()?.z_mm, self.stops.last()?.z_mm);
        let number = |rising: usize| if first > last { n - 1 - rising } else { rising };
        let rising_mm = |rising: usize| self.stops[number(rising)].z_mm;
        let (mut low, mut high) = (0, n);
        // The first stop that lies at the place or beyond it; for the tailstock's side the first beyond it.
        while low < high {
            let middle = usize::midpoint(low, high);
            let is_before = match side {
                Side::Headstock => rising_mm(middle) < z_mm - SAME_PLACE_MM,
                Side::Tailstock => rising_mm(middle) <= z_mm + SAME_PLACE_MM,
            };
            if is_before { low = middle + 1 } else { high = middle }
        }
        let before = low.checked_sub(1)?;
        if low == n {
            return None;
        }
        let share = (z_mm - rising_mm(before)) / (rising_mm(low) - rising_mm(before));
        let on = |share: f64| {
            if share < 1e-9 {
                0.0
            } else if share > 1.0 - 1e-9 {
                1.0
            } else {
                share
            }
        };
        Some(Between { before: number(before), after: number(low), share: on(share) })
    }
}

/// Where the work lies at places with no rest touching, as a scene finds it for its rests.
pub fn lie_mm(scene: &Scene, outline: &Outline, places_mm: &[f64]) -> Vec<[f64; 2]> {
    let prepared = scene.prepare(outline, None, None);
    let mut held = Held::default();
    held.run(&prepared.old, &prepared.old, &prepared.springs, &[]);
    let nodes = nodes_of(&prepared.layout.nodes_mm, places_mm);
    let influence = Influence::new(held, &[0, prepared.layout.nodes_mm.len() - 1], &nodes);
    (nodes.iter().enumerate())
        .map(|(place, node)| {
            let lie_mm = influence.free_mm(1, place).unwrap_or_default();
            if lie_mm[0].hypot(lie_mm[1]) < prepared.sizes[*node][0].old_mm / 4.0 { lie_mm } else { [0.0; 2] }
        })
        .collect()
}

fn nodes_of(nodes_mm: &[f64], places_mm: &[f64]) -> Vec<usize> {
    places_mm.iter().filter_map(|z_mm| node_at(nodes_mm, *z_mm)).collect()
}

/// Nodes where the tool stops, the ends, and some in between where it does not.
fn posts(n_nodes: usize, places: &[Place]) -> Vec<usize> {
    let mut posts: Vec<usize> = places.iter().map(|place| place.node).chain([0, n_nodes - 1]).collect();
    posts.sort_unstable();
    posts.dedup();
    let gaps = posts.windows(2).flat_map(|pair| (pair[0] + NODES_A_POST..pair[1]).step_by(NODES_A_POST));
    let mut all: Vec<usize> = gaps.chain(posts.iter().copied()).collect();
    all.sort_unstable();
    all
}

/// A pass along the outside, or a spring pass after one.
pub fn is_turned(setup: &Setup, pass: &Pass) -> bool {
    matches!(pass.kind, PassKind::Turn | PassKind::Spring)
        && matches!(repeated(setup, pass).kind, PassKind::Turn | PassKind::Spring)
}

/// A pass that changes the outside.
pub fn cuts_outside(setup: &Setup, pass: &Pass) -> bool {
    let kind = repeated(setup, pass).kind;
    matches!(kind, PassKind::Turn | PassKind::Spring | PassKind::Groove | PassKind::Part)
}

/// A pass goes over a place.
pub fn covers(pass: &Pass, z_mm: f64) -> bool {
    let (low_mm, high_mm) = pass.span_mm();
    z_mm >= low_mm - EDGE_MM && z_mm <= high_mm + EDGE_MM
}
