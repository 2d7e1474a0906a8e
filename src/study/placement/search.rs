//! The best places among all that are allowed, on a grid.
//!
//! The figure asked for is the largest over all stops of the tool, so the largest found so far is a lower bound: a
//! placement is given up at the first stop that is worse than what is already in hand, and the stop that threw out the
//! last one is asked first. Behind a follower every stop hangs on the one before, so those are asked in cutting order.
//! Few rests on few places are all tried; else a coarse grid is, with the borders of what is allowed, and about the best
//! of it (many, so that narrow valleys are not lost; behind a follower fewer where they are all alike) the grid is halved
//! until all places are in it; in the end each rest goes along all its places. What is found is the best of the grid short
//! of a pit that is narrower than the first grid in every direction; tests compare with trying all.

use std::collections::HashSet;

use super::Stretch;
use super::board::{Board, Room, spread};
use super::hands::{Best, Hands};

/// Places nearer than this are one.
const SAME_MM: f64 = 1e-3;
/// Where all that are kept of the first grid are alike to within this, nobody can tell which is the best.
const FLAT_RATIO: f64 = 1.003;

/// What a placement comes to (numbers into the places of the grid): the smaller the better, infinite where nothing holds
/// the work. Above the second argument the figure may be a lower bound only.
pub type Judge<'a> = dyn FnMut(&[usize], f64) -> f64 + 'a;

/// How much is tried.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Effort {
    /// So many placements at once at most before the grid is made coarser, by the number of rests.
    at_once: [f64; 4],
    /// So many of the best are kept from grid to grid.
    n_kept: [usize; 4],
    /// So many, and no more than the grids about them, where those of the first grid are all alike ([`FLAT_RATIO`]): hardly
    /// anything is to be gained then.
    n_alike: Option<usize>,
    /// Of so many of the best each rest goes along all its places in the end: past walls that are nearer than the steps of
    /// the first grid.
    n_along: usize,
    /// Tries between two looks at `keep_going`.
    pub tries_a_look: usize,
}

impl Effort {
    /// Where a try costs next to nothing.
    pub const BOARD: Self = Self {
        at_once: [1.0, 160.0, 2500.0, 12_000.0],
        n_kept: [1, 8, 24, 40],
        n_alike: None,
        n_along: 4,
        tries_a_look: 256,
    };
    /// Where a stop is not to be had without those before it.
    const CHAINED: Self = Self {
        at_once: [1.0, 160.0, 400.0, 12_000.0],
        n_kept: [1, 8, 32, 40],
        n_alike: Some(8),
        n_along: 4,
        tries_a_look: 16,
    };
    /// Where it costs a sweep and more.
    pub const DEAR: Self = Self {
        at_once: [1.0, 600.0, 1600.0, 2400.0],
        n_kept: [1, 8, 40, 40],
        n_alike: None,
        n_along: 0,
        tries_a_look: 1,
    };

    fn at_once(&self, n_rests: usize) -> f64 {
        self.at_once[n_rests.min(self.at_once.len() - 1)]
    }

    fn n_kept(&self, n_rests: usize) -> usize {
        self.n_kept[n_rests.min(self.n_kept.len() - 1)]
    }
}

/// Where each rest may stand.
#[derive(Clone, Debug, Default)]
pub struct Grid {
    /// Of all rests together, rising.
    pub places_mm: Vec<f64>,
    /// Of each rest, numbers into `places_mm`, rising.
    of_rest: Vec<Vec<usize>>,
    step_mm: f64,
    least_apart_mm: f64,
}

/// A placement that was tried.
#[derive(Clone, Debug, PartialEq)]
pub struct Tried {
    /// By the measure; the smaller the better.
    pub value: f64,
    /// Numbers into the places of the grid, from the headstock on.
    pub rests_at: Vec<usize>,
}

impl Grid {
    /// Places every `step_mm` in the stretches allowed for each rest, and their ends, strictly within the bending work;
    /// `also_mm` are places besides, for none of them.
    #[must_use]
    pub fn new(
        allowed: &[Vec<Stretch>],
        bending_mm: (f64, f64),
        step_mm: f64,
        least_apart_mm: f64,
        also_mm: &[f64],
    ) -> Self {
        let inside = |z_mm: &f64| *z_mm > bending_mm.0 + 1e-3 && *z_mm < bending_mm.1 - 1e-3;
        let mut of_rest_mm: Vec<Vec<f64>> = Vec::new();
        for stretches in allowed {
            let mut places_mm: Vec<f64> = Vec::new();
            for stretch in stretches {
                let (low_mm, high_mm) = (stretch.from_mm.max(bending_mm.0), stretch.to_mm.min(bending_mm.1));
                let (first, last) = ((low_mm / step_mm).ceil() as i64, (high_mm / step_mm).floor() as i64);
                let steps = (first..=last).map(|step| step as f64 * step_mm).chain([low_mm, high_mm]);
                places_mm.extend(steps.filter(|z_mm| inside(z_mm) && (low_mm..=high_mm).contains(z_mm)));
            }
            of_rest_mm.push(places_mm);
        }
        let mut places_mm: Vec<f64> =
            (of_rest_mm.iter().flatten().copied()).chain(also_mm.iter().copied().filter(inside)).collect();
        places_mm.sort_by(f64::total_cmp);
        places_mm.dedup_by(|later, earlier| *later - *earlier < SAME_MM);
        let mut grid = Self { places_mm, of_rest: Vec::new(), step_mm, least_apart_mm };
        for mine_mm in of_rest_mm {
            let mut mine: Vec<usize> = mine_mm.iter().filter_map(|z_mm| grid.number(*z_mm)).collect();
            mine.sort_unstable();
            mine.dedup();
            grid.of_rest.push(mine);
        }
        grid
    }

    /// Number of a place, if it is one.
    #[must_use]
    pub fn number(&self, z_mm: f64) -> Option<usize> {
        let after = self.places_mm.partition_point(|place| *place < z_mm - SAME_MM);
        (self.places_mm.get(after)? - z_mm <= SAME_MM).then_some(after)
    }

    /// The places of a placement.
    #[must_use]
    pub fn places_of(&self, rests_at: &[usize]) -> Vec<f64> {
        rests_at.iter().map(|place| self.places_mm[*place]).collect()
    }

    /// Numbers of the places of one rest, rising.
    #[must_use]
    pub fn of_rest(&self, rest: usize) -> &[usize] {
        &self.of_rest[rest]
    }

    /// How many places of a rest follow each other without a gap below its `at`-th and above it.
    #[must_use]
    pub fn without_a_gap(&self, rest: usize, at: usize) -> [usize; 2] {
        let mine = &self.of_rest[rest];
        let near = |low: usize| self.is_next(mine[low], mine[low + 1]);
        [(0..at).rev().take_while(|low| near(*low)).count(), (at..mine.len() - 1).take_while(|low| near(*low)).count()]
    }

    /// No place is left out between two.
    fn is_next(&self, low: usize, high: usize) -> bool {
        self.places_mm[high] - self.places_mm[low] <= self.step_mm + SAME_MM
    }

    /// Rests in this order, far enough apart.
    #[must_use]
    pub fn fits(&self, rests_at: &[usize]) -> bool {
        let apart = |pair: &[usize]| {
            pair[0] < pair[1] && self.places_mm[pair[1]] - self.places_mm[pair[0]] >= self.least_apart_mm - 1e-6
        };
        rests_at.windows(2).all(apart)
    }

    /// A place for each rest, spread evenly as far as they may; `None` where there is none.
    #[must_use]
    pub fn spread(&self) -> Option<Vec<usize>> {
        let n = self.of_rest.len();
        if n == 0 {
            return Some(Vec::new());
        }
        let (low_mm, high_mm) = (self.places_mm.first()?, self.places_mm.last()?);
        let mut rests_at: Vec<usize> = Vec::new();
        for (rest, mine) in self.of_rest.iter().enumerate() {
            let wanted_mm = low_mm + (high_mm - low_mm) * (rest as f64 + 1.0) / (n as f64 + 1.0);
            let away_mm = |place: &usize| (self.places_mm[*place] - wanted_mm).abs();
            let free = |place: &&usize| rests_at.last().is_none_or(|last| self.fits(&[*last, **place]));
            rests_at.push(*mine.iter().filter(free).min_by(|a, b| away_mm(a).total_cmp(&away_mm(b)))?);
        }
        Some(rests_at)
    }

    /// The places of a rest that a grid of every `stride`-th has: those, and the ends of every stretch, since what gets
    /// better all the way up to a place that is not allowed is best there.
    fn every(&self, rest: usize, stride: usize) -> Vec<usize> {
        let mine = &self.of_rest[rest];
        let is_end = |at: usize| {
            at == 0
                || at + 1 == mine.len()
                || !self.is_next(mine[at - 1], mine[at])
                || !self.is_next(mine[at], mine[at + 1])
        };
        (0..mine.len()).filter(|at| at % stride == 0 || is_end(*at)).map(|at| mine[at]).collect()
    }

    /// Every placement of every `stride`-th place, and those besides that have a rest as near to another as it may stand.
    /// Both in an order whose every beginning is spread over all of them: so that there is something good in hand early.
    fn all(&self, stride: usize) -> [Vec<Vec<usize>>; 2] {
        let every: Vec<Vec<usize>> = (0..self.of_rest.len()).map(|rest| self.every(rest, stride)).collect();
        let mut all = self.grown(&every, false);
        all.append(&mut self.grown(&every, true));
        all.sort_unstable();
        all.dedup();
        let has_no_other =
            |at: &Vec<usize>| at.iter().zip(&every).all(|(place, tried)| tried.binary_search(place).is_ok());
        let (all, near): (Vec<_>, Vec<_>) = all.into_iter().partition(has_no_other);
        [all, near].map(|mut rows| spread(rows.len()).into_iter().map(|at| std::mem::take(&mut rows[at])).collect())
    }

    /// Placements rest by rest, from the last one on where `down`: each at all places that are `tried`, or as near as may
    /// be to the one put before it.
    fn grown(&self, tried: &[Vec<usize>], down: bool) -> Vec<Vec<usize>> {
        let mut all = vec![Vec::new()];
        for step in 0..tried.len() {
            let rest = if down { tried.len() - 1 - step } else { step };
            let with = |row: &Vec<usize>| {
                let fits = |place: &&usize| match row.last() {
                    Some(other) if down => self.fits(&[**place, *other]),
                    Some(other) => self.fits(&[*other, **place]),
                    None => true,
                };
                let mine = &self.of_rest[rest];
                let nearest = if down { mine.iter().rfind(fits) } else { mine.iter().find(fits) };
                let places = tried[rest].iter().filter(fits).chain(nearest);
                places.map(|place| [&row[..], &[*place]].concat()).collect::<Vec<_>>()
            };
            all = all.iter().flat_map(with).collect();
        }
        if down {
            all.iter_mut().for_each(|row| row.reverse());
        }
        all
    }
}

/// What a search found, best first; nothing where nothing is allowed or holds.
#[derive(Clone, Debug, Default)]
pub struct Searched {
    /// The best of the grid, and what lies about it.
    pub best: Vec<Tried>,
    /// The best of the coarse grid, which lie further apart.
    pub coarse: Vec<Tried>,
}

/// The best placements of the grid by what a board says. `keep_going` hears the share done; `None` where it said no.
///
/// Behind a follower two threads try them, each with room of its own for a half that is laid down beforehand: the answer
/// does not hang on which of them is faster, or on whether a second one is to be had. Elsewhere a try is so short, and so
/// much shorter with all that was learnt from the others, that two would do half as much again between them.
pub fn search(board: &Board, grid: &Grid, room: &mut Room, keep_going: &dyn Fn(f64) -> bool) -> Option<Searched> {
    if !board.is_chained() {
        return search_by(&mut |at, limit| board.value(room, at, limit), grid, &Effort::BOARD, keep_going);
    }
    let mut beside = Room::default();
    let mut one = |rests_at: &[usize], limit: f64| board.value(room, rests_at, limit);
    let mut other = |rests_at: &[usize], limit: f64| board.value(&mut beside, rests_at, limit);
    let found = search_with(&mut Hands::Two(&mut one, &mut other), grid, &Effort::CHAINED, keep_going);
    room.n_solved += beside.n_solved;
    found
}

/// As [`search`], by what any judge says, in one thread.
pub fn search_by(
    judge: &mut Judge<'_>,
    grid: &Grid,
    effort: &Effort,
    keep_going: &dyn Fn(f64) -> bool,
) -> Option<Searched> {
    search_with(&mut Hands::One(judge), grid, effort, keep_going)
}

fn search_with(
    hands: &mut Hands<'_, '_>,
    grid: &Grid,
    effort: &Effort,
    keep_going: &dyn Fn(f64) -> bool,
) -> Option<Searched> {
    let n_rests = grid.of_rest.len();
    let at_once = effort.at_once(n_rests);
    let orders: f64 = (1..=n_rests).map(|n| n as f64).product();
    let n_at = |stride: usize| {
        grid.of_rest.iter().map(|mine| (mine.len() as f64 / stride as f64).ceil()).product::<f64>() / orders
    };
    let mut stride = 1_usize;
    while n_at(stride) > at_once {
        stride *= 2;
    }
    let n_coarse = n_at(stride).max(1.0);
    let n_levels = f64::from(stride.trailing_zeros());
    // What the grids after the first cost, a neighbour being as dear as a first try.
    let n_finer = n_levels * (3_f64.powi(n_rests as i32) - 1.0) * effort.n_kept(n_rests) as f64 / 2.0;
    let coarse_share = n_coarse / (n_coarse + n_finer);
    let [all, near] = grid.all(stride);
    let mut hunt = Hunt { hands, grid, effort, best: Best::of(effort.n_kept(n_rests)), seen: HashSet::new() };
    hunt.hands.try_all(&all, &mut hunt.best, effort, &|share| keep_going(share * coarse_share))?;
    let coarse = hunt.best.kept.clone();
    hunt.take_better(&near, &|_| keep_going(coarse_share))?;
    let n_alike = effort.n_alike.filter(|_| hunt.best.limit() <= FLAT_RATIO * hunt.best.least());
    if let Some(n_alike) = n_alike {
        hunt.best.keep_only(n_alike);
    }
    hunt.seen.extend(hunt.best.kept.iter().map(|tried| tried.rests_at.clone()));
    let mut level = 0.0;
    while stride > 1 {
        stride /= 2;
        level += 1.0;
        let done = |share: f64| coarse_share + (1.0 - coarse_share) * (level - 1.0 + share) / n_levels;
        hunt.finer(stride, &|share| keep_going(done(share)))?;
    }
    hunt.go_down(keep_going)?;
    if n_alike.is_none() {
        hunt.go_along(keep_going)?;
    }
    let held = |mut all: Vec<Tried>| {
        all.retain(|tried| tried.value.is_finite());
        all
    };
    Some(Searched { best: held(hunt.best.kept), coarse: held(coarse) })
}

/// The best near to a placement, by steps of the grid; `None` where `keep_going` said no.
pub fn polish(
    judge: &mut Judge<'_>,
    grid: &Grid,
    rests_at: &[usize],
    keep_going: &dyn Fn(f64) -> bool,
) -> Option<Tried> {
    let mut best = Best::of(1);
    best.put(judge(rests_at, f64::INFINITY), rests_at);
    let (hands, effort) = (&mut Hands::One(judge), &Effort::DEAR);
    let mut hunt = Hunt { hands, grid, effort, best, seen: HashSet::from([rests_at.to_vec()]) };
    for stride in [4, 2] {
        hunt.finer(stride, keep_going)?;
    }
    hunt.go_down(keep_going)?;
    hunt.best.kept.into_iter().next()
}

/// A search under way.
struct Hunt<'a, 'b, 'c> {
    hands: &'a mut Hands<'b, 'c>,
    grid: &'a Grid,
    effort: &'a Effort,
    best: Best,
    /// What need not be tried again.
    seen: HashSet<Vec<usize>>,
}

impl Hunt<'_, '_, '_> {
    /// Tries these, and keeps those that are better than the best; whether any was.
    fn take_better(&mut self, placements: &[Vec<usize>], keep_going: &dyn Fn(f64) -> bool) -> Option<bool> {
        let mut better = self.best.only_better();
        self.hands.try_all(placements, &mut better, self.effort, keep_going)?;
        self.best.join(&better);
        Some(!better.kept.is_empty())
    }

    /// Steps of one place for as long as the best gets better.
    fn go_down(&mut self, keep_going: &dyn Fn(f64) -> bool) -> Option<()> {
        loop {
            let before = self.best.least();
            self.finer(1, &|_| keep_going(1.0))?;
            if self.best.least() >= before {
                return Some(());
            }
        }
    }

    /// Moves each rest of the best few along all its places, and goes down from there, for as long as the best gets better.
    fn go_along(&mut self, keep_going: &dyn Fn(f64) -> bool) -> Option<()> {
        loop {
            let mut along: Vec<Vec<usize>> = Vec::new();
            for Tried { rests_at, .. } in self.best.kept.iter().take(self.effort.n_along) {
                for (rest, mine) in self.grid.of_rest.iter().enumerate() {
                    for place in mine {
                        let mut moved = rests_at.clone();
                        moved[rest] = *place;
                        if self.grid.fits(&moved) && self.seen.insert(moved.clone()) {
                            along.push(moved);
                        }
                    }
                }
            }
            if !self.take_better(&along, &|_| keep_going(1.0))? {
                return Some(());
            }
            self.go_down(keep_going)?;
        }
    }

    /// Tries all neighbours of the best so many places away.
    fn finer(&mut self, stride: usize, keep_going: &dyn Fn(f64) -> bool) -> Option<()> {
        let grid = self.grid;
        let mut near: Vec<Vec<usize>> = Vec::new();
        for Tried { rests_at, .. } in &self.best.kept {
            for code in 0..3_usize.pow(grid.of_rest.len() as u32) {
                let mut steps = code;
                let moved: Option<Vec<usize>> = (rests_at.iter().zip(&grid.of_rest))
                    .map(|(place, mine)| {
                        let step = steps % 3;
                        steps /= 3;
                        let at = mine.binary_search(place).ok()?;
                        let at = if step == 2 { at.checked_sub(stride)? } else { at + step * stride };
                        mine.get(at).copied()
                    })
                    .collect();
                let Some(moved) = moved.filter(|moved| grid.fits(moved)) else { continue };
                if self.seen.insert(moved.clone()) {
                    near.push(moved);
                }
            }
        }
        self.hands.try_all(&near, &mut self.best, self.effort, keep_going)
    }
}
