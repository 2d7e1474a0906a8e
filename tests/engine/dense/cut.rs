//! The cut at one place of the tool: the depth that agrees with the force it makes, found by halving.
//!
//! With the tool's tip at radius R, its post giving way by s = Fp/k and the work's axis at (u, v), a front tool
//! leaves sqrt((R + s + u)² + v²) and a rear one sqrt((R + s - u)² + v²); the depth is what is missing from the old
//! radius. A rear tool pushes the work towards the operator and, the spindle turning the same way, down.

use std::collections::HashMap;

use super::beam::{Beam, Dof, Load, Plane, System, index};
use super::contact::{Answer, Jaw, answer, factors_of, with_jaws, wrong_jaws};
use super::wide::Wide;

/// Main, radial and feed force of a depth of cut.
#[derive(Clone, Copy, Debug, Default)]
pub struct Forces {
    pub fc_n: f64,
    pub fp_n: f64,
    pub ff_n: f64,
}

/// The tool at a node.
pub struct Cut<'a> {
    pub node: usize,
    /// The tool stands behind the work.
    pub rear: bool,
    pub wanted_radius_mm: f64,
    pub old_radius_mm: f64,
    /// Lever of the feed force.
    pub lever_mm: f64,
    pub feeds_to_headstock: bool,
    /// Carriage, slides and post (N/mm).
    pub carriage_k_n_per_mm: f64,
    /// Forces of a radial depth (mm), 0 or more; of a chip, nothing at 0.
    pub forces: &'a dyn Fn(f64) -> Forces,
}

/// What the cut leaves.
#[derive(Clone, Debug)]
pub struct CutAnswer {
    pub depth_mm: f64,
    pub radius_left_mm: f64,
    pub u_mm: f64,
    pub v_mm: f64,
    pub forces: Forces,
    pub work: Answer,
}

/// The work's answer to each unit of load, for one set of touching jaws.
struct Responses {
    /// To weight, anchors, gaps; then to 1 N away from the operator, 1 N up, 1 N·mm in the x plane, at the tool.
    unknowns: [Vec<Wide>; 4],
}

struct Station<'a> {
    cut: &'a Cut<'a>,
    /// The beam without jaws.
    bare: System,
    jaws: &'a [Jaw],
    known: HashMap<u32, Option<Responses>>,
    /// The set that fitted last: tried first.
    last: u32,
}

impl Station<'_> {
    fn responses(&mut self, touching: u32) -> Option<&Responses> {
        let (bare, jaws, node) = (&self.bare, self.jaws, self.cut.node);
        self.known
            .entry(touching)
            .or_insert_with(|| {
                let system = with_jaws(bare, jaws, touching);
                let factors = factors_of(&system, jaws)?;
                let unit = |plane, dof| {
                    let mut right_side = vec![Wide::ZERO; system.right_side.len()];
                    right_side[index(node, plane, dof)] = Wide::ONE;
                    factors.solve(&right_side)
                };
                let unknowns = [
                    factors.solve(&system.right_side),
                    unit(Plane::X, Dof::Shift),
                    unit(Plane::Y, Dof::Shift),
                    unit(Plane::X, Dof::Turn),
                ];
                Some(Responses { unknowns })
            })
            .as_ref()
    }

    /// The share each unit load has in these forces.
    fn shares(&self, forces: Forces) -> [f64; 4] {
        let side = if self.cut.rear { -1.0 } else { 1.0 };
        let sense = if self.cut.feeds_to_headstock { -1.0 } else { 1.0 };
        [1.0, side * forces.fp_n, side * forces.fc_n, side * sense * self.cut.lever_mm * forces.ff_n]
    }

    /// The set of jaws that fits these forces. A few guesses first, each turning over what the last one got wrong; then
    /// all sets, one after another. It is the fitting that counts, not the way there: only one set fits.
    fn fitting_set(&mut self, forces: Forces) -> Option<u32> {
        let shares = self.shares(forces);
        let jaws = self.jaws;
        let mut touching = self.last;
        for _ in 0..8 {
            let Some(known) = self.responses(touching) else { break };
            let wrong = wrong_jaws(&|i| known.under(shares, i), jaws, touching);
            if wrong == 0 {
                self.last = touching;
                return Some(touching);
            }
            touching ^= wrong;
        }
        let found = (0..1_u32 << jaws.len()).find(|&touching| {
            self.responses(touching).is_some_and(|known| wrong_jaws(&|i| known.under(shares, i), jaws, touching) == 0)
        })?;
        self.last = found;
        Some(found)
    }

    /// What a cut of `depth_mm` would leave, less the wanted radius.
    fn growth_mm(&mut self, depth_mm: f64) -> Option<f64> {
        let forces = self.cut.forces_at(depth_mm);
        let touching = self.fitting_set(forces)?;
        let shares = self.shares(forces);
        let (node, rear) = (self.cut.node, self.cut.rear);
        let known = self.responses(touching)?;
        let u_mm = known.under(shares, index(node, Plane::X, Dof::Shift)).to_f64();
        let v_mm = known.under(shares, index(node, Plane::Y, Dof::Shift)).to_f64();
        let away_mm = if rear { -u_mm } else { u_mm } + forces.fp_n / self.cut.carriage_k_n_per_mm;
        let wanted_mm = self.cut.wanted_radius_mm;
        let left_mm = (wanted_mm + away_mm).hypot(v_mm);
        // left - wanted, without subtracting the two.
        Some((away_mm * (2.0 * wanted_mm + away_mm) + v_mm * v_mm) / (left_mm + wanted_mm))
    }
}

impl Responses {
    /// One unknown under the loads taken by these shares.
    fn under(&self, shares: [f64; 4], i: usize) -> Wide {
        self.unknowns
            .iter()
            .zip(shares)
            .fold(Wide::ZERO, |sum, (unknowns, share)| sum + unknowns[i] * Wide::from(share))
    }
}

impl Cut<'_> {
    fn forces_at(&self, depth_mm: f64) -> Forces {
        (self.forces)(depth_mm)
    }

    /// The tool where it is, cutting what it meets; nothing where the work is not held.
    pub fn solve(&self, beam: &Beam, jaws: &[Jaw]) -> Option<CutAnswer> {
        let mut station = Station { cut: self, bare: beam.system(), jaws, known: HashMap::new(), last: 0 };
        let full_mm = self.old_radius_mm - self.wanted_radius_mm;
        // Missing from the old radius, less the depth assumed: falls as the depth rises.
        let mut excess_mm = |depth_mm: f64| station.growth_mm(depth_mm).map(|growth_mm| full_mm - growth_mm - depth_mm);
        let depth_mm = if excess_mm(0.0)? <= 0.0 {
            0.0
        } else {
            let (mut low_mm, mut high_mm) = (0.0, self.old_radius_mm);
            loop {
                let middle_mm = 0.5 * (low_mm + high_mm);
                if middle_mm <= low_mm || middle_mm >= high_mm {
                    break low_mm;
                }
                if excess_mm(middle_mm)? > 0.0 {
                    low_mm = middle_mm;
                } else {
                    high_mm = middle_mm;
                }
            }
        };
        let growth_mm = station.growth_mm(depth_mm)?;
        let forces = self.forces_at(depth_mm);
        let (shares, touching) = (station.shares(forces), station.last);
        let known = station.responses(touching)?;
        let unknowns: Vec<Wide> = (0..4 * beam.n_nodes()).map(|i| known.under(shares, i)).collect();
        let work = answer(beam, &unknowns, jaws, touching);
        let [u_mm, _, v_mm, _] = work.shape[self.node];
        let radius_left_mm = if depth_mm > 0.0 { self.wanted_radius_mm + growth_mm } else { self.old_radius_mm };
        Some(CutAnswer { depth_mm, radius_left_mm, u_mm, v_mm, forces, work })
    }
}

/// The tool's forces as loads, for checks of equilibrium.
pub fn tool_loads(cut: &Cut<'_>, forces: Forces) -> [Load; 3] {
    let side = if cut.rear { -1.0 } else { 1.0 };
    let sense = if cut.feeds_to_headstock { -1.0 } else { 1.0 };
    let at = |plane, dof, value| Load { node: cut.node, plane, dof, value };
    [
        at(Plane::X, Dof::Shift, side * forces.fp_n),
        at(Plane::Y, Dof::Shift, side * forces.fc_n),
        at(Plane::X, Dof::Turn, side * sense * cut.lever_mm * forces.ff_n),
    ]
}
