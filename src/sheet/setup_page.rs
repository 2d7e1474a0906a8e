//! The pages of one set-up, one page where that can be: the drawing with distances, coverage and curve under it across
//! some columns, everything else in columns under and beside it. The drawing gets the largest scale with which all can
//! stand on one page: letters, views of rests and curve give way first, then the drawing is cropped, then its scale.

use super::coverage_bar::{self, BarAt};
use super::distances::{self, RowAt};
use super::flow::{Columns, Flow, GUTTER_MM, Plan};
use super::hand::{CLOSE, CLOSEST, Hand, OPEN};
use super::paper::PageSize;
use super::piece::{Block, Piece, line};
use super::scale::Scale;
use super::sizes::Predicted;
use super::table::Table;
use super::view::{Extent, view};
use super::{
    Choices, Draft, curve, ends, measure_line, procedure, sizes, support_table, symbols, title_block, work_tables,
};
use crate::advice::{Finding, words};
use crate::job::{Job, Setup};
use crate::picture::lettering::Lettering;
use crate::picture::{Align, Item, Picture, Role, at};
use crate::study::JobResult;
use crate::study::coverage::Coverage;

/// The chuck's side of the drawing is at least so wide, since the figures of the curve stand under it.
const LEAST_LEFT_MM: f64 = 15.0;
/// Under the drawing there is at least so much room, for distances, coverage and curve.
const LEAST_UNDER_MM: f64 = 60.0;
/// A column is at least so wide.
const LEAST_COLUMN_MM: f64 = 78.0;
/// Words in narrower columns are not written large.
const LEAST_OPEN_MM: f64 = 85.0;
/// So many scales below the largest that fits are tried.
const SCALES_BELOW: usize = 4;
/// Where a page has room left, it is shared out in so many halvings.
const HALVINGS: usize = 4;

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
    extent: Extent,
    /// The drawing goes across so many columns.
    n_across: usize,
}

/// The title of a page.
struct Title {
    kind: Lettering,
    words: String,
    /// What had to be cut short, to be told in full elsewhere.
    cut: Vec<(&'static str, String)>,
}

/// A way with its page as far as it does not flow, and where everything else goes.
struct Laid {
    way: Way,
    items: Vec<Item>,
    plan: Plan,
}

/// A set-up with what does not hang on the way it is laid out.
struct SetupPages<'a> {
    given: Given<'a>,
    setup: &'a Setup,
    name: String,
    /// The drawings to choose from, the fullest first.
    drawn: Vec<(Extent, Picture)>,
    predicted: Vec<Predicted>,
    columns: Columns,
}

/// Everything on paper about one set-up.
pub(super) fn drafts(given: Given<'_>, index: usize) -> Vec<Draft> {
    let Given { job, result, choices, .. } = given;
    let setup = &job.setups[index];
    let extents: &[Extent] = if choices.symbols { &[Extent::Work] } else { &[Extent::Bed, Extent::Cropped] };
    let drawn = extents.iter().map(|extent| {
        let mut drawn = view(job, result, setup, *extent);
        if choices.symbols {
            drawn.bounds = symbols::with_signs(drawn.bounds, job, setup);
        }
        (*extent, drawn)
    });
    let pages = SetupPages {
        given,
        setup,
        name: name(job, index),
        drawn: drawn.collect(),
        predicted: sizes::predicted(job, result, setup),
        columns: Columns::of(choices.paper, LEAST_COLUMN_MM),
    };
    let (way, laid) = pages.best();
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
    /// The first way that needs one page, with what room it leaves shared out; else the one with the fewest.
    fn best(&self) -> (Way, Vec<Vec<Item>>) {
        let hands = self.hands();
        let flows: Vec<Vec<(Hand, Flow)>> =
            hands.iter().map(|hands| hands.iter().map(|hand| (*hand, self.flow(*hand))).collect()).collect();
        let scales = self.scales();
        let mut fewest: Option<(Laid, &Flow)> = None;
        for keep_whole in [true, false] {
            for hands in &flows {
                for ways in &scales {
                    for (way, (hand, flow)) in ways.iter().flat_map(|way| hands.iter().map(move |hand| (way, hand))) {
                        let laid = self.laid(Way { hand: *hand, ..*way }, flow, keep_whole);
                        if laid.plan.n_pages == 1 {
                            return self.roomy(laid, flow, keep_whole);
                        }
                        if fewest.as_ref().is_none_or(|(known, _)| laid.plan.n_pages < known.plan.n_pages) {
                            fewest = Some((laid, flow));
                        }
                    }
                }
            }
        }
        let (laid, flow) = fewest.expect("there is always a scale and a hand");
        (laid.way, self.pages(laid, flow))
    }

    /// A page with as much of its room used as can be.
    fn roomy(&self, laid: Laid, flow: &Flow, keep_whole: bool) -> (Way, Vec<Vec<Item>>) {
        let way = laid.way;
        let try_hand = |hand: Hand| {
            let flow = self.flow(hand);
            let laid = self.laid(Way { hand, ..way }, &flow, keep_whole);
            (laid.plan.n_pages == 1).then(|| self.pages(laid, &flow))
        };
        let largest = way.hand.roomier(1.0);
        if let Some(best) = try_hand(largest.all_alike()).or_else(|| try_hand(largest)) {
            return (way, best);
        }
        let mut best = self.pages(laid, flow);
        let (mut low, mut high) = (0.0, 1.0);
        for _ in 0..HALVINGS {
            let share = f64::midpoint(low, high);
            match try_hand(way.hand.roomier(share)) {
                Some(pages) => (best, low) = (pages, share),
                None => high = share,
            }
        }
        (way, best)
    }

    /// Letterings to try, the largest first. On large paper a smaller scale is better than smaller letters.
    fn hands(&self) -> Vec<Vec<Hand>> {
        if self.columns.width_mm < LEAST_OPEN_MM {
            return vec![vec![CLOSE, CLOSEST]];
        }
        match self.given.choices.paper.size {
            PageSize::A3 | PageSize::Tabloid => vec![vec![OPEN], vec![CLOSE, CLOSEST]],
            PageSize::A4 | PageSize::Letter => vec![vec![OPEN, CLOSE, CLOSEST]],
        }
    }

    /// Scales to try, the largest first, with the drawings that fit at it.
    fn scales(&self) -> Vec<Vec<Way>> {
        let ways = |scale: Scale| -> Vec<Way> {
            let fitting = self.drawn.iter().filter_map(|(extent, drawn)| {
                let n_across = self.columns_for(scale, drawn)?;
                Some(Way { hand: OPEN, scale, extent: *extent, n_across })
            });
            fitting.collect()
        };
        let asked = self.given.choices.scale.map(ways).filter(|ways| !ways.is_empty());
        let mut scales: Vec<Vec<Way>> = match asked {
            Some(asked) => vec![asked],
            None => Scale::all().map(ways).filter(|ways| !ways.is_empty()).take(1 + SCALES_BELOW).collect(),
        };
        if scales.is_empty() {
            // Too long for any paper: as small as can be.
            let scale = Scale { paper: 1, real: 10_000 };
            let way =
                |(extent, _): &(Extent, Picture)| Way { hand: OPEN, scale, extent: *extent, n_across: self.columns.n };
            scales.push(self.drawn.iter().map(way).collect());
        }
        scales
    }

    fn drawn(&self, way: Way) -> &Picture {
        let known = self.drawn.iter().find(|(extent, _)| *extent == way.extent);
        &known.expect("ways are made of these").1
    }

    /// What is said where the scale that was asked for does not fit.
    fn refused(&self, way: Way) -> Option<String> {
        let asked = self.given.choices.scale.filter(|asked| *asked != way.scale)?;
        let paper = self.given.choices.paper.size.name();
        Some(format!("At {asked} the drawing does not fit on {paper}: drawn at {}.", way.scale))
    }

    /// Across how many columns a drawing goes at a scale; nothing where it fits across no number of them.
    fn columns_for(&self, scale: Scale, drawn: &Picture) -> Option<usize> {
        let ratio = scale.ratio();
        let around_mm = self.around_mm();
        let bounds = drawn.bounds;
        // Whatever the scale, the figures of the curve need their room left of the datum.
        let across_mm =
            (around_mm - bounds.left_mm * ratio).max(LEAST_LEFT_MM) + bounds.right_mm.max(0.0) * ratio + around_mm;
        let high_mm = (bounds.top_mm - bounds.bottom_mm) * ratio + 2.0 * around_mm;
        let room = self.columns.room;
        if high_mm > room.top_mm - room.bottom_mm - measure_line::HEIGHT_MM - LEAST_UNDER_MM {
            return None;
        }
        let least = 2.min(self.columns.n);
        (least..=self.columns.n).find(|n| across_mm <= self.columns.across_mm(*n))
    }

    /// Room on paper around the drawing, for signs.
    fn around_mm(&self) -> f64 {
        if self.given.choices.symbols { symbols::ROOM_MM } else { 0.0 }
    }

    /// Everything that flows, in this lettering.
    fn flow(&self, hand: Hand) -> Flow {
        let Given { job, result, findings, choices, with_remarks, .. } = self.given;
        let (setup, width_mm) = (self.setup, self.columns.width_mm);
        let [sizes, _, holding, tool, passes] = tables(job, result, setup);
        let mut blocks = vec![
            sizes.block(width_mm, hand),
            passes.block(width_mm, hand),
            work_tables::joined(holding, tool).block(width_mm, hand),
            ends::block(job, setup, width_mm, hand),
            procedure::watch(findings, setup, width_mm, hand),
            procedure::steps_block(job, setup, choices.reasons, width_mm, hand),
            procedure::cautions(setup, width_mm, hand),
        ];
        if with_remarks {
            blocks.push(remarks(job, width_mm, hand));
        }
        blocks.push(in_full(&self.title().cut, job, width_mm, hand));
        Flow::new(self.columns, hand, blocks)
    }

    fn laid(&self, way: Way, flow: &Flow, keep_whole: bool) -> Laid {
        let (mut items, top_mm) = self.top(way);
        let (head, height_mm) = self.head(way, top_mm);
        items.extend(head);
        let top = |column| if column < way.n_across { top_mm - height_mm } else { top_mm };
        let tops_mm: Vec<f64> = (0..self.columns.n).map(top).collect();
        Laid { way, items, plan: flow.plan(&tops_mm, keep_whole) }
    }

    fn pages(&self, laid: Laid, flow: &Flow) -> Vec<Vec<Item>> {
        flow.drawn(&laid.plan, laid.items, &format!("{}, continued", self.name))
    }

    /// The page's title, and what had to be cut in it and in the title block.
    fn title(&self) -> Title {
        let Given { job, choices, .. } = self.given;
        let room = self.columns.room;
        let room_mm = room.right_mm - room.left_mm - measure_line::line_length_mm(job.units) - GUTTER_MM;
        let kinds = [Lettering::Title, Lettering::Heading];
        let kind = kinds.into_iter().find(|kind| kind.width_mm(&self.name) <= room_mm).unwrap_or(Lettering::Strong);
        let words = kind.cut(&self.name, room_mm);
        let mut cut = title_block::cut_fields(job, choices.paper);
        if words != self.name {
            cut.push(("Set-up", self.name.clone()));
        }
        Title { kind, words, cut }
    }

    /// Title, the line to be measured and a note; and where they end.
    fn top(&self, way: Way) -> (Vec<Item>, f64) {
        let room = self.columns.room;
        let line_mm = measure_line::line_length_mm(self.given.job.units);
        let mut items = measure_line::items(self.given.job, way.scale, room.right_mm - line_mm, room.top_mm);
        let Title { kind, words, .. } = self.title();
        items.push(line(room.left_mm, room.top_mm, Align::Left, kind, Role::Text, &words).into());
        let mut top_mm = room.top_mm - measure_line::HEIGHT_MM;
        if let Some(note) = self.refused(way) {
            let note = Lettering::Strong.cut(&note, room.right_mm - room.left_mm);
            items.push(line(room.left_mm, top_mm, Align::Left, Lettering::Strong, Role::Text, &note).into());
            top_mm -= Lettering::Strong.line_mm();
        }
        (items, top_mm)
    }

    /// Drawing, distances, measured line, coverage and curve, and how high they are.
    fn head(&self, way: Way, from_mm: f64) -> (Vec<Item>, f64) {
        let Given { job, choices, coverage, .. } = self.given;
        let (setup, drawn) = (self.setup, self.drawn(way));
        let bounds = drawn.bounds;
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
        items.extend(drawn.items.iter().cloned().map(|item| item.placed(ratio, origin)));

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
