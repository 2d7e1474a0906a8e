//! Passes whose figures are missing or not to be relied on, and why; and passes that have figures as they stand, but
//! none in some of the cases their band is made of.

use super::why::rest::status;
use super::why::sum::Sum;
use super::words::{self, computed_passes};
use super::{Finding, Verdict};
use crate::job::quantity::{Kind, show};
use crate::job::{Job, PassKind, Subject};
use crate::study::{JobResult, Status};

/// One finding for each pass that is not solved.
#[must_use]
pub fn findings(job: &Job, result: &JobResult) -> Vec<Finding> {
    computed_passes(job, result)
        .filter_map(|computed| {
            let name = words::pass_name(job, computed.setup, computed.pass);
            let mut behind = status();
            let (verdict, text, why) = match computed.result.status {
                Status::Solved => {
                    let band = result.band(computed.pass.id).filter(|band| band.n_lost > 0)?;
                    behind = behind.with(Sum::figure(
                        "not held",
                        "cases without an answer \u{f7} all cases of the band",
                        format!("100 \u{d7} {} \u{f7} {}", band.n_lost, band.n_members),
                        show(band.n_lost as f64 / band.n_members as f64, Kind::Percent, job.units),
                    ));
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
                     usually helps. Long thin work pressed from its ends may lie in more than one way between open \
                     jaws: close them, or press less."
                        .to_owned(),
                ),
                Status::NotHeld => (
                    Verdict::Trouble,
                    format!("{name}: nothing holds the work; it would swing or fall"),
                    "With these supports the work is free to move in at least one direction, or buckles under the \
                     force along it, so no spring can be worked out. Add a centre or a rest, or close the jaws."
                        .to_owned(),
                ),
                Status::NothingToCut => (
                    Verdict::Watch,
                    format!("{name} does not meet the work: nothing is cut"),
                    nothing_to_cut(computed.pass.kind).to_owned(),
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
                behind,
            })
        })
        .collect()
}

/// What usually keeps a pass of this kind from cutting.
fn nothing_to_cut(kind: PassKind) -> &'static str {
    match kind {
        PassKind::Turn | PassKind::Spring | PassKind::Thread => {
            "The dial stands larger than the work, or the pass lies off its ends."
        }
        PassKind::Bore => {
            "There is no hole to bore where the pass begins, or it is as wide as the dial already. Bores follow a \
             depth or a diameter: the drawing has none. Drill first, or state the bore of the stock."
        }
        PassKind::Drill => {
            "The hole is as wide as the drill already, or no diameter is stated: the drawing has no holes."
        }
        PassKind::Face => "The tool stops where it begins: there is no ring to face at this place.",
        PassKind::Groove | PassKind::Part => {
            "The tool is as wide as the pass is long. Either that is nothing, or the dial stands larger than the work."
        }
    }
}
