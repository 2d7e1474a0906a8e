//! Pours blocks into columns, column after column, page after page. Where everything goes is planned on heights alone,
//! so that orders of the blocks and ends of the columns can be tried by the hundred; the plan is drawn once.
//!
//! A block that is better whole begins in a column that has room for all of it; else it goes on in the next column under
//! its heading and the head of its table.

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
/// So much unevenness of the columns is a block torn, or one that stands before another it should follow, worth.
const TORN_MM: f64 = 25.0;
const OUT_OF_ORDER_MM: f64 = 4.0;
/// A list does not begin at the foot of a column with fewer pieces than this, where that costs no more.
const LEAST_BEGUN: usize = 3;
const STUB_MM: f64 = 15.0;

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

    /// Where the columns of every page but the first begin.
    fn later_top_mm(&self) -> f64 {
        self.room.top_mm - Lettering::Heading.line_mm() - 2.0
    }
}

/// A block as it is poured.
struct Poured {
    /// Heading and head, as they begin and as they go on.
    begun: Piece,
    again: Piece,
    pieces: Vec<Piece>,
    whole: bool,
}

impl Poured {
    fn of(block: Block, width_mm: f64, hand: Hand) -> Self {
        let Block { heading, head, pieces, whole } = block;
        let title = |words: &str| {
            let kinds = [hand.heading, hand.strong, hand.fine];
            let kind = kinds.into_iter().find(|kind| kind.width_mm(words) <= width_mm).unwrap_or(hand.fine);
            let shown = line(0.0, 0.0, Align::Left, kind, Role::Text, &kind.cut(words, width_mm));
            Piece { height_mm: hand.heading.line_mm() + 0.5, items: vec![shown.into()] }
        };
        let head = head.unwrap_or(Piece::gap(0.0));
        let begun = title(&heading).over(head.clone());
        let again = title(&format!("{heading}, continued")).over(head);
        Self { begun, again, pieces, whole }
    }

    fn height_mm(&self) -> f64 {
        self.begun.height_mm + self.pieces.iter().map(|piece| piece.height_mm).sum::<f64>()
    }
}

/// Blocks to be poured, laid out as wide as a column.
pub(super) struct Flow {
    columns: Columns,
    between_mm: f64,
    blocks: Vec<Poured>,
}

/// Which piece of a block.
#[derive(Clone, Copy)]
enum Which {
    Begun,
    Again,
    Piece(usize),
}

/// Where a piece goes.
struct Spot {
    block: usize,
    which: Which,
    page: usize,
    column: usize,
    top_mm: f64,
}

/// Where everything goes.
pub(super) struct Plan {
    spots: Vec<Spot>,
    pub n_pages: usize,
    /// Blocks that are better whole and are not.
    n_torn: usize,
    /// Where the columns of the first page end.
    ends_mm: Vec<f64>,
}

impl Plan {
    fn lowest_mm(&self) -> f64 {
        self.ends_mm.iter().copied().fold(f64::INFINITY, f64::min)
    }

    /// White at the feet of the columns, on average.
    fn uneven_mm(&self) -> f64 {
        self.ends_mm.iter().map(|end_mm| end_mm - self.lowest_mm()).sum::<f64>() / self.ends_mm.len().max(1) as f64
    }
}

/// The page that is being planned.
struct Planner<'a> {
    flow: &'a Flow,
    tops_mm: Vec<f64>,
    foot_mm: f64,
    column: usize,
    top_mm: f64,
    plan: Plan,
}

impl Flow {
    /// Blocks in their order, those with nothing in them left out.
    pub fn new(columns: Columns, hand: Hand, blocks: impl IntoIterator<Item = Block>) -> Self {
        let full = blocks.into_iter().filter(|block| !block.pieces.is_empty());
        let blocks = full.map(|block| Poured::of(block, columns.width_mm, hand)).collect();
        Self { columns, between_mm: hand.between_mm, blocks }
    }

    /// All blocks in this order into columns that begin at `tops_mm` on the first page and end at `foot_mm`.
    fn planned(&self, order: &[usize], tops_mm: &[f64], foot_mm: f64, (keep_whole, n_begun): (bool, usize)) -> Plan {
        let top_mm = tops_mm.first().copied().unwrap_or(foot_mm);
        let plan = Plan { spots: Vec::new(), n_pages: 1, n_torn: 0, ends_mm: tops_mm.to_vec() };
        let mut planner = Planner { flow: self, tops_mm: tops_mm.to_vec(), foot_mm, column: 0, top_mm, plan };
        if top_mm - foot_mm < LEAST_START_MM {
            planner.next_column();
        }
        for block in order {
            planner.pour(*block, keep_whole, n_begun);
        }
        planner.plan
    }

    /// The best of many plans: the blocks that are better whole in other orders too, the columns of a single page ended
    /// together as high up as they can. One page with nothing torn where that can be had, else, unless `keep_whole`,
    /// the fewest pages.
    pub fn plan(&self, tops_mm: &[f64], keep_whole: bool) -> Plan {
        let bottom_mm = self.columns.room.bottom_mm;
        let natural: Vec<usize> = (0..self.blocks.len()).collect();
        let plan = self.planned(&natural, tops_mm, bottom_mm, (keep_whole, 1));
        if plan.n_pages > 2 {
            return plan;
        }
        let n_whole = self.blocks.iter().take_while(|block| block.whole).count();
        let mut best = (f64::INFINITY, plan);
        for (head, n_swapped) in orders(n_whole) {
            let order: Vec<usize> = head.into_iter().chain(n_whole..self.blocks.len()).collect();
            let level = |n_begun| self.levelled(&order, tops_mm, (keep_whole, n_begun));
            let (plan, stub_mm) = match (level(LEAST_BEGUN), level(1)) {
                (Some(plan), _) => (plan, 0.0),
                (None, Some(plan)) => (plan, STUB_MM),
                (None, None) => continue,
            };
            let cost_mm = stub_mm
                + plan.uneven_mm()
                + TORN_MM * plan.n_torn as f64
                + OUT_OF_ORDER_MM * n_swapped as f64
                + (tops_mm.iter().copied().fold(0.0, f64::max) - plan.lowest_mm());
            if cost_mm < best.0 - 1e-9 {
                best = (cost_mm, plan);
            }
        }
        best.1
    }

    /// One page whose columns end together, as high up as they can; nothing where it takes more than one.
    fn levelled(&self, order: &[usize], tops_mm: &[f64], how: (bool, usize)) -> Option<Plan> {
        let (mut low_mm, mut high_mm) = (self.columns.room.bottom_mm, self.columns.room.top_mm);
        let mut best = Some(self.planned(order, tops_mm, low_mm, how)).filter(|plan| plan.n_pages == 1)?;
        while high_mm - low_mm > LEVEL_MM {
            let foot_mm = f64::midpoint(low_mm, high_mm);
            let plan = self.planned(order, tops_mm, foot_mm, how);
            if plan.n_pages == 1 && plan.n_torn <= best.n_torn {
                (best, low_mm) = (plan, foot_mm);
            } else {
                high_mm = foot_mm;
            }
        }
        Some(best)
    }

    /// The pages of a plan, the first one beginning with `first`, every other one under the words `again`.
    pub fn drawn(&self, plan: &Plan, first: Vec<Item>, again: &str) -> Vec<Vec<Item>> {
        let kind = Lettering::Heading;
        let Bounds { left_mm, top_mm, .. } = self.columns.room;
        let words = kind.cut(again, self.columns.across_mm(self.columns.n));
        let mut pages = vec![first];
        pages.resize_with(plan.n_pages, || vec![line(left_mm, top_mm, Align::Left, kind, Role::Text, &words).into()]);
        for spot in &plan.spots {
            let block = &self.blocks[spot.block];
            let piece = match spot.which {
                Which::Begun => &block.begun,
                Which::Again => &block.again,
                Which::Piece(index) => &block.pieces[index],
            };
            let left_mm = left_mm + (self.columns.width_mm + GUTTER_MM) * spot.column as f64;
            let items = piece.items.iter().cloned();
            pages[spot.page].extend(items.map(|item| item.placed(1.0, at(left_mm, spot.top_mm))));
        }
        pages
    }
}

/// Orders of the first few of a list, with how many pairs are not in their order; the natural one first.
fn orders(n: usize) -> Vec<(Vec<usize>, usize)> {
    let mut all = vec![(Vec::new(), 0)];
    for next in 0..n {
        let longer = |(order, n_swapped): &(Vec<usize>, usize)| {
            let (order, n_swapped) = (order.clone(), *n_swapped);
            (0..=next).map(move |back| {
                let mut order = order.clone();
                order.insert(next - back, next);
                (order, n_swapped + back)
            })
        };
        all = all.iter().flat_map(longer).collect();
    }
    all
}

impl Planner<'_> {
    fn next_page(&mut self) {
        let columns = self.flow.columns;
        self.plan.n_pages += 1;
        self.column = 0;
        self.top_mm = columns.later_top_mm();
        self.tops_mm = vec![self.top_mm; columns.n];
        self.foot_mm = columns.room.bottom_mm;
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

    fn put(&mut self, block: usize, which: Which, height_mm: f64) {
        let (page, column, top_mm) = (self.plan.n_pages - 1, self.column, self.top_mm);
        self.plan.spots.push(Spot { block, which, page, column, top_mm });
        self.top_mm -= height_mm;
        if page == 0 {
            self.plan.ends_mm[column] = self.top_mm;
        }
    }

    fn pour(&mut self, index: usize, keep_whole: bool, n_begun: usize) {
        let block = &self.flow.blocks[index];
        if block.whole {
            let all_mm = block.height_mm();
            let columns = self.flow.columns;
            // Further on on this page, else on the next one if a whole column can hold it.
            let further = |now: &Self| {
                let fits = |top_mm: &f64| top_mm - all_mm >= now.foot_mm - 1e-9;
                now.tops_mm.iter().skip(now.column + 1).any(fits)
            };
            let fits_column = columns.later_top_mm() - all_mm >= columns.room.bottom_mm;
            while !self.fits(all_mm) && (further(self) || (keep_whole && fits_column)) {
                self.next_column();
            }
            self.plan.n_torn += usize::from(!self.fits(all_mm));
        }
        for (piece_index, piece) in block.pieces.iter().enumerate() {
            let begun_mm = if piece_index == 0 { block.begun.height_mm } else { 0.0 };
            let n_together = if piece_index == 0 { n_begun } else { 1 };
            let together = block.pieces[piece_index..].iter().take(n_together);
            let needed_mm = begun_mm + together.map(|piece| piece.height_mm).sum::<f64>();
            let is_begun = self.tops_mm.get(self.column).is_some_and(|top_mm| self.top_mm < *top_mm);
            if !self.fits(needed_mm) && is_begun {
                self.next_column();
                if piece_index > 0 {
                    self.put(index, Which::Again, block.again.height_mm);
                }
            }
            if piece_index == 0 {
                self.put(index, Which::Begun, begun_mm);
            }
            self.put(index, Which::Piece(piece_index), piece.height_mm);
        }
        self.top_mm -= self.flow.between_mm;
    }
}
