//! Works out a formula that is written in figures, as a person with a calculator would: `×`, `÷`, `+`, `−`, `^`,
//! `√( )`, `π`, `cos( )` and `sin( )` of degrees.

use std::iter::Peekable;
use std::str::Chars;

/// What the written formula comes to.
pub fn worked_out(text: &str) -> f64 {
    let mut left = Left(text.chars().peekable());
    let value = left.sum();
    assert_eq!(left.next(), None, "what is left over of {text}");
    value
}

struct Left<'a>(Peekable<Chars<'a>>);

impl Left<'_> {
    fn look(&mut self) -> Option<char> {
        while self.0.peek() == Some(&' ') {
            self.0.next();
        }
        self.0.peek().copied()
    }

    fn next(&mut self) -> Option<char> {
        self.look();
        self.0.next()
    }

    fn sum(&mut self) -> f64 {
        let mut value = self.product();
        while let Some(sign @ ('+' | '−')) = self.look() {
            self.next();
            let other = self.product();
            value += if sign == '+' { other } else { -other };
        }
        value
    }

    fn product(&mut self) -> f64 {
        let mut value = self.power();
        while let Some(sign @ ('×' | '÷')) = self.look() {
            self.next();
            let other = self.power();
            value = if sign == '×' { value * other } else { value / other };
        }
        value
    }

    fn power(&mut self) -> f64 {
        let value = self.one();
        if self.look() == Some('^') {
            self.next();
            return value.powf(self.one());
        }
        value
    }

    fn bracket(&mut self) -> f64 {
        assert_eq!(self.next(), Some('('));
        let value = self.sum();
        assert_eq!(self.next(), Some(')'));
        value
    }

    fn one(&mut self) -> f64 {
        match self.look() {
            Some('(') => self.bracket(),
            Some('√') => {
                self.next();
                self.bracket().sqrt()
            }
            Some('π') => {
                self.next();
                std::f64::consts::PI
            }
            Some('−') => {
                self.next();
                -self.one()
            }
            Some(first @ ('c' | 's')) => {
                (0..3).for_each(|_| {
                    self.next();
                });
                let degrees = self.bracket().to_radians();
                if first == 'c' { degrees.cos() } else { degrees.sin() }
            }
            _ => {
                let mut digits = String::new();
                while let Some(digit) = self.0.peek().filter(|c| c.is_ascii_digit() || **c == '.') {
                    digits.push(*digit);
                    self.0.next();
                }
                digits.parse().unwrap_or_else(|_| panic!("a number, not {:?}", self.0.clone().collect::<String>()))
            }
        }
    }
}

/// The number a figure begins with, and half of the last place it is rounded to.
pub fn shown(figure: &str) -> (f64, f64) {
    let figure = figure.trim_start_matches("up to ").replace('−', "-");
    let number = figure.split(' ').next().unwrap_or_default();
    // A fraction stands where it is exact to a 64th.
    if let Some((top, bottom)) = number.split_once('/') {
        let (whole, top) = top.split_once('-').unwrap_or(("0", top));
        let [whole, top, bottom] = [whole, top, bottom].map(|part| part.parse::<f64>().unwrap());
        return (whole + top / bottom, 5e-7);
    }
    let value: f64 = number.parse().unwrap_or_else(|_| panic!("a figure: {figure}"));
    let step = match number.split_once('.') {
        Some((_, decimals)) => 10f64.powi(-i32::try_from(decimals.len()).unwrap()),
        // Three figures of a whole number mean something.
        None => 10f64.powf((value.abs().max(1.0).log10().floor() - 2.0).max(0.0)),
    };
    (value, 0.5 * step)
}

#[test]
fn a_calculator_s_answers() {
    for (text, value) in [
        ("2 + 3 × 4", 14.0),
        ("(2 + 3) × 4 ÷ 10", 2.0),
        ("7 − 2 − 1", 4.0),
        ("2^3 × 2", 16.0),
        ("4^(−0.5)", 0.5),
        ("√(3^2 + 4^2)", 5.0),
        ("10 × cos(60)", 5.0),
        ("10 × sin(30) + −1", 4.0),
        ("2 × π", std::f64::consts::TAU),
    ] {
        assert!((worked_out(text) - value).abs() < 1e-12, "{text} is {}", worked_out(text));
    }
    assert_eq!(shown("12 µm"), (12.0, 0.5));
    assert_eq!(shown("1230 rpm"), (1230.0, 5.0));
    assert_eq!(shown("0.80 mm").0, 0.8);
    assert_eq!((shown("1/4 in").0, shown("1-3/8 in").0), (0.25, 1.375));
}
