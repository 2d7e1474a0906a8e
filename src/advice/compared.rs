//! Arrangements beside one another in words: a row a figure, the best of a row marked.

use super::places::{figure, figures_between};
use super::why::Figure;
use super::{Verdict, findings, outcome, words};
use crate::job::{Job, PassId, Setup, SetupId, TailKind, Units};
use crate::study::band::Curve;
use crate::study::compared::{Compared, SetupFigures, compared};
use crate::study::placement::Measure;

/// A line of the table.
#[derive(Clone, Debug, PartialEq)]
pub struct Row {
    pub name: &'static str,
    /// What explains it.
    pub figure: Option<Figure>,
    /// One for each arrangement, in the order they were given.
    pub cells: Vec<Cell>,
}

/// What stands in one field of the table.
#[derive(Clone, Debug, PartialEq, Default)]
pub struct Cell {
    pub text: String,
    /// Between what it may lie, where that is known.
    pub between: String,
    /// None is better, and not all are as good.
    pub is_best: bool,
    /// Less is better.
    rank: Option<f64>,
}

/// An arrangement worked out, and how much is found in it.
#[derive(Clone, Debug, PartialEq)]
pub struct Told {
    pub of: Compared,
    n_trouble: usize,
    n_watch: usize,
}

impl Told {
    /// Works a job out; nothing where it was told to give up.
    #[must_use]
    pub fn of(job: &Job, keep_going: &dyn Fn() -> bool) -> Option<Self> {
        let of = compared(job, keep_going)?;
        let found = findings(job, &of.result);
        let count = |verdict: Verdict| found.iter().filter(|finding| finding.verdict == verdict).count();
        Some(Self { n_trouble: count(Verdict::Trouble), n_watch: count(Verdict::Watch), of })
    }
}

/// What stands where there is no figure.
const NONE: &str = "\u{2013}";

/// The table of these arrangements, of the set-up and pass that in `job` are these; an arrangement that is not worked out
/// yet has empty cells.
#[must_use]
pub fn rows(job: &Job, setup: SetupId, pass: Option<PassId>, all: &[Option<&Told>]) -> Vec<Row> {
    let units = job.units;
    let seen: Vec<Option<Seen<'_>>> = all.iter().map(|one| Seen::of(job, setup, pass, (*one)?)).collect();
    let row = |name: &'static str, figure: Option<Figure>, read: &dyn Fn(&Seen<'_>) -> Cell| {
        let cells = seen.iter().map(|one| one.as_ref().map_or_else(Cell::default, read)).collect();
        let mut row = Row { name, figure, cells };
        row.mark_best();
        row
    };
    vec![
        row("Largest size error", Some(Figure::SetupSize), &|seen| seen.size(units)),
        row("of the pass looked at", Some(Figure::Error), &|seen| seen.pass(units)),
        row("Stiffness under the tool", Some(Figure::Stiffness), &|seen| seen.stiffness(units)),
        row("Largest load on a jaw", Some(Figure::JawLoad), &|seen| seen.jaw(units)),
        row("Chatter to be expected", Some(Figure::Chatter), &|seen| seen.chatter(units)),
        row("What is found", None, &|seen| seen.found()),
        row("Steady rests", None, &|seen| Cell::words(rests_words(seen.setup, units))),
        row("Held by", None, &|seen| Cell::words(held_words(seen.setup))),
    ]
}

impl Row {
    /// Marks what is best, and all that reads the same; nothing where all do.
    fn mark_best(&mut self) {
        let ranked = |cell: &&Cell| cell.rank.is_some_and(f64::is_finite);
        let best = self
            .cells
            .iter()
            .filter(ranked)
            .min_by(|a, b| a.rank.partial_cmp(&b.rank).unwrap_or(std::cmp::Ordering::Equal));
        let Some(text) = best.map(|cell| cell.text.clone()) else { return };
        let n_ranked = self.cells.iter().filter(|cell| cell.rank.is_some()).count();
        let is_best = |cell: &Cell| cell.rank.is_some() && cell.text == text;
        let n_best = self.cells.iter().filter(|cell| is_best(cell)).count();
        for cell in &mut self.cells {
            cell.is_best = n_best < n_ranked && is_best(cell);
        }
    }
}

impl Cell {
    fn words(text: String) -> Self {
        Self { text, ..Self::default() }
    }

    fn none() -> Self {
        Self::words(NONE.to_owned())
    }

    /// Figure and range in one line.
    #[must_use]
    pub fn whole(&self) -> String {
        if self.between.is_empty() { self.text.clone() } else { format!("{} ({})", self.text, self.between) }
    }
}

/// An arrangement and what of it is looked at.
struct Seen<'a> {
    told: &'a Told,
    setup: &'a Setup,
    pass: Option<PassId>,
}

impl<'a> Seen<'a> {
    fn of(job: &Job, setup: SetupId, pass: Option<PassId>, told: &'a Told) -> Option<Self> {
        let (setup, pass) = told.of.like(job, setup, pass)?;
        Some(Self { told, setup, pass })
    }

    fn figures(&self) -> Option<&SetupFigures> {
        self.told.of.of(self.setup.id)
    }

    fn size(&self, units: Units) -> Cell {
        let Some(size) = self.figures().and_then(|figures| figures.size) else { return Cell::none() };
        let between = size.between.and_then(|edges| figures_between(Measure::Size, size.has_limits, edges, units));
        Cell {
            text: figure(Measure::Size, size.has_limits, size.value, units),
            between: between.unwrap_or_default(),
            rank: Some(size.value),
            ..Cell::default()
        }
    }

    /// The largest error of the pass looked at.
    fn pass(&self, units: Units) -> Cell {
        let Some(result) = self.pass.and_then(|pass| self.told.of.result.pass(pass)) else { return Cell::none() };
        let Some((index, worst)) =
            result.stations.iter().enumerate().max_by(|a, b| a.1.error_mm.abs().total_cmp(&b.1.error_mm.abs()))
        else {
            return Cell::none();
        };
        let band = self.told.of.result.band(result.pass).filter(|band| band.is_wide());
        let edges_mm = band.and_then(|band| band.edges_mm(Curve::Error, result).get(index).copied());
        Cell {
            text: outcome::error_words(result.measured, worst.error_mm, units),
            between: edges_mm.map(|edges_mm| words::size_range(edges_mm, units)).unwrap_or_default(),
            rank: Some(worst.error_mm.abs()),
            ..Cell::default()
        }
    }

    fn stiffness(&self, units: Units) -> Cell {
        self.by(Measure::Springiness, |figures| figures.spring_mm_per_n, units)
    }

    fn chatter(&self, units: Units) -> Cell {
        self.by(Measure::Chatter, |figures| figures.chatter_per_mm, units)
    }

    fn by(&self, measure: Measure, read: impl Fn(&SetupFigures) -> Option<f64>, units: Units) -> Cell {
        let Some(value) = self.figures().and_then(read) else { return Cell::none() };
        Cell { text: figure(measure, false, value, units), rank: Some(value), ..Cell::default() }
    }

    fn jaw(&self, units: Units) -> Cell {
        let Some(jaw) = self.figures().and_then(|figures| figures.jaw) else { return Cell::none() };
        Cell {
            text: words::force(jaw.force_n, units),
            between: jaw.between_n.map(|edges_n| words::force_range(edges_n, units)).unwrap_or_default(),
            rank: Some(jaw.force_n),
            ..Cell::default()
        }
    }

    /// How many findings of each verdict.
    fn found(&self) -> Cell {
        let Told { n_trouble, n_watch, .. } = *self.told;
        let told: Vec<String> = [(n_trouble, Verdict::Trouble), (n_watch, Verdict::Watch)]
            .into_iter()
            .filter(|(n, _)| *n > 0)
            .map(|(n, verdict)| format!("{n} {}", verdict.word()))
            .collect();
        let text = if told.is_empty() { Verdict::Fine.word().to_owned() } else { told.join(", ") };
        Cell { text, rank: Some(1000.0 * n_trouble as f64 + n_watch as f64), ..Cell::default() }
    }
}

/// Where the steady rests stand: "310 and 520 mm", "none".
#[must_use]
pub fn rests_words(setup: &Setup, units: Units) -> String {
    if setup.rests.is_empty() {
        return "none".to_owned();
    }
    super::places::listed(setup.rests.iter().map(|rest| words::length(rest.z_mm, units)))
}

/// What holds the work besides steady rests: "chuck, centre, follower".
fn held_words(setup: &Setup) -> String {
    let mut parts = vec![words::drive_name(setup.drive.kind)];
    if setup.tail.kind != TailKind::Free {
        parts.push("centre");
    }
    if setup.follower.is_some() {
        parts.push("follower");
    }
    parts.join(", ")
}

/// What an arrangement is called where nobody named it: "no steady", "steady at 310 mm".
#[must_use]
pub fn usual_name(setup: &Setup, units: Units) -> String {
    let steadies = match setup.rests.len() {
        0 => "no steady".to_owned(),
        1 => format!("steady at {}", rests_words(setup, units)),
        _ => format!("steadies at {}", rests_words(setup, units)),
    };
    let follower = if setup.follower.is_some() { ", follower" } else { "" };
    let free = if setup.tail.kind == TailKind::Free { ", no tailstock" } else { "" };
    format!("{steadies}{follower}{free}")
}
