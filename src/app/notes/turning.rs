//! Rows of the notes about what turns with the work: run-out as held and let go, and roundness, each where it is worst.

use egui::{RichText, Ui};

use crate::advice::why::Figure;
use crate::advice::words;
use crate::app::figure::row_ui;
use crate::app::{Commands, Palette, Results, Selected, View};
use crate::job::Units;
use crate::study::{PassResult, Station, Turned};

/// One of the readings of a place.
type Reading = fn(&Turned) -> f64;

/// Less than this nobody can read off an indicator.
const SEEN_MM: f64 = 0.0005;

/// Says nothing where all runs true.
pub fn turning_ui(
    ui: &mut Ui,
    view: &mut View,
    results: &Results,
    result: &PassResult,
    palette: &Palette,
    out: &mut Commands,
) {
    let units = results.job.units;
    let figures: [(Figure, &str, Reading); 3] = [
        (Figure::RunOut, "runs out, as held", |turned| turned.left_mm),
        (Figure::LetGo, "once let go", |turned| turned.free_mm),
        (Figure::OutOfRound, "out of round", |turned| turned.roundness_mm),
    ];
    let told: Vec<((Figure, &str), String)> = (figures.into_iter())
        .filter_map(|(figure, name, read)| Some(((figure, name), worst(result, read, units)?)))
        .collect();
    if !result.turns || told.is_empty() {
        return;
    }
    ui.add_space(4.0);
    ui.label(RichText::new("Turns with the work").strong().color(palette.run_out)).on_hover_text(
        "Run-out, as a total indicator reading, is no error of size. Let go means about the line through its centre \
         holes.",
    );
    ui.scope(|ui| {
        ui.spacing_mut().item_spacing.y = 0.0;
        for (name, value) in told {
            row_ui(ui, name, &value, out);
        }
    });
    let has_turn = results.shape.as_ref().is_some_and(|shape| !shape.turn_mm.is_empty());
    if has_turn && view.selected != Selected::Tool && ui.link("Show one turn at the tool").clicked() {
        view.selected = Selected::Tool;
    }
}

/// The largest of a figure over a pass, and where; nothing where it would read as nothing.
fn worst(result: &PassResult, read_mm: fn(&Turned) -> f64, units: Units) -> Option<String> {
    let read_mm = |station: &Station| read_mm(&station.turned);
    let at = result.stations.iter().max_by(|a, b| read_mm(a).total_cmp(&read_mm(b)))?;
    let value_mm = read_mm(at);
    let told = || format!("{} at {}", words::amount(value_mm, units), words::place(at.z_mm, units));
    (value_mm >= SEEN_MM).then(told)
}
