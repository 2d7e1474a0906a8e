//! The outside of the work along the bed: straight stretches of radius in rising z, from the computed surface or,
//! where nothing is computed yet, from the stock.

use crate::job::{Setup, Shaft};
use crate::study::{Span, Surface};

/// A straight stretch of the outside.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Stretch {
    pub from_z_mm: f64,
    pub to_z_mm: f64,
    pub start_radius_mm: f64,
    pub end_radius_mm: f64,
}

/// Stretches that follow each other in rising z, with steps between them.
#[derive(Clone, Debug, PartialEq, Default)]
pub struct Profile {
    pub stretches: Vec<Stretch>,
}

/// A deviation no drawing can show.
const UNSEEN_MM: f64 = 0.004;

impl Stretch {
    fn radius_at(&self, z_mm: f64) -> f64 {
        let length = self.to_z_mm - self.from_z_mm;
        if length <= 0.0 {
            return self.start_radius_mm;
        }
        let share = ((z_mm - self.from_z_mm) / length).clamp(0.0, 1.0);
        self.start_radius_mm + share * (self.end_radius_mm - self.start_radius_mm)
    }
}

/// A stretch of the shaft, from one place along it to another, as it lies in the set-up.
fn stretch(shaft: &Shaft, setup: &Setup, along_s_mm: (f64, f64), diameters_mm: (f64, f64)) -> Stretch {
    let (a, b) = (setup.z_of_s_mm(shaft, along_s_mm.0), setup.z_of_s_mm(shaft, along_s_mm.1));
    let (start, end) = (diameters_mm.0 / 2.0, diameters_mm.1 / 2.0);
    if a <= b {
        Stretch { from_z_mm: a, to_z_mm: b, start_radius_mm: start, end_radius_mm: end }
    } else {
        Stretch { from_z_mm: b, to_z_mm: a, start_radius_mm: end, end_radius_mm: start }
    }
}

impl Profile {
    /// The outside as it is drawn in `setup`: `surface`, or the stock where `surface` is missing or empty.
    #[must_use]
    pub fn of(shaft: &Shaft, setup: &Setup, surface: Option<&Surface>) -> Self {
        match surface {
            Some(surface) if !surface.spans.is_empty() => Self::of_spans(shaft, setup, &surface.spans),
            _ => {
                let stock = shaft.stock_spans().map(|(from, to, land)| {
                    stretch(shaft, setup, (from, to), (land.start_diameter_mm, land.end_diameter_mm))
                });
                Self::of_stretches(setup, stock)
            }
        }
    }

    /// Stretches of a computed surface, of its roots or its holes; gaps stay gaps.
    #[must_use]
    pub fn of_spans(shaft: &Shaft, setup: &Setup, spans: &[Span]) -> Self {
        let stretches = spans.iter().map(|span| {
            let ends_mm = (span.start_diameter_mm, span.end_diameter_mm);
            stretch(shaft, setup, (span.from_s_mm, span.to_s_mm), ends_mm)
        });
        Self::of_stretches(setup, stretches)
    }

    fn of_stretches(setup: &Setup, stretches: impl Iterator<Item = Stretch>) -> Self {
        let mut stretches: Vec<Stretch> = stretches.collect();
        if setup.end_for_end {
            stretches.reverse();
        }
        Self { stretches }.simplified()
    }

    /// Joins neighbours that lie on one line to the eye.
    fn simplified(self) -> Self {
        let mut kept: Vec<Stretch> = Vec::with_capacity(self.stretches.len());
        for next in self.stretches {
            if next.to_z_mm <= next.from_z_mm {
                continue;
            }
            if let Some(last) = kept.last_mut() {
                let joined = Stretch {
                    from_z_mm: last.from_z_mm,
                    to_z_mm: next.to_z_mm,
                    start_radius_mm: last.start_radius_mm,
                    end_radius_mm: next.end_radius_mm,
                };
                let at_joint = joined.radius_at(next.from_z_mm);
                let smooth = next.from_z_mm - last.to_z_mm < UNSEEN_MM
                    && (at_joint - last.end_radius_mm).abs() < UNSEEN_MM
                    && (at_joint - next.start_radius_mm).abs() < UNSEEN_MM;
                if smooth {
                    *last = joined;
                    continue;
                }
            }
            kept.push(next);
        }
        Self { stretches: kept }
    }

    /// The part between two places.
    #[must_use]
    pub fn between(&self, from_z_mm: f64, to_z_mm: f64) -> Self {
        let stretches = self
            .stretches
            .iter()
            .filter(|stretch| stretch.to_z_mm > from_z_mm && stretch.from_z_mm < to_z_mm)
            .map(|stretch| {
                let (from, to) = (stretch.from_z_mm.max(from_z_mm), stretch.to_z_mm.min(to_z_mm));
                Stretch {
                    from_z_mm: from,
                    to_z_mm: to,
                    start_radius_mm: stretch.radius_at(from),
                    end_radius_mm: stretch.radius_at(to),
                }
            })
            .collect();
        Self { stretches }
    }

    /// One profile after another that ends where it begins.
    #[must_use]
    pub fn followed_by(mut self, mut next: Self) -> Self {
        self.stretches.append(&mut next.stretches);
        self
    }

    /// The runs without a gap between them.
    pub fn runs(&self) -> impl Iterator<Item = &[Stretch]> {
        self.stretches.chunk_by(|before, after| after.from_z_mm - before.to_z_mm < UNSEEN_MM)
    }

    /// Radius at a place, the larger one at a step; 0 off the work.
    #[must_use]
    pub fn radius_at(&self, z_mm: f64) -> f64 {
        self.stretches
            .iter()
            .filter(|stretch| stretch.from_z_mm <= z_mm && z_mm <= stretch.to_z_mm)
            .map(|stretch| stretch.radius_at(z_mm))
            .fold(0.0, f64::max)
    }

    /// Largest radius; 0 for no work.
    #[must_use]
    pub fn max_radius_mm(&self) -> f64 {
        self.stretches.iter().map(|stretch| stretch.start_radius_mm.max(stretch.end_radius_mm)).fold(0.0, f64::max)
    }

    /// First and last place; `None` for no work.
    #[must_use]
    pub fn ends_mm(&self) -> Option<(f64, f64)> {
        Some((self.stretches.first()?.from_z_mm, self.stretches.last()?.to_z_mm))
    }
}
