//! Nothing keeps the work from sliding off the headstock centre.
//!
//! A dog only turns the work. With a steady at the outer end and no tailstock centre the work must be laced or
//! clamped back to the drive plate, or it walks off its centre. Source: common practice, no printed source found.

use super::why::Why;
use super::words;
use super::{Finding, Verdict};
use crate::job::{DriveEnd, DriveKind, Edit, Job, Setup, Subject, TailKind};
use crate::study::JobResult;

/// Nothing but the cut keeps the work on the headstock centre.
#[must_use]
pub fn can_leave_its_centre(setup: &Setup) -> bool {
    setup.drive.kind == DriveKind::CentreAndDog && setup.tail.kind == TailKind::Free && !setup.drive.hold_back
}

/// One finding for each set-up on a headstock centre without tailstock centre or hold-back.
#[must_use]
pub fn findings(job: &Job, _result: &JobResult) -> Vec<Finding> {
    job.setups
        .iter()
        .filter(|setup| can_leave_its_centre(setup))
        .map(|setup| Finding {
            rule: "endways",
            about: Subject::Drive(setup.id),
            verdict: Verdict::Trouble,
            text: words::capital(&format!(
                "{}nothing holds the work endways: it can leave the headstock centre",
                words::of_setup(job, setup)
            )),
            why:
                "A dog turns the work but does not hold it on the centre. Without a tailstock centre it needs a lacing \
                  or a clamp to the drive plate."
                    .to_owned(),
            z_mm: Some(0.0),
            remedy: Some((
                "Hold it back".to_owned(),
                Edit::SetDrive { setup: setup.id, drive: DriveEnd { hold_back: true, ..setup.drive.clone() } },
            )),
            behind: Why::new(
                "What there is to hold the work along its length: no tailstock, no hold-back, nothing. No figure is needed.",
                "common practice, no source",
                "sure",
            ),
        })
        .collect()
}
