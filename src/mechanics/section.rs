//! Round sections, solid or bored: area, second moment, shear factor.
//!
//! Formulas are those of any strength-of-materials text; the shear factor is Cowper's.

use std::f64::consts::PI;

/// Cross-section area of a tube; `bore_mm` 0 for solid work.
#[must_use]
pub fn area_mm2(outside_mm: f64, bore_mm: f64) -> f64 {
    PI / 4.0 * (outside_mm - bore_mm) * (outside_mm + bore_mm)
}

/// Second moment of area about a diameter; `bore_mm` 0 for solid work.
#[must_use]
pub fn second_moment_mm4(outside_mm: f64, bore_mm: f64) -> f64 {
    let (outside_mm2, bore_mm2) = (outside_mm * outside_mm, bore_mm * bore_mm);
    PI / 64.0 * (outside_mm2 - bore_mm2) * (outside_mm2 + bore_mm2)
}

/// Timoshenko's shear factor of a round tube, 0.886 for solid steel and about 0.53 for a thin tube.
///
/// Source: G. R. Cowper, "The shear coefficient in Timoshenko's beam theory", J. Appl. Mech. 33 (1966) 335-340.
#[must_use]
pub fn shear_factor(poisson_ratio: f64, outside_mm: f64, bore_mm: f64) -> f64 {
    let bore_ratio = bore_mm / outside_mm;
    let bore_ratio2 = bore_ratio * bore_ratio;
    let sum2 = (1.0 + bore_ratio2) * (1.0 + bore_ratio2);
    6.0 * (1.0 + poisson_ratio) * sum2
        / ((7.0 + 6.0 * poisson_ratio) * sum2 + (20.0 + 12.0 * poisson_ratio) * bore_ratio2)
}
