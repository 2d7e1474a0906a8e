//! The search by the depth before chatter, with nearly all placements thrown out at a single stop of the tool.
//!
//! The stops that were worst in placements worked out before are asked first ([`Screen`]), the one that threw out the last
//! placement before all. Only a placement that none of them throws out is worked out as a whole ([`Swung`]); where that
//! shows a stop that was not asked, it is asked from then on. So few stops decide that some tens of placements are worked
//! out in a search.
//!
//! A stop alone may say a little too much. By how much, the first placements show, each worked out and asked for; a
//! placement is thrown out only by half as much again. Tests compare with trying all as a whole.

use std::collections::HashMap;

use super::chatter::{COARSE, Swung};
use super::screen::{Screen, Spot};
use super::search::{Effort, Grid, Searched, search_by};
use super::trial::Trial;

/// A bound so much below the whole has missed the stop that matters.
const MISSED_RATIO: f64 = 1.02;
/// A stop alone is not believed nearer than this: it says too much by a twentieth at most in a first pass (measured on 60
/// jobs drawn by lot, 1700 placements, 2026-11-28).
const LEAST_MARGIN_RATIO: f64 = 1.05;
/// In later passes so many times more again: there it was seen to say too much by a quarter.
const LATER_RATIO: f64 = 1.2;
/// Nor than so many times what it was seen to say too much.
const TIMES_SEEN: f64 = 1.5;
/// Placements worked out before a stop alone is believed.
const N_FIRST: usize = 8;

/// A set-up whose rests are put anywhere and judged, at the least cost.
pub struct Screened {
    swung: Swung,
    screen: Option<Screen>,
    /// Stops that matter and where they chattered last, those that threw out the last placements first.
    spots: Vec<(Spot, Option<f64>)>,
    /// Placements worked out.
    known: HashMap<Vec<usize>, f64>,
    /// The least of those.
    least: f64,
    /// A stop alone says at most so many times what the whole says.
    margin_ratio: f64,
    /// Placements worked out as a whole, and stops asked alone.
    pub n_whole: usize,
    pub n_alone: usize,
}

impl Screened {
    /// Rests stand at places of this grid. `None` where nothing is turned.
    #[must_use]
    pub fn new(trial: &Trial, grid: &Grid) -> Option<Self> {
        let swung = Swung::coarse(trial, &grid.places_mm)?;
        let mut trial = trial.clone();
        if let Some(spread) = grid.spread() {
            trial.put(&grid.places_of(&spread));
        }
        let screen = Screen::new(&trial, &grid.places_mm, COARSE);
        let (spots, known) = (Vec::new(), HashMap::new());
        let (least, margin_ratio) = (f64::INFINITY, LEAST_MARGIN_RATIO);
        Some(Self { swung, screen, spots, known, least, margin_ratio, n_whole: 0, n_alone: 0 })
    }

    /// Stops that matter, found so far.
    #[must_use]
    pub fn n_spots(&self) -> usize {
        self.spots.len()
    }

    /// As [`Swung::value`].
    pub fn value(&mut self, rests_at: &[usize], limit: f64, keep_going: &dyn Fn() -> bool) -> f64 {
        if let Some(value) = self.known.get(rests_at) {
            return *value;
        }
        let believed = self.margin_ratio * limit;
        let bound = if limit.is_finite() { self.largest(rests_at, believed, LATER_RATIO) } else { None };
        match bound.filter(|bound| *bound > believed) {
            Some(bound) => bound / self.margin_ratio,
            None => self.whole(rests_at, limit, bound, keep_going),
        }
    }

    /// The largest of the stops that matter, up to the first above `limit`. `None` where it takes the real sweep to tell.
    pub fn bound(&mut self, rests_at: &[usize], limit: f64) -> Option<f64> {
        self.largest(rests_at, limit, 1.0)
    }

    /// As [`Self::bound`], with what a stop of a later pass says divided by so much.
    fn largest(&mut self, rests_at: &[usize], limit: f64, later_ratio: f64) -> Option<f64> {
        let screen = self.screen.as_mut()?;
        screen.lay_out(rests_at);
        let mut largest: f64 = 0.0;
        for at in 0..self.spots.len() {
            self.n_alone += 1;
            let (spot, last_hz) = &mut self.spots[at];
            let ratio = if spot.is_later() { later_ratio } else { 1.0 };
            largest = largest.max(screen.value_at(rests_at, *spot, ratio * limit, last_hz)? / ratio);
            if largest > limit {
                self.spots[..=at].rotate_right(1);
                break;
            }
        }
        Some(largest)
    }

    /// The best placements of the grid, as [`super::search_by`] with [`Swung::value`] finds them; figures of those that are
    /// not the best may be lower bounds. `None` where `keep_going`, which hears the share done, said no.
    pub fn search(&mut self, grid: &Grid, keep_going: &dyn Fn(f64) -> bool) -> Option<Searched> {
        let going = || keep_going(0.0);
        self.least = self.known.values().copied().fold(f64::INFINITY, f64::min);
        let mut judge = |rests_at: &[usize], limit: f64| self.ranked(rests_at, limit, &going);
        search_by(&mut judge, grid, &Effort::DEAR, keep_going)
    }

    /// What a placement comes to where it may be the best so far, else a lower bound.
    fn ranked(&mut self, rests_at: &[usize], limit: f64, keep_going: &dyn Fn() -> bool) -> f64 {
        if let Some(value) = self.known.get(rests_at) {
            return *value;
        }
        if self.known.len() < N_FIRST {
            let value = self.whole(rests_at, f64::INFINITY, None, keep_going);
            if self.known.len() == N_FIRST {
                self.see_what_is_too_much();
            }
            return value;
        }
        let (least, believed) = (self.least, self.margin_ratio * self.least);
        let bound = self.largest(rests_at, limit.max(believed), LATER_RATIO);
        match bound.filter(|bound| *bound > believed) {
            Some(bound) => bound,
            None => {
                let value = self.whole(rests_at, least, bound, keep_going);
                if value <= least { value } else { value.max(bound.unwrap_or(0.0)) }
            }
        }
    }

    /// Compares the stops alone with the whole where that is known.
    fn see_what_is_too_much(&mut self) {
        let known: Vec<(Vec<usize>, f64)> =
            self.known.iter().map(|(rests_at, value)| (rests_at.clone(), *value)).collect();
        for (rests_at, value) in known.into_iter().filter(|(_, value)| value.is_finite() && *value > 0.0) {
            let bound = self.bound(&rests_at, f64::INFINITY);
            self.widen(bound, value);
        }
    }

    fn widen(&mut self, bound: Option<f64>, value: f64) {
        let too_much = bound.filter(|bound| bound.is_finite()).map_or(0.0, |bound| bound / value - 1.0);
        self.margin_ratio = self.margin_ratio.max(1.0 + TIMES_SEEN * too_much);
    }

    /// Works a placement out as a whole, and learns from it.
    fn whole(&mut self, rests_at: &[usize], limit: f64, bound: Option<f64>, keep_going: &dyn Fn() -> bool) -> f64 {
        self.n_whole += 1;
        let value = self.swung.value(rests_at, limit, keep_going);
        if !keep_going() {
            return f64::INFINITY;
        }
        if value <= limit {
            self.known.insert(rests_at.to_vec(), value);
            self.least = self.least.min(value);
            if value > 0.0 {
                self.widen(bound, value);
            }
        }
        if value.is_finite()
            && bound.is_none_or(|bound| value > MISSED_RATIO * bound)
            && let (Some(screen), Some((pass, z_mm))) = (&self.screen, self.swung.worst())
        {
            for spot in screen.spots_at(pass, z_mm) {
                if !self.spots.iter().any(|(known, _)| *known == spot) {
                    self.spots.insert(0, (spot, None));
                }
            }
        }
        value
    }
}
