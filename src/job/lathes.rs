//! Three generic lathes, every value assumed.
use super::{Lathe, Stated, Stiffness};
fn any() -> Lathe {
    let s = Stated::assumed;
    Lathe {
        name: "lathe".into(),
        swing_over_bed_mm: s(400.0),
        swing_over_cross_slide_mm: s(220.0),
        between_centres_mm: s(1000.0),
        spindle_bore_mm: s(52.0),
        headstock_length_mm: s(500.0),
        chuck_diameter_mm: s(200.0),
        chuck_max_rpm: s(2500.0),
        jaw_depth_mm: s(60.0),
        carriage_left_mm: s(200.0),
        carriage_right_mm: s(200.0),
        rest_base_mm: s(100.0),
        rest_jaw_width_mm: s(15.0),
        rest_min_diameter_mm: s(10.0),
        rest_max_diameter_mm: s(120.0),
        follower_min_diameter_mm: s(10.0),
        follower_max_diameter_mm: s(80.0),
        tailstock_base_mm: s(250.0),
        quill_travel_mm: s(120.0),
        quill_diameter_mm: s(50.0),
        centre_length_mm: s(60.0),
        speeds_rpm: vec![50.0, 100.0, 200.0, 400.0, 800.0],
        feeds_mm_per_rev: vec![],
        power_kw: s(4.0),
        max_work_kg: s(300.0),
        headstock_k_n_per_mm: Stiffness::assumed(2e5),
        tailstock_k_n_per_mm: Stiffness::assumed(6e4),
        quill_out_stiffness_ratio: s(0.5),
        carriage_k_n_per_mm: Stiffness::assumed(4e4),
    }
}
/// Small.
#[must_use]
pub fn small() -> Lathe {
    any()
}
/// Medium.
#[must_use]
pub fn medium() -> Lathe {
    any()
}
/// Large.
#[must_use]
pub fn large() -> Lathe {
    any()
}
