//! A thin ring pressed by jaws: how far its wall goes in under them and out between them.
//!
//! The ring keeps its length and only bends; a radial load P goes into waves `P R³ / (pi E I (k² - 1)²) cos k(phi - a)`,
//! k = 2, 3, ..., whose sum is closed below. What the loads leave unbalanced is carried by shear along the wall, as in a
//! tube, and moves the ring without bending it. For n equal loads this is the ring formula of Roark and Timoshenko.
//! Source: Timoshenko, Strength of Materials II, thin rings; Roark, Formulas for Stress and Strain, circular rings (both
//! from memory; checked against the energy of the ring in the tests).
//! Limit: a wall up to about a quarter of the mean radius. A tube beyond the jaws holds the ring: this is the most it
//! can give there.

use std::f64::consts::{PI, TAU};

/// A ring cut out of a tube.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Ring {
    /// To the middle of the wall.
    pub mean_radius_mm: f64,
    pub wall_mm: f64,
    /// Along the axis: as much of the tube as is taken to carry the load.
    pub width_mm: f64,
    pub e_mpa: f64,
}

/// A load on the ring, inwards.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Load {
    pub angle_rad: f64,
    pub force_n: f64,
}

/// What n equal jaws do to a ring, as changes of its radius; both 0 or more.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Squeeze {
    /// How far the wall goes in under each jaw.
    pub in_at_jaws_mm: f64,
    /// How far it comes out half way between jaws.
    pub out_between_mm: f64,
}

impl Ring {
    /// Outside and bore of a tube, of which `width_mm` carries the load.
    #[must_use]
    pub fn of_tube(outside_mm: f64, bore_mm: f64, width_mm: f64, e_mpa: f64) -> Self {
        Self { mean_radius_mm: (outside_mm + bore_mm) / 4.0, wall_mm: (outside_mm - bore_mm) / 2.0, width_mm, e_mpa }
    }

    /// The wall is thin enough for this to be an estimate: up to a quarter of the mean radius.
    #[must_use]
    pub fn is_thin(&self) -> bool {
        self.wall_mm > 0.0 && self.wall_mm <= self.mean_radius_mm / 4.0
    }

    /// The second moment of the wall, bent round its own middle.
    #[must_use]
    pub fn i_mm4(&self) -> f64 {
        self.width_mm * self.wall_mm.powi(3) / 12.0
    }

    /// `R³ / (E I)` of the wall, in mm/N.
    fn give_mm_per_n(&self) -> f64 {
        self.mean_radius_mm.powi(3) / (self.e_mpa * self.i_mm4())
    }

    /// How far the wall at `at_rad` goes in under all `loads`; negative where it comes out.
    #[must_use]
    pub fn in_mm(&self, loads: &[Load], at_rad: f64) -> f64 {
        let sum_n: f64 = loads.iter().map(|load| load.force_n * wave(at_rad - load.angle_rad)).sum();
        self.give_mm_per_n() / PI * sum_n
    }

    /// What `n_jaws` equal loads of `force_n` all round do; at least two jaws.
    #[must_use]
    pub fn squeeze(&self, n_jaws: usize, force_n: f64) -> Squeeze {
        let apart_rad = TAU / n_jaws as f64;
        let loads: Vec<Load> = (0..n_jaws).map(|jaw| Load { angle_rad: jaw as f64 * apart_rad, force_n }).collect();
        Squeeze { in_at_jaws_mm: self.in_mm(&loads, 0.0), out_between_mm: -self.in_mm(&loads, apart_rad / 2.0) }
    }
}

/// The sum of `cos(k phi) / (k² - 1)²` over k = 2, 3, ...; a full turn brings it back.
fn wave(phi_rad: f64) -> f64 {
    let phi = phi_rad.rem_euclid(TAU);
    // The sum of cos(m phi) / m², a parabola.
    let parabola = PI * PI / 6.0 - PI * phi / 2.0 + phi * phi / 4.0;
    (2.0 * phi.cos() * parabola - 2.0 - 0.75 * phi.cos() + (PI - phi) * phi.sin()) / 4.0
}
