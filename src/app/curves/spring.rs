//! How far the work springs at the tool along the chosen pass: sideways (away or toward you) and up or down,
//! each with the band between which it may lie.

use super::drawn::{BandKind, Drawn, LegendEntry, Look, MAY_LIE, Mark, MarkKind, Stroke, Trace, height_at, silence_of};
use crate::advice::words;
use crate::job::PassKind;
use crate::study::band::Curve;
use crate::study::{PassResult, Station};

/// The plot for the present look.
pub fn drawn(look: &Look<'_>) -> Drawn {
    let Some((pass, result)) = look.pass else {
        return Drawn::silent("Choose a pass to see how the work springs under it.");
    };
    if let Some(why) = silence_of(result.status) {
        return Drawn::silent(why);
    }
    if result.stations.is_empty() {
        return Drawn::silent(match pass.kind {
            PassKind::Drill => "A drill pushes along the work only: the work stays as it lies.",
            _ => "The tool of this pass has one place along the work: its shape shows how it lies there.",
        });
    }
    let palette = look.palette;
    let mut drawn = Drawn::default();
    for (letter, pinned) in look.pinned_passes() {
        drawn.add_pinned(palette, Stroke::PinFine(letter), points(look, pinned, up_mm));
        drawn.add_pinned(palette, Stroke::Pin(letter), points(look, pinned, away_mm));
    }
    for (curve, colour) in [(Curve::SpringY, palette.spring_y), (Curve::SpringX, palette.spring_x)] {
        if let Some(band) = look.band_round(curve, colour) {
            drawn.add_band(band);
        }
    }
    let up = points(look, result, up_mm);
    let away = points(look, result, away_mm);
    for line in [&up, &away] {
        if let Some(height) = height_at(line, look.tool_z_mm) {
            drawn.marks.push(Mark { at: [look.tool_z_mm, height], kind: MarkKind::Tool });
        }
    }
    drawn.add(Trace { name: "up", points: up, colour: palette.spring_y, stroke: Stroke::Dotted });
    drawn.add(Trace { name: "away", points: away, colour: palette.spring_x, stroke: Stroke::Solid });
    drawn.legend.push(LegendEntry::line("away from you", palette.spring_x, Stroke::Solid));
    drawn.legend.push(LegendEntry::line("up", palette.spring_y, Stroke::Dotted));
    if !drawn.bands.is_empty() {
        drawn.legend.push(LegendEntry::band(MAY_LIE, palette.band_of(palette.spring_x), BandKind::MayLie));
    }
    drawn.readout = readout(look, result);
    if look.band.is_some() {
        drawn.shorter_readouts.push(readout(&look.without_band(), result));
    }
    drawn
}

fn away_mm(station: &Station) -> f64 {
    station.spring_x_mm
}

fn up_mm(station: &Station) -> f64 {
    station.spring_y_mm
}

fn points(look: &Look<'_>, result: &PassResult, read_mm: fn(&Station) -> f64) -> Vec<[f64; 2]> {
    result
        .stations
        .iter()
        .map(|station| [station.z_mm, look.small(read_mm(station))])
        .filter(|point| point[1].is_finite())
        .collect()
}

fn readout(look: &Look<'_>, result: &PassResult) -> String {
    let z_mm = look.reading_z_mm();
    let place = words::place(z_mm, look.units);
    let read = |read_mm: fn(&Station) -> f64| {
        let line: Vec<[f64; 2]> = result.stations.iter().map(|station| [station.z_mm, read_mm(station)]).collect();
        height_at(&line, z_mm)
    };
    match (read(away_mm), read(up_mm)) {
        (Some(x_mm), Some(y_mm)) => {
            let away = look.told(Curve::SpringX, z_mm, x_mm, words::away_or_toward);
            let up = look.told(Curve::SpringY, z_mm, y_mm, words::up_or_down);
            format!("at {place}: {away}, {up}")
        }
        _ => format!("at {place}: not cut in this pass"),
    }
}
