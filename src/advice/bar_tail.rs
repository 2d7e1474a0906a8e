//! Work that stands out behind the spindle: unsupported it can kink and thrash.
//!
//! Source: fatal cases of bars bent behind the headstock, and HSG129 (bar beyond the spindle end must be supported
//! and guarded along its length; from memory). No speed is ever called safe for it.

use super::words;
use super::{Finding, Verdict};
use crate::job::{DriveKind, Job, Subject};
use crate::study::JobResult;

/// One finding for each set-up whose work reaches past the rear end of the spindle.
#[must_use]
pub fn findings(job: &Job, _result: &JobResult) -> Vec<Finding> {
    let units = job.units;
    job.setups
        .iter()
        .filter(|setup| setup.drive.kind != DriveKind::CentreAndDog)
        .filter_map(|setup| {
            let spindle_end_z_mm = -job.lathe.headstock_length_mm.value;
            let out_mm = spindle_end_z_mm - setup.work_start_z_mm;
            (out_mm > 0.0).then(|| Finding {
                rule: "bar_tail",
                about: Subject::Setup(setup.id),
                verdict: Verdict::Trouble,
                text: words::capital(&format!(
                    "{}{} of bar stands out behind the spindle: support and guard its whole length, or cut it shorter",
                    words::of_setup(job, setup),
                    words::length(out_mm, units)
                )),
                why:
                    "A bar that turns unsupported behind the headstock can bend and thrash without warning, and even a \
                      short stub catches clothing. People have been killed by it; no speed makes it harmless."
                        .to_owned(),
                z_mm: Some(setup.work_start_z_mm),
                remedy: None,
            })
        })
        .collect()
}
