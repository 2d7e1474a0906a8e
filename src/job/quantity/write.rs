//! Writes a value as a turner reads it, never with more figures than mean something at a lathe.

use super::unit::{Scale, display_unit};
use super::{Kind, Units, parse};

/// Finest fraction of an inch that is written as a fraction.
const FINEST: f64 = 64.0;
/// Most decimals an entry field holds.
const MAX_ENTRY_DECIMALS: usize = 7;

/// The value rounded as a turner reads it, with its unit (`35.0 mm`, `1-3/8 in`, `12 um` with the micro sign,
/// `0.8 thou`).
///
/// Lengths to 0.1 mm or 0.01 in, or as a fraction where it is exact; sizes on diameter to 0.001 mm or 0.0001 in;
/// errors to 1 um or 0.1 thou, in mm or in from 1 mm or 0.1 in on; the rest to about three figures. What is not a
/// number is shown as a dash.
#[must_use]
pub fn show(value: f64, kind: Kind, units: Units) -> String {
    if !value.is_finite() {
        return "\u{2013}".to_owned();
    }
    let inch = units == Units::Inch;
    let unit = display_unit(kind, units);
    let x = in_unit(value, unit.scale);
    match kind {
        Kind::Length if inch => format!("{} in", inches(x)),
        Kind::Length => with_unit(&fixed(x, 1), unit.name),
        Kind::Diameter => with_unit(&fixed(x, if inch { 4 } else { 3 }), unit.name),
        Kind::Error if inch && x.abs() >= 0.099_95 => with_unit(&fixed(x, 3), "in"),
        Kind::Error if !inch && x.abs() >= 0.999_5 => with_unit(&fixed(x, 2), "mm"),
        Kind::Error if inch => with_unit(&fixed(x * 1000.0, 1), "thou"),
        Kind::Error => with_unit(&fixed(x * 1000.0, 0), "\u{b5}m"),
        Kind::Force if !inch && x.abs() >= 9_995.0 => with_unit(&figures(x / 1000.0), "kN"),
        Kind::Force => with_unit(&if x.abs() < 9.95 { fixed(x, 1) } else { figures(x) }, unit.name),
        Kind::Angle => format!("{}\u{b0}", trimmed(fixed(x, 1), 0)),
        Kind::Feed => with_unit(&if inch { fixed(x, 4) } else { trimmed(fixed(x, 3), 2) }, unit.name),
        Kind::SpindleSpeed => with_unit(&trimmed(fixed(x, usize::from(x.abs() < 99.95)), 0), unit.name),
        Kind::TemperatureRise => with_unit(&trimmed(fixed(x, 1), 0), unit.name),
        Kind::Ratio => trimmed(fixed(x, 3), 0),
        Kind::Percent => with_unit(&trimmed(fixed(x, 1), 0), unit.name),
        Kind::Count => fixed(x, 0),
        Kind::SurfaceSpeed => with_unit(&fixed(x, usize::from(!inch)), unit.name),
        Kind::Stiffness | Kind::RotationStiffness | Kind::Power | Kind::Mass | Kind::Pressure | Kind::Torque => {
            with_unit(&figures(x), unit.name)
        }
    }
}

/// As [`show`], with `+` before what is more than nothing: for an error that is big or small.
#[must_use]
pub fn show_signed(value: f64, kind: Kind, units: Units) -> String {
    let shown = show(value, kind, units);
    let nothing = !shown.chars().any(|c| matches!(c, '1'..='9'));
    if value > 0.0 && !nothing { format!("+{shown}") } else { shown }
}

/// The value as it stands in an entry field: without unit, with digits enough that reading it back changes nothing
/// the user typed.
///
/// The shortest decimal that reads back as the very same value, as far as seven decimals; a value typed in other
/// units may not have one and is then rounded to what means something at a lathe (see [`super::parse_entry`]).
#[must_use]
pub fn show_for_entry(value: f64, kind: Kind, units: Units) -> String {
    let n_decimals = match (kind, units) {
        (Kind::Length, Units::Metric) => 3,
        (Kind::Length, Units::Inch) | (Kind::Diameter, Units::Metric) => 4,
        (Kind::Diameter, Units::Inch) => 5,
        _ => 6,
    };
    shortest(value, kind, units, n_decimals)
}

/// As [`show_for_entry`], with nine decimals where nothing shorter is exact: for other programs to read.
#[must_use]
pub fn show_exact(value: f64, kind: Kind, units: Units) -> String {
    shortest(value, kind, units, 9)
}

/// The shortest decimal that is the very same value, or one of so many decimals.
fn shortest(value: f64, kind: Kind, units: Units, n_else: usize) -> String {
    if !value.is_finite() {
        return String::new();
    }
    let x = in_unit(value, display_unit(kind, units).scale);
    for n_decimals in 0..=MAX_ENTRY_DECIMALS {
        let text = fixed(x, n_decimals);
        if parse(&text, kind, units) == Ok(value) {
            return text;
        }
    }
    let rounded = trimmed(fixed(x, n_else), 0);
    if rounded == "0" && x != 0.0 { format!("{x:e}") } else { rounded }
}

/// The value in the unit of `scale`.
fn in_unit(value: f64, scale: Scale) -> f64 {
    match scale {
        Scale::Times(factor) => value / factor.to_f64(),
        Scale::Degrees => value.to_degrees(),
    }
}

fn with_unit(number: &str, unit: &str) -> String {
    format!("{number} {unit}")
}

/// So many decimals, and never "-0.0".
fn fixed(x: f64, n_decimals: usize) -> String {
    let text = format!("{x:.n_decimals$}");
    match text.strip_prefix('-') {
        Some(rest) if !rest.chars().any(|c| matches!(c, '1'..='9')) => rest.to_owned(),
        _ => text,
    }
}

/// Without the zeros at the end, but with `keep` decimals at least.
fn trimmed(text: String, keep: usize) -> String {
    let Some(point) = text.find('.') else { return text };
    let least = if keep == 0 { point } else { point + 1 + keep };
    let end = text.trim_end_matches('0').len().max(least);
    text[..end].trim_end_matches('.').to_owned()
}

/// Three figures, without needless zeros behind the point.
fn figures(x: f64) -> String {
    if x == 0.0 {
        return "0".to_owned();
    }
    // The exponent after rounding to three figures, as the standard formatter sees it.
    let power = format!("{x:.2e}").split_once('e').and_then(|(_, power)| power.parse::<i32>().ok()).unwrap_or(0);
    if power >= 2 {
        let step = 10f64.powi(power - 2);
        fixed((x / step).round() * step, 0)
    } else {
        let n_decimals = usize::try_from((2 - power).min(6)).unwrap_or(0);
        trimmed(fixed(x, n_decimals), 0)
    }
}

/// Inches as a fraction where that is exact to a 64th, otherwise to a hundredth.
fn inches(x: f64) -> String {
    let parts = (x.abs() * FINEST).round();
    let exact = (x.abs() * FINEST - parts).abs() < 1e-7 && parts < 1e9;
    if !exact {
        return fixed(x, 2);
    }
    let (whole, mut top, mut bottom) = ((parts / FINEST).floor(), parts % FINEST, FINEST);
    while top != 0.0 && top % 2.0 == 0.0 {
        top /= 2.0;
        bottom /= 2.0;
    }
    let sign = if x < 0.0 && parts != 0.0 { "-" } else { "" };
    match (whole == 0.0, top == 0.0) {
        (_, true) => format!("{sign}{whole}"),
        (true, false) => format!("{sign}{top}/{bottom}"),
        (false, false) => format!("{sign}{whole}-{top}/{bottom}"),
    }
}
