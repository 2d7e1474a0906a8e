//! A pass at whose end the tool holder, or the carriage, meets the tailstock, the dog or the chuck.
//!
//! The tool reaches the tailstock end only where quill and centre together stand out further than the holder does beyond
//! the tool, or the wing, where the wings do not run past the tailstock. Source: geometry of the carriage; common practice, no source.

use super::why::sum::{Sum, number};
use super::why::{Sketch, Why};
use super::{Finding, Verdict, words};
use crate::job::{DriveKind, Edit, Job, Pass, Setup, Subject, TailEnd};
use crate::study::JobResult;
use crate::study::reach::{Meets, takes_the_carriage, tool_room_mm};

/// A hair more is no clash.
const HAIR_MM: f64 = 0.5;

/// At most one finding for each end of a set-up: its worst pass there.
#[must_use]
pub fn findings(job: &Job, _result: &JobResult) -> Vec<Finding> {
    job.setups.iter().flat_map(|setup| [at_the_tailstock(job, setup), at_the_drive(job, setup)]).flatten().collect()
}

fn passes(setup: &Setup) -> impl Iterator<Item = &Pass> {
    setup.passes.iter().filter(|pass| takes_the_carriage(pass))
}

fn finding(job: &Job, setup: &Setup, pass: &Pass, what: &str, meets: Meets, short_mm: f64, behind: Why) -> Finding {
    let why = match meets {
        Meets::Holder => {
            "How far the holder reaches beside the tool is one of the lathe's measures; a holder set over, or one that \
             reaches further out, comes nearer."
        }
        Meets::Carriage => {
            "How near the carriage brings the tool is one of the lathe's measures; let the work stand further out, or \
             set the tool over beside the carriage."
        }
    };
    let part = part(meets);
    Finding {
        rule: "tool_room",
        about: Subject::Pass(setup.id, pass.id),
        verdict: Verdict::Watch,
        text: format!(
            "{} comes so near the {what} that the {part} meets it: {} too near",
            words::pass_name(job, setup, pass),
            words::length(short_mm, job.units)
        ),
        why: why.to_owned(),
        z_mm: None,
        remedy: None,
        behind,
    }
}

fn arithmetic(sums: Vec<Sum>, lengths: Vec<(f64, f64, &'static str)>) -> Why {
    let why = Why::new(
        "How far the tool would have to go beyond where the carriage lets it, all counted from the jaw face.",
        "measures of the lathe; geometry",
        "as sure as the measures are: those nobody stated are assumed",
    );
    Why { sums, ..why }.drawn(Sketch::Lengths(lengths))
}

fn at_the_tailstock(job: &Job, setup: &Setup) -> Option<Finding> {
    let (limit_mm, meets) = tool_room_mm(job, setup).1?;
    let pass = passes(setup).max_by(|a, b| a.span_mm().1.total_cmp(&b.span_mm().1))?;
    let z_mm = pass.span_mm().1;
    let short_mm = z_mm - limit_mm;
    (short_mm > HAIR_MM).then(|| {
        let needed_mm = (setup.tail.quill_out_mm + short_mm).ceil();
        let tail = TailEnd { quill_out_mm: needed_mm, ..setup.tail.clone() };
        let words = format!("Draw the quill out to {}", words::length(needed_mm, job.units));
        let reaches = needed_mm <= job.lathe.quill_travel_mm.value;
        let remedy = reaches.then_some((words, Edit::SetTail { setup: setup.id, tail }));
        let reach_mm = match meets {
            Meets::Holder => job.lathe.holder_right_mm.value,
            Meets::Carriage => job.lathe.carriage_right_mm.value,
        };
        let (face_mm, quill_mm) = (limit_mm + reach_mm, setup.tail.quill_out_mm.max(0.0));
        let centre_mm = job.lathe.centre_length_mm.value.max(1.0);
        let tip_mm = face_mm - centre_mm - quill_mm;
        let sums = vec![
            Sum::step(
                "front of the tailstock",
                "tip of the centre, in the work + length of the centre + quill out",
                format!("{} + {} + {}", number(tip_mm), number(centre_mm), number(quill_mm)),
                face_mm,
                "mm",
            ),
            Sum::figure(
                "too near",
                "end of the pass + what stands out beyond the tool towards the tailstock \u{2212} front of the tailstock",
                format!("{} + {} \u{2212} {}", number(z_mm), number(reach_mm), number(face_mm)),
                words::length(short_mm, job.units),
            ),
        ];
        let lengths = vec![(pass.span_mm().0, z_mm, "pass"), (z_mm, z_mm + reach_mm, part(meets)), (tip_mm, face_mm, "centre, quill")];
        let behind = arithmetic(sums, lengths);
        Finding { z_mm: Some(z_mm), remedy, ..finding(job, setup, pass, "tailstock", meets, short_mm, behind) }
    })
}

fn at_the_drive(job: &Job, setup: &Setup) -> Option<Finding> {
    let (limit_mm, meets) = tool_room_mm(job, setup).0;
    let pass = passes(setup).min_by(|a, b| a.span_mm().0.total_cmp(&b.span_mm().0))?;
    let z_mm = pass.span_mm().0;
    let short_mm = limit_mm - z_mm;
    let what = match setup.drive.kind {
        DriveKind::CentreAndDog => "dog",
        other => words::drive_name(other),
    };
    // A pass into chuck or centre itself is told as a problem.
    (short_mm > HAIR_MM && z_mm >= 0.0).then(|| {
        let (words, limit) = match meets {
            Meets::Holder => {
                let holder_mm = job.lathe.holder_left_mm.value;
                (
                    "dog + what stands out beyond the tool towards it",
                    format!("{} + {}", number(limit_mm - holder_mm), number(holder_mm)),
                )
            }
            Meets::Carriage => ("how near the carriage brings the tool", number(limit_mm)),
        };
        let sum = Sum::figure(
            "too near",
            &format!("{words} \u{2212} end of the pass"),
            format!("{limit} \u{2212} {}", number(z_mm)),
            words::length(short_mm, job.units),
        );
        let behind = arithmetic(vec![sum], vec![(z_mm, pass.span_mm().1, "pass"), (0.0, limit_mm, part(meets))]);
        Finding { z_mm: Some(z_mm), ..finding(job, setup, pass, what, meets, short_mm, behind) }
    })
}

fn part(meets: Meets) -> &'static str {
    match meets {
        Meets::Holder => "tool holder",
        Meets::Carriage => "carriage",
    }
}
