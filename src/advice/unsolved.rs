//! Passes whose figures are missing or not to be relied on, and why; and passes that have figures as they stand, but
//! none in some of the cases their band is made of.

use super::words::{self, computed_passes};
use super::{Finding, Verdict};
use crate::job::{Job, Subject};
use crate::study::{JobResult, Status};

/// One finding for each pass that is not solved.
#[must_use]
pub fn findings(job: &Job, result: &JobResult) -> Vec<Finding> {
    computed_passes(job, result)
        .filter_map(|computed| {
            let name = words::pass_name(job, computed.setup, computed.pass);
            let (verdict, text, why) = match computed.result.status {
                Status::Solved => {
                    let band = result.band(computed.pass.id).filter(|band| band.n_lost > 0)?;
                    (
                        Verdict::Watch,
                        format!(
                            "{name}: in {} of {} cases within the spread nothing holds the work",
                            band.n_lost, band.n_members
                        ),
                        "Force and stiffness may be such that the work swings or falls, and those cases are left out \
                         of the band. Hold the work better before trusting the curve."
                            .to_owned(),
                    )
                }
                Status::StoppedEarly => (
                    Verdict::Watch,
                    format!("{name}: the search for the jaws that touch was stopped early"),
                    "The figures are the last ones tried and may be off. A very small change of a gap or a place \
                     usually helps."
                        .to_owned(),
                ),
                Status::NotHeld => (
                    Verdict::Trouble,
                    format!("{name}: nothing holds the work; it would swing or fall"),
                    "With these supports the work is free to move in at least one direction, so no spring can be \
                     worked out. Add a centre or a rest, or close the jaws."
                        .to_owned(),
                ),
                Status::NotComputed => (
                    Verdict::Watch,
                    format!("{name}: {} is not worked out yet", words::kind_name(computed.pass.kind)),
                    "The program takes the shape of the work through this pass unchanged and says nothing about its \
                     forces."
                        .to_owned(),
                ),
                Status::NothingToCut => (
                    Verdict::Watch,
                    format!("{name} does not meet the work: nothing is cut"),
                    "The dial stands larger than the work, or the pass lies off its ends.".to_owned(),
                ),
            };
            Some(Finding {
                rule: "unsolved",
                about: Subject::Pass(computed.setup.id, computed.pass.id),
                verdict,
                text,
                why,
                z_mm: None,
                remedy: None,
            })
        })
        .collect()
}
