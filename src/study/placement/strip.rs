//! What a set-up would come to with one rest at every place, the others where they are.
//!
//! Two or three dozen places are worked out, and between two of them the middle one, again and again, wherever the curve
//! is not straight within a fiftieth of its height, and all about the least; the rest lies straight between. Stops of the
//! tool are those of a coarse mesh.

use std::ops::Range;

use super::board::{Board, Room};
use super::cases::ALIKE_RATIO;
use super::chatter;
use super::measure::Measure;
use super::screened::Screened;
use super::search::{Grid, Judge};
use super::trial::Trial;
use super::{FAST, Stretch};
use crate::job::{Job, RestId, SetupId};
use crate::study::holding::bending_span_mm;
use crate::study::results::JobResult;

/// Spans at the most between the places at which the curve is worked out whatever it does.
const N_SPANS: usize = 32;
/// Share of the curve's height within which it counts as straight.
const STRAIGHT_RATIO: f64 = 0.02;

/// The strip of one rest.
#[derive(Clone, Debug, PartialEq)]
pub struct Strip {
    pub rest: RestId,
    pub measure: Measure,
    /// Values are shares of half the tolerance.
    pub has_limits: bool,
    /// Where the rest may stand.
    pub allowed: Vec<Stretch>,
    /// Rising.
    pub z_mm: Vec<f64>,
    /// By the measure, the smaller the better; infinite where nothing holds the work.
    pub values: Vec<f64>,
    /// The best place.
    pub best: Option<(f64, f64)>,
    /// Places that were worked out.
    pub n_worked_out: usize,
}

impl Strip {
    /// About how far the rest may stand from the best place without being worse by more than anybody measures.
    #[must_use]
    pub fn as_good(&self) -> Option<Stretch> {
        let (best_mm, least) = self.best?;
        let at = self.z_mm.iter().position(|z_mm| *z_mm >= best_mm)?;
        let run = self.runs().into_iter().find(|run| run.contains(&at))?;
        let alike = if self.measure == Measure::Chatter { chatter::AS_GOOD_RATIO } else { 1.0 + ALIKE_RATIO };
        let is_good = |value: &&f64| **value <= alike * least;
        let n_below = self.values[run.start..at].iter().rev().take_while(is_good).count();
        let n_above = self.values[at + 1..run.end].iter().take_while(is_good).count();
        Some(Stretch { from_mm: self.z_mm[at - n_below], to_mm: self.z_mm[at + n_above] })
    }

    /// Numbers of places that follow each other without a gap, and where something holds the work.
    #[must_use]
    pub fn runs(&self) -> Vec<Range<usize>> {
        let mut runs: Vec<Range<usize>> = Vec::new();
        let joined = |at: usize| {
            let middle_mm = f64::midpoint(self.z_mm[at - 1], self.z_mm[at]);
            self.allowed.iter().any(|stretch| stretch.holds(middle_mm))
        };
        for at in (0..self.values.len()).filter(|at| self.values[*at].is_finite()) {
            match runs.last_mut() {
                Some(run) if run.end == at && joined(at) => run.end += 1,
                _ => runs.push(at..at + 1),
            }
        }
        runs
    }

    /// What the rest would come to at a place, straight between those worked out; `None` where it cannot stand.
    #[must_use]
    pub fn value_at(&self, z_mm: f64) -> Option<f64> {
        let run = self.runs().into_iter().find(|run| self.z_mm[run.start] <= z_mm && z_mm <= self.z_mm[run.end - 1])?;
        let after = run.start + self.z_mm[run.clone()].partition_point(|place_mm| *place_mm < z_mm);
        if after == run.start {
            return Some(self.values[after]);
        }
        let share = (z_mm - self.z_mm[after - 1]) / (self.z_mm[after] - self.z_mm[after - 1]);
        Some(between([self.values[after - 1], self.values[after]], share))
    }
}

/// The strip over the stretches allowed; `None` where the rest is not there or nothing is turned.
///
/// `result` is the job's own. By the depth before chatter this takes some tenths of a second, by the other measures some
/// milliseconds.
#[must_use]
pub fn strip(
    job: &Job,
    result: &JobResult,
    setup: SetupId,
    rest: RestId,
    allowed: &[Stretch],
    step_mm: f64,
    measure: Measure,
) -> Option<Strip> {
    let mut trial = Trial::as_it_is(job, setup)?;
    let reference = result.setup(setup)?;
    let bending_mm = bending_span_mm(&trial.job, trial.setup());
    // Rests off the work hold nothing.
    trial.keep_rests(|one| one.id == rest || (bending_mm.0 < one.z_mm && one.z_mm < bending_mm.1));
    let moved = trial.setup().rests.iter().position(|one| one.id == rest)?;
    let stands_mm = trial.places_mm();
    let grid = Grid::new(&[allowed.to_vec()], bending_mm, step_mm, 0.0, &stands_mm);
    let mut rests_at: Vec<usize> = stands_mm.iter().map(|z_mm| grid.number(*z_mm).unwrap_or(0)).collect();
    let mut has_limits = false;
    let mut judge: Box<Judge> = if measure == Measure::Chatter {
        let mut screened = Screened::new(&trial, &grid.places_mm)?;
        Box::new(move |rests_at, limit| screened.value(rests_at, limit, &|| true))
    } else {
        let board = Board::new(&trial, reference, &grid.places_mm, FAST, measure)?;
        has_limits = board.has_limits();
        let mut room = Room::default();
        Box::new(move |rests_at, limit| board.value(&mut room, rests_at, limit))
    };
    let mut n_worked_out = 0;
    let mut value = |place: usize| {
        rests_at[moved] = place;
        n_worked_out += 1;
        judge(&rests_at, f64::INFINITY)
    };
    let mine = grid.of_rest(0);
    let n = mine.len();
    let z_mm: Vec<f64> = mine.iter().map(|place| grid.places_mm[*place]).collect();
    let mut values: Vec<Option<f64>> = vec![None; n];
    let first_stride = (n / N_SPANS).next_power_of_two();
    let mut coarse: Vec<usize> = (0..n).step_by(first_stride).chain(n.checked_sub(1)).collect();
    coarse.dedup();
    coarse.iter().for_each(|at| values[*at] = Some(value(mine[*at])));
    let worked: Vec<f64> = values.iter().flatten().copied().filter(|value| value.is_finite()).collect();
    let (least, most) = worked.iter().fold((f64::INFINITY, 0.0_f64), |(low, high), v| (low.min(*v), high.max(*v)));
    // Far above the least the curve need not be so fine.
    let height = (most - least).min(4.0 * least).max(1e-9 * most);
    let mut spans: Vec<(usize, usize)> = coarse.windows(2).map(|pair| (pair[0], pair[1])).collect();
    while let Some((low, high)) = spans.pop() {
        let middle = usize::midpoint(low, high);
        if middle == low {
            continue;
        }
        let found = *values[middle].get_or_insert_with(|| value(mine[middle]));
        let ends = [low, high].map(|at| values[at].unwrap_or(f64::INFINITY));
        let straight = between(ends, share_of(&z_mm, low, middle, high));
        let allowed = STRAIGHT_RATIO * height.max(found - least);
        let none_holds = !found.is_finite() && ends.iter().all(|end| !end.is_finite());
        if !none_holds && ((found - straight).abs() > allowed || (found - straight).is_nan()) {
            spans.extend([(low, middle), (middle, high)]);
        }
    }
    // About the least every place: the curve has a kink there more often than not.
    let least_at = |values: &[Option<f64>]| {
        let finite = (0..n).filter_map(|at| Some((at, values[at].filter(|value| value.is_finite())?)));
        finite.min_by(|a, b| a.1.total_cmp(&b.1))
    };
    while let Some((at, _)) = least_at(&values) {
        let before = (0..at).rev().find(|at| values[*at].is_some()).map_or(at, |known| usize::midpoint(known, at));
        let after = (at + 1..n).find(|at| values[*at].is_some()).map_or(at, |known| (known + at).div_ceil(2));
        let missing = [before, after].into_iter().filter(|at| values[*at].is_none()).collect::<Vec<_>>();
        if missing.is_empty() {
            break;
        }
        missing.into_iter().for_each(|at| values[at] = Some(value(mine[at])));
    }
    let best = least_at(&values).map(|(at, value)| (z_mm[at], value));
    let known: Vec<usize> = (0..n).filter(|at| values[*at].is_some()).collect();
    for pair in known.windows(2) {
        let ends = [pair[0], pair[1]].map(|at| values[at].unwrap_or(f64::INFINITY));
        let shares = (pair[0] + 1..pair[1]).map(|at| share_of(&z_mm, pair[0], at, pair[1]));
        for (value, share) in values[pair[0] + 1..pair[1]].iter_mut().zip(shares) {
            *value = Some(between(ends, share));
        }
    }
    let values: Vec<f64> = values.into_iter().flatten().collect();
    Some(Strip { rest, measure, has_limits, allowed: allowed.to_vec(), best, z_mm, values, n_worked_out })
}

/// Where a place lies between two others.
fn share_of(z_mm: &[f64], low: usize, at: usize, high: usize) -> f64 {
    (z_mm[at] - z_mm[low]) / (z_mm[high] - z_mm[low])
}

/// Straight between two values; infinite where one is.
fn between(ends: [f64; 2], share: f64) -> f64 {
    let value = ends[0] + (ends[1] - ends[0]) * share;
    if value.is_nan() { f64::INFINITY } else { value }
}
