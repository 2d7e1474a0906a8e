//! A number of about 32 digits, held as the sum of two `f64`.
//!
//! Source: T. J. Dekker, "A floating-point technique for extending the available precision", Numerische Mathematik
//! 18 (1971) 224-242, with the product's rounding error taken by a fused multiply-add.

use std::ops::{Add, AddAssign, Div, Mul, Neg, Sub, SubAssign};

/// The unevaluated sum `hi + lo`, with `lo` below half a unit in the last place of `hi`.
#[derive(Clone, Copy, Debug, PartialEq, Default)]
pub struct Wide {
    hi: f64,
    lo: f64,
}

/// Sum and its rounding error, for any two numbers.
fn two_sum(a: f64, b: f64) -> (f64, f64) {
    let sum = a + b;
    let b_part = sum - a;
    (sum, (a - (sum - b_part)) + (b - b_part))
}

/// Sum and its rounding error where `a` is the larger.
fn quick_two_sum(a: f64, b: f64) -> (f64, f64) {
    let sum = a + b;
    (sum, b - (sum - a))
}

impl Wide {
    pub const ZERO: Self = Self { hi: 0.0, lo: 0.0 };
    pub const ONE: Self = Self { hi: 1.0, lo: 0.0 };

    /// The nearest `f64`.
    pub fn to_f64(self) -> f64 {
        self.hi
    }
}

impl From<f64> for Wide {
    fn from(value: f64) -> Self {
        Self { hi: value, lo: 0.0 }
    }
}

impl Add for Wide {
    type Output = Self;
    fn add(self, other: Self) -> Self {
        let (sum, error) = two_sum(self.hi, other.hi);
        let (low_sum, low_error) = two_sum(self.lo, other.lo);
        let (sum, error) = quick_two_sum(sum, error + low_sum);
        let (hi, lo) = quick_two_sum(sum, error + low_error);
        Self { hi, lo }
    }
}

impl Neg for Wide {
    type Output = Self;
    fn neg(self) -> Self {
        Self { hi: -self.hi, lo: -self.lo }
    }
}

impl Sub for Wide {
    type Output = Self;
    fn sub(self, other: Self) -> Self {
        self + -other
    }
}

impl Mul for Wide {
    type Output = Self;
    fn mul(self, other: Self) -> Self {
        let product = self.hi * other.hi;
        let error = self.hi.mul_add(other.hi, -product);
        let (hi, lo) = quick_two_sum(product, error + (self.hi * other.lo + self.lo * other.hi));
        Self { hi, lo }
    }
}

impl Div for Wide {
    type Output = Self;
    fn div(self, other: Self) -> Self {
        let first = self.hi / other.hi;
        let rest = self - other * Self::from(first);
        let second = rest.hi / other.hi;
        let rest = rest - other * Self::from(second);
        let (hi, lo) = quick_two_sum(first, second);
        Self { hi, lo } + Self::from(rest.hi / other.hi)
    }
}

impl AddAssign for Wide {
    fn add_assign(&mut self, other: Self) {
        *self = *self + other;
    }
}

impl SubAssign for Wide {
    fn sub_assign(&mut self, other: Self) {
        *self = *self - other;
    }
}

#[test]
fn wide_numbers_keep_what_an_f64_drops() {
    let tiny = Wide::from(1e-25);
    assert_eq!((Wide::ONE + tiny - Wide::ONE).to_f64(), 1e-25);
    let third = Wide::ONE / Wide::from(3.0);
    assert!((third * Wide::from(3.0) - Wide::ONE).to_f64().abs() < 1e-31);
    let square = (Wide::ONE + tiny) * (Wide::ONE + tiny);
    assert!((square - Wide::ONE - tiny - tiny).to_f64().abs() < 1e-31);
}
