//! The title block at the foot of every page, with the data fields of ISO 7200 (from memory): title, number, owner, date,
//! sheet, and what a drawing needs beside them: scale and units; in one row where the paper is wide. What is empty is left white to be written by hand. Over
//! it stands, on every page and always, that predictions are estimates.

use super::paper::{ESTIMATE_MM, Paper, ROW_MM};
use super::piece::line;
use super::scale::Scale;
use crate::advice::cautions;
use crate::job::{Job, Units};
use crate::picture::lettering::Lettering;
use crate::picture::{Align, Item, Line, Path, Role, at};

/// A field of the block.
struct Field {
    caption: &'static str,
    value: String,
    /// Of the width of the block.
    share: f64,
}

impl Field {
    fn new(caption: &'static str, value: &str, share: f64) -> Self {
        Self { caption, value: value.trim().replace('\n', " "), share }
    }

    fn room_mm(&self, width_mm: f64) -> f64 {
        self.share * width_mm - 2.4
    }

    /// The largest lettering in which the value fits, else the smallest.
    fn lettering(&self, width_mm: f64) -> Lettering {
        let kinds = [Lettering::Heading, Lettering::Strong, Lettering::CloseStrong];
        let fits = |kind: &Lettering| kind.width_mm(&self.value) <= self.room_mm(width_mm);
        kinds.into_iter().find(fits).unwrap_or(Lettering::CloseFine)
    }
}

/// The rows of the block.
fn rows(job: &Job, paper: Paper, scale: &str, sheet: &str) -> Vec<Vec<Field>> {
    let block = &job.title_block;
    let units = match job.units {
        Units::Metric => "mm",
        Units::Inch => "inches",
    };
    let field = Field::new;
    if paper.landscape {
        return vec![vec![
            field("Title", &job.title, 0.25),
            field("Part or drawing number", &block.part, 0.16),
            field("Owner", &block.owner, 0.13),
            field("Date", &block.date, 0.10),
            field("Checked by", "", 0.08),
            field("Scale", scale, 0.07),
            field("Units, on \u{d8}", units, 0.07),
            field("Sheet", sheet, 0.14),
        ]];
    }
    vec![
        vec![
            field("Title", &job.title, 0.46),
            field("Part or drawing number", &block.part, 0.3),
            field("Sheet", sheet, 0.24),
        ],
        vec![
            field("Owner", &block.owner, 0.26),
            field("Date", &block.date, 0.16),
            field("Checked by", "", 0.24),
            field("Scale", scale, 0.14),
            field("Units, on \u{d8}", units, 0.2),
        ],
    ]
}

/// Block and estimate line of one page; the sheet's number says whether the set-up goes on on the next one.
pub(super) fn items(
    job: &Job,
    paper: Paper,
    scale: Option<Scale>,
    (page, n_pages): (usize, usize),
    goes_on: bool,
) -> Vec<Item> {
    let inside = paper.inside();
    let (left, right, bottom) = (inside.left_mm, inside.right_mm, inside.bottom_mm);
    let width_mm = right - left;
    let more = if goes_on { format!(", more on {}", page + 1) } else { String::new() };
    let scale = scale.map_or_else(|| "none".to_owned(), |scale| scale.to_string());
    let rows = rows(job, paper, &scale, &format!("{page} of {n_pages}{more}"));
    let top = bottom + paper.block_mm();
    let mut items: Vec<Item> = vec![Path::rect(at(left, bottom), at(right, top), Role::Text).lined(Line::Thick).into()];
    for (index, row) in rows.iter().enumerate() {
        let up_mm = top - ROW_MM * index as f64;
        if index > 0 {
            items.push(Path::segment(at(left, up_mm), at(right, up_mm), Role::Text).lined(Line::Thin).into());
        }
        let mut from_mm = left;
        for (index, field) in row.iter().enumerate() {
            if index > 0 {
                let edge = Path::segment(at(from_mm, up_mm), at(from_mm, up_mm - ROW_MM), Role::Text);
                items.push(edge.lined(Line::Thin).into());
            }
            let (x, small) = (from_mm + 1.2, Lettering::CloseFine);
            let caption = small.cut(field.caption, field.room_mm(width_mm));
            items.push(line(x, up_mm - 0.3, Align::Left, small, Role::Faint, &caption).into());
            let kind = field.lettering(width_mm);
            let value = kind.cut(&field.value, field.room_mm(width_mm));
            items.push(line(x, up_mm - 3.4, Align::Left, kind, Role::Text, &value).into());
            from_mm += field.share * width_mm;
        }
    }
    let kinds = [Lettering::Strong, Lettering::CloseStrong, Lettering::CloseFine];
    let fits = |kind: &Lettering| kind.width_mm(cautions::ON_PAPER) <= width_mm;
    let kind = kinds.into_iter().find(fits).unwrap_or(Lettering::CloseFine);
    let words = kind.cut(cautions::ON_PAPER, width_mm);
    items.push(line(left, top + ESTIMATE_MM - 1.6, Align::Left, kind, Role::Text, &words).into());
    items
}

/// Fields of the block that had to be cut, to be told in full elsewhere.
pub(super) fn cut_fields(job: &Job, paper: Paper) -> Vec<(&'static str, String)> {
    let inside = paper.inside();
    let width_mm = inside.right_mm - inside.left_mm;
    rows(job, paper, "", "")
        .into_iter()
        .flatten()
        .filter(|field| field.lettering(width_mm).width_mm(&field.value) > field.room_mm(width_mm))
        .map(|field| (field.caption, field.value))
        .collect()
}
