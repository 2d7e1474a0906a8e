//! The height a plot shows: round limits that include zero and do not jump about while something is dragged.
//!
//! A range grows at once when a curve would leave it, and shrinks only when it has become much too large: by more
//! than four times while the pointer is down, by more than twice when it is not.

/// Largest over needed height at which the range shrinks while something is dragged.
const SHRINK_IN_DRAG_RATIO: f64 = 4.0;
/// The same when nothing is dragged.
const SHRINK_AT_REST_RATIO: f64 = 2.0;
/// Steps that make a round limit, times a power of ten.
const ROUND_STEPS: [f64; 3] = [1.0, 2.0, 5.0];

/// Least and largest height of a plot, in its unit.
pub type Limits = (f64, f64);

/// Round limits about what must be seen, never closer than `least_height` apart.
pub fn round_limits(must_see: Limits, least_height: f64) -> Limits {
    let (mut low, mut high) = (must_see.0.min(0.0), must_see.1.max(0.0));
    if high - low < least_height {
        let missing = least_height - (high - low);
        // A curve on one side of zero keeps its ground line; a flat one sits in the middle.
        if low < 0.0 && high <= 0.0 {
            low -= missing;
        } else if high > 0.0 && low >= 0.0 {
            high += missing;
        } else {
            low -= missing / 2.0;
            high += missing / 2.0;
        }
    }
    let step = round_step((high - low) / 8.0);
    // A little room past each end that a curve reaches; none past zero but what keeps the ground line visible.
    let room = 0.06 * (high - low);
    ((((low - room) / step).floor() * step).max(low - 2.0 * step), ((high + room) / step).ceil() * step)
}

/// The next step of 1, 2 or 5 times a power of ten that is not smaller.
pub fn round_step(least: f64) -> f64 {
    if !(least.is_finite() && least > 0.0) {
        return 1.0;
    }
    let decade = 10f64.powf(least.log10().floor());
    ROUND_STEPS.iter().map(|step| step * decade).find(|step| *step >= least * 0.999_999).unwrap_or(10.0 * decade)
}

/// The limits to show now, given those shown before.
pub fn settle(shown: Option<Limits>, must_see: Limits, least_height: f64, in_drag: bool) -> Limits {
    let wanted = round_limits(must_see, least_height);
    let Some(shown) = shown else { return wanted };
    let grows = must_see.0 < shown.0 || must_see.1 > shown.1;
    let too_large_ratio = (shown.1 - shown.0) / (wanted.1 - wanted.0);
    let shrink_ratio = if in_drag { SHRINK_IN_DRAG_RATIO } else { SHRINK_AT_REST_RATIO };
    if too_large_ratio > shrink_ratio {
        wanted
    } else if grows {
        (shown.0.min(wanted.0), shown.1.max(wanted.1))
    } else {
        shown
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn limits_are_round_and_include_zero() {
        let (low, high) = round_limits((0.0, 23.0), 2.0);
        assert!((-5.0..=0.0).contains(&low), "{low}");
        assert_eq!(high, 25.0);
        let (low, high) = round_limits((-7.2, -3.0), 2.0);
        assert!(low <= -7.2 && low.fract() == 0.0, "{low}");
        assert!((0.0..=2.0).contains(&high), "{high}");
    }

    #[test]
    fn a_flat_curve_gets_room_on_both_sides() {
        let (low, high) = round_limits((0.0, 0.0), 2.0);
        assert!(low <= -1.0 && high >= 1.0, "{low} {high}");
    }

    #[test]
    fn a_drag_that_shakes_a_little_leaves_the_limits_alone() {
        let mut shown = settle(None, (0.0, 20.0), 2.0, true);
        let first = shown;
        for peak in [19.0, 18.0, 20.0, 15.0, 19.5] {
            shown = settle(Some(shown), (0.0, peak), 2.0, true);
            assert_eq!(shown, first, "peak {peak}");
        }
    }

    #[test]
    fn limits_grow_at_once_and_shrink_when_much_too_large() {
        let shown = settle(None, (0.0, 20.0), 2.0, true);
        let grown = settle(Some(shown), (0.0, 31.0), 2.0, true);
        assert!(grown.1 >= 31.0);
        let kept = settle(Some(grown), (0.0, 14.0), 2.0, true);
        assert_eq!(kept, grown);
        assert!(settle(Some(grown), (0.0, 14.0), 2.0, false).1 < grown.1, "shrinks after the drag");
        assert!(settle(Some(grown), (0.0, 3.0), 2.0, true).1 < 10.0, "shrinks in the drag when much too large");
    }
}
