//! What lathe and holding leave to the tool: grip, dog, the nearest cut beside a rest, and figures usual for the lathe.

use crate::job::{Lathe, Shaft};

/// Room between jaw face and the end of a cut. Common practice, no source.
pub const JAW_CLEARANCE_MM: f64 = 5.0;
/// Work that a driving dog takes up. Common practice, no source.
pub const DOG_MM: f64 = 35.0;
/// Cutting speed the spindle speeds are taken from: carbide in steel, gently for slender work. Common practice, no source.
const CUTTING_SPEED_M_PER_MIN: f64 = 60.0;
/// Radial depth of a rough cut for each kilowatt of the motor. Common practice, no source.
const DEPTH_MM_PER_KW: f64 = 0.35;

/// How near the tool comes to a rest's jaws: with the tool on their headstock side, and on their tailstock side.
pub fn approach_mm(lathe: &Lathe) -> [f64; 2] {
    let half_base_mm = lathe.rest_base_mm.value / 2.0;
    [half_base_mm + lathe.carriage_right_mm.value, half_base_mm + lathe.carriage_left_mm.value]
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
