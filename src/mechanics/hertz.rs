//! How hard the tip of a jaw presses on round work: the narrow line of contact after Hertz, and the mean pressure of a
//! pad.
//!
//! `b = sqrt(2 F / (pi l) · [(1 - nu1²)/E1 + (1 - nu2²)/E2] / (1/d1 ± 1/d2))`, peak pressure `2 F / (pi b l)`; minus for
//! a tip bored hollow, nothing for a flat one. Source: Rao, Engineering Optimization, problem 5.5 (read); the hollow
//! tip and yield below the skin: Johnson, Contact Mechanics (1985), ch. 4 and 6 (from memory).
//! Limit: smooth, dry, elastic, without misalignment; a line much narrower than both bodies.

use std::f64::consts::PI;

/// Peak pressure at which the softer body first yields below its skin, against its yield stress (Tresca).
///
/// Source: Johnson 1985, ch. 6 (from memory); the largest shear below the skin is 0.30 of the peak, and 0.5 / 0.30 this.
pub const FIRST_YIELD_RATIO: f64 = 1.67;

/// What one of the two bodies is made of.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Body {
    pub e_mpa: f64,
    pub poisson_ratio: f64,
}

impl Body {
    /// `(1 - nu²)/E`, in 1/MPa.
    fn give_per_mpa(self) -> f64 {
        (1.0 - self.poisson_ratio * self.poisson_ratio) / self.e_mpa
    }
}

/// How the tip looks to the work, in the end view.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Face {
    Flat,
    /// Bored to a diameter, to take the work in.
    Hollow {
        diameter_mm: f64,
    },
    /// A roller.
    Round {
        diameter_mm: f64,
    },
}

/// The line on which a tip bears. Nothing pressed is a line of no width.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Line {
    /// Half the width of the line around the work.
    pub half_width_mm: f64,
    pub peak_mpa: f64,
}

impl Line {
    /// Pressure averaged over the line, `pi/4` of the peak.
    #[must_use]
    pub fn mean_mpa(&self) -> f64 {
        PI / 4.0 * self.peak_mpa
    }
}

/// The peak pressure at which a body of this yield stress first yields below its skin.
#[must_use]
pub fn first_yield_peak_mpa(yield_mpa: f64) -> f64 {
    FIRST_YIELD_RATIO * yield_mpa
}

/// The line on which `force_n` presses a tip `length_mm` wide along the work on work of `work_diameter_mm`.
///
/// `None` where there is no line to speak of, because the tip lies round the work: a tip bored to the work's diameter
/// fits all over, one bored smaller rides on its two edges until it has worn to fit. Only the mean pressure of the pad
/// is known then ([`pad_mean_mpa`]); on edges it is more.
#[must_use]
pub fn line(force_n: f64, length_mm: f64, work_diameter_mm: f64, face: Face, work: Body, tip: Body) -> Option<Line> {
    let curve_per_mm = match face {
        Face::Flat => 1.0 / work_diameter_mm,
        Face::Round { diameter_mm } => 1.0 / work_diameter_mm + 1.0 / diameter_mm,
        Face::Hollow { diameter_mm } => 1.0 / work_diameter_mm - 1.0 / diameter_mm,
    };
    // Differences of diameter below a nanometre on 10 mm are rounding.
    if curve_per_mm * work_diameter_mm <= 1e-7 {
        return None;
    }
    if force_n <= 0.0 {
        return Some(Line { half_width_mm: 0.0, peak_mpa: 0.0 });
    }
    let give_per_mpa = work.give_per_mpa() + tip.give_per_mpa();
    let half_width_mm = (2.0 * force_n / (PI * length_mm) * give_per_mpa / curve_per_mm).sqrt();
    Some(Line { half_width_mm, peak_mpa: 2.0 * force_n / (PI * half_width_mm * length_mm) })
}

/// Mean pressure of a pad over the area it covers as seen from the jaw: what pressure times speed is reckoned with. A
/// pad is never wider there than the work.
///
/// Source: the usual definition for plain bearings, force over projected area.
#[must_use]
pub fn pad_mean_mpa(force_n: f64, length_mm: f64, around_mm: f64, work_diameter_mm: f64) -> f64 {
    force_n.max(0.0) / (length_mm * around_mm.min(work_diameter_mm))
}
