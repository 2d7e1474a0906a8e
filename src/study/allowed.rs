//! What the drawing allows at a place, where a pass goes to the drawing there.

use super::results::Station;
use crate::job::{Job, Setup};

/// Dial and drawing closer than this are the same size.
const SAME_SIZE_MM: f64 = 1e-6;

/// What a station may be off, against the size its dial stands at.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Allowed {
    /// The land of the finished part, counted from end A.
    pub land: usize,
    /// Least and largest allowed `error_mm`; nothing where no tolerance is stated.
    pub limits_mm: Option<(f64, f64)>,
}

/// What the drawing allows at a station, where the pass goes to the drawing there.
#[must_use]
pub fn allowed_at(job: &Job, setup: &Setup, station: &Station) -> Option<Allowed> {
    let s_mm = setup.s_of_z_mm(&job.shaft, station.z_mm);
    job.shaft.wanted_spans().enumerate().find_map(|(index, (from_mm, to_mm, wanted))| {
        if s_mm < from_mm - SAME_SIZE_MM || s_mm > to_mm + SAME_SIZE_MM || wanted.land.length_mm <= 0.0 {
            return None;
        }
        let along_ratio = ((s_mm - from_mm) / wanted.land.length_mm).clamp(0.0, 1.0);
        let drawing_mm =
            wanted.land.start_diameter_mm + along_ratio * (wanted.land.end_diameter_mm - wanted.land.start_diameter_mm);
        let dial_mm = station.wanted_diameter_mm - drawing_mm;
        let (lower_mm, upper_mm) = wanted.tolerance.limits_mm(drawing_mm).unwrap_or((0.0, 0.0));
        let to_drawing = dial_mm >= lower_mm - SAME_SIZE_MM && dial_mm <= upper_mm + SAME_SIZE_MM;
        to_drawing.then(|| Allowed {
            land: index,
            limits_mm: wanted.tolerance.limits_mm(drawing_mm).map(|(lower, upper)| (lower - dial_mm, upper - dial_mm)),
        })
    })
}
