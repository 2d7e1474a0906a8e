//! Details of how sure the figures are: by how much what nobody confirmed may be off. The bands about the curves are
//! made of it.

use crate::app::Commands;
use crate::app::fields::Fields;
use crate::job::quantity::Kind;
use crate::job::{Edit, Job, Spread};

/// Every spread of the job.
pub fn sureness_ui(fields: &mut Fields<'_>, job: &Job, out: &mut Commands) {
    let mut new = job.spread;
    fields.hint("What you state yourself is taken as known; only assumed figures are varied.");
    fields.heading("Force of the cut, where it comes from the chip");
    fields.number("Main force, up or down by", &mut new.main_ratio, Kind::Percent);
    fields.number("Push away, up or down by", &mut new.radial_ratio, Kind::Percent);
    fields.hint("Printed tables differ by about a fifth for the main force, and by more for the push away.");
    fields.heading("Assumed stiffness");
    fields.number("Times or divided by", &mut new.stiffness_factor, Kind::Ratio);
    fields.hint("1.5: an assumed stiffness may be half as much again, or two thirds of it. 1: taken as it is.");
    fields.heading("How soon it stops ringing");
    fields.stated("Damping ratio", &mut new.damping_ratio, Kind::Percent);
    fields.hint("Of the held work: what is lost each swing, against what would stop it at once. 1 to 3 % are usual.");
    if new != Spread::usual() {
        fields.ui.add_space(8.0);
        if fields.ui.button("Put the usual figures in").clicked() {
            new = Spread::usual();
            fields.changed = true;
        }
    }
    if fields.changed {
        out.edits.push(Edit::SetSpread(new));
    }
}
