//! Pours blocks into columns, column after column, page after page. A block that does not fit goes on in the next column
//! under its heading and the head of its table.

use super::paper::Paper;
use super::piece::{Block, Piece, line};
use crate::picture::lettering::Lettering;
use crate::picture::{Align, Bounds, Item, Role, at};

/// A column is at least so wide.
const LEAST_COLUMN_MM: f64 = 118.0;
/// Between columns.
const GUTTER_MM: f64 = 7.0;
/// Between blocks.
const BETWEEN_MM: f64 = 3.4;
/// Less room than this at the foot of a drawing is left white.
const LEAST_START_MM: f64 = 26.0;

pub(super) struct Flow {
    room: Bounds,
    n_columns: usize,
    /// Words at the head of every page but the first.
    again: String,
    /// Items of every page so far.
    pub pages: Vec<Vec<Item>>,
    column: usize,
    /// Where columns of this page begin, and where the next piece goes.
    column_top_mm: f64,
    top_mm: f64,
}

/// How many columns there are, and how wide each is.
pub(super) fn columns(paper: Paper) -> (usize, f64) {
    let room = paper.contents();
    let width_mm = room.right_mm - room.left_mm;
    let n = (((width_mm + GUTTER_MM) / (LEAST_COLUMN_MM + GUTTER_MM)).floor() as usize).max(1);
    (n, (width_mm - GUTTER_MM * (n - 1) as f64) / n as f64)
}

impl Flow {
    /// Begins under what stands on the first page already, `from_top_mm` below the upper margin.
    pub fn new(paper: Paper, first: Vec<Item>, from_top_mm: f64, again: String) -> Self {
        let room = paper.contents();
        let (n_columns, _) = columns(paper);
        let top_mm = room.top_mm - from_top_mm;
        let mut flow = Self { room, n_columns, again, pages: vec![first], column: 0, column_top_mm: top_mm, top_mm };
        if top_mm - room.bottom_mm < LEAST_START_MM {
            flow.next_page();
        }
        flow
    }

    fn next_page(&mut self) {
        let kind = Lettering::Heading;
        let width_mm = self.room.right_mm - self.room.left_mm;
        let words = kind.cut(&self.again, width_mm);
        let head = line(self.room.left_mm, self.room.top_mm, Align::Left, kind, Role::Text, &words);
        self.pages.push(vec![head.into()]);
        self.column = 0;
        self.column_top_mm = self.room.top_mm - kind.line_mm() - 2.0;
        self.top_mm = self.column_top_mm;
    }

    fn next_column(&mut self) {
        self.column += 1;
        self.top_mm = self.column_top_mm;
        if self.column == self.n_columns {
            self.next_page();
        }
    }

    fn fits(&self, height_mm: f64) -> bool {
        self.top_mm - height_mm >= self.room.bottom_mm
    }

    fn put(&mut self, piece: Piece) {
        let width_mm = (self.room.right_mm - self.room.left_mm + GUTTER_MM) / self.n_columns as f64;
        let left_mm = self.room.left_mm + width_mm * self.column as f64;
        let items = piece.items.into_iter().map(|item| item.placed(1.0, at(left_mm, self.top_mm)));
        if let Some(page) = self.pages.last_mut() {
            page.extend(items);
        }
        self.top_mm -= piece.height_mm;
    }

    /// Pours a block.
    pub fn pour(&mut self, block: Block) {
        let Block { heading, head, pieces } = block;
        if pieces.is_empty() {
            return;
        }
        let title = |words: &str| Piece {
            height_mm: Lettering::Heading.line_mm() + 0.8,
            items: vec![line(0.0, 0.0, Align::Left, Lettering::Heading, Role::Text, words).into()],
        };
        let head = head.unwrap_or(Piece::gap(0.0));
        let mut begun = title(&heading).over(head.clone());
        let again = title(&format!("{heading}, continued")).over(head);
        let n_pieces = pieces.len();
        for (index, piece) in pieces.into_iter().enumerate() {
            let needed_mm = piece.height_mm + if index == 0 { begun.height_mm } else { 0.0 };
            if !self.fits(needed_mm) && self.top_mm < self.column_top_mm {
                self.next_column();
                if index > 0 {
                    self.put(again.clone());
                }
            }
            if index == 0 {
                self.put(std::mem::replace(&mut begun, Piece::gap(0.0)));
            }
            self.put(piece);
            if index + 1 == n_pieces {
                self.top_mm -= BETWEEN_MM;
            }
        }
    }
}
