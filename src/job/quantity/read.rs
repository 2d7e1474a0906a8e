//! Reads what a machinist types: `1-3/8`, `4' 6"`, `0,75`, `12 thou`, `60 N/um`.
//!
//! One number and at most one unit, or feet followed by inches. Known limit: a comma is always a decimal mark, so a
//! text such as `1,500` is refused wherever it could also mean fifteen hundred.

use super::rational::Rational;
use super::unit::{Scale, display_unit, length_unit, typed_unit};
use super::{Kind, QuantityError, Units};

/// Longest text that is looked at; nobody types more for one number.
const MAX_CHARS: usize = 60;
/// Largest power of ten that may be typed behind an `e`.
const MAX_EXPONENT: u32 = 24;

/// A number as typed.
#[derive(Clone, Copy, Debug)]
struct Number {
    value: Rational,
    is_fraction: bool,
}

pub(super) fn read(text: &str, kind: Kind, units: Units) -> Result<f64, QuantityError> {
    let refuse = |why: &str| {
        let shown: String = text.trim().chars().take(MAX_CHARS).collect();
        QuantityError(format!("\u{201c}{shown}\u{201d} {why}; type for example {}", example(kind, units)))
    };
    if text.trim().is_empty() {
        return Err(QuantityError(format!("type {}, for example {}", what(kind), example(kind, units))));
    }
    if text.chars().count() > MAX_CHARS {
        return Err(refuse("is too long for a number"));
    }
    let plain = plain_text(text);
    let (negative, unsigned) = match plain.strip_prefix(['-', '+']) {
        Some(rest) => (plain.starts_with('-'), rest.trim_start()),
        None => (false, plain.as_str()),
    };
    if let Some(why) = ambiguous_comma(unsigned, kind, units) {
        return Err(refuse(&why));
    }
    let (number, rest) = number(unsigned).map_err(|why| refuse(&why.unwrap_or(not_a(kind))))?;
    let magnitude = match scaled(number, rest, kind, units) {
        Some(value) => value,
        None if is_length(kind) => feet_and_inches(number, rest).ok_or_else(|| refuse(&unknown_unit(rest, kind)))?,
        None => return Err(refuse(&unknown_unit(rest, kind))),
    };
    if kind == Kind::Count && magnitude.fract() != 0.0 {
        return Err(refuse(&not_a(kind)));
    }
    if !magnitude.is_finite() {
        return Err(refuse("is too large"));
    }
    Ok(if negative && magnitude != 0.0 { -magnitude } else { magnitude })
}

/// One number with its unit, or none.
fn scaled(number: Number, rest: &str, kind: Kind, units: Units) -> Option<f64> {
    let scale = if rest.is_empty() {
        // A fraction of a length is inches in every shop.
        let units = if number.is_fraction && matches!(kind, Kind::Length | Kind::Diameter | Kind::Error | Kind::Feed) {
            Units::Inch
        } else {
            units
        };
        display_unit(kind, units).scale
    } else {
        typed_unit(kind, &unit_key(rest))?
    };
    Some(match scale {
        Scale::Times(factor) => match number.value.times(factor) {
            Some(value) => value.to_f64(),
            None => number.value.to_f64() * factor.to_f64(),
        },
        Scale::Degrees => number.value.to_f64().to_radians(),
    })
}

/// Feet, then inches with or without their mark.
fn feet_and_inches(feet: Number, rest: &str) -> Option<f64> {
    let split = rest.find(|c: char| c.is_ascii_digit() || c == '.')?;
    let (foot_mark, rest) = rest.split_at(split);
    let foot_mark = unit_key(foot_mark);
    if !matches!(foot_mark.as_str(), "'" | "ft" | "foot" | "feet") {
        return None;
    }
    let (inches, inch_mark) = number(rest).ok()?;
    let inch_mark = unit_key(inch_mark);
    if !matches!(inch_mark.as_str(), "" | "\"" | "in" | "ins" | "inch" | "inches") {
        return None;
    }
    let feet_mm = feet.value.times(length_unit("ft")?)?;
    let inches_mm = inches.value.times(length_unit("in")?)?;
    Some(feet_mm.plus(inches_mm)?.to_f64())
}

/// The number a text begins with, and what stands behind it.
///
/// The error is a reason where a better one than "not a number" is known.
fn number(text: &str) -> Result<(Number, &str), Option<String>> {
    let (first, rest) = decimal(text)?;
    let whole = first.den == 1;
    let after = rest.trim_start();
    if whole && let Some((den, rest)) = fraction_bar(after)? {
        return Ok((Number { value: Rational { num: first.num, den }, is_fraction: true }, rest.trim_start()));
    }
    // `1-3/8`, `1+3/8` or `1 3/8`.
    let joined = rest.strip_prefix(['-', '+']).or_else(|| rest.starts_with(' ').then_some(after));
    if whole
        && let Some(part) = joined
        && part.starts_with(|c: char| c.is_ascii_digit())
        && let Ok((top, behind)) = decimal(part)
        && top.den == 1
        && let Some((den, rest)) = fraction_bar(behind.trim_start())?
    {
        if top.num >= den {
            return Err(Some("has a fraction that is not smaller than 1".to_owned()));
        }
        let value = first.plus(Rational { num: top.num, den }).ok_or(None)?;
        return Ok((Number { value, is_fraction: true }, rest.trim_start()));
    }
    Ok((Number { value: first, is_fraction: false }, after))
}

/// A denominator behind `/`; `None` where no fraction follows (`/min`).
fn fraction_bar(text: &str) -> Result<Option<(u128, &str)>, Option<String>> {
    let Some(rest) = text.strip_prefix('/') else { return Ok(None) };
    let rest = rest.trim_start();
    if !rest.starts_with(|c: char| c.is_ascii_digit()) {
        return Ok(None);
    }
    let (den, rest) = decimal(rest)?;
    match den {
        Rational { num: 0, .. } => Err(Some("divides by nothing".to_owned())),
        Rational { num, den: 1 } => Ok(Some((num, rest))),
        Rational { .. } => Err(Some("is not a fraction of whole numbers".to_owned())),
    }
}

/// Digits with at most one decimal mark and perhaps an exponent.
fn decimal(text: &str) -> Result<(Rational, &str), Option<String>> {
    let too_long = || Some("has too many digits".to_owned());
    let mut num: u128 = 0;
    let mut den: u128 = 1;
    let mut seen_mark = false;
    let mut n_digits = 0;
    let mut end = text.len();
    for (at, c) in text.char_indices() {
        match c {
            '0'..='9' => {
                let digit = u128::from(c as u32 - '0' as u32);
                num = num.checked_mul(10).and_then(|n| n.checked_add(digit)).ok_or_else(too_long)?;
                if seen_mark {
                    den = den.checked_mul(10).ok_or_else(too_long)?;
                }
                n_digits += 1;
            }
            '.' | ',' if seen_mark => return Err(Some("has two decimal marks".to_owned())),
            '.' | ',' => seen_mark = true,
            _ => {
                end = at;
                break;
            }
        }
    }
    if n_digits == 0 {
        return Err(None);
    }
    let value = Rational { num, den };
    let rest = &text[end..];
    match exponent(rest) {
        Some((power, rest)) => {
            let ten = 10u128.checked_pow(power.unsigned_abs()).filter(|_| power.unsigned_abs() <= MAX_EXPONENT);
            let ten = ten.ok_or_else(|| Some("is far out of range".to_owned()))?;
            let factor = if power < 0 { Rational { num: 1, den: ten } } else { Rational { num: ten, den: 1 } };
            Ok((value.times(factor).ok_or_else(too_long)?, rest))
        }
        None => Ok((value, rest)),
    }
}

/// `e-5` and the like.
fn exponent(text: &str) -> Option<(i32, &str)> {
    let rest = text.strip_prefix('e')?;
    let digits = rest.strip_prefix(['-', '+']).unwrap_or(rest);
    let n_digits = digits.bytes().take_while(u8::is_ascii_digit).count();
    if n_digits == 0 || n_digits > 3 {
        return None;
    }
    let end = rest.len() - digits.len() + n_digits;
    Some((rest[..end].trim_start_matches('+').parse().ok()?, &rest[end..]))
}

/// Where `1,500` could mean one and a half or fifteen hundred, says so.
fn ambiguous_comma(text: &str, kind: Kind, units: Units) -> Option<String> {
    let comma = text.find(',')?;
    let (before, after) = (&text[..comma], &text[comma + 1..]);
    let n_after = after.bytes().take_while(u8::is_ascii_digit).count();
    if after[n_after..].starts_with(['.', ',']) {
        return Some("has two decimal marks".to_owned());
    }
    let grouped = n_after == 3 && (1..=3).contains(&before.len()) && !before.starts_with('0');
    let metric_size =
        units == Units::Metric && (is_length(kind) || matches!(kind, Kind::Feed | Kind::Ratio | Kind::Percent));
    let digits = &after[..n_after];
    (grouped && !metric_size && before.bytes().all(|b| b.is_ascii_digit()))
        .then(|| format!("could mean {before}.{digits} or {before}{digits}"))
}

fn is_length(kind: Kind) -> bool {
    matches!(kind, Kind::Length | Kind::Diameter | Kind::Error)
}

/// Lower case, one kind of mark for each thing, fractions spelled out.
fn plain_text(text: &str) -> String {
    let mut plain = String::with_capacity(text.len());
    for c in text.trim().chars() {
        if let Some(fraction) = vulgar_fraction(c) {
            // `1½` and `1-½` alike become `1 1/2`.
            if plain.ends_with('-') && plain.len() > 1 {
                plain.pop();
            }
            if plain.ends_with(|c: char| c.is_ascii_digit()) {
                plain.push(' ');
            }
            plain.push_str(fraction);
            continue;
        }
        match c {
            '\u{2033}' | '\u{201c}' | '\u{201d}' | '\u{2036}' | '\u{ff02}' => plain.push('"'),
            '\u{2032}' | '\u{2018}' | '\u{2019}' | '\u{b4}' | '`' => plain.push('\''),
            '\u{b5}' | '\u{3bc}' => plain.push('u'),
            '\u{2212}' | '\u{2013}' | '\u{2010}' | '\u{2011}' => plain.push('-'),
            '\u{2044}' | '\u{2215}' => plain.push('/'),
            '\u{ba}' => plain.push('\u{b0}'),
            c if c.is_whitespace() => plain.push(' '),
            c => plain.extend(c.to_lowercase()),
        }
    }
    // Two single marks are one double mark.
    plain.replace("''", "\"")
}

/// A unit as it stands in the table of units.
fn unit_key(text: &str) -> String {
    text.chars().filter(|c| !matches!(c, ' ' | '.' | '-' | '*' | '_' | '\u{b7}' | '\u{22c5}')).collect()
}

fn vulgar_fraction(c: char) -> Option<&'static str> {
    Some(match c {
        '\u{bc}' => "1/4",
        '\u{bd}' => "1/2",
        '\u{be}' => "3/4",
        '\u{2150}' => "1/7",
        '\u{2151}' => "1/9",
        '\u{2152}' => "1/10",
        '\u{2153}' => "1/3",
        '\u{2154}' => "2/3",
        '\u{2155}' => "1/5",
        '\u{2156}' => "2/5",
        '\u{2157}' => "3/5",
        '\u{2158}' => "4/5",
        '\u{2159}' => "1/6",
        '\u{215a}' => "5/6",
        '\u{215b}' => "1/8",
        '\u{215c}' => "3/8",
        '\u{215d}' => "5/8",
        '\u{215e}' => "7/8",
        _ => return None,
    })
}

fn unknown_unit(rest: &str, kind: Kind) -> String {
    let like_a_unit = |c: char| c.is_alphabetic() || matches!(c, '"' | '\'' | '%' | '\u{b0}');
    if rest.starts_with(like_a_unit) && !rest.contains(|c: char| c.is_ascii_digit()) {
        format!("has a unit that {} does not have", what(kind))
    } else {
        not_a(kind)
    }
}

fn not_a(kind: Kind) -> String {
    format!("is not {}", what(kind))
}

/// The kind of number, in words.
fn what(kind: Kind) -> &'static str {
    match kind {
        Kind::Length => "a length",
        Kind::Diameter => "a diameter",
        Kind::Error => "a small length",
        Kind::Force => "a force",
        Kind::Stiffness => "a stiffness",
        Kind::RotationStiffness => "a stiffness against turning",
        Kind::Angle => "an angle",
        Kind::Feed => "a feed",
        Kind::SpindleSpeed => "a spindle speed",
        Kind::Power => "a power",
        Kind::Mass => "a weight",
        Kind::TemperatureRise => "a temperature difference",
        Kind::Ratio => "a number",
        Kind::Percent => "a percentage",
        Kind::Count => "a whole number",
        Kind::Pressure => "a pressure",
        Kind::SurfaceSpeed => "a surface speed",
        Kind::Torque => "a torque",
    }
}

/// What to type, in the display unit first.
fn example(kind: Kind, units: Units) -> &'static str {
    let metric = units == Units::Metric;
    match kind {
        Kind::Length if metric => "35, 35.5 mm or 1-3/8\"",
        Kind::Length => "1-3/8, 1.375, 35 mm or 4' 6\"",
        Kind::Diameter if metric => "34.925, 34,925 or 1-3/8\"",
        Kind::Diameter => "1.375, 1-3/8 or 34.925 mm",
        Kind::Error if metric => "0.025, 25 um or 1 thou",
        Kind::Error => ".001, 1 thou, 3 tenths or 25 um",
        Kind::Force if metric => "90 or 20 lbf",
        Kind::Force => "20 or 90 N",
        Kind::Stiffness if metric => "60 or 340 lbf/thou",
        Kind::Stiffness => "340 or 60 N/um",
        Kind::RotationStiffness if metric => "20000 or 180000 lbf in/rad",
        Kind::RotationStiffness => "180000 or 20000 N m/rad",
        Kind::Angle => "210 or 210\u{b0}",
        Kind::Feed if metric => "0.2 or .008 in/rev",
        Kind::Feed => ".008 or 0.2 mm/rev",
        Kind::SpindleSpeed => "355",
        Kind::Power if metric => "4 or 5.5 hp",
        Kind::Power => "5.5 or 4 kW",
        Kind::Mass if metric => "12 or 26 lb",
        Kind::Mass => "26 or 12 kg",
        Kind::TemperatureRise if metric => "10 or 18 \u{b0}F",
        Kind::TemperatureRise => "18 or 10 K",
        Kind::Ratio => "0.5 or 50 %",
        Kind::Percent => "20 or 20 %",
        Kind::Count => "3",
        Kind::Pressure if metric => "20 or 3000 psi",
        Kind::Pressure => "3000 or 20 MPa",
        Kind::Torque if metric => "40 or 30 lbf ft",
        Kind::Torque => "30 or 40 N m",
        Kind::SurfaceSpeed if metric => "1.5 or 300 ft/min",
        Kind::SurfaceSpeed => "300 or 1.5 m/s",
    }
}
