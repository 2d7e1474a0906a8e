//! The work in a chuck, a collet or on the face plate, and the bar behind it.

use super::{Holding, Step};
use crate::job::{DriveKind, Hold};

pub(super) fn steps(here: &Holding<'_>) -> Vec<Step> {
    if here.on_centre() {
        return Vec::new();
    }
    let drive = &here.setup.drive;
    let grip = here.length(drive.grip_mm);
    let text = match drive.kind {
        DriveKind::ThreeJaw => {
            format!("Grip {grip} in the three-jaw chuck, the jaws bearing all along")
        }
        DriveKind::FourJaw => {
            format!("Grip {grip} in the four-jaw chuck, set true with an indicator")
        }
        DriveKind::Collet => format!("Close the collet on {grip} of clean, round work of its size"),
        DriveKind::FacePlate => "Bolt the work to the face plate, true and balanced".to_owned(),
        DriveKind::CentreAndDog => return Vec::new(),
    };
    let mut steps = vec![match drive.hold {
        Hold::Clamped => Step::new(
            "grip",
            format!("{text}. Read the run-out near and far out."),
            "Work that is gripped off true is bent once a turn. Common practice, no source.",
        ),
        Hold::SoftClamp => Step::new(
            "grip",
            format!("{text}. A short or worn grip: read the run-out near and far out, cut light."),
            "A short grip lets the work swing in the jaws. Common practice, no source.",
        ),
        Hold::Hinge => Step::new(
            "grip",
            format!("{text}, a ring of wire under the jaws. Light cuts only."),
            "On the wire the work can swing, so that its other end finds the axis without a fight. Practitioners' accounts.",
        ),
    }];
    let out_mm = -here.job.lathe.headstock_length_mm.value - here.setup.work_start_z_mm;
    if out_mm > 0.0 {
        steps.push(Step::new(
            "bar behind",
            format!(
                "Support and guard the {} of bar behind the spindle, all along and on the axis, before it turns; or cut the \
                 bar.",
                here.length(out_mm)
            ),
            "Reports of fatal accidents with bars that bent and thrashed behind the headstock.",
        ));
    }
    if drive.kind == DriveKind::ThreeJaw || drive.kind == DriveKind::FourJaw {
        steps.push(Step::new("key", "Take the key out of the chuck.", "Safety bulletins on lathes; makers' manuals."));
    }
    if !here.has_tail() && !here.setup.rests.is_empty() {
        steps.push(Step::new(
            "endways",
            "Only the grip holds it endways: feed towards the headstock; mark the work at the jaws and watch for creep.",
            "A rest off the axis walks the work out of the chuck. Practitioners' accounts of steady rests.",
        ));
    }
    steps
}
