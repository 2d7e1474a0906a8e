//! `K - ω² M` of both planes with the jaws, at one ω²: solved for any right side by a walk there and a walk back.
//!
//! Jaws are put in after the walk, as in [`super::count`]: `x = y - K₀⁻¹ N (diag(1/k) + Nᵀ K₀⁻¹ N)⁻¹ Nᵀ y`, y without
//! them. Near a natural frequency the answer is large and its direction is right, which is all inverse iteration asks.

use super::chain::{Chain, JawSpring, LeftBehind, NodeBlock, State};
use super::small_matrix::solve_in_place;

/// Shift and turn at every node, sideways and up.
pub(super) type Field = Vec<[f64; 4]>;

/// The mass matrix times a field.
pub(super) fn massed(chain: &Chain, field: &Field) -> Field {
    let block = |(node, w): (&NodeBlock, &[f64; 4])| {
        let mass = &node.mass;
        let plane = |u: f64, turn: f64| {
            [mass.mass_t * u + mass.first_t_mm * turn, mass.first_t_mm * u + mass.rotary_t_mm2 * turn]
        };
        let ([a, b], [c, d]) = (plane(w[0], w[1]), plane(w[2], w[3]));
        [a, b, c, d]
    };
    chain.nodes.iter().zip(field).map(block).collect()
}

/// The product of two fields.
pub(super) fn inner(a: &Field, b: &Field) -> f64 {
    a.iter().zip(b).map(|(a, b)| a[0] * b[0] + a[1] * b[1] + a[2] * b[2] + a[3] * b[3]).sum()
}

/// `K - ω² M` at one ω², ready to be solved for many right sides.
pub(super) struct Factor {
    left: Vec<LeftBehind<f64>>,
    end: [f64; 3],
    /// For each jaw node, the move and turn of every node under a unit force there.
    columns: Vec<Vec<[f64; 2]>>,
    /// `diag(1/k) + Nᵀ K₀⁻¹ N`.
    jaws: Vec<f64>,
}

impl Factor {
    /// Walks once, and once more back for each jaw node.
    pub fn of(chain: &Chain, omega2: f64) -> Self {
        let mut state = State::<f64>::nothing();
        let mut left = Vec::with_capacity(chain.spans.len());
        for (span, node) in chain.spans.iter().zip(&chain.nodes) {
            let crossed = state.with_block(node, omega2, 1.0).cross(span);
            left.push(crossed.left_behind(span));
            state = crossed.end;
        }
        let end = chain.nodes.last().map_or([0.0; 3], |node| state.with_block(node, omega2, 1.0).inverse());
        let mut factor = Self { left, end, columns: Vec::new(), jaws: Vec::new() };
        for node in &chain.jaw_nodes {
            let mut unit: Field = vec![[0.0; 4]; chain.nodes.len()];
            unit[*node][0] = 1.0;
            let column = factor.solve_free(unit);
            factor.columns.push(column.into_iter().map(|w| [w[0], w[1]]).collect());
        }
        for jaw in &chain.jaws {
            for other in &chain.jaws {
                let facing = jaw.direction[0] * other.direction[0] + jaw.direction[1] * other.direction[1];
                let same = if std::ptr::eq(jaw, other) { 1.0 / jaw.k_n_per_mm } else { 0.0 };
                factor.jaws.push(facing * factor.columns[chain.point_of(other)][jaw.node][0] + same);
            }
        }
        factor
    }

    /// Moves under given forces and moments, jaws left out.
    fn solve_free(&self, mut pushes: Field) -> Field {
        for (index, LeftBehind { m, .. }) in self.left.iter().enumerate() {
            let b = pushes[index];
            let next = &mut pushes[index + 1];
            next[0] += m[0][0] * b[0] + m[1][0] * b[1];
            next[1] += m[0][1] * b[0] + m[1][1] * b[1];
            next[2] += m[0][0] * b[2] + m[1][0] * b[3];
            next[3] += m[0][1] * b[2] + m[1][1] * b[3];
        }
        let by = |a: &[f64; 3], u: f64, turn: f64| [a[0] * u + a[1] * turn, a[1] * u + a[2] * turn];
        let last = pushes.len() - 1;
        let b = pushes[last];
        let ([w0, w1], [w2, w3]) = (by(&self.end, b[0], b[1]), by(&self.end, b[2], b[3]));
        let mut w = [w0, w1, w2, w3];
        pushes[last] = w;
        for (index, LeftBehind { m, z }) in self.left.iter().enumerate().rev() {
            let b = pushes[index];
            let ([d0, d1], [d2, d3]) = (by(z, b[0], b[1]), by(z, b[2], b[3]));
            w = [
                m[0][0] * w[0] + m[0][1] * w[1] + d0,
                m[1][0] * w[0] + m[1][1] * w[1] + d1,
                m[0][0] * w[2] + m[0][1] * w[3] + d2,
                m[1][0] * w[2] + m[1][1] * w[3] + d3,
            ];
            pushes[index] = w;
        }
        pushes
    }

    /// Moves under given forces and moments, jaws put in.
    pub fn solve(&self, chain: &Chain, pushes: Field) -> Field {
        let mut moves = self.solve_free(pushes);
        let pressed = |jaw: &JawSpring| {
            let w = &moves[jaw.node];
            jaw.direction[0] * w[0] + jaw.direction[1] * w[2]
        };
        let mut forces: Vec<f64> = chain.jaws.iter().map(pressed).collect();
        if forces.is_empty() || !solve_in_place(&mut self.jaws.clone(), &mut forces) {
            return moves;
        }
        for (jaw, force) in chain.jaws.iter().zip(forces) {
            let [away, up] = jaw.direction.map(|part| part * force);
            for (w, [shift, turn]) in moves.iter_mut().zip(&self.columns[chain.point_of(jaw)]) {
                w[0] -= away * shift;
                w[1] -= away * turn;
                w[2] -= up * shift;
                w[3] -= up * turn;
            }
        }
        moves
    }
}
