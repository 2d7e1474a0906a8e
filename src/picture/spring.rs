//! The spring of the work, drawn over it many times larger: away from / toward the operator as a full line with a
//! tint down to the axis (away is drawn upwards), up and down as a dashed line.
//!
//! Seen from the front the spring away from the operator could not be seen at all; drawing it upwards is said in the
//! legend beside it.

use super::shapes::group;
use super::{Fill, Item, Line, Part, Path, Role, at};
use crate::study::Shape;

/// The largest round number (1, 2 or 5 times a power of ten) by which `largest_mm` can be drawn within `room_mm`.
///
/// 1 where there is nothing to draw; never below 1e-3 nor above 1e9.
#[must_use]
pub fn round_exaggeration(largest_mm: f64, room_mm: f64) -> f64 {
    let times = room_mm / largest_mm.abs();
    if !times.is_finite() || times <= 0.0 {
        return 1.0;
    }
    let times = times.clamp(1e-3, 1e9);
    let decade = 10f64.powf(times.log10().floor());
    let lead = times / decade;
    let round = if lead >= 5.0 - 1e-9 {
        5.0
    } else if lead >= 2.0 - 1e-9 {
        2.0
    } else {
        1.0
    };
    round * decade
}

/// Height a spring should be drawn at: about a third of the work's diameter, at least 12 mm.
#[must_use]
pub fn room_mm(work_diameter_mm: f64) -> f64 {
    (0.35 * work_diameter_mm).max(12.0)
}

/// Largest spring of a shape in either plane.
#[must_use]
pub fn largest_spring_mm(shape: &Shape) -> f64 {
    shape.x_mm.iter().chain(&shape.y_mm).filter(|v| v.is_finite()).fold(0.0, |most, v| v.abs().max(most))
}

/// The bent axis in both planes, `times` larger than it is.
#[must_use]
pub fn spring(shape: &Shape, times: f64) -> Item {
    let mut items = Vec::new();
    let away = points(&shape.z_mm, &shape.x_mm, times);
    for pair in away.windows(2) {
        // Pieces that cross the axis are split there, so that each is convex.
        let (a, b) = (pair[0], pair[1]);
        let mut piece = |a: super::Point, b: super::Point| {
            items.push(
                Path::outline([at(a.right_mm, 0.0), a, b, at(b.right_mm, 0.0)], Role::SpringAway)
                    .lined(None)
                    .filled(Fill::Soft)
                    .into(),
            );
        };
        if a.up_mm * b.up_mm < 0.0 {
            let share = a.up_mm / (a.up_mm - b.up_mm);
            let zero = at(a.right_mm + share * (b.right_mm - a.right_mm), 0.0);
            piece(a, zero);
            piece(zero, b);
        } else {
            piece(a, b);
        }
    }
    items.push(Path::through(points(&shape.z_mm, &shape.y_mm, times), Role::SpringUp).lined(Line::Dashed).into());
    items.push(Path::through(away, Role::SpringAway).lined(Line::Thick).into());
    group(Part::Spring, items)
}

/// The bent line of a kept arrangement, faint.
#[must_use]
pub fn ghost_spring(shape: &Shape, times: f64) -> Vec<Item> {
    vec![
        Path::through(points(&shape.z_mm, &shape.x_mm, times), Role::Ghost).lined(Line::Thick).into(),
        Path::through(points(&shape.z_mm, &shape.y_mm, times), Role::Ghost).lined(Line::Dashed).into(),
    ]
}

/// The axis as points, thinned to what an eye can tell apart.
fn points(z_mm: &[f64], spring_mm: &[f64], times: f64) -> Vec<super::Point> {
    let n = z_mm.len().min(spring_mm.len());
    let every = (n / 240).max(1);
    (0..n)
        .filter(|i| i % every == 0 || i + 1 == n)
        .map(|i| at(z_mm[i], times * spring_mm[i]))
        .filter(|p| p.right_mm.is_finite() && p.up_mm.is_finite())
        .collect()
}
