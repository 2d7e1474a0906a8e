//! Paper: its sizes, and the room on it inside the margins and above the title block.
//!
//! A4 and A3 after ISO 216, Letter and Tabloid as they are sold: 8-1/2 by 11 and 11 by 17 in. The left margin is wider, for
//! holes or a clip; printers leave some 5 mm white all round.

use crate::job::Units;
use crate::picture::Bounds;

/// Margins.
const LEFT_MM: f64 = 15.0;
const OTHER_MM: f64 = 8.0;
/// A row of the title block, and the line over it.
pub(super) const ROW_MM: f64 = 8.2;
pub(super) const ESTIMATE_MM: f64 = 6.4;

/// A size of paper.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Default)]
pub enum PageSize {
    #[default]
    A4,
    A3,
    Letter,
    Tabloid,
}

impl PageSize {
    /// All sizes.
    pub const ALL: [Self; 4] = [Self::A4, Self::A3, Self::Letter, Self::Tabloid];

    /// What it is called.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::A4 => "A4",
            Self::A3 => "A3",
            Self::Letter => "Letter",
            Self::Tabloid => "Tabloid",
        }
    }

    /// Shorter and longer side.
    #[must_use]
    pub const fn sides_mm(self) -> (f64, f64) {
        match self {
            Self::A4 => (210.0, 297.0),
            Self::A3 => (297.0, 420.0),
            Self::Letter => (215.9, 279.4),
            Self::Tabloid => (279.4, 431.8),
        }
    }
}

/// Paper as it lies on the bench.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Paper {
    pub size: PageSize,
    /// The longer side is level.
    pub landscape: bool,
}

impl Default for Paper {
    fn default() -> Self {
        Self { size: PageSize::A4, landscape: true }
    }
}

impl Paper {
    /// What is sold where these units are used.
    #[must_use]
    pub const fn usual(units: Units) -> Self {
        let size = match units {
            Units::Metric => PageSize::A4,
            Units::Inch => PageSize::Letter,
        };
        Self { size, landscape: true }
    }

    /// From left to right.
    #[must_use]
    pub const fn width_mm(self) -> f64 {
        let (short_mm, long_mm) = self.size.sides_mm();
        if self.landscape { long_mm } else { short_mm }
    }

    /// From bottom to top.
    #[must_use]
    pub const fn height_mm(self) -> f64 {
        let (short_mm, long_mm) = self.size.sides_mm();
        if self.landscape { short_mm } else { long_mm }
    }

    /// Inside the margins, title block included.
    #[must_use]
    pub const fn inside(self) -> Bounds {
        Bounds {
            left_mm: LEFT_MM,
            right_mm: self.width_mm() - OTHER_MM,
            bottom_mm: OTHER_MM,
            top_mm: self.height_mm() - OTHER_MM,
        }
    }

    /// What is left for the contents.
    #[must_use]
    pub(super) const fn contents(self) -> Bounds {
        let inside = self.inside();
        Bounds { bottom_mm: inside.bottom_mm + self.block_mm() + ESTIMATE_MM, ..inside }
    }

    /// Height of the title block: one row where the paper is wide.
    #[must_use]
    pub(super) const fn block_mm(self) -> f64 {
        if self.landscape { ROW_MM } else { 2.0 * ROW_MM }
    }
}
