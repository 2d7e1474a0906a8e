//! Work that the force along it would buckle were it not for its jaws: which jaws keep it up.
//!
//! Without its jaws such work has no lasting balance, so the search from one set of jaws to the next has nothing to go by,
//! and all sets are tried. A set is right where its jaws push, the open ones are clear, and the work held by the touching ones is
//! stable: with `K₀` the work without jaws, `N` their directions and `S = diag(1/k) + Nᵀ K₀⁻¹ N`, the number of negative
//! eigenvalues of the whole is that of `K₀` less that of `S` (E. V. Haynsworth, Linear Algebra Appl. 1 (1968) 73-81; from
//! memory). Two sets may be right, as a thin bar buckles to either side: then the answer is not called solved. From place
//! to place, and while it turns, work goes on lying as it lay as long as that is right; all sets are tried where a pass
//! begins and where the work can lie so no longer.
//!
//! Limit: the drag of jaws is in the balance, not in its stability; eight jaws near the work at the most, with more the
//! answer is never called solved.

use super::{AtTool, CutState, JawAt, Law, MOST_RESIDUAL_MM, NEAR_MM, ToolAt, Touching, Workbench, opposed};

/// More jaws near the work than this are too many sets to try.
const MOST_JAWS: usize = 8;

/// Two answers are one where jaw forces differ by less than this share of the largest.
const SAME_FORCE_RATIO: f64 = 0.01;

impl Workbench {
    /// Finds depth, jaw forces and contact set for what is laid out: the set there is, or every set of jaws tried.
    pub(super) fn settle_pressed(
        &mut self,
        at_tool: &AtTool,
        jaws: &[JawAt],
        tool: Option<(&ToolAt, &Law)>,
        start_depth_mm: f64,
    ) -> CutState {
        let start = CutState { depth_mm: start_depth_mm, ..CutState::default() };
        let near: Vec<usize> = (0..jaws.len()).filter(|&jaw| self.pressed[jaw][0] > -NEAR_MM).collect();
        let upright = upright(at_tool, jaws);
        if self.stands(&upright, &self.touching.clone(), at_tool.n_lost) {
            let mut state = start;
            let tried = self.try_set(at_tool, jaws, tool, &mut state);
            if self.is_right(&tried) {
                return self.finish(tool, &tried, true, state);
            }
        }
        let mut all = Touching::none(jaws.len());
        near.iter().for_each(|&jaw| all.set(jaw, true));
        if !self.stands(&upright, &all, at_tool.n_lost) {
            return start;
        }
        let mut right: Option<(Touching, CutState, Vec<f64>)> = None;
        let mut apart = near.len() > MOST_JAWS;
        let n_sets = if apart { 0_u32 } else { 1 << near.len() };
        for set in 0..n_sets {
            if (set.count_ones() as usize) < at_tool.n_lost {
                continue;
            }
            let mut touching = Touching::none(jaws.len());
            near.iter().enumerate().for_each(|(bit, &jaw)| touching.set(jaw, set >> bit & 1 == 1));
            if !self.stands(&upright, &touching, at_tool.n_lost) {
                continue;
            }
            self.touching = touching;
            let mut state = start;
            let tried = self.try_set(at_tool, jaws, tool, &mut state);
            if !self.is_right(&tried) {
                continue;
            }
            apart |=
                right.as_ref().is_some_and(|(_, other, forces_n)| differ(&state, other, &self.jaw_force_n, forces_n));
            if right.is_none() {
                right = Some((self.touching.clone(), state, self.jaw_force_n.clone()));
            }
        }
        let mut state = start;
        self.touching = match right {
            Some((touching, ..)) => touching,
            None if apart => all,
            None => return start,
        };
        let tried = self.try_set(at_tool, jaws, tool, &mut state);
        self.finish(tool, &tried, !apart, state)
    }

    /// Whether the work is stable with these jaws touching.
    fn stands(&mut self, upright: &[f64], touching: &Touching, n_lost: usize) -> bool {
        self.is_factored = false;
        self.factor.factor_of_any_sign(|row, column| upright[row * touching.n_jaws() + column], touching)
            && self.factor.n_negative() == n_lost
    }
}

/// What the jaws' own stiffness and the work without them make of each other, without friction.
fn upright(at_tool: &AtTool, jaws: &[JawAt]) -> Vec<f64> {
    let mut matrix = Vec::with_capacity(jaws.len() * jaws.len());
    for (i, jaw) in jaws.iter().enumerate() {
        for (j, other) in jaws.iter().enumerate() {
            let own_give = if i == j { 1.0 / jaw.k_n_per_mm } else { 0.0 };
            let facing = opposed(jaw.direction, other.direction);
            matrix.push(facing * at_tool.between(jaw.point, other.point) + own_give);
        }
    }
    matrix
}

/// Two answers that a turner could tell from each other.
fn differ(one: &CutState, other: &CutState, one_n: &[f64], other_n: &[f64]) -> bool {
    let apart = |a: f64, b: f64, least: f64| (a - b).abs() > least;
    let largest_n = one_n.iter().chain(other_n).fold(0.0, |largest: f64, force_n| largest.max(*force_n));
    (one.spring_mm.iter().zip(&other.spring_mm)).any(|(a, b)| apart(*a, *b, MOST_RESIDUAL_MM))
        || one_n.iter().zip(other_n).any(|(a, b)| apart(*a, *b, SAME_FORCE_RATIO * largest_n))
}
