//! The pages of one set-up: drawing, distances and curve across the top of the first, everything else in columns.

use super::distances::{self, RowAt};
use super::flow::{Flow, columns};
use super::piece::{Block, Piece, line};
use super::scale::Scale;
use super::table::Table;
use super::{
    Choices, Draft, curve, ends, measure_line, procedure, sizes, support_table, symbols, title_block, view, work_tables,
};
use crate::advice::{Finding, words};
use crate::job::{Job, Setup};
use crate::picture::lettering::Lettering;
use crate::picture::{Align, Item, Role, at};
use crate::study::JobResult;

/// The drawing takes no more than this of the height.
const VIEW_SHARE: f64 = 0.36;
/// The chuck's side of the drawing is at least so wide, since the figures of the curve stand under it.
const LEAST_LEFT_MM: f64 = 17.0;

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

/// Everything on paper about one set-up.
pub(super) fn drafts(
    job: &Job,
    result: &JobResult,
    findings: &[Finding],
    index: usize,
    choices: &Choices,
    with_remarks: bool,
) -> Vec<Draft> {
    let setup = &job.setups[index];
    let paper = choices.paper;
    let room = paper.contents();
    let all_mm = room.right_mm - room.left_mm;
    let name = name(job, index);
    let mut cut: Vec<(&str, String)> = title_block::cut_fields(job, paper);

    let title = Lettering::Title.cut(&name, all_mm);
    if title != name {
        cut.push(("Set-up", name.clone()));
    }
    let mut items: Vec<Item> =
        vec![line(room.left_mm, room.top_mm, Align::Left, Lettering::Title, Role::Text, &title).into()];
    let mut top_mm = room.top_mm - Lettering::Title.line_mm() - 1.0;

    let (drawn, scale, note) =
        drawing(job, result, setup, choices, (all_mm, VIEW_SHARE * (room.top_mm - room.bottom_mm)));
    if let Some(note) = note {
        let note = Lettering::Strong.cut(&note, all_mm);
        items.push(line(room.left_mm, top_mm, Align::Left, Lettering::Strong, Role::Text, &note).into());
        top_mm -= Lettering::Strong.line_mm();
    }
    let ratio = scale.ratio();
    let bounds = drawn.bounds;
    let around_mm = around_mm(choices);
    let left_of_datum_mm = (around_mm - bounds.left_mm * ratio).max(LEAST_LEFT_MM);
    let spare_mm = all_mm - left_of_datum_mm - bounds.right_mm * ratio - around_mm;
    let zero_mm = room.left_mm + left_of_datum_mm + (spare_mm / 2.0).max(0.0);
    let foot_mm = top_mm - (bounds.top_mm - bounds.bottom_mm) * ratio - 2.0 * around_mm - 0.6;
    let origin = at(zero_mm, foot_mm + around_mm - bounds.bottom_mm * ratio);
    if choices.symbols {
        items.extend(symbols::signs(job, setup, (origin, origin.up_mm + bounds.top_mm * ratio), ratio));
    }
    items.extend(drawn.items.into_iter().map(|item| item.placed(ratio, origin)));

    let row_at = RowAt { left_mm: room.left_mm, right_mm: room.right_mm, top_mm: foot_mm - 1.6, zero_mm, ratio };
    let (row, height_mm) = distances::row(job, setup, row_at);
    items.extend(row);
    top_mm = row_at.top_mm - height_mm - 1.2;
    if choices.symbols {
        let (row, height_mm) = symbols::legend(job, setup, (room.left_mm, room.right_mm), top_mm);
        items.extend(row);
        top_mm -= height_mm;
    }

    let predicted = sizes::predicted(job, result, setup);
    let plot_left_mm = zero_mm - LEAST_LEFT_MM;
    let plot_right_mm = (zero_mm + bounds.right_mm * ratio).max(plot_left_mm + 0.6 * all_mm).min(room.right_mm);
    let plot_at = curve::PlotAt { left_mm: plot_left_mm, right_mm: plot_right_mm, top_mm, zero_mm, ratio };
    let (plot, height_mm) = curve::plot(job, &predicted, plot_at);
    items.extend(plot);
    top_mm -= height_mm + 1.0;
    items.extend(measure_line::row(job, scale, (room.left_mm, room.right_mm), top_mm));
    top_mm -= measure_line::HEIGHT_MM;

    let mut flow = Flow::new(paper, items, room.top_mm - top_mm, format!("{name}, continued"));
    let (_, width_mm) = columns(paper);
    for table in tables(job, result, setup) {
        flow.pour(table.block(width_mm));
    }
    flow.pour(ends::block(job, setup, width_mm));
    flow.pour(procedure::watch(findings, setup, width_mm));
    flow.pour(procedure::steps_block(job, setup, choices.reasons, width_mm));
    flow.pour(procedure::cautions(setup, width_mm));
    if with_remarks {
        flow.pour(remarks(job, width_mm));
    }
    flow.pour(in_full(&cut, job, width_mm));
    let pages = flow.pages.into_iter().enumerate();
    pages.map(|(page, items)| Draft { items, setup: Some(setup.id), scale: (page == 0).then_some(scale) }).collect()
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

/// Room on paper around the drawing, for signs.
fn around_mm(choices: &Choices) -> f64 {
    if choices.symbols { symbols::ROOM_MM } else { 0.0 }
}

/// The drawing, its scale, and a note where the scale that was asked for does not fit.
fn drawing(
    job: &Job,
    result: &JobResult,
    setup: &Setup,
    choices: &Choices,
    (wide_mm, high_mm): (f64, f64),
) -> (crate::picture::Picture, Scale, Option<String>) {
    let mut drawn = view::view(job, result, setup, choices.symbols);
    if choices.symbols {
        drawn.bounds = symbols::with_signs(drawn.bounds, job, setup);
    }
    let bounds = drawn.bounds;
    let around_mm = around_mm(choices);
    // Whatever the scale, the figures of the curve need their room left of the datum.
    let right_mm = bounds.right_mm.max(0.0);
    let fits = |scale: Scale| {
        let ratio = scale.ratio();
        let across_mm = (around_mm - bounds.left_mm * ratio).max(LEAST_LEFT_MM) + right_mm * ratio + around_mm;
        across_mm <= wide_mm && (bounds.top_mm - bounds.bottom_mm) * ratio + 2.0 * around_mm <= high_mm
    };
    let largest = Scale::all().find(|scale| fits(*scale)).unwrap_or(Scale { paper: 1, real: 10_000 });
    match choices.scale {
        Some(asked) if fits(asked) => (drawn, asked, None),
        Some(asked) => {
            let note =
                format!("At {asked} the drawing does not fit on {}: drawn at {largest}.", choices.paper.size.name());
            (drawn, largest, Some(note))
        }
        None => (drawn, largest, None),
    }
}

/// The user's own words.
pub(super) fn remarks(job: &Job, width_mm: f64) -> Block {
    let pieces = match job.notes.trim() {
        "" => Vec::new(),
        notes => Piece::lines(notes, Lettering::Body, Role::Text, width_mm, 60),
    };
    Block { heading: "Remarks".to_owned(), head: None, pieces }
}

/// What had to be cut short elsewhere, and letters that cannot be printed.
pub(super) fn in_full(cut: &[(&str, String)], job: &Job, width_mm: f64) -> Block {
    let mut pieces: Vec<Piece> = cut
        .iter()
        .flat_map(|(name, text)| Piece::lines(&format!("{name}: {text}"), Lettering::Body, Role::Text, width_mm, 40))
        .collect();
    let block = &job.title_block;
    let words = [&job.title, &job.notes, &block.part, &block.owner, &block.date];
    let names = job.setups.iter().map(|setup| &setup.name);
    let font = Lettering::Body.face().font();
    if words.into_iter().chain(names).any(|text| !font.has_all(text)) {
        let note = "A box stands for a letter that the font of this sheet lacks; the words are whole in the job file.";
        pieces.extend(Piece::lines(note, Lettering::Body, Role::Text, width_mm, 4));
    }
    Block { heading: words::capital("cut short elsewhere, here in full"), head: None, pieces }
}
