//! How deep a cut an arrangement stands: one pass over the work as it comes in, so deep that the tolerance is just held.

use super::answer::FINE;
use super::measure::WorstSize;
use super::table::is_turned;
use super::trial::Trial;
use crate::job::{Cut, Job, PassKind, SetupId};
use crate::study::prepared::Scene;
use crate::study::outline::Outline;
use crate::study::sweep;

/// The shallowest cut asked about, on diameter.
const LEAST_MM: f64 = 0.01;
/// The depth is found to this share.
const FOUND_RATIO: f64 = 0.005;

/// The largest depth on diameter, of one pass with feed, speed and stretch of the set-up's last turning pass, at which no
/// place comes out further off than `allowed_mm` (on diameter, either way). By the real sweep, with the figures as they
/// stand; found by doubling and halving, so it is the first depth that is too much on that way.
///
/// `None` where nothing is turned, not even the shallowest cut keeps it, every cut that leaves a core does, or
/// `keep_going` said no.
#[must_use]
pub fn largest_depth_mm(job: &Job, setup: SetupId, allowed_mm: f64, keep_going: &dyn Fn() -> bool) -> Option<f64> {
    let mut trial = Trial::as_it_is(job, setup)?;
    let held = trial.setup();
    let pass = held.passes.iter().rev().find(|pass| pass.kind == PassKind::Turn && is_turned(held, pass))?.clone();
    let mut room = sweep::Room::default();
    let before = trial.compute_setup(FINE, &mut room)?.before;
    let outline = Outline::of(&before, &job.shaft, held);
    let (low_mm, high_mm) = Scene::new(&trial.job, held, &outline, FINE)?.cut_span(&pass)?.ends_mm();
    let met = outline.pieces.iter().filter(|piece| piece.to_z_mm > low_mm && piece.from_z_mm < high_mm);
    let slimmest_mm = met.flat_map(|piece| piece.diameter_mm).fold(f64::INFINITY, f64::min);
    let most_mm = 0.5 * slimmest_mm;
    let id = pass.id;
    trial.job.setups.last_mut()?.passes = vec![pass];
    let mut keeps = |depth_mm: f64| {
        let pass = &mut trial.job.setups.last_mut()?.passes[0];
        pass.cut = Cut::Depth { on_diameter_mm: depth_mm };
        let result = trial.compute_setup(FINE, &mut room)?;
        let solved = WorstSize::of(&trial.job, trial.setup(), &result)?.value.is_finite();
        let stations = &result.passes.iter().find(|pass| pass.pass == id)?.stations;
        let largest_mm = stations.iter().map(|station| station.error_mm.abs()).fold(0.0, f64::max);
        keep_going().then_some(solved && largest_mm <= allowed_mm)
    };
    if !keeps(LEAST_MM)? {
        return None;
    }
    let (mut low, mut high) = (LEAST_MM, 2.0 * LEAST_MM);
    while keeps(high)? {
        (low, high) = (high, 2.0 * high);
        if high > most_mm {
            return None;
        }
    }
    while high - low > FOUND_RATIO * low {
        let middle = f64::midpoint(low, high);
        if keeps(middle)? { low = middle } else { high = middle }
    }
    Some(low)
}
