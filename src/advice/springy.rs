//! The work gives way by more than the tool takes off: it may climb on the tool or be cut by fits and starts.
//!
//! Source: failure catalogue of the trade (work climbs over the tool where it springs more than the depth of cut);
//! common practice, no printed limit found.

use super::why::Why;
use super::why::bar::plain_bar;
use super::why::sum::{Sum, number};
use super::words::{self, Computed, computed_passes};
use super::{Finding, Verdict};
use crate::job::{Job, PassKind, Subject};
use crate::study::{JobResult, Shape, Station, Status, shape_at};

/// Depths below this, on diameter, are no cut to compare with.
const SMALLEST_DEPTH_MM: f64 = 0.05;

/// At most one finding a turning pass: where spring beats depth by most.
#[must_use]
pub fn findings(job: &Job, result: &JobResult) -> Vec<Finding> {
    computed_passes(job, result)
        .filter(|computed| computed.pass.kind == PassKind::Turn && computed.result.status == Status::Solved)
        .filter_map(|computed| finding_of(job, result, &computed))
        .collect()
}

fn finding_of(job: &Job, result: &JobResult, computed: &Computed<'_>) -> Option<Finding> {
    let units = job.units;
    // Most passes are stiff by far: only for the others the work is bent once more, to take sag and offsets away.
    worst(computed, |_| (0.0, 0.0))?;
    let drawn_back = shape_at(job, result, computed.setup.id, Some(computed.pass.id), None)?;
    let (station, spring_mm) = worst(computed, |z_mm| axis_at(&drawn_back, z_mm))?;
    let (away_mm, up_mm) = axis_at(&drawn_back, station.z_mm);
    let depth_mm = station.real_depth_mm / 2.0;
    Some(Finding {
        rule: "springy",
        about: Subject::Pass(computed.setup.id, computed.pass.id),
        verdict: Verdict::Watch,
        text: format!(
            "{}: at {} the work springs {}, more than the {} a side that is cut; it may climb on the tool",
            words::pass_name(job, computed.setup, computed.pass),
            words::place(station.z_mm, units),
            words::amount(spring_mm, units),
            words::amount(depth_mm, units),
        ),
        why: "Where the work gives way by more than the cut takes, the tool can dig in and the work ride over it. A rest \
              near this place, a follower or a lighter cut stiffens it."
            .to_owned(),
        z_mm: Some(station.z_mm),
        remedy: None,
        behind: Why::new(
            "How far the middle of the work goes under the tool from where it lies with no tool cutting, against what is cut.",
            "the bent line of the whole computation; work that springs more than the cut climbs: common practice, no source",
            "as sure as force and stiffness are",
        )
        .with(Sum::figure(
            "springs",
            "how far it goes sideways, and up, together",
            format!(
                "\u{221a}({}^2 + {}^2)",
                number((station.spring_x_mm - away_mm).abs()),
                number((station.spring_y_mm - up_mm).abs())
            ),
            words::amount(spring_mm, units),
        ))
        .with(Sum::figure(
            "cut a side",
            "what really comes off the diameter there \u{f7} 2",
            format!("{} \u{f7} 2", number(station.real_depth_mm)),
            words::amount(depth_mm, units),
        ))
        .drawn(plain_bar(job, computed.setup, station).map(|bar| bar.sketch(station.z_mm))),
    })
}

/// The station where the spring from `rest_at` (away, up) beats the depth by most, and that spring; nothing where the
/// depth is larger everywhere.
fn worst<'a>(computed: &Computed<'a>, rest_at: impl Fn(f64) -> (f64, f64)) -> Option<(&'a Station, f64)> {
    computed
        .result
        .stations
        .iter()
        .filter(|station| station.real_depth_mm > SMALLEST_DEPTH_MM)
        .map(|station| {
            let (away_mm, up_mm) = rest_at(station.z_mm);
            (station, (station.spring_x_mm - away_mm).hypot(station.spring_y_mm - up_mm))
        })
        .filter(|(station, spring_mm)| *spring_mm > station.real_depth_mm / 2.0)
        .max_by(|a, b| (a.1 / a.0.real_depth_mm).total_cmp(&(b.1 / b.0.real_depth_mm)))
}

/// Where the axis lies, straight between the computed places.
fn axis_at(shape: &Shape, z_mm: f64) -> (f64, f64) {
    let after = shape.z_mm.partition_point(|z| *z < z_mm).min(shape.z_mm.len().saturating_sub(1));
    let before = after.saturating_sub(1);
    let (Some(from_mm), Some(to_mm)) = (shape.z_mm.get(before), shape.z_mm.get(after)) else { return (0.0, 0.0) };
    let along_ratio = if to_mm > from_mm { ((z_mm - from_mm) / (to_mm - from_mm)).clamp(0.0, 1.0) } else { 0.0 };
    let between = |values_mm: &[f64]| values_mm[before] + along_ratio * (values_mm[after] - values_mm[before]);
    (between(&shape.x_mm), between(&shape.y_mm))
}
