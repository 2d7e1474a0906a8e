//! Details of a pass.

use egui::RichText;

use super::pass_kind::{self, KINDS};
use crate::advice::why::Figure;
use crate::app::fields::Fields;
use crate::app::figure::sentence_ui;
use crate::app::{Commands, Results};
use crate::job::quantity::{self, Kind};
use crate::job::{Cut, Edit, Force, Pass, PassKind, Setup};
use crate::study::Status;

#[derive(Clone, Copy, PartialEq)]
enum CutWay {
    Depth,
    ToDiameter,
    ToDrawing,
}

/// Every field of a pass.
pub fn pass_ui(fields: &mut Fields<'_>, setup: &Setup, pass: &Pass, results: &Results, out: &mut Commands) {
    let mut new = pass.clone();
    if fields.choice("Kind", &mut new.kind, KINDS) {
        pass_kind::begin(&results.job, setup, &mut new);
    }
    if let Some(words) = pass_kind::hint(new.kind) {
        fields.hint(words);
    }
    if matches!(new.kind, PassKind::Groove | PassKind::Part) {
        plunge_rows(fields, &mut new);
    } else {
        travel_rows(fields, &mut new);
    }
    cut_rows(fields, &mut new, results);
    fields.heading("Speed and feed");
    let is_thread = new.kind == PassKind::Thread;
    fields.number(if is_thread { "Pitch" } else { "Feed per turn" }, &mut new.feed_mm_per_rev, Kind::Feed);
    fields.number("Speed", &mut new.speed_rpm, Kind::SpindleSpeed);
    if new.kind != PassKind::Drill {
        force_rows(fields, &mut new, results, out);
    }
    if is_thread
        && fields.ui.button(pass_kind::usual_passes_words(new.feed_mm_per_rev, fields.units)).clicked()
        && let Some(edit) = pass_kind::usual_passes(setup, &new)
    {
        out.edits.push(edit);
    } else if fields.changed {
        out.edits.push(Edit::SetPass { setup: setup.id, pass: new });
    }
    fields.ui.add_space(8.0);
    if fields.ui.button("Remove this pass").clicked() {
        out.edits.push(Edit::RemovePass { setup: setup.id, pass: pass.id });
    }
}

/// The stretch a tool travels, and which way.
fn travel_rows(fields: &mut Fields<'_>, pass: &mut Pass) {
    fields.number("Begins, from the jaw face", &mut pass.from_z_mm, Kind::Length);
    fields.number("Ends, from the jaw face", &mut pass.to_z_mm, Kind::Length);
    let words = if pass.feeds_to_headstock() { "Feeds toward the headstock." } else { "Feeds toward the tailstock." };
    fields.ui.horizontal_wrapped(|ui| {
        ui.label(words);
        if ui.button("Reverse").clicked() {
            std::mem::swap(&mut pass.from_z_mm, &mut pass.to_z_mm);
            fields.changed = true;
        }
    });
}

/// The stretch a tool as wide as itself goes into: it has two sides, and no way to travel.
fn plunge_rows(fields: &mut Fields<'_>, pass: &mut Pass) {
    fields.number("One side, from the jaw face", &mut pass.from_z_mm, Kind::Length);
    fields.number("Other side, from the jaw face", &mut pass.to_z_mm, Kind::Length);
    let (low_mm, high_mm) = pass.span_mm();
    let width = quantity::show(high_mm - low_mm, Kind::Diameter, fields.units);
    fields.hint(&format!("Width of the tool: {width}."));
}

fn cut_rows(fields: &mut Fields<'_>, pass: &mut Pass, results: &Results) {
    let Some(names) = pass_kind::cut_names(pass.kind) else { return };
    fields.heading("Cut");
    let before = match pass.cut {
        Cut::Depth { .. } => CutWay::Depth,
        Cut::ToDiameter { .. } => CutWay::ToDiameter,
        Cut::ToDrawing { .. } => CutWay::ToDrawing,
    };
    let mut way = before;
    let ways: Vec<(CutWay, &str)> = [
        names.depth.map(|(name, _)| (CutWay::Depth, name)),
        Some((CutWay::ToDiameter, names.to_diameter.0)),
        names.to_drawing.map(|(name, _)| (CutWay::ToDrawing, name)),
    ]
    .into_iter()
    .flatten()
    .collect();
    if ways.len() > 1 || before != ways[0].0 {
        fields.choice("Dial set", &mut way, &ways);
    }
    if way != before {
        let middle = results.result.pass(pass.id).and_then(|pass| pass.stations.get(pass.stations.len() / 2));
        pass.cut = match way {
            CutWay::Depth => Cut::Depth {
                on_diameter_mm: middle
                    .map_or(1.0, |station| (station.old_diameter_mm - station.wanted_diameter_mm).abs().max(0.1)),
            },
            CutWay::ToDiameter => Cut::ToDiameter {
                diameter_mm: middle.map_or(0.9 * results.job.shaft.max_diameter_mm(), |s| s.wanted_diameter_mm),
            },
            CutWay::ToDrawing => Cut::ToDrawing { leave_on_diameter_mm: 0.0 },
        };
    }
    let depth = names.depth.map_or("So much", |(_, name)| name);
    let leaving = names.to_drawing.map_or("Leaving, on diameter", |(_, name)| name);
    match &mut pass.cut {
        Cut::Depth { on_diameter_mm } => fields.number(depth, on_diameter_mm, Kind::Diameter),
        Cut::ToDiameter { diameter_mm } => fields.number(names.to_diameter.1, diameter_mm, Kind::Diameter),
        Cut::ToDrawing { leave_on_diameter_mm } => fields.number(leaving, leave_on_diameter_mm, Kind::Diameter),
    };
}

fn force_rows(fields: &mut Fields<'_>, pass: &mut Pass, results: &Results, out: &mut Commands) {
    let plunges = matches!(pass.kind, PassKind::Groove | PassKind::Part);
    fields.heading("Force of the cut");
    let mut typed = matches!(pass.force, Force::Typed { .. });
    if fields.choice("Force", &mut typed, &[(false, "from the chip"), (true, "typed")]) {
        let present = results.shape.as_ref().and_then(|shape| shape.cut);
        pass.force = if typed {
            Force::Typed {
                radial_n: present.map_or(100.0, |cut| cut.fp_n.round()),
                main_n: present.map_or(250.0, |cut| cut.fc_n.round()),
                feed_n: if plunges { 0.0 } else { present.map_or(100.0, |cut| cut.ff_n.round()) },
                follows_depth: true,
            }
        } else {
            Force::FromCut
        };
    }
    match &mut pass.force {
        Force::FromCut => {
            let result = results.result.pass(pass.id);
            if let Some(result) = result.filter(|result| result.status == Status::Solved) {
                let plunged = result.plunge.map_or(0.0, |plunge| plunge.fc_n);
                let largest = result.stations.iter().map(|station| station.fc_n).fold(plunged, f64::max);
                if largest <= 0.0 {
                    return;
                }
                let shown = quantity::show(largest, Kind::Force, fields.units);
                let words = format!("Main force at most about {shown} in this pass, give or take a fifth.");
                let words = RichText::new(words).weak().small();
                sentence_ui(fields.ui, (Figure::MainForce, "main force of the pass"), words, out);
            }
        }
        Force::Typed { radial_n, main_n, feed_n, follows_depth } => {
            fields.number("Pushes the work away", radial_n, Kind::Force);
            fields.number("Pushes the work up", main_n, Kind::Force);
            // A tool that goes straight in pushes nothing along the work.
            if !plunges || *feed_n != 0.0 {
                fields.number("Along the work", feed_n, Kind::Force);
            }
            fields.check("Falls as the real depth falls", follows_depth);
        }
    }
}
