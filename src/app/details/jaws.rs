//! The rows of one jaw, shared by steady and follower rests.

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
    fields.heading(&format!("Jaw {number}, {}", side_words(jaw.angle_rad)));
    fields.number(&format!("Jaw {number} angle"), &mut jaw.angle_rad, Kind::Angle);
    fields.number(&format!("Jaw {number} gap"), &mut jaw.gap_mm, Kind::Error);
    fields.stiffness(&format!("Jaw {number} stiffness"), &mut jaw.k_n_per_mm, Kind::Stiffness, usual_k_n_per_mm);
}

/// Where a jaw stands, in words.
#[must_use]
pub fn side_words(angle_rad: f64) -> &'static str {
    const WORDS: [&str; 8] =
        ["rear", "rear, above", "top", "front, above", "front", "front, below", "bottom", "rear, below"];
    let eighths = (angle_rad.to_degrees() / 45.0).round().rem_euclid(8.0);
    WORDS.get(eighths as usize).copied().unwrap_or("rear")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn jaws_of_a_usual_steady_are_called_top_front_below_and_rear_below() {
        let words = [90.0_f64, 210.0, 330.0].map(|degrees| side_words(degrees.to_radians()));
        assert_eq!(words, ["top", "front, below", "rear, below"]);
        assert_eq!(side_words((-90.0_f64).to_radians()), "bottom");
    }
}
