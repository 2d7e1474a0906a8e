//! A speed above the one marked on the chuck.
//!
//! The mark is for a balanced chuck in good order; the grip of its jaws falls as it turns faster. Being below it says
//! nothing about long work. Source: Ito, Modular Design for Machine Tools (2008), p. 452, loss of grip with speed
//! (read); ISO 23125, speed not above the mark (from memory).

use super::why::Why;
use super::why::sum::{Sum, number};
use super::words;
use super::{Finding, Verdict};
use crate::job::quantity::{self, Kind};
use crate::job::{DriveKind, Edit, Job, Pass, Setup, Subject};
use crate::study::JobResult;

/// The pass turns faster than the mark of the chuck or plate that holds it.
#[must_use]
pub fn is_above_the_mark(job: &Job, setup: &Setup, pass: &Pass) -> bool {
    let marked = matches!(setup.drive.kind, DriveKind::ThreeJaw | DriveKind::FourJaw | DriveKind::FacePlate);
    marked && pass.speed_rpm > job.lathe.chuck_max_rpm.value
}

/// One finding for each pass above the mark.
#[must_use]
pub fn findings(job: &Job, _result: &JobResult) -> Vec<Finding> {
    let passes = job.setups.iter().flat_map(|setup| setup.passes.iter().map(move |pass| (setup, pass)));
    passes.filter(|(setup, pass)| is_above_the_mark(job, setup, pass)).map(|(s, p)| finding_of(job, s, p)).collect()
}

fn finding_of(job: &Job, setup: &Setup, pass: &Pass) -> Finding {
    let show = |speed_rpm: f64| quantity::show(speed_rpm, Kind::SpindleSpeed, job.units);
    let marked_rpm = job.lathe.chuck_max_rpm.value;
    let steps = &job.lathe.speeds_rpm;
    let below_rpm = match steps.is_empty() {
        true => Some(marked_rpm),
        false => steps.iter().copied().filter(|step| *step <= marked_rpm).reduce(f64::max),
    };
    let slower = |speed_rpm: f64| {
        let pass = Pass { speed_rpm, ..pass.clone() };
        (format!("Bring it down to {}", show(speed_rpm)), Edit::SetPass { setup: setup.id, pass })
    };
    Finding {
        rule: "chuck_speed",
        about: Subject::Pass(setup.id, pass.id),
        verdict: Verdict::Trouble,
        text: format!(
            "{} turns at {}, faster than the {} marked on the chuck",
            words::pass_name(job, setup, pass),
            show(pass.speed_rpm),
            show(marked_rpm)
        ),
        why: "The jaws grip less the faster the chuck turns, and beyond its mark nothing is known of it. The mark is for \
              a sound, balanced chuck alone: long, bent or unbalanced work may have to turn far slower."
            .to_owned(),
        z_mm: None,
        remedy: below_rpm.map(slower),
        behind: Why::new(
            "The speed of the pass against the one marked on what holds the work: as stated, nothing is worked out.",
            "the mark of the chuck's maker; loss of grip with speed: Ito, Modular Design for Machine Tools (2008)",
            "read; that no chuck goes above its mark: ISO 23125, from memory",
        )
        .with(Sum::figure(
            "of its mark",
            "turns a minute of the pass \u{f7} turns a minute of the mark",
            format!("{} \u{f7} {}", number(pass.speed_rpm), number(marked_rpm)),
            format!("{:.2} times", pass.speed_rpm / marked_rpm),
        )),
    }
}
