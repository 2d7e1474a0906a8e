//! A tip that presses so narrowly that the work may keep a mark.
//!
//! The peak on the line of contact, against the pressure at which the work first yields below its skin (1.67 of its
//! yield stress, Johnson 1985, from memory). That a mark is then to be feared is a judgement: no printed limit was
//! found. Where the tip is the softer part it wears to fit instead, and nothing is said.

use super::jaws::{hardest_of_each, roughly};
use super::why::jaws::pressure;
use super::why::sum::{Sum, number};
use super::words;
use super::{Finding, Verdict};
use crate::job::quantity::{self, Kind};
use crate::job::{Job, TipKind};
use crate::mechanics::hertz::{FIRST_YIELD_RATIO, first_yield_peak_mpa};
use crate::study::JobResult;
use crate::study::jaw_contact::JawContact;

/// At most one finding for each rest or follower.
#[must_use]
pub fn findings(job: &Job, result: &JobResult) -> Vec<Finding> {
    let Some(work) = job.shaft.material.yield_mpa() else { return Vec::new() };
    let limit_mpa = first_yield_peak_mpa(work.value);
    let ratio = |jaw: &JawContact| {
        let marks_the_work = !jaw.on_sleeve && jaw.tip.figures().yield_mpa.value > work.value;
        marks_the_work.then_some(jaw.peak_mpa? / limit_mpa)
    };
    hardest_of_each(job, result, ratio, |computed, z_mm, jaw, about| {
        let show = |mpa: f64| quantity::show(mpa, Kind::Pressure, job.units);
        let what = if jaw.tip == TipKind::Roller { "roller" } else { "tip" };
        Finding {
            rule: "jaw_marks",
            about,
            verdict: Verdict::Watch,
            text: format!(
                "{}: {} presses with about {} on a line; its {what} may mark the work",
                words::pass_name(job, computed.setup, computed.pass),
                words::support_name(computed.setup, jaw.support, job.units),
                roughly(jaw.force_n, job.units),
            ),
            why: format!(
                "The peak on the line is about {}; work that yields at {} begins to give below its skin at some {}. \
                 When a mark stays is a judgement, and the yield figure a general one. A softer or bored tip, a sleeve or \
                 less push spreads it.",
                show(jaw.peak_mpa.unwrap_or(0.0)),
                show(work.value),
                show(limit_mpa)
            ),
            z_mm: Some(z_mm),
            remedy: None,
            behind: pressure(job, computed.setup, jaw, false)
                .with(Sum::figure(
                    "work first yields at",
                    "peak under which steel begins to yield below its skin, against its yield stress \u{d7} that yield stress",
                    format!("{} \u{d7} {}", number(FIRST_YIELD_RATIO), number(work.value)),
                    show(limit_mpa),
                ))
                .and(format!("The peak is {:.2} times that.", jaw.peak_mpa.unwrap_or(0.0) / limit_mpa)),
        }
    })
}
