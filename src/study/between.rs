//! Where a place lies among the stops of a tool that travels one way, and what was left there.

/// How much over the dial's radius the tool has left the work at a place behind the tool, if it has been there; on a
/// shoulder the side the tool came from. `left` is in cutting order.
pub fn over_between(left: &[(f64, f64)], z_mm: f64, to_headstock: bool) -> Option<f64> {
    let between = lies_between(left.len(), |index| left[index].0, z_mm, to_headstock)?;
    Some(between.of(|index| left[index].1))
}

/// A place between two others of a list, or on one.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Between {
    pub before: usize,
    pub after: usize,
    pub share: f64,
}

impl Between {
    /// A value straight between two.
    pub fn of(&self, value: impl Fn(usize) -> f64) -> f64 {
        if self.before == self.after {
            return value(self.after);
        }
        let before = value(self.before);
        before + (value(self.after) - before) * self.share
    }
}

/// Where a place lies among `n` places of a tool that travels one way; `None` where it has not been there.
pub fn lies_between(n: usize, place_mm: impl Fn(usize) -> f64, z_mm: f64, to_headstock: bool) -> Option<Between> {
    let last = n.checked_sub(1)?;
    let from_mm = place_mm(0);
    let way = |place_mm: f64| (place_mm - from_mm) * if to_headstock { -1.0 } else { 1.0 };
    let target = way(z_mm);
    if target < -1e-6 {
        return None;
    }
    let (mut low, mut high) = (0, n);
    while low < high {
        let middle = usize::midpoint(low, high);
        if way(place_mm(middle)) < target - 1e-9 { low = middle + 1 } else { high = middle }
    }
    let after = low.min(last);
    let on = Between { before: after, after, share: 0.0 };
    let Some(before) = low.checked_sub(1) else { return Some(on) };
    let gone_mm = way(place_mm(after)) - way(place_mm(before));
    if gone_mm <= 0.0 {
        return Some(on);
    }
    let share = ((target - way(place_mm(before))) / gone_mm).clamp(0.0, 1.0);
    Some(Between { before, after, share })
}
