//! The tolerance of a land: none, limits on diameter, or an ISO 286 class such as h7.

use super::quantity::{Kind, QuantityError, Units, parse, show_for_entry};

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

/// Lowest grade of the table.
const FIRST_GRADE: u8 = 5;

/// Standard tolerances in um: diameters over the last row's limit and up to and including this one's, then IT5 to
/// IT11.
///
/// Source: ISO 286-1, read in two independent reprints and re-derived from the standard's formula.
const STANDARD_UM: [(f64, [f64; 7]); 10] = [
    (3.0, [4.0, 6.0, 10.0, 14.0, 25.0, 40.0, 60.0]),
    (6.0, [5.0, 8.0, 12.0, 18.0, 30.0, 48.0, 75.0]),
    (10.0, [6.0, 9.0, 15.0, 22.0, 36.0, 58.0, 90.0]),
    (18.0, [8.0, 11.0, 18.0, 27.0, 43.0, 70.0, 110.0]),
    (30.0, [9.0, 13.0, 21.0, 33.0, 52.0, 84.0, 130.0]),
    (50.0, [11.0, 16.0, 25.0, 39.0, 62.0, 100.0, 160.0]),
    (80.0, [13.0, 19.0, 30.0, 46.0, 74.0, 120.0, 190.0]),
    (120.0, [15.0, 22.0, 35.0, 54.0, 87.0, 140.0, 220.0]),
    (180.0, [18.0, 25.0, 40.0, 63.0, 100.0, 160.0, 250.0]),
    (250.0, [20.0, 29.0, 46.0, 72.0, 115.0, 185.0, 290.0]),
];

impl Tolerance {
    /// Lower and upper deviation on diameter at a wanted diameter.
    ///
    /// `None` where no tolerance is stated, and for a class at a diameter (over 250 mm) or grade the table lacks.
    #[must_use]
    pub fn limits_mm(self, diameter_mm: f64) -> Option<(f64, f64)> {
        match self {
            Self::Free => None,
            Self::Limits { lower_mm, upper_mm } => Some((lower_mm, upper_mm)),
            Self::H { grade } => Some((-standard_um(diameter_mm, grade)? / 1000.0, 0.0)),
            Self::Js { grade } => {
                let half_mm = standard_um(diameter_mm, grade)? / 2000.0;
                Some((-half_mm, half_mm))
            }
        }
    }

    /// Reads `h7`, `js6`, `+0.02 -0.01`, `\u{b1}0.05`, `+/- 2 thou`, `0 -0.02`; an empty text is no tolerance.
    ///
    /// Limits may stand in either order, and with units; a single signed figure goes with 0.
    ///
    /// # Errors
    /// A sentence for the user.
    pub fn parse(text: &str, units: Units) -> Result<Self, QuantityError> {
        let plain = text.trim().to_lowercase().replace(['\u{2212}', '\u{2013}'], "-").replace("+/-", "\u{b1}");
        if plain.is_empty() || plain == "-" {
            return Ok(Self::Free);
        }
        if let Some(grade) = plain.strip_prefix("js").or_else(|| plain.strip_prefix('h')) {
            let known = grade.trim().parse().ok().filter(|grade| (FIRST_GRADE..FIRST_GRADE + 7).contains(grade));
            let grade = known.ok_or_else(|| refuse(text, "has no grade from 5 to 11"))?;
            return Ok(if plain.starts_with("js") { Self::Js { grade } } else { Self::H { grade } });
        }
        if let Some(either_way) = plain.strip_prefix('\u{b1}') {
            let upper_mm = parse(either_way, Kind::Error, units)?.abs();
            return Ok(Self::Limits { lower_mm: -upper_mm, upper_mm });
        }
        let parts = limits(&plain);
        let (first, second) = match parts.as_slice() {
            [one] if one.starts_with(['+', '-']) => (parse(one, Kind::Error, units)?, 0.0),
            [one, two] => (parse(one, Kind::Error, units)?, parse(two, Kind::Error, units)?),
            _ => return Err(refuse(text, "is not a tolerance")),
        };
        Ok(Self::Limits { lower_mm: first.min(second), upper_mm: first.max(second) })
    }

    /// The tolerance as it is typed: `h7`, `+0.02 -0.01`, `\u{b1}0.05`, empty for none.
    #[must_use]
    pub fn show(self, units: Units) -> String {
        let figure = |mm: f64| show_for_entry(mm, Kind::Error, units);
        let signed = |mm: f64| if mm > 0.0 { format!("+{}", figure(mm)) } else { figure(mm) };
        match self {
            Self::Free => String::new(),
            Self::Limits { lower_mm, upper_mm } if lower_mm == -upper_mm => format!("\u{b1}{}", figure(upper_mm)),
            Self::Limits { lower_mm, upper_mm } => format!("{} {}", signed(upper_mm), signed(lower_mm)),
            Self::H { grade } => format!("h{grade}"),
            Self::Js { grade } => format!("js{grade}"),
        }
    }
}

/// The standard tolerance of a grade at a diameter.
fn standard_um(diameter_mm: f64, grade: u8) -> Option<f64> {
    let column = usize::from(grade.checked_sub(FIRST_GRADE)?);
    let (_, row) = STANDARD_UM.iter().find(|(to_mm, _)| diameter_mm > 0.0 && diameter_mm <= *to_mm)?;
    row.get(column).copied()
}

/// Splits `+0.02 -0.01`, `+0.02/-0.01` or `0 -0.02` before the second sign, or at the space between two figures.
fn limits(plain: &str) -> Vec<&str> {
    let from_second = plain.char_indices().skip(1);
    let cut = from_second.clone().find(|(_, c)| matches!(c, '+' | '-')).map(|(at, _)| at).or_else(|| {
        let rest = from_second.skip_while(|(_, c)| *c != ' ').find(|(_, c)| c.is_ascii_digit() || *c == '.');
        rest.map(|(at, _)| at)
    });
    match cut {
        Some(at) => {
            let ends: &[char] = &[' ', '/', ';'];
            vec![plain[..at].trim_end_matches(ends), plain[at..].trim()]
        }
        None => vec![plain],
    }
}

fn refuse(text: &str, why: &str) -> QuantityError {
    let shown: String = text.trim().chars().take(40).collect();
    QuantityError(format!("\u{201c}{shown}\u{201d} {why}; type for example h7, js6, +0.02 -0.01 or \u{b1}0.05"))
}
