//! The search by the depth before chatter, with nearly all placements thrown out at a single stop of the tool.
//!
//! The stops that were worst in placements worked out before are asked first, near to where they chattered last, the one
//! that threw out the nearest placement before all ([`Screen::bound_at`]). Only a placement that none of them throws out is
//! worked out as a whole; the stop that turns out to be its worst is asked from then on. So few stops decide that some
//! tens of placements are worked out in a search. Tests compare with working all of them out.

use std::collections::HashMap;

use super::FAST;
use super::screen::{Screen, Spot, Worst};
use super::search::{Effort, Grid, Searched, search_by};
use super::trial::Trial;
use crate::study::layout::Fineness;

/// The mesh: as coarse as for the other measures, but with so many stops of the tool in a pass.
const COARSE: Fineness = Fineness { fewest_stations: 64.0, ..FAST };
/// A stop alone is believed no nearer than this: it is asked at other frequencies as the worst stop of a whole.
const MARGIN_RATIO: f64 = 1.0002;

/// A set-up whose rests are put anywhere and judged, at the least cost.
pub struct Screened {
    screen: Screen,
    /// Stops that matter and where they chattered last, those that threw out the last placements first.
    spots: Vec<(Spot, f64)>,
    /// Placements thrown out so far, with the stop that did it and where it chattered.
    thrown_out: Vec<(Vec<usize>, Spot, f64)>,
    /// Placements worked out.
    known: HashMap<Vec<usize>, f64>,
    /// Placements worked out as a whole, and stops asked alone.
    pub n_whole: usize,
    pub n_alone: usize,
}

/// How near a stop alone is looked at.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Look {
    /// About where it chattered last.
    Near,
    /// At all its own frequencies.
    Whole,
}

impl Screened {
    /// Rests stand at these places; those of the trial where the stiffness that passes leave is taken from. `None` where
    /// nothing is turned.
    #[must_use]
    pub fn new(trial: &Trial, places_mm: &[f64]) -> Option<Self> {
        let screen = Screen::new(trial, places_mm, COARSE)?;
        Some(Self { screen, spots: Vec::new(), thrown_out: Vec::new(), known: HashMap::new(), n_whole: 0, n_alone: 0 })
    }

    /// Stops that matter, found so far.
    #[must_use]
    pub fn n_spots(&self) -> usize {
        self.spots.len()
    }

    /// One over the least depth on diameter from which chatter is to be expected, of all turned passes: infinite where
    /// nothing holds the work or `keep_going` said no, 0 where nothing can chatter. Above `limit` a lower bound.
    pub fn value(&mut self, rests_at: &[usize], limit: f64, keep_going: &dyn Fn() -> bool) -> f64 {
        if let Some(value) = self.known.get(rests_at) {
            return *value;
        }
        self.screen.lay_out(rests_at);
        if limit.is_finite() {
            let believed = MARGIN_RATIO * limit;
            for look in [Look::Near, Look::Whole] {
                let bound = self.largest(rests_at, believed, look);
                if bound > believed {
                    return bound;
                }
            }
        }
        self.whole(rests_at, limit, keep_going)
    }

    /// The largest of the stops that matter, each at its own frequencies.
    pub fn bound(&mut self, rests_at: &[usize]) -> f64 {
        self.screen.lay_out(rests_at);
        self.largest(rests_at, f64::INFINITY, Look::Whole)
    }

    /// The best placements of the grid, as [`super::search_by`] finds them with every placement worked out; figures of those
    /// that are not the best may be lower bounds. `None` where `keep_going`, which hears the share done, said no.
    pub fn search(&mut self, grid: &Grid, keep_going: &dyn Fn(f64) -> bool) -> Option<Searched> {
        let going = || keep_going(0.0);
        let mut least = self.known.values().copied().fold(f64::INFINITY, f64::min);
        let mut judge = |rests_at: &[usize], limit: f64| {
            let value = self.ranked(rests_at, limit, least, &going);
            least = least.min(value);
            value
        };
        search_by(&mut judge, grid, &Effort::DEAR, keep_going)
    }

    /// What a placement comes to where it may be less than `least`, else a lower bound.
    fn ranked(&mut self, rests_at: &[usize], limit: f64, least: f64, keep_going: &dyn Fn() -> bool) -> f64 {
        if let Some(value) = self.known.get(rests_at) {
            return *value;
        }
        self.screen.lay_out(rests_at);
        let believed = MARGIN_RATIO * least;
        for (limit, look) in [(limit.max(believed), Look::Near), (believed, Look::Whole)] {
            let bound = self.largest(rests_at, limit, look);
            if bound > believed {
                return bound;
            }
        }
        self.whole(rests_at, believed, keep_going)
    }

    /// The largest of the stops that matter with the rests as laid out, up to the first above `limit`.
    fn largest(&mut self, rests_at: &[usize], limit: f64, look: Look) -> f64 {
        if look == Look::Near {
            self.begin_as_nearby(rests_at);
        }
        let mut largest: f64 = 0.0;
        for at in 0..self.spots.len() {
            self.n_alone += 1;
            let (spot, last_hz) = &mut self.spots[at];
            largest = largest.max(match look {
                Look::Near => self.screen.bound_at(rests_at, *spot, [largest, limit], last_hz),
                Look::Whole => self.screen.value_at(rests_at, *spot, last_hz),
            });
            if largest > limit {
                self.thrown_out.push((rests_at.to_vec(), *spot, *last_hz));
                self.spots[..=at].rotate_right(1);
                break;
            }
        }
        largest
    }

    /// Puts the stop first that threw out the nearest placement, at the frequency it had there.
    fn begin_as_nearby(&mut self, rests_at: &[usize]) {
        let away = |other: &[usize]| rests_at.iter().zip(other).map(|(a, b)| a.abs_diff(*b)).sum::<usize>();
        let nearest = self.thrown_out.iter().min_by_key(|(other, ..)| away(other));
        let Some((_, spot, near_hz)) = nearest else { return };
        if let Some(at) = self.spots.iter().position(|(known, _)| known == spot) {
            self.spots[at].1 = *near_hz;
            self.spots[..=at].rotate_right(1);
        }
    }

    /// Works a placement out that is laid out, and learns from it.
    fn whole(&mut self, rests_at: &[usize], limit: f64, keep_going: &dyn Fn() -> bool) -> f64 {
        self.n_whole += 1;
        let Some(Worst { value, at }) = self.screen.worst(rests_at, limit, keep_going) else {
            return f64::INFINITY;
        };
        if value <= limit {
            self.known.insert(rests_at.to_vec(), value);
        }
        if let Some(at) = at.filter(|(at, _)| !self.spots.iter().any(|(known, _)| known == at)) {
            self.spots.insert(0, at);
        }
        value
    }
}
