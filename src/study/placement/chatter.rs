//! The best places by the depth from which chatter is to be expected.
//!
//! Receptance is dear, so this is no search of every place: the places that are good for size and for springiness, and
//! for one rest a coarse grid, are worked out exactly, and about the best of them steps are halved. What is found is good,
//! not proved to be the best. No cases of the band: damping alone is an order of magnitude.

use super::Stretch;
use super::answer::{Answer, FINE, Placing, candidates, really};
use super::measure::Measure;
use super::search::Grid;
use super::table::is_turned;
use super::trial::Trial;
use crate::study::lively::depth_limits;
use crate::study::sweep;

/// Places of one rest that are worked out whatever the other measures say.
const N_COARSE: usize = 16;
/// A limit of depth so many times lower is as good: nobody knows it better.
const AS_GOOD_RATIO: f64 = 1.1;

/// One over the least limit of depth of the turned passes; infinite where nothing holds the work, 0 where nothing can
/// chatter, `None` where nothing is turned or `keep_going` said no.
pub fn value(trial: &Trial, keep_going: &dyn Fn(f64) -> bool) -> Option<f64> {
    let setup = trial.setup();
    let result = trial.compute(FINE, &mut sweep::Room::default());
    let damping_ratio = trial.job.spread.damping_ratio.value;
    let mut largest: Option<f64> = None;
    for pass in setup.passes.iter().filter(|pass| is_turned(setup, pass)) {
        let solved = result.pass(pass.id).is_some_and(|pass| !pass.stations.is_empty());
        let limits = depth_limits(&trial.job, &result, setup.id, pass.id, damping_ratio, &|| keep_going(0.0));
        let least_mm = limits.iter().map(|limit| limit.limit_on_diameter_mm).fold(f64::INFINITY, f64::min);
        let value = if solved { 1.0 / least_mm } else { f64::INFINITY };
        largest = Some(largest.unwrap_or(0.0).max(value));
    }
    largest.filter(|_| keep_going(0.0))
}

/// As [`super::best_places`].
pub fn best_places(mut trial: Trial, grid: &Grid, keep_going: &dyn Fn(f64) -> bool) -> Option<Answer> {
    let n_rests = trial.setup().rests.len();
    let mut answer = Answer { n_rests, has_limits: false, told: Vec::new(), deepest: None };
    let mut starts: Vec<Vec<usize>> = Vec::new();
    for measure in [Measure::Size, Measure::Springiness] {
        starts.extend(candidates(&mut trial, grid, measure, &|share| keep_going(0.2 * share))?.into_iter().flatten());
    }
    if n_rests == 1
        && let Some(last) = grid.of_rest(0).len().checked_sub(1)
    {
        starts.extend((0..=N_COARSE).map(|step| vec![grid.of_rest(0)[step * last / N_COARSE]]));
    }
    starts.sort();
    starts.dedup();
    let mut best: Option<(f64, Vec<usize>)> = None;
    let n_starts = starts.len() as f64;
    let mut try_one = |rests_at: &[usize], share: f64| {
        trial.put(&grid.places_of(rests_at));
        value(&trial, &|_| keep_going(share))
    };
    for (number, rests_at) in starts.into_iter().enumerate() {
        let share = 0.2 + 0.5 * number as f64 / n_starts;
        let found = try_one(&rests_at, share);
        if !keep_going(share) {
            return None;
        }
        if let Some(value) = found.filter(|value| best.as_ref().is_none_or(|(best, _)| value < best)) {
            best = Some((value, rests_at));
        }
    }
    let Some((mut least, mut rests_at)) = best.filter(|(value, _)| value.is_finite()) else { return Some(answer) };
    let mut stride = grid.places_mm.len() / (2 * N_COARSE);
    while stride > 0 && n_rests > 0 {
        let mut better = false;
        for rest in 0..n_rests {
            for back in [false, true] {
                let Some(moved) = stepped(grid, &rests_at, rest, stride, back) else { continue };
                let found = try_one(&moved, 0.8);
                if !keep_going(0.8) {
                    return None;
                }
                if let Some(value) = found.filter(|value| *value < least) {
                    (least, rests_at, better) = (value, moved, true);
                }
            }
        }
        if !better {
            stride /= 2;
        }
    }
    let stride = (grid.places_mm.len() / (4 * N_COARSE)).max(1);
    let mut as_good = Vec::new();
    for rest in 0..n_rests {
        let mut ends = [rests_at[rest]; 2];
        for (end, back) in [(0, true), (1, false)] {
            let mut here = rests_at.clone();
            while let Some(moved) = stepped(grid, &here, rest, stride, back) {
                let found = try_one(&moved, 0.9);
                if !keep_going(0.9) {
                    return None;
                }
                if found.is_none_or(|value| value > AS_GOOD_RATIO * least) {
                    break;
                }
                ends[end] = moved[rest];
                here = moved;
            }
        }
        as_good.push(Stretch { from_mm: grid.places_mm[ends[0]], to_mm: grid.places_mm[ends[1]] });
    }
    let places_mm = grid.places_of(&rests_at);
    trial.put(&places_mm);
    let worst_error = really(&trial, Measure::Size).and_then(|real| real.worst_error);
    answer.told.push(Placing { places_mm, value: least, between: [least; 2], worst_error, as_good });
    Some(answer)
}

/// One rest so many of its places further.
fn stepped(grid: &Grid, rests_at: &[usize], rest: usize, stride: usize, back: bool) -> Option<Vec<usize>> {
    let mine = grid.of_rest(rest);
    let at = mine.binary_search(&rests_at[rest]).ok()?;
    let at = if back { at.checked_sub(stride)? } else { at + stride };
    let mut moved = rests_at.to_vec();
    moved[rest] = *mine.get(at)?;
    grid.fits(&moved).then_some(moved)
}
