//! The size error along the length after the chosen pass, against the size its dial stands at.
//!
//! The tolerance of each land is shaded where the pass goes to the drawing; what lies outside is drawn thick and
//! dotted as well as in another colour. The band round the curve says between what the error may lie. Earlier passes of
//! the set-up are thin, pinned arrangements are dashed, each in its own way and with its letter.

use super::drawn::{
    Band, BandKind, Drawn, LegendEntry, Look, MAY_LIE, Mark, MarkKind, Stroke, Trace, height_at, silence_of,
};
use crate::advice::size::{Allowed, allowed_at};
use crate::advice::{outcome, words};
use crate::study::band::Curve;
use crate::study::{Measured, PassResult, Station};

/// Stations further apart than this belong to separate stretches of a band.
const GAP_MM: f64 = 25.0;
/// An earlier pass or a wide tolerance may stretch the plot by so much.
const MAY_STRETCH: f64 = 4.0;

const THIS_PASS: &str = "after this pass";
const OUTSIDE: &str = "out of tolerance";
const EARLIER: &str = "earlier";

/// The plot for the present look.
pub fn drawn(look: &Look<'_>) -> Drawn {
    let Some((pass, result)) = look.pass else {
        return Drawn::silent("Choose a pass to see what it leaves.");
    };
    if let Some(why) = silence_of(result.status) {
        return Drawn::silent(why);
    }
    if let Some(words) = outcome::sentence(look.job, pass, result) {
        return Drawn::silent(words);
    }
    if result.stations.is_empty() {
        return Drawn::silent("Nothing was worked out for this pass.");
    }
    let palette = look.palette;
    let drawn_sizes = result.measured == Measured::Outside;
    let allowed: Vec<Option<Allowed>> = (result.stations.iter())
        .map(|station| allowed_at(look.job, look.setup, station).filter(|_| drawn_sizes))
        .collect();
    let points = error_points(look, result);

    let mut drawn = Drawn { bands: bands(look, &result.stations, &allowed), ..Drawn::default() };
    for point in &points {
        drawn.must_see(point[1]);
    }
    let band = look.band_round(Curve::Error, palette.error_curve);
    for height in band.iter().flat_map(|band| band.lower.iter().chain(&band.upper)) {
        drawn.must_see(*height);
    }
    let limits: Vec<f64> = drawn.bands.iter().flat_map(|band| band.lower.iter().chain(&band.upper)).copied().collect();
    let earlier: Vec<_> = (look.earlier_passes(pass.id))
        .filter(|earlier| earlier.measured == result.measured)
        .map(|earlier| error_points(look, earlier))
        .collect();
    let heights = earlier.iter().flatten().map(|point| point[1]);
    drawn.may_see(limits.into_iter().chain(heights), MAY_STRETCH);
    drawn.bands.extend(band);

    for points in earlier {
        drawn.traces.push(Trace { name: EARLIER, points, colour: palette.ink_weak, stroke: Stroke::Thin });
    }
    for (letter, pinned) in look.pinned_passes().filter(|(_, pinned)| pinned.measured == result.measured) {
        drawn.add_pinned(palette, Stroke::Pin(letter), error_points(look, pinned));
    }

    if let Some(height) = height_at(&points, look.tool_z_mm) {
        drawn.marks.push(Mark { at: [look.tool_z_mm, height], kind: MarkKind::Tool });
    }
    let outside = outside_runs(&result.stations, &allowed);
    drawn.add(Trace { name: THIS_PASS, points, colour: palette.error_curve, stroke: Stroke::Solid });
    for run in &outside {
        let points: Vec<[f64; 2]> =
            result.stations[run.clone()].iter().map(|station| [station.z_mm, look.small(station.error_mm)]).collect();
        let every = (points.len() / 12).max(1);
        drawn.marks.extend(points.iter().step_by(every).map(|at| Mark { at: *at, kind: MarkKind::Outside }));
        drawn.traces.push(Trace { name: OUTSIDE, points, colour: palette.trouble, stroke: Stroke::Thick });
    }
    drawn.legend = legend(look, &drawn);
    drawn.readout = readout(look, result);
    if look.band.is_some() {
        drawn.shorter_readouts.push(readout(&look.without_band(), result));
    }
    drawn
}

/// What is drawn, the most telling first: where room is short the last ones go.
fn legend(look: &Look<'_>, drawn: &Drawn) -> Vec<LegendEntry> {
    let palette = look.palette;
    let has = |name: &str| drawn.traces.iter().any(|trace| trace.name == name);
    let has_band = |kind| drawn.bands.iter().any(|band| band.kind == kind);
    let mut legend = vec![LegendEntry::line(THIS_PASS, palette.error_curve, Stroke::Solid)];
    if has(OUTSIDE) {
        legend.push(LegendEntry::line(OUTSIDE, palette.trouble, Stroke::Thick));
    }
    if has_band(BandKind::MayLie) {
        legend.push(LegendEntry::band(MAY_LIE, palette.band_of(palette.error_curve), BandKind::MayLie));
    }
    if has_band(BandKind::Tolerance) {
        legend.push(LegendEntry::band("tolerance", palette.tolerance_band, BandKind::Tolerance));
    }
    if has(EARLIER) {
        legend.push(LegendEntry::line(EARLIER, palette.ink_weak, Stroke::Thin));
    }
    legend
}

fn error_points(look: &Look<'_>, result: &PassResult) -> Vec<[f64; 2]> {
    result
        .stations
        .iter()
        .filter(|station| station.error_mm.is_finite())
        .map(|station| [station.z_mm, look.small(station.error_mm)])
        .collect()
}

/// One band for each unbroken stretch of a land that is cut to the drawing.
fn bands(look: &Look<'_>, stations: &[Station], allowed: &[Option<Allowed>]) -> Vec<Band> {
    let mut bands: Vec<Band> = Vec::new();
    let mut last: Option<(usize, f64)> = None;
    for (station, allowed) in stations.iter().zip(allowed) {
        let Some(Allowed { land, limits_mm: Some((lower_mm, upper_mm)) }) = allowed else {
            last = None;
            continue;
        };
        let goes_on = last.is_some_and(|(last_land, z_mm)| last_land == *land && station.z_mm - z_mm < GAP_MM);
        if !goes_on {
            bands.push(Band::new(BandKind::Tolerance, look.palette.tolerance_band));
        }
        if let Some(band) = bands.last_mut() {
            band.z_mm.push(station.z_mm);
            band.lower.push(look.small(*lower_mm));
            band.upper.push(look.small(*upper_mm));
        }
        last = Some((*land, station.z_mm));
    }
    bands
}

/// Unbroken runs of stations whose error is outside what is allowed.
fn outside_runs(stations: &[Station], allowed: &[Option<Allowed>]) -> Vec<std::ops::Range<usize>> {
    let is_outside = |index: usize| {
        allowed[index].and_then(|allowed| allowed.limits_mm).is_some_and(|(lower_mm, upper_mm)| {
            let error_mm = stations[index].error_mm;
            error_mm < lower_mm || error_mm > upper_mm
        })
    };
    let mut runs = Vec::new();
    let mut begin = None;
    for index in 0..=stations.len() {
        let outside = index < stations.len() && is_outside(index);
        match (outside, begin) {
            (true, None) => begin = Some(index),
            (false, Some(from)) => {
                runs.push(from..index);
                begin = None;
            }
            _ => {}
        }
    }
    runs
}

fn readout(look: &Look<'_>, result: &PassResult) -> String {
    let z_mm = look.reading_z_mm();
    let place = words::place(z_mm, look.units);
    let errors_mm: Vec<[f64; 2]> = result.stations.iter().map(|station| [station.z_mm, station.error_mm]).collect();
    let lefts_mm: Vec<[f64; 2]> =
        result.stations.iter().map(|station| [station.z_mm, station.left_diameter_mm]).collect();
    match (height_at(&errors_mm, z_mm), height_at(&lefts_mm, z_mm)) {
        (Some(error_mm), Some(left_mm)) => {
            let size = look.told(Curve::Error, z_mm, error_mm, |error_mm, units| {
                outcome::error_words(result.measured, error_mm, units)
            });
            let left = words::diameter(left_mm, look.units);
            if result.measured == Measured::ThreadRoot {
                let depth = outcome::depth_words(error_mm, look.units);
                format!("thread depth at {place}: {depth}, {size}, \u{d8} {left} left")
            } else {
                format!("at {place}: {size}, \u{d8} {left} left")
            }
        }
        _ => format!("at {place}: not cut in this pass"),
    }
}
