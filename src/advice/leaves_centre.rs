//! A feed towards the tailstock that pulls the work off its headstock centre.
//!
//! A headstock centre only pushes. Fed to the tailstock with more feed force than the tailstock's thrust, work that is
//! not held back leaves it. Source: statics; hold-backs are common practice, no source. Without any tailstock centre
//! [`super::endways`] tells it.

use super::why::Why;
use super::why::sum::{Sum, number};
use super::words::{self, Computed, computed_passes};
use super::{Finding, Verdict};
use crate::job::quantity::{self, Kind};
use crate::job::{DriveEnd, DriveKind, Edit, Job, Subject, TailKind};
use crate::study::along::along;
use crate::study::{JobResult, Status};

/// At most one finding a set-up: the pass that pulls hardest.
#[must_use]
pub fn findings(job: &Job, result: &JobResult) -> Vec<Finding> {
    let mut all: Vec<(f64, Finding)> = Vec::new();
    let solved = computed_passes(job, result).filter(|computed| computed.result.status == Status::Solved);
    for computed in solved.filter(can_pull) {
        let Some((over_n, finding)) = finding_of(job, result, &computed) else { continue };
        match all.iter_mut().find(|(_, other)| other.about == finding.about) {
            Some(known) if over_n > known.0 => *known = (over_n, finding),
            Some(_) => {}
            None => all.push((over_n, finding)),
        }
    }
    all.into_iter().map(|(_, finding)| finding).collect()
}

fn can_pull(computed: &Computed<'_>) -> bool {
    let (drive, tail) = (&computed.setup.drive, &computed.setup.tail);
    let only_pushes = drive.kind == DriveKind::CentreAndDog && !drive.hold_back;
    only_pushes && tail.kind != TailKind::Free && !computed.pass.feeds_to_headstock()
}

fn finding_of(job: &Job, result: &JobResult, computed: &Computed<'_>) -> Option<(f64, Finding)> {
    let (setup, pass) = (computed.setup, computed.pass);
    let along = along(job, result, setup.id, Some(pass.id))?;
    let (feed_n, thrust_n) = (along.axial.back_n, along.warmth.thrust_n);
    if feed_n <= thrust_n {
        return None;
    }
    let force = |force_n: f64| quantity::show(force_n, Kind::Force, job.units);
    let drive = DriveEnd { hold_back: true, ..setup.drive.clone() };
    let finding = Finding {
        rule: "leaves_centre",
        about: Subject::Drive(setup.id),
        verdict: Verdict::Trouble,
        text: format!(
            "{} feeds to the tailstock with about {} against a thrust of {}: the work leaves its headstock centre",
            words::pass_name(job, setup, pass),
            force(feed_n),
            force(thrust_n),
        ),
        why: "A dog turns the work but does not hold it on the centre, and the thrust of the tailstock is all that keeps it \
              there. Lace or clamp it back to the plate, set more thrust, or feed to the headstock. The feed force is an \
              estimate."
            .to_owned(),
        z_mm: Some(0.0),
        remedy: Some(("Hold it back".to_owned(), Edit::SetDrive { setup: setup.id, drive })),
        behind: Why::new(
            "What is left of the thrust that keeps the work on its headstock centre, while the feed pulls it off.",
            "equilibrium along the work; hold-backs: common practice, no source",
            "the feed force: from tables that differ by some 40 %; the thrust: as stated",
        )
        .with(Sum::figure(
            "feed force",
            "mean along the pass, at the depth that its dial asks for",
            number(feed_n),
            force(feed_n),
        ))
        .with(Sum::figure(
            "pull on the centre",
            "feed force \u{2212} thrust of the tailstock, with what warmth adds to it",
            format!("{} \u{2212} {}", number(feed_n), number(thrust_n)),
            force(feed_n - thrust_n),
        )),
    };
    Some((feed_n - thrust_n, finding))
}
