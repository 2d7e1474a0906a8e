//! Pours blocks into columns, column after column, page after page. A block that does not fit goes on in the next column
//! under its heading and the head of its table; one that is better kept whole begins there, where there is room for it.

use super::hand::Hand;
use super::paper::Paper;
use super::piece::{Block, Piece, line};
use crate::picture::lettering::Lettering;
use crate::picture::{Align, Bounds, Item, Role, at};

/// Between columns.
pub(super) const GUTTER_MM: f64 = 6.0;
/// A column with less room than this is left white.
const LEAST_START_MM: f64 = 22.0;

/// The columns of a page that is not full end together, to within this.
const LEVEL_MM: f64 = 1.0;

/// One page with its columns ending together, as high up as they can; `lay` lays it out with columns ending there.
pub(super) fn levelled(room: Bounds, page: Vec<Vec<Item>>, lay: impl Fn(f64) -> Vec<Vec<Item>>) -> Vec<Vec<Item>> {
    let (mut best, mut low_mm, mut high_mm) = (page, room.bottom_mm, room.top_mm);
    while high_mm - low_mm > LEVEL_MM {
        let foot_mm = f64::midpoint(low_mm, high_mm);
        let laid = lay(foot_mm);
        if laid.len() == 1 {
            (best, low_mm) = (laid, foot_mm);
        } else {
            high_mm = foot_mm;
        }
    }
    best
}

/// Where the contents of a page go.
#[derive(Clone, Copy, Debug)]
pub(super) struct Columns {
    pub room: Bounds,
    pub n: usize,
    pub width_mm: f64,
}

impl Columns {
    /// As many as there is room for, each at least so wide.
    pub fn of(paper: Paper, least_mm: f64) -> Self {
        let room = paper.contents();
        let all_mm = room.right_mm - room.left_mm;
        let n = (((all_mm + GUTTER_MM) / (least_mm + GUTTER_MM)).floor() as usize).max(1);
        Self { room, n, width_mm: (all_mm - GUTTER_MM * (n - 1) as f64) / n as f64 }
    }

    /// From the left edge of the first column to the right edge of the last of so many.
    pub fn across_mm(&self, n: usize) -> f64 {
        n as f64 * (self.width_mm + GUTTER_MM) - GUTTER_MM
    }
}

pub(super) struct Flow {
    columns: Columns,
    hand: Hand,
    /// Words at the head of every page but the first.
    again: String,
    /// Blocks that are better whole are kept so.
    keep_whole: bool,
    /// Items of every page so far.
    pub pages: Vec<Vec<Item>>,
    column: usize,
    /// Where the columns of this page begin and end, and where the next piece goes.
    tops_mm: Vec<f64>,
    foot_mm: f64,
    top_mm: f64,
}

impl Flow {
    /// Begins on a page that holds `first` already and whose columns begin at `tops_mm` and end at `foot_mm`.
    pub fn new(
        columns: Columns,
        hand: Hand,
        first: Vec<Item>,
        tops_mm: Vec<f64>,
        foot_mm: f64,
        again: String,
        keep_whole: bool,
    ) -> Self {
        let top_mm = tops_mm.first().copied().unwrap_or(foot_mm);
        let mut flow =
            Self { columns, hand, again, keep_whole, pages: vec![first], column: 0, tops_mm, foot_mm, top_mm };
        if top_mm - foot_mm < LEAST_START_MM {
            flow.next_column();
        }
        flow
    }

    fn next_page(&mut self) {
        let kind = Lettering::Heading;
        let Bounds { left_mm, top_mm, bottom_mm, .. } = self.columns.room;
        let words = kind.cut(&self.again, self.columns.across_mm(self.columns.n));
        self.pages.push(vec![line(left_mm, top_mm, Align::Left, kind, Role::Text, &words).into()]);
        self.column = 0;
        self.top_mm = top_mm - kind.line_mm() - 2.0;
        self.tops_mm = vec![self.top_mm; self.columns.n];
        self.foot_mm = bottom_mm;
    }

    fn next_column(&mut self) {
        loop {
            self.column += 1;
            match self.tops_mm.get(self.column) {
                None => return self.next_page(),
                Some(top_mm) if top_mm - self.foot_mm >= LEAST_START_MM => {
                    self.top_mm = *top_mm;
                    return;
                }
                Some(_) => {}
            }
        }
    }

    fn fits(&self, height_mm: f64) -> bool {
        self.top_mm - height_mm >= self.foot_mm - 1e-9
    }

    /// Whether one of the columns to come on this page has so much room.
    fn has_room_further_on(&self, height_mm: f64) -> bool {
        self.tops_mm.iter().skip(self.column + 1).any(|top_mm| top_mm - height_mm >= self.foot_mm)
    }

    fn put(&mut self, piece: Piece) {
        let left_mm = self.columns.room.left_mm + (self.columns.width_mm + GUTTER_MM) * self.column as f64;
        let items = piece.items.into_iter().map(|item| item.placed(1.0, at(left_mm, self.top_mm)));
        if let Some(page) = self.pages.last_mut() {
            page.extend(items);
        }
        self.top_mm -= piece.height_mm;
    }

    /// Pours a block.
    pub fn pour(&mut self, block: Block) {
        let Block { heading, head, pieces, whole } = block;
        if pieces.is_empty() {
            return;
        }
        let (hand, width_mm) = (self.hand, self.columns.width_mm);
        let title = |words: &str| {
            let kinds = [hand.heading, hand.strong, hand.fine];
            let kind = kinds.into_iter().find(|kind| kind.width_mm(words) <= width_mm).unwrap_or(hand.fine);
            let shown = line(0.0, 0.0, Align::Left, kind, Role::Text, &kind.cut(words, width_mm));
            Piece { height_mm: hand.heading.line_mm() + 0.5, items: vec![shown.into()] }
        };
        let head = head.unwrap_or(Piece::gap(0.0));
        let mut begun = title(&heading).over(head.clone());
        let again = title(&format!("{heading}, continued")).over(head);
        if whole && self.keep_whole {
            let all_mm = begun.height_mm + pieces.iter().map(|piece| piece.height_mm).sum::<f64>();
            while !self.fits(all_mm) && self.has_room_further_on(all_mm) {
                self.next_column();
            }
        }
        let n_pieces = pieces.len();
        for (index, piece) in pieces.into_iter().enumerate() {
            let needed_mm = piece.height_mm + if index == 0 { begun.height_mm } else { 0.0 };
            let is_begun = self.tops_mm.get(self.column).is_some_and(|top_mm| self.top_mm < *top_mm);
            if !self.fits(needed_mm) && is_begun {
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
                self.top_mm -= self.hand.between_mm;
            }
        }
    }
}
