//! Where a dragged thing comes to lie: whole units, or the middle of a land when near it, or anywhere when free.

use crate::job::{FeatureKind, Setup, Shaft, Units};

/// A place a dragged rest likes to lie at.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Landmark {
    pub z_mm: f64,
    pub name: &'static str,
}

/// A place after snapping.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Snapped {
    pub z_mm: f64,
    /// What it snapped to, other than a whole unit.
    pub landmark: Option<Landmark>,
}

/// A landmark draws from this far, in points.
const REACH_POINTS: f64 = 7.0;

/// One step of the arrow keys and of the grid: 1 mm or 1/16 in.
#[must_use]
pub const fn step_mm(units: Units) -> f64 {
    match units {
        Units::Metric => 1.0,
        Units::Inch => 25.4 / 16.0,
    }
}

/// What free movement is rounded to, so that the numbers stay readable: 0.1 mm or 0.005 in.
const fn free_step_mm(units: Units) -> f64 {
    match units {
        Units::Metric => 0.1,
        Units::Inch => 0.127,
    }
}

/// One step of a diameter under the arrow keys and on the grid: 0.5 mm or 1/64 in.
#[must_use]
pub const fn diameter_step_mm(units: Units) -> f64 {
    match units {
        Units::Metric => 0.5,
        Units::Inch => 25.4 / 64.0,
    }
}

/// A diameter on the grid; free, to 0.05 mm or 0.001 in.
#[must_use]
pub fn snapped_diameter_mm(diameter_mm: f64, units: Units, free: bool) -> f64 {
    let (unit_mm, steps) = match (free, units) {
        (false, Units::Metric) => (1.0, 2.0),
        (true, Units::Metric) => (1.0, 20.0),
        (false, Units::Inch) => (25.4, 64.0),
        (true, Units::Inch) => (25.4, 1000.0),
    };
    (diameter_mm / unit_mm * steps).round().max(1.0) * unit_mm / steps
}

/// Snaps a place, counting whole units from `origin_mm`.
#[must_use]
pub fn snapped(
    z_mm: f64,
    origin_mm: f64,
    units: Units,
    landmarks: &[Landmark],
    points_per_mm: f64,
    free: bool,
) -> Snapped {
    let on_grid = |step: f64| origin_mm + ((z_mm - origin_mm) / step).round() * step;
    if free {
        return Snapped { z_mm: on_grid(free_step_mm(units)), landmark: None };
    }
    let nearest = landmarks
        .iter()
        .min_by(|a, b| (a.z_mm - z_mm).abs().total_cmp(&(b.z_mm - z_mm).abs()))
        .filter(|landmark| (landmark.z_mm - z_mm).abs() * points_per_mm <= REACH_POINTS);
    match nearest {
        Some(landmark) => Snapped { z_mm: landmark.z_mm, landmark: Some(*landmark) },
        None => Snapped { z_mm: on_grid(step_mm(units)), landmark: None },
    }
}

/// The middles of the lands and true spots of the shaft as it is held.
#[must_use]
pub fn land_middles(shaft: &Shaft, setup: &Setup) -> Vec<Landmark> {
    let mut found: Vec<Landmark> = Vec::new();
    let mut add = |from_s: f64, to_s: f64, name: &'static str| {
        let z_mm = setup.z_of_s_mm(shaft, f64::midpoint(from_s, to_s));
        if found.iter().all(|other| (other.z_mm - z_mm).abs() > 0.05) {
            found.push(Landmark { z_mm, name });
        }
    };
    for feature in &shaft.features {
        if feature.kind == FeatureKind::TrueSpot {
            add(feature.from_s_mm, feature.to_s_mm, "middle of the true spot");
        }
    }
    for (from_s, to_s, _) in shaft.wanted_spans() {
        add(from_s, to_s, "middle of a finished land");
    }
    for (from_s, to_s, _) in shaft.stock_spans() {
        add(from_s, to_s, "middle of a land");
    }
    found
}

#[cfg(test)]
mod tests {
    use super::*;

    const MIDDLE: Landmark = Landmark { z_mm: 300.4, name: "middle of a land" };

    #[test]
    fn a_place_snaps_to_whole_millimetres_or_sixteenths() {
        assert_eq!(snapped(412.3, 0.0, Units::Metric, &[], 1.0, false).z_mm, 412.0);
        let sixteenths = snapped(25.4 * 3.07, 0.0, Units::Inch, &[], 1.0, false).z_mm / 25.4 * 16.0;
        assert!((sixteenths - 49.0).abs() < 1e-9, "{sixteenths}");
    }

    #[test]
    fn a_land_middle_draws_only_from_near() {
        assert_eq!(snapped(303.0, 0.0, Units::Metric, &[MIDDLE], 1.0, false).landmark, Some(MIDDLE));
        assert_eq!(snapped(303.0, 0.0, Units::Metric, &[MIDDLE], 10.0, false).landmark, None);
    }

    #[test]
    fn free_movement_keeps_off_the_grid() {
        let free = snapped(300.44, 0.0, Units::Metric, &[MIDDLE], 1.0, true);
        assert!((free.z_mm - 300.4).abs() < 1e-9 && free.landmark.is_none());
    }
}
