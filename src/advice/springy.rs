//! The work gives way by more than the tool takes off: it may climb on the tool or be cut by fits and starts.
//!
//! Source: failure catalogue of the trade (work climbs over the tool where it springs more than the depth of cut);
//! common practice, no printed limit found.

use super::words::{self, computed_passes};
use super::{Finding, Verdict};
use crate::job::{Job, PassKind, Subject};
use crate::study::{JobResult, Station, Status};

/// Depths below this, on diameter, are no cut to compare with.
const SMALLEST_DEPTH_MM: f64 = 0.005;

/// How far the work's axis is from where it would be without the cut, cannot be told from a station alone; the whole
/// place of the axis is taken, sag and offsets included.
fn spring_mm(station: &Station) -> f64 {
    station.spring_x_mm.hypot(station.spring_y_mm)
}

/// At most one finding a turning pass: where spring beats depth by most.
#[must_use]
pub fn findings(job: &Job, result: &JobResult) -> Vec<Finding> {
    let units = job.units;
    computed_passes(job, result)
        .filter(|computed| computed.pass.kind == PassKind::Turn && computed.result.status == Status::Solved)
        .filter_map(|computed| {
            let worst = computed
                .result
                .stations
                .iter()
                .filter(|station| station.real_depth_mm > SMALLEST_DEPTH_MM)
                .map(|station| (spring_mm(station) / (station.real_depth_mm / 2.0), station))
                .max_by(|a, b| a.0.total_cmp(&b.0))
                .filter(|(ratio, _)| *ratio > 1.0)?;
            let station = worst.1;
            Some(Finding {
                rule: "springy",
                about: Subject::Pass(computed.setup.id, computed.pass.id),
                verdict: Verdict::Watch,
                text: format!(
                    "{}: at {} the work springs {}, more than the {} a side that is cut; it may climb on the tool",
                    words::pass_name(job, computed.setup, computed.pass),
                    words::length(station.z_mm, units),
                    words::amount(spring_mm(station), units),
                    words::amount(station.real_depth_mm / 2.0, units),
                ),
                why: "Where the work gives way by more than the cut takes, the tool can dig in and the work ride over \
                      it. A rest near this place, a follower or a lighter cut stiffens it."
                    .to_owned(),
                z_mm: Some(station.z_mm),
                remedy: None,
            })
        })
        .collect()
}
