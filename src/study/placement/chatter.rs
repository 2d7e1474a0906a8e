//! Rests judged by the depth from which chatter is to be expected.
//!
//! Receptance follows from the jaws that touch and has no tables: to be worked out as a whole, a placement is swept, and
//! swung, anew. Placements are tried on the coarse mesh with fewer stops of the tool and told by the fine one. The search
//! is the one of the other measures with fewer tries, and most of them are thrown out at a single stop ([`Screened`]);
//! tests compare it with trying all. No cases of the band: damping alone is an order of magnitude.

use std::sync::Arc;

use super::FAST;
use super::answer::{Answer, FINE, MOST_TOLD, Placing, WORTH_TELLING, as_good, really, well_apart};
use super::measure::Measure;
use super::screened::Screened;
use super::search::{Grid, Searched, Tried};
use super::table::is_turned;
use super::trial::Trial;
use crate::job::PassId;
use crate::study::layout::Fineness;
use crate::study::lively::{Look, depth_limits_of};
use crate::study::results::{JobResult, Surface};
use crate::study::{compute_setup, sweep};

/// Stops of the tool in a pass while placements are compared.
const FEW_STOPS: usize = 64;
/// The mesh for that: as coarse as for the other measures, but with a station for each of these stops.
pub const COARSE: Fineness = Fineness { fewest_stations: FEW_STOPS as f64, ..FAST };
/// A limit of depth so many times lower is as good: nobody knows it better.
pub const AS_GOOD_RATIO: f64 = 1.1;

/// A set-up whose rests are put anywhere and judged.
pub struct Swung {
    trial: Trial,
    places_mm: Vec<f64>,
    /// The work as it comes in.
    before: Arc<Surface>,
    look: Look,
    /// The turned passes, those that threw out the last placement first.
    passes: Vec<PassId>,
    room: sweep::Room,
    worst: Option<(PassId, f64)>,
}

impl Swung {
    /// For comparing; rests stand at these places. `None` where nothing is turned.
    pub fn coarse(trial: &Trial, places_mm: &[f64]) -> Option<Self> {
        Self::new(trial, places_mm, Look { fineness: COARSE, n_stops: FEW_STOPS, ..Look::USUAL })
    }

    /// For telling.
    fn fine(trial: &Trial, places_mm: &[f64]) -> Option<Self> {
        Self::new(trial, places_mm, Look { fineness: FINE, ..Look::USUAL })
    }

    fn new(trial: &Trial, places_mm: &[f64], look: Look) -> Option<Self> {
        let look = Look { factors: trial.factors, damping_ratio: trial.job.spread.damping_ratio.value, ..look };
        let mut room = sweep::Room::default();
        let before = trial.compute_setup(look.fineness, &mut room)?.before;
        let setup = trial.setup();
        let passes: Vec<PassId> =
            setup.passes.iter().filter(|pass| is_turned(setup, pass)).map(|pass| pass.id).collect();
        let is_turned = !passes.is_empty();
        is_turned.then(|| Self {
            trial: trial.clone(),
            places_mm: places_mm.to_vec(),
            before,
            look,
            passes,
            room,
            worst: None,
        })
    }

    /// One over the least depth on diameter from which chatter is to be expected, of all turned passes: infinite where
    /// nothing holds the work or `keep_going` said no, 0 where nothing can chatter. Above `limit` a lower bound.
    pub fn value(&mut self, rests_at: &[usize], limit: f64, keep_going: &dyn Fn() -> bool) -> f64 {
        let places_mm: Vec<f64> = rests_at.iter().map(|place| self.places_mm[*place]).collect();
        self.trial.put(&places_mm);
        let Self { trial, before, look, passes, room, worst, .. } = self;
        *worst = None;
        let (job, setup) = (&trial.job, trial.setup());
        let computed = compute_setup(job, setup, before, look.fineness, look.factors, room);
        let result = JobResult { setups: vec![computed], bands: None };
        let mut largest: f64 = 0.0;
        for at in 0..passes.len() {
            let pass = passes[at];
            if result.pass(pass).is_none_or(|pass| pass.stations.is_empty()) {
                return f64::INFINITY;
            }
            let limits = depth_limits_of(job, &result, setup.id, pass, look, keep_going);
            if !keep_going() {
                return f64::INFINITY;
            }
            let least = limits.iter().min_by(|a, b| a.limit_on_diameter_mm.total_cmp(&b.limit_on_diameter_mm));
            let value = least.map_or(0.0, |least| 1.0 / least.limit_on_diameter_mm);
            if value > largest {
                (largest, *worst) = (value, least.map(|least| (pass, least.z_mm)));
            }
            if largest > limit {
                passes[..=at].rotate_right(1);
                break;
            }
        }
        largest
    }

    /// The pass and the place of the tool that decided what was found last.
    #[must_use]
    pub fn worst(&self) -> Option<(PassId, f64)> {
        self.worst
    }
}

/// What a set-up comes to as it stands; `None` where nothing is turned or `keep_going` said no.
pub fn value_now(trial: Trial, keep_going: &dyn Fn(f64) -> bool) -> Option<f64> {
    let places_mm = trial.places_mm();
    let at_home: Vec<usize> = (0..places_mm.len()).collect();
    let value = Swung::fine(&trial, &places_mm)?.value(&at_home, f64::INFINITY, &|| keep_going(0.0));
    keep_going(0.0).then_some(value)
}

/// As [`super::best_places`].
pub fn best_places(mut trial: Trial, grid: &Grid, keep_going: &dyn Fn(f64) -> bool) -> Option<Answer> {
    let n_rests = trial.setup().rests.len();
    let mut answer = Answer { n_rests, has_limits: false, told: Vec::new(), deepest: None };
    let (Some(mut coarse), Some(mut fine)) = (Screened::new(&trial, grid), Swung::fine(&trial, &grid.places_mm)) else {
        return Some(answer);
    };
    let going = || keep_going(0.0);
    let Some(found) = candidates(&mut coarse, grid, keep_going)? else { return Some(answer) };
    let mut judge = |rests_at: &[usize], limit: f64| coarse.value(rests_at, limit, &going);
    let mut ranked: Vec<Tried> = Vec::new();
    for Tried { rests_at, .. } in found.into_iter().take(MOST_TOLD) {
        let value = fine.value(&rests_at, f64::INFINITY, &going);
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
