//! How deep a cut an arrangement stands: one pass over the work as it comes in, so deep that the tolerance is just held.

use super::answer::FINE;
use super::measure::WorstSize;
use super::table::is_turned;
use super::trial::Trial;
use crate::job::{Cut, PassKind};
use crate::study::allowed::allowed_at;
use crate::study::outline::Outline;
use crate::study::prepared::Scene;
use crate::study::sweep;

/// The shallowest cut asked about, on diameter.
const LEAST_MM: f64 = 0.01;
/// The depth is found to this share.
const FOUND_RATIO: f64 = 0.005;

/// How deep a cut may be.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Deepest {
    pub on_diameter_mm: f64,
    /// Either way, on diameter: half the narrowest tolerance of the stretch that is turned.
    pub allowed_mm: f64,
}

/// The largest depth on diameter, of one pass with feed, speed and stretch of the last turning pass of a trial, at which
/// no place comes out further off than half the narrowest tolerance there. By the real sweep, with the figures as they
/// stand; found by doubling and halving, so it is the first depth that is too much on that way.
///
/// `None` where nothing is turned or no tolerance is stated, not even the shallowest cut keeps it, every cut that leaves
/// a core does, or `keep_going` said no.
#[must_use]
pub fn deepest(trial: &Trial, keep_going: &dyn Fn() -> bool) -> Option<Deepest> {
    let held = trial.setup();
    let pass = held.passes.iter().rev().find(|pass| pass.kind == PassKind::Turn && is_turned(held, pass))?.clone();
    let mut room = sweep::Room::default();
    let swept = trial.compute_setup(FINE, &mut room)?;
    let outline = Outline::of(&swept.before, &trial.job.shaft, held);
    let (low_mm, high_mm) = Scene::new(&trial.job, held, &outline, FINE)?.cut_span(&pass)?.ends_mm();
    let met = outline.pieces.iter().filter(|piece| piece.to_z_mm > low_mm && piece.from_z_mm < high_mm);
    let slimmest_mm = met.flat_map(|piece| piece.diameter_mm).fold(f64::INFINITY, f64::min);
    let most_mm = 0.5 * slimmest_mm;
    let stations = swept.passes.iter().find(|swept| swept.pass == pass.id)?.stations.iter();
    let halves_mm = stations.filter_map(|station| {
        let (lower_mm, upper_mm) = allowed_at(&trial.job, held, station)?.limits_mm?;
        Some((upper_mm - lower_mm) / 2.0)
    });
    let allowed_mm = halves_mm.fold(f64::INFINITY, f64::min);
    if !allowed_mm.is_finite() {
        return None;
    }
    let mut trial = trial.clone();
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
    Some(Deepest { on_diameter_mm: low, allowed_mm })
}
