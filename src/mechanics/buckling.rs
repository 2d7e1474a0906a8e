//! How far the axial force is from buckling the held work.
//!
//! The work with the jaws that touch buckles where `K - g P` loses its first stiffness, `g` being the factor by which
//! all axial force has grown. The count of [`super::count`] brackets that factor; no formula for a uniform bar is used.
//!
//! Limit: the jaws that touch are taken to go on touching, and the axial force of an element acts at its two ends, with
//! an error that falls as the square of the element's length (2e-5 at 200 elements in one half wave).

use super::chain::{Chain, Work};

/// Factors beyond this are no figure any more.
const LARGEST_RATIO: f64 = 1e9;

/// Work that buckles below this factor is not held without the force either.
const LEAST_RATIO: f64 = 1e-9;

/// The factor by which all axial force must grow until the work buckles; below 1 it has buckled.
///
/// `None` where it never does: no axial force, tension, or work that is not held even without the force.
#[must_use]
pub fn critical_factor(work: &Work) -> Option<f64> {
    if work.elements.iter().all(|element| element.axial_n() <= 0.0) {
        return None;
    }
    let chain = Chain::of(&Work { masses: &[], node_masses: &[], ..*work });
    let buckled = |ratios: [f64; 4]| chain.counts([0.0; 4], ratios).map(|count| count > 0);
    let [unheld, ..] = buckled([0.0; 4]);
    if unheld {
        return None;
    }
    let (mut low, mut high) = (0.0, 1.0);
    loop {
        let tries = [high, 4.0 * high, 16.0 * high, 64.0 * high];
        match buckled(tries).iter().position(|buckled| *buckled) {
            Some(first) => {
                low = if first > 0 { tries[first - 1] } else { low };
                high = tries[first];
                break;
            }
            None if high > LARGEST_RATIO => return None,
            None => (low, high) = (tries[3], 256.0 * high),
        }
    }
    while high - low > 1e-10 * high {
        if high < LEAST_RATIO {
            return None;
        }
        let fifth = (high - low) / 5.0;
        let tries = [1.0, 2.0, 3.0, 4.0].map(|n_fifths| low + n_fifths * fifth);
        let first = buckled(tries).iter().position(|buckled| *buckled);
        let found = first.unwrap_or(4);
        high = tries.get(found).copied().unwrap_or(high);
        low = if found > 0 { tries[found - 1] } else { low };
    }
    Some(0.5 * (low + high))
}
