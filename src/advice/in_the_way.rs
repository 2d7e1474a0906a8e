//! A steady rest that stands in the way of the pass: the tool cannot pass it, and the carriage meets it earlier.
//!
//! How near the carriage comes follows from the lathe's measures; so a pass that crosses the jaws is trouble, one that
//! comes too near is to be watched. Source: geometry of the carriage; common practice, no source.

use super::why::room::approach;
use super::{Finding, Verdict, standing, words};
use crate::job::{Edit, Job, Pass, Rest, Setup, Subject};
use crate::study::JobResult;
use crate::study::reach::{Why, approach_mm, rest_reach, takes_the_carriage};

/// A pass shorter than this is no remedy.
const SHORTEST_PASS_MM: f64 = 1.0;

/// A finding for each pass that crosses a rest, and one for each rest that the carriage comes too near or cannot pass.
#[must_use]
pub fn findings(job: &Job, result: &JobResult) -> Vec<Finding> {
    let pairs = job.setups.iter().flat_map(|setup| setup.rests.iter().map(move |rest| (setup, rest)));
    pairs
        .flat_map(|(setup, rest)| {
            let mut all = of_rest(job, setup, rest);
            if all.is_empty() {
                all.extend(between_passes(job, result, setup, rest));
            }
            all
        })
        .collect()
}

/// A rest that stands clear of every pass, but which the carriage would have to go past between two of them.
fn between_passes(job: &Job, result: &JobResult, setup: &Setup, rest: &Rest) -> Option<Finding> {
    let reach = rest_reach(job, result, setup.id, rest.id)?;
    let why = reach.against(rest.z_mm).map(|one| one.why).find(|why| matches!(why, Why::BetweenPasses { .. }))?;
    Some(Finding {
        rule: "in_the_way",
        about: Subject::Rest(setup.id, rest.id),
        verdict: Verdict::Watch,
        text: format!(
            "{} parts the passes: {}",
            words::rest_heading(job, setup, rest),
            standing::because(job, setup, &why)
        ),
        why: "The rest must come off and be set anew between them, or the passes on one side be cut in another set-up."
            .to_owned(),
        z_mm: Some(rest.z_mm),
        remedy: None,
        behind: approach(job, rest, closed_stretch_mm(job, rest), all_passes_mm(setup)),
    })
}

/// From the first place that any pass reaches to the last.
fn all_passes_mm(setup: &Setup) -> (f64, f64) {
    let spans = setup.passes.iter().map(Pass::span_mm);
    spans.reduce(|all, one| (all.0.min(one.0), all.1.max(one.1))).unwrap_or_default()
}

fn of_rest(job: &Job, setup: &Setup, rest: &Rest) -> Vec<Finding> {
    let met: Vec<Finding> = setup
        .passes
        .iter()
        .filter(|pass| takes_the_carriage(pass))
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
    let [before_mm, behind_mm] = approach_mm(&job.lathe);
    (rest.z_mm - before_mm, rest.z_mm + behind_mm)
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
        behind: approach(job, rest, (closed_low_mm, closed_high_mm), (low_mm, high_mm)),
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
