//! What a holding, a tool or a pass is until the user says otherwise; every stiffness here is assumed.
//!
//! Chuck jaws 216 N/um after Ito, Modular Design for Machine Tools (2008), p. 452 (read). A grip against swinging:
//! k L^2 / 12, a rigid bar on an even bed of springs (computed). All other stiffnesses are placeholders: no source.

use super::ids::{PassId, RestId, SetupId};
use super::lathe::{Stated, Stiffness};
use super::setup::{
    Cut, Dog, DogKind, DriveEnd, DriveKind, Follower, FollowerSide, Force, Hold, Jaw, Pass, PassKind, Rest, SetTo,
    Setup, Sleeve, Spot, TailEnd, TailKind, TipKind, Tool, ToolMaterial, ToolSide, ToolWear,
};

/// Radial stiffness of chuck jaws. Source: Ito 2008, p. 452 (steel top jaws).
pub const CHUCK_JAWS_K_N_PER_MM: f64 = 216_000.0;
/// Radial stiffness of a centre in the spindle. Common practice, no source: an order of magnitude.
pub const HEADSTOCK_CENTRE_K_N_PER_MM: f64 = 80_000.0;
/// Swinging stiffness of a centre in its hole: friction, next to nothing. Assumed.
pub const CENTRE_K_NMM_PER_RAD: f64 = 1.0;
/// The same with a lacing or clamp that holds the work back. Assumed.
pub const HELD_BACK_CENTRE_K_NMM_PER_RAD: f64 = 2000.0;
/// One jaw of a steady rest with its share of the frame. No source: a placeholder.
pub const REST_JAW_K_N_PER_MM: f64 = 20_000.0;
/// One jaw of a follower rest. No source: a placeholder.
pub const FOLLOWER_JAW_K_N_PER_MM: f64 = 10_000.0;
/// Clearance of a steady-rest jaw, a cigarette paper or a thou. Common practice, no source.
pub const REST_GAP_MM: f64 = 0.025;
/// Force of one jaw of a chuck nipped up for ordinary work. No source: a placeholder.
pub const GRIP_FORCE_N: f64 = 5000.0;

impl DriveEnd {
    /// A chuck, collet or face plate gripping `grip_mm` of the work firmly.
    #[must_use]
    pub fn gripped(kind: DriveKind, grip_mm: f64) -> Self {
        let mut drive = Self {
            kind,
            grip_mm,
            hold: Hold::Clamped,
            radial_k_n_per_mm: Stiffness::assumed(CHUCK_JAWS_K_N_PER_MM),
            rotation_k_nmm_per_rad: Stiffness::assumed(1.0),
            runout_tir_mm: 0.0,
            runout_at_rad: 0.0,
            grip_force_n: Stated::assumed(GRIP_FORCE_N),
            dog: Dog::usual(),
            hold_back: false,
        };
        drive.assume_stiffness();
        drive
    }

    /// A three-jaw chuck.
    #[must_use]
    pub fn three_jaw(grip_mm: f64) -> Self {
        Self::gripped(DriveKind::ThreeJaw, grip_mm)
    }

    /// A headstock centre with dog and drive plate.
    #[must_use]
    pub fn between_centres() -> Self {
        let mut drive = Self::gripped(DriveKind::CentreAndDog, 0.0);
        drive.hold = Hold::Hinge;
        drive.assume_stiffness();
        drive
    }

    /// Works the assumed stiffnesses out afresh after kind, grip, hold or hold-back were changed; what the user
    /// stated, and what is rigid, stays.
    pub fn assume_stiffness(&mut self) {
        let centre = self.kind == DriveKind::CentreAndDog;
        if let Stiffness::Spring(stated) = &mut self.radial_k_n_per_mm
            && stated.assumed
        {
            stated.value = if centre { HEADSTOCK_CENTRE_K_N_PER_MM } else { CHUCK_JAWS_K_N_PER_MM };
        }
        let radial_k = self.radial_k_n_per_mm.value_or(CHUCK_JAWS_K_N_PER_MM);
        let swing_k = match (centre, self.hold_back) {
            (true, true) => HELD_BACK_CENTRE_K_NMM_PER_RAD,
            (true, false) => CENTRE_K_NMM_PER_RAD,
            (false, _) => {
                let share = match self.hold {
                    Hold::Clamped => 1.0,
                    Hold::SoftClamp => 1.0 / 3.0,
                    Hold::Hinge => 1e-3,
                };
                // A collet grips all round and all along; the factor is assumed.
                let kind = if self.kind == DriveKind::Collet { 2.0 } else { 1.0 };
                (kind * share * radial_k * self.grip_mm * self.grip_mm / 12.0).max(CENTRE_K_NMM_PER_RAD)
            }
        };
        if let Stiffness::Spring(stated) = &mut self.rotation_k_nmm_per_rad
            && stated.assumed
        {
            stated.value = swing_k;
        }
    }
}

impl Dog {
    /// A bent-tail dog on a drive plate; its sizes are assumed.
    #[must_use]
    pub fn usual() -> Self {
        Self {
            kind: DogKind::OneTail,
            tail_radius_mm: Stated::assumed(50.0),
            tail_reach_mm: Stated::assumed(20.0),
            length_mm: Stated::assumed(12.0),
        }
    }
}

impl Spot {
    /// A round spot; three lobes would be the usual kind of fault.
    #[must_use]
    pub const fn round() -> Self {
        Self { n_lobes: 3, height_mm: 0.0 }
    }
}

impl TailEnd {
    /// No tailstock.
    #[must_use]
    pub fn free() -> Self {
        Self {
            kind: TailKind::Free,
            thrust_n: 0.0,
            quill_out_mm: 0.0,
            offset_x_mm: 0.0,
            offset_y_mm: 0.0,
            runout_tir_mm: 0.0,
        }
    }

    /// A rotating centre, nipped up; thrust assumed.
    #[must_use]
    pub fn live() -> Self {
        Self { kind: TailKind::LiveCentre, thrust_n: 500.0, quill_out_mm: 30.0, ..Self::free() }
    }

    /// A dead centre, nipped up lightly; thrust assumed.
    #[must_use]
    pub fn dead() -> Self {
        Self { kind: TailKind::DeadCentre, thrust_n: 300.0, quill_out_mm: 30.0, ..Self::free() }
    }
}

impl Rest {
    /// A three-jaw steady rest with bronze tips, set to the work with a paper's clearance.
    #[must_use]
    pub fn three_jaw(id: RestId, z_mm: f64) -> Self {
        let jaw = |degrees: f64| Jaw {
            angle_rad: degrees.to_radians(),
            gap_mm: REST_GAP_MM,
            k_n_per_mm: Stiffness::assumed(REST_JAW_K_N_PER_MM),
        };
        Self {
            id,
            z_mm,
            jaws: vec![jaw(90.0), jaw(210.0), jaw(330.0)],
            tip: TipKind::Bronze,
            set_to: SetTo::Work,
            offset_x_mm: 0.0,
            offset_y_mm: 0.0,
            sleeve: Sleeve::None,
            spot: Spot::round(),
            tip_bored_mm: None,
        }
    }
}

impl Follower {
    /// Two bronze jaws 12 mm behind the tool, brought just to touch.
    #[must_use]
    pub fn usual() -> Self {
        let jaw = |degrees: f64| Jaw {
            angle_rad: degrees.to_radians(),
            gap_mm: 0.0,
            k_n_per_mm: Stiffness::assumed(FOLLOWER_JAW_K_N_PER_MM),
        };
        Self {
            distance_mm: 12.0,
            side: FollowerSide::Behind,
            jaws: [jaw(0.0), jaw(90.0)],
            tip: TipKind::Bronze,
            tip_bored_mm: None,
            start_mm: 0.0,
        }
    }
}

impl Tool {
    /// A sharp carbide tool at the front: entering angle 93 degrees, nose radius 0.4 mm, rake 6 degrees.
    #[must_use]
    pub fn usual() -> Self {
        Self {
            side: ToolSide::Front,
            material: ToolMaterial::Carbide,
            entering_angle_rad: 93f64.to_radians(),
            nose_radius_mm: 0.4,
            rake_rad: 6f64.to_radians(),
            wear: ToolWear::Sharp,
        }
    }
}

impl Setup {
    /// A three-jaw chuck gripping `grip_mm` of the work, nothing at the other end, no passes.
    #[must_use]
    pub fn in_chuck(id: SetupId, grip_mm: f64) -> Self {
        Self {
            id,
            name: String::new(),
            end_for_end: false,
            work_start_z_mm: -grip_mm,
            drive: DriveEnd::three_jaw(grip_mm),
            tail: TailEnd::free(),
            rests: Vec::new(),
            follower: None,
            tool: Tool::usual(),
            warmer_by_k: 0.0,
            jaw_friction: true,
            passes: Vec::new(),
        }
    }

    /// As [`Setup::in_chuck`], with a rotating centre in the tailstock.
    #[must_use]
    pub fn chuck_and_centre(id: SetupId, grip_mm: f64) -> Self {
        Self { tail: TailEnd::live(), ..Self::in_chuck(id, grip_mm) }
    }

    /// Headstock centre with dog and drive plate, dead centre in the tailstock.
    #[must_use]
    pub fn between_centres(id: SetupId) -> Self {
        Self { drive: DriveEnd::between_centres(), tail: TailEnd::dead(), ..Self::in_chuck(id, 0.0) }
    }
}

impl Pass {
    /// A turning pass whose force comes from the cut.
    #[must_use]
    pub fn turn(id: PassId, from_z_mm: f64, to_z_mm: f64, cut: Cut, feed_mm_per_rev: f64, speed_rpm: f64) -> Self {
        Self { id, kind: PassKind::Turn, from_z_mm, to_z_mm, cut, feed_mm_per_rev, speed_rpm, force: Force::FromCut }
    }

    /// A spring pass over what `like` cut: the same dial, feed and speed again.
    #[must_use]
    pub fn spring(id: PassId, like: &Self) -> Self {
        Self { id, kind: PassKind::Spring, cut: Cut::Depth { on_diameter_mm: 0.0 }, ..like.clone() }
    }
}
