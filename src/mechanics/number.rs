//! The kinds of numbers a walk can be made with: plain ones, several side by side, and complex ones.
//!
//! A count of frequencies, a shape and a receptance all walk along the work with the same algebra ([`super::chain`]);
//! they differ only in what is counted with. [`Lanes`] carries several values of the frequency through one walk, which
//! takes little longer than one value alone, since a walk mostly waits for its own last step.

use std::array::from_fn;
use std::ops::{Add, Mul, Neg, Sub};

/// What a walk asks of its numbers.
pub trait Number: Copy + Add<Output = Self> + Sub<Output = Self> + Mul<Output = Self> + Neg<Output = Self> {
    /// The number of this real value.
    fn of(value: f64) -> Self;

    /// The number times a real factor.
    #[must_use]
    fn times(self, factor: f64) -> Self;

    /// One over the number.
    #[must_use]
    fn inverse(self) -> Self;
}

impl Number for f64 {
    #[inline(always)]
    fn of(value: f64) -> Self {
        value
    }

    #[inline(always)]
    fn times(self, factor: f64) -> Self {
        self * factor
    }

    #[inline(always)]
    fn inverse(self) -> Self {
        1.0 / self
    }
}

/// Several real numbers that go through the same steps.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Lanes<const W: usize>(pub [f64; W]);

impl<const W: usize> Add for Lanes<W> {
    type Output = Self;

    #[inline(always)]
    fn add(self, other: Self) -> Self {
        Self(from_fn(|lane| self.0[lane] + other.0[lane]))
    }
}

impl<const W: usize> Sub for Lanes<W> {
    type Output = Self;

    #[inline(always)]
    fn sub(self, other: Self) -> Self {
        Self(from_fn(|lane| self.0[lane] - other.0[lane]))
    }
}

impl<const W: usize> Mul for Lanes<W> {
    type Output = Self;

    #[inline(always)]
    fn mul(self, other: Self) -> Self {
        Self(from_fn(|lane| self.0[lane] * other.0[lane]))
    }
}

impl<const W: usize> Neg for Lanes<W> {
    type Output = Self;

    #[inline(always)]
    fn neg(self) -> Self {
        Self(from_fn(|lane| -self.0[lane]))
    }
}

impl<const W: usize> Number for Lanes<W> {
    #[inline(always)]
    fn of(value: f64) -> Self {
        Self([value; W])
    }

    #[inline(always)]
    fn times(self, factor: f64) -> Self {
        Self(from_fn(|lane| self.0[lane] * factor))
    }

    #[inline(always)]
    fn inverse(self) -> Self {
        Self(from_fn(|lane| 1.0 / self.0[lane]))
    }
}

/// A complex number, or several side by side.
#[derive(Clone, Copy, Debug, PartialEq, Default)]
pub struct Complex<R = f64> {
    pub re: R,
    pub im: R,
}

impl<R: Number> Add for Complex<R> {
    type Output = Self;

    #[inline(always)]
    fn add(self, other: Self) -> Self {
        Self { re: self.re + other.re, im: self.im + other.im }
    }
}

impl<R: Number> Sub for Complex<R> {
    type Output = Self;

    #[inline(always)]
    fn sub(self, other: Self) -> Self {
        Self { re: self.re - other.re, im: self.im - other.im }
    }
}

impl<R: Number> Mul for Complex<R> {
    type Output = Self;

    #[inline(always)]
    fn mul(self, other: Self) -> Self {
        Self { re: self.re * other.re - self.im * other.im, im: self.re * other.im + self.im * other.re }
    }
}

impl<R: Number> Neg for Complex<R> {
    type Output = Self;

    #[inline(always)]
    fn neg(self) -> Self {
        Self { re: -self.re, im: -self.im }
    }
}

impl<R: Number> Number for Complex<R> {
    #[inline(always)]
    fn of(value: f64) -> Self {
        Self { re: R::of(value), im: R::of(0.0) }
    }

    #[inline(always)]
    fn times(self, factor: f64) -> Self {
        Self { re: self.re.times(factor), im: self.im.times(factor) }
    }

    #[inline(always)]
    fn inverse(self) -> Self {
        let scale = (self.re * self.re + self.im * self.im).inverse();
        Self { re: self.re * scale, im: -(self.im * scale) }
    }
}

impl Complex<f64> {
    /// The angle from the real axis, between -π and π.
    #[must_use]
    pub fn angle_rad(self) -> f64 {
        self.im.atan2(self.re)
    }

    /// The distance from 0.
    #[must_use]
    pub fn size(self) -> f64 {
        self.re.hypot(self.im)
    }
}
