//! What a set-up would come to with one rest at every place, the others where they are.
//!
//! Every eighth place is worked out, and between two of them the middle one, again and again, wherever the curve is not
//! straight within a hundredth of its height; the rest lies straight between. Stops of the tool are those of a coarse mesh.

use super::board::{Board, Room};
use super::measure::Measure;
use super::search::Grid;
use super::trial::Trial;
use super::{FAST, Stretch};
use crate::job::{Job, RestId, SetupId};
use crate::study::holding::bending_span_mm;
use crate::study::results::JobResult;

/// Places at which the curve is worked out whatever it does.
const FIRST_STRIDE: usize = 8;
/// Share of the curve's height within which it counts as straight.
const STRAIGHT_RATIO: f64 = 0.01;

/// The strip of one rest.
#[derive(Clone, Debug, PartialEq)]
pub struct Strip {
    pub rest: RestId,
    pub measure: Measure,
    /// Values are shares of half the tolerance.
    pub has_limits: bool,
    /// Rising.
    pub z_mm: Vec<f64>,
    /// By the measure, the smaller the better; infinite where nothing holds the work.
    pub values: Vec<f64>,
    /// The place of the rest now, and the best one.
    pub now: Option<(f64, f64)>,
    pub best: Option<(f64, f64)>,
    /// Places that were worked out.
    pub n_worked_out: usize,
}

/// The strip over the stretches allowed; `None` where the rest is not there or nothing is turned.
///
/// `result` is the job's own; the measure is size or springiness.
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
    let board = Board::new(&trial, reference, &grid.places_mm, FAST, measure)?;
    let mut room = Room::default();
    let mut n_worked_out = 0;
    let mut value = |place: usize| {
        rests_at[moved] = place;
        n_worked_out += 1;
        board.value(&mut room, &rests_at, f64::INFINITY)
    };
    let mine = grid.of_rest(0);
    let n = mine.len();
    let mut values = vec![f64::NAN; n];
    let mut coarse: Vec<usize> = (0..n).step_by(FIRST_STRIDE).chain(n.checked_sub(1)).collect();
    coarse.dedup();
    coarse.iter().for_each(|at| values[*at] = value(mine[*at]));
    let worked: Vec<f64> = coarse.iter().map(|at| values[*at]).filter(|value| value.is_finite()).collect();
    let (least, most) = worked.iter().fold((f64::INFINITY, 0.0_f64), |(low, high), v| (low.min(*v), high.max(*v)));
    // Far above the least the curve need not be so fine.
    let height = (most - least).min(4.0 * least).max(1e-9 * most);
    let mut spans: Vec<(usize, usize)> = coarse.windows(2).map(|pair| (pair[0], pair[1])).collect();
    while let Some((low, high)) = spans.pop() {
        if high - low < 2 {
            continue;
        }
        let middle = usize::midpoint(low, high);
        values[middle] = value(mine[middle]);
        let z_mm = |at: usize| grid.places_mm[mine[at]];
        let straight = |at: usize| {
            let share = (z_mm(at) - z_mm(low)) / (z_mm(high) - z_mm(low));
            values[low] + (values[high] - values[low]) * share
        };
        let off = (values[middle] - straight(middle)).abs();
        let allowed = STRAIGHT_RATIO * height.max(values[middle] - least);
        if off <= allowed || (!values[low].is_finite() && !values[high].is_finite() && !values[middle].is_finite()) {
            for (from, to) in [(low, middle), (middle, high)] {
                for at in from + 1..to {
                    let share = (z_mm(at) - z_mm(from)) / (z_mm(to) - z_mm(from));
                    let between = values[from] + (values[to] - values[from]) * share;
                    values[at] = if between.is_nan() { f64::INFINITY } else { between };
                }
            }
        } else {
            spans.extend([(low, middle), (middle, high)]);
        }
    }
    let now = grid.number(stands_mm[moved]).map(|place| (stands_mm[moved], value(place)));
    let best = (0..n).filter(|at| values[*at].is_finite()).min_by(|a, b| values[*a].total_cmp(&values[*b]));
    let z_mm: Vec<f64> = mine.iter().map(|place| grid.places_mm[*place]).collect();
    let best = best.map(|at| (z_mm[at], values[at]));
    Some(Strip { rest, measure, has_limits: board.has_limits(), now, best, z_mm, values, n_worked_out })
}
