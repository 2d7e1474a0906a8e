//! Parting off where the kerf can close on the tool, or where the work gives way under it.
//!
//! Between a chuck or centre and the tailstock the pieces are pressed together as the last of the wall goes: never.
//! Close to a chuck, or close to a steady that carries the piece, it goes well. Source: common practice of the trade
//! (collected notes, no printed limit). A tool that the work gives way to by more than it is fed in a turn is drawn in;
//! that comparison is ours.

use super::why::Why;
use super::why::sum::{Sum, number};
use super::words::{self, Computed, computed_passes};
use super::{Finding, Verdict};
use crate::job::{DriveKind, Job, PassKind, Subject, TailKind};
use crate::study::{JobResult, Plunge};

/// At most one finding for how a parting pass is held, one for how it springs, and one for what comes after it.
#[must_use]
pub fn findings(job: &Job, result: &JobResult) -> Vec<Finding> {
    computed_passes(job, result)
        .filter(|computed| computed.pass.kind == PassKind::Part)
        .flat_map(|computed| {
            let spring = computed.result.plunge.as_ref().and_then(|plunge| springs(job, &computed, plunge));
            [held(job, &computed), spring, followed(job, &computed)].into_iter().flatten().collect::<Vec<_>>()
        })
        .collect()
}

const CUSTOM: &str = "common practice, no source";

fn finding(computed: &Computed<'_>, verdict: Verdict, text: String, why: &str, behind: Why) -> Finding {
    let (low_mm, high_mm) = computed.pass.span_mm();
    Finding {
        rule: "parting",
        about: Subject::Pass(computed.setup.id, computed.pass.id),
        verdict,
        text,
        why: why.to_owned(),
        z_mm: Some(f64::midpoint(low_mm, high_mm)),
        remedy: None,
        behind,
    }
}

fn held(job: &Job, computed: &Computed<'_>) -> Option<Finding> {
    let (setup, name) = (computed.setup, words::pass_name(job, computed.setup, computed.pass));
    let (_, high_mm) = computed.pass.span_mm();
    let end_mm = setup.work_end_z_mm(&job.shaft);
    if setup.tail.kind != TailKind::Free || setup.drive.kind == DriveKind::CentreAndDog {
        let text = format!("{name} parts the work between its ends' supports: never");
        let why = "As the last of the wall goes, the centres press the pieces together on the tool and the piece comes \
                   loose. Part near the chuck with the tailstock drawn back, or saw it off.";
        let behind = Why::new("How both pieces are carried when the last of the wall goes.", CUSTOM, "sure");
        return Some(finding(computed, Verdict::Trouble, text, why, behind));
    }
    let rest = setup.rests.iter().find(|rest| rest.z_mm > high_mm && rest.z_mm < end_mm)?;
    let text = format!("{name}: the piece that comes off stays in {}", words::rest_name(rest, job.units));
    let why = "Close to a steady parting goes well, but the piece must be carried there when it comes free, and the rest \
               must not press the kerf shut on the tool.";
    let behind = Why::new("Where the next rest stands beyond the cut.", CUSTOM, "sure, where all stands as told").with(
        Sum::figure(
            "beyond the cut",
            "place of the rest \u{2212} tailstock side of the cut, from the jaw face",
            format!("{} \u{2212} {}", number(rest.z_mm), number(high_mm)),
            words::length(rest.z_mm - high_mm, job.units),
        ),
    );
    Some(finding(computed, Verdict::Watch, text, why, behind))
}

fn springs(job: &Job, computed: &Computed<'_>, plunge: &Plunge) -> Option<Finding> {
    let size_mm = |off_mm: [f64; 2]| off_mm[0].hypot(off_mm[1]);
    let most = if size_mm(plunge.spring_at_start_mm) >= size_mm(plunge.spring_at_bottom_mm) {
        plunge.spring_at_start_mm
    } else {
        plunge.spring_at_bottom_mm
    };
    let spring_mm = size_mm(most);
    let feed_mm = computed.pass.feed_mm_per_rev;
    if spring_mm <= feed_mm {
        return None;
    }
    let text = format!(
        "{}: the work gives way {}, more than the {} it is fed in a turn",
        words::pass_name(job, computed.setup, computed.pass),
        words::amount(spring_mm, job.units),
        words::amount(feed_mm, job.units)
    );
    let why = "The tool is drawn in by fits and starts where the work gives way by more than the chip. Part nearer to the \
               chuck or to a steady, or with a narrower tool.";
    let behind = Why::new(
        "How far the work gives way under the parting tool at its worst, against the chip it is fed in a turn.",
        "the bent line of the work under the tool; that a tool is then drawn in: our own comparison",
        "as sure as force and stiffness are",
    )
    .with(Sum::figure(
        "gives way",
        "sideways and up together",
        format!("\u{221a}({}^2 + {}^2)", number(most[0].abs()), number(most[1].abs())),
        words::amount(spring_mm, job.units),
    ))
    .with(Sum::figure(
        "of the feed",
        "how far it gives way \u{f7} feed a turn",
        format!("{} \u{f7} {}", number(spring_mm), number(feed_mm)),
        format!("{:.2} times", spring_mm / feed_mm),
    ));
    Some(finding(computed, Verdict::Watch, text, why, behind))
}

fn followed(job: &Job, computed: &Computed<'_>) -> Option<Finding> {
    let last = computed.setup.passes.last()?;
    if last.id == computed.pass.id {
        return None;
    }
    let text = format!("{} is followed by other passes", words::pass_name(job, computed.setup, computed.pass));
    let why = "What comes after it is worked out as if the work were still whole. Let parting be the last pass.";
    let behind = Why::new("Which pass of the set-up is its last: an order, nothing is worked out.", CUSTOM, "sure");
    Some(finding(computed, Verdict::Watch, text, why, behind))
}
