//! A pass at whose end the tool holder, or the carriage, meets the tailstock, the dog or the chuck.
//!
//! The tool reaches the tailstock end only where quill and centre together stand out further than the holder does beyond
//! the tool, or the wing, where the wings do not run past the tailstock. Source: geometry of the carriage; common practice, no source.

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

fn finding(job: &Job, setup: &Setup, pass: &Pass, z_mm: f64, what: &str, meets: Meets, short_mm: f64) -> Finding {
    let (part, why) = match meets {
        Meets::Holder => (
            "tool holder",
            "How far the holder reaches beside the tool is one of the lathe's measures; a holder set over, or one that \
             reaches further out, comes nearer.",
        ),
        Meets::Carriage => (
            "carriage",
            "How near the carriage brings the tool is one of the lathe's measures; let the work stand further out, or \
             set the tool over beside the carriage.",
        ),
    };
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
        z_mm: Some(z_mm),
        remedy: None,
    }
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
        Finding { remedy, ..finding(job, setup, pass, z_mm, "tailstock", meets, short_mm) }
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
    (short_mm > HAIR_MM && z_mm >= 0.0).then(|| finding(job, setup, pass, z_mm, what, meets, short_mm))
}
