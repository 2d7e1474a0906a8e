//! Jobs drawn by lot: every kind of holding, rests, follower, tool and pass, within what a lathe could be asked to do.
//!
//! The same number always draws the same job, so a failure names the number and can be looked at.

use midspan::job::{
    BoreLand, Cut, DriveEnd, DriveKind, Follower, FollowerSide, Force, Hold, Jaw, Job, Land, Lathe, MaterialChoice,
    Pass, PassId, PassKind, Rest, RestId, SetTo, Setup, SetupId, Shaft, Sleeve, Stated, Stiffness, TailEnd, TailKind,
    TipKind, Tolerance, Tool, ToolMaterial, ToolSide, ToolWear, Units, WantedLand,
};

pub use crate::lot::Lot;

impl Lot {
    fn stiffness(&mut self, low: f64, high: f64) -> Stiffness {
        if self.chance(0.1) { Stiffness::Rigid } else { Stiffness::Spring(Stated::given(self.tenfold(low, high))) }
    }
}

/// A lathe of middling size; its lengths matter to no deflection but the quill's travel.
pub fn lathe() -> Lathe {
    let stated = Stated::given;
    Lathe {
        name: "shop lathe".to_owned(),
        swing_over_bed_mm: stated(400.0),
        swing_over_cross_slide_mm: stated(230.0),
        between_centres_mm: stated(1500.0),
        spindle_bore_mm: stated(52.0),
        headstock_length_mm: stated(500.0),
        chuck_diameter_mm: stated(200.0),
        chuck_max_rpm: stated(2500.0),
        jaw_depth_mm: stated(60.0),
        carriage_left_mm: stated(150.0),
        carriage_right_mm: stated(250.0),
        holder_left_mm: stated(2.0),
        holder_right_mm: stated(70.0),
        rest_base_mm: stated(90.0),
        nearest_to_jaws_mm: Stated::given(0.0),
        wings_pass_tailstock: true,
        wings_pass_rest: false,
        rest_jaw_width_mm: stated(20.0),
        rest_min_diameter_mm: stated(10.0),
        rest_max_diameter_mm: stated(120.0),
        rest_bore_mm: stated(140.0),
        follower_min_diameter_mm: stated(10.0),
        follower_max_diameter_mm: stated(80.0),
        follower_width_mm: stated(15.0),
        tailstock_base_mm: stated(200.0),
        quill_travel_mm: stated(120.0),
        quill_diameter_mm: stated(60.0),
        centre_length_mm: stated(50.0),
        speeds_rpm: vec![],
        feeds_mm_per_rev: vec![],
        power_kw: stated(5.0),
        max_work_kg: stated(500.0),
        headstock_k_n_per_mm: Stiffness::Spring(stated(2e5)),
        tailstock_k_n_per_mm: Stiffness::Spring(stated(6e4)),
        quill_out_stiffness_ratio: stated(0.5),
        tailstock_axial_k_n_per_mm: Stiffness::Rigid,
        spring_centre_k_n_per_mm: stated(100.0),
        pad_length_mm: stated(10.0),
        roller_diameter_mm: stated(20.0),
        carriage_k_n_per_mm: Stiffness::Spring(stated(4e4)),
    }
}

/// A jaw.
pub fn jaw(angle_degrees: f64, gap_mm: f64, k_n_per_mm: f64) -> Jaw {
    Jaw { angle_rad: angle_degrees.to_radians(), gap_mm, k_n_per_mm: Stiffness::Spring(Stated::given(k_n_per_mm)) }
}

/// A plain bar of C45 in a chuck with a live centre, one pass towards the headstock: something to change.
pub fn plain_job(length_mm: f64, diameter_mm: f64) -> Job {
    let land = Land { length_mm, start_diameter_mm: diameter_mm, end_diameter_mm: diameter_mm };
    Job {
        title: String::new(),
        notes: String::new(),
        title_block: midspan::job::TitleBlock::default(),
        units: Units::Metric,
        shaft: Shaft {
            material: MaterialChoice::Listed("C45".to_owned()),
            stock: vec![land],
            bores: vec![],
            wanted_start_s_mm: 0.0,
            wanted: vec![WantedLand { land, tolerance: Tolerance::Free, name: String::new() }],
            features: vec![],
            centre_hole_a: None,
            centre_hole_b: None,
            bow_tir_mm: 0.0,
            bow_at_rad: 0.0,
        },
        lathe: lathe(),
        setups: vec![Setup {
            id: SetupId(0),
            name: String::new(),
            end_for_end: false,
            work_start_z_mm: -30.0,
            drive: DriveEnd {
                kind: DriveKind::ThreeJaw,
                grip_mm: 30.0,
                hold: Hold::Clamped,
                radial_k_n_per_mm: Stiffness::Spring(Stated::given(3e5)),
                rotation_k_nmm_per_rad: Stiffness::Spring(Stated::given(1e8)),
                runout_tir_mm: 0.0,
                runout_at_rad: 0.0,
                grip_force_n: Stated::assumed(5000.0),
                dog: midspan::job::Dog::usual(),
                hold_back: false,
            },
            tail: TailEnd {
                kind: TailKind::LiveCentre,
                thrust_n: 500.0,
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
                entering_angle_rad: 93_f64.to_radians(),
                nose_radius_mm: 0.4,
                rake_rad: 6_f64.to_radians(),
                wear: ToolWear::Sharp,
            },
            warmer_by_k: 0.0,
            jaw_friction: false,
            passes: vec![Pass {
                id: PassId(1),
                kind: PassKind::Turn,
                from_z_mm: length_mm - 40.0,
                to_z_mm: 20.0,
                cut: Cut::Depth { on_diameter_mm: 1.0 },
                feed_mm_per_rev: 0.1,
                speed_rpm: 600.0,
                force: Force::FromCut,
            }],
        }],
        readings: vec![],
        spread: midspan::job::Spread::usual(),
        next_id: 100,
    }
}

/// The job of this number.
pub fn random_job(number: u64) -> Job {
    let mut lot = Lot(number.wrapping_mul(0x5851_f42d_4c95_7f2d));
    let length_mm = lot.between(250.0, 1200.0);
    let mut job = plain_job(length_mm, 30.0);
    job.shaft = shaft(&mut lot, length_mm);
    job.lathe.headstock_k_n_per_mm = lot.stiffness(5e4, 1e6);
    job.lathe.tailstock_k_n_per_mm = lot.stiffness(2e4, 3e5);
    job.lathe.carriage_k_n_per_mm = lot.stiffness(1e4, 2e5);
    job.lathe.quill_out_stiffness_ratio = Stated::given(lot.between(0.3, 0.9));
    let setup = &mut job.setups[0];
    setup.end_for_end = lot.chance(0.2);
    let by_centres = lot.chance(0.35);
    if by_centres {
        setup.work_start_z_mm = 0.0;
        setup.drive.kind = DriveKind::CentreAndDog;
        setup.drive.rotation_k_nmm_per_rad = Stiffness::Spring(Stated::given(0.0));
    } else {
        setup.drive.kind = lot.one_of(&[DriveKind::ThreeJaw, DriveKind::FourJaw, DriveKind::Collet]);
        setup.drive.rotation_k_nmm_per_rad = lot.stiffness(1e7, 1e10);
    }
    setup.drive.radial_k_n_per_mm = lot.stiffness(5e4, 1e6);
    setup.tail = TailEnd {
        kind: lot.one_of(&[
            TailKind::DeadCentre,
            TailKind::LiveCentre,
            TailKind::SpringCentre,
            TailKind::HalfCentre,
            TailKind::BullNose,
        ]),
        thrust_n: if lot.chance(0.3) { 0.0 } else { lot.between(0.0, 1500.0) },
        quill_out_mm: lot.between(0.0, 140.0),
        offset_x_mm: if lot.chance(0.5) { 0.0 } else { lot.between(-0.1, 0.1) },
        offset_y_mm: if lot.chance(0.5) { 0.0 } else { lot.between(-0.05, 0.05) },
        runout_tir_mm: 0.0,
    };
    if !by_centres && length_mm < 450.0 && lot.chance(0.5) {
        setup.tail.kind = TailKind::Free;
    }
    for i in 0..lot.below(3) {
        setup.rests.push(rest(&mut lot, RestId(10 + i as u32), length_mm));
    }
    setup.jaw_friction = lot.chance(0.6);
    setup.tool = tool(&mut lot);
    if lot.chance(0.5) {
        setup.follower = Some(follower(&mut lot, setup.tool.side));
    }
    for i in 0..=lot.below(3) {
        let pass = pass(&mut lot, PassId(20 + i as u32), i == 0, length_mm);
        setup.passes.push(pass);
    }
    setup.passes.remove(0);
    job
}

fn shaft(lot: &mut Lot, length_mm: f64) -> Shaft {
    let mut shaft = plain_job(length_mm, 30.0).shaft;
    shaft.material = MaterialChoice::Listed("C45".to_owned());
    let slimmest_mm = (length_mm / 30.0).max(16.0);
    let n_lands = 1 + lot.below(4);
    shaft.stock = (0..n_lands)
        .map(|_| {
            let start_diameter_mm = lot.between(slimmest_mm, 2.0 * slimmest_mm);
            let tapered = lot.chance(0.3);
            Land {
                length_mm: length_mm / n_lands as f64,
                start_diameter_mm,
                end_diameter_mm: if tapered { start_diameter_mm * lot.between(0.85, 1.15) } else { start_diameter_mm },
            }
        })
        .collect();
    if lot.chance(0.3) {
        let from_s_mm = lot.between(0.0, 0.4 * length_mm);
        shaft.bores.push(BoreLand {
            from_s_mm,
            to_s_mm: lot.between(0.5 * length_mm, length_mm),
            start_diameter_mm: lot.between(0.2, 0.6) * slimmest_mm,
            end_diameter_mm: lot.between(0.2, 0.6) * slimmest_mm,
        });
    }
    let wanted = |land: &Land, smaller_mm: f64| Land {
        start_diameter_mm: land.start_diameter_mm - smaller_mm,
        end_diameter_mm: land.end_diameter_mm - smaller_mm,
        ..*land
    };
    let smaller_mm = lot.between(1.0, 2.5);
    shaft.wanted = (shaft.stock.iter())
        .map(|land| WantedLand { land: wanted(land, smaller_mm), tolerance: Tolerance::Free, name: String::new() })
        .collect();
    shaft
}

fn rest(lot: &mut Lot, id: RestId, length_mm: f64) -> Rest {
    let angles: &[f64] = lot.one_of(&[
        &[90.0, 210.0, 330.0][..],
        &[90.0, 210.0, 330.0],
        &[45.0, 135.0, 270.0],
        &[225.0, 315.0],
        &[0.0, 90.0, 180.0, 270.0],
    ]);
    let turned = if lot.chance(0.5) { 0.0 } else { lot.between(-20.0, 20.0) };
    let k = lot.stiffness(2e4, 5e5);
    // A rigid jaw pressed into the work would ask for a force without end.
    let gap_mm = lot.between(if k == Stiffness::Rigid { 0.001 } else { -0.005 }, 0.02);
    Rest {
        id,
        z_mm: lot.between(0.1, 0.9) * (length_mm - 40.0),
        jaws: (angles.iter())
            .map(|degrees| Jaw { angle_rad: (degrees + turned).to_radians(), gap_mm, k_n_per_mm: k })
            .collect(),
        tip: lot.one_of(&[TipKind::Bronze, TipKind::Plastic, TipKind::Roller]),
        set_to: lot.one_of(&[SetTo::Work, SetTo::Axis]),
        offset_x_mm: if lot.chance(0.5) { 0.0 } else { lot.between(-0.05, 0.05) },
        offset_y_mm: if lot.chance(0.5) { 0.0 } else { lot.between(-0.05, 0.05) },
        sleeve: Sleeve::None,
        spot: midspan::job::Spot::round(),
        tip_bored_mm: None,
    }
}

fn tool(lot: &mut Lot) -> Tool {
    Tool {
        side: lot.one_of(&[ToolSide::Front, ToolSide::Front, ToolSide::Rear]),
        material: lot.one_of(&[ToolMaterial::Carbide, ToolMaterial::HighSpeedSteel]),
        entering_angle_rad: lot.between(45.0, 95.0).to_radians(),
        nose_radius_mm: lot.between(0.2, 1.2),
        rake_rad: lot.between(-6.0, 15.0).to_radians(),
        wear: lot.one_of(&[ToolWear::Sharp, ToolWear::Used, ToolWear::Blunt]),
    }
}

fn follower(lot: &mut Lot, tool: ToolSide) -> Follower {
    // Opposite the tool, and where the main force lifts.
    let turn = if tool == ToolSide::Front { 0.0 } else { 180.0 };
    let mut jaw_at = |degrees: f64| Jaw {
        angle_rad: (degrees + turn + lot.between(-10.0, 10.0)).to_radians(),
        gap_mm: lot.between(-0.002, 0.01),
        k_n_per_mm: lot.stiffness(2e4, 3e5),
    };
    let jaws = [jaw_at(0.0), jaw_at(90.0)];
    Follower {
        distance_mm: lot.between(4.0, 25.0),
        side: lot.one_of(&[FollowerSide::Behind, FollowerSide::Ahead]),
        jaws,
        tip: lot.one_of(&[TipKind::Bronze, TipKind::Plastic, TipKind::Roller]),
        tip_bored_mm: None,
        start_mm: 0.0,
    }
}

fn pass(lot: &mut Lot, id: PassId, first: bool, length_mm: f64) -> Pass {
    let ends_mm = [lot.between(0.0, 0.3) * length_mm, lot.between(0.6, 0.95) * (length_mm - 30.0)];
    let (from, to) = if lot.chance(0.7) { (1, 0) } else { (0, 1) };
    let depth_mm = lot.between(0.3, 1.5);
    let kind = if !first && lot.chance(0.4) { PassKind::Spring } else { PassKind::Turn };
    let typed = Force::Typed {
        radial_n: lot.between(20.0, 200.0),
        main_n: lot.between(50.0, 400.0),
        feed_n: lot.between(10.0, 200.0),
        follows_depth: true,
    };
    Pass {
        id,
        kind,
        from_z_mm: ends_mm[from],
        to_z_mm: ends_mm[to],
        cut: lot.one_of(&[
            Cut::Depth { on_diameter_mm: depth_mm },
            Cut::Depth { on_diameter_mm: depth_mm },
            Cut::ToDrawing { leave_on_diameter_mm: 0.3 },
        ]),
        feed_mm_per_rev: lot.between(0.04, 0.2),
        speed_rpm: lot.between(100.0, 1200.0),
        force: if lot.chance(0.25) { typed } else { Force::FromCut },
    }
}
