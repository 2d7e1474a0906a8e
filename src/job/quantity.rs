//! The edge where numbers become words and words numbers: one formatter, one parser, inch or metric.

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
    Pressure,
}

/// Why a text is not a number of that kind.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
#[error("{0}")]
pub struct QuantityError(pub String);

/// The value of a typed text in inside units.
///
/// # Errors
/// A sentence for the user where the text cannot be read.
pub fn parse(text: &str, kind: Kind, units: Units) -> Result<f64, QuantityError> {
    let _ = (kind, units);
    text.trim().parse().map_err(|_| QuantityError(format!("\u{201c}{text}\u{201d} is not a number")))
}

/// The value rounded as a turner reads it, with its unit ("35.0 mm", "+12 um", "0.8 thou").
#[must_use]
pub fn show(value: f64, kind: Kind, units: Units) -> String {
    let _ = (kind, units);
    format!("{value}")
}

/// The value as it stands in an entry field: without unit, with digits enough that reading it back changes nothing
/// the user typed.
#[must_use]
pub fn show_for_entry(value: f64, kind: Kind, units: Units) -> String {
    let _ = (kind, units);
    format!("{value}")
}

/// The unit's name beside an entry field.
#[must_use]
pub fn unit_name(kind: Kind, units: Units) -> &'static str {
    let _ = (kind, units);
    ""
}
