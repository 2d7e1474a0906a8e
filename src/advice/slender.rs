//! Long work between its ends with no rest, beyond the rule of thumb: a hint beside what is computed.
//!
//! Source: workshop texts put the limit of work held at both ends without a rest at 10 to 12 diameters (from memory);
//! no standard fixes it, and a fixed ratio is right for one diameter and one force only.

use super::overhang::mean_diameter_mm;
use super::size;
use super::words;
use super::{Finding, Verdict};
use crate::job::{Job, Setup, Subject, TailKind};
use crate::study::JobResult;

/// Length over diameter beyond which custom asks for a rest.
const RULE_OF_THUMB_RATIO: f64 = 12.0;

/// At most one finding for each set-up held at both ends.
#[must_use]
pub fn findings(job: &Job, result: &JobResult) -> Vec<Finding> {
    job.setups
        .iter()
        .filter(|setup| setup.tail.kind != TailKind::Free && setup.rests.is_empty() && setup.follower.is_none())
        .filter_map(|setup| finding_of(job, result, setup))
        .collect()
}

fn finding_of(job: &Job, result: &JobResult, setup: &Setup) -> Option<Finding> {
    let from_z_mm = setup.work_start_z_mm.max(0.0);
    let end_z_mm = setup.work_end_z_mm(&job.shaft);
    let ratio = (end_z_mm - from_z_mm) / mean_diameter_mm(job, setup, from_z_mm, end_z_mm)?;
    if ratio <= RULE_OF_THUMB_RATIO {
        return None;
    }
    let worst = size::worst_of_setup(job, result, setup);
    let computed = match worst {
        Some((_, error_mm)) => format!("computed: at most {}", words::big_or_small(error_mm, job.units)),
        None => "no size against a tolerance is computed".to_owned(),
    };
    let size_is_fine = worst.is_some_and(|(verdict, _)| verdict == Verdict::Fine);
    Some(Finding {
        rule: "slender",
        about: Subject::Setup(setup.id),
        verdict: if size_is_fine { Verdict::Fine } else { Verdict::Watch },
        text: words::capital(&format!(
            "{}the work is {ratio:.0} times as long as thick, with no rest; {computed}",
            words::of_setup(job, setup)
        )),
        why: "Beyond 10 to 12 diameters between its ends the trade puts a steady or a follower. It is a rule of thumb \
              for one thickness and one cut; go by the computed figure."
            .to_owned(),
        z_mm: Some(f64::midpoint(from_z_mm, end_z_mm)),
        remedy: None,
    })
}
