//! A steady rest for which the lathe has no room where it stands: tailstock, dog, bed end, or a cat head that does not
//! swing clear.
//!
//! Source: geometry of the lathe; common practice, no source. What [`crate::job::Job::check`] tells is left to it.

use super::why::room::{measured, of_reason, overlap};
use super::{Finding, Verdict, standing, words};
use crate::job::{Edit, Job, Rest, Setup, Subject, TailEnd};
use crate::study::JobResult;
use crate::study::reach::{Why, rest_reach};

/// At most one finding for each steady rest.
#[must_use]
pub fn findings(job: &Job, result: &JobResult) -> Vec<Finding> {
    job.setups
        .iter()
        .flat_map(|setup| setup.rests.iter().filter_map(move |rest| finding_of(job, result, setup, rest)))
        .collect()
}

fn finding_of(job: &Job, result: &JobResult, setup: &Setup, rest: &Rest) -> Option<Finding> {
    let reach = rest_reach(job, result, setup.id, rest.id)?;
    if reach.against(rest.z_mm).any(|one| matches!(one.why, Why::OffWork { .. })) {
        return None;
    }
    let why = reach.against(rest.z_mm).map(|one| one.why).find(|why| {
        matches!(
            why,
            Why::Tailstock { .. }
                | Why::Dog { .. }
                | Why::BedEnd { .. }
                | Why::SleeveInFrame { .. }
                | Why::SleeveOnBed { .. }
                | Why::SleeveOnSlide { .. }
        )
    })?;
    let mut behind = measured("How the rest, where it stands, lies to what it meets.");
    behind.sums.extend(of_reason(job, Some(rest), &why));
    if let Some((sum, sketch)) = overlap(job, rest.z_mm, &why) {
        behind = behind.with(sum).drawn(sketch);
    }
    Some(Finding {
        rule: "rest_room",
        about: Subject::Rest(setup.id, rest.id),
        verdict: Verdict::Trouble,
        text: format!("{} has no room: {}", words::rest_heading(job, setup, rest), standing::because(job, setup, &why)),
        why: "It follows from the measures of the lathe; those marked assumed are worth a tape.".to_owned(),
        z_mm: Some(rest.z_mm),
        remedy: quill_further_out(job, setup, rest, &why),
        behind,
    })
}

/// Draws the quill out as far as the rest needs, where it goes so far.
fn quill_further_out(job: &Job, setup: &Setup, rest: &Rest, why: &Why) -> Option<(String, Edit)> {
    let Why::Tailstock { face_mm, half_base_mm, quill_out_mm, quill_travel_mm } = *why else { return None };
    let needed_mm = (quill_out_mm + rest.z_mm + half_base_mm - face_mm).ceil();
    (needed_mm <= quill_travel_mm).then(|| {
        let tail = TailEnd { quill_out_mm: needed_mm, ..setup.tail.clone() };
        let words = format!("Draw the quill out to {}", words::length(needed_mm, job.units));
        (words, Edit::SetTail { setup: setup.id, tail })
    })
}
