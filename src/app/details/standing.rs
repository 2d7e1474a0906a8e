//! Where a rest may stand and where it cannot, as a list in its details, and what its jaws find there.

use crate::advice::standing;
use crate::advice::why::{Figure, title};
use crate::app::fields::Fields;
use crate::app::figure::sentence_ui;
use crate::app::{Commands, Results};
use crate::job::{Job, Rest, Setup, Subject};
use crate::study::reach::{RestReach, Standing};

/// What the fold of a rest is called, which says so where it stands in a place that is none for it.
#[must_use]
pub fn standing_title(reach: &RestReach, z_mm: f64) -> &'static str {
    match reach.standing(z_mm) {
        Standing::No(_) => "Where it may stand (not here)",
        Standing::SpotFirst => "Where it may stand (spot first)",
        Standing::Free => "Where it may stand",
    }
}

/// Where a rest may stand, or run, and where it cannot, as a list folded away.
pub fn standing_fold(fields: &mut Fields<'_>, job: &Job, setup: &Setup, reach: &RestReach, title: &str) {
    fields.fold("standing", title, |fields| {
        for (stretch, what) in reach.stretches() {
            let place = standing::from_to(&stretch, job.units);
            let line = match &what {
                Standing::Free => format!("{place}: free"),
                Standing::SpotFirst => format!("{place}: free, once a true spot is turned"),
                Standing::No(why) => format!("{place}: no, {}", standing::because(job, setup, why)),
            };
            fields.ui.label(egui::RichText::new(line).small());
        }
        fields
            .hint("From the jaw face to the middle of its jaws. Much of it hangs on the lathe's measures: see Lathe.");
    });
}

/// The true spot or the sleeve the rest still needs where it stands, and a button for it.
pub fn bearing_rows(fields: &mut Fields<'_>, setup: &Setup, rest: &Rest, results: &Results, out: &mut Commands) {
    let about = Subject::Rest(setup.id, rest.id);
    let told = results.findings.iter().filter(|finding| finding.rule == "bearing_spot" && finding.about == about);
    for finding in told {
        let figure = Figure::Spot(rest.id);
        let words = egui::RichText::new(&finding.text).small();
        sentence_ui(fields.ui, (figure, title(figure)), words, out).on_hover_text(&finding.why);
        if let Some((words, edit)) = &finding.remedy
            && fields.ui.button(words).clicked()
        {
            out.edits.push(edit.clone());
        }
    }
}
