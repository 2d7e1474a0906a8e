//! The cover of a job of several set-ups: the set-ups in their order, each with a small picture and its sheet, and what
//! holds for all of them.

use super::coverage_bar;
use super::flow::{Columns, Flow};
use super::hand::OPEN;
use super::paper::Paper;
use super::piece::{Block, Piece, line};
use super::table::{Table, pairs};
use super::view::{Extent, view};
use super::{Draft, setup_page, title_block};
use crate::advice::words;
use crate::job::Job;
use crate::job::quantity::{Kind, show};
use crate::picture::lettering::Lettering;
use crate::picture::{Align, Item, Role, at};
use crate::study::JobResult;
use crate::study::coverage::Coverage;

/// Height of a small picture, where there are many set-ups and where there are few.
const LEAST_PICTURE_MM: f64 = 26.0;
const MOST_PICTURE_MM: f64 = 52.0;
/// Room under pictures that go across the paper, the least that does first.
const UNDER_MM: [f64; 4] = [50.0, 70.0, 92.0, 115.0];
/// Room of the words over all of them.
const NOTE_MM: f64 = 5.0;
/// Room of the words over a picture and under it.
const CAPTION_MM: f64 = 10.0;
/// A column is at least so wide.
const LEAST_COLUMN_MM: f64 = 118.0;

/// The cover's pages; `n_pages` of every set-up, `n_cover` of the cover itself.
pub(super) fn drafts(
    job: &Job,
    result: &JobResult,
    coverage: &Coverage,
    paper: Paper,
    n_pages: &[usize],
    n_cover: usize,
) -> Vec<Draft> {
    let columns = Columns::of(paper, LEAST_COLUMN_MM);
    let (room, width_mm, hand) = (columns.room, columns.width_mm, OPEN);
    let all_mm = room.right_mm - room.left_mm;
    let title = if job.title.trim().is_empty() { "Set-up sheets".to_owned() } else { job.title.replace('\n', " ") };
    let shown = Lettering::Title.cut(&title, all_mm);
    let mut cut = title_block::cut_fields(job, paper);
    if shown != title && !cut.iter().any(|(name, _)| *name == "Title") {
        cut.push(("Title", title));
    }
    let mut items: Vec<Item> =
        vec![line(room.left_mm, room.top_mm, Align::Left, Lettering::Title, Role::Text, &shown).into()];
    let top_mm = room.top_mm - Lettering::Title.line_mm() - 2.5;
    let blocks = || {
        [
            cut_where(job, coverage, width_mm),
            work(job).block(width_mm, hand),
            setup_page::remarks(job, width_mm, hand),
            setup_page::in_full(&cut, job, width_mm, hand),
        ]
    };
    let again = "Set-ups in their order, continued";
    let pictures = |width_mm, most_mm| order(job, result, (n_pages, n_cover), width_mm, most_mm);
    // The pictures across the paper, where that leaves room for the rest, else one under the other in a column.
    let n = job.setups.len() as f64;
    let flow = Flow::new(columns, hand, blocks());
    let fitting = UNDER_MM.into_iter().find_map(|under_mm| {
        let most_mm = (top_mm - NOTE_MM - room.bottom_mm - under_mm) / n - CAPTION_MM;
        let across = (most_mm >= LEAST_PICTURE_MM).then(|| pictures(all_mm, most_mm))?;
        let high_mm: f64 = across.pieces.iter().map(|piece| piece.height_mm).sum();
        let plan = flow.plan(&vec![top_mm - NOTE_MM - high_mm - 3.0; columns.n], true);
        (plan.n_pages == 1).then_some((across, plan))
    });
    let pages = if let Some((across, plan)) = fitting {
        let kind = Lettering::Fine;
        let note = kind.cut(&across.heading, all_mm);
        items.push(line(room.left_mm, top_mm, Align::Left, kind, Role::Text, &note).into());
        let mut down_mm = top_mm - NOTE_MM;
        for piece in across.pieces {
            items.extend(piece.items.into_iter().map(|item| item.placed(1.0, at(room.left_mm, down_mm))));
            down_mm -= piece.height_mm;
        }
        flow.drawn(&plan, items, again)
    } else {
        let share_mm = (room.top_mm - room.bottom_mm - 24.0) / n - CAPTION_MM;
        let order = pictures(width_mm, share_mm.clamp(LEAST_PICTURE_MM, MOST_PICTURE_MM));
        let flow = Flow::new(columns, hand, std::iter::once(order).chain(blocks()));
        flow.drawn(&flow.plan(&vec![top_mm; columns.n], true), items, again)
    };
    let n = pages.len();
    let draft = |(page, items)| Draft { items, setup: None, scale: None, goes_on: page + 1 < n };
    pages.into_iter().enumerate().map(draft).collect()
}

/// What is cut where in the whole job.
fn cut_where(job: &Job, coverage: &Coverage, width_mm: f64) -> Block {
    let (items, height_mm) = coverage_bar::of_job(job, coverage, width_mm, 0.0);
    let heading = "Cut along the work in all set-ups, end A at the left".to_owned();
    Block { heading, head: None, pieces: vec![Piece { height_mm, items }], whole: true }
}

/// The pictures as wide and at most as high as that.
fn order(job: &Job, result: &JobResult, (n_pages, n_cover): (&[usize], usize), width_mm: f64, most_mm: f64) -> Block {
    let mut first_page = n_cover + 1;
    let pieces = job.setups.iter().enumerate().map(|(index, setup)| {
        let last_page = first_page + n_pages.get(index).copied().unwrap_or(1) - 1;
        let sheets = if last_page > first_page {
            format!("sheets {first_page} to {last_page}")
        } else {
            format!("sheet {first_page}")
        };
        first_page = last_page + 1;
        let sheets_mm = Lettering::Strong.width_mm(&sheets) + 2.0;
        let name = Lettering::Strong.cut(&setup_page::name(job, index), width_mm - sheets_mm - 1.0);
        let mut items: Vec<Item> = vec![
            line(0.0, 0.0, Align::Left, Lettering::Strong, Role::Text, &name).into(),
            line(width_mm, 0.0, Align::Right, Lettering::Strong, Role::Text, &sheets).into(),
        ];
        let drawn = view(job, result, setup, Extent::Bed);
        let size = (drawn.bounds.right_mm - drawn.bounds.left_mm, drawn.bounds.top_mm - drawn.bounds.bottom_mm);
        let ratio = (width_mm / size.0.max(1e-6)).min(most_mm / size.1.max(1e-6));
        let top_mm = -Lettering::Strong.line_mm() - 0.6;
        let left_mm = (width_mm - size.0 * ratio) / 2.0;
        let origin = at(left_mm - drawn.bounds.left_mm * ratio, top_mm - drawn.bounds.top_mm * ratio);
        items.extend(drawn.items.into_iter().map(|item| item.placed(ratio, origin)));
        let height_mm = -top_mm + size.1 * ratio + 3.4;
        Piece { height_mm, items }
    });
    let pieces = pieces.collect();
    Block {
        heading: "Set-ups in their order (small pictures not to scale)".to_owned(),
        head: None,
        pieces,
        whole: false,
    }
}

pub(super) fn work(job: &Job) -> Table {
    let shaft = &job.shaft;
    let finished = if shaft.wanted.is_empty() {
        "nothing drawn yet".to_owned()
    } else {
        let n_lands = match shaft.wanted.len() {
            1 => "one land".to_owned(),
            n => format!("{n} lands"),
        };
        format!("{n_lands}, {} long", words::length(shaft.wanted_length_mm(), job.units))
    };
    let rows = vec![
        ("Material", job.material().name),
        (
            "Stock",
            format!(
                "{} long, largest \u{d8} {}, about {}",
                words::length(shaft.length_mm(), job.units),
                words::diameter(shaft.max_diameter_mm(), job.units),
                show(shaft.stock_mass_kg(), Kind::Mass, job.units)
            ),
        ),
        ("Finished part", finished),
        ("Lathe", job.lathe.name.clone()),
    ];
    pairs("The work", rows)
}
