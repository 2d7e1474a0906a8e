//! Format 1 of the job file, frozen: a change of the document makes a new format, never a change here.
//!
//! Units as everywhere inside: mm, N, MPa, rad, kg. Every field must stand in the file; none may be added.

use serde::{Deserialize, Serialize};

use crate::job::{PassId, RestId, SetupId};

#[derive(Debug, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Job {
    pub format: u32,
    pub title: String,
    pub notes: String,
    pub units: Units,
    pub shaft: Shaft,
    pub lathe: Lathe,
    pub setups: Vec<Setup>,
    pub readings: Vec<Reading>,
    pub next_id: u32,
}

#[derive(Debug, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Reading {
    pub pass: PassId,
    pub z_mm: f64,
    pub diameter_mm: f64,
    pub warmer_by_k: Option<f64>,
}

#[derive(Debug, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Shaft {
    pub material: Material,
    pub stock: Vec<Land>,
    pub bores: Vec<BoreLand>,
    pub wanted_start_s_mm: f64,
    pub wanted: Vec<WantedLand>,
    pub features: Vec<Feature>,
    pub centre_hole_a: Option<CentreHole>,
    pub centre_hole_b: Option<CentreHole>,
    pub bow_tir_mm: f64,
}

#[derive(Debug, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct OwnMaterial {
    pub name: String,
    pub e_mpa: f64,
    pub poisson_ratio: f64,
    pub density_kg_per_m3: f64,
    pub growth_per_k: f64,
    pub kc11_mpa: f64,
    pub mc: f64,
    pub thrust_ratio: f64,
}

#[derive(Debug, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Land {
    pub length_mm: f64,
    pub start_diameter_mm: f64,
    pub end_diameter_mm: f64,
}

#[derive(Debug, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct WantedLand {
    pub name: String,
    pub land: Land,
    pub tolerance: Tolerance,
}

#[derive(Debug, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct BoreLand {
    pub from_s_mm: f64,
    pub to_s_mm: f64,
    pub start_diameter_mm: f64,
    pub end_diameter_mm: f64,
}

#[derive(Debug, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Feature {
    pub kind: FeatureKind,
    pub from_s_mm: f64,
    pub to_s_mm: f64,
}

#[derive(Debug, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct CentreHole {
    pub pilot_mm: f64,
}

#[derive(Debug, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Lathe {
    pub name: String,
    pub swing_over_bed_mm: Stated,
    pub swing_over_cross_slide_mm: Stated,
    pub between_centres_mm: Stated,
    pub spindle_bore_mm: Stated,
    pub headstock_length_mm: Stated,
    pub chuck_diameter_mm: Stated,
    pub chuck_max_rpm: Stated,
    pub jaw_depth_mm: Stated,
    pub carriage_left_mm: Stated,
    pub carriage_right_mm: Stated,
    pub rest_base_mm: Stated,
    pub rest_jaw_width_mm: Stated,
    pub rest_min_diameter_mm: Stated,
    pub rest_max_diameter_mm: Stated,
    pub follower_min_diameter_mm: Stated,
    pub follower_max_diameter_mm: Stated,
    pub tailstock_base_mm: Stated,
    pub quill_travel_mm: Stated,
    pub quill_diameter_mm: Stated,
    pub centre_length_mm: Stated,
    pub speeds_rpm: Vec<f64>,
    pub feeds_mm_per_rev: Vec<f64>,
    pub power_kw: Stated,
    pub max_work_kg: Stated,
    pub headstock_k_n_per_mm: Stiffness,
    pub tailstock_k_n_per_mm: Stiffness,
    pub quill_out_stiffness_ratio: Stated,
    pub carriage_k_n_per_mm: Stiffness,
}

#[derive(Debug, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Setup {
    pub id: SetupId,
    pub name: String,
    pub end_for_end: bool,
    pub work_start_z_mm: f64,
    pub drive: DriveEnd,
    pub tail: TailEnd,
    pub rests: Vec<Rest>,
    pub follower: Option<Follower>,
    pub tool: Tool,
    pub passes: Vec<Pass>,
}

#[derive(Debug, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct DriveEnd {
    pub kind: DriveKind,
    pub grip_mm: f64,
    pub hold: Hold,
    pub radial_k_n_per_mm: Stiffness,
    pub rotation_k_nmm_per_rad: Stiffness,
    pub runout_tir_mm: f64,
    pub hold_back: bool,
}

#[derive(Debug, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct TailEnd {
    pub kind: TailKind,
    pub thrust_n: f64,
    pub quill_out_mm: f64,
    pub offset_x_mm: f64,
    pub offset_y_mm: f64,
}

#[derive(Debug, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Jaw {
    pub angle_rad: f64,
    pub gap_mm: f64,
    pub k_n_per_mm: Stiffness,
}

#[derive(Debug, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Rest {
    pub id: RestId,
    pub z_mm: f64,
    pub set_to: SetTo,
    pub tip: TipKind,
    pub offset_x_mm: f64,
    pub offset_y_mm: f64,
    pub sleeve: Sleeve,
    pub jaws: Vec<Jaw>,
}

#[derive(Debug, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Follower {
    pub distance_mm: f64,
    pub side: FollowerSide,
    pub tip: TipKind,
    pub rear_jaw: Jaw,
    pub top_jaw: Jaw,
}

#[derive(Debug, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Tool {
    pub side: ToolSide,
    pub material: ToolMaterial,
    pub entering_angle_rad: f64,
    pub nose_radius_mm: f64,
    pub rake_rad: f64,
    pub wear: ToolWear,
}

#[derive(Debug, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Pass {
    pub id: PassId,
    pub kind: PassKind,
    pub from_z_mm: f64,
    pub to_z_mm: f64,
    pub cut: Cut,
    pub feed_mm_per_rev: f64,
    pub speed_rpm: f64,
    pub force: Force,
}

#[derive(Debug, Serialize, Deserialize)]
pub(super) enum Units {
    Metric,
    Inch,
}

#[derive(Debug, Serialize, Deserialize)]
pub(super) enum DriveKind {
    ThreeJaw,
    FourJaw,
    Collet,
    FacePlate,
    CentreAndDog,
}

#[derive(Debug, Serialize, Deserialize)]
pub(super) enum Hold {
    Clamped,
    SoftClamp,
    Hinge,
}

#[derive(Debug, Serialize, Deserialize)]
pub(super) enum TailKind {
    Free,
    DeadCentre,
    LiveCentre,
    SpringCentre,
    HalfCentre,
    BullNose,
}

#[derive(Debug, Serialize, Deserialize)]
pub(super) enum SetTo {
    Work,
    Axis,
}

#[derive(Debug, Serialize, Deserialize)]
pub(super) enum TipKind {
    Bronze,
    Brass,
    CastIron,
    Plastic,
    Roller,
}

#[derive(Debug, Serialize, Deserialize)]
pub(super) enum FollowerSide {
    Behind,
    Ahead,
}

#[derive(Debug, Serialize, Deserialize)]
pub(super) enum ToolSide {
    Front,
    Rear,
}

#[derive(Debug, Serialize, Deserialize)]
pub(super) enum ToolMaterial {
    HighSpeedSteel,
    Carbide,
}

#[derive(Debug, Serialize, Deserialize)]
pub(super) enum ToolWear {
    Sharp,
    Used,
    Blunt,
}

#[derive(Debug, Serialize, Deserialize)]
pub(super) enum PassKind {
    Turn,
    Spring,
    Thread,
    Face,
    Drill,
    Bore,
}

#[derive(Debug, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) enum Stated {
    Assumed(f64),
    Stated(f64),
}

#[derive(Debug, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) enum Stiffness {
    Rigid,
    Assumed(f64),
    Stated(f64),
}

#[derive(Debug, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) enum Tolerance {
    Free,
    Limits { lower_mm: f64, upper_mm: f64 },
    H { grade: u8 },
    Js { grade: u8 },
}

#[derive(Debug, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) enum Material {
    Listed(String),
    Own(OwnMaterial),
}

#[derive(Debug, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) enum FeatureKind {
    Thread { pitch_mm: f64 },
    Keyway { width_mm: f64, depth_mm: f64 },
    Flat,
    Spline,
    Weld,
    CrossHole { diameter_mm: f64 },
    Groove { depth_mm: f64 },
    TrueSpot,
}

#[derive(Debug, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) enum Sleeve {
    Bare,
    CatHead { diameter_mm: f64, width_mm: f64 },
    Bush { diameter_mm: f64, width_mm: f64 },
}

#[derive(Debug, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) enum Cut {
    Depth { on_diameter_mm: f64 },
    ToDiameter { diameter_mm: f64 },
    ToDrawing { leave_on_diameter_mm: f64 },
}

#[derive(Debug, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) enum Force {
    FromCut,
    Typed { radial_n: f64, main_n: f64, feed_n: f64, follows_depth: bool },
}
