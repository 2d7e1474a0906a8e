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
    let plunges = matches!(new.kind, PassKind::Groove | PassKind::Part);
    if plunges {
        plunge_rows(fields, &mut new);
    } else {
        travel_rows(fields, &mut new);
    }
    if new.kind == PassKind::Part {
        fields.hint("The tool goes through to the middle of the work, or to its bore.");
    } else if new.kind != PassKind::Spring {
        cut_rows(fields, &mut new, results);
    }
    fields.heading("Speed and feed");
    fields.number("Feed per turn", &mut new.feed_mm_per_rev, Kind::Feed);
    if new.kind == PassKind::Thread {
        fields.hint("The feed per turn is the pitch.");
    }
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
    fields.hint(&format!("The tool goes straight in and is as wide as this stretch: {width}."));
}

fn cut_rows(fields: &mut Fields<'_>, pass: &mut Pass, results: &Results) {
    fields.heading("Cut");
    let before = match pass.cut {
        Cut::Depth { .. } => CutWay::Depth,
        Cut::ToDiameter { .. } => CutWay::ToDiameter,
        Cut::ToDrawing { .. } => CutWay::ToDrawing,
    };
    let mut way = before;
    let groove = pass.kind == PassKind::Groove;
    let mut ways = vec![
        (CutWay::Depth, if groove { "so deep" } else { "so much off" }),
        (CutWay::ToDiameter, if groove { "to the floor's diameter" } else { "to one diameter" }),
    ];
    // The drawing shows the outside of a thread or a groove, not its floor.
    if !matches!(pass.kind, PassKind::Groove | PassKind::Thread) || before == CutWay::ToDrawing {
        ways.push((CutWay::ToDrawing, "along the drawing"));
    }
    fields.choice("Dial set", &mut way, &ways);
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
    let (depth, floor) = match pass.kind {
        PassKind::Groove => ("Depth, on diameter", "Diameter of the floor"),
        PassKind::Thread => ("Depth, on diameter", "To core diameter"),
        _ => ("Off the diameter", "To diameter"),
    };
    match &mut pass.cut {
        Cut::Depth { on_diameter_mm } => fields.number(depth, on_diameter_mm, Kind::Diameter),
        Cut::ToDiameter { diameter_mm } => fields.number(floor, diameter_mm, Kind::Diameter),
        Cut::ToDrawing { leave_on_diameter_mm } => {
            fields.number("Leaving, on diameter", leave_on_diameter_mm, Kind::Diameter)
        }
    };
}

fn force_rows(fields: &mut Fields<'_>, pass: &mut Pass, results: &Results) {
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
                let largest = result.stations.iter().map(|station| station.fc_n).fold(0.0, f64::max);
                let shown = quantity::show(largest, Kind::Force, fields.units);
                fields.hint(&format!("Main force at most about {shown} in this pass, give or take a fifth."));
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
