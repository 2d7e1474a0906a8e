//! Jaws that only push, by trying the sets of touching jaws one after another.
//!
//! A touching jaw is a spring along its direction, assembled into the matrix; a set is the right one where every
//! touching jaw pushes and no open jaw is entered by the work. Compliances being positive, exactly one set is right
//! (but for ties, where a jaw just touches without force).

use super::band::Factors;
use super::beam::{Beam, Dof, Plane, Spring, System, as_shape, index};
use super::wide::Wide;

/// One jaw: it stands in the direction (`nx`, `ny`) from the axis, its tip `gap_mm` off the work's resting place.
#[derive(Clone, Copy, Debug)]
pub struct Jaw {
    pub node: usize,
    pub nx: f64,
    pub ny: f64,
    pub gap_mm: f64,
    pub k_n_per_mm: f64,
    /// Friction drags on the work with this share of the jaw's force, against its anticlockwise turn.
    pub friction_ratio: f64,
}

/// The work against its jaws.
#[derive(Clone, Debug)]
pub struct Answer {
    /// `[x, slope x, y, slope y]` of every node.
    pub shape: Vec<[f64; 4]>,
    /// Force of every jaw on the work, 0 or more, against the jaw's direction.
    pub forces_n: Vec<f64>,
    /// Force of every spring of the beam on the work.
    pub springs_n: Vec<f64>,
    /// Bit i is set where jaw i touches.
    pub touching: u32,
}

impl Jaw {
    /// How far the work stands in the jaw's way: n·u - gap.
    pub fn entry(&self, unknown: &dyn Fn(usize) -> Wide) -> Wide {
        let shift = |plane| unknown(index(self.node, plane, Dof::Shift));
        Wide::from(self.nx) * shift(Plane::X) + Wide::from(self.ny) * shift(Plane::Y) - Wide::from(self.gap_mm)
    }
}

/// The system with the jaws of `touching` as springs.
pub fn with_jaws(system: &System, jaws: &[Jaw], touching: u32) -> System {
    let mut with = system.clone();
    for (_, jaw) in jaws.iter().enumerate().filter(|(i, _)| touching >> i & 1 == 1) {
        let [x, y] = [Plane::X, Plane::Y].map(|plane| index(jaw.node, plane, Dof::Shift));
        let (nx, ny, k) = (Wide::from(jaw.nx), Wide::from(jaw.ny), Wide::from(jaw.k_n_per_mm));
        // The work is pushed against (ax, ay): the jaw's direction, and what friction adds across it.
        let mu = Wide::from(jaw.friction_ratio);
        let (ax, ay) = (nx - mu * ny, ny + mu * nx);
        with.matrix.add(x, x, k * ax * nx);
        with.matrix.add(x, y, k * ax * ny);
        with.matrix.add(y, x, k * ay * nx);
        with.matrix.add(y, y, k * ay * ny);
        with.right_side[x] += k * ax * Wide::from(jaw.gap_mm);
        with.right_side[y] += k * ay * Wide::from(jaw.gap_mm);
    }
    with
}

/// Factors of a system with touching jaws.
pub fn factors_of(system: &System, jaws: &[Jaw]) -> Option<Factors> {
    if jaws.iter().any(|jaw| jaw.friction_ratio != 0.0) {
        system.matrix.factors_of_any_sign()
    } else {
        system.matrix.factors()
    }
}

/// How much a touching jaw may pull, or an open one be entered (mm), before a set is called wrong: rounding only.
const TIE_MM: f64 = 1e-22;

/// The jaws that a set has wrong, as a set: touching ones that would pull, open ones that the work has entered.
pub fn wrong_jaws(unknown: &dyn Fn(usize) -> Wide, jaws: &[Jaw], touching: u32) -> u32 {
    let mut wrong = 0;
    for (i, jaw) in jaws.iter().enumerate() {
        let entry_mm = jaw.entry(unknown).to_f64();
        let right = if touching >> i & 1 == 1 { entry_mm >= -TIE_MM } else { entry_mm <= TIE_MM };
        wrong |= u32::from(!right) << i;
    }
    wrong
}

/// What the jaws feel.
pub fn answer(beam: &Beam, unknowns: &[Wide], jaws: &[Jaw], touching: u32) -> Answer {
    let force = |(i, jaw): (usize, &Jaw)| {
        let entry_mm = jaw.entry(&|i| unknowns[i]).to_f64();
        if touching >> i & 1 == 1 { (jaw.k_n_per_mm * entry_mm).max(0.0) } else { 0.0 }
    };
    let spring = |spring: &Spring| {
        let moved = unknowns[index(spring.node, spring.plane, spring.dof)];
        spring.k * (Wide::from(spring.anchor) - moved).to_f64()
    };
    Answer {
        shape: as_shape(unknowns),
        forces_n: jaws.iter().enumerate().map(force).collect(),
        springs_n: beam.springs.iter().map(spring).collect(),
        touching,
    }
}

/// Every set that fits, all sets tried.
pub fn all_answers(beam: &Beam, jaws: &[Jaw]) -> Vec<Answer> {
    let bare = beam.system();
    (0..1_u32 << jaws.len())
        .filter_map(|touching| {
            let system = with_jaws(&bare, jaws, touching);
            let factors = factors_of(&system, jaws)?;
            let unknowns = system.solve(&factors);
            (wrong_jaws(&|i| unknowns[i], jaws, touching) == 0).then(|| answer(beam, &unknowns, jaws, touching))
        })
        .collect()
}

/// The work against its jaws; nothing where no set holds it.
pub fn solve(beam: &Beam, jaws: &[Jaw]) -> Option<Answer> {
    all_answers(beam, jaws).into_iter().next()
}
