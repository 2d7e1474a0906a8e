//! Long work between its ends with no rest, beyond the rule of thumb: a hint beside what is computed.
//!
//! Source: workshop texts put the limit of work held at both ends without a rest at 10 to 12 diameters (from memory);
//! no standard fixes it, and a fixed ratio is right for one diameter and one force only.

use super::overhang::{in_diameters, mean_diameter};
use super::size;
use super::why::sum::{Sum, number};
use super::why::{Sketch, Why};
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
    let (thickness_mm, thickness) = mean_diameter(job, setup, from_z_mm, end_z_mm)?;
    let (length_mm, middle_mm) = (end_z_mm - from_z_mm, f64::midpoint(from_z_mm, end_z_mm));
    let ratio = length_mm / thickness_mm;
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
        z_mm: Some(middle_mm),
        remedy: None,
        behind: Why::new(
            "How long the work is between its ends, counted in its own diameters.",
            "workshop texts: a rest beyond 10 to 12 diameters; no standard fixes it",
            "from memory; a rule of thumb for one thickness and one cut",
        )
        .with(Sum::step(
            "between its ends",
            "end of the work \u{2212} its beginning, from the jaw face",
            format!("{} \u{2212} {}", number(end_z_mm), number(from_z_mm)),
            length_mm,
            "mm",
        ))
        .with(thickness)
        .with(in_diameters(length_mm, thickness_mm, 0))
        .and(format!("Custom asks for a rest beyond {RULE_OF_THUMB_RATIO:.0} times."))
        .drawn(Sketch::Bar {
            from_mm: from_z_mm,
            to_mm: Some(end_z_mm),
            load_at_mm: middle_mm,
            diameter_mm: thickness_mm,
        }),
    })
}
