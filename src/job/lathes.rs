//! Three generic lathes, every value assumed, to begin from until the user has measured his own.
//!
//! Sizes: the middle of what is customary for each class (common practice, no source). Spindle ladders: ISO 3 series
//! R20/3 and R20/4 (from memory). Stiffnesses: the middle of ranges quoted in general texts, an order of magnitude
//! only; no measured table of a manual lathe was found. The tool stands at the headstock end of the carriage, as it
//! must to reach the chuck, so the wing towards the tailstock is the longer one.

use super::lathe::{Lathe, Stated, Stiffness};

/// The three, from small to large.
#[must_use]
pub fn lathes() -> [Lathe; 3] {
    [Lathe::small(), Lathe::medium(), Lathe::large()]
}

/// R20/3 of ISO 3, ratio 1.41, as far as the three lathes use it.
const R20_3: [f64; 16] =
    [11.2, 16.0, 22.4, 31.5, 45.0, 63.0, 90.0, 125.0, 180.0, 250.0, 355.0, 500.0, 710.0, 1000.0, 1400.0, 2000.0];

/// R20/4 of ISO 3 from 112 on, ratio 1.58.
const R20_4: [f64; 7] = [112.0, 180.0, 280.0, 450.0, 710.0, 1120.0, 1800.0];

/// Feeds after the preferred numbers R10.
const FEEDS: [f64; 15] = [0.04, 0.05, 0.063, 0.08, 0.1, 0.125, 0.16, 0.2, 0.25, 0.315, 0.4, 0.5, 0.63, 0.8, 1.0];

/// What a spring-loaded centre gives along the bed. No source: a placeholder.
const SPRING_CENTRE_K_N_PER_MM: f64 = 100.0;
/// Length of a jaw's tip around the work. Common practice, no source.
const PAD_LENGTH_MM: f64 = 10.0;
/// Rollers of a roller rest. Common practice, no source.
const ROLLER_DIAMETER_MM: f64 = 20.0;

impl Lathe {
    /// A bench lathe of 220 mm swing, 500 mm between centres.
    #[must_use]
    pub fn small() -> Self {
        Self {
            name: "Small bench lathe".to_owned(),
            swing_over_bed_mm: Stated::assumed(220.0),
            swing_over_cross_slide_mm: Stated::assumed(130.0),
            between_centres_mm: Stated::assumed(500.0),
            spindle_bore_mm: Stated::assumed(20.0),
            headstock_length_mm: Stated::assumed(250.0),
            chuck_diameter_mm: Stated::assumed(100.0),
            chuck_max_rpm: Stated::assumed(2500.0),
            jaw_depth_mm: Stated::assumed(20.0),
            carriage_left_mm: Stated::assumed(70.0),
            carriage_right_mm: Stated::assumed(150.0),
            holder_left_mm: Stated::assumed(0.0),
            holder_right_mm: Stated::assumed(45.0),
            nearest_to_jaws_mm: Stated::assumed(0.0),
            wings_pass_tailstock: true,
            rest_base_mm: Stated::assumed(45.0),
            wings_pass_rest: false,
            rest_jaw_width_mm: Stated::assumed(10.0),
            rest_min_diameter_mm: Stated::assumed(5.0),
            rest_max_diameter_mm: Stated::assumed(50.0),
            rest_bore_mm: Stated::assumed(70.0),
            follower_min_diameter_mm: Stated::assumed(5.0),
            follower_max_diameter_mm: Stated::assumed(32.0),
            follower_width_mm: Stated::assumed(14.0),
            tailstock_base_mm: Stated::assumed(120.0),
            quill_travel_mm: Stated::assumed(65.0),
            quill_diameter_mm: Stated::assumed(25.0),
            centre_length_mm: Stated::assumed(35.0),
            speeds_rpm: R20_4.to_vec(),
            feeds_mm_per_rev: FEEDS[..9].to_vec(),
            power_kw: Stated::assumed(0.75),
            max_work_kg: Stated::assumed(20.0),
            headstock_k_n_per_mm: Stiffness::assumed(35_000.0),
            tailstock_k_n_per_mm: Stiffness::assumed(15_000.0),
            quill_out_stiffness_ratio: Stated::assumed(0.55),
            tailstock_axial_k_n_per_mm: Stiffness::assumed(25_000.0),
            spring_centre_k_n_per_mm: Stated::assumed(SPRING_CENTRE_K_N_PER_MM),
            pad_length_mm: Stated::assumed(PAD_LENGTH_MM),
            roller_diameter_mm: Stated::assumed(ROLLER_DIAMETER_MM),
            carriage_k_n_per_mm: Stiffness::assumed(15_000.0),
        }
    }

    /// A tool-room lathe of 350 mm swing, 1000 mm between centres.
    #[must_use]
    pub fn medium() -> Self {
        Self {
            name: "Medium tool-room lathe".to_owned(),
            swing_over_bed_mm: Stated::assumed(350.0),
            swing_over_cross_slide_mm: Stated::assumed(215.0),
            between_centres_mm: Stated::assumed(1000.0),
            spindle_bore_mm: Stated::assumed(45.0),
            headstock_length_mm: Stated::assumed(470.0),
            chuck_diameter_mm: Stated::assumed(180.0),
            chuck_max_rpm: Stated::assumed(2000.0),
            jaw_depth_mm: Stated::assumed(35.0),
            carriage_left_mm: Stated::assumed(120.0),
            carriage_right_mm: Stated::assumed(260.0),
            holder_left_mm: Stated::assumed(0.0),
            holder_right_mm: Stated::assumed(70.0),
            nearest_to_jaws_mm: Stated::assumed(0.0),
            wings_pass_tailstock: true,
            rest_base_mm: Stated::assumed(80.0),
            wings_pass_rest: false,
            rest_jaw_width_mm: Stated::assumed(16.0),
            rest_min_diameter_mm: Stated::assumed(6.0),
            rest_max_diameter_mm: Stated::assumed(100.0),
            rest_bore_mm: Stated::assumed(140.0),
            follower_min_diameter_mm: Stated::assumed(10.0),
            follower_max_diameter_mm: Stated::assumed(63.0),
            follower_width_mm: Stated::assumed(20.0),
            tailstock_base_mm: Stated::assumed(240.0),
            quill_travel_mm: Stated::assumed(115.0),
            quill_diameter_mm: Stated::assumed(50.0),
            centre_length_mm: Stated::assumed(60.0),
            speeds_rpm: R20_3[4..].to_vec(),
            feeds_mm_per_rev: FEEDS[1..12].to_vec(),
            power_kw: Stated::assumed(4.0),
            max_work_kg: Stated::assumed(200.0),
            headstock_k_n_per_mm: Stiffness::assumed(100_000.0),
            tailstock_k_n_per_mm: Stiffness::assumed(35_000.0),
            quill_out_stiffness_ratio: Stated::assumed(0.55),
            tailstock_axial_k_n_per_mm: Stiffness::assumed(50_000.0),
            spring_centre_k_n_per_mm: Stated::assumed(SPRING_CENTRE_K_N_PER_MM),
            pad_length_mm: Stated::assumed(PAD_LENGTH_MM),
            roller_diameter_mm: Stated::assumed(ROLLER_DIAMETER_MM),
            carriage_k_n_per_mm: Stiffness::assumed(37_500.0),
        }
    }

    /// A heavy lathe of 630 mm swing, 3000 mm between centres.
    #[must_use]
    pub fn large() -> Self {
        Self {
            name: "Large engine lathe".to_owned(),
            swing_over_bed_mm: Stated::assumed(630.0),
            swing_over_cross_slide_mm: Stated::assumed(420.0),
            between_centres_mm: Stated::assumed(3000.0),
            spindle_bore_mm: Stated::assumed(90.0),
            headstock_length_mm: Stated::assumed(900.0),
            chuck_diameter_mm: Stated::assumed(330.0),
            chuck_max_rpm: Stated::assumed(1200.0),
            jaw_depth_mm: Stated::assumed(60.0),
            carriage_left_mm: Stated::assumed(260.0),
            carriage_right_mm: Stated::assumed(500.0),
            holder_left_mm: Stated::assumed(0.0),
            holder_right_mm: Stated::assumed(120.0),
            nearest_to_jaws_mm: Stated::assumed(0.0),
            wings_pass_tailstock: true,
            rest_base_mm: Stated::assumed(160.0),
            wings_pass_rest: false,
            rest_jaw_width_mm: Stated::assumed(38.0),
            rest_min_diameter_mm: Stated::assumed(20.0),
            rest_max_diameter_mm: Stated::assumed(200.0),
            rest_bore_mm: Stated::assumed(260.0),
            follower_min_diameter_mm: Stated::assumed(20.0),
            follower_max_diameter_mm: Stated::assumed(100.0),
            follower_width_mm: Stated::assumed(36.0),
            tailstock_base_mm: Stated::assumed(450.0),
            quill_travel_mm: Stated::assumed(200.0),
            quill_diameter_mm: Stated::assumed(100.0),
            centre_length_mm: Stated::assumed(110.0),
            speeds_rpm: R20_3[1..14].to_vec(),
            feeds_mm_per_rev: FEEDS[3..].to_vec(),
            power_kw: Stated::assumed(15.0),
            max_work_kg: Stated::assumed(2500.0),
            headstock_k_n_per_mm: Stiffness::assumed(350_000.0),
            tailstock_k_n_per_mm: Stiffness::assumed(105_000.0),
            quill_out_stiffness_ratio: Stated::assumed(0.55),
            tailstock_axial_k_n_per_mm: Stiffness::assumed(120_000.0),
            spring_centre_k_n_per_mm: Stated::assumed(SPRING_CENTRE_K_N_PER_MM),
            pad_length_mm: Stated::assumed(PAD_LENGTH_MM),
            roller_diameter_mm: Stated::assumed(ROLLER_DIAMETER_MM),
            carriage_k_n_per_mm: Stiffness::assumed(90_000.0),
        }
    }
}
