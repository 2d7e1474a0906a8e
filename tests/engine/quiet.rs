//! A set-up that nothing is to be said against: chuck and centre, short stout work, one pass to the drawing. Rules are
//! tested by changing one thing of it.

use midspan::job::{
    CentreHole, Cut, DriveEnd, DriveKind, Force, Hold, Jaw, Job, Land, Lathe, MaterialChoice, Pass, PassId, PassKind,
    Rest, RestId, SetTo, Setup, SetupId, Shaft, Sleeve, Stated, Stiffness, TailEnd, TailKind, TipKind, Tolerance, Tool,
    ToolMaterial, ToolSide, ToolWear, Units, WantedLand,
};

pub const SETUP: SetupId = SetupId(1);
pub const PASS: PassId = PassId(2);
pub const REST: RestId = RestId(7);

/// 40 mm stock, 300 mm from jaws to centre, turned to 38 mm +-20 um.
pub fn job() -> Job {
    Job {
        title: "quiet".into(),
        notes: String::new(),
        title_block: midspan::job::TitleBlock::default(),
        units: Units::Metric,
        shaft: Shaft {
            material: MaterialChoice::Listed("C45".into()),
            stock: vec![land(325.0, 40.0)],
            bores: vec![],
            wanted_start_s_mm: 0.0,
            wanted: vec![WantedLand {
                land: land(325.0, 38.0),
                tolerance: Tolerance::Limits { lower_mm: -0.02, upper_mm: 0.02 },
                name: "journal".into(),
            }],
            features: vec![],
            centre_hole_a: Some(CentreHole::in_the_middle(4.0)),
            centre_hole_b: Some(CentreHole::in_the_middle(4.0)),
            bow_tir_mm: 0.0,
            bow_at_rad: 0.0,
        },
        lathe: lathe(),
        setups: vec![Setup {
            id: SETUP,
            name: String::new(),
            end_for_end: false,
            work_start_z_mm: -25.0,
            drive: DriveEnd {
                kind: DriveKind::ThreeJaw,
                grip_mm: 25.0,
                hold: Hold::Clamped,
                radial_k_n_per_mm: Stiffness::Rigid,
                rotation_k_nmm_per_rad: Stiffness::Rigid,
                runout_tir_mm: 0.0,
                runout_at_rad: 0.0,
                grip_force_n: Stated::assumed(5000.0),
                dog: midspan::job::Dog::usual(),
                hold_back: false,
            },
            tail: TailEnd {
                kind: TailKind::LiveCentre,
                thrust_n: 300.0,
                quill_out_mm: 40.0,
                offset_x_mm: 0.0,
                offset_y_mm: 0.0,
                runout_tir_mm: 0.0,
            },
            rests: vec![],
            follower: None,
            tool: Tool {
                side: ToolSide::Front,
                material: ToolMaterial::Carbide,
                entering_angle_rad: 95f64.to_radians(),
                nose_radius_mm: 0.4,
                rake_rad: 6f64.to_radians(),
                wear: ToolWear::Sharp,
            },
            warmer_by_k: 0.0,
            jaw_friction: false,
            passes: vec![Pass {
                id: PASS,
                kind: PassKind::Turn,
                from_z_mm: 295.0,
                to_z_mm: 100.0,
                cut: Cut::ToDrawing { leave_on_diameter_mm: 0.0 },
                feed_mm_per_rev: 0.1,
                speed_rpm: 400.0,
                force: Force::FromCut,
            }],
        }],
        readings: vec![],
        spread: midspan::job::Spread::usual(),
        next_id: 20,
    }
}

pub fn land(length_mm: f64, diameter_mm: f64) -> Land {
    Land { length_mm, start_diameter_mm: diameter_mm, end_diameter_mm: diameter_mm }
}

fn lathe() -> Lathe {
    let given = Stated::given;
    Lathe {
        name: "test".into(),
        swing_over_bed_mm: given(350.0),
        swing_over_cross_slide_mm: given(200.0),
        between_centres_mm: given(1000.0),
        spindle_bore_mm: given(50.0),
        headstock_length_mm: given(450.0),
        chuck_diameter_mm: given(160.0),
        chuck_max_rpm: given(3000.0),
        jaw_depth_mm: given(40.0),
        carriage_left_mm: given(60.0),
        carriage_right_mm: given(80.0),
        holder_left_mm: given(2.0),
        holder_right_mm: given(70.0),
        rest_base_mm: given(40.0),
        nearest_to_jaws_mm: Stated::given(0.0),
        wings_pass_tailstock: true,
        wings_pass_rest: false,
        rest_jaw_width_mm: given(12.0),
        rest_min_diameter_mm: given(6.0),
        rest_max_diameter_mm: given(100.0),
        rest_bore_mm: given(140.0),
        follower_min_diameter_mm: given(10.0),
        follower_max_diameter_mm: given(60.0),
        follower_width_mm: given(15.0),
        tailstock_base_mm: given(200.0),
        quill_travel_mm: given(110.0),
        quill_diameter_mm: given(50.0),
        centre_length_mm: given(60.0),
        speeds_rpm: vec![],
        feeds_mm_per_rev: vec![],
        power_kw: given(4.0),
        max_work_kg: given(200.0),
        headstock_k_n_per_mm: Stiffness::Rigid,
        tailstock_k_n_per_mm: Stiffness::Rigid,
        quill_out_stiffness_ratio: given(0.5),
        tailstock_axial_k_n_per_mm: Stiffness::Rigid,
        spring_centre_k_n_per_mm: given(100.0),
        pad_length_mm: given(10.0),
        roller_diameter_mm: given(20.0),
        carriage_k_n_per_mm: Stiffness::Rigid,
    }
}

/// A three-jaw steady at `z_mm`, set to touch.
pub fn steady(z_mm: f64) -> Rest {
    let jaw = |degrees: f64| Jaw { angle_rad: degrees.to_radians(), gap_mm: 0.0, k_n_per_mm: Stiffness::Rigid };
    Rest {
        id: REST,
        z_mm,
        jaws: vec![jaw(90.0), jaw(210.0), jaw(330.0)],
        tip: TipKind::Bronze,
        set_to: SetTo::Work,
        offset_x_mm: 0.0,
        offset_y_mm: 0.0,
        sleeve: Sleeve::None,
        spot: midspan::job::Spot::round(),
        tip_bored_mm: None,
    }
}
