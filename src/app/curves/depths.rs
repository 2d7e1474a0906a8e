//! The depth from which chatter is to be expected along the chosen pass, at the worst speed, against the depth it takes.
//!
//! An estimate on a stated damping, never a promise of quiet below it. Heights are in mm or inches on diameter: the only
//! plot that is not about small differences.

use super::drawn::{
    Band, BandKind, Drawn, LegendEntry, Look, MAY_LIE, Mark, MarkKind, Stroke, Trace, height_at, silence_of,
};
use crate::advice::words;
use crate::job::Units;

/// The limit rises out of sight beside a support; so much of it is shown above the least of it and the depth taken.
const MAY_STRETCH: f64 = 3.0;

/// The plot for the present look.
pub fn drawn(look: &Look<'_>) -> Drawn {
    let Some((pass, result)) = look.pass else {
        return Drawn::silent("Choose a pass to see from which depth chatter is to be expected.");
    };
    if let Some(why) = silence_of(result.status) {
        return Drawn::silent(why);
    }
    let depths = look.results.depths.as_ref().filter(|depths| depths.pass == pass.id);
    let band = look.results.dear_bands.depths(pass.id).filter(|_| look.bands_shown);
    let edges: Vec<(f64, [f64; 2])> = match (depths, band) {
        (Some(depths), Some(band)) => {
            let edges =
                band.edges_mm(&depths.limits).into_iter().map(|edges_mm| edges_mm.map(|edge| height(look, edge)));
            depths.limits.iter().map(|limit| limit.z_mm).zip(edges).collect()
        }
        _ => Vec::new(),
    };
    let limits: Vec<[f64; 2]> = depths.map_or_else(Vec::new, |depths| {
        depths.limits.iter().map(|limit| [limit.z_mm, height(look, limit.limit_on_diameter_mm)]).collect()
    });
    if limits.is_empty() {
        return Drawn::silent(
            "No depth was found here from which chatter would be to be expected; no promise of quiet.",
        );
    }
    let palette = look.palette;
    let taken: Vec<[f64; 2]> = (result.stations.iter())
        .map(|station| [station.z_mm, height(look, (station.old_diameter_mm - station.wanted_diameter_mm).max(0.0))])
        .collect();
    let mut drawn = Drawn { whole_unit: true, ..Drawn::default() };
    taken.iter().for_each(|point| drawn.must_see(point[1]));
    drawn.must_see(limits.iter().map(|point| point[1]).fold(f64::INFINITY, f64::min));
    drawn.may_see(limits.iter().map(|point| point[1]), MAY_STRETCH);
    if !edges.is_empty() {
        // The upper edge rises out of sight as the limit does: what fits is seen.
        drawn.must_see(edges.iter().map(|(_, edges)| edges[0]).fold(f64::INFINITY, f64::min));
        drawn.bands.push(Band::between(palette.band_of(palette.watch), edges.iter().copied()));
    }
    let line = |name, points, colour, stroke| Trace { name, points, colour, stroke };
    let deeper = deeper(&taken, &limits);
    drawn.traces.push(line("taken", taken, palette.ink, Stroke::Dashed));
    for run in deeper {
        drawn.traces.push(line("deeper", run, palette.watch, Stroke::Thick));
    }
    if let Some(at_tool) = height_at(&limits, look.tool_z_mm) {
        drawn.marks.push(Mark { at: [look.tool_z_mm, at_tool], kind: MarkKind::Tool });
    }
    drawn.readout = readout(look, &limits, &drawn.traces[0].points, &edges);
    if !edges.is_empty() {
        drawn.shorter_readouts.push(readout(look, &limits, &drawn.traces[0].points, &[]));
    }
    drawn.shorter_readouts.extend(shortest_readouts(look, &limits, &drawn.traces[0].points));
    drawn.traces.push(line("limit", limits, palette.watch, Stroke::Solid));
    drawn.legend = vec![
        LegendEntry::line("estimated", palette.watch, Stroke::Solid),
        LegendEntry::line("this pass", palette.ink, Stroke::Dashed),
    ];
    if !edges.is_empty() {
        drawn.legend.push(LegendEntry::band(MAY_LIE, palette.band_of(palette.watch), BandKind::MayLie));
    }
    if drawn.traces.iter().any(|trace| trace.name == "deeper") {
        drawn.legend.insert(1, LegendEntry::line("deeper", palette.watch, Stroke::Thick));
    }
    drawn
}

/// Millimetres or inches.
fn height(look: &Look<'_>, on_diameter_mm: f64) -> f64 {
    match look.units {
        Units::Metric => on_diameter_mm,
        Units::Inch => on_diameter_mm / 25.4,
    }
}

/// The stretches of what is taken that lie above the limit.
fn deeper(taken: &[[f64; 2]], limits: &[[f64; 2]]) -> Vec<Vec<[f64; 2]>> {
    let is_deeper = |point: &[f64; 2]| height_at(limits, point[0]).is_some_and(|limit| point[1] > limit);
    taken.chunk_by(|a, b| is_deeper(a) == is_deeper(b)).filter(|run| is_deeper(&run[0])).map(<[_]>::to_vec).collect()
}

/// A height of this plot in words.
fn show(look: &Look<'_>, height: f64) -> String {
    let unit_mm = if look.units == Units::Inch { 25.4 } else { 1.0 };
    words::depth(height * unit_mm, look.units)
}

/// Without the place, which the readouts of the other plots tell; then without the depth of the pass, which is drawn.
fn shortest_readouts(look: &Look<'_>, limits: &[[f64; 2]], taken: &[[f64; 2]]) -> Vec<String> {
    let z_mm = look.reading_z_mm();
    let at_tool = height_at(limits, z_mm).zip(height_at(taken, z_mm));
    at_tool.map_or_else(Vec::new, |(limit, taken)| {
        let [limit, taken] = [limit, taken].map(|height| show(look, height));
        vec![format!("about {limit} on \u{d8}; pass {taken}"), format!("about {limit} on \u{d8}")]
    })
}

fn readout(look: &Look<'_>, limits: &[[f64; 2]], taken: &[[f64; 2]], edges: &[(f64, [f64; 2])]) -> String {
    let z_mm = look.reading_z_mm();
    let place = words::place(z_mm, look.units);
    let show = |height: f64| show(look, height);
    match (height_at(limits, z_mm), height_at(taken, z_mm)) {
        (Some(limit), Some(taken)) => {
            let edge = |edge: usize| {
                let line: Vec<[f64; 2]> = edges.iter().map(|(z_mm, edges)| [*z_mm, edges[edge]]).collect();
                height_at(&line, z_mm).map(show)
            };
            let range = match (edge(0), edge(1)) {
                (Some(low), Some(high)) => format!(" ({low} to {high})"),
                _ => String::new(),
            };
            format!("at {place}: about {}{range} on \u{d8}; this pass {}", show(limit), show(taken))
        }
        _ => format!("at {place}: not cut in this pass"),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn stretches_above_the_limit_are_found_and_only_they() {
        let limits = [[0.0, 2.0], [10.0, 2.0], [20.0, 0.0]];
        let taken = [[0.0, 1.0], [8.0, 1.0], [16.0, 1.0], [19.0, 1.0], [30.0, 1.0]];
        assert_eq!(deeper(&taken, &limits), vec![vec![[16.0, 1.0], [19.0, 1.0]]]);
    }
}
