//! Details of the two ends of the holding.

use crate::app::Commands;
use crate::app::fields::Fields;
use crate::job::quantity::Kind;
use crate::job::{DriveEnd, DriveKind, Edit, Hold, Setup, TailEnd, TailKind};

const DRIVES: &[(DriveKind, &str)] = &[
    (DriveKind::ThreeJaw, "three-jaw chuck"),
    (DriveKind::FourJaw, "four-jaw chuck"),
    (DriveKind::Collet, "collet"),
    (DriveKind::FacePlate, "face plate"),
    (DriveKind::CentreAndDog, "centre, dog and drive plate"),
];

const TAILS: &[(TailKind, &str)] = &[
    (TailKind::Free, "nothing"),
    (TailKind::DeadCentre, "dead centre"),
    (TailKind::LiveCentre, "live centre"),
    (TailKind::SpringCentre, "spring-loaded live centre"),
    (TailKind::HalfCentre, "half centre"),
    (TailKind::BullNose, "bull-nose centre"),
];

/// Every field of the headstock end.
pub fn drive_ui(fields: &mut Fields<'_>, setup: &Setup, out: &mut Commands) {
    let mut new = setup.drive.clone();
    if fields.choice("Held in", &mut new.kind, DRIVES) {
        let usual = DriveEnd::usual(new.kind);
        new = DriveEnd { runout_tir_mm: new.runout_tir_mm, ..usual };
    }
    let centre = new.kind == DriveKind::CentreAndDog;
    if centre {
        fields.check("A hold-back keeps the work on the centre", &mut new.hold_back);
    } else {
        fields.number("Grip length", &mut new.grip_mm, Kind::Length);
        let options = [
            (Hold::Clamped, "clamped, a long good grip"),
            (Hold::SoftClamp, "soft, a short or worn grip"),
            (Hold::Hinge, "a hinge, wire under the jaws"),
        ];
        fields.choice("Holds as", &mut new.hold, &options);
    }
    let usual = DriveEnd::usual(new.kind);
    fields.heading("How much it gives");
    fields.stiffness(
        "Sideways stiffness",
        &mut new.radial_k_n_per_mm,
        Kind::Stiffness,
        usual.radial_k_n_per_mm.value_or(100_000.0),
    );
    if !centre || new.hold_back {
        fields.stiffness(
            "Stiffness against swinging",
            &mut new.rotation_k_nmm_per_rad,
            Kind::RotationStiffness,
            usual.rotation_k_nmm_per_rad.value_or(1e9),
        );
    }
    fields.heading("How true it runs");
    fields.number("Run-out at the jaw face", &mut new.runout_tir_mm, Kind::Error);
    fields.hint("Total indicator reading. It turns with the work: run-out, not a wrong size.");
    if fields.changed {
        out.edits.push(Edit::SetDrive { setup: setup.id, drive: new });
    }
}

/// Every field of the tailstock end.
pub fn tail_ui(fields: &mut Fields<'_>, setup: &Setup, out: &mut Commands) {
    let mut new: TailEnd = setup.tail.clone();
    fields.choice("Carried by", &mut new.kind, TAILS);
    if new.kind == TailKind::Free {
        fields.hint("The end is free, or a steady rest carries it.");
    } else {
        fields.number("Thrust on the work", &mut new.thrust_n, Kind::Force);
        fields.number("Quill out by", &mut new.quill_out_mm, Kind::Length);
        fields.heading("Centre off the spindle axis");
        fields.direction("Across", &mut new.offset_x_mm, "toward you", "away");
        fields.direction("Height", &mut new.offset_y_mm, "down", "up");
        fields.hint("How much the tailstock gives is the lathe's: see Lathe.");
    }
    if fields.changed {
        out.edits.push(Edit::SetTail { setup: setup.id, tail: new });
    }
}
