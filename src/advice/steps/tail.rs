//! The tailstock and its centre.

use super::{Holding, Step};
use crate::advice::outcome::off_words;
use crate::job::TailKind;

pub(super) fn steps(here: &Holding<'_>) -> Vec<Step> {
    let tail = &here.setup.tail;
    let kind = match tail.kind {
        TailKind::Free => {
            return if here.setup.rests.is_empty() {
                vec![Step::new(
                    "tail",
                    "The tailstock carries nothing: run it to the end of the bed.",
                    "It would be in the way of the carriage. Common practice, no source.",
                )]
            } else {
                Vec::new()
            };
        }
        TailKind::DeadCentre => "dead centre, oil or grease in the hole",
        TailKind::LiveCentre => "running centre",
        TailKind::SpringCentre => "spring-loaded centre",
        TailKind::HalfCentre => "half centre, its flat to the tool, oil or grease in the hole",
        TailKind::BullNose => "bull-nose centre",
    };
    let mut steps = vec![Step::new(
        "tail",
        format!(
            "Bring up the {kind}; clamp the tailstock, quill out {}; nip until the work turns with a slight drag (about {}); \
             clamp the quill.",
            here.length(tail.quill_out_mm),
            here.force(tail.thrust_n),
        ),
        "The less quill is out, the stiffer it is. Too tight bows the work, too slack lets it jump. Makers' lathe manuals; \
         the drag: common practice.",
    )];
    steps.push(match off_words([tail.offset_x_mm, tail.offset_y_mm], here.job.units) {
        None => Step::new(
            "tail true",
            "Centre on the axis: cuts at one dial at both ends must measure alike.",
            "Witness lines on the base are not to be trusted; off the axis the work comes out tapered. Old shop treatises.",
        ),
        Some(off) => Step::new(
            "tail true",
            format!("Set the centre {off} of the axis, as this sheet was worked out."),
            "The predicted sizes hold for this place of the centre only.",
        ),
    });
    steps
}
