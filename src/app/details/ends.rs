//! Details of the two ends of the holding.

use crate::app::Commands;
use crate::app::fields::Fields;
use crate::job::quantity::Kind;
use crate::job::{Dog, DogKind, DriveEnd, DriveKind, Edit, Hold, Job, Setup, TailEnd, TailKind};

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
    (TailKind::SpringCentre, "spring-loaded live"),
    (TailKind::HalfCentre, "half centre"),
    (TailKind::BullNose, "bull-nose centre"),
];

/// Every field of the headstock end.
pub fn drive_ui(fields: &mut Fields<'_>, job: &Job, setup: &Setup, out: &mut Commands) {
    let mut new = setup.drive.clone();
    if fields.choice("Held in", &mut new.kind, DRIVES) {
        new = of_kind(new.kind, &setup.drive, job.lathe.jaw_depth_mm.value);
    }
    let centre = new.kind == DriveKind::CentreAndDog;
    if centre {
        fields.check("A hold-back keeps the work on the centre", &mut new.hold_back);
        dog_rows(fields, &mut new.dog);
    } else {
        fields.number("Grip length", &mut new.grip_mm, Kind::Length);
        let options = [
            (Hold::Clamped, "clamp, long grip"),
            (Hold::SoftClamp, "soft, short grip"),
            (Hold::Hinge, "hinge, wire in it"),
        ];
        fields.choice("Holds as", &mut new.hold, &options);
        if matches!(new.kind, DriveKind::ThreeJaw | DriveKind::FourJaw) {
            fields.stated("Force of one jaw", &mut new.grip_force_n, Kind::Force);
            fields.hint("What each jaw of the chuck presses on the work with.");
        }
    }
    let usual = of_kind(new.kind, &new, new.grip_mm);
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
    fields.number(
        if centre { "Run-out of the centre" } else { "Run-out at the jaw face" },
        &mut new.runout_tir_mm,
        Kind::Error,
    );
    fields.hint("Total indicator reading. It turns with the work: run-out, not a wrong size.");
    if fields.side("Stands out towards", new.runout_tir_mm, &mut new.runout_at_rad) {
        fields
            .hint("Towards which side of the work: degrees from a mark on it, anticlockwise seen from the tailstock.");
    }
    if fields.changed {
        new.assume_stiffness();
        let grip_before_mm = setup.drive.grip_mm;
        let begins_with_grip = (setup.work_start_z_mm + grip_before_mm).abs() < 1e-6;
        let grip_mm = new.grip_mm;
        let mut edits = vec![Edit::SetDrive { setup: setup.id, drive: new }];
        if begins_with_grip && grip_mm.to_bits() != grip_before_mm.to_bits() {
            edits.push(Edit::SetWorkStart { setup: setup.id, z_mm: -grip_mm });
        }
        out.edits.push(Edit::Together(edits));
    }
}

/// How the dog takes the turn from the drive plate. Two tails turn the work without a push, wherever they bear.
fn dog_rows(fields: &mut Fields<'_>, dog: &mut Dog) {
    fields.heading("Dog");
    fields.choice(
        "Driven by",
        &mut dog.kind,
        &[(DogKind::OneTail, "one tail in a slot"), (DogKind::TwoTails, "two tails")],
    );
    match dog.kind {
        DogKind::OneTail => {
            fields.stated("Tail, from the axis", &mut dog.tail_radius_mm, Kind::Length);
            fields.stated("Tail, back from the centre's point", &mut dog.tail_reach_mm, Kind::Length);
            fields.hint("To where the tail bears on the plate. One tail also pushes the work aside, once a turn.");
        }
        DogKind::TwoTails => fields.hint("Two tails, or a plate that floats, turn the work and do not push it aside."),
    }
    fields.stated("Dog, along the work", &mut dog.length_mm, Kind::Length);
}

/// The drive end of another kind: what the user stated is kept where it still means the same.
fn of_kind(kind: DriveKind, before: &DriveEnd, usual_grip_mm: f64) -> DriveEnd {
    let was_centre = before.kind == DriveKind::CentreAndDog;
    let mut new = if kind == DriveKind::CentreAndDog {
        DriveEnd::between_centres()
    } else if was_centre || before.grip_mm <= 0.0 {
        DriveEnd::gripped(kind, usual_grip_mm)
    } else {
        DriveEnd { hold: before.hold, ..DriveEnd::gripped(kind, before.grip_mm) }
    };
    new.runout_tir_mm = before.runout_tir_mm;
    new.runout_at_rad = before.runout_at_rad;
    new.grip_force_n = before.grip_force_n;
    new.dog = before.dog;
    new.assume_stiffness();
    new
}

/// The centre turns with the work, so that its own run-out does.
fn turns(kind: TailKind) -> bool {
    match kind {
        TailKind::LiveCentre | TailKind::SpringCentre | TailKind::BullNose => true,
        TailKind::Free | TailKind::DeadCentre | TailKind::HalfCentre => false,
    }
}

/// Every field of the tailstock end.
pub fn tail_ui(fields: &mut Fields<'_>, setup: &Setup, out: &mut Commands) {
    let mut new: TailEnd = setup.tail.clone();
    if fields.choice("Carried by", &mut new.kind, TAILS) && setup.tail.kind == TailKind::Free {
        let usual = if matches!(new.kind, TailKind::DeadCentre | TailKind::HalfCentre) {
            TailEnd::dead()
        } else {
            TailEnd::live()
        };
        new = TailEnd { thrust_n: usual.thrust_n, quill_out_mm: usual.quill_out_mm, ..new };
    }
    if new.kind == TailKind::Free {
        fields.hint("The end is free, or a steady rest carries it.");
    } else {
        fields.number("Thrust on the work", &mut new.thrust_n, Kind::Force);
        fields.number("Quill out by", &mut new.quill_out_mm, Kind::Length);
        fields.heading("Centre off the spindle axis");
        fields.direction("Across", &mut new.offset_x_mm, "toward you", "away");
        fields.direction("Height", &mut new.offset_y_mm, "down", "up");
        if turns(new.kind) {
            fields.heading("How true it runs");
            fields.number("Run-out of the centre", &mut new.runout_tir_mm, Kind::Error);
            fields.hint("Total indicator reading on the centre itself. It turns with the work.");
        }
        fields.hint("How much the tailstock gives is the lathe's: see Lathe.");
    }
    if fields.changed {
        out.edits.push(Edit::SetTail { setup: setup.id, tail: new });
    }
}
