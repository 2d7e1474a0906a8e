//! A thread that comes out too shallow or too deep, after the last pass that cuts it.
//!
//! The tool's point and its flanks move together, so the root's error on diameter is that of the pitch diameter. It is
//! held against the width of grade 6 for outside threads, `Td2 = 90 P^0.4 d^0.1` µm.
//! Source: ISO 965-1 (from memory, sure). A pass is judged where its dial is within a twentieth of the full depth.

use super::why::size::of_error;
use super::why::sum::{Sum, number};
use super::words::{self, Computed, computed_passes};
use super::{Finding, Verdict};
use crate::job::{Edit, Job, Pass, PassKind, Subject};
use crate::study::thread::full_depth_mm;
use crate::study::{JobResult, Measured, PassResult, Station, Status, Surface};

/// A dial that goes so near to the full depth finishes the thread.
const FULL_RATIO: f64 = 0.95;

/// Tolerance of the pitch diameter of an outside thread, grade 6.
#[must_use]
pub fn grade_6_mm(pitch_mm: f64, diameter_mm: f64) -> f64 {
    0.09 * pitch_mm.powf(0.4) * diameter_mm.powf(0.1)
}

/// At most one finding for each thread.
#[must_use]
pub fn findings(job: &Job, result: &JobResult) -> Vec<Finding> {
    let threads: Vec<Computed<'_>> = computed_passes(job, result)
        .filter(|computed| computed.result.measured == Measured::ThreadRoot)
        .filter(|computed| matches!(computed.result.status, Status::Solved | Status::StoppedEarly))
        .collect();
    (threads.iter().enumerate())
        .filter(|(index, computed)| !threads[index + 1..].iter().any(|later| cuts_again(computed, later)))
        .filter_map(|(_, computed)| finding_of(job, result, computed))
        .collect()
}

/// A later pass of the same holding goes over most of the same stretch.
fn cuts_again(computed: &Computed<'_>, later: &Computed<'_>) -> bool {
    let ((low_mm, high_mm), (from_mm, to_mm)) = (computed.pass.span_mm(), later.pass.span_mm());
    later.setup.id == computed.setup.id && to_mm.min(high_mm) - from_mm.max(low_mm) > 0.5 * (high_mm - low_mm)
}

fn finding_of(job: &Job, result: &JobResult, computed: &Computed<'_>) -> Option<Finding> {
    let pitch_mm = crate::study::task::repeated(computed.setup, computed.pass).feed_mm_per_rev;
    let finished = |station: &&Station| {
        let s_mm = computed.setup.s_of_z_mm(&job.shaft, station.z_mm);
        crest_mm(&computed.result.before, s_mm).is_some_and(|crest_mm| {
            (crest_mm - station.wanted_diameter_mm) / 2.0 > FULL_RATIO * full_depth_mm(pitch_mm)
        })
    };
    let worst = (computed.result.stations.iter().filter(finished))
        .max_by(|a, b| a.error_mm.abs().total_cmp(&b.error_mm.abs()))?;
    let outside_mm = worst.wanted_diameter_mm + 2.0 * full_depth_mm(pitch_mm);
    let allowed_mm = grade_6_mm(pitch_mm, outside_mm);
    let verdict = match worst.error_mm.abs() / allowed_mm {
        used if used > 1.0 => Verdict::Trouble,
        used if used > 0.5 => Verdict::Watch,
        _ => return None,
    };
    let units = job.units;
    Some(Finding {
        rule: "thread_depth",
        about: Subject::Pass(computed.setup.id, computed.pass.id),
        verdict,
        text: format!(
            "{}: the thread is too {} at {}, by {} on diameter; a medium fit has {} in all",
            words::pass_name(job, computed.setup, computed.pass),
            if worst.error_mm > 0.0 { "shallow" } else { "deep" },
            words::place(worst.z_mm, units),
            words::amount(worst.error_mm, units),
            words::amount(allowed_mm, units),
        ),
        why: if worst.error_mm > 0.0 {
            "The work gives way to the tool, so the thread is too shallow where it gives most and a nut binds there. \
             A follower or a steady near it keeps it there; spring passes take some of it away."
        } else {
            "The work stands nearer to the tool than the dial believes. Look for a rest or a tailstock off the axis."
        }
        .to_owned(),
        z_mm: Some(worst.z_mm),
        remedy: spring_pass(result, computed, worst),
        behind: of_error(job, computed.setup, worst, computed.result.measured)
            .with(Sum::figure(
                "a medium fit has",
                "width of grade 6 on the pitch diameter: 0.09 \u{d7} pitch to the 0.4 \u{d7} outside diameter to the 0.1",
                format!("0.09 \u{d7} {}^0.4 \u{d7} {}^0.1", number(pitch_mm), number(outside_mm)),
                words::amount(allowed_mm, units),
            ))
            .and("The width is that of ISO 965-1, from memory and sure; the root moves with the flanks.".to_owned()),
    })
}

/// Diameter of the outside at a place along the shaft.
fn crest_mm(surface: &Surface, s_mm: f64) -> Option<f64> {
    let span = surface.spans.iter().find(|span| span.from_s_mm <= s_mm + 1e-6 && s_mm <= span.to_s_mm + 1e-6)?;
    Some(span.start_dial_mm.min(span.end_dial_mm))
}

/// One more spring pass, unless the last one hardly helped.
fn spring_pass(result: &JobResult, computed: &Computed<'_>, worst: &Station) -> Option<(String, Edit)> {
    let setup = computed.setup;
    let index = setup.passes.iter().position(|pass| pass.id == computed.pass.id)?;
    let no_help = computed.pass.kind == PassKind::Spring && {
        let before: Option<&PassResult> = result.pass(setup.passes[index.checked_sub(1)?].id);
        before.and_then(PassResult::worst).is_some_and(|before| worst.error_mm > 0.8 * before.error_mm)
    };
    if worst.error_mm <= 0.0 || no_help {
        return None;
    }
    let pass = Pass { kind: PassKind::Spring, ..computed.pass.clone() };
    Some(("Add a spring pass".to_owned(), Edit::AddPass { setup: setup.id, at: index + 1, pass }))
}
