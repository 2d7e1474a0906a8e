//! The sizes a set-up is to leave, place by place: what the last pass over each place makes of it, with between what it
//! may lie; and the table with boxes for what is measured.

use super::distances::{bare, bare_length};
use super::table::{Cell, Column, Table};
use crate::advice::size::allowed_at;
use crate::advice::words;
use crate::job::quantity::{Kind, show_signed, unit_name};
use crate::job::{Job, Setup, Units};
use crate::study::band::Curve;
use crate::study::{JobResult, Measured, Status};

/// What is predicted at one place.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Predicted {
    pub z_mm: f64,
    pub dial_mm: f64,
    pub left_mm: f64,
    /// Left minus dial.
    pub error_mm: f64,
    /// Between what the error may lie.
    pub edges_mm: [f64; 2],
    /// What the drawing allows against the dial.
    pub limits_mm: Option<(f64, f64)>,
}

/// Places further apart than this do not belong to one run.
pub(super) const GAP_MM: f64 = 25.0;
/// A step of the dial that parts two lands.
const STEP_MM: f64 = 0.05;
/// Nearer to an end of the cut nothing is measured, where there is room elsewhere.
const EDGE_MM: f64 = 3.0;

/// In rising z; of several passes over a place the last one counts.
pub(super) fn predicted(job: &Job, result: &JobResult, setup: &Setup) -> Vec<Predicted> {
    let mut all: Vec<Predicted> = Vec::new();
    let mut covered: Vec<(f64, f64)> = Vec::new();
    for pass in setup.passes.iter().rev() {
        let Some(computed) = result.pass(pass.id) else { continue };
        let solved = matches!(computed.status, Status::Solved | Status::StoppedEarly);
        let (Some(first), Some(last)) = (computed.stations.first(), computed.stations.last()) else { continue };
        if !solved || computed.measured != Measured::Outside {
            continue;
        }
        let edges = result.band(pass.id).map(|band| band.edges_mm(Curve::Error, computed)).unwrap_or_default();
        for (index, station) in computed.stations.iter().enumerate() {
            let is_free = !covered.iter().any(|(from, to)| (*from..=*to).contains(&station.z_mm));
            if is_free && station.error_mm.is_finite() && station.left_diameter_mm.is_finite() {
                all.push(Predicted {
                    z_mm: station.z_mm,
                    dial_mm: station.wanted_diameter_mm,
                    left_mm: station.left_diameter_mm,
                    error_mm: station.error_mm,
                    edges_mm: edges.get(index).copied().unwrap_or([station.error_mm; 2]),
                    limits_mm: allowed_at(job, setup, station).and_then(|allowed| allowed.limits_mm),
                });
            }
        }
        covered.push((first.z_mm, last.z_mm));
    }
    all.sort_by(|a, b| a.z_mm.total_cmp(&b.z_mm));
    all
}

/// Places in runs without a gap.
pub(super) fn runs(all: &[Predicted]) -> impl Iterator<Item = &[Predicted]> {
    all.chunk_by(|a, b| b.z_mm - a.z_mm < GAP_MM)
}

/// Five to nine places to measure at, fewer where there are fewer: spread over what is cut, off the shoulders, the worst
/// one among them.
pub(super) fn places(all: &[Predicted], units: Units) -> Vec<Predicted> {
    let (Some(first), Some(last)) = (all.first(), all.last()) else { return Vec::new() };
    let n_lands = 1 + all.windows(2).filter(|pair| (pair[0].dial_mm - pair[1].dial_mm).abs() > STEP_MM).count();
    let n = (n_lands + 3).clamp(5, 9);
    let is_level = |index: usize| {
        let near = index.saturating_sub(2)..(index + 3).min(all.len());
        all[near].iter().all(|other| (other.dial_mm - all[index].dial_mm).abs() < STEP_MM)
    };
    // Where the cut begins and ends there is an edge or a shoulder.
    let is_clear = |index: &usize| (first.z_mm + EDGE_MM..=last.z_mm - EDGE_MM).contains(&all[*index].z_mm);
    let level: Vec<usize> = (0..all.len()).filter(|index| is_level(*index)).collect();
    let clear: Vec<usize> = level.iter().copied().filter(is_clear).collect();
    let from: &[usize] = match (clear.is_empty(), level.is_empty()) {
        (false, _) => &clear,
        (true, false) => &level,
        (true, true) => &[0],
    };
    let mut chosen: Vec<usize> = (0..n)
        .filter_map(|step| {
            let share = 0.02 + 0.96 * step as f64 / (n - 1) as f64;
            let z_mm = first.z_mm + share * (last.z_mm - first.z_mm);
            let off = |index: &&usize| (all[**index].z_mm - z_mm).abs();
            from.iter().min_by(|a, b| off(a).total_cmp(&off(b))).copied()
        })
        .collect();
    let worst = from.iter().max_by(|a, b| all[**a].error_mm.abs().total_cmp(&all[**b].error_mm.abs()));
    if let Some(worst) = worst
        && chosen.len() > 2
    {
        // Instead of the inner place next to it.
        let inner = 1..chosen.len() - 1;
        let apart = |slot: &usize| chosen[*slot].abs_diff(*worst);
        if let Some(slot) = inner.min_by_key(apart) {
            chosen[slot] = *worst;
        }
    }
    chosen.sort_unstable();
    chosen.dedup();
    let mut places: Vec<Predicted> = chosen.into_iter().map(|index| at_round_figure(all, index, units)).collect();
    places.dedup_by(|a, b| (a.z_mm - b.z_mm).abs() < 1e-6);
    places
}

/// What is predicted at the round figure next to a place, between its neighbours; the place itself where the work is not
/// level all the way.
fn at_round_figure(all: &[Predicted], index: usize, units: Units) -> Predicted {
    let here = all[index];
    let step_mm = match units {
        Units::Metric => 1.0,
        Units::Inch => 25.4 / 8.0,
    };
    let z_mm = (here.z_mm / step_mm).round() * step_mm;
    let after = all.partition_point(|place| place.z_mm < z_mm);
    let (Some(low), Some(high)) = (all.get(after.wrapping_sub(1)), all.get(after)) else { return here };
    let is_level = (low.dial_mm - here.dial_mm).abs().max((high.dial_mm - here.dial_mm).abs()) < 1e-6;
    if !is_level || low.limits_mm.is_some() != high.limits_mm.is_some() || high.z_mm - low.z_mm > 5.0 {
        return here;
    }
    let share = (z_mm - low.z_mm) / (high.z_mm - low.z_mm).max(1e-9);
    let between = |a: f64, b: f64| a + share * (b - a);
    Predicted {
        z_mm,
        left_mm: between(low.left_mm, high.left_mm),
        error_mm: between(low.error_mm, high.error_mm),
        edges_mm: [0, 1].map(|side| between(low.edges_mm[side], high.edges_mm[side])),
        ..here
    }
}

/// The drawing's size and limits at a place, in words; where two lands meet, of the one that is cut.
fn drawing(job: &Job, setup: &Setup, place: &Predicted) -> (String, String) {
    let s_mm = setup.s_of_z_mm(&job.shaft, place.z_mm);
    let lands = job.shaft.wanted_spans().filter(|(from_mm, to_mm, _)| (*from_mm..=*to_mm).contains(&s_mm));
    let sizes = lands.map(|(from_mm, to_mm, wanted)| {
        let along_ratio = (s_mm - from_mm) / (to_mm - from_mm).max(1e-9);
        let (start_mm, end_mm) = (wanted.land.start_diameter_mm, wanted.land.end_diameter_mm);
        (start_mm + along_ratio * (end_mm - start_mm), wanted)
    });
    let off_mm = |size_mm: f64| (size_mm - place.dial_mm).abs();
    let Some((wanted_mm, land)) = sizes.min_by(|a, b| off_mm(a.0).total_cmp(&off_mm(b.0))) else {
        return ("\u{2013}".to_owned(), String::new());
    };
    let size = |mm: f64| bare(mm, Kind::Diameter, job.units);
    let limits = land.tolerance.limits_mm(wanted_mm).map_or_else(
        || "no limits".to_owned(),
        |(lower_mm, upper_mm)| format!("{}\u{2013}{}", size(wanted_mm + lower_mm), size(wanted_mm + upper_mm)),
    );
    (format!("\u{d8} {}", size(wanted_mm)), limits)
}

fn error_unit(units: Units) -> &'static str {
    match units {
        Units::Metric => "\u{b5}m",
        Units::Inch => "thou",
    }
}

/// "+2.8 (2.3\u{2013}3.5)": how far off the dial, and between what that may lie, in the unit that the column names; with
/// its unit where it is another.
fn off_the_dial(place: &Predicted, units: Units) -> String {
    let signed = |mm, units| show_signed(mm, Kind::Error, units);
    let words = words::with_range(place.error_mm, place.edges_mm, units, signed);
    let words = words.replace(&format!(" {}", error_unit(units)), "");
    if words.contains('-') {
        words
    } else {
        words.replace("(+", "(").replace(" to +", "\u{2013}").replace(" to ", "\u{2013}")
    }
}

/// The table.
pub(super) fn table(job: &Job, setup: &Setup, all: &[Predicted]) -> Table {
    let columns = vec![
        Column::new("From datum", 0.17),
        Column::new("Drawing, limits", 0.2),
        Column::new(format!("Predicted, {}", error_unit(job.units)), 0.2),
        Column::new("Measured", 0.15),
        Column::new("Warm", 0.085),
    ];
    let rows: Vec<Vec<Cell>> = places(all, job.units)
        .iter()
        .map(|place| {
            let (size, limits) = drawing(job, setup, place);
            let left = format!("\u{d8} {}", bare(place.left_mm, Kind::Diameter, job.units));
            let range = off_the_dial(place, job.units);
            vec![
                Cell::Figure(bare_length(place.z_mm, job)),
                Cell::Two(size, limits),
                Cell::Two(left, range),
                Cell::Blank,
                Cell::Blank,
            ]
        })
        .collect();
    let unit = unit_name(Kind::Diameter, job.units);
    Table { heading: format!("Sizes after the last pass, {unit}"), columns, rows }
}
