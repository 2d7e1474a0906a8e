//! What a page is put together from: pieces that are never torn apart, in blocks that may go on in the next column.
//!
//! The items of a piece lie with (0, 0) at its upper left corner, y up, so that it goes down to `-height_mm`.

use crate::picture::lettering::Lettering;
use crate::picture::shapes::words;
use crate::picture::{Align, Item, Role, Stand, Text, TextSize, at};

/// Something that stays together.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Piece {
    pub height_mm: f64,
    pub items: Vec<Item>,
}

/// A table or list under a heading.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Block {
    pub heading: String,
    /// Repeated at the head of every column the block runs through.
    pub head: Option<Piece>,
    pub pieces: Vec<Piece>,
    /// Better in one column.
    pub whole: bool,
}

/// Words that hang from a point.
pub(super) fn line(right_mm: f64, up_mm: f64, align: Align, lettering: Lettering, role: Role, text: &str) -> Text {
    words(at(right_mm, up_mm), align, Stand::Below, TextSize::Paper(lettering), role, text)
}

impl Piece {
    /// Room and nothing in it.
    pub fn gap(height_mm: f64) -> Self {
        Self { height_mm, items: Vec::new() }
    }

    /// Words in at most so many lines, one piece; whether anything was left out.
    pub fn paragraph(text: &str, lettering: Lettering, role: Role, width_mm: f64, n_lines: usize) -> (Self, bool) {
        let (lines, left_out) = lettering.wrapped(text, width_mm, n_lines);
        let items = lines.iter().enumerate().map(|(index, words)| {
            line(0.0, -lettering.line_mm() * index as f64, Align::Left, lettering, role, words).into()
        });
        (Self { height_mm: lettering.line_mm() * lines.len() as f64, items: items.collect() }, left_out)
    }

    /// Words in as many lines as they need, a piece a line; past `most_lines` it is said how many are left out.
    pub fn lines(text: &str, lettering: Lettering, role: Role, width_mm: f64, most_lines: usize) -> Vec<Self> {
        let (lines, left_out) = lettering.wrapped(text, width_mm, most_lines);
        let mut pieces: Vec<Self> = lines
            .iter()
            .map(|words| Self {
                height_mm: lettering.line_mm(),
                items: vec![line(0.0, 0.0, Align::Left, lettering, role, words).into()],
            })
            .collect();
        if left_out {
            pieces.push(Self {
                height_mm: Lettering::Fine.line_mm(),
                items: vec![
                    line(
                        0.0,
                        0.0,
                        Align::Left,
                        Lettering::Fine,
                        Role::Faint,
                        "The rest is left out here; it is in the job file.",
                    )
                    .into(),
                ],
            });
        }
        pieces
    }

    /// The same, so far to the right and, below 0, down.
    pub fn moved(mut self, right_mm: f64, up_mm: f64) -> Self {
        self.items = self.items.into_iter().map(|item| item.placed(1.0, at(right_mm, up_mm))).collect();
        self
    }

    /// Another one under it.
    pub fn over(mut self, next: Self) -> Self {
        let next_height_mm = next.height_mm;
        self.items.extend(next.moved(0.0, -self.height_mm).items);
        self.height_mm += next_height_mm;
        self
    }
}
