//! Format 2 of the job file, frozen: a change of the document makes a new format, never a change here.
//!
//! What turns with the work, heat, jaw friction, tips, spreads and the title block came with it; all else is as in
//! format 1 and uses its types. Units as everywhere inside. Every field must stand in the file, but for those with a
//! default: they came after files of this format had been written, and such files go on reading. None may be added.

use serde::{Deserialize, Serialize};

use super::v1::{
    BoreLand, Cut, DriveKind, Feature, FollowerSide, Force, Hold, Jaw, Land, Material, Reading, SetTo, Sleeve, Stated,
    Stiffness, TailKind, TipKind, Tool, Units, WantedLand,
};
use super::v2_usual as usual;
use crate::job::{PassId, RestId, SetupId};

#[derive(Debug, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Job {
    pub format: u32,
    pub title: String,
    pub notes: String,
    #[serde(default)]
    pub title_block: TitleBlock,
    pub units: Units,
    pub shaft: Shaft,
    pub lathe: Lathe,
    pub setups: Vec<Setup>,
    pub readings: Vec<Reading>,
    pub spread: Spread,
    pub next_id: u32,
}

#[derive(Debug, Default, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct TitleBlock {
    pub part: String,
    pub owner: String,
    pub date: String,
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
    pub bow_at_rad: f64,
}

#[derive(Debug, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct CentreHole {
    pub pilot_mm: f64,
    pub off_tir_mm: f64,
    pub off_at_rad: f64,
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
    #[serde(default = "usual::holder_left")]
    pub holder_left_mm: Stated,
    #[serde(default = "usual::holder_right")]
    pub holder_right_mm: Stated,
    #[serde(default = "usual::nearest_to_jaws")]
    pub nearest_to_jaws_mm: Stated,
    #[serde(default = "usual::wings_pass_tailstock")]
    pub wings_pass_tailstock: bool,
    pub rest_base_mm: Stated,
    #[serde(default)]
    pub wings_pass_rest: bool,
    pub rest_jaw_width_mm: Stated,
    pub rest_min_diameter_mm: Stated,
    pub rest_max_diameter_mm: Stated,
    #[serde(default = "usual::rest_bore")]
    pub rest_bore_mm: Stated,
    pub follower_min_diameter_mm: Stated,
    pub follower_max_diameter_mm: Stated,
    #[serde(default = "usual::follower_width")]
    pub follower_width_mm: Stated,
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
    pub tailstock_axial_k_n_per_mm: Stiffness,
    pub spring_centre_k_n_per_mm: Stated,
    pub pad_length_mm: Stated,
    pub roller_diameter_mm: Stated,
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
    pub warmer_by_k: f64,
    pub jaw_friction: bool,
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
    pub runout_at_rad: f64,
    pub grip_force_n: Stated,
    pub dog: Dog,
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
    pub runout_tir_mm: f64,
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
    pub spot: Spot,
    pub tip_bored_mm: Option<f64>,
    pub jaws: Vec<Jaw>,
}

#[derive(Debug, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Follower {
    pub distance_mm: f64,
    pub side: FollowerSide,
    pub tip: TipKind,
    pub tip_bored_mm: Option<f64>,
    pub start_mm: f64,
    pub rear_jaw: Jaw,
    pub top_jaw: Jaw,
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
#[serde(deny_unknown_fields)]
pub(super) struct Spread {
    pub main_ratio: f64,
    pub radial_ratio: f64,
    pub stiffness_factor: f64,
    pub damping_ratio: Stated,
}

#[derive(Debug, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Dog {
    pub kind: DogKind,
    pub tail_radius_mm: Stated,
    pub tail_reach_mm: Stated,
    #[serde(default = "usual::dog_length")]
    pub length_mm: Stated,
}

#[derive(Debug, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Spot {
    pub n_lobes: u32,
    pub height_mm: f64,
}

#[derive(Debug, Serialize, Deserialize)]
pub(super) enum DogKind {
    OneTail,
    TwoTails,
}

#[derive(Debug, Serialize, Deserialize)]
pub(super) enum PassKind {
    Turn,
    Spring,
    Thread,
    Face,
    Drill,
    Bore,
    Groove,
    Part,
}
