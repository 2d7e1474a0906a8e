//! Work done with the widest vectors this processor has.
//!
//! A program for any processor may use the vectors of the oldest one only, two numbers wide; most have had four for years.
//! The figures are the same whatever the width: each number goes through the same steps in the same order, and nothing
//! is fused.

use std::sync::LazyLock;

use fearless_simd::{Level, dispatch};

static LEVEL: LazyLock<Level> = LazyLock::new(Level::new);

/// Does some work; it and all it calls must be `#[inline(always)]` to be any wider.
#[inline(always)]
pub fn widely<R>(work: impl FnOnce() -> R) -> R {
    dispatch!(*LEVEL, _simd => work())
}

#[cfg(test)]
mod tests {
    use super::widely;
    use crate::mechanics::number::{Complex, Lanes, Number};

    #[inline(always)]
    fn some_steps(first: Complex<Lanes<4>>) -> Complex<Lanes<4>> {
        (1..200).fold(first, |z, step| (z * z + first.times(0.1 * f64::from(step))).inverse() - z.times(0.3))
    }

    #[test]
    fn figures_are_the_same_to_the_last_bit_whatever_the_width() {
        let first = Complex { re: Lanes([0.3, -1.7, 2.9, 1e-3]), im: Lanes([0.1, 0.9, -0.4, 3.0]) };
        let wide = widely(
            #[inline(always)]
            || some_steps(first),
        );
        let narrow: Complex<Lanes<4>> = some_steps(std::hint::black_box(first));
        for lane in 0..4 {
            assert_eq!(wide.re.0[lane].to_bits(), narrow.re.0[lane].to_bits());
            assert_eq!(wide.im.0[lane].to_bits(), narrow.im.0[lane].to_bits());
        }
    }
}
