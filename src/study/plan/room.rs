//! What lathe and holding leave to the tool: grip, dog, room beside the jaws, and figures usual for the lathe.

use super::draft::Hold;
use crate::job::{DriveKind, Job, Lathe, Setup, SetupId, Shaft};
use crate::study::reach::tool_room_mm;

/// Room between jaw face or dog and the end of a cut. Common practice, no source.
pub const CLEARANCE_MM: f64 = 5.0;
/// Cutting speed the spindle speeds are taken from: carbide in steel, gently for slender work. Common practice, no source.
const CUTTING_SPEED_M_PER_MIN: f64 = 60.0;
/// Radial depth of a rough cut for each kilowatt of the motor. Common practice, no source.
const DEPTH_MM_PER_KW: f64 = 0.35;

/// The nearest place to the drive end that the tool cuts.
pub fn nearest_cut_mm(job: &Job, hold: Hold) -> f64 {
    let setup = match hold {
        Hold::Centres => Setup::between_centres(SetupId(0)),
        Hold::Chuck | Hold::ChuckAlone => Setup::in_chuck(SetupId(0), grip_mm(&job.shaft, &job.lathe)),
    };
    tool_room_mm(job, &setup).0.0.max(head_mm(&setup) + CLEARANCE_MM)
}

/// How far jaws or dog come along the work.
pub fn head_mm(setup: &Setup) -> f64 {
    if setup.drive.kind == DriveKind::CentreAndDog { setup.drive.dog.length_mm.value } else { 0.0 }
}

/// Length taken into the jaws: what they reach, and no more than a quarter of short work.
pub fn grip_mm(shaft: &Shaft, lathe: &Lathe) -> f64 {
    lathe.jaw_depth_mm.value.min(shaft.length_mm() / 4.0)
}

/// Largest work a chuck grips: about its own body with the jaws reversed. Common practice, no source.
pub fn chuck_takes_mm(lathe: &Lathe) -> f64 {
    lathe.chuck_diameter_mm.value
}

/// Depth of a rough cut on diameter.
pub fn usual_depth_mm(lathe: &Lathe) -> f64 {
    (2.0 * DEPTH_MM_PER_KW * lathe.power_kw.value).clamp(0.6, 6.0)
}

/// Speed that keeps to the usual cutting speed, before the gearbox is asked.
pub fn usual_speed_rpm(diameter_mm: f64) -> f64 {
    (1000.0 * CUTTING_SPEED_M_PER_MIN / (std::f64::consts::PI * diameter_mm.max(1.0))).clamp(1.0, 1e4)
}
