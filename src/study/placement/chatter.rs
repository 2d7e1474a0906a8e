//! Rests judged by the depth from which chatter is to be expected.
//!
//! Receptance follows from the jaws that touch and has no tables. Placements are tried on a coarse mesh with fewer stops
//! of the tool, the jaws that touch taken from tables, and most of them are thrown out at a single stop ([`Screened`]);
//! the best are swept, and swung, anew on the fine one and told by that. The search is the one of the other measures with
//! fewer tries; tests compare it with trying all. No cases of the band: damping alone is an order of magnitude.

use std::sync::Arc;

use super::answer::{Answer, FINE, MOST_TOLD, Placing, WORTH_TELLING, as_good, really, well_apart};
use super::measure::Measure;
use super::screened::Screened;
use super::search::{Grid, Searched, Tried};
use super::table::is_turned;
use super::trial::Trial;
use crate::job::PassId;
use crate::study::lively::{Look, depth_limits_of};
use crate::study::results::{JobResult, Surface};
use crate::study::{compute_setup, sweep};

/// A limit of depth so many times lower is as good: nobody knows it better.
pub const AS_GOOD_RATIO: f64 = 1.1;

/// A set-up whose rests are put anywhere and judged by a sweep that is swung.
struct Swung {
    trial: Trial,
    /// The work as it comes in.
    before: Arc<Surface>,
    look: Look,
    /// The turned passes.
    passes: Vec<PassId>,
    room: sweep::Room,
}

impl Swung {
    /// `None` where nothing is turned.
    fn new(trial: &Trial) -> Option<Self> {
        let damping_ratio = trial.job.spread.damping_ratio.value;
        let look = Look { fineness: FINE, factors: trial.factors, damping_ratio, ..Look::USUAL };
        let mut room = sweep::Room::default();
        let before = trial.compute_setup(look.fineness, &mut room)?.before;
        let setup = trial.setup();
        let passes: Vec<PassId> =
            setup.passes.iter().filter(|pass| is_turned(setup, pass)).map(|pass| pass.id).collect();
        let trial = trial.clone();
        (!passes.is_empty()).then_some(Self { trial, before, look, passes, room })
    }

    /// One over the least depth on diameter from which chatter is to be expected with rests at these places, of all turned
    /// passes: infinite where nothing holds the work or `keep_going` said no, 0 where nothing can chatter.
    fn value(&mut self, places_mm: &[f64], keep_going: &dyn Fn() -> bool) -> f64 {
        self.trial.put(places_mm);
        let Self { trial, before, look, passes, room } = self;
        let (job, setup) = (&trial.job, trial.setup());
        let computed = compute_setup(job, setup, before, look.fineness, look.factors, room);
        let result = JobResult { setups: vec![computed], bands: None };
        let mut largest: f64 = 0.0;
        for pass in passes {
            if result.pass(*pass).is_none_or(|pass| pass.stations.is_empty()) {
                return f64::INFINITY;
            }
            let limits = depth_limits_of(job, &result, setup.id, *pass, look, keep_going);
            if !keep_going() {
                return f64::INFINITY;
            }
            let values = limits.iter().map(|limit| 1.0 / limit.limit_on_diameter_mm);
            largest = values.fold(largest, f64::max);
        }
        largest
    }
}

/// What a set-up comes to as it stands; `None` where nothing is turned or `keep_going` said no.
pub fn value_now(trial: Trial, keep_going: &dyn Fn(f64) -> bool) -> Option<f64> {
    let places_mm = trial.places_mm();
    let value = Swung::new(&trial)?.value(&places_mm, &|| keep_going(0.0));
    keep_going(0.0).then_some(value)
}

/// As [`super::best_places`].
pub fn best_places(mut trial: Trial, grid: &Grid, keep_going: &dyn Fn(f64) -> bool) -> Option<Answer> {
    let n_rests = trial.setup().rests.len();
    let mut answer = Answer { n_rests, has_limits: false, told: Vec::new(), deepest: None };
    if let Some(spread) = grid.spread() {
        trial.put(&grid.places_of(&spread));
    }
    let (coarse, fine) = (Screened::new(&trial, &grid.places_mm), Swung::new(&trial));
    let (Some(mut coarse), Some(mut fine)) = (coarse, fine) else { return Some(answer) };
    let going = || keep_going(0.0);
    let Some(found) = candidates(&mut coarse, grid, keep_going)? else { return Some(answer) };
    let mut judge = |rests_at: &[usize], limit: f64| coarse.value(rests_at, limit, &going);
    let mut ranked: Vec<Tried> = Vec::new();
    for Tried { rests_at, .. } in found.into_iter().take(MOST_TOLD) {
        let value = fine.value(&grid.places_of(&rests_at), &going);
        ranked.push(Tried { value, rests_at });
    }
    ranked.retain(|tried| tried.value.is_finite());
    ranked.sort_by(|a, b| a.value.total_cmp(&b.value));
    let least = ranked.first().map_or(0.0, |best| best.value);
    for Tried { value, rests_at } in ranked.into_iter().filter(|tried| tried.value <= WORTH_TELLING * least) {
        if !keep_going(0.9) {
            return None;
        }
        let here = judge(&rests_at, f64::INFINITY);
        let limit = AS_GOOD_RATIO * here;
        let as_good = as_good(grid, &rests_at, &mut |moved| judge(moved, limit) <= limit);
        let places_mm = grid.places_of(&rests_at);
        trial.put(&places_mm);
        let real = really(&trial, Measure::Size);
        let worst_error = real.as_ref().and_then(|real| real.worst_error);
        let never_reached_mm = real.and_then(|real| real.never_reached_mm);
        answer.told.push(Placing { places_mm, value, between: [value; 2], worst_error, never_reached_mm, as_good });
    }
    keep_going(1.0).then_some(answer)
}

/// As [`super::answer::candidates`].
fn candidates(coarse: &mut Screened, grid: &Grid, keep_going: &dyn Fn(f64) -> bool) -> Option<Option<Vec<Tried>>> {
    let Searched { best, coarse: further } = coarse.search(grid, &|share| keep_going(0.8 * share))?;
    let Some(first) = best.first() else { return Some(None) };
    let going = || keep_going(0.0);
    let mut judge = |rests_at: &[usize], limit: f64| coarse.value(rests_at, limit, &going);
    well_apart(&mut judge, grid, first.clone(), best.iter().chain(&further), keep_going).map(Some)
}
