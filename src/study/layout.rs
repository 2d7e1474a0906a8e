//! Where the nodes and stations of a pass lie.
//!
//! A station stands every 2 mm of the cut or closer (at least 200 of them), counted from where the cut begins, and
//! where a follower rides along the spacing divides its distance from the tool, so that its jaws always stand on a
//! node. Shoulders, rests, the ends of the cut and the tool's present place are nodes of their own: nothing jumps
//! while they are dragged. At a shoulder there are two stations, one for each diameter; so there are where a follower is
//! brought on, one without it and one with it.

use std::collections::VecDeque;
use std::sync::Arc;

use super::outline::{SAME_PLACE_MM, Side};

/// How close stations and nodes lie.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Fineness {
    /// Spacing of stations where nothing asks for less.
    pub spacing_mm: f64,
    /// Fewest stations of a pass.
    pub fewest_stations: f64,
    /// Parts of the work's length that an element outside the cut may have at most, where that is more than two
    /// spacings.
    pub parts_outside: f64,
    /// Where something turns with the work, a turn of it is worked out.
    pub turns: bool,
}

impl Fineness {
    /// What everything on screen is computed with.
    pub const USUAL: Self = Self { spacing_mm: 2.0, fewest_stations: 200.0, parts_outside: 150.0, turns: true };

    /// So many times finer, or coarser for a factor below 1.
    #[must_use]
    pub fn finer(self, times: f64) -> Self {
        Self {
            spacing_mm: self.spacing_mm / times,
            fewest_stations: self.fewest_stations * times,
            parts_outside: self.parts_outside * times,
            ..self
        }
    }
}

/// The stretch that is cut, in cutting order.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct CutSpan {
    pub from_z_mm: f64,
    pub to_z_mm: f64,
}

impl CutSpan {
    /// The tool travels towards the headstock.
    #[must_use]
    pub fn to_headstock(&self) -> bool {
        self.to_z_mm < self.from_z_mm
    }

    /// Lower and upper end.
    #[must_use]
    pub fn ends_mm(&self) -> (f64, f64) {
        (self.from_z_mm.min(self.to_z_mm), self.from_z_mm.max(self.to_z_mm))
    }
}

/// A place of the tool.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Place {
    pub node: usize,
    /// Which diameter is meant where the node is a shoulder.
    pub side: Side,
    /// Node under the follower's jaws, where they are over the work.
    pub follower: Option<usize>,
}

/// Nodes and stations of a pass.
#[derive(Clone, Debug, PartialEq, Default)]
pub struct Layout {
    /// Rising.
    pub nodes_mm: Vec<f64>,
    /// In cutting order.
    pub places: Vec<Place>,
}

/// What a layout is made for.
#[derive(Clone, Debug)]
pub struct Wish<'a> {
    /// The stretch that bends.
    pub bending_mm: (f64, f64),
    pub cut: Option<CutSpan>,
    /// Shoulders, ends of tapers and bores, anywhere.
    pub corners_mm: &'a [f64],
    /// Rests and other places that must be nodes.
    pub wanted_nodes_mm: &'a [f64],
    /// From the tool to the follower, with its sign.
    pub follower_reach_mm: Option<f64>,
    pub fineness: Fineness,
    /// Two stops after so much travel: where the follower's jaws are brought on.
    pub stop_after_mm: Option<f64>,
    /// Only this place of the tool, instead of the whole cut.
    pub only_tool_mm: Option<f64>,
}

/// So many layouts are kept: one for every pass of a long job.
const MOST_LAYOUTS: usize = 24;

/// Layouts made before, for wishes that come again: the passes of a set-up, and the same job with other stiffnesses.
#[derive(Debug, Default)]
pub struct Layouts {
    /// Newest last, each with the numbers of its wish.
    kept: VecDeque<(Vec<f64>, Arc<Layout>)>,
}

impl Layouts {
    /// As [`lay_out`], or what was laid out for just this wish.
    pub fn lay_out(&mut self, wish: &Wish) -> Arc<Layout> {
        let numbers = wish.numbers();
        if let Some((_, layout)) = self.kept.iter().find(|(of, _)| *of == numbers) {
            return layout.clone();
        }
        if self.kept.len() == MOST_LAYOUTS {
            self.kept.pop_front();
        }
        let layout = Arc::new(lay_out(wish));
        self.kept.push_back((numbers, layout.clone()));
        layout
    }
}

impl Wish<'_> {
    /// All that a layout hangs on.
    fn numbers(&self) -> Vec<f64> {
        let Fineness { spacing_mm, fewest_stations, parts_outside, turns: _ } = self.fineness;
        // What is not wished for is no number of millimetres.
        let or_none = |number: Option<f64>| number.unwrap_or(f64::INFINITY);
        let cut = self.cut.map_or([f64::INFINITY; 2], |cut| [cut.from_z_mm, cut.to_z_mm]);
        let mut numbers = Vec::with_capacity(11 + self.corners_mm.len() + self.wanted_nodes_mm.len());
        numbers.extend([self.bending_mm.0, self.bending_mm.1, cut[0], cut[1], spacing_mm, fewest_stations]);
        numbers.extend([parts_outside, or_none(self.follower_reach_mm), or_none(self.stop_after_mm)]);
        numbers.extend([or_none(self.only_tool_mm), self.corners_mm.len() as f64]);
        numbers.extend_from_slice(self.corners_mm);
        numbers.extend_from_slice(self.wanted_nodes_mm);
        numbers
    }
}

/// Lays out nodes and stations.
#[must_use]
pub fn lay_out(wish: &Wish) -> Layout {
    let (low_mm, high_mm) = wish.bending_mm;
    let spacing_mm = wish
        .cut
        .map_or(wish.fineness.spacing_mm, |cut| station_spacing_mm(&cut, wish.follower_reach_mm, &wish.fineness));
    let stops = wish.cut.map_or_else(Vec::new, |cut| match wish.only_tool_mm {
        // Where the pass ends nothing of it lies ahead, as in the sweep's last stop.
        Some(z_mm) if (z_mm - cut.to_z_mm).abs() < SAME_PLACE_MM => vec![(z_mm, outward(&cut))],
        Some(z_mm) => vec![(z_mm, inward(&cut))],
        None => stops(&cut, spacing_mm, wish.corners_mm, wish.stop_after_mm),
    });

    let inside = |z_mm: &f64| *z_mm > low_mm && *z_mm < high_mm;
    let mut nodes_mm: Vec<f64> = Vec::with_capacity(2 * stops.len() + 200);
    nodes_mm.extend([low_mm, high_mm]);
    nodes_mm.extend(wish.corners_mm.iter().copied().filter(inside));
    nodes_mm.extend(wish.wanted_nodes_mm.iter().copied().filter(inside));
    if let Some(cut) = wish.cut {
        nodes_mm.extend([cut.from_z_mm, cut.to_z_mm].into_iter().filter(inside));
    }
    for (z_mm, _) in &stops {
        nodes_mm.extend(
            [Some(*z_mm), wish.follower_reach_mm.map(|reach| z_mm + reach)].into_iter().flatten().filter(inside),
        );
    }
    nodes_mm.sort_by(f64::total_cmp);
    nodes_mm.dedup_by(|later, earlier| *later - *earlier < SAME_PLACE_MM);
    if let Some(last) = nodes_mm.last_mut() {
        *last = high_mm;
    }
    let coarsest_mm = (2.0 * spacing_mm).max((high_mm - low_mm) / wish.fineness.parts_outside);
    let nodes_mm = filled(&nodes_mm, coarsest_mm);

    let (mut near_tool, mut near_follower) = (0, 0);
    let places = stops
        .iter()
        .filter_map(|&(z_mm, side)| {
            let node = node_from(&nodes_mm, z_mm, &mut near_tool)?;
            let follower =
                wish.follower_reach_mm.and_then(|reach| node_from(&nodes_mm, z_mm + reach, &mut near_follower));
            Some(Place { node, side, follower })
        })
        .collect();
    Layout { nodes_mm, places }
}

/// The node at a place, if there is one.
#[must_use]
pub fn node_at(nodes_mm: &[f64], z_mm: f64) -> Option<usize> {
    let after = nodes_mm.partition_point(|node| *node < z_mm);
    let near = |index: usize| nodes_mm.get(index).is_some_and(|node| (node - z_mm).abs() < 2.0 * SAME_PLACE_MM);
    if near(after) { Some(after) } else { after.checked_sub(1).filter(|&index| near(index)) }
}

/// The node at a place, looked for from the one found last.
fn node_from(nodes_mm: &[f64], z_mm: f64, near: &mut usize) -> Option<usize> {
    while *near > 0 && nodes_mm[*near] > z_mm + SAME_PLACE_MM {
        *near -= 1;
    }
    while *near + 1 < nodes_mm.len() && nodes_mm[*near] < z_mm - 2.0 * SAME_PLACE_MM {
        *near += 1;
    }
    ((nodes_mm[*near] - z_mm).abs() < 2.0 * SAME_PLACE_MM).then_some(*near)
}

/// A follower nearer to the tool than this share of a spacing has nodes of its own instead: no jaw is so narrow.
const NEAR_FOLLOWER_RATIO: f64 = 0.125;

fn station_spacing_mm(cut: &CutSpan, follower_reach_mm: Option<f64>, fineness: &Fineness) -> f64 {
    let (low_mm, high_mm) = cut.ends_mm();
    let spacing_mm = fineness.spacing_mm.min((high_mm - low_mm) / fineness.fewest_stations).max(1e-3);
    follower_reach_mm.map_or(spacing_mm, |reach| {
        let reach_mm = reach.abs();
        if reach_mm < NEAR_FOLLOWER_RATIO * spacing_mm {
            return spacing_mm;
        }
        reach_mm / (reach_mm / spacing_mm).ceil().max(1.0)
    })
}

/// The side of a place that looks into the cut from where it begins: the tool comes from outside.
#[must_use]
pub fn inward(cut: &CutSpan) -> Side {
    if cut.to_headstock() { Side::Headstock } else { Side::Tailstock }
}

fn outward(cut: &CutSpan) -> Side {
    if cut.to_headstock() { Side::Tailstock } else { Side::Headstock }
}

/// Stations in cutting order.
fn stops(cut: &CutSpan, spacing_mm: f64, corners_mm: &[f64], stop_after_mm: Option<f64>) -> Vec<(f64, Side)> {
    let (low_mm, high_mm) = cut.ends_mm();
    let length_mm = high_mm - low_mm;
    let direction = if cut.to_headstock() { -1.0 } else { 1.0 };
    let mut corners: Vec<f64> = corners_mm
        .iter()
        .filter(|corner| **corner > low_mm + SAME_PLACE_MM && **corner < high_mm - SAME_PLACE_MM)
        .map(|corner| (corner - cut.from_z_mm).abs())
        .collect();
    corners.sort_by(f64::total_cmp);
    corners.dedup_by(|later, earlier| *later - *earlier < SAME_PLACE_MM);

    let mut stops = Vec::with_capacity((length_mm / spacing_mm).min(1e5) as usize + 2 * corners.len() + 4);
    let mut corners = corners.into_iter().peekable();
    let mut step = 0.0;
    loop {
        let travelled_mm = step * spacing_mm;
        let limit_mm = travelled_mm.min(length_mm);
        while let Some(corner) = corners.next_if(|corner| *corner <= limit_mm + SAME_PLACE_MM) {
            if stops.last().is_some_and(|(last, _): &(f64, Side)| (last - corner).abs() < SAME_PLACE_MM) {
                stops.pop();
            }
            stops.extend([(corner, outward(cut)), (corner, inward(cut))]);
        }
        let at_end = travelled_mm >= length_mm - SAME_PLACE_MM;
        let stop_mm = if at_end { length_mm } else { travelled_mm };
        if stops.last().is_none_or(|(last, _)| stop_mm - last >= SAME_PLACE_MM) {
            stops.push((stop_mm, if at_end { outward(cut) } else { inward(cut) }));
        }
        if at_end {
            break;
        }
        step += 1.0;
    }
    let within = |after_mm: &f64| *after_mm > SAME_PLACE_MM && *after_mm < length_mm - SAME_PLACE_MM;
    if let Some(after_mm) = stop_after_mm.filter(within) {
        let at = stops.partition_point(|(travelled, _)| *travelled <= after_mm - SAME_PLACE_MM);
        let there: Vec<f64> = stops[at..]
            .iter()
            .map(|stop| stop.0)
            .take_while(|travelled| travelled - after_mm < SAME_PLACE_MM)
            .collect();
        match there[..] {
            [] => drop(stops.splice(at..at, [(after_mm, outward(cut)), (after_mm, inward(cut))])),
            [travelled] => stops.insert(at, (travelled, outward(cut))),
            _ => {}
        }
    }
    stops.into_iter().map(|(travelled, side)| (cut.from_z_mm + direction * travelled, side)).collect()
}

/// Divides every gap longer than `coarsest_mm`.
fn filled(nodes_mm: &[f64], coarsest_mm: f64) -> Vec<f64> {
    let mut filled = Vec::with_capacity(nodes_mm.len() + 200);
    for pair in nodes_mm.windows(2) {
        filled.push(pair[0]);
        let parts = ((pair[1] - pair[0]) / coarsest_mm - 1e-9).ceil().clamp(1.0, 10_000.0);
        let mut part = 1.0;
        while part < parts {
            filled.push(pair[0] + (pair[1] - pair[0]) * part / parts);
            part += 1.0;
        }
    }
    filled.extend(nodes_mm.last());
    filled
}
