//! Details of a set-up, and of the job it belongs to.

use crate::app::Commands;
use crate::app::fields::Fields;
use crate::job::quantity::Kind;
use crate::job::{Edit, Job, Setup, TailKind};

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

    conditions(fields, setup, out);

    fields.heading("The job");
    let mut title = job.title.clone();
    if fields.long_words("Title", &mut title, 1) {
        out.edits.push(Edit::SetTitle(title));
    }
    let mut notes = job.notes.clone();
    if fields.long_words("Remarks", &mut notes, 3) {
        out.edits.push(Edit::SetNotes(notes));
    }
    fields.fold("title block", "Title block of the sheet", |fields| {
        let mut block = job.title_block.clone();
        let changed = [
            fields.words("Part number", &mut block.part),
            fields.words("Owner", &mut block.owner),
            fields.words("Date", &mut block.date),
        ];
        if changed.contains(&true) {
            out.edits.push(Edit::SetTitleBlock(block));
        }
        fields.hint("What is empty is left to be written by hand.");
    });
}

/// Warmth and friction, each where there is something for it to act on.
fn conditions(fields: &mut Fields<'_>, setup: &Setup, out: &mut Commands) {
    let (mut warmer_by_k, mut jaw_friction) = (setup.warmer_by_k, setup.jaw_friction);
    let has_centre = setup.tail.kind != TailKind::Free;
    let has_jaws = !setup.rests.is_empty() || setup.follower.is_some();
    if !has_centre && !has_jaws && warmer_by_k == 0.0 {
        return;
    }
    fields.heading("At work");
    let mut changed = false;
    if has_centre || warmer_by_k != 0.0 {
        changed |= fields.number("Work warmer than when the centre was set", &mut warmer_by_k, Kind::TemperatureRise);
        fields.hint("Work that warms grows against the tailstock centre. Ease the centre, and this is 0 again.");
    }
    if has_jaws {
        changed |= fields.check("Friction at the jaws drags on the work", &mut jaw_friction);
    }
    if changed {
        out.edits.push(Edit::SetConditions { setup: setup.id, warmer_by_k, jaw_friction });
    }
}
