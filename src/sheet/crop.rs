//! What of a drawing is broken off, with a break line (thin, with a kink) where it is. What is left stays true to scale.

use crate::picture::print::flattened;
use crate::picture::{Item, Line, Path, Point, Role, at};

/// A side that is broken off beyond a place, in mm of the lathe.
#[derive(Clone, Copy, Debug)]
pub(super) enum Edge {
    Left(f64),
    Right(f64),
    Under(f64),
}

impl Edge {
    /// How far beyond the edge a point lies.
    fn beyond_mm(self, point: Point) -> f64 {
        match self {
            Self::Left(z_mm) => z_mm - point.right_mm,
            Self::Right(z_mm) => point.right_mm - z_mm,
            Self::Under(up_mm) => up_mm - point.up_mm,
        }
    }

    /// The point's place along the edge.
    fn along_mm(self, point: Point) -> f64 {
        match self {
            Self::Left(_) | Self::Right(_) => point.up_mm,
            Self::Under(_) => point.right_mm,
        }
    }

    fn point(self, along_mm: f64, beyond_mm: f64) -> Point {
        match self {
            Self::Left(z_mm) => at(z_mm - beyond_mm, along_mm),
            Self::Right(z_mm) => at(z_mm + beyond_mm, along_mm),
            Self::Under(up_mm) => at(along_mm, up_mm - beyond_mm),
        }
    }
}

/// The items without what of these roles lies beyond the edge, and break lines some `kink_mm` over what is cut.
pub(super) fn broken_off(items: Vec<Item>, edge: Edge, roles: &[Role], kink_mm: f64) -> Vec<Item> {
    let mut cuts: Vec<(f64, f64)> = Vec::new();
    let mut kept: Vec<Item> = items.into_iter().filter_map(|item| cut(item, edge, roles, &mut cuts)).collect();
    cuts.sort_by(|a, b| a.0.total_cmp(&b.0));
    let mut joined: Vec<(f64, f64)> = Vec::new();
    for (from, to) in cuts {
        match joined.last_mut().filter(|last| from <= last.1 + 4.0 * kink_mm) {
            Some(last) => last.1 = last.1.max(to),
            None => joined.push((from, to)),
        }
    }
    kept.extend(joined.into_iter().map(|(from, to)| break_line(edge, (from - kink_mm, to + kink_mm), kink_mm)));
    kept
}

/// What of an item stays; where it crosses the edge is noted.
fn cut(item: Item, edge: Edge, roles: &[Role], cuts: &mut Vec<(f64, f64)>) -> Option<Item> {
    let Item::Path(path) = item else { return Some(item) };
    let mut most_mm = f64::NEG_INFINITY;
    path.for_each_point(&mut |point| most_mm = most_mm.max(edge.beyond_mm(point)));
    if most_mm <= 1e-9 || !roles.contains(&path.role) {
        return Some(Item::Path(path));
    }
    let corners = flattened(&path);
    let n = if path.closed { corners.len() } else { corners.len().saturating_sub(1) };
    let mut kept: Vec<Point> = Vec::new();
    let mut crossed: Option<(f64, f64)> = None;
    // Sutherland and Hodgman's clipping at one edge.
    for (index, from) in corners.iter().take(n).enumerate() {
        let to = corners[(index + 1) % corners.len()];
        let [from_mm, to_mm] = [*from, to].map(|point| edge.beyond_mm(point));
        if from_mm <= 0.0 {
            kept.push(*from);
        }
        if (from_mm <= 0.0) != (to_mm <= 0.0) {
            let share = from_mm / (from_mm - to_mm);
            let between = |a: f64, b: f64| a + share * (b - a);
            let along_mm = edge.along_mm(at(between(from.right_mm, to.right_mm), between(from.up_mm, to.up_mm)));
            kept.push(edge.point(along_mm, 0.0));
            let (low, high) = crossed.unwrap_or((along_mm, along_mm));
            crossed = Some((low.min(along_mm), high.max(along_mm)));
        }
    }
    if !path.closed && corners.last().is_some_and(|last| edge.beyond_mm(*last) <= 0.0) {
        kept.extend(corners.last());
    }
    cuts.extend(crossed);
    let left = Path::through(kept, path.role);
    (!left.segments.is_empty()).then(|| Path { closed: path.closed, line: path.line, fill: path.fill, ..left }.into())
}

fn break_line(edge: Edge, (from, to): (f64, f64), kink_mm: f64) -> Item {
    let middle = f64::midpoint(from, to);
    let points = [(from, 0.0), (middle - 2.0 * kink_mm, 0.0), (middle - kink_mm, kink_mm)]
        .into_iter()
        .chain([(middle + kink_mm, -kink_mm), (middle + 2.0 * kink_mm, 0.0), (to, 0.0)])
        .map(|(along_mm, beyond_mm)| edge.point(along_mm, beyond_mm));
    Path::through(points, Role::BedLine).lined(Line::Thin).into()
}
