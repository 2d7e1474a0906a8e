//! What a bar weighs in motion: the mass of each element put to its two nodes.
//!
//! `∫ ρA u² dz` over an element is taken by the trapezoidal rule with its end correction,
//! `h/2 (f₀ + f₁) + h²/12 (f₀' - f₁')` with `f = ρA u²` and `u' = θ`. So a node gets a mass, a first moment that couples
//! its shift and its turn, and the rotary inertia `ρI` of its half: a 2 x 2 block, and the walk keeps its form. Inside an
//! even bar the first moments of neighbours cancel. Frequencies then err by the fourth power of the element's length, and
//! by the square in that share of them that shear and rotary inertia make (little in slender work).
//! Source: the Euler-Maclaurin formula, any text on numerical integration.
//!
//! Known limit: on elements longer than 1.5 diameters the block at a free end is no longer positive; frequencies stay
//! right, because what is counted is where stiffness is lost ([`super::count`]).

use std::f64::consts::PI;
use std::ops::AddAssign;

use super::beam::{Elastic, Round};

/// Inertia at a node: `½ (mass·u̇² + 2·first·u̇·θ̇ + rotary·θ̇²)`, in each plane.
#[derive(Clone, Copy, Debug, PartialEq, Default)]
pub struct NodeMass {
    pub mass_t: f64,
    /// Mass times its distance towards the tailstock.
    pub first_t_mm: f64,
    /// About a diameter.
    pub rotary_t_mm2: f64,
}

impl AddAssign for NodeMass {
    fn add_assign(&mut self, other: Self) {
        self.mass_t += other.mass_t;
        self.first_t_mm += other.first_t_mm;
        self.rotary_t_mm2 += other.rotary_t_mm2;
    }
}

impl NodeMass {
    /// A round disc on the work, its middle at the node: `m (3 (R² + r²) + w²)/12` about a diameter.
    #[must_use]
    pub fn disc(width_mm: f64, outside_mm: f64, bore_mm: f64, density_kg_per_m3: f64) -> Self {
        let (outside2, bore2) = (outside_mm * outside_mm, bore_mm * bore_mm);
        let mass_t = PI / 4.0 * (outside2 - bore2) * width_mm * density_kg_per_m3 * 1e-12;
        let rotary_t_mm2 = mass_t * (0.75 * (outside2 + bore2) + width_mm * width_mm) / 12.0;
        Self { mass_t, first_t_mm: 0.0, rotary_t_mm2 }
    }
}

/// The mass of an element at its headstock-side and its tailstock-side node.
#[must_use]
pub fn element_mass(length_mm: f64, round: &Round, elastic: &Elastic) -> [NodeMass; 2] {
    let density_t_per_mm3 = elastic.density_t_per_mm3();
    let end = |outside_mm: f64, bore_mm: f64, outside_slope: f64, bore_slope: f64, ahead: f64| {
        let (outside2, bore2) = (outside_mm * outside_mm, bore_mm * bore_mm);
        let area_mm2 = PI / 4.0 * (outside2 - bore2);
        let inertia_mm4 = PI / 64.0 * (outside2 * outside2 - bore2 * bore2);
        let area_slope = PI / 2.0 * (outside_mm * outside_slope - bore_mm * bore_slope);
        let inertia_slope = PI / 16.0 * (outside2 * outside_mm * outside_slope - bore2 * bore_mm * bore_slope);
        let (half, twelfth) = (density_t_per_mm3 * length_mm / 2.0, density_t_per_mm3 * length_mm * length_mm / 12.0);
        NodeMass {
            mass_t: half * area_mm2 + ahead * twelfth * area_slope,
            first_t_mm: ahead * twelfth * area_mm2,
            rotary_t_mm2: half * inertia_mm4 + ahead * twelfth * inertia_slope,
        }
    };
    let outside_slope = (round.outside1_mm - round.outside0_mm) / length_mm;
    let bore_slope = (round.bore1_mm - round.bore0_mm) / length_mm;
    [
        end(round.outside0_mm, round.bore0_mm, outside_slope, bore_slope, 1.0),
        end(round.outside1_mm, round.bore1_mm, outside_slope, bore_slope, -1.0),
    ]
}
