//! The work as a chain of Timoshenko elements in two planes, its springs and its weight, as one matrix.
//!
//! An element is given by its flexibility when clamped at its left end, x counted from the free right end:
//! f11 = ∫ (x²/EI + 1/κGA) dx, f12 = ∫ x/EI dx, f22 = ∫ 1/EI dx, by the three-point Gauss rule; its stiffness is
//! `f⁻¹` carried to both ends by the rigid transport `[[1, h], [0, 1]]`.
//!
//! Source of κ: G. R. Cowper, "The shear coefficient in Timoshenko's beam theory", J. Appl. Mech. 33 (1966) 335-340
//! (from memory; the solid-section value is also in Gere and Timoshenko's discussion of the form factor).

use super::band::{Band, Factors};
use super::wide::Wide;

/// Standard gravity (mm/s²).
const GRAVITY_MM_PER_S2: f64 = 9806.65;

/// The two planes of bending: x away from the operator, y up.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Plane {
    X,
    Y,
}

/// What moves: the axis sideways, or the section's slope in that plane.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Dof {
    Shift,
    Turn,
}

/// Place of an unknown in the vector of all.
pub fn index(node: usize, plane: Plane, dof: Dof) -> usize {
    4 * node + if plane == Plane::Y { 2 } else { 0 } + usize::from(dof == Dof::Turn)
}

#[derive(Clone, Copy, Debug)]
pub struct Material {
    pub e_mpa: f64,
    pub poisson_ratio: f64,
    /// 7.85e-9 for steel.
    pub density_t_per_mm3: f64,
}

/// A piece of work between two nodes; diameters run straight between its ends.
#[derive(Clone, Copy, Debug)]
pub struct Element {
    pub length_mm: f64,
    pub outside_left_mm: f64,
    pub outside_right_mm: f64,
    pub bore_left_mm: f64,
    pub bore_right_mm: f64,
    /// Axial force, positive when it presses the element together.
    pub thrust_n: f64,
}

/// A spring to a fixed point at `anchor` (mm or rad); k in N/mm or N·mm/rad.
#[derive(Clone, Copy, Debug)]
pub struct Spring {
    pub node: usize,
    pub plane: Plane,
    pub dof: Dof,
    pub k: f64,
    pub anchor: f64,
}

/// A force (N) or couple (N·mm) on a node.
#[derive(Clone, Copy, Debug)]
pub struct Load {
    pub node: usize,
    pub plane: Plane,
    pub dof: Dof,
    pub value: f64,
}

/// The work with what holds and loads it, but for one-sided jaws and the cut.
#[derive(Clone, Debug)]
pub struct Beam {
    pub material: Material,
    pub elements: Vec<Element>,
    pub springs: Vec<Spring>,
    pub loads: Vec<Load>,
    /// Self weight acts, in the direction of -y.
    pub weighs: bool,
}

/// Matrix and right side of a beam.
#[derive(Clone)]
pub struct System {
    pub matrix: Band,
    pub right_side: Vec<Wide>,
}

/// Places (in -1..1) and weights of the three-point rule.
const GAUSS: [(f64, f64); 3] =
    [(-0.774_596_669_241_483_4, 5.0 / 9.0), (0.0, 8.0 / 9.0), (0.774_596_669_241_483_4, 5.0 / 9.0)];

/// Shear coefficient of a round section with bore over outside diameter `bore_ratio`.
pub fn cowper(poisson_ratio: f64, bore_ratio: f64) -> f64 {
    let m2 = bore_ratio * bore_ratio;
    let sum2 = (1.0 + m2) * (1.0 + m2);
    6.0 * (1.0 + poisson_ratio) * sum2 / ((7.0 + 6.0 * poisson_ratio) * sum2 + (20.0 + 12.0 * poisson_ratio) * m2)
}

impl Element {
    /// A solid or hollow round bar.
    pub fn uniform(length_mm: f64, outside_mm: f64, bore_mm: f64) -> Self {
        Self {
            length_mm,
            outside_left_mm: outside_mm,
            outside_right_mm: outside_mm,
            bore_left_mm: bore_mm,
            bore_right_mm: bore_mm,
            thrust_n: 0.0,
        }
    }

    /// Outside and bore diameter at a share of the length from the left.
    fn diameters_mm(&self, share: f64) -> (f64, f64) {
        let between = |left: f64, right: f64| left + (right - left) * share;
        (between(self.outside_left_mm, self.outside_right_mm), between(self.bore_left_mm, self.bore_right_mm))
    }

    /// Flexibility of the right end with the left one clamped: f11, f12, f22.
    fn flexibility(&self, material: &Material) -> [f64; 3] {
        let shear_mpa = material.e_mpa / (2.0 * (1.0 + material.poisson_ratio));
        let mut f = [0.0; 3];
        for (place, weight) in GAUSS {
            let share = 0.5 * (1.0 + place);
            let x_mm = self.length_mm * (1.0 - share);
            let (outside_mm, bore_mm) = self.diameters_mm(share);
            let pi = std::f64::consts::PI;
            let bending = material.e_mpa * pi / 64.0 * (outside_mm.powi(4) - bore_mm.powi(4));
            let area_mm2 = pi / 4.0 * (outside_mm.powi(2) - bore_mm.powi(2));
            let shear = cowper(material.poisson_ratio, bore_mm / outside_mm) * shear_mpa * area_mm2;
            let dx = 0.5 * self.length_mm * weight;
            f[0] += dx * (x_mm * x_mm / bending + 1.0 / shear);
            f[1] += dx * x_mm / bending;
            f[2] += dx / bending;
        }
        f
    }

    /// Stiffness over (left shift, left turn, right shift, right turn).
    pub fn stiffness(&self, material: &Material) -> [[Wide; 4]; 4] {
        let [f11, f12, f22] = self.flexibility(material).map(Wide::from);
        let det = f11 * f22 - f12 * f12;
        let k = [[f22 / det, -f12 / det], [-f12 / det, f11 / det]];
        // Movement of the right end against the left one carried rigidly: w2 - R·w1 = T·(w1, w2).
        let (one, zero, h) = (Wide::ONE, Wide::ZERO, Wide::from(self.length_mm));
        let t = [[-one, -h, one, zero], [zero, -one, zero, one]];
        let mut stiffness = [[zero; 4]; 4];
        for (i, row) in stiffness.iter_mut().enumerate() {
            for (j, entry) in row.iter_mut().enumerate() {
                for a in 0..2 {
                    for b in 0..2 {
                        *entry += t[a][i] * k[a][b] * t[b][j];
                    }
                }
            }
        }
        stiffness
    }

    /// Weight of a millimetre, from the mean area.
    fn weight_n_per_mm(&self, material: &Material) -> f64 {
        let mean_area_mm2: f64 = GAUSS
            .iter()
            .map(|&(place, weight)| {
                let (outside_mm, bore_mm) = self.diameters_mm(0.5 * (1.0 + place));
                0.5 * weight * std::f64::consts::PI / 4.0 * (outside_mm.powi(2) - bore_mm.powi(2))
            })
            .sum();
        material.density_t_per_mm3 * GRAVITY_MM_PER_S2 * mean_area_mm2
    }
}

/// Loads that an even load of `q_n_per_mm` on an element puts on its ends, in the direction of the plane's axis.
pub fn even_load(left_node: usize, plane: Plane, length_mm: f64, q_n_per_mm: f64) -> [Load; 4] {
    let force = 0.5 * q_n_per_mm * length_mm;
    let couple = q_n_per_mm * length_mm * length_mm / 12.0;
    [
        Load { node: left_node, plane, dof: Dof::Shift, value: force },
        Load { node: left_node, plane, dof: Dof::Turn, value: couple },
        Load { node: left_node + 1, plane, dof: Dof::Shift, value: force },
        Load { node: left_node + 1, plane, dof: Dof::Turn, value: -couple },
    ]
}

impl Beam {
    pub fn n_nodes(&self) -> usize {
        self.elements.len() + 1
    }

    /// The weight of every element as loads on its ends.
    pub fn weight_loads(&self) -> Vec<Load> {
        let pairs = self.elements.iter().enumerate();
        pairs
            .flat_map(|(left, element)| {
                even_load(left, Plane::Y, element.length_mm, -element.weight_n_per_mm(&self.material))
            })
            .collect()
    }

    /// Everything assembled.
    pub fn system(&self) -> System {
        let size = 4 * self.n_nodes();
        let mut system = System { matrix: Band::zero(size), right_side: vec![Wide::ZERO; size] };
        for (left, element) in self.elements.iter().enumerate() {
            let stiffness = element.stiffness(&self.material);
            for plane in [Plane::X, Plane::Y] {
                let at = [
                    index(left, plane, Dof::Shift),
                    index(left, plane, Dof::Turn),
                    index(left + 1, plane, Dof::Shift),
                    index(left + 1, plane, Dof::Turn),
                ];
                for i in 0..4 {
                    for j in 0..4 {
                        system.matrix.add(at[i], at[j], stiffness[i][j]);
                    }
                }
                let tilt = Wide::from(-0.5 * element.thrust_n * element.length_mm);
                system.matrix.add(at[1], at[1], tilt);
                system.matrix.add(at[3], at[3], tilt);
            }
        }
        for spring in &self.springs {
            let at = index(spring.node, spring.plane, spring.dof);
            system.matrix.add(at, at, Wide::from(spring.k));
            system.right_side[at] += Wide::from(spring.k) * Wide::from(spring.anchor);
        }
        let weight = if self.weighs { self.weight_loads() } else { Vec::new() };
        for load in weight.iter().chain(&self.loads) {
            system.add_load(*load);
        }
        system
    }

    /// Shift and turn of every node, `[x, slope x, y, slope y]`, without jaws; nothing where the work is not held.
    pub fn shape(&self) -> Option<Vec<[f64; 4]>> {
        let system = self.system();
        Some(as_shape(&system.matrix.factors()?.solve(&system.right_side)))
    }
}

impl System {
    pub fn add_load(&mut self, load: Load) {
        self.right_side[index(load.node, load.plane, load.dof)] += Wide::from(load.value);
    }

    pub fn solve(&self, factors: &Factors) -> Vec<Wide> {
        factors.solve(&self.right_side)
    }
}

/// The vector of unknowns, node by node.
pub fn as_shape(unknowns: &[Wide]) -> Vec<[f64; 4]> {
    unknowns.chunks_exact(4).map(|node| [0, 1, 2, 3].map(|i| node[i].to_f64())).collect()
}
