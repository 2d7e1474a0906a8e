//! The title block at the foot of every page, with the data fields of ISO 7200 (from memory): title, number, owner, date,
//! sheet, and what a drawing needs beside them: scale and units. What is empty is left white to be written by hand. Over
//! it stands, on every page and always, that predictions are estimates.

use super::paper::{BLOCK_MM, ESTIMATE_MM, Paper};
use super::piece::line;
use super::scale::Scale;
use crate::advice::cautions;
use crate::job::{Job, Units};
use crate::picture::lettering::Lettering;
use crate::picture::{Align, Item, Line, Path, Role, at};

struct Field<'a> {
    caption: &'a str,
    value: String,
    /// Of the width of the block.
    share: f64,
}

/// Block and estimate line of one page.
pub(super) fn items(job: &Job, paper: Paper, scale: &Option<Scale>, (page, n_pages): (usize, usize)) -> Vec<Item> {
    let inside = paper.inside();
    let (left, right, bottom) = (inside.left_mm, inside.right_mm, inside.bottom_mm);
    let width_mm = right - left;
    let top = bottom + BLOCK_MM;
    let middle = bottom + BLOCK_MM / 2.0;
    let field = |caption, value: &str, share| Field { caption, value: value.trim().replace('\n', " "), share };
    let block = &job.title_block;
    let units = match job.units {
        Units::Metric => "mm",
        Units::Inch => "inches",
    };
    let rows = [
        vec![
            field("Title", &job.title, 0.5),
            field("Part or drawing number", &block.part, 0.3),
            field("Sheet", &format!("{page} of {n_pages}"), 0.2),
        ],
        vec![
            field("Owner", &block.owner, 0.24),
            field("Date", &block.date, 0.14),
            field("Scale", &scale.map_or_else(|| "none".to_owned(), |scale| scale.to_string()), 0.12),
            field("Units, sizes on diameter", units, 0.2),
            field("Checked by", "", 0.3),
        ],
    ];
    let mut items: Vec<Item> = vec![Path::rect(at(left, bottom), at(right, top), Role::Text).lined(Line::Thick).into()];
    items.push(Path::segment(at(left, middle), at(right, middle), Role::Text).lined(Line::Thin).into());
    for (row, up_mm) in rows.iter().zip([top, middle]) {
        let mut from_mm = left;
        for (index, field) in row.iter().enumerate() {
            let to_mm = from_mm + field.share * width_mm;
            if index > 0 {
                let edge = Path::segment(at(from_mm, up_mm), at(from_mm, up_mm - BLOCK_MM / 2.0), Role::Text);
                items.push(edge.lined(Line::Thin).into());
            }
            let room_mm = to_mm - from_mm - 2.4;
            let caption = Lettering::Fine.cut(field.caption, room_mm);
            let (x, y) = (from_mm + 1.2, up_mm - 0.6);
            items.push(line(x, y, Align::Left, Lettering::Fine, Role::Faint, &caption).into());
            let kind = if Lettering::Heading.width_mm(&field.value) <= room_mm {
                Lettering::Heading
            } else {
                Lettering::Strong
            };
            let value = kind.cut(&field.value, room_mm);
            items.push(line(x, y - 3.6, Align::Left, kind, Role::Text, &value).into());
            from_mm = to_mm;
        }
    }
    let kind =
        if Lettering::Strong.width_mm(cautions::ON_PAPER) <= width_mm { Lettering::Strong } else { Lettering::Fine };
    let (lines, _) = kind.wrapped(cautions::ON_PAPER, width_mm, 2);
    for (index, words) in lines.iter().enumerate() {
        let up_mm = top + ESTIMATE_MM - 1.7 - kind.line_mm() * index as f64;
        items.push(line(left, up_mm, Align::Left, kind, Role::Text, words).into());
    }
    items
}

/// Fields of the block that had to be cut, to be told in full elsewhere.
pub(super) fn cut_fields(job: &Job, paper: Paper) -> Vec<(&'static str, String)> {
    let inside = paper.inside();
    let width_mm = inside.right_mm - inside.left_mm;
    let block = &job.title_block;
    [
        ("Title", &job.title, 0.5),
        ("Part number", &block.part, 0.3),
        ("Owner", &block.owner, 0.24),
        ("Date", &block.date, 0.14),
    ]
    .into_iter()
    .map(|(name, text, share)| (name, text.trim().replace('\n', " "), share * width_mm - 2.4))
    .filter(|(_, text, room_mm)| Lettering::Strong.width_mm(text) > *room_mm)
    .map(|(name, text, _)| (name, text))
    .collect()
}
