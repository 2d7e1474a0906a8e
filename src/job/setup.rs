//! One holding of the work: drive end, tail end, rests, follower, tool, and the passes taken in it.
//!
//! Positions `z_mm` run from the chuck jaw face (or the headstock centre's point) towards the tailstock.

use super::ids::{PassId, RestId, SetupId};
use super::lathe::{Stated, Stiffness};
use super::shaft::Shaft;

/// One holding of the work and what is cut in it.
#[derive(Clone, Debug, PartialEq)]
pub struct Setup {
    pub id: SetupId,
    /// The user's name for it; may be empty.
    pub name: String,
    /// The shaft is turned end for end: end A is at the tailstock.
    pub end_for_end: bool,
    /// Where the shaft's headstock-side end lies; negative in a chuck, further back for a bar through the spindle.
    pub work_start_z_mm: f64,
    pub drive: DriveEnd,
    pub tail: TailEnd,
    /// Steady rests in any order.
    pub rests: Vec<Rest>,
    pub follower: Option<Follower>,
    pub tool: Tool,
    /// How much warmer the work is than when the tailstock centre was last set.
    pub warmer_by_k: f64,
    /// Friction at the jaws of the rests drags on the work.
    pub jaw_friction: bool,
    /// In the order they are cut.
    pub passes: Vec<Pass>,
}

/// What turns the work.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum DriveKind {
    ThreeJaw,
    FourJaw,
    Collet,
    FacePlate,
    /// Headstock centre, dog and drive plate.
    CentreAndDog,
}

/// How the drive end holds in bending.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Hold {
    /// A long grip in good jaws.
    Clamped,
    /// A short grip, or worn or reversed jaws.
    SoftClamp,
    /// A ring of wire under the jaws: the work can swing.
    Hinge,
}

/// How a dog takes the turn from the drive plate.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum DogKind {
    /// One tail in one slot: it also pushes the work sideways, once a turn.
    OneTail,
    /// Two tails, or a plate that floats: a pure turn.
    TwoTails,
}

/// The dog between headstock centre and drive plate.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Dog {
    pub kind: DogKind,
    /// From the axis to where the tail bears on the plate.
    pub tail_radius_mm: Stated,
    /// From the centre's point back to where the tail bears on the plate.
    pub tail_reach_mm: Stated,
    /// From the centre's point along the work, as far as the dog reaches.
    pub length_mm: Stated,
}

/// The headstock end of the holding.
#[derive(Clone, Debug, PartialEq)]
pub struct DriveEnd {
    pub kind: DriveKind,
    /// Length of work inside the jaws; nothing for a centre.
    pub grip_mm: f64,
    pub hold: Hold,
    /// Radial stiffness of chuck jaws or centre alone, without the spindle (N/mm).
    pub radial_k_n_per_mm: Stiffness,
    /// Stiffness of the grip against swinging (N·mm/rad). A centre has none, but for what a hold-back gives.
    pub rotation_k_nmm_per_rad: Stiffness,
    /// Run-out of the work at the jaw face, total indicator reading.
    pub runout_tir_mm: f64,
    /// Towards which side of the work it stands out there: clock angle, seen from the tailstock.
    pub runout_at_rad: f64,
    /// Force of one chuck jaw on the work.
    pub grip_force_n: Stated,
    /// For a headstock centre only.
    pub dog: Dog,
    /// A lacing or clamp that keeps the work on the headstock centre.
    pub hold_back: bool,
}

/// What carries the tailstock end.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum TailKind {
    /// Nothing: the end is free, or a rest carries it.
    Free,
    DeadCentre,
    LiveCentre,
    SpringCentre,
    HalfCentre,
    BullNose,
}

impl TailKind {
    /// Radial stiffness against that of a dead centre in the same quill.
    ///
    /// Source: common practice, rotating centres 0.6 to 0.8 of a dead one (from memory); no printed source found.
    #[must_use]
    pub fn stiffness_ratio(self) -> f64 {
        match self {
            Self::Free => 0.0,
            Self::DeadCentre | Self::HalfCentre => 1.0,
            Self::LiveCentre => 0.7,
            Self::SpringCentre => 0.6,
            Self::BullNose => 0.65,
        }
    }
}

/// The tailstock end of the holding.
#[derive(Clone, Debug, PartialEq)]
pub struct TailEnd {
    pub kind: TailKind,
    /// Axial thrust of the centre on the work.
    pub thrust_n: f64,
    /// Quill standing out of the tailstock.
    pub quill_out_mm: f64,
    /// Centre off the spindle axis, away from the operator.
    pub offset_x_mm: f64,
    /// Centre off the spindle axis, upwards.
    pub offset_y_mm: f64,
    /// Run-out of the centre itself, total indicator reading; it turns with the work if the centre does.
    pub runout_tir_mm: f64,
}

/// What a rest's jaws are set to.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum SetTo {
    /// To the work where it lies under its own weight, the rest not yet touching.
    Work,
    /// About the spindle axis.
    Axis,
}

/// What a jaw ends in.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum TipKind {
    Bronze,
    Brass,
    CastIron,
    Plastic,
    Roller,
}

/// Something slid over the work for the jaws to run on.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Sleeve {
    None,
    /// A sleeve with set-screws, adjusted to run true.
    CatHead {
        diameter_mm: f64,
        width_mm: f64,
    },
    /// A split bush on a thread or spline.
    Bush {
        diameter_mm: f64,
        width_mm: f64,
    },
}

/// One jaw of a rest. It only pushes.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Jaw {
    /// Where the jaw stands in the end view, from +x towards +y.
    pub angle_rad: f64,
    /// Clearance between tip and work when it was set; negative is pressed in.
    pub gap_mm: f64,
    /// Stiffness of jaw and frame along the jaw (N/mm).
    pub k_n_per_mm: Stiffness,
}

/// How round the work is where jaws run on it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Spot {
    /// Lobes around the work.
    pub n_lobes: u32,
    /// From the lowest to the highest place around the work, on radius.
    pub height_mm: f64,
}

/// A steady rest clamped to the bed.
#[derive(Clone, Debug, PartialEq)]
pub struct Rest {
    pub id: RestId,
    pub z_mm: f64,
    /// Two to four.
    pub jaws: Vec<Jaw>,
    pub tip: TipKind,
    pub set_to: SetTo,
    /// The whole rest off its setting, away from the operator.
    pub offset_x_mm: f64,
    /// The whole rest off its setting, upwards.
    pub offset_y_mm: f64,
    pub sleeve: Sleeve,
    /// How round the work, or the sleeve, is under the jaws.
    pub spot: Spot,
    /// Tips bored out to this diameter; flat ones where there is none.
    pub tip_bored_mm: Option<f64>,
}

/// Which side of the tool the follower's jaws are on.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum FollowerSide {
    /// On the fresh diameter.
    Behind,
    /// On the old surface.
    Ahead,
}

/// A follower rest on the carriage.
#[derive(Clone, Debug, PartialEq)]
pub struct Follower {
    /// Along the work from the tool to the middle of the jaws; more than 0.
    pub distance_mm: f64,
    pub side: FollowerSide,
    /// Rear jaw and top jaw.
    pub jaws: [Jaw; 2],
    pub tip: TipKind,
    /// Tips bored out to this diameter; flat ones where there is none.
    pub tip_bored_mm: Option<f64>,
    /// The jaws are brought on once the tool has turned so much; at once where they can, for 0.
    pub start_mm: f64,
}

/// Which side of the work the tool stands on.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum ToolSide {
    Front,
    Rear,
}

/// What the edge is made of.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum ToolMaterial {
    HighSpeedSteel,
    Carbide,
}

/// How far the edge is worn.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum ToolWear {
    Sharp,
    Used,
    Blunt,
}

/// The turning tool.
#[derive(Clone, Debug, PartialEq)]
pub struct Tool {
    pub side: ToolSide,
    pub material: ToolMaterial,
    /// Entering angle between edge and feed direction.
    pub entering_angle_rad: f64,
    pub nose_radius_mm: f64,
    pub rake_rad: f64,
    pub wear: ToolWear,
}

/// What a pass does.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum PassKind {
    Turn,
    /// The same dial again.
    Spring,
    Thread,
    Face,
    Drill,
    Bore,
    /// A tool as wide as the pass goes straight in.
    Groove,
    /// The same, through to the middle or the bore.
    Part,
}

/// To what size the dial is set.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Cut {
    /// So much off the size the dial had before, on diameter.
    Depth { on_diameter_mm: f64 },
    /// To one diameter; where the work is already smaller nothing is cut.
    ToDiameter { diameter_mm: f64 },
    /// Along the wanted profile, leaving so much on diameter.
    ToDrawing { leave_on_diameter_mm: f64 },
}

/// Where the cutting force comes from.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Force {
    /// From material, chip and tool, after Kienzle.
    FromCut,
    /// A push typed by the user, at the full depth of the pass.
    Typed {
        radial_n: f64,
        main_n: f64,
        feed_n: f64,
        /// The push falls in proportion as the real depth falls.
        follows_depth: bool,
    },
}

/// One travel of the tool.
#[derive(Clone, Debug, PartialEq)]
pub struct Pass {
    pub id: PassId,
    pub kind: PassKind,
    /// Where the cut begins.
    pub from_z_mm: f64,
    /// Where it ends; below `from_z_mm` the feed is towards the headstock.
    pub to_z_mm: f64,
    pub cut: Cut,
    pub feed_mm_per_rev: f64,
    pub speed_rpm: f64,
    pub force: Force,
}

impl Pass {
    /// The feed is towards the headstock.
    #[must_use]
    pub fn feeds_to_headstock(&self) -> bool {
        self.to_z_mm <= self.from_z_mm
    }

    /// The stretch that is cut, lower end first.
    #[must_use]
    pub fn span_mm(&self) -> (f64, f64) {
        (self.from_z_mm.min(self.to_z_mm), self.from_z_mm.max(self.to_z_mm))
    }
}

impl Setup {
    /// Place in this set-up of a place along the shaft.
    #[must_use]
    pub fn z_of_s_mm(&self, shaft: &Shaft, s_mm: f64) -> f64 {
        self.work_start_z_mm + if self.end_for_end { shaft.length_mm() - s_mm } else { s_mm }
    }

    /// Place along the shaft of a place in this set-up.
    #[must_use]
    pub fn s_of_z_mm(&self, shaft: &Shaft, z_mm: f64) -> f64 {
        let from_start = z_mm - self.work_start_z_mm;
        if self.end_for_end { shaft.length_mm() - from_start } else { from_start }
    }

    /// Where the work ends at the tailstock side.
    #[must_use]
    pub fn work_end_z_mm(&self, shaft: &Shaft) -> f64 {
        self.work_start_z_mm + shaft.length_mm()
    }

    /// The rest with this id.
    #[must_use]
    pub fn rest(&self, id: RestId) -> Option<&Rest> {
        self.rests.iter().find(|rest| rest.id == id)
    }

    /// The pass with this id.
    #[must_use]
    pub fn pass(&self, id: PassId) -> Option<&Pass> {
        self.passes.iter().find(|pass| pass.id == id)
    }
}
