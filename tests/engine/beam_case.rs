//! A textbook beam problem in one plane, and the two solvers it is put to: the plain one of the tests and the
//! program's own.
//!
//! Loads and movements are positive in the same direction; a turn is the slope's change along z. Any consistent units
//! will do, so textbook figures can stand as printed; names say mm and N as everywhere.

use midspan::mechanics::beam::{self, Elastic, Round};
use midspan::mechanics::contact::{self, Touching};
use midspan::mechanics::deflection::bent_line;
use midspan::mechanics::walk::{NodeLoad, NodeSpring};

use crate::dense::beam::even_load;
use crate::dense::{Beam, Dof, Element, Jaw, Load, Material, Plane, Spring, solve};

/// What the program takes for rigid; stiffer still, and a reaction read off the spring would be rounding.
pub const RIGID_N_PER_MM: f64 = 1e12;
pub const RIGID_NMM_PER_RAD: f64 = 1e15;

/// What holds the beam at one place, both ways.
#[derive(Clone, Copy, Debug)]
pub struct Support {
    pub z_mm: f64,
    pub shift_k_n_per_mm: f64,
    /// 0 for a hinge.
    pub turn_k_nmm_per_rad: f64,
}

/// What pushes against the load from one side, once its gap is closed.
#[derive(Clone, Copy, Debug)]
pub struct Prop {
    pub z_mm: f64,
    pub gap_mm: f64,
    pub k_n_per_mm: f64,
}

/// A straight bar of solid round lengths.
#[derive(Clone, Debug)]
pub struct Case {
    pub e_mpa: f64,
    pub poisson_ratio: f64,
    /// Length and diameter, from z = 0 on.
    pub lands: Vec<(f64, f64)>,
    pub supports: Vec<Support>,
    pub props: Vec<Prop>,
    /// Place and force.
    pub pushes: Vec<(f64, f64)>,
    /// Place and couple.
    pub couples: Vec<(f64, f64)>,
    /// From, to, load per length.
    pub evens: Vec<(f64, f64, f64)>,
    /// Places that will be asked for.
    pub watched_mm: Vec<f64>,
}

/// A solved case.
#[derive(Clone, Debug)]
pub struct Solved {
    pub z_mm: Vec<f64>,
    pub shift_mm: Vec<f64>,
    pub turn_rad: Vec<f64>,
    /// What each support carries, positive in the direction of the loads.
    pub carried_n: Vec<f64>,
    /// Couple each support carries.
    pub carried_nmm: Vec<f64>,
    /// What each prop carries, 0 or more.
    pub propped_n: Vec<f64>,
}

/// A chain of nodes with the loads on them: what both solvers are given.
#[derive(Clone, Debug)]
pub struct Chain {
    pub z_mm: Vec<f64>,
    /// Between neighbouring nodes.
    pub diameter_mm: Vec<f64>,
    /// Force and couple on every node.
    pub loads: Vec<[f64; 2]>,
}

impl Case {
    /// A bar that bends as Euler's does: so thin that shear is below 1e-8 of bending, with `ei_nmm2` as it should be.
    pub fn thin(length_mm: f64, ei_nmm2: f64) -> Self {
        Self::thin_stepped(ei_nmm2, &[(length_mm, 1.0)])
    }

    /// As [`Case::thin`], with lands of given diameters relative to the one that has `ei_nmm2`.
    pub fn thin_stepped(ei_nmm2: f64, lands: &[(f64, f64)]) -> Self {
        let length_mm: f64 = lands.iter().map(|land| land.0).sum();
        let unit_mm = 1e-4 * length_mm;
        Self {
            e_mpa: ei_nmm2 / (std::f64::consts::PI / 64.0 * unit_mm.powi(4)),
            poisson_ratio: 0.3,
            lands: lands.iter().map(|&(length_mm, ratio)| (length_mm, ratio * unit_mm)).collect(),
            supports: vec![],
            props: vec![],
            pushes: vec![],
            couples: vec![],
            evens: vec![],
            watched_mm: vec![],
        }
    }

    pub fn length_mm(&self) -> f64 {
        self.lands.iter().map(|land| land.0).sum()
    }

    pub fn pinned(self, z_mm: f64) -> Self {
        self.sprung(z_mm, RIGID_N_PER_MM)
    }

    pub fn sprung(mut self, z_mm: f64, k_n_per_mm: f64) -> Self {
        self.supports.push(Support { z_mm, shift_k_n_per_mm: k_n_per_mm, turn_k_nmm_per_rad: 0.0 });
        self
    }

    pub fn clamped(mut self, z_mm: f64) -> Self {
        self.supports.push(Support { z_mm, shift_k_n_per_mm: RIGID_N_PER_MM, turn_k_nmm_per_rad: RIGID_NMM_PER_RAD });
        self
    }

    pub fn propped(mut self, z_mm: f64, gap_mm: f64, k_n_per_mm: f64) -> Self {
        self.props.push(Prop { z_mm, gap_mm, k_n_per_mm });
        self
    }

    pub fn push(mut self, z_mm: f64, force_n: f64) -> Self {
        self.pushes.push((z_mm, force_n));
        self
    }

    pub fn couple(mut self, z_mm: f64, couple_nmm: f64) -> Self {
        self.couples.push((z_mm, couple_nmm));
        self
    }

    pub fn even(mut self, from_mm: f64, to_mm: f64, q_n_per_mm: f64) -> Self {
        self.evens.push((from_mm, to_mm, q_n_per_mm));
        self
    }

    /// Makes a place a node, so that its movement can be asked for.
    pub fn watch(mut self, z_mm: f64) -> Self {
        self.watched_mm.push(z_mm);
        self
    }

    /// Nodes at everything that happens and at least 400 besides; loads carried to them.
    pub fn chain(&self) -> Chain {
        let length_mm = self.length_mm();
        let mut places: Vec<f64> = (0..=400).map(|i| length_mm * f64::from(i) / 400.0).collect();
        let mut end_mm = 0.0;
        for land in &self.lands {
            end_mm += land.0;
            places.push(end_mm);
        }
        places.extend(self.supports.iter().map(|support| support.z_mm));
        places.extend(self.props.iter().map(|prop| prop.z_mm));
        places.extend(self.pushes.iter().chain(&self.couples).map(|load| load.0));
        places.extend(&self.watched_mm);
        places.extend(self.evens.iter().flat_map(|even| [even.0, even.1]));
        places.sort_by(f64::total_cmp);
        places.dedup_by(|b, a| *b - *a < 1e-9 * length_mm);
        let land_at = |z_mm: f64| {
            let mut end_mm = 0.0;
            let found = self.lands.iter().find(|land| {
                end_mm += land.0;
                z_mm < end_mm
            });
            found.or(self.lands.last()).unwrap().1
        };
        let middles = places.windows(2).map(|pair| 0.5 * (pair[0] + pair[1]));
        let diameter_mm = middles.clone().map(land_at).collect();
        let mut chain = Chain { loads: vec![[0.0; 2]; places.len()], z_mm: places, diameter_mm };
        for &(z_mm, force_n) in &self.pushes {
            let node = chain.node(z_mm);
            chain.loads[node][0] += force_n;
        }
        for &(z_mm, couple_nmm) in &self.couples {
            let node = chain.node(z_mm);
            chain.loads[node][1] += couple_nmm;
        }
        for &(from_mm, to_mm, q_n_per_mm) in &self.evens {
            for left in chain.node(from_mm)..chain.node(to_mm) {
                for load in even_load(left, Plane::X, chain.z_mm[left + 1] - chain.z_mm[left], q_n_per_mm) {
                    chain.loads[load.node][usize::from(load.dof == Dof::Turn)] += load.value;
                }
            }
        }
        chain
    }

    /// The plain solver's answer.
    pub fn dense(&self) -> Solved {
        let chain = self.chain();
        let mut beam = Beam {
            material: Material { e_mpa: self.e_mpa, poisson_ratio: self.poisson_ratio, density_t_per_mm3: 0.0 },
            elements: chain.elements(),
            springs: Vec::new(),
            loads: Vec::new(),
            weighs: false,
        };
        for (node, load) in chain.loads.iter().enumerate() {
            for (dof, value) in [Dof::Shift, Dof::Turn].into_iter().zip(*load) {
                beam.loads.push(Load { node, plane: Plane::X, dof, value });
            }
        }
        let spring = |node, plane, dof, k| Spring { node, plane, dof, k, anchor: 0.0 };
        for support in &self.supports {
            let node = chain.node(support.z_mm);
            beam.springs.push(spring(node, Plane::X, Dof::Shift, support.shift_k_n_per_mm));
            beam.springs.push(spring(node, Plane::X, Dof::Turn, support.turn_k_nmm_per_rad));
        }
        // Nothing happens in the other plane; it only must not be loose.
        beam.springs.push(spring(0, Plane::Y, Dof::Shift, RIGID_N_PER_MM));
        beam.springs.push(spring(0, Plane::Y, Dof::Turn, RIGID_NMM_PER_RAD));
        let jaw = |prop: &Prop| Jaw {
            node: chain.node(prop.z_mm),
            nx: 1.0,
            ny: 0.0,
            gap_mm: prop.gap_mm,
            k_n_per_mm: prop.k_n_per_mm,
            friction_ratio: 0.0,
        };
        let jaws: Vec<Jaw> = self.props.iter().map(jaw).collect();
        let answer = solve(&beam, &jaws).expect("a textbook beam is held");
        let shift_mm: Vec<f64> = answer.shape.iter().map(|node| node[0]).collect();
        let turn_rad: Vec<f64> = answer.shape.iter().map(|node| node[1]).collect();
        let carried = |k: fn(&Support) -> f64, moved: &[f64]| {
            self.supports.iter().map(|support| k(support) * moved[chain.node(support.z_mm)]).collect()
        };
        Solved {
            carried_n: carried(|support| support.shift_k_n_per_mm, &shift_mm),
            carried_nmm: carried(|support| support.turn_k_nmm_per_rad, &turn_rad),
            propped_n: answer.forces_n,
            z_mm: chain.z_mm,
            shift_mm,
            turn_rad,
        }
    }

    /// The program's answer: its beam for the free work and for a unit push at every prop, its contact search for what
    /// the props carry, and its beam again with that.
    pub fn program(&self) -> Solved {
        let chain = self.chain();
        let elastic = Elastic::new(self.e_mpa, self.poisson_ratio, 0.0);
        let lengths_mm = chain.z_mm.windows(2).map(|pair| pair[1] - pair[0]);
        let elements: Vec<beam::Element> = lengths_mm
            .zip(&chain.diameter_mm)
            .map(|(length_mm, &diameter_mm)| beam::Element::new(length_mm, &Round::solid(diameter_mm), &elastic, 0.0))
            .collect();
        let spring = |support: &Support| NodeSpring {
            radial_n_per_mm: support.shift_k_n_per_mm,
            turning_nmm_per_rad: support.turn_k_nmm_per_rad,
            anchor_mm: [0.0; 2],
        };
        let mut springs: Vec<_> =
            self.supports.iter().map(|support| (chain.node(support.z_mm), spring(support))).collect();
        springs.sort_by_key(|(node, _)| *node);
        let load = |node: usize, force_n: f64, moment_nmm: f64| NodeLoad {
            node,
            force_n: [force_n, 0.0],
            moment_nmm: [moment_nmm, 0.0],
        };
        let bent = |loads: &[NodeLoad]| bent_line(&elements, &springs, loads).expect("a textbook beam is held");
        let mut loads: Vec<NodeLoad> = chain
            .loads
            .iter()
            .enumerate()
            .map(|(node, [force_n, couple_nmm])| load(node, *force_n, *couple_nmm))
            .collect();
        let prop_nodes: Vec<usize> = self.props.iter().map(|prop| chain.node(prop.z_mm)).collect();
        let free = bent(&loads);
        let pressed_mm: Vec<f64> =
            self.props.iter().zip(&prop_nodes).map(|(prop, &node)| free[node].move_mm[0] - prop.gap_mm).collect();
        let n_props = self.props.len();
        let mut give = vec![0.0; n_props * n_props];
        for (column, &node) in prop_nodes.iter().enumerate() {
            let unit = bent(&[load(node, 1.0, 0.0)]);
            for (row, &other) in prop_nodes.iter().enumerate() {
                give[row * n_props + column] = unit[other].move_mm[0];
            }
            give[column * n_props + column] += 1.0 / self.props[column].k_n_per_mm;
        }
        let contact = contact::solve(&give, &pressed_mm, Touching::none(n_props));
        assert!(contact.solved);
        loads.extend(prop_nodes.iter().zip(&contact.force_n).map(|(&node, force_n)| load(node, -force_n, 0.0)));
        loads.sort_by_key(|load| load.node);
        let moves = bent(&loads);
        let carried_n = |support: &Support| support.shift_k_n_per_mm * moves[chain.node(support.z_mm)].move_mm[0];
        let carried_nmm = |support: &Support| support.turn_k_nmm_per_rad * moves[chain.node(support.z_mm)].slope_rad[0];
        Solved {
            carried_n: self.supports.iter().map(carried_n).collect(),
            carried_nmm: self.supports.iter().map(carried_nmm).collect(),
            propped_n: contact.force_n,
            shift_mm: moves.iter().map(|node| node.move_mm[0]).collect(),
            turn_rad: moves.iter().map(|node| node.slope_rad[0]).collect(),
            z_mm: chain.z_mm,
        }
    }

    /// The plain solver's answer and the program's.
    pub fn solved(&self) -> Vec<Solved> {
        vec![self.dense(), self.program()]
    }
}

impl Chain {
    /// The node at a place.
    pub fn node(&self, z_mm: f64) -> usize {
        let length_mm = self.z_mm[self.z_mm.len() - 1];
        self.z_mm.iter().position(|place| (place - z_mm).abs() < 1e-9 * length_mm).expect("every place has its node")
    }

    pub fn elements(&self) -> Vec<Element> {
        let lengths = self.z_mm.windows(2).map(|pair| pair[1] - pair[0]);
        lengths.zip(&self.diameter_mm).map(|(length_mm, &d)| Element::uniform(length_mm, d, 0.0)).collect()
    }
}

impl Solved {
    fn at(&self, z_mm: f64) -> usize {
        let length_mm = self.z_mm[self.z_mm.len() - 1];
        let near = |place: &f64| (place - z_mm).abs() < 1e-9 * length_mm;
        self.z_mm.iter().position(near).expect("a place that is asked for is watched")
    }

    pub fn shift_at(&self, z_mm: f64) -> f64 {
        self.shift_mm[self.at(z_mm)]
    }

    pub fn turn_at(&self, z_mm: f64) -> f64 {
        self.turn_rad[self.at(z_mm)]
    }

    /// Largest movement in the direction of the loads, and where.
    pub fn max_shift(&self) -> (f64, f64) {
        let most = (0..self.z_mm.len()).max_by(|&a, &b| self.shift_mm[a].total_cmp(&self.shift_mm[b]));
        let node = most.expect("a beam has nodes");
        (self.shift_mm[node], self.z_mm[node])
    }

    pub fn min_shift(&self) -> f64 {
        self.shift_mm.iter().copied().fold(f64::INFINITY, f64::min)
    }
}
