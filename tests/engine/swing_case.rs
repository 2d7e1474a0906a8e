//! A bar that swings or buckles, put to the program and to whole matrices.
//!
//! The second way shares the mass at the nodes with the program and nothing else: it assembles both planes with the
//! jaws in one full matrix and finds all eigenvalues by Jacobi's rotations, or solves with complex numbers.
#![allow(clippy::needless_range_loop, reason = "a matrix is read by its indices")]

use std::f64::consts::PI;

use midspan::mechanics::beam::{Elastic, Element, Round};
use midspan::mechanics::chain::{JawSpring, Work};
use midspan::mechanics::mass::{NodeMass, element_mass};
use midspan::mechanics::walk::NodeSpring;
use midspan::mechanics::{RIGID_N_PER_MM, RIGID_NMM_PER_RAD};

use crate::dense;
use crate::random_job::Lot;

/// A round bar of lands, held and loaded at places along it.
#[derive(Clone, Debug)]
pub struct Rod {
    pub e_mpa: f64,
    pub poisson_ratio: f64,
    pub density_kg_per_m3: f64,
    /// Length, section and axial force (compression positive).
    pub lands: Vec<(f64, Round, f64)>,
    pub springs: Vec<(f64, NodeSpring)>,
    pub masses: Vec<(f64, NodeMass)>,
    /// Place, angle in degrees, stiffness.
    pub jaws: Vec<(f64, f64, f64)>,
    pub longest_mm: f64,
}

/// A rod cut into elements.
#[derive(Clone, Debug)]
pub struct Meshed {
    pub z_mm: Vec<f64>,
    pub rounds: Vec<Round>,
    pub elements: Vec<Element>,
    pub masses: Vec<[NodeMass; 2]>,
    pub node_masses: Vec<(usize, NodeMass)>,
    pub springs: Vec<(usize, NodeSpring)>,
    pub jaws: Vec<JawSpring>,
    pub material: dense::Material,
}

impl Rod {
    /// A steel bar of one diameter.
    pub fn bar(length_mm: f64, diameter_mm: f64, e_mpa: f64, density_kg_per_m3: f64) -> Self {
        Self {
            e_mpa,
            poisson_ratio: 0.3,
            density_kg_per_m3,
            lands: vec![(length_mm, Round::solid(diameter_mm), 0.0)],
            springs: vec![],
            masses: vec![],
            jaws: vec![],
            longest_mm: length_mm / 100.0,
        }
    }

    /// A bar that bends as Euler's does: a thousandth of a thousandth of its length thin, with the stiffness and the
    /// mass of a bar of this diameter.
    pub fn thin(length_mm: f64, diameter_mm: f64, e_mpa: f64, density_kg_per_m3: f64) -> Self {
        let scale = 1e-5 * length_mm / diameter_mm;
        Self::bar(length_mm, scale * diameter_mm, e_mpa / scale.powi(4), density_kg_per_m3 / scale.powi(2))
    }

    pub fn pinned(self, z_mm: f64) -> Self {
        self.sprung(z_mm, RIGID_N_PER_MM, 0.0)
    }

    pub fn clamped(self, z_mm: f64) -> Self {
        self.sprung(z_mm, RIGID_N_PER_MM, RIGID_NMM_PER_RAD)
    }

    pub fn sprung(mut self, z_mm: f64, radial_n_per_mm: f64, turning_nmm_per_rad: f64) -> Self {
        self.springs.push((z_mm, NodeSpring { radial_n_per_mm, turning_nmm_per_rad, anchor_mm: [0.0; 2] }));
        self
    }

    pub fn mass_kg(self, z_mm: f64, mass_kg: f64) -> Self {
        self.disc(z_mm, NodeMass { mass_t: mass_kg * 1e-3, ..NodeMass::default() })
    }

    pub fn disc(mut self, z_mm: f64, mass: NodeMass) -> Self {
        self.masses.push((z_mm, mass));
        self
    }

    pub fn jaw(mut self, z_mm: f64, angle_degrees: f64, k_n_per_mm: f64) -> Self {
        self.jaws.push((z_mm, angle_degrees, k_n_per_mm));
        self
    }

    pub fn thrust(mut self, thrust_n: f64) -> Self {
        for land in &mut self.lands {
            land.2 = thrust_n;
        }
        self
    }

    pub fn longest(mut self, longest_mm: f64) -> Self {
        self.longest_mm = longest_mm;
        self
    }

    pub fn length_mm(&self) -> f64 {
        self.lands.iter().map(|land| land.0).sum()
    }

    /// Cut into elements no longer than asked, nodes at everything that is held or loaded.
    pub fn mesh(&self) -> Meshed {
        let length_mm = self.length_mm();
        let mut ends_mm = vec![0.0];
        for (land_mm, ..) in &self.lands {
            ends_mm.push(ends_mm[ends_mm.len() - 1] + land_mm);
        }
        let mut fixed_mm = ends_mm.clone();
        fixed_mm.extend(self.springs.iter().map(|spring| spring.0));
        fixed_mm.extend(self.masses.iter().map(|mass| mass.0));
        fixed_mm.extend(self.jaws.iter().map(|jaw| jaw.0));
        fixed_mm.sort_by(f64::total_cmp);
        fixed_mm.dedup_by(|b, a| *b - *a < 1e-9 * length_mm);
        let mut z_mm = vec![fixed_mm[0]];
        for pair in fixed_mm.windows(2) {
            let n = ((pair[1] - pair[0]) / self.longest_mm - 1e-9).ceil().max(1.0);
            z_mm.extend((1..=n as usize).map(|i| pair[0] + (pair[1] - pair[0]) * i as f64 / n));
        }
        let elastic = Elastic::new(self.e_mpa, self.poisson_ratio, 0.0).with_density_kg_per_m3(self.density_kg_per_m3);
        let (mut rounds, mut elements, mut masses) = (vec![], vec![], vec![]);
        for pair in z_mm.windows(2) {
            let middle_mm = 0.5 * (pair[0] + pair[1]);
            let land = (0..self.lands.len()).rev().find(|i| ends_mm[*i] < middle_mm).unwrap();
            let (land_mm, whole, thrust_n) = &self.lands[land];
            let at = |z_mm: f64, ends: [f64; 2]| ends[0] + (ends[1] - ends[0]) * (z_mm - ends_mm[land]) / land_mm;
            let (outside, bore) = ([whole.outside0_mm, whole.outside1_mm], [whole.bore0_mm, whole.bore1_mm]);
            let round = if outside[0] == outside[1] && bore[0] == bore[1] {
                *whole
            } else {
                Round {
                    outside0_mm: at(pair[0], outside),
                    outside1_mm: at(pair[1], outside),
                    bore0_mm: at(pair[0], bore),
                    bore1_mm: at(pair[1], bore),
                }
            };
            rounds.push(round);
            elements.push(Element::new(pair[1] - pair[0], &round, &elastic, *thrust_n));
            masses.push(element_mass(pair[1] - pair[0], &round, &elastic));
        }
        let node = |at_mm: f64| z_mm.iter().position(|z| (z - at_mm).abs() < 1e-8 * length_mm).unwrap();
        let jaw = |&(z_mm, degrees, k_n_per_mm): &(f64, f64, f64)| {
            let (up, away) = f64::to_radians(degrees).sin_cos();
            JawSpring { node: node(z_mm), direction: [away, up], k_n_per_mm }
        };
        Meshed {
            node_masses: self.masses.iter().map(|(at_mm, mass)| (node(*at_mm), *mass)).collect(),
            springs: self.springs.iter().map(|(at_mm, spring)| (node(*at_mm), *spring)).collect(),
            jaws: self.jaws.iter().map(jaw).collect(),
            material: dense::Material {
                e_mpa: self.e_mpa,
                poisson_ratio: self.poisson_ratio,
                density_t_per_mm3: self.density_kg_per_m3 * 1e-12,
            },
            z_mm,
            rounds,
            elements,
            masses,
        }
    }

    /// A bar drawn by lot: chuck or centre, centre or nothing, up to three rests of one to four jaws, discs, thrust
    /// that changes along it and may pull.
    pub fn random(lot: &mut Lot) -> Self {
        let length_mm = lot.between(200.0, 1200.0);
        let mut rod = Self::bar(length_mm, 20.0, lot.between(7e4, 2.1e5), lot.between(2500.0, 8000.0));
        let n_lands = 1 + lot.below(4);
        let thrust_n = lot.between(0.0, 3000.0);
        rod.lands = (0..n_lands)
            .map(|_| {
                let outside0_mm = lot.between(length_mm / 50.0, length_mm / 15.0);
                let bore0_mm = if lot.chance(0.3) { lot.between(0.2, 0.7) * outside0_mm } else { 0.0 };
                let taper = if lot.chance(0.4) { lot.between(0.8, 1.25) } else { 1.0 };
                let round = Round {
                    outside0_mm,
                    outside1_mm: outside0_mm * taper,
                    bore0_mm,
                    bore1_mm: bore0_mm * if lot.chance(0.5) { taper } else { 1.0 },
                };
                (length_mm / n_lands as f64, round, thrust_n * lot.between(-0.5, 1.0))
            })
            .collect();
        rod = rod.sprung(0.0, lot.tenfold(1e4, 1e7), lot.tenfold(1e6, 1e9));
        if lot.chance(0.7) {
            rod = rod.sprung(length_mm, lot.tenfold(1e3, 1e6), 0.0);
        }
        for _ in 0..lot.below(4) {
            let z_mm = length_mm * lot.between(0.1, 0.95);
            let (turned, k) = (lot.between(0.0, 360.0), lot.tenfold(1e3, 1e6));
            let n_jaws = 1 + lot.below(4);
            for jaw in 0..n_jaws {
                let alike = if lot.chance(0.5) { 1.0 } else { lot.between(0.3, 2.0) };
                rod = rod.jaw(z_mm, turned + 360.0 * jaw as f64 / n_jaws as f64, k * alike);
            }
        }
        if lot.chance(0.4) {
            let disc = NodeMass::disc(lot.between(5.0, 40.0), lot.between(50.0, 150.0), 20.0, 7800.0);
            rod = rod.disc(length_mm * lot.between(0.2, 1.0), disc);
        }
        rod.longest(length_mm / 8.0)
    }
}

/// Row-major square matrix.
#[derive(Clone)]
pub struct Square {
    pub n: usize,
    pub at: Vec<f64>,
}

impl Square {
    fn zero(n: usize) -> Self {
        Self { n, at: vec![0.0; n * n] }
    }

    fn add(&mut self, i: usize, j: usize, value: f64) {
        self.at[i * self.n + j] += value;
    }

    /// `L` of `L Lᵀ`.
    fn cholesky(&self) -> Option<Self> {
        let n = self.n;
        let mut lower = Self::zero(n);
        for i in 0..n {
            for j in 0..=i {
                let done: f64 = (0..j).map(|k| lower.at[i * n + k] * lower.at[j * n + k]).sum();
                let rest = self.at[i * n + j] - done;
                if i == j {
                    if rest <= 0.0 {
                        return None;
                    }
                    lower.at[i * n + i] = rest.sqrt();
                } else {
                    lower.at[i * n + j] = rest / lower.at[j * n + j];
                }
            }
        }
        Some(lower)
    }

    /// Eigenvalues falling, each with its vector, by Jacobi's rotations.
    fn eigen(mut self) -> Vec<(f64, Vec<f64>)> {
        let n = self.n;
        let mut v = Self::zero(n);
        for i in 0..n {
            v.at[i * n + i] = 1.0;
        }
        let size: f64 = self.at.iter().map(|a| a * a).sum::<f64>().sqrt();
        for _ in 0..50 {
            let mut turned = false;
            for p in 0..n {
                for q in p + 1..n {
                    let off = self.at[p * n + q];
                    if off.abs() < 1e-17 * size {
                        continue;
                    }
                    turned = true;
                    let angle = 0.5 * (2.0 * off).atan2(self.at[q * n + q] - self.at[p * n + p]);
                    let (s, c) = angle.sin_cos();
                    for k in 0..n {
                        let (a, b) = (self.at[k * n + p], self.at[k * n + q]);
                        (self.at[k * n + p], self.at[k * n + q]) = (c * a - s * b, s * a + c * b);
                        let (a, b) = (v.at[k * n + p], v.at[k * n + q]);
                        (v.at[k * n + p], v.at[k * n + q]) = (c * a - s * b, s * a + c * b);
                    }
                    for k in 0..n {
                        let (a, b) = (self.at[p * n + k], self.at[q * n + k]);
                        (self.at[p * n + k], self.at[q * n + k]) = (c * a - s * b, s * a + c * b);
                    }
                }
            }
            if !turned {
                break;
            }
        }
        let mut pairs: Vec<(f64, Vec<f64>)> =
            (0..n).map(|j| (self.at[j * n + j], (0..n).map(|i| v.at[i * n + j]).collect())).collect();
        pairs.sort_by(|a, b| b.0.total_cmp(&a.0));
        pairs
    }
}

/// Full matrices of a meshed rod, four unknowns a node: x, slope x, y, slope y.
pub struct Matrices {
    /// Elements, springs and jaws.
    pub stiffness: Square,
    /// What the axial force takes off.
    pub axial: Square,
    pub mass: Square,
}

impl Meshed {
    pub fn work(&self) -> Work<'_> {
        Work {
            elements: &self.elements,
            masses: &self.masses,
            node_masses: &self.node_masses,
            springs: &self.springs,
            jaws: &self.jaws,
        }
    }

    /// This bar on the headstock side of a node, the other behind it.
    pub fn joined(&self, back: &Self, node: usize) -> Self {
        let mut joined = self.clone();
        joined.rounds[node..].copy_from_slice(&back.rounds[node..]);
        joined.elements[node..].copy_from_slice(&back.elements[node..]);
        joined.masses[node..].copy_from_slice(&back.masses[node..]);
        joined
    }

    pub fn matrices(&self) -> Matrices {
        let n = 4 * self.z_mm.len();
        let (mut stiffness, mut axial, mut mass) = (Square::zero(n), Square::zero(n), Square::zero(n));
        for (left, (round, element)) in self.rounds.iter().zip(&self.elements).enumerate() {
            let length_mm = self.z_mm[left + 1] - self.z_mm[left];
            let plain = dense::Element {
                length_mm,
                outside_left_mm: round.outside0_mm,
                outside_right_mm: round.outside1_mm,
                bore_left_mm: round.bore0_mm,
                bore_right_mm: round.bore1_mm,
                thrust_n: 0.0,
            };
            let entries = plain.stiffness(&self.material);
            for plane in [0, 2] {
                let at = [4 * left + plane, 4 * left + plane + 1, 4 * left + 4 + plane, 4 * left + 5 + plane];
                for i in 0..4 {
                    for j in 0..4 {
                        stiffness.add(at[i], at[j], entries[i][j].to_f64());
                    }
                }
                for (end, turn) in [at[1], at[3]].into_iter().enumerate() {
                    axial.add(turn, turn, 0.5 * element.axial_n() * length_mm);
                    put_mass(&mut mass, at[2 * end], &self.masses[left][end]);
                }
            }
        }
        for (node, spring) in &self.springs {
            for plane in [0, 2] {
                stiffness.add(4 * node + plane, 4 * node + plane, spring.radial_n_per_mm);
                stiffness.add(4 * node + plane + 1, 4 * node + plane + 1, spring.turning_nmm_per_rad);
            }
        }
        for (node, point) in &self.node_masses {
            for plane in [0, 2] {
                put_mass(&mut mass, 4 * node + plane, point);
            }
        }
        for jaw in &self.jaws {
            for i in 0..2 {
                for j in 0..2 {
                    let value = jaw.k_n_per_mm * jaw.direction[i] * jaw.direction[j];
                    stiffness.add(4 * jaw.node + 2 * i, 4 * jaw.node + 2 * j, value);
                }
            }
        }
        Matrices { stiffness, axial, mass }
    }
}

fn put_mass(mass: &mut Square, at: usize, point: &NodeMass) {
    mass.add(at, at, point.mass_t);
    mass.add(at, at + 1, point.first_t_mm);
    mass.add(at + 1, at, point.first_t_mm);
    mass.add(at + 1, at + 1, point.rotary_t_mm2);
}

impl Matrices {
    /// Positive eigenvalues `μ` of `B v = μ A v`, falling, with vectors: through `L⁻¹ B L⁻ᵀ`, `A = L Lᵀ`.
    fn largest(a: &Square, b: &Square) -> Option<Vec<(f64, Vec<f64>)>> {
        let n = a.n;
        let lower = a.cholesky()?;
        let forward = |column: &mut Vec<f64>| {
            for i in 0..n {
                let done: f64 = (0..i).map(|k| lower.at[i * n + k] * column[k]).sum();
                column[i] = (column[i] - done) / lower.at[i * n + i];
            }
        };
        let mut half = Square::zero(n);
        for j in 0..n {
            let mut column: Vec<f64> = (0..n).map(|i| b.at[i * n + j]).collect();
            forward(&mut column);
            (0..n).for_each(|i| half.at[i * n + j] = column[i]);
        }
        let mut both = Square::zero(n);
        for i in 0..n {
            let mut row: Vec<f64> = half.at[i * n..(i + 1) * n].to_vec();
            forward(&mut row);
            (0..n).for_each(|j| both.at[i * n + j] = row[j]);
        }
        for i in 0..n {
            for j in 0..i {
                let mean = 0.5 * (both.at[i * n + j] + both.at[j * n + i]);
                (both.at[i * n + j], both.at[j * n + i]) = (mean, mean);
            }
        }
        let mut pairs = both.eigen();
        pairs.retain(|pair| pair.0 > 0.0);
        for (_, v) in &mut pairs {
            for i in (0..n).rev() {
                let done: f64 = (i + 1..n).map(|k| lower.at[k * n + i] * v[k]).sum();
                v[i] = (v[i] - done) / lower.at[i * n + i];
            }
        }
        Some(pairs)
    }

    /// Natural frequencies rising (Hz), with shapes (x, y at each node); nothing where the work is not held.
    pub fn swings(&self) -> Option<Vec<(f64, Vec<[f64; 2]>)>> {
        let mut held = self.stiffness.clone();
        for (held, axial) in held.at.iter_mut().zip(&self.axial.at) {
            *held -= axial;
        }
        let shape = |v: Vec<f64>| v.chunks(4).map(|w| [w[0], w[2]]).collect();
        let pairs = Self::largest(&held, &self.mass)?;
        Some(pairs.into_iter().map(|(mu, v)| (1.0 / (2.0 * PI * mu.sqrt()), shape(v))).collect())
    }

    /// The factor on the axial force at which the work buckles.
    pub fn critical_factor(&self) -> Option<f64> {
        Self::largest(&self.stiffness, &self.axial)?.first().map(|pair| 1.0 / pair.0)
    }

    /// Moves under unit loads at a node, as columns force x, force y, moment x; each (re, im) of the node's x, slope x,
    /// y: `((1 + iη) K - P - ω² M) u = f` by Gauss with pivoting.
    pub fn receptance(&self, node: usize, frequency_hz: f64, loss_ratio: f64) -> [[(f64, f64); 3]; 3] {
        let n = self.stiffness.n;
        let omega2 = (2.0 * PI * frequency_hz).powi(2);
        let mut a: Vec<(f64, f64)> = (0..n * n)
            .map(|at| {
                let k = self.stiffness.at[at];
                (k - self.axial.at[at] - omega2 * self.mass.at[at], loss_ratio * k)
            })
            .collect();
        let loaded = [4 * node, 4 * node + 2, 4 * node + 1];
        let mut b = vec![[(0.0, 0.0); 3]; n];
        for (column, at) in loaded.into_iter().enumerate() {
            b[at][column] = (1.0, 0.0);
        }
        let minus = |x: (f64, f64), y: (f64, f64), z: (f64, f64)| {
            (x.0 - (y.0 * z.0 - y.1 * z.1), x.1 - (y.0 * z.1 + y.1 * z.0))
        };
        let over = |x: (f64, f64), y: (f64, f64)| {
            let size = y.0 * y.0 + y.1 * y.1;
            ((x.0 * y.0 + x.1 * y.1) / size, (x.1 * y.0 - x.0 * y.1) / size)
        };
        for column in 0..n {
            let size = |i: &usize| a[i * n + column].0.hypot(a[i * n + column].1);
            let pivot = (column..n).max_by(|i, j| size(i).total_cmp(&size(j))).unwrap();
            for k in 0..n {
                a.swap(column * n + k, pivot * n + k);
            }
            b.swap(column, pivot);
            for i in column + 1..n {
                if a[i * n + column] == (0.0, 0.0) {
                    continue;
                }
                let share = over(a[i * n + column], a[column * n + column]);
                for k in column..n {
                    a[i * n + k] = minus(a[i * n + k], share, a[column * n + k]);
                }
                for side in 0..3 {
                    b[i][side] = minus(b[i][side], share, b[column][side]);
                }
            }
        }
        for i in (0..n).rev() {
            for side in 0..3 {
                for k in i + 1..n {
                    b[i][side] = minus(b[i][side], a[i * n + k], b[k][side]);
                }
                b[i][side] = over(b[i][side], a[i * n + i]);
            }
        }
        [b[4 * node], b[4 * node + 1], b[4 * node + 2]]
    }
}
