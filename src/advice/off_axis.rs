//! A tailstock or a rest off the axis: what it does to the diameter.
//!
//! An offset of the centre away from the operator leaves twice the offset on diameter at the tailstock, fading to
//! nothing at the headstock; a rest off by the same makes a swelling (away) or a dip (toward) where it stands. Only
//! the offset in the tool's direction counts to first order. Source: geometry.

use super::jaws::roughly;
use super::why::Why;
use super::why::sum::{Sum, number};
use super::{Finding, Verdict};
use super::{fights, words};
use crate::job::{Edit, Job, Rest, Setup, Subject, TailEnd, TailKind, ToolSide};
use crate::study::JobResult;

/// Offsets below this are on the axis for any dial indicator.
const ON_AXIS_MM: f64 = 0.001;

/// At most one finding for each tailstock and each rest.
#[must_use]
pub fn findings(job: &Job, result: &JobResult) -> Vec<Finding> {
    job.setups
        .iter()
        .flat_map(|setup| {
            let rests = setup.rests.iter().filter_map(move |rest| rest_finding(job, result, setup, rest));
            tail_finding(job, setup).into_iter().chain(rests)
        })
        .collect()
}

/// Error on diameter of an offset away from the operator: a tool at the rear sees it the other way.
fn error_mm(setup: &Setup, offset_x_mm: f64) -> f64 {
    match setup.tool.side {
        ToolSide::Front => 2.0 * offset_x_mm,
        ToolSide::Rear => -2.0 * offset_x_mm,
    }
}

fn offset_words(job: &Job, x_mm: f64, y_mm: f64) -> String {
    let mut parts = Vec::new();
    if x_mm.abs() >= ON_AXIS_MM {
        parts.push(words::away_or_toward(x_mm, job.units));
    }
    if y_mm.abs() >= ON_AXIS_MM {
        parts.push(words::up_or_down(y_mm, job.units));
    }
    parts.join(" and ")
}

/// What an offset does to the size: twice itself in the direction of the tool, hardly anything in height.
fn behind(job: &Job, setup: &Setup, z_mm: f64, x_mm: f64, y_mm: f64) -> Why {
    let why = Why::new(
        "What it leaves on diameter, where the work follows to the full: both sides of the diameter count.",
        "geometry",
        "sure for a plain bar that follows; the curve of the size error has it with everything else",
    );
    if x_mm.abs() >= ON_AXIS_MM {
        let shown = words::amount(error_mm(setup, x_mm), job.units);
        return why.with(Sum::figure(
            "on diameter",
            "2 \u{d7} how far it stands toward the tool or away",
            format!("2 \u{d7} {}", number(x_mm.abs())),
            shown,
        ));
    }
    let s_mm = setup.s_of_z_mm(&job.shaft, z_mm);
    let radius_mm = job.dial_diameter_into_mm(setup.id, s_mm).unwrap_or(0.0) / 2.0;
    why.with(Sum::figure(
        "on diameter",
        "2 \u{d7} (\u{221a}(radius\u{b2} + height\u{b2}) \u{2212} radius)",
        format!("2 \u{d7} (\u{221a}({0}^2 + {1}^2) \u{2212} {0})", number(radius_mm), number(y_mm.abs())),
        words::amount(2.0 * (radius_mm.hypot(y_mm) - radius_mm), job.units),
    ))
}

fn tail_finding(job: &Job, setup: &Setup) -> Option<Finding> {
    let tail = &setup.tail;
    let (x_mm, y_mm) = (tail.offset_x_mm, tail.offset_y_mm);
    if tail.kind == TailKind::Free || x_mm.abs().max(y_mm.abs()) < ON_AXIS_MM {
        return None;
    }
    let effect = if x_mm.abs() >= ON_AXIS_MM {
        format!("expect a taper, about {} at that end", words::big_or_small(error_mm(setup, x_mm), job.units))
    } else {
        "little on size, but the work is bent and the centres wear".to_owned()
    };
    Some(Finding {
        rule: "off_axis",
        about: Subject::Tail(setup.id),
        verdict: Verdict::Watch,
        text: words::capital(&format!(
            "{}the tailstock stands {} off the axis: {effect}",
            words::of_setup(job, setup),
            offset_words(job, x_mm, y_mm)
        )),
        why: "The tool runs along the bed while the work lies at a slant, so the diameter grows or shrinks evenly \
              along the length by twice the offset."
            .to_owned(),
        z_mm: Some(setup.work_end_z_mm(&job.shaft)),
        remedy: Some((
            "Put it on the axis".to_owned(),
            Edit::SetTail { setup: setup.id, tail: TailEnd { offset_x_mm: 0.0, offset_y_mm: 0.0, ..tail.clone() } },
        )),
        behind: behind(job, setup, setup.work_end_z_mm(&job.shaft), x_mm, y_mm),
    })
}

fn rest_finding(job: &Job, result: &JobResult, setup: &Setup, rest: &Rest) -> Option<Finding> {
    let (x_mm, y_mm) = (rest.offset_x_mm, rest.offset_y_mm);
    if x_mm.abs().max(y_mm.abs()) < ON_AXIS_MM {
        return None;
    }
    let effect = if x_mm.abs() >= ON_AXIS_MM {
        format!("expect the work near it up to {}", words::big_or_small(error_mm(setup, x_mm), job.units))
    } else {
        "little on size".to_owned()
    };
    let fight = fights::fight_n(job, result, setup.id, rest).map_or_else(
        || "the jaws fight the work".to_owned(),
        |force_n| format!("with no cut it presses the work with {}", roughly(force_n, job.units)),
    );
    Some(Finding {
        rule: "off_axis",
        about: Subject::Rest(setup.id, rest.id),
        verdict: Verdict::Watch,
        text: format!(
            "{} is {} off its setting: {effect}, and {fight}",
            words::rest_heading(job, setup, rest),
            offset_words(job, x_mm, y_mm)
        ),
        why: format!(
            "A rest off the axis bends the work: the size is wrong near the rest, and the jaws wear and warm.{}",
            fights::walk_out(job, setup, rest)
        ),
        z_mm: Some(rest.z_mm),
        remedy: Some((
            "Put it back on the axis".to_owned(),
            Edit::SetRest { setup: setup.id, rest: Rest { offset_x_mm: 0.0, offset_y_mm: 0.0, ..rest.clone() } },
        )),
        behind: fights::beside(job, setup, rest, x_mm.hypot(y_mm), behind(job, setup, rest.z_mm, x_mm, y_mm)),
    })
}
