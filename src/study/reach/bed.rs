//! What the lathe itself leaves of the bed for a rest: between chuck or dog and tailstock or bed end.
//!
//! A rest's base stops at the tailstock's; the quill, out as far as it is, holds the two apart.

use super::stretch::Stretch;
use super::{Forbidden, Why};
use crate::job::{DriveKind, Job, Setup, TailKind};

/// Where the end of the bed is: the tailstock stands flush with it at the greatest distance between centres.
fn bed_end_mm(job: &Job) -> f64 {
    let lathe = &job.lathe;
    lathe.between_centres_mm.value + lathe.centre_length_mm.value + lathe.tailstock_base_mm.value
}

/// All that is asked about: from the work's or the chuck's end to the end of work or bed, whichever is further.
pub fn whole(job: &Job, setup: &Setup) -> Stretch {
    let to_mm = bed_end_mm(job).max(setup.work_end_z_mm(&job.shaft));
    Stretch::new(setup.work_start_z_mm.min(0.0), to_mm)
}

/// Front of the tailstock, where the quill goes in; `None` where the tailstock carries nothing.
///
/// The point of the centre stands in the centre hole, or at the end of the work where there is none.
#[must_use]
pub fn tailstock_face_mm(job: &Job, setup: &Setup) -> Option<f64> {
    if setup.tail.kind == TailKind::Free {
        return None;
    }
    let hole = if setup.end_for_end { job.shaft.centre_hole_a } else { job.shaft.centre_hole_b };
    let into_work_mm = match (setup.tail.kind, hole) {
        (TailKind::BullNose, _) | (_, None) => 0.0,
        (_, Some(hole)) => hole.mouth_radius_mm() / 30f64.to_radians().tan(),
    };
    let tip_mm = setup.work_end_z_mm(&job.shaft) - into_work_mm;
    Some(tip_mm + job.lathe.centre_length_mm.value.max(1.0) + setup.tail.quill_out_mm.max(0.0))
}

/// What stands in chuck or dog; `half_mm` is half the width of what stands there.
pub fn in_the_drive(setup: &Setup, half_mm: f64, whole: &Stretch) -> Forbidden {
    let (reach_mm, why) = match setup.drive.kind {
        DriveKind::CentreAndDog => {
            let length_mm = setup.drive.dog.length_mm.value;
            (length_mm, Why::Dog { length_mm })
        }
        _ => (0.0, Why::Chuck { half_jaw_mm: half_mm }),
    };
    Forbidden { from_mm: whole.from_mm, to_mm: reach_mm + half_mm, why }
}

/// What the lathe and the ends of the work forbid a steady rest.
pub fn forbidden(job: &Job, setup: &Setup, whole: &Stretch) -> Vec<Forbidden> {
    let lathe = &job.lathe;
    let half_jaw_mm = lathe.rest_jaw_width_mm.value / 2.0;
    let half_base_mm = lathe.rest_base_mm.value / 2.0;
    let (work_from_mm, work_to_mm) = (setup.work_start_z_mm, setup.work_end_z_mm(&job.shaft));
    let off_work = Why::OffWork { work_from_mm, work_to_mm };
    let mut all = vec![
        in_the_drive(setup, half_jaw_mm, whole),
        Forbidden { from_mm: work_to_mm - half_jaw_mm, to_mm: whole.to_mm, why: off_work },
    ];
    if work_from_mm > 0.0 {
        all.push(Forbidden { from_mm: whole.from_mm, to_mm: work_from_mm + half_jaw_mm, why: off_work });
    }
    let bed_end_mm = bed_end_mm(job);
    all.push(Forbidden {
        from_mm: bed_end_mm - half_base_mm,
        to_mm: whole.to_mm,
        why: Why::BedEnd { bed_end_mm, half_base_mm },
    });
    if let Some(face_mm) = tailstock_face_mm(job, setup) {
        all.push(Forbidden {
            from_mm: face_mm - half_base_mm,
            to_mm: whole.to_mm,
            why: Why::Tailstock {
                face_mm,
                half_base_mm,
                quill_out_mm: setup.tail.quill_out_mm,
                quill_travel_mm: lathe.quill_travel_mm.value,
            },
        });
    }
    all
}
