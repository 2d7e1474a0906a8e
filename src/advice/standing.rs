//! Why a rest cannot stand somewhere, in a turner's words: one word for a band that is drawn, a clause for a sentence.

use super::words;
use crate::job::{FeatureKind, Job, PassId, Setup, Units};
use crate::study::reach::{Standing, Stretch, Why};

/// One or two words for a band.
#[must_use]
pub fn brief(why: &Why) -> &'static str {
    match why {
        Why::OffWork { .. } => "off the work",
        Why::Chuck { .. } => "chuck",
        Why::Dog { .. } => "dog",
        Why::Tailstock { .. } => "tailstock",
        Why::BedEnd { .. } => "bed end",
        Why::Cut { .. } => "cut",
        Why::Carriage { .. } => "carriage",
        Why::BetweenPasses { .. } => "between passes",
        Why::JawsTooSmall { .. } => "too large",
        Why::JawsCannotClose { .. } => "too small",
        Why::SleeveTooSmall { .. }
        | Why::SleeveInFrame { .. }
        | Why::SleeveOnBed { .. }
        | Why::SleeveOnSlide { .. } => "sleeve",
        Why::Feature(kind) => feature(*kind),
        Why::CutThread => "thread",
        Why::Taper { .. } => "taper",
        Why::Step { .. } => "shoulder",
        Why::OtherRest(_) => "steady",
    }
}

/// The trade's word for a feature.
#[must_use]
pub fn feature(kind: FeatureKind) -> &'static str {
    match kind {
        FeatureKind::Thread { .. } => "thread",
        FeatureKind::Keyway { .. } => "keyway",
        FeatureKind::Flat => "flat",
        FeatureKind::Spline => "spline",
        FeatureKind::Weld => "weld",
        FeatureKind::CrossHole { .. } => "cross hole",
        FeatureKind::Groove { .. } => "groove",
        FeatureKind::TrueSpot => "true spot",
    }
}

/// The reason with its figures, as the end of a sentence that begins with the place.
#[must_use]
pub fn because(job: &Job, setup: &Setup, why: &Why) -> String {
    let length = |mm: f64| words::length(mm, job.units);
    let size = |mm: f64| words::diameter(mm, job.units);
    let shoulder = |mm: f64| if mm < 0.1 { words::amount(mm, job.units) } else { length(mm) };
    match *why {
        Why::OffWork { work_from_mm, work_to_mm } => {
            format!("off the work, which lies from {} to {}", length(work_from_mm), length(work_to_mm))
        }
        Why::Chuck { .. } => format!("it would stand in the {}", words::drive_name(setup.drive.kind)),
        Why::Dog { length_mm } => {
            format!("it would stand in the dog, which reaches {} along the work", length(length_mm))
        }
        Why::Tailstock { face_mm, half_base_mm, quill_out_mm, .. } => format!(
            "it reaches {} to either side of its jaws and meets the tailstock, whose front is at {} with the quill out {}",
            length(half_base_mm),
            length(face_mm),
            length(quill_out_mm)
        ),
        Why::BedEnd { bed_end_mm, .. } => format!("its base hangs over the end of the bed at {}", length(bed_end_mm)),
        Why::Cut { pass } => format!("{} runs the tool into its jaws", pass_number(setup, pass)),
        Why::Carriage { pass, approach_mm } => {
            let part = if job.lathe.wings_pass_rest { "tool holder" } else { "carriage" };
            let pass = pass_number(setup, pass);
            format!("the {part} meets it in {pass}: the tool must stay {} off its jaws", length(approach_mm))
        }
        Why::BetweenPasses { headstock_side, tailstock_side } => format!(
            "the carriage cannot get past it between {} and {}",
            pass_number(setup, headstock_side),
            pass_number(setup, tailstock_side)
        ),
        Why::JawsTooSmall { diameter_mm, largest_mm } => {
            format!("{} is to go in, and its jaws open to {}", size(diameter_mm), length(largest_mm))
        }
        Why::JawsCannotClose { diameter_mm, smallest_mm } => {
            format!("its jaws close to {} only, and {} is between them", length(smallest_mm), size(diameter_mm))
        }
        Why::SleeveTooSmall { sleeve_mm, work_mm } => {
            format!("its sleeve of {} does not go over work of {}", size(sleeve_mm), size(work_mm))
        }
        Why::SleeveInFrame { circle_mm, bore_mm } => {
            format!(
                "the screws of its cat head swing {}, and its frame has a bore of {}",
                length(circle_mm),
                length(bore_mm)
            )
        }
        Why::SleeveOnBed { circle_mm, swing_mm } => {
            format!("the screws of its cat head swing {}, and the bed clears {}", length(circle_mm), length(swing_mm))
        }
        Why::SleeveOnSlide { pass, circle_mm, swing_mm } => format!(
            "the screws of its cat head swing {}, and the cross slide, under it in {}, clears {}",
            length(circle_mm),
            pass_number(setup, pass),
            length(swing_mm)
        ),
        Why::Feature(kind) => format!("a {} would be under its jaws", feature(kind)),
        Why::CutThread => "a thread would be under its jaws".to_owned(),
        Why::Taper { change_mm } => {
            format!("the work is tapered, {} on diameter under its jaws", words::amount(change_mm, job.units))
        }
        Why::Step { at_mm, change_mm, beside_mm } if beside_mm > 0.0 => format!(
            "the shoulder of {} at {} is under its jaws or nearer than {} beside them",
            shoulder(change_mm),
            length(at_mm),
            length(beside_mm)
        ),
        Why::Step { at_mm, change_mm, .. } => {
            format!("the shoulder of {} at {} is in its way", shoulder(change_mm), length(at_mm))
        }
        Why::OtherRest(id) => match setup.rests.iter().position(|rest| rest.id == id) {
            Some(index) => format!("steady rest {} stands there", index + 1),
            None => "another rest stands there".to_owned(),
        },
    }
}

/// What goes for a stretch: nothing against it, a true spot first, or why not.
#[must_use]
pub fn standing(job: &Job, setup: &Setup, standing: &Standing) -> String {
    match standing {
        Standing::Free => "nothing is in its way".to_owned(),
        Standing::SpotFirst => "it may stand here once a true spot has been turned".to_owned(),
        Standing::No(why) => because(job, setup, why),
    }
}

/// "0 to 8 mm"; "8 mm" for what is too short to have two ends.
#[must_use]
pub fn from_to(stretch: &Stretch, units: Units) -> String {
    let [from, to] = [stretch.from_mm, stretch.to_mm].map(|mm| words::length(mm, units));
    if from == to {
        return from;
    }
    // The unit is said once.
    let from = match (from.rsplit_once(' '), to.rsplit_once(' ')) {
        (Some((figure, unit)), Some((_, same))) if unit == same => figure,
        _ => &from,
    };
    format!("{from} to {to}")
}

/// "pass 2" of its set-up.
fn pass_number(setup: &Setup, pass: PassId) -> String {
    let index = setup.passes.iter().position(|other| other.id == pass).unwrap_or(0);
    format!("pass {}", index + 1)
}
