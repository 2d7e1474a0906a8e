//! What turns with the work, apart from size: run-out of the surface as total indicator reading, and roundness.
//!
//! One colour of its own, that of nothing fixed in space; the lines differ by their stroke. The old surface may run out
//! far more than the fresh one: it is drawn as far as it fits.

use super::drawn::{BandKind, Drawn, LegendEntry, Look, MAY_LIE, Mark, MarkKind, Stroke, Trace, height_at, silence_of};
use crate::advice::words;
use crate::study::band::Curve;
use crate::study::{Measured, PassResult, Turned};

/// The old surface may stretch the plot by so much.
const MAY_STRETCH: f64 = 3.0;

/// What is said where nothing turns with the work.
pub const ALL_TRUE: &str = "Everything runs true: nothing that turns with the work is bent or off.";

/// The plot for the present look.
pub fn drawn(look: &Look<'_>) -> Drawn {
    let Some((_, result)) = look.pass else {
        return Drawn::silent("Choose a pass to see how true the work runs.");
    };
    if let Some(why) = silence_of(result.status) {
        return Drawn::silent(why);
    }
    if result.measured != Measured::Outside {
        return Drawn::silent("This pass does not turn the outside: its run-out is not worked out.");
    }
    if !result.turns || result.stations.is_empty() {
        return Drawn::silent(ALL_TRUE);
    }
    let palette = look.palette;
    let mut drawn = Drawn::default();
    let line = |name: &'static str, points: Vec<[f64; 2]>, stroke: Stroke| Trace {
        name,
        points,
        colour: palette.run_out,
        stroke,
    };
    let left = points(look, result, left_mm);
    for read in [left_mm, free_mm, roundness_mm] {
        points(look, result, read).iter().for_each(|point| drawn.must_see(point[1]));
    }
    for (letter, pinned) in look.pinned_passes().filter(|(_, pinned)| pinned.turns) {
        drawn.add_pinned(palette, Stroke::PinFine(letter), points(look, pinned, free_mm));
        drawn.add_pinned(palette, Stroke::Pin(letter), points(look, pinned, left_mm));
    }
    for curve in [Curve::LetGo, Curve::RunOut] {
        if let Some(band) = look.band_round(curve, palette.run_out) {
            drawn.add_band(band);
        }
    }
    let before = points(look, result, before_mm);
    drawn.may_see(before.iter().map(|point| point[1]), MAY_STRETCH);
    drawn.traces.push(line("before", before, Stroke::Thin));
    drawn.add(line("round", points(look, result, roundness_mm), Stroke::Dotted));
    drawn.add(line("free", points(look, result, free_mm), Stroke::Dashed));
    if let Some(height) = height_at(&left, look.tool_z_mm) {
        drawn.marks.push(Mark { at: [look.tool_z_mm, height], kind: MarkKind::Tool });
    }
    drawn.add(line("left", left, Stroke::Solid));
    drawn.legend = legend(look, &drawn);
    (drawn.readout, drawn.shorter_readouts) = readouts(look, result);
    drawn
}

/// The most telling first: where room is short the last ones go.
fn legend(look: &Look<'_>, drawn: &Drawn) -> Vec<LegendEntry> {
    let own = look.palette.run_out;
    let entry = LegendEntry::line;
    let mut legend = vec![
        entry("as held", own, Stroke::Solid),
        entry("let go", own, Stroke::Dashed),
        entry("before", own, Stroke::Thin),
        entry("out of round", own, Stroke::Dotted),
    ];
    if !drawn.bands.is_empty() {
        legend.insert(2, LegendEntry::band(MAY_LIE, look.palette.band_of(own), BandKind::MayLie));
    }
    legend
}

fn left_mm(turned: &Turned) -> f64 {
    turned.left_mm
}

fn free_mm(turned: &Turned) -> f64 {
    turned.free_mm
}

fn before_mm(turned: &Turned) -> f64 {
    turned.before_mm
}

fn roundness_mm(turned: &Turned) -> f64 {
    turned.roundness_mm
}

fn points(look: &Look<'_>, result: &PassResult, read_mm: fn(&Turned) -> f64) -> Vec<[f64; 2]> {
    let points = result.stations.iter().map(|station| [station.z_mm, look.small(read_mm(&station.turned))]);
    points.filter(|point| point[1].is_finite()).collect()
}

/// The values at the cursor, with what was there before and without.
fn readouts(look: &Look<'_>, result: &PassResult) -> (String, Vec<String>) {
    let z_mm = look.reading_z_mm();
    let place = words::place(z_mm, look.units);
    let read = |read_mm: fn(&Turned) -> f64| {
        let line: Vec<[f64; 2]> =
            result.stations.iter().map(|station| [station.z_mm, read_mm(&station.turned)]).collect();
        height_at(&line, z_mm)
    };
    let told = |curve: Curve, value_mm: f64| look.told(curve, z_mm, value_mm, words::amount);
    match (read(left_mm), read(free_mm), read(roundness_mm), read(before_mm)) {
        (Some(left_mm), Some(free_mm), Some(round_mm), Some(before_mm)) => {
            let [round, before] = [round_mm, before_mm].map(|amount_mm| words::amount(amount_mm, look.units));
            let (left, free) = (told(Curve::RunOut, left_mm), told(Curve::LetGo, free_mm));
            let long = format!(
                "at {place}: runs out {left}, {free} once let go; out of round {round}; {before} before the cut"
            );
            let [left, free] = [left_mm, free_mm].map(|amount_mm| words::amount(amount_mm, look.units));
            let short = format!("at {place}: runs out {left}, {free} once let go");
            (long, vec![format!("{short}; out of round {round}"), short, format!("{left}, {free} once let go")])
        }
        _ => (format!("at {place}: not cut in this pass"), Vec::new()),
    }
}
