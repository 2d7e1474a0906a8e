//! Seams: where the cuts of two set-ups meet on a land with a close tolerance, instead of at a shoulder or in a groove.
//!
//! Work held anew never runs quite as it ran before, so a small step or a run-out stays at the seam. Hiding it is common
//! practice, no source.

use super::why::Why;
use super::why::sum::{Sum, size};
use super::words;
use super::{Finding, Verdict};
use crate::job::{Job, Subject};
use crate::study::JobResult;
use crate::study::coverage::{Coverage, FIT_MM, Seam};

/// A step worth telling on a wider tolerance, as a share of it. No source.
const STEP_RATIO: f64 = 0.25;

/// One finding for each seam on a fit, or whose step takes much of a wider tolerance.
#[must_use]
pub fn findings(job: &Job, _: &JobResult, coverage: &Coverage) -> Vec<Finding> {
    if job.setups.len() < 2 || job.shaft.wanted.is_empty() {
        return Vec::new();
    }
    coverage.seams.iter().filter_map(|seam| finding_of(job, seam)).collect()
}

fn finding_of(job: &Job, seam: &Seam) -> Option<Finding> {
    let land = job.shaft.wanted.get(seam.land?)?;
    let (lower_mm, upper_mm) = land.tolerance.limits_mm(land.land.start_diameter_mm)?;
    let width_mm = upper_mm - lower_mm;
    if width_mm > FIT_MM && seam.step_mm.abs() < STEP_RATIO * width_mm {
        return None;
    }
    let numbers: Vec<usize> = seam.setups.iter().filter_map(|id| job.setup_index(*id).map(|index| index + 1)).collect();
    let [one, other] = numbers[..] else { return None };
    let setup = job.setups.iter().rev().find(|setup| seam.setups.contains(&setup.id))?;
    let name = if land.name.is_empty() { "a land with a tolerance".to_owned() } else { format!("the {}", land.name) };
    let step = words::big_or_small(seam.step_mm, job.units);
    let step = if step == words::TO_SIZE {
        "no step to speak of".to_owned()
    } else {
        format!("a step of about {}", words::amount(seam.step_mm, job.units))
    };
    Some(Finding {
        rule: "seam",
        about: Subject::Setup(setup.id),
        verdict: Verdict::Watch,
        text: format!(
            "The cuts of set-ups {} and {} meet on {name}, {} from end A, with {step}",
            one.min(other),
            one.max(other),
            words::length(seam.s_mm, job.units),
        ),
        why: "Work that was let go and held anew does not run quite as before, so a mark and a run-out stay there. Let the \
              cuts meet at a shoulder, in a groove or on a length without a fit."
            .to_owned(),
        z_mm: Some(setup.z_of_s_mm(&job.shaft, seam.s_mm)),
        remedy: None,
        behind: Why::new(
            "How much the size changes where the cut of one set-up ends and that of the other begins.",
            "the sizes that the last cuts really leave; hiding a seam: common practice, no source",
            "as sure as force and stiffness are; what holding anew adds is not in it",
        )
        .with(Sum::figure(
            "step",
            "larger one \u{2212} smaller one of the diameters on its two sides",
            format!("{} \u{2212} {}", size(seam.sizes_mm[0].max(seam.sizes_mm[1])), size(seam.sizes_mm[0].min(seam.sizes_mm[1]))),
            words::amount(seam.step_mm, job.units),
        )),
    })
}
