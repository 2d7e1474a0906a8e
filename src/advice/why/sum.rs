//! A formula with its numbers put in, as words: what is multiplied by what, the same in figures, and what comes out.
//!
//! The numbers are written so that a person, or a test, can work them out: decimal points, `×`, `÷`, `+`, `−`, `^`, `√( )`,
//! `π`, and `cos( )` and `sin( )` of degrees; in mm, N and r/min, with the change to the unit on screen at the end.

use crate::job::Units;

/// What a sum is for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Purpose {
    /// It gives the very figure on screen.
    Figure,
    /// It gives a number that the next one needs.
    Step,
    /// It is a textbook's estimate, beside a figure that comes of the whole computation.
    Estimate,
}

/// A formula worked out.
#[derive(Clone, Debug, PartialEq)]
pub struct Sum {
    pub purpose: Purpose,
    /// What comes out: "main force".
    pub gives: String,
    /// Of what: "depth × feed × ...".
    pub words: String,
    /// The same in figures.
    pub numbers: String,
    /// What comes out, rounded and with its unit, as on screen.
    pub result: String,
}

impl Sum {
    /// The figure on screen: `numbers` give it in mm, N, MPa, W or r/min, `shown` is how it stands there.
    pub fn figure(gives: &str, words: &str, numbers: String, shown: String) -> Self {
        Self::of(Purpose::Figure, gives, words, numbers, shown)
    }

    /// As [`Self::figure`], for an estimate beside it.
    pub fn estimate(gives: &str, words: &str, numbers: String, shown: String) -> Self {
        Self::of(Purpose::Estimate, gives, words, numbers, shown)
    }

    /// A number on the way, with its unit; five figures are told.
    pub fn step(gives: &str, words: &str, numbers: String, value: f64, unit: &str) -> Self {
        let result = format!("{} {unit}", number(value)).trim_end().to_owned();
        Self { purpose: Purpose::Step, gives: gives.to_owned(), words: words.to_owned(), numbers, result }
    }

    fn of(purpose: Purpose, gives: &str, words: &str, numbers: String, shown: String) -> Self {
        let change = change_to(shown.split_once(' ').map_or("", |(_, unit)| unit));
        let numbers = if change.is_empty() { numbers } else { format!("({numbers}) {change}") };
        Self { purpose, gives: gives.to_owned(), words: words.to_owned(), numbers, result: shown }
    }
}

/// From mm, N, MPa, W and N·mm to the unit that stands behind a figure.
fn change_to(unit: &str) -> &'static str {
    match unit {
        "\u{b5}m" => "\u{d7} 1000",
        "thou" => "\u{f7} 0.0254",
        "\u{b5}in" => "\u{f7} 0.0000254",
        "in" => "\u{f7} 25.4",
        "lbf" => "\u{f7} 4.448222",
        "kN" | "kW" | "N\u{b7}m" => "\u{f7} 1000",
        "hp" => "\u{f7} 745.69987",
        "lbf\u{b7}ft" => "\u{f7} 1355.8179",
        "psi" => "\u{f7} 0.006894757",
        "ft/min" => "\u{d7} 196.85039",
        _ => "",
    }
}

/// A number with some six figures and no needless zeros.
pub fn number(value: f64) -> String {
    if value == 0.0 || !value.is_finite() {
        return "0".to_owned();
    }
    let n_decimals = (5.0 - value.abs().log10().floor()).clamp(0.0, 12.0) as usize;
    let text = format!("{value:.n_decimals$}");
    let text = if text.contains('.') { text.trim_end_matches('0').trim_end_matches('.') } else { &text };
    text.replace('-', "\u{2212}")
}

/// A size, to a hundredth of a micrometre: small differences are made of it.
pub fn size(mm: f64) -> String {
    format!("{mm:.5}").replace('-', "\u{2212}")
}

/// What a figure is of what is told beside it: "1.4 times", "0.3 times".
pub fn times(figure: f64, estimate: f64) -> Option<String> {
    let ratio = figure / estimate;
    (ratio.is_finite() && ratio.abs() < 1e4)
        .then(|| format!("{ratio:.*} times", if ratio.abs() < 0.095 { 3 } else { 2 }))
}

/// In which units formulas are written, where they are not those on screen.
pub fn in_metric(units: Units) -> &'static str {
    match units {
        Units::Metric => "",
        Units::Inch => {
            "Formulas are worked out in mm and N, as their tables are; the last step changes to the units on screen."
        }
    }
}
