//! Where a rest may stand and where it cannot, as a list in its details.

use crate::advice::standing;
use crate::app::fields::Fields;
use crate::job::{Job, Setup};
use crate::study::reach::{RestReach, Standing};

/// The list, folded away; its title says so where the rest stands, at `z_mm`, in a place that is none for it.
pub fn standing_fold(fields: &mut Fields<'_>, job: &Job, setup: &Setup, reach: &RestReach, z_mm: f64) {
    let title = match reach.standing(z_mm) {
        Standing::No(_) => "Where it may stand (not here)",
        Standing::SpotFirst => "Where it may stand (spot first)",
        Standing::Free => "Where it may stand",
    };
    fields.fold("standing", title, |fields| {
        for (stretch, what) in reach.stretches() {
            let place = standing::from_to(job, &stretch);
            let line = match &what {
                Standing::Free => format!("May stand: {place}"),
                Standing::SpotFirst => format!("May stand once a true spot is turned: {place}"),
                Standing::No(why) => format!("Cannot stand: {place}: {}", standing::because(job, setup, why)),
            };
            fields.ui.label(egui::RichText::new(line).small());
        }
        fields.hint("From the jaw face to the middle of its jaws. Some of it hangs on the lathe's measures: see Lathe.");
    });
}
