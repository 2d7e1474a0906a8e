//! What a plot shows, as plain data: made by one file a plot, drawn by one function for all.
//!
//! z stays in mm; heights are in the small display unit (µm or thou), so that the grid falls on round numbers.

use egui::Color32;

use super::super::comparing::Pinned;
use super::super::{Palette, Results, View};
use crate::advice::words;
use crate::job::pins::LETTERS;
use crate::job::{Job, Pass, PassId, Setup, Units};
use crate::study::band::ShapeBand;
use crate::study::band::{Curve, PassBand};
use crate::study::{PassResult, Shape, Status};

/// How a line is drawn.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Stroke {
    Thin,
    Solid,
    Thick,
    Dashed,
    Dotted,
    /// Of what is pinned under a letter, counted from 0.
    Pin(usize),
    /// A second line of it.
    PinFine(usize),
}

/// One line of a plot: z in mm against the small unit.
#[derive(Clone, Debug, PartialEq)]
pub struct Trace {
    pub name: &'static str,
    pub points: Vec<[f64; 2]>,
    pub colour: Color32,
    pub stroke: Stroke,
}

/// What a shaded stretch stands for, which decides how it is drawn: told apart without colour.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum BandKind {
    /// What the drawing allows: outlined and hatched.
    Tolerance,
    /// Between what a curve may lie: plain.
    MayLie,
}

/// A shaded stretch between two heights.
#[derive(Clone, Debug, PartialEq)]
pub struct Band {
    pub kind: BandKind,
    pub colour: Color32,
    pub z_mm: Vec<f64>,
    pub lower: Vec<f64>,
    pub upper: Vec<f64>,
}

impl Band {
    /// An empty band to which stations are added.
    pub fn new(kind: BandKind, colour: Color32) -> Self {
        Self { kind, colour, z_mm: Vec::new(), lower: Vec::new(), upper: Vec::new() }
    }

    /// What a curve may lie between: places with lowest and highest.
    pub fn between(colour: Color32, edges: impl Iterator<Item = (f64, [f64; 2])>) -> Self {
        let mut band = Self::new(BandKind::MayLie, colour);
        for (z_mm, [low, high]) in edges.filter(|(_, edges)| edges.iter().all(|edge| edge.is_finite())) {
            band.z_mm.push(z_mm);
            band.lower.push(low);
            band.upper.push(high);
        }
        band
    }
}

/// What a mark stands for, which decides its shape.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum MarkKind {
    /// A place out of tolerance.
    Outside,
    /// A rest, a centre or the jaws under the work.
    Support,
    /// The place of the tool on a line.
    Tool,
}

/// A point of a plot.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Mark {
    pub at: [f64; 2],
    pub kind: MarkKind,
}

/// What a line of the legend shows before its words.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Sample {
    Line(Stroke),
    Band(BandKind),
}

/// A line of the legend.
#[derive(Clone, Debug, PartialEq)]
pub struct LegendEntry {
    pub text: &'static str,
    pub colour: Color32,
    pub sample: Sample,
}

impl LegendEntry {
    /// What a line stands for.
    pub fn line(text: &'static str, colour: Color32, stroke: Stroke) -> Self {
        Self { text, colour, sample: Sample::Line(stroke) }
    }

    /// What a shaded stretch stands for.
    pub fn band(text: &'static str, colour: Color32, kind: BandKind) -> Self {
        Self { text, colour, sample: Sample::Band(kind) }
    }
}

/// The legend's words for a band of [`BandKind::MayLie`].
pub const MAY_LIE: &str = "may lie between";

/// All of one plot.
#[derive(Clone, Debug, PartialEq, Default)]
pub struct Drawn {
    pub bands: Vec<Band>,
    /// Later ones lie over earlier ones.
    pub traces: Vec<Trace>,
    pub marks: Vec<Mark>,
    pub legend: Vec<LegendEntry>,
    /// Heights are in mm or inches, not in the small unit.
    pub whole_unit: bool,
    /// The values at the cursor, or at the tool, with between what they may lie.
    pub readout: String,
    /// The same in fewer and fewer words, for where room is short.
    pub shorter_readouts: Vec<String>,
    /// Why there is nothing to see.
    pub silence: Option<String>,
    /// Least and largest height that must be seen; zero always is.
    pub must_see: (f64, f64),
}

impl Drawn {
    /// A plot with nothing but a sentence.
    #[must_use]
    pub fn silent(why: impl Into<String>) -> Self {
        Self { silence: Some(why.into()), ..Self::default() }
    }

    /// Adds a line that must be seen whole.
    pub fn add(&mut self, trace: Trace) {
        for [_, height] in &trace.points {
            self.must_see(*height);
        }
        self.traces.push(trace);
    }

    /// Adds a line of a pinned arrangement.
    pub fn add_pinned(&mut self, palette: &Palette, stroke: Stroke, points: Vec<[f64; 2]>) {
        let (Stroke::Pin(letter) | Stroke::PinFine(letter)) = stroke else { return };
        self.add(Trace { name: LETTERS[letter], points, colour: palette.pinned[letter], stroke });
    }

    /// A line of what is pinned under this letter, counted from 0, is drawn.
    pub fn has_pinned(&self, letter: usize) -> bool {
        self.traces.iter().any(|trace| trace.stroke == Stroke::Pin(letter))
    }

    /// Widens what must be seen.
    pub fn must_see(&mut self, height: f64) {
        if height.is_finite() {
            self.must_see.0 = self.must_see.0.min(height);
            self.must_see.1 = self.must_see.1.max(height);
        }
    }

    /// Adds a shaded stretch that must be seen whole.
    pub fn add_band(&mut self, band: Band) {
        for height in band.lower.iter().chain(&band.upper) {
            self.must_see(*height);
        }
        self.bands.push(band);
    }

    /// Shows those heights that make what must be seen at most `times` larger; the others may lie outside.
    pub fn may_see(&mut self, heights: impl IntoIterator<Item = f64>, times: f64) {
        let reach = self.must_see.1.max(-self.must_see.0);
        for height in heights.into_iter().filter(|height| height.abs() <= reach * times) {
            self.must_see(height);
        }
    }
}

/// What the plots look at: the chosen set-up and pass, and the place whose values are read out.
#[derive(Clone, Copy, Debug)]
pub struct Look<'a> {
    pub job: &'a Job,
    pub setup: &'a Setup,
    pub pass: Option<(&'a Pass, &'a PassResult)>,
    pub results: &'a Results,
    pub pinned: &'a [Pinned],
    pub palette: &'a Palette,
    pub tool_z_mm: f64,
    pub cursor_z_mm: Option<f64>,
    pub units: Units,
    /// The band of the chosen pass, where bands are to be seen and this one has any width.
    pub band: Option<&'a PassBand>,
    /// The same for run-out.
    pub turning_band: Option<&'a PassBand>,
    pub bands_shown: bool,
}

impl<'a> Look<'a> {
    /// Between what the shape may lie, where that is to be seen.
    pub fn shape_band(&self) -> Option<&'a ShapeBand> {
        self.results.dear_bands.shape(self.setup.id, self.pass.map(|(pass, _)| pass.id))
    }

    /// The look of the window's present state; nothing where the set-up is gone.
    pub fn of(job: &'a Job, view: &'a View, results: &'a Results, palette: &'a Palette) -> Option<Self> {
        let setup = job.setup(view.setup)?;
        let pass = view.pass.and_then(|id| Some((setup.pass(id)?, results.result.pass(id)?)));
        let turning = results.dear_bands.turning.as_ref();
        let band_in = |find: &dyn Fn(PassId) -> Option<&'a PassBand>| {
            view.pass.filter(|_| view.bands_shown).and_then(find).filter(|band| band.is_wide())
        };
        Some(Self {
            job,
            setup,
            pass,
            results,
            pinned: &results.compared.pinned,
            palette,
            tool_z_mm: view.tool_z_mm,
            cursor_z_mm: view.cursor_z_mm,
            units: job.units,
            band: band_in(&|id| results.result.band(id)),
            turning_band: band_in(&|id| turning?.pass(id)),
            bands_shown: view.bands_shown,
        })
    }

    /// The place whose values are read out: the cursor, else the tool.
    pub fn reading_z_mm(&self) -> f64 {
        self.cursor_z_mm.unwrap_or(self.tool_z_mm)
    }

    /// What the pass came to in every pinned arrangement, with its letter counted from 0.
    pub fn pinned_passes(&self) -> impl Iterator<Item = (usize, &'a PassResult)> {
        self.pinned.iter().filter_map(|pinned| Some((pinned.letter, pinned.pass()?)))
    }

    /// The shape of the work in every pinned arrangement, with its letter counted from 0.
    pub fn pinned_shapes(&self) -> impl Iterator<Item = (usize, &'a Shape)> {
        self.pinned.iter().filter_map(|pinned| Some((pinned.letter, pinned.shape.as_ref()?)))
    }

    /// Passes of this set-up before `pass`, with their results.
    pub fn earlier_passes(&self, pass: PassId) -> impl Iterator<Item = &'a PassResult> {
        let results = self.results;
        self.setup
            .passes
            .iter()
            .take_while(move |other| other.id != pass)
            .filter_map(move |other| results.result.pass(other.id))
            .filter(|result| matches!(result.status, Status::Solved | Status::StoppedEarly))
    }

    /// The band round one curve of the chosen pass; nothing where it has none.
    pub fn band_round(&self, curve: Curve, colour: Color32) -> Option<Band> {
        let (_, result) = self.pass?;
        let edges_mm = self.band_of(curve)?.edges_mm(curve, result);
        let places_mm = result.stations.iter().map(|station| station.z_mm);
        Some(self.band_between(places_mm, &edges_mm, colour))
    }

    /// The band of the chosen pass that a curve is in.
    fn band_of(&self, curve: Curve) -> Option<&'a PassBand> {
        match curve {
            Curve::Error | Curve::SpringX | Curve::SpringY => self.band,
            Curve::RunOut | Curve::LetGo => self.turning_band,
        }
    }

    /// A band between small heights at places along the work.
    pub fn band_between(&self, places_mm: impl Iterator<Item = f64>, edges_mm: &[[f64; 2]], colour: Color32) -> Band {
        let edges = edges_mm.iter().map(|edges_mm| edges_mm.map(|edge_mm| self.small(edge_mm)));
        Band::between(self.palette.band_of(colour), places_mm.zip(edges))
    }

    /// Between what a curve of the chosen pass may lie at a place; nothing where it has no band.
    pub fn edges_at_mm(&self, curve: Curve, z_mm: f64) -> Option<[f64; 2]> {
        let (_, result) = self.pass?;
        let edges_mm = self.band_of(curve)?.edges_mm(curve, result);
        let line = |edge: usize| -> Vec<[f64; 2]> {
            result.stations.iter().zip(&edges_mm).map(|(station, edges_mm)| [station.z_mm, edges_mm[edge]]).collect()
        };
        Some([height_at(&line(0), z_mm)?, height_at(&line(1), z_mm)?])
    }

    /// The same look without the band.
    pub fn without_band(&self) -> Self {
        Self { band: None, turning_band: None, bands_shown: false, ..*self }
    }

    /// A small difference of a curve at a place in words, with its range where it has a band.
    pub fn told(&self, curve: Curve, z_mm: f64, value_mm: f64, say: impl Fn(f64, Units) -> String) -> String {
        match self.edges_at_mm(curve, z_mm) {
            Some(edges_mm) => words::with_range(value_mm, edges_mm, self.units, say),
            None => say(value_mm, self.units),
        }
    }

    /// Height in the small display unit.
    pub fn small(&self, value_mm: f64) -> f64 {
        value_mm * small_per_mm(self.units)
    }
}

/// Small display units (µm or thou) in a millimetre.
pub fn small_per_mm(units: Units) -> f64 {
    match units {
        Units::Metric => 1000.0,
        Units::Inch => 1000.0 / 25.4,
    }
}

/// Why a pass with this status shows no curve; nothing where it does.
pub fn silence_of(status: Status) -> Option<&'static str> {
    match status {
        Status::Solved | Status::StoppedEarly => None,
        Status::NotHeld => Some("Nothing holds the work: it would swing or fall, so there is nothing to draw."),
        Status::NothingToCut => Some("This pass does not meet the work: nothing is cut."),
    }
}

/// The height of a line at `z_mm`, straight between its points; nothing off its ends.
pub fn height_at(points: &[[f64; 2]], z_mm: f64) -> Option<f64> {
    let after = points.partition_point(|point| point[0] < z_mm);
    let next = points.get(after)?;
    if next[0] <= z_mm {
        return Some(next[1]);
    }
    let before = points.get(after.checked_sub(1)?)?;
    let along_ratio = (z_mm - before[0]) / (next[0] - before[0]);
    Some(before[1] + along_ratio * (next[1] - before[1]))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_height_between_two_points_lies_on_the_straight_line_and_off_the_ends_there_is_none() {
        let points = [[10.0, 0.0], [20.0, 5.0], [40.0, 5.0]];
        assert_eq!(height_at(&points, 10.0), Some(0.0));
        assert_eq!(height_at(&points, 15.0), Some(2.5));
        assert_eq!(height_at(&points, 40.0), Some(5.0));
        assert_eq!(height_at(&points, 9.9), None);
        assert_eq!(height_at(&points, 40.1), None);
        assert_eq!(height_at(&[], 0.0), None);
    }

    #[test]
    fn a_far_line_does_not_flatten_the_near_one() {
        let mut drawn = Drawn::default();
        drawn.must_see(10.0);
        drawn.may_see([25.0, 60.0, -500.0], 3.0);
        assert_eq!(drawn.must_see, (0.0, 25.0), "60 is more than three times 10, whatever came before it");
    }
}
