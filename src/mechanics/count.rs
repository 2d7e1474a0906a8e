//! How many ways the held work has lost its stiffness: the number of natural frequencies below a given one, or of
//! buckled shapes at a given axial force.
//!
//! The number of negative eigenvalues of `K - ω² M - g P` is counted in one walk: each crossing gives the signs of
//! `I + Ŝ f`, the last node its own (J. J. Sylvester's law of inertia; W. H. Wittrick and F. W. Williams, Q. J. Mech.
//! Appl. Math. 24 (1971) 263-284, count likewise; both from memory). With K positive definite that is the number of
//! frequencies below ω. Jaws are put in exactly although they couple the planes: with `K₀` the work without jaws,
//! `N` their directions and `A = diag(1/k) + Nᵀ K₀⁻¹ N`, it is `2 neg(K₀ in one plane) - neg(A)`.
//!
//! Source: E. V. Haynsworth, Linear Algebra Appl. 1 (1968) 73-81, additivity of inertia (from memory).

use super::chain::{Chain, State, Watched, applied, dot};
use super::number::{Lanes, Number};
use super::wide::widely;

impl Chain {
    /// Number of negative eigenvalues in both planes for `W` pairs of `ω²` (rad²/s²) and axial factor at once.
    #[must_use]
    pub fn counts<const W: usize>(&self, omega2: [f64; W], axial_ratio: [f64; W]) -> [usize; W] {
        widely(
            #[inline(always)]
            || self.counted(omega2, axial_ratio),
        )
    }

    #[inline(always)]
    fn counted<const W: usize>(&self, omega2: [f64; W], axial_ratio: [f64; W]) -> [usize; W] {
        let (z, g) = (Lanes(omega2), Lanes(axial_ratio));
        let mut state = State::<Lanes<W>>::nothing();
        let mut n_plane = [0_u32; W];
        let mut watched = Watched::room_for(self.jaw_nodes.len());
        let mut next_jaw = self.jaw_nodes.iter().peekable();
        for (index, span) in self.spans.iter().enumerate() {
            state = state.with_block(&self.nodes[index], z, g);
            if next_jaw.next_if(|node| **node == index).is_some() {
                watched.meet();
            }
            let crossed = state.cross(span);
            for (lane, n_plane) in n_plane.iter_mut().enumerate() {
                *n_plane += negatives(crossed.delta.0[lane], 2.0 + crossed.trace.0[lane]);
            }
            if !watched.rows.is_empty() {
                watched.carry(&crossed.left_behind(span));
            }
            state = crossed.end;
        }
        let last = self.nodes.len() - 1;
        state = state.with_block(&self.nodes[last], z, g);
        if next_jaw.next_if(|node| **node == last).is_some() {
            watched.meet();
        }
        for (lane, n_plane) in n_plane.iter_mut().enumerate() {
            *n_plane += negatives(state.det.0[lane], state.a11.0[lane] + state.a22.0[lane]);
        }
        let n_lost = self.jaw_negatives(&state, &watched);
        std::array::from_fn(|lane| (2 * n_plane[lane] as usize).saturating_sub(n_lost[lane]))
    }

    /// Negative pivots of `diag(1/k) + Nᵀ K₀⁻¹ N`.
    #[inline(always)]
    fn jaw_negatives<const W: usize>(&self, last: &State<Lanes<W>>, watched: &Watched<Lanes<W>>) -> [usize; W] {
        let mut n_negative = [0; W];
        if self.jaws.is_empty() {
            return n_negative;
        }
        let give = last.inverse();
        let n = self.jaws.len();
        let mut lower = vec![Lanes([0.0; W]); n * n];
        for (i, jaw) in self.jaws.iter().enumerate() {
            let a = self.point_of(jaw);
            let moved = applied(&give, watched.rows[a]);
            for (j, other) in self.jaws[..=i].iter().enumerate() {
                let b = self.point_of(other);
                let facing = jaw.direction[0] * other.direction[0] + jaw.direction[1] * other.direction[1];
                let between = dot(moved, watched.rows[b]) + watched.between[a * (a + 1) / 2 + b];
                // Springs at one node stand at right angles.
                let facing = if i != j && a == b { 0.0 } else { facing };
                let mut value = between.times(facing);
                if i == j {
                    value = value + Lanes::of(1.0 / jaw.k_n_per_mm);
                }
                for k in 0..j {
                    value = value - lower[i * n + k] * lower[j * n + k] * lower[k * n + k];
                }
                lower[i * n + j] = if i == j { value } else { value * lower[j * n + j].inverse() };
            }
            for (n_negative, pivot) in n_negative.iter_mut().zip(lower[i * n + i].0) {
                *n_negative += usize::from(pivot < 0.0);
            }
        }
        n_negative
    }

    /// Number of natural frequencies below `omega2` (rad²/s²), both planes.
    #[must_use]
    pub fn n_below(&self, omega2: f64) -> usize {
        self.counts([omega2], [1.0])[0]
    }
}

/// Negative eigenvalues of a 2 x 2 matrix with this determinant and trace.
#[inline(always)]
pub(super) fn negatives(det: f64, trace: f64) -> u32 {
    u32::from(det < 0.0) + 2 * u32::from(det >= 0.0 && trace < 0.0)
}
