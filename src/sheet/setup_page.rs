//! The pages of one set-up, one page where that can be: the drawing with distances, coverage and curve under it across
//! some columns, everything else in columns under and beside it. Lettering and scale of the drawing give way, in this
//! order, until all stands on one page.

use super::coverage_bar::{self, BarAt};
use super::distances::{self, RowAt};
use super::flow::{Columns, Flow, GUTTER_MM, levelled};
use super::hand::{CLOSE, CLOSEST, Hand, OPEN};
use super::piece::{Block, Piece, line};
use super::scale::Scale;
use super::sizes::Predicted;
use super::table::Table;
use super::{
    Choices, Draft, curve, ends, measure_line, procedure, sizes, support_table, symbols, title_block, view, work_tables,
};
use crate::advice::{Finding, words};
use crate::job::{Job, Setup};
use crate::picture::lettering::Lettering;
use crate::picture::{Align, Item, Picture, Role, at};
use crate::study::JobResult;
use crate::study::coverage::Coverage;

/// The drawing takes no more than this of the height.
const VIEW_SHARE: f64 = 0.36;
/// The chuck's side of the drawing is at least so wide, since the figures of the curve stand under it.
const LEAST_LEFT_MM: f64 = 15.0;
/// A column is at least so wide.
const LEAST_COLUMN_MM: f64 = 78.0;
/// Words in narrower columns are not written large.
const LEAST_OPEN_MM: f64 = 85.0;
/// So many scales below the largest that fits are tried.
const SCALES_BELOW: usize = 2;

/// "Set-up 1 of 2: Impeller end".
pub(super) fn name(job: &Job, index: usize) -> String {
    let number = match job.setups.len() {
        1 => "Set-up".to_owned(),
        n => format!("Set-up {} of {n}", index + 1),
    };
    match job.setups[index].name.trim() {
        "" => number,
        name => format!("{number}: {}", name.replace('\n', " ")),
    }
}

/// What all pages of a job have in common.
#[derive(Clone, Copy)]
pub(super) struct Given<'a> {
    pub job: &'a Job,
    pub result: &'a JobResult,
    pub findings: &'a [Finding],
    pub coverage: &'a Coverage,
    pub choices: &'a Choices,
    /// The user's own words are on these pages, not on a cover.
    pub with_remarks: bool,
}

/// One way to lay a set-up out.
#[derive(Clone, Copy)]
struct Way {
    hand: Hand,
    scale: Scale,
    /// The drawing goes across so many columns.
    n_across: usize,
    keep_whole: bool,
}

/// A set-up with what does not hang on the way it is laid out.
struct SetupPages<'a> {
    given: Given<'a>,
    setup: &'a Setup,
    name: String,
    drawn: Picture,
    predicted: Vec<Predicted>,
    columns: Columns,
}

/// Everything on paper about one set-up.
pub(super) fn drafts(given: Given<'_>, index: usize) -> Vec<Draft> {
    let Given { job, result, choices, .. } = given;
    let setup = &job.setups[index];
    let mut drawn = view::view(job, result, setup, choices.symbols);
    if choices.symbols {
        drawn.bounds = symbols::with_signs(drawn.bounds, job, setup);
    }
    let pages = SetupPages {
        given,
        setup,
        name: name(job, index),
        drawn,
        predicted: sizes::predicted(job, result, setup),
        columns: Columns::of(choices.paper, LEAST_COLUMN_MM),
    };
    let mut best: Option<(Way, Vec<Vec<Item>>)> = None;
    for way in pages.ways() {
        let laid = pages.laid(way, None);
        let n_pages = laid.len();
        if best.as_ref().is_none_or(|(_, known)| n_pages < known.len()) {
            best = Some((way, laid));
        }
        if n_pages == 1 {
            break;
        }
    }
    let Some((way, mut laid)) = best else { return Vec::new() };
    if laid.len() == 1 {
        laid = levelled(pages.columns.room, laid, |foot_mm| pages.laid(way, Some(foot_mm)));
    }
    let n_pages = laid.len();
    let draft = |(page, items)| Draft {
        items,
        setup: Some(setup.id),
        scale: (page == 0).then_some(way.scale),
        goes_on: page + 1 < n_pages,
    };
    laid.into_iter().enumerate().map(draft).collect()
}

impl SetupPages<'_> {
    /// The ways to try, the best looking first.
    fn ways(&self) -> Vec<Way> {
        let fitting = |scale: Scale| Some((scale, self.columns_for(scale)?));
        let mut scales: Vec<(Scale, usize)> = match self.given.choices.scale.and_then(fitting) {
            Some(asked) => vec![asked],
            None => Scale::all().filter_map(fitting).take(1 + SCALES_BELOW).collect(),
        };
        if scales.is_empty() {
            // Too long for any paper: as small as can be.
            scales.push((Scale { paper: 1, real: 10_000 }, self.columns.n));
        }
        let mut ways = Vec::new();
        for (hand, n_scales, keep_whole) in [
            (OPEN, 1, true),
            (CLOSE, 2, true),
            (CLOSEST, 1, true),
            (CLOSEST, 1, false),
            (CLOSEST, 2, true),
            (CLOSE, 2, false),
            (CLOSEST, 2, false),
            (CLOSEST, 1 + SCALES_BELOW, false),
        ] {
            if hand == OPEN && self.columns.width_mm < LEAST_OPEN_MM {
                continue;
            }
            let scales = scales.iter().take(n_scales);
            ways.extend(scales.map(|&(scale, n_across)| Way { hand, scale, n_across, keep_whole }));
        }
        ways
    }

    /// What is said where the scale that was asked for does not fit.
    fn refused(&self, way: Way) -> Option<String> {
        let asked = self.given.choices.scale.filter(|asked| *asked != way.scale)?;
        let paper = self.given.choices.paper.size.name();
        Some(format!("At {asked} the drawing does not fit on {paper}: drawn at {}.", way.scale))
    }

    /// Across how many columns the drawing goes at a scale; nothing where it fits across no number of them.
    fn columns_for(&self, scale: Scale) -> Option<usize> {
        let ratio = scale.ratio();
        let around_mm = self.around_mm();
        let bounds = self.drawn.bounds;
        // Whatever the scale, the figures of the curve need their room left of the datum.
        let across_mm =
            (around_mm - bounds.left_mm * ratio).max(LEAST_LEFT_MM) + bounds.right_mm.max(0.0) * ratio + around_mm;
        let high_mm = (bounds.top_mm - bounds.bottom_mm) * ratio + 2.0 * around_mm;
        let room = self.columns.room;
        if high_mm > VIEW_SHARE * (room.top_mm - room.bottom_mm) {
            return None;
        }
        let least = 2.min(self.columns.n);
        (least..=self.columns.n).find(|n| across_mm <= self.columns.across_mm(*n))
    }

    /// Room on paper around the drawing, for signs.
    fn around_mm(&self) -> f64 {
        if self.given.choices.symbols { symbols::ROOM_MM } else { 0.0 }
    }

    /// The pages of one way, the columns of the first ending at `foot_mm` or at the margin.
    fn laid(&self, way: Way, foot_mm: Option<f64>) -> Vec<Vec<Item>> {
        let Given { job, result, findings, choices, with_remarks, .. } = self.given;
        let (setup, room) = (self.setup, self.columns.room);
        let (width_mm, hand) = (self.columns.width_mm, way.hand);
        let (mut items, top_mm, cut) = self.title(way);
        let (head, height_mm) = self.head(way, top_mm);
        items.extend(head);
        let tops_mm = (0..self.columns.n).map(|column| if column < way.n_across { top_mm - height_mm } else { top_mm });
        let again = format!("{}, continued", self.name);
        let foot_mm = foot_mm.unwrap_or(room.bottom_mm);
        let mut flow = Flow::new(self.columns, hand, items, tops_mm.collect(), foot_mm, again, way.keep_whole);
        let [sizes, _, holding, tool, passes] = tables(job, result, setup);
        flow.pour(sizes.block(width_mm, hand));
        flow.pour(passes.block(width_mm, hand));
        flow.pour(work_tables::joined(holding, tool).block(width_mm, hand));
        flow.pour(ends::block(job, setup, width_mm, hand));
        flow.pour(procedure::watch(findings, setup, width_mm, hand));
        flow.pour(procedure::steps_block(job, setup, choices.reasons, width_mm, hand));
        flow.pour(procedure::cautions(setup, width_mm, hand));
        if with_remarks {
            flow.pour(remarks(job, width_mm, hand));
        }
        flow.pour(in_full(&cut, job, width_mm, hand));
        flow.pages
    }

    /// Title, the line to be measured and a note; where they end, and what had to be cut.
    fn title(&self, way: Way) -> (Vec<Item>, f64, Vec<(&'static str, String)>) {
        let Given { job, choices, .. } = self.given;
        let room = self.columns.room;
        let line_mm = measure_line::line_length_mm(job.units);
        let all_mm = room.right_mm - room.left_mm;
        let room_mm = all_mm - line_mm - GUTTER_MM;
        let mut cut = title_block::cut_fields(job, choices.paper);
        let mut items = measure_line::items(job, way.scale, room.right_mm - line_mm, room.top_mm);
        let kinds = [Lettering::Title, Lettering::Heading];
        let kind = kinds.into_iter().find(|kind| kind.width_mm(&self.name) <= room_mm).unwrap_or(Lettering::Strong);
        let title = kind.cut(&self.name, room_mm);
        items.push(line(room.left_mm, room.top_mm, Align::Left, kind, Role::Text, &title).into());
        if title != self.name {
            cut.push(("Set-up", self.name.clone()));
        }
        let mut top_mm = room.top_mm - measure_line::HEIGHT_MM;
        if let Some(note) = self.refused(way) {
            let note = Lettering::Strong.cut(&note, all_mm);
            items.push(line(room.left_mm, top_mm, Align::Left, Lettering::Strong, Role::Text, &note).into());
            top_mm -= Lettering::Strong.line_mm();
        }
        (items, top_mm, cut)
    }

    /// Drawing, distances, measured line, coverage and curve, and how high they are.
    fn head(&self, way: Way, from_mm: f64) -> (Vec<Item>, f64) {
        let Given { job, choices, coverage, .. } = self.given;
        let (setup, bounds) = (self.setup, self.drawn.bounds);
        let (left_mm, all_mm) = (self.columns.room.left_mm, self.columns.across_mm(way.n_across));
        let right_mm = left_mm + all_mm;
        let ratio = way.scale.ratio();
        let around_mm = self.around_mm();
        let left_of_datum_mm = (around_mm - bounds.left_mm * ratio).max(LEAST_LEFT_MM);
        let spare_mm = all_mm - left_of_datum_mm - bounds.right_mm * ratio - around_mm;
        let zero_mm = left_mm + left_of_datum_mm + (spare_mm / 2.0).max(0.0);
        let foot_mm = from_mm - (bounds.top_mm - bounds.bottom_mm) * ratio - 2.0 * around_mm - 0.6;
        let origin = at(zero_mm, foot_mm + around_mm - bounds.bottom_mm * ratio);
        let mut items: Vec<Item> = Vec::new();
        if choices.symbols {
            items.extend(symbols::signs(job, setup, (origin, origin.up_mm + bounds.top_mm * ratio), ratio));
        }
        items.extend(self.drawn.items.iter().cloned().map(|item| item.placed(ratio, origin)));

        let row_at = RowAt { left_mm, right_mm, top_mm: foot_mm - 1.6, zero_mm, ratio };
        let (row, height_mm) = distances::row(job, setup, row_at);
        items.extend(row);
        let mut top_mm = row_at.top_mm - height_mm - 0.8;
        if choices.symbols {
            let (row, height_mm) = symbols::legend(job, setup, (left_mm, right_mm), top_mm);
            items.extend(row);
            top_mm -= height_mm;
        }
        let bar_at = BarAt { left_mm, right_mm, top_mm, zero_mm, ratio };
        let (bar, height_mm) = coverage_bar::of_setup(job, coverage, setup, bar_at);
        items.extend(bar);
        top_mm -= height_mm + 1.4;

        let plot_left_mm = zero_mm - LEAST_LEFT_MM;
        let plot_right_mm = (zero_mm + bounds.right_mm * ratio).max(plot_left_mm + 0.6 * all_mm).min(right_mm);
        let plot_at = curve::PlotAt {
            left_mm: plot_left_mm,
            right_mm: plot_right_mm,
            words_mm: (left_mm, right_mm),
            top_mm,
            zero_mm,
            ratio,
        };
        let (plot, height_mm) = curve::plot(job, &self.predicted, plot_at, way.hand);
        items.extend(plot);
        top_mm -= height_mm + way.hand.between_mm;
        (items, from_mm - top_mm)
    }
}

/// All tables of one set-up.
pub(super) fn tables(job: &Job, result: &JobResult, setup: &Setup) -> [Table; 5] {
    [
        sizes::table(job, setup, &sizes::predicted(job, result, setup)),
        support_table::table(job, setup),
        work_tables::holding(job, setup),
        work_tables::tool(job, setup),
        work_tables::passes(job, result, setup),
    ]
}

/// The user's own words.
pub(super) fn remarks(job: &Job, width_mm: f64, hand: Hand) -> Block {
    let pieces = match job.notes.trim() {
        "" => Vec::new(),
        notes => Piece::lines(notes, hand.body, Role::Text, width_mm, 60),
    };
    Block { heading: "Remarks".to_owned(), head: None, pieces, whole: false }
}

/// What had to be cut short elsewhere, and letters that cannot be printed.
pub(super) fn in_full(cut: &[(&str, String)], job: &Job, width_mm: f64, hand: Hand) -> Block {
    let mut pieces: Vec<Piece> = cut
        .iter()
        .flat_map(|(name, text)| Piece::lines(&format!("{name}: {text}"), hand.body, Role::Text, width_mm, 40))
        .collect();
    let block = &job.title_block;
    let words = [&job.title, &job.notes, &block.part, &block.owner, &block.date];
    let names = job.setups.iter().map(|setup| &setup.name);
    let font = Lettering::Body.face().font();
    if words.into_iter().chain(names).any(|text| !font.has_all(text)) {
        let note = "A box stands for a letter that the font of this sheet lacks; the words are whole in the job file.";
        pieces.extend(Piece::lines(note, hand.body, Role::Text, width_mm, 4));
    }
    Block { heading: words::capital("cut short elsewhere, here in full"), head: None, pieces, whole: false }
}
