//! Details of a pass.

use crate::app::fields::Fields;
use crate::app::{Commands, Results};
use crate::job::quantity::{self, Kind};
use crate::job::{Cut, Edit, Force, Pass, PassKind, Setup};
use crate::study::Status;

const KINDS: &[(PassKind, &str)] = &[
    (PassKind::Turn, "turn"),
    (PassKind::Spring, "spring pass"),
    (PassKind::Thread, "thread"),
    (PassKind::Face, "face"),
    (PassKind::Drill, "drill"),
    (PassKind::Bore, "bore"),
    (PassKind::Groove, "groove"),
    (PassKind::Part, "part off"),
];

#[derive(Clone, Copy, PartialEq)]
enum CutWay {
    Depth,
    ToDiameter,
    ToDrawing,
}

/// Every field of a pass.
pub fn pass_ui(fields: &mut Fields<'_>, setup: &Setup, pass: &Pass, results: &Results, out: &mut Commands) {
    let mut new = pass.clone();
    fields.choice("Kind", &mut new.kind, KINDS);
    fields.number("Begins, from the jaw face", &mut new.from_z_mm, Kind::Length);
    fields.number("Ends, from the jaw face", &mut new.to_z_mm, Kind::Length);
    fields.ui.horizontal(|ui| {
        ui.label(if new.feeds_to_headstock() { "Feeds toward the headstock." } else { "Feeds toward the tailstock." });
        if ui.button("Reverse").clicked() {
            std::mem::swap(&mut new.from_z_mm, &mut new.to_z_mm);
            fields.changed = true;
        }
    });
    if new.kind != PassKind::Spring {
        cut_rows(fields, &mut new, results);
    }
    fields.heading("Speed and feed");
    fields.number("Feed per turn", &mut new.feed_mm_per_rev, Kind::Feed);
    fields.number("Speed", &mut new.speed_rpm, Kind::SpindleSpeed);
    force_rows(fields, &mut new, results);
    if fields.changed {
        out.edits.push(Edit::SetPass { setup: setup.id, pass: new });
    }
    fields.ui.add_space(8.0);
    if fields.ui.button("Remove this pass").clicked() {
        out.edits.push(Edit::RemovePass { setup: setup.id, pass: pass.id });
    }
}

fn cut_rows(fields: &mut Fields<'_>, pass: &mut Pass, results: &Results) {
    fields.heading("Cut");
    let before = match pass.cut {
        Cut::Depth { .. } => CutWay::Depth,
        Cut::ToDiameter { .. } => CutWay::ToDiameter,
        Cut::ToDrawing { .. } => CutWay::ToDrawing,
    };
    let mut way = before;
    fields.choice(
        "Dial set",
        &mut way,
        &[
            (CutWay::Depth, "so much off"),
            (CutWay::ToDiameter, "to one diameter"),
            (CutWay::ToDrawing, "along the drawing"),
        ],
    );
    if way != before {
        let middle = results.result.pass(pass.id).and_then(|pass| pass.stations.get(pass.stations.len() / 2));
        pass.cut = match way {
            CutWay::Depth => Cut::Depth {
                on_diameter_mm: middle
                    .map_or(1.0, |station| (station.old_diameter_mm - station.wanted_diameter_mm).max(0.1)),
            },
            CutWay::ToDiameter => Cut::ToDiameter {
                diameter_mm: middle.map_or(0.9 * results.job.shaft.max_diameter_mm(), |s| s.wanted_diameter_mm),
            },
            CutWay::ToDrawing => Cut::ToDrawing { leave_on_diameter_mm: 0.0 },
        };
    }
    match &mut pass.cut {
        Cut::Depth { on_diameter_mm } => fields.number("Off the diameter", on_diameter_mm, Kind::Diameter),
        Cut::ToDiameter { diameter_mm } => fields.number("To diameter", diameter_mm, Kind::Diameter),
        Cut::ToDrawing { leave_on_diameter_mm } => {
            fields.number("Leaving, on diameter", leave_on_diameter_mm, Kind::Diameter)
        }
    };
}

fn force_rows(fields: &mut Fields<'_>, pass: &mut Pass, results: &Results) {
    fields.heading("Force of the cut");
    let mut typed = matches!(pass.force, Force::Typed { .. });
    if fields.choice("Force", &mut typed, &[(false, "from the chip"), (true, "typed")]) {
        let present = results.shape.as_ref().and_then(|shape| shape.cut);
        pass.force = if typed {
            Force::Typed {
                radial_n: present.map_or(100.0, |cut| cut.fp_n.round()),
                main_n: present.map_or(250.0, |cut| cut.fc_n.round()),
                feed_n: present.map_or(100.0, |cut| cut.ff_n.round()),
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
                let largest = result.stations.iter().map(|station| station.fc_n).fold(0.0, f64::max);
                let shown = quantity::show(largest, Kind::Force, fields.units);
                fields.hint(&format!("Main force at most about {shown} in this pass, give or take a fifth."));
            }
        }
        Force::Typed { radial_n, main_n, feed_n, follows_depth } => {
            fields.number("Pushes the work away", radial_n, Kind::Force);
            fields.number("Pushes the work up", main_n, Kind::Force);
            fields.number("Along the work", feed_n, Kind::Force);
            fields.check("Falls as the real depth falls", follows_depth);
        }
    }
}
