//! The tailstock and its centre.

use super::{Holding, Step};
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
    if tail.offset_x_mm == 0.0 && tail.offset_y_mm == 0.0 {
        steps.push(Step::new(
            "tail true",
            "Centre on the axis: cuts at one dial at both ends must measure alike.",
            "Witness lines on the base are not to be trusted; off the axis the work comes out tapered. Old shop treatises.",
        ));
    } else {
        steps.push(Step::new(
            "tail true",
            format!(
                "Set the centre {} and {} of the axis, as this sheet was worked out.",
                crate::advice::words::away_or_toward(tail.offset_x_mm, here.job.units),
                crate::advice::words::up_or_down(tail.offset_y_mm, here.job.units),
            ),
            "The predicted sizes hold for this place of the centre only.",
        ));
    }
    steps
}
