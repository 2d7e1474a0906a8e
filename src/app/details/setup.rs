//! Details of a set-up, and of the job it belongs to.

use crate::app::Commands;
use crate::app::fields::Fields;
use crate::job::quantity::Kind;
use crate::job::{Edit, Job, Setup};

/// Every field of a set-up that is not a part of the holding.
pub fn setup_ui(fields: &mut Fields<'_>, job: &Job, setup: &Setup, out: &mut Commands) {
    let mut name = setup.name.clone();
    if fields.long_words("Name", &mut name, 1) {
        out.edits.push(Edit::RenameSetup { setup: setup.id, name });
    }
    let mut turned = setup.end_for_end;
    if fields.check("Shaft turned end for end", &mut turned) {
        out.edits.push(Edit::TurnEndForEnd(setup.id));
    }
    let mut z_mm = setup.work_start_z_mm;
    if fields.number("Work begins, from the jaw face", &mut z_mm, Kind::Length) {
        out.edits.push(Edit::SetWorkStart { setup: setup.id, z_mm });
    }
    fields.hint("Below 0 the work begins inside the jaws or the spindle.");

    fields.heading("The job");
    let mut title = job.title.clone();
    if fields.long_words("Title", &mut title, 1) {
        out.edits.push(Edit::SetTitle(title));
    }
    let mut notes = job.notes.clone();
    if fields.long_words("Remarks", &mut notes, 3) {
        out.edits.push(Edit::SetNotes(notes));
    }
}
