//! Typed numbers as exact fractions, so that rounding happens once, at the end.

/// A fraction of whole numbers; `den` is never 0.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Rational {
    pub num: u128,
    pub den: u128,
}

/// Beyond this a whole number is no longer exact as an `f64`.
const EXACT: u128 = 1 << 53;

impl Rational {
    pub const ONE: Self = Self { num: 1, den: 1 };

    /// `num / den` with `den` not 0.
    pub const fn new(num: u128, den: u128) -> Self {
        assert!(den != 0, "a unit's factor is a fraction of whole numbers");
        Self { num, den }
    }

    fn reduced(self) -> Self {
        let (mut a, mut b) = (self.num, self.den);
        while b != 0 {
            (a, b) = (b, a % b);
        }
        // `a` is at least 1, since `den` is.
        Self { num: self.num / a, den: self.den / a }
    }

    /// The product; `None` where it does not fit.
    pub fn times(self, other: Self) -> Option<Self> {
        let left = Self { num: self.num, den: other.den }.reduced();
        let right = Self { num: other.num, den: self.den }.reduced();
        Some(Self { num: left.num.checked_mul(right.num)?, den: left.den.checked_mul(right.den)? })
    }

    /// The sum; `None` where it does not fit.
    pub fn plus(self, other: Self) -> Option<Self> {
        let num = self.num.checked_mul(other.den)?.checked_add(other.num.checked_mul(self.den)?)?;
        Some(Self { num, den: self.den.checked_mul(other.den)? }.reduced())
    }

    /// The nearest `f64`; within a rounding or two of it where both numbers are huge and the fraction is no decimal.
    pub fn to_f64(self) -> f64 {
        let Self { num, den } = self.reduced();
        if num < EXACT && den < EXACT {
            return num as f64 / den as f64;
        }
        decimal(num, den).unwrap_or(num as f64 / den as f64)
    }
}

/// Reads the fraction as a decimal number where it is one of reasonable length: the standard reader rounds exactly.
fn decimal(mut num: u128, mut den: u128) -> Option<f64> {
    let mut n_decimals = 0;
    while den != 1 {
        let factor = match (den.is_multiple_of(2), den.is_multiple_of(5)) {
            (true, true) => 1,
            (true, false) => 5,
            (false, true) => 2,
            (false, false) => return None,
        };
        num = num.checked_mul(factor)?;
        den = den * factor / 10;
        n_decimals += 1;
    }
    format!("{num}e-{n_decimals}").parse().ok()
}
