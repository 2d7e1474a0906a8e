//! One walk along the work condenses all of it on one side of every node into that node.
//!
//! Each node moves by `w = (u, θ)` in a plane, `θ = du/dz`. Everything passed so far acts on the present node like a
//! 2 x 2 spring `S` with a built-in push `b`: held at `w` it needs `S w - b` from outside. Two steps make a walk:
//!
//! * **at a node** springs and loads that stand there are added: `S += K`, `b += p`;
//! * **crossing an element** with step `h` and flexibility `f` (see [`super::beam`]), `R = [1 h; 0 1]`:
//!   first carry rigidly, `Ŝ = R⁻ᵀ S R⁻¹`, `b̂ = R⁻ᵀ b`; then put the element's give in series,
//!   `S' = (I + Ŝ f)⁻¹ Ŝ`, `b' = (I + Ŝ f)⁻¹ b̂`.
//!
//! With `D = det S` carried along, the series step is `S' = (Ŝ + D adj f)/Δ`, `D' = D/Δ`,
//! `Δ = 1 + tr(Ŝ f) + D det f`: nothing large is ever subtracted from something large, so the walk stays exact from
//! soft supports to rigid ones and from coarse meshes to fine ones. (It is the parallel sum of series springs, the same
//! algebra as a two-filter smoother.)
//!
//! The crossing also tells what the node left behind does: `w_start = M w_end + Z b` with `M = R⁻¹ (I + f Ŝ)⁻¹` and
//! `Z = M f R⁻ᵀ`. From these, *tracked* nodes (supports, rests) are carried as rows: `u_a = T_a w + Σ C_ab λ_b + u0_a`
//! for forces `λ_b` at other tracked nodes of the same side. Cost: one pass, O(nodes x tracked²).
//!
//! Both planes of a round bar share `S`, `M`, `Z`; only `b` differs. Limit: near buckling the sums are no longer all
//! positive and the accuracy is that of ordinary elimination.

use super::beam::Crossing;
use super::count::negatives;

/// A spring between a node and the machine.
#[derive(Clone, Copy, Debug, PartialEq, Default)]
pub struct NodeSpring {
    /// Radial (N/mm).
    pub radial_n_per_mm: f64,
    /// Against turning (N·mm/rad).
    pub turning_nmm_per_rad: f64,
    /// Where its machine end stands off the spindle axis: away, up.
    pub anchor_mm: [f64; 2],
}

/// A 2 x 2 symmetric matrix.
#[derive(Clone, Copy, Debug, PartialEq, Default)]
pub struct Symmetric {
    pub a11: f64,
    pub a12: f64,
    pub a22: f64,
}

/// Everything on one side of a node, as that node feels it.
#[derive(Clone, Copy, Debug, PartialEq, Default)]
pub struct Condensed {
    pub stiffness: Symmetric,
    /// Determinant of `stiffness`, carried so that it is never a difference.
    pub det: f64,
    /// In how many ways, in one plane, what lies behind the node has lost its stiffness with the node itself clamped.
    pub n_lost: u32,
    /// Built-in push in the horizontal and the vertical plane: force (N) and moment (N·mm).
    pub push: [[f64; 2]; 2],
}

impl Condensed {
    /// Adds a spring at the node.
    fn add_spring(&mut self, spring: &NodeSpring) {
        let (radial, turning) = (spring.radial_n_per_mm, spring.turning_nmm_per_rad);
        self.det += radial * self.stiffness.a22 + turning * self.stiffness.a11 + radial * turning;
        self.stiffness.a11 += radial;
        self.stiffness.a22 += turning;
        for plane in 0..2 {
            self.push[plane][0] += radial * spring.anchor_mm[plane];
        }
    }

    /// Takes `turning` off the turning stiffness, for axial compression.
    fn soften_turning(&mut self, turning_nmm_per_rad: f64) {
        self.det -= turning_nmm_per_rad * self.stiffness.a11;
        self.stiffness.a22 -= turning_nmm_per_rad;
    }
}

/// What crossing one element tells about the node left behind.
#[derive(Clone, Copy, Debug, PartialEq, Default)]
pub struct LeftBehind {
    /// `w_start = M w_end + Z b`: M by rows.
    pub m: [[f64; 2]; 2],
    pub z: Symmetric,
    /// `Z b` in the horizontal and the vertical plane: where the start goes with the end clamped.
    pub drift: [[f64; 2]; 2],
}

/// Adds what an element sends to a node.
fn add(push: &mut [[f64; 2]; 2], load: &[[f64; 2]; 2]) {
    for (push, load) in push.iter_mut().flatten().zip(load.iter().flatten()) {
        *push += load;
    }
}

/// Crosses one element: the state at its end, and what the start will do.
fn cross(start: &Condensed, crossing: &Crossing) -> (Condensed, LeftBehind) {
    let mut here = *start;
    here.soften_turning(crossing.axial_turn);
    let h = crossing.step_mm;
    let Symmetric { a11, a12, a22 } = here.stiffness;

    // Rigid carry.
    let s11 = a11;
    let s12 = a12 - h * a11;
    let s22 = a22 - h * (2.0 * a12 - h * a11);

    // Series with the element's give.
    let (f11, f12, f22) = (crossing.f11, crossing.f12, crossing.f22);
    let det_f = f11 * f22 - f12 * f12;
    let trace = s11 * f11 + 2.0 * s12 * f12 + s22 * f22;
    let delta = 1.0 + trace + here.det * det_f;
    let scale = 1.0 / delta;
    // X = (I + Ŝ f)⁻¹ by rows.
    let x11 = (1.0 + s12 * f12 + s22 * f22) * scale;
    let x12 = -(s11 * f12 + s12 * f22) * scale;
    let x21 = -(s12 * f11 + s22 * f12) * scale;
    let x22 = (1.0 + s11 * f11 + s12 * f12) * scale;

    let mut end = Condensed {
        stiffness: Symmetric {
            a11: (s11 + here.det * f22) * scale,
            a12: (s12 - here.det * f12) * scale,
            a22: (s22 + here.det * f11) * scale,
        },
        det: here.det * scale,
        n_lost: here.n_lost + negatives(delta, 2.0 + trace),
        push: [[0.0; 2]; 2],
    };
    for plane in 0..2 {
        let force = here.push[plane][0];
        let moment = here.push[plane][1] - h * force;
        end.push[plane] = [x11 * force + x12 * moment, x21 * force + x22 * moment];
    }
    end.soften_turning(crossing.axial_turn);

    // Y = (I + f Ŝ)⁻¹ f = (f + det f · adj Ŝ)/Δ, then Z = R⁻¹ Y R⁻ᵀ; and M = R⁻¹ Xᵀ.
    let y11 = (f11 + det_f * s22) * scale;
    let y12 = (f12 - det_f * s12) * scale;
    let y22 = (f22 + det_f * s11) * scale;
    let z = Symmetric { a11: y11 - h * (2.0 * y12 - h * y22), a12: y12 - h * y22, a22: y22 };
    let drift = here.push.map(|[force, moment]| [z.a11 * force + z.a12 * moment, z.a12 * force + z.a22 * moment]);
    (end, LeftBehind { m: [[x11 - h * x12, x21 - h * x22], [x12, x22]], z, drift })
}

/// One tracked node as the present node sees it: `u_a = t · w + Σ C_ab λ_b + offset`.
#[derive(Clone, Copy, Debug, PartialEq, Default)]
pub struct Row {
    pub t: [f64; 2],
    /// Where it goes with the present node clamped, in the horizontal and vertical plane.
    pub offset_mm: [f64; 2],
}

impl Row {
    /// The row after one more crossing.
    #[must_use]
    pub fn carried(&self, left: &LeftBehind) -> Self {
        let [t0, t1] = self.t;
        Self {
            t: [t0 * left.m[0][0] + t1 * left.m[1][0], t0 * left.m[0][1] + t1 * left.m[1][1]],
            offset_mm: [0, 1]
                .map(|plane| self.offset_mm[plane] + t0 * left.drift[plane][0] + t1 * left.drift[plane][1]),
        }
    }
}

/// Product `t Z sᵀ`: what a unit force on row `s` moves row `t` by, within one crossing.
#[must_use]
pub fn through(t: [f64; 2], z: &Symmetric, s: [f64; 2]) -> f64 {
    t[0] * (z.a11 * s[0] + z.a12 * s[1]) + t[1] * (z.a12 * s[0] + z.a22 * s[1])
}

/// Which state a walk keeps at its nodes.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum JoinAt {
    /// Before the node's own springs and loads: for the walk that is joined to one that has them.
    Arriving,
    /// With the node's own springs and loads.
    Leaving,
}

/// A finished walk: the condensed state at every node in walking order, and the tracked rows there.
#[derive(Clone, Debug, Default)]
pub struct Walk {
    condensed: Vec<Condensed>,
    /// One fewer than nodes: `left[i]` belongs to the crossing from node i to node i + 1.
    left: Vec<LeftBehind>,
    n_tracked: usize,
    /// How many tracked nodes have been met, at every node.
    n_met: Vec<usize>,
    /// `n_tracked` rows a node.
    rows: Vec<Row>,
    /// Packed lower triangle of C, `n_tracked (n_tracked + 1) / 2` values a node.
    between: Vec<f64>,
}

impl Walk {
    /// Walks over `crossings`, meeting `springs` and `loads` at nodes numbered in walking order, rising.
    ///
    /// `tracked` are node numbers in walking order, rising; equal ones are allowed. Reuses the memory of the last run.
    pub fn run(
        &mut self,
        ends: JoinAt,
        crossings: impl ExactSizeIterator<Item = Crossing>,
        springs: &[(usize, NodeSpring)],
        tracked: &[usize],
        loads: &[NodeLoad],
    ) {
        let n_nodes = crossings.len() + 1;
        let n_tracked = tracked.len();
        let n_between = n_tracked * (n_tracked + 1) / 2;
        self.n_tracked = n_tracked;
        self.condensed.clear();
        self.left.clear();
        self.n_met.clear();
        self.condensed.reserve(n_nodes);
        self.left.reserve(n_nodes);
        self.rows.resize(n_nodes * n_tracked, Row::default());
        self.between.resize(n_nodes * n_between, 0.0);

        let mut springs = springs.iter().peekable();
        let mut loads = loads.iter().peekable();
        let mut state = Condensed::default();
        let mut n_met = 0;
        let mut crossings = crossings;
        for node in 0..n_nodes {
            if ends == JoinAt::Arriving {
                self.condensed.push(state);
            }
            while let Some((_, spring)) = springs.next_if(|(at, _)| *at == node) {
                state.add_spring(spring);
            }
            while let Some(load) = loads.next_if(|load| load.node == node) {
                for plane in 0..2 {
                    state.push[plane][0] += load.force_n[plane];
                    state.push[plane][1] += load.moment_nmm[plane];
                }
            }
            while n_met < n_tracked && tracked[n_met] == node {
                self.rows[node * n_tracked + n_met] = Row { t: [1.0, 0.0], offset_mm: [0.0; 2] };
                let first = node * n_between + n_met * (n_met + 1) / 2;
                self.between[first..=first + n_met].fill(0.0);
                n_met += 1;
            }
            self.n_met.push(n_met);
            if ends == JoinAt::Leaving {
                self.condensed.push(state);
            }
            let Some(crossing) = crossings.next() else { break };
            add(&mut state.push, &crossing.start_load);
            let (mut next, left) = cross(&state, &crossing);
            add(&mut next.push, &crossing.end_load);
            self.carry_rows(node, n_met, &left);
            self.left.push(left);
            state = next;
        }
    }

    /// Carries the rows of the tracked nodes met so far from `node` to the next.
    fn carry_rows(&mut self, node: usize, n_met: usize, left: &LeftBehind) {
        let n_tracked = self.n_tracked;
        let n_between = n_tracked * (n_tracked + 1) / 2;
        let (here, there) = (node * n_tracked, (node + 1) * n_tracked);
        for a in 0..n_met {
            let row = self.rows[here + a];
            for b in 0..=a {
                let pair = a * (a + 1) / 2 + b;
                self.between[(node + 1) * n_between + pair] =
                    self.between[node * n_between + pair] + through(row.t, &left.z, self.rows[here + b].t);
            }
            self.rows[there + a] = row.carried(left);
        }
    }

    /// Number of nodes walked.
    #[must_use]
    pub fn n_nodes(&self) -> usize {
        self.condensed.len()
    }

    /// Everything walked so far, at a node; the element ahead is never in it.
    #[must_use]
    pub fn condensed(&self, node: usize) -> &Condensed {
        &self.condensed[node]
    }

    /// What the crossing from `node` to the next tells of `node`.
    #[must_use]
    pub fn left_behind(&self, node: usize) -> &LeftBehind {
        &self.left[node]
    }

    /// How many tracked nodes lie at or before a node.
    #[must_use]
    pub fn n_met(&self, node: usize) -> usize {
        self.n_met[node]
    }

    /// Tracked node `a` as `node` sees it.
    #[must_use]
    pub fn row(&self, node: usize, a: usize) -> &Row {
        &self.rows[node * self.n_tracked + a]
    }

    /// Displacement of tracked `a` for a unit force on tracked `b`, `node` clamped.
    #[must_use]
    pub fn between(&self, node: usize, a: usize, b: usize) -> f64 {
        let (high, low) = (a.max(b), a.min(b));
        self.between[node * (self.n_tracked * (self.n_tracked + 1) / 2) + high * (high + 1) / 2 + low]
    }
}

/// A force and a moment at a node: horizontal plane, vertical plane.
#[derive(Clone, Copy, Debug, PartialEq, Default)]
pub struct NodeLoad {
    pub node: usize,
    pub force_n: [f64; 2],
    pub moment_nmm: [f64; 2],
}
