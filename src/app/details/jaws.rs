//! The rows of one jaw, shared by steady and follower rests.

use crate::advice::words;
use crate::app::fields::Fields;
use crate::job::quantity::Kind;
use crate::job::{Jaw, TipKind};

/// What a jaw can end in.
pub const TIPS: &[(TipKind, &str)] = &[
    (TipKind::Bronze, "bronze"),
    (TipKind::Brass, "brass"),
    (TipKind::CastIron, "cast iron"),
    (TipKind::Plastic, "plastic"),
    (TipKind::Roller, "roller"),
];

/// Angle, gap and stiffness of a jaw; `usual_k_n_per_mm` is put in where "rigid" is taken back.
pub fn jaw_rows(fields: &mut Fields<'_>, number: usize, jaw: &mut Jaw, usual_k_n_per_mm: f64) {
    fields.heading(&format!("Jaw {number}, {}", words::jaw_side(jaw.angle_rad)));
    fields.number(&format!("Jaw {number} angle"), &mut jaw.angle_rad, Kind::Angle);
    fields.number(&format!("Jaw {number} gap"), &mut jaw.gap_mm, Kind::Error);
    fields.stiffness(&format!("Jaw {number} stiffness"), &mut jaw.k_n_per_mm, Kind::Stiffness, usual_k_n_per_mm);
}
