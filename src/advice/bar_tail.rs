//! Work that stands out behind the spindle: unsupported it can kink and thrash.
//!
//! Source: fatal cases of bars bent behind the headstock, and HSG129 (bar beyond the spindle end must be supported
//! and guarded along its length; from memory). No speed is ever called safe for it: the whip speed told is that of a
//! perfect cantilever, at which it must have failed already.

use super::why::lively;
use super::why::room::{apart, measured};
use super::words;
use super::{Finding, Verdict};
use crate::job::quantity::{self, Kind};
use crate::job::{DriveKind, Job, Setup, Subject};
use crate::study::JobResult;
use crate::study::lively::{BarTail, bar_tail};

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
                why: format!(
                    "A bar that turns unsupported behind the headstock can bend and thrash without warning, and even a \
                      short stub catches clothing. People have been killed by it; no speed makes it harmless.{}",
                    hanging(job, setup)
                ),
                z_mm: Some(setup.work_start_z_mm),
                remedy: None,
                behind: lively::bar_tail(job, setup).unwrap_or_else(|| measured("How far the bar stands out.")).with(
                    apart(
                        job,
                        "stands out",
                        "rear end of the spindle \u{2212} end of the work, from the jaw face",
                        spindle_end_z_mm,
                        setup.work_start_z_mm,
                    ),
                ),
            })
        })
        .collect()
}

/// How far it hangs down, and the speed at which even a perfect bar would whip, where the lathe can come anywhere near.
fn hanging(job: &Job, setup: &Setup) -> String {
    let Some(BarTail { sag_mm, first_whip_rpm, .. }) = bar_tail(job, setup) else { return String::new() };
    let fastest_rpm = job.lathe.speeds_rpm.iter().copied().fold(job.lathe.chuck_max_rpm.value, f64::max);
    let sag = format!(" Standing still its end hangs {} down", words::amount(sag_mm, job.units));
    if first_whip_rpm > 2.0 * fastest_rpm {
        return format!("{sag}.");
    }
    format!(
        "{sag}; even one that is perfectly straight and held would whip at about {}, a bent one far sooner: support it.",
        quantity::show(first_whip_rpm, Kind::SpindleSpeed, job.units)
    )
}
