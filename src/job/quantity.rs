//! The edge where numbers become words and words numbers: one formatter, one parser, inch or metric.
//!
//! Typed text is read as an exact fraction and scaled by an exact factor, and only the result is rounded: `1-3/8` and
//! `1.375` in are the same 34.925 mm, to the last bit. A bare number is in the display unit; a bare fraction of a
//! length is inches in every job, as it is in every shop.

mod rational;
mod read;
mod unit;
mod write;

pub use write::{show, show_exact, show_for_entry, show_signed};

/// Display units of a job.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Units {
    Metric,
    Inch,
}

/// What a number is, which decides its unit, its rounding and what may be typed.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Kind {
    /// Along the bed: mm or in.
    Length,
    /// A size on diameter: mm or in, with one more digit than a length.
    Diameter,
    /// A small difference of size: um or thou; typed without a unit it is in mm or in.
    Error,
    Force,
    /// N/um or lbf/thou; held in N/mm.
    Stiffness,
    /// N·m/rad or lbf·in/rad; held in N·mm/rad.
    RotationStiffness,
    /// Degrees; held in rad.
    Angle,
    /// mm/rev or in/rev.
    Feed,
    /// rpm.
    SpindleSpeed,
    Power,
    Mass,
    /// K or degrees F, differences only.
    TemperatureRise,
    /// A bare number.
    Ratio,
    /// A share shown and typed in percent; held as a ratio.
    Percent,
    /// A whole number of things.
    Count,
    Pressure,
    /// m/s or ft/min: the work under a jaw.
    SurfaceSpeed,
    /// N·m or lbf·ft; held in N·mm.
    Torque,
}

/// Why a text is not a number of that kind.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
#[error("{0}")]
pub struct QuantityError(pub String);

/// The value of a typed text in inside units.
///
/// Reads decimals with point or comma, fractions, feet and inches, thou and tenths, and the usual units of the kind,
/// whatever the display unit.
///
/// # Errors
/// A sentence for the user where the text cannot be read.
pub fn parse(text: &str, kind: Kind, units: Units) -> Result<f64, QuantityError> {
    read::read(text, kind, units)
}

/// The value of an entry field that showed `shown` and now holds `text`.
///
/// A text that was not touched gives back `shown` to the last bit, though the field shows it rounded (35 mm in an inch
/// job stands there as 1.378).
///
/// # Errors
/// As [`parse`].
pub fn parse_entry(text: &str, shown: f64, kind: Kind, units: Units) -> Result<f64, QuantityError> {
    if text.trim() == show_for_entry(shown, kind, units) { Ok(shown) } else { parse(text, kind, units) }
}

/// The unit's name beside an entry field: the unit a bare number is taken in.
#[must_use]
pub fn unit_name(kind: Kind, units: Units) -> &'static str {
    unit::display_unit(kind, units).name
}
