//! The rows of the jaws, shared by steady and follower rests.

use crate::advice::words;
use crate::app::fields::Fields;
use crate::job::quantity::{self, Kind};
use crate::job::{Jaw, Lathe, Stiffness, TipKind};

/// What a jaw can end in.
const TIPS: &[(TipKind, &str)] = &[
    (TipKind::Bronze, "bronze"),
    (TipKind::Brass, "brass"),
    (TipKind::CastIron, "cast iron"),
    (TipKind::Plastic, "plastic"),
    (TipKind::Roller, "roller"),
];

/// What the jaws end in, and how the tips are shaped. `work_diameter_mm` is what tips would be bored to.
pub fn tip_rows(
    fields: &mut Fields<'_>,
    tip: &mut TipKind,
    bored_mm: &mut Option<f64>,
    lathe: &Lathe,
    work_diameter_mm: f64,
) {
    fields.choice("Tips", tip, TIPS);
    if *tip == TipKind::Roller {
        let roller = quantity::show(lathe.roller_diameter_mm.value, Kind::Length, fields.units);
        let assumed = if lathe.roller_diameter_mm.assumed { " (assumed)" } else { "" };
        fields.hint(&format!("Rollers of {roller}{assumed}; their size is the lathe's: see Lathe."));
        return;
    }
    let mut bored = bored_mm.is_some();
    if fields.choice("Tips are", &mut bored, &[(false, "flat"), (true, "bored out")]) {
        *bored_mm = bored.then_some(work_diameter_mm);
    }
    if let Some(bored_mm) = bored_mm {
        fields.number("Bored to", bored_mm, Kind::Diameter);
    }
}

/// How far each jaw is set off the work, what is set most often at the lathe.
pub fn gap_rows(fields: &mut Fields<'_>, jaws: &mut [Jaw]) {
    for (index, jaw) in jaws.iter_mut().enumerate() {
        let label = format!("Jaw {}, {}", index + 1, words::jaw_side(jaw.angle_rad));
        fields.part(("gap", index), |fields| fields.number(&label, &mut jaw.gap_mm, Kind::Error));
    }
}

/// Stiffness of each jaw, folded away; `usual_k_n_per_mm` is put in where "rigid" is taken back.
pub fn stiffness_fold(fields: &mut Fields<'_>, jaws: &mut [Jaw], usual_k_n_per_mm: f64) {
    let all_assumed = jaws.iter().all(|jaw| matches!(jaw.k_n_per_mm, Stiffness::Spring(stated) if stated.assumed));
    let title = if all_assumed { "How stiff it is (assumed)" } else { "How stiff it is" };
    fields.part("stiffness", |fields| {
        fields.fold("stiffness", title, |fields| {
            for (index, jaw) in jaws.iter_mut().enumerate() {
                let label = format!("Jaw {} stiffness", index + 1);
                fields.stiffness(&label, &mut jaw.k_n_per_mm, Kind::Stiffness, usual_k_n_per_mm);
            }
        });
    });
}
