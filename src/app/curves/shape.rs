//! Where the axis of the work lies along its length with the tool at its present place, and what carries it.

use super::drawn::{BandKind, Drawn, LegendEntry, Look, MAY_LIE, Mark, MarkKind, Stroke, Trace, height_at, silence_of};
use crate::advice::words;
use crate::job::{TailKind, Units};
use crate::study::Shape;

/// The plot for the present look.
pub fn drawn(look: &Look<'_>) -> Drawn {
    let Some(shape) = &look.results.shape else {
        return Drawn::silent("The shape of the work could not be worked out here.");
    };
    if let Some(why) = silence_of(shape.status).filter(|_| shape.z_mm.is_empty()) {
        return Drawn::silent(why);
    }
    let palette = look.palette;
    let mut drawn = Drawn::default();
    for (letter, pinned) in look.pinned_shapes() {
        drawn.add_pinned(palette, Stroke::PinFine(letter), points(look, pinned, &pinned.y_mm));
        drawn.add_pinned(palette, Stroke::Pin(letter), points(look, pinned, &pinned.x_mm));
    }
    let edges_mm = look.shape_band().map(|band| band.edges_mm(shape));
    if let Some([away_mm, up_mm]) = &edges_mm {
        for (edges_mm, colour) in [(up_mm, palette.spring_y), (away_mm, palette.spring_x)] {
            drawn.add_band(look.band_between(shape.z_mm.iter().copied(), edges_mm, colour));
        }
    }
    let up = points(look, shape, &shape.y_mm);
    let away = points(look, shape, &shape.x_mm);
    if let Some(height) = height_at(&away, look.tool_z_mm).filter(|_| shape.cut.is_some()) {
        drawn.marks.push(Mark { at: [look.tool_z_mm, height], kind: MarkKind::Tool });
    }
    drawn.add(Trace { name: "up", points: up, colour: palette.spring_y, stroke: Stroke::Dotted });
    drawn.add(Trace { name: "away", points: away, colour: palette.spring_x, stroke: Stroke::Solid });
    drawn.marks.extend(support_places_mm(look).map(|z_mm| Mark { at: [z_mm, 0.0], kind: MarkKind::Support }));
    drawn.legend.push(LegendEntry::line("away from you", palette.spring_x, Stroke::Solid));
    drawn.legend.push(LegendEntry::line("up", palette.spring_y, Stroke::Dotted));
    if !drawn.bands.is_empty() {
        drawn.legend.push(LegendEntry::band(MAY_LIE, palette.band_of(palette.spring_x), BandKind::MayLie));
    }
    drawn.readout = readout(look, shape, edges_mm.as_ref());
    if edges_mm.is_some() {
        drawn.shorter_readouts.push(readout(look, shape, None));
    }
    drawn
}

fn points(look: &Look<'_>, shape: &Shape, heights_mm: &[f64]) -> Vec<[f64; 2]> {
    shape
        .z_mm
        .iter()
        .zip(heights_mm)
        .filter(|(_, height_mm)| height_mm.is_finite())
        .map(|(z_mm, height_mm)| [*z_mm, look.small(*height_mm)])
        .collect()
}

/// Jaw face or headstock centre, rests, follower and tailstock centre.
fn support_places_mm<'a>(look: &Look<'a>) -> impl Iterator<Item = f64> + use<'a> {
    let tail = (look.setup.tail.kind != TailKind::Free).then(|| look.setup.work_end_z_mm(&look.job.shaft));
    let follower = words::follower_z_mm(look.setup, look.pass.map(|(pass, _)| pass), look.tool_z_mm);
    let rests = look.setup.rests.iter().map(|rest| rest.z_mm);
    std::iter::once(0.0).chain(rests).chain(follower).chain(tail)
}

/// Lowest and highest of the lines away and up, at every node of the shape.
type Edges = [Vec<[f64; 2]>; 2];

fn readout(look: &Look<'_>, shape: &Shape, edges_mm: Option<&Edges>) -> String {
    let z_mm = look.reading_z_mm();
    let place = words::place(z_mm, look.units);
    let line = |heights_mm: &mut dyn Iterator<Item = f64>| {
        let line: Vec<[f64; 2]> =
            shape.z_mm.iter().copied().zip(heights_mm).map(|(z_mm, height_mm)| [z_mm, height_mm]).collect();
        height_at(&line, z_mm)
    };
    let read = |heights_mm: &[f64]| line(&mut heights_mm.iter().copied());
    let told = |plane: usize, value_mm: f64, say: fn(f64, Units) -> String| {
        let edge_mm = |edge: usize| line(&mut edges_mm?[plane].iter().map(|edges_mm| edges_mm[edge]));
        match (edge_mm(0), edge_mm(1)) {
            (Some(low_mm), Some(high_mm)) => words::with_range(value_mm, [low_mm, high_mm], look.units, say),
            _ => say(value_mm, look.units),
        }
    };
    match (read(&shape.x_mm), read(&shape.y_mm)) {
        (Some(x_mm), Some(y_mm)) => {
            let (away, up) = (told(0, x_mm, words::away_or_toward), told(1, y_mm, words::up_or_down));
            // Where room is short, what lies so is known from the plot's name.
            let verb = if edges_mm.is_some() || look.shape_band().is_none() { "the axis lies " } else { "" };
            format!("at {place}: {verb}{away}, {up}")
        }
        _ => format!("at {place}: no work there"),
    }
}
