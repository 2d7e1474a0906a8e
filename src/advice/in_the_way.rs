//! A steady rest that stands in the way of the pass: the tool cannot pass it, and the carriage meets it earlier.
//!
//! The nearest cut beside a rest is half its base plus the carriage wing on that side away. Where the wings straddle
//! the base they come nearer; so a pass that crosses the jaws is trouble, one that comes too near is to be watched.
//! Source: geometry of the carriage; common practice, no source.

use super::words;
use super::{Finding, Verdict};
use crate::job::{Edit, Job, Pass, PassKind, Rest, Setup, Subject};
use crate::study::JobResult;

/// A pass shorter than this is no remedy.
const SHORTEST_PASS_MM: f64 = 1.0;

/// A finding for each pass that crosses a rest, and one for each rest that the carriage comes too near.
#[must_use]
pub fn findings(job: &Job, _result: &JobResult) -> Vec<Finding> {
    job.setups.iter().flat_map(|setup| setup.rests.iter().flat_map(move |rest| of_rest(job, setup, rest))).collect()
}

fn of_rest(job: &Job, setup: &Setup, rest: &Rest) -> Vec<Finding> {
    // A drill comes from the tailstock, and a boring bar reaches into the work: the carriage stays off its end.
    let met: Vec<Finding> = setup
        .passes
        .iter()
        .filter(|pass| !matches!(pass.kind, PassKind::Drill | PassKind::Bore))
        .filter_map(|pass| finding_of(job, setup, pass, rest))
        .collect();
    let (mut all, near): (Vec<Finding>, Vec<Finding>) =
        met.into_iter().partition(|finding| finding.verdict == Verdict::Trouble);
    match near.len() {
        0 | 1 => all.extend(near),
        n_near => all.extend(together(job, setup, rest, &near, n_near)),
    }
    all
}

/// Several passes that come too near the same rest, as one finding about the rest.
fn together(job: &Job, setup: &Setup, rest: &Rest, near: &[Finding], n_near: usize) -> Option<Finding> {
    let edits: Option<Vec<Edit>> =
        near.iter().map(|finding| finding.remedy.as_ref().map(|(_, edit)| edit.clone())).collect();
    let text =
        format!("{n_near} passes come so near {} that the carriage may meet it", words::rest_name(rest, job.units));
    let first = near.first()?;
    Some(Finding {
        about: Subject::Rest(setup.id, rest.id),
        text: words::capital(&format!("{}{text}", words::of_setup(job, setup))),
        remedy: edits.map(|edits| ("Shorten these passes".to_owned(), Edit::Together(edits))),
        ..first.clone()
    })
}

/// The stretch about a rest in which the tool tip cannot work: from where it stops at the headstock side of the rest
/// to where it stops at the tailstock side.
#[must_use]
pub fn closed_stretch_mm(job: &Job, rest: &Rest) -> (f64, f64) {
    let half_base_mm = job.lathe.rest_base_mm.value / 2.0;
    (
        // On the headstock side of the rest the wing towards the tailstock meets it, and the other way round.
        rest.z_mm - half_base_mm - job.lathe.carriage_right_mm.value,
        rest.z_mm + half_base_mm + job.lathe.carriage_left_mm.value,
    )
}

fn finding_of(job: &Job, setup: &Setup, pass: &Pass, rest: &Rest) -> Option<Finding> {
    let (low_mm, high_mm) = pass.span_mm();
    let (closed_low_mm, closed_high_mm) = closed_stretch_mm(job, rest);
    if high_mm <= closed_low_mm || low_mm >= closed_high_mm {
        return None;
    }
    let half_jaw_mm = job.lathe.rest_jaw_width_mm.value / 2.0;
    let crosses = low_mm < rest.z_mm + half_jaw_mm && high_mm > rest.z_mm - half_jaw_mm;
    let name = words::pass_name(job, setup, pass);
    let rest_name = words::rest_name(rest, job.units);
    let text = if crosses {
        format!("{name} runs into {rest_name}: the tool cannot pass a steady")
    } else {
        format!("{name} comes so near {rest_name} that the carriage may meet it")
    };
    Some(Finding {
        rule: "in_the_way",
        about: Subject::Pass(setup.id, pass.id),
        verdict: if crosses { Verdict::Trouble } else { Verdict::Watch },
        text,
        why: format!(
            "With this rest base and carriage the tool stops {} short of the jaws on their tailstock side and {} on \
             their headstock side. The rest of the length is cut in another set-up, or with a follower.",
            words::length(closed_high_mm - rest.z_mm, job.units),
            words::length(rest.z_mm - closed_low_mm, job.units)
        ),
        z_mm: Some(rest.z_mm),
        remedy: shortened(pass, rest, (closed_low_mm, closed_high_mm)).map(|shorter| {
            let end_mm = if shorter.to_z_mm == pass.to_z_mm { shorter.from_z_mm } else { shorter.to_z_mm };
            let verb = if shorter.to_z_mm == pass.to_z_mm { "Begin" } else { "End" };
            (
                format!("{verb} the pass at {}", words::length(end_mm, job.units)),
                Edit::SetPass { setup: setup.id, pass: shorter },
            )
        }),
    })
}

/// The pass kept on the side where it begins, ending before the rest; or, where it begins too near, beginning beyond.
fn shortened(pass: &Pass, rest: &Rest, closed: (f64, f64)) -> Option<Pass> {
    let (closed_low_mm, closed_high_mm) = closed;
    // Whole millimetres, on the side that is clear.
    let (low_limit_mm, high_limit_mm) = (closed_low_mm.floor(), closed_high_mm.ceil());
    let mut shorter = pass.clone();
    let begins_to_tailstock = pass.from_z_mm > rest.z_mm;
    let limit_mm = if begins_to_tailstock { high_limit_mm } else { low_limit_mm };
    let begins_clear = if begins_to_tailstock { pass.from_z_mm > limit_mm } else { pass.from_z_mm < limit_mm };
    let ends_on_same_side = (pass.to_z_mm > rest.z_mm) == begins_to_tailstock;
    let end_is_clear =
        ends_on_same_side && if begins_to_tailstock { pass.to_z_mm > limit_mm } else { pass.to_z_mm < limit_mm };
    if begins_clear {
        shorter.to_z_mm = limit_mm;
    } else if end_is_clear {
        shorter.from_z_mm = limit_mm;
    } else {
        return None;
    }
    ((shorter.from_z_mm - shorter.to_z_mm).abs() >= SHORTEST_PASS_MM).then_some(shorter)
}
