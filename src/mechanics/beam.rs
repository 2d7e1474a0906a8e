//! One element of a round bar: how much it gives, what it weighs, and what crossing it means to a walk.
//!
//! An element clamped at one end and loaded at the other by a force and a moment gives by the flexibility
//! `f = ∫ [ x²/EI + 1/κGA, x/EI ; x/EI, 1/EI ] dx` with x the signed distance from the point to the loaded end
//! (Timoshenko beam). Cylinders are exact; tapers use three Gauss points, which is exact to 1e-9 where the diameter
//! changes by a tenth along the element. Self weight goes to the ends as a uniform element would send it.
//!
//! Known limit: the axial force enters as a turning spring at the ends, with an error that falls as the square of the
//! element's length.

use std::f64::consts::PI;

use super::GRAVITY_N_PER_KG;

/// What the material of a beam must say.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Elastic {
    one_by_e: f64,
    poisson_ratio: f64,
    weight_n_per_mm3: f64,
    density_t_per_mm3: f64,
}

impl Elastic {
    /// A material by Young's modulus, Poisson's ratio and weight per volume (N/mm³, 0 to leave weight out). Its mass is
    /// that of the weight.
    #[must_use]
    pub fn new(e_mpa: f64, poisson_ratio: f64, weight_n_per_mm3: f64) -> Self {
        let density_t_per_mm3 = weight_n_per_mm3 / (1e3 * GRAVITY_N_PER_KG);
        Self { one_by_e: 1.0 / e_mpa, poisson_ratio, weight_n_per_mm3, density_t_per_mm3 }
    }

    /// The same with another mass, whatever it weighs.
    #[must_use]
    pub fn with_density_kg_per_m3(self, density_kg_per_m3: f64) -> Self {
        Self { density_t_per_mm3: density_kg_per_m3 * 1e-12, ..self }
    }

    /// Mass per volume.
    #[must_use]
    pub fn density_t_per_mm3(&self) -> f64 {
        self.density_t_per_mm3
    }
}

/// Diameters of an element at its headstock-side end (`0`) and tailstock-side end (`1`).
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Round {
    pub outside0_mm: f64,
    pub outside1_mm: f64,
    pub bore0_mm: f64,
    pub bore1_mm: f64,
}

impl Round {
    /// A solid cylinder.
    #[must_use]
    pub const fn solid(outside_mm: f64) -> Self {
        Self { outside0_mm: outside_mm, outside1_mm: outside_mm, bore0_mm: 0.0, bore1_mm: 0.0 }
    }
}

/// One element, seen from neither side.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Element {
    pub length_mm: f64,
    /// `∫ 1/EI`.
    bend: f64,
    /// `∫ x/EI`, x from the headstock-side end.
    bend_x: f64,
    /// `∫ x²/EI`.
    bend_xx: f64,
    /// `∫ 1/κGA`.
    shear: f64,
    /// Whole weight.
    weight_n: f64,
    /// Axial force, positive in compression.
    axial_n: f64,
}

/// What a mm of the bar gives and weighs.
struct SectionGive {
    /// `1/EI`.
    bend: f64,
    /// `1/κGA`.
    shear: f64,
    weight_n_per_mm: f64,
}

impl SectionGive {
    /// With `p = D² + d²` and `q = D² - d²`: `I = π p q/64`, `A = π q/4`, and Cowper's factor is
    /// `1/κ = ((7 + 6ν) + (20 + 12ν) D² d²/p²)/(6 (1 + ν))`; one division serves all three.
    ///
    /// Source: G. R. Cowper, "The shear coefficient in Timoshenko's beam theory", J. Appl. Mech. 33 (1966) 335-340.
    fn of(outside_mm: f64, bore_mm: f64, elastic: &Elastic) -> Self {
        let (outside2, bore2) = (outside_mm * outside_mm, bore_mm * bore_mm);
        let (p, q) = (outside2 + bore2, outside2 - bore2);
        let reciprocal = 1.0 / (p * q);
        let (one_by_p, one_by_q) = (q * reciprocal, p * reciprocal);
        let nu = elastic.poisson_ratio;
        // 1/(κ G) = (...)/(6 (1 + ν)) · 2 (1 + ν)/E.
        let one_by_shear_modulus =
            ((7.0 + 6.0 * nu) + (20.0 + 12.0 * nu) * outside2 * bore2 * one_by_p * one_by_p) / 3.0 * elastic.one_by_e;
        Self {
            bend: 64.0 / PI * elastic.one_by_e * reciprocal,
            shear: 4.0 / PI * one_by_q * one_by_shear_modulus,
            weight_n_per_mm: PI / 4.0 * q * elastic.weight_n_per_mm3,
        }
    }
}

/// Points and weights of the three-point Gauss-Legendre rule on 0..1.
const GAUSS: [(f64, f64); 3] =
    [(0.112_701_665_379_258_31, 5.0 / 18.0), (0.5, 8.0 / 18.0), (0.887_298_334_620_741_7, 5.0 / 18.0)];

impl Element {
    /// The element between two nodes.
    #[must_use]
    pub fn new(length_mm: f64, round: &Round, elastic: &Elastic, axial_n: f64) -> Self {
        let mut element = Self { length_mm, bend: 0.0, bend_x: 0.0, bend_xx: 0.0, shear: 0.0, weight_n: 0.0, axial_n };
        if round.outside0_mm == round.outside1_mm && round.bore0_mm == round.bore1_mm {
            let give = SectionGive::of(round.outside0_mm, round.bore0_mm, elastic);
            element.bend = length_mm * give.bend;
            element.bend_x = element.bend * length_mm / 2.0;
            element.bend_xx = element.bend * length_mm * length_mm / 3.0;
            element.shear = length_mm * give.shear;
            element.weight_n = length_mm * give.weight_n_per_mm;
            return element;
        }
        for (at, share) in GAUSS {
            let outside_mm = round.outside0_mm + (round.outside1_mm - round.outside0_mm) * at;
            let bore_mm = round.bore0_mm + (round.bore1_mm - round.bore0_mm) * at;
            let give = SectionGive::of(outside_mm, bore_mm, elastic);
            let (x_mm, part_mm) = (at * length_mm, share * length_mm);
            element.bend += part_mm * give.bend;
            element.bend_x += part_mm * give.bend * x_mm;
            element.bend_xx += part_mm * give.bend * x_mm * x_mm;
            element.shear += part_mm * give.shear;
            element.weight_n += part_mm * give.weight_n_per_mm;
        }
        element
    }

    /// What the axial force takes off the turning stiffness at each end (N·mm/rad).
    #[must_use]
    pub fn axial_turn_nmm_per_rad(&self) -> f64 {
        self.axial_n * self.length_mm / 2.0
    }

    /// Axial force, positive in compression.
    #[must_use]
    pub fn axial_n(&self) -> f64 {
        self.axial_n
    }

    /// The element crossed towards the tailstock.
    #[must_use]
    pub fn towards_tailstock(&self) -> Crossing {
        let (length, bend) = (self.length_mm, self.bend);
        let (end_force_n, end_moment_nmm) = (-self.weight_n / 2.0, self.weight_n * length / 12.0);
        Crossing {
            step_mm: length,
            f11: self.bend_xx - 2.0 * length * self.bend_x + length * length * bend + self.shear,
            f12: length * bend - self.bend_x,
            f22: bend,
            axial_turn: self.axial_turn_nmm_per_rad(),
            start_load: [[0.0; 2], [end_force_n, -end_moment_nmm]],
            end_load: [[0.0; 2], [end_force_n, end_moment_nmm]],
        }
    }

    /// The element crossed towards the headstock.
    #[must_use]
    pub fn towards_headstock(&self) -> Crossing {
        let (end_force_n, end_moment_nmm) = (-self.weight_n / 2.0, self.weight_n * self.length_mm / 12.0);
        Crossing {
            step_mm: -self.length_mm,
            f11: self.bend_xx + self.shear,
            f12: -self.bend_x,
            f22: self.bend,
            axial_turn: self.axial_turn_nmm_per_rad(),
            start_load: [[0.0; 2], [end_force_n, end_moment_nmm]],
            end_load: [[0.0; 2], [end_force_n, -end_moment_nmm]],
        }
    }
}

/// An element as a walk meets it: from its start to its end, whichever way that is.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Crossing {
    /// From start to end along z; negative towards the headstock.
    pub step_mm: f64,
    /// Flexibility of the end with the start clamped.
    pub f11: f64,
    pub f12: f64,
    pub f22: f64,
    /// What the axial force takes off the turning stiffness at each end (N·mm/rad).
    pub axial_turn: f64,
    /// What the element sends to the start node, its weight: force (N) and moment (N·mm) in the horizontal and the vertical
    /// plane.
    pub start_load: [[f64; 2]; 2],
    /// The same for the end node.
    pub end_load: [[f64; 2]; 2],
}
