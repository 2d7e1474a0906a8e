//! The held work as a chain of massless elements with a block of inertia and springs at every node, and the steps of a
//! walk along it with any kind of number.
//!
//! It is the walk of [`super::walk`] without loads: everything passed acts on the present node like a 2 x 2 spring `S`
//! with its determinant carried along. At a node the block `K - z M - g P` is added (springs, inertia, and what the
//! axial force takes off the turning stiffness); crossing an element puts its flexibility in series. `z` is the square
//! of the angular frequency, and `g` scales the axial force; both may be complex.
//!
//! Jaws that touch are springs in one direction and couple the two planes, so they stay out of the walk. Those at one
//! node count as two springs at right angles ([`principal`]), which is the same stiffness.

use super::beam::{Crossing, Element};
use super::mass::NodeMass;
use super::number::Number;
use super::walk::{NodeSpring, Symmetric};

/// A jaw that touches, as a spring at a node.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct JawSpring {
    pub node: usize,
    /// Away, up. A unit vector.
    pub direction: [f64; 2],
    pub k_n_per_mm: f64,
}

/// The held work, ready to swing or to buckle.
#[derive(Clone, Copy, Debug)]
pub struct Work<'a> {
    /// Elements from the drive end to the tailstock end.
    pub elements: &'a [Element],
    /// Mass of each element at its two nodes; may be empty where mass does not matter.
    pub masses: &'a [[NodeMass; 2]],
    /// What is fixed to the work at nodes, in any order.
    pub node_masses: &'a [(usize, NodeMass)],
    /// Springs at nodes, in any order.
    pub springs: &'a [(usize, NodeSpring)],
    /// Jaws that touch, in any order.
    pub jaws: &'a [JawSpring],
}

/// What stands at one node.
#[derive(Clone, Copy, Debug, PartialEq, Default)]
pub struct NodeBlock {
    pub mass: NodeMass,
    /// What the axial force takes off the turning stiffness.
    pub axial_turn_nmm_per_rad: f64,
    pub radial_n_per_mm: f64,
    pub turning_nmm_per_rad: f64,
}

impl NodeBlock {
    /// Adds one end of an element.
    pub fn add_element_end(&mut self, element: &Element, mass: NodeMass) {
        self.mass += mass;
        self.axial_turn_nmm_per_rad += element.axial_n() * element.length_mm / 2.0;
    }

    /// Adds a spring.
    pub fn add_spring(&mut self, spring: &NodeSpring) {
        self.radial_n_per_mm += spring.radial_n_per_mm;
        self.turning_nmm_per_rad += spring.turning_nmm_per_rad;
    }
}

/// An element as the walk crosses it.
#[derive(Clone, Copy, Debug, PartialEq, Default)]
pub struct Span {
    step_mm: f64,
    f11: f64,
    f12: f64,
    f22: f64,
    det_f: f64,
    /// `R⁻¹ f R⁻ᵀ`: the same give, loaded at the start.
    start_f11: f64,
    twice_start_f12: f64,
}

impl Span {
    /// The span of a crossing.
    #[must_use]
    pub fn of(crossing: &Crossing) -> Self {
        let (f11, f12, f22) = (crossing.f11, crossing.f12, crossing.f22);
        let h = crossing.step_mm;
        Self {
            step_mm: h,
            f11,
            f12,
            f22,
            det_f: f11 * f22 - f12 * f12,
            start_f11: f11 - h * (2.0 * f12 - h * f22),
            twice_start_f12: 2.0 * (f12 - h * f22),
        }
    }
}

/// Everything passed so far, as the present node feels it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct State<T> {
    pub a11: T,
    pub a12: T,
    pub a22: T,
    /// Determinant, carried so that it is no difference of large numbers.
    pub det: T,
}

impl<T: Number> State<T> {
    /// Nothing passed yet.
    #[must_use]
    #[inline(always)]
    pub fn nothing() -> Self {
        let zero = T::of(0.0);
        Self { a11: zero, a12: zero, a22: zero, det: zero }
    }

    /// Adds another state that acts on the same node.
    #[must_use]
    #[inline(always)]
    pub fn plus(&self, other: &Self) -> Self {
        let (across, dets) = (self.a12 * other.a12, self.det + other.det);
        Self {
            a11: self.a11 + other.a11,
            a12: self.a12 + other.a12,
            a22: self.a22 + other.a22,
            det: (self.a11 * other.a22 + self.a22 * other.a11) + (dets - (across + across)),
        }
    }

    /// Adds the block of a node.
    #[must_use]
    #[inline(always)]
    pub fn with_block(&self, block: &NodeBlock, z: T, g: T) -> Self {
        let mass = &block.mass;
        let b11 = T::of(block.radial_n_per_mm) - z.times(mass.mass_t);
        let b12 = -z.times(mass.first_t_mm);
        let b22 = T::of(block.turning_nmm_per_rad) - z.times(mass.rotary_t_mm2) - g.times(block.axial_turn_nmm_per_rad);
        self.plus(&Self { a11: b11, a12: b12, a22: b22, det: b11 * b22 - b12 * b12 })
    }

    /// The inverse: move and turn for a unit force and a unit moment.
    #[must_use]
    #[inline(always)]
    pub fn inverse(&self) -> [T; 3] {
        let scale = self.det.inverse();
        [self.a22 * scale, -(self.a12 * scale), self.a11 * scale]
    }

    /// Crosses a span.
    #[must_use]
    #[inline(always)]
    pub fn cross(&self, span: &Span) -> Crossed<T> {
        // `tr (Ŝ f)` is that of S with the give seen from the start; it need not wait for the carry.
        let trace = self.a11.times(span.start_f11) + self.a12.times(span.twice_start_f12) + self.a22.times(span.f22);
        let h = span.step_mm;
        let s11 = self.a11;
        let s12 = self.a12 - self.a11.times(h);
        let s22 = self.a22 - (self.a12 + s12).times(h);
        let one = T::of(1.0);
        let delta = trace + (one + self.det.times(span.det_f));
        let scale = delta.inverse();
        let end = Self {
            a11: (s11 + self.det.times(span.f22)) * scale,
            a12: (s12 - self.det.times(span.f12)) * scale,
            a22: (s22 + self.det.times(span.f11)) * scale,
            det: self.det * scale,
        };
        Crossed { end, delta, trace, carried: [s11, s12, s22], scale }
    }
}

/// A crossing made.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Crossed<T> {
    pub end: State<T>,
    /// `det (I + Ŝ f)`.
    pub delta: T,
    /// `tr (Ŝ f)`.
    pub trace: T,
    carried: [T; 3],
    scale: T,
}

impl<T: Number> Crossed<T> {
    /// What the crossing tells of the node left behind: `w_start = M w_end + Z b`.
    #[must_use]
    #[inline(always)]
    pub fn left_behind(&self, span: &Span) -> LeftBehind<T> {
        let [s11, s12, s22] = self.carried;
        let (h, f11, f12, f22, det_f) = (span.step_mm, span.f11, span.f12, span.f22, span.det_f);
        let (scale, one) = (self.scale, T::of(1.0));
        let x11 = (one + s12.times(f12) + s22.times(f22)) * scale;
        let x12 = -((s11.times(f12) + s12.times(f22)) * scale);
        let x21 = -((s12.times(f11) + s22.times(f12)) * scale);
        let x22 = (one + s11.times(f11) + s12.times(f12)) * scale;
        let y11 = (T::of(f11) + s22.times(det_f)) * scale;
        let y12 = (T::of(f12) - s12.times(det_f)) * scale;
        let y22 = (T::of(f22) + s11.times(det_f)) * scale;
        let z12 = y12 - y22.times(h);
        LeftBehind {
            m: [[x11 - x12.times(h), x21 - x22.times(h)], [x12, x22]],
            z: [y11 - (y12 + z12).times(h), z12, y22],
        }
    }
}

/// What one crossing tells about the node left behind: M by rows; Z as 11, 12, 22.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct LeftBehind<T> {
    pub m: [[T; 2]; 2],
    pub z: [T; 3],
}

/// How a watched node follows the present one.
pub type Row<T> = [T; 2];

/// The row of a node that is the present one.
#[must_use]
#[inline(always)]
pub fn own_row<T: Number>() -> Row<T> {
    [T::of(1.0), T::of(0.0)]
}

impl<T: Number> LeftBehind<T> {
    /// A row after this crossing.
    #[must_use]
    #[inline(always)]
    pub fn carry(&self, row: Row<T>) -> Row<T> {
        [row[0] * self.m[0][0] + row[1] * self.m[1][0], row[0] * self.m[0][1] + row[1] * self.m[1][1]]
    }

    /// How the start goes, the end clamped, under a unit force on a row.
    #[must_use]
    #[inline(always)]
    pub fn under(&self, row: Row<T>) -> Row<T> {
        applied(&self.z, row)
    }
}

/// `A rowᵀ` for a symmetric A as 11, 12, 22.
#[must_use]
#[inline(always)]
pub fn applied<T: Number>(a: &[T; 3], row: Row<T>) -> Row<T> {
    [a[0] * row[0] + a[1] * row[1], a[1] * row[0] + a[2] * row[1]]
}

/// The product of two rows.
#[must_use]
#[inline(always)]
pub fn dot<T: Number>(row: Row<T>, other: Row<T>) -> T {
    row[0] * other[0] + row[1] * other[1]
}

/// Watched nodes carried along a walk: rows, and what they answer each other with the present node clamped.
#[derive(Clone, Debug)]
pub struct Watched<T> {
    pub rows: Vec<Row<T>>,
    /// Packed lower triangle.
    pub between: Vec<T>,
}

impl<T: Number> Watched<T> {
    /// None met yet.
    #[must_use]
    pub fn none() -> Self {
        Self { rows: Vec::new(), between: Vec::new() }
    }

    /// None met yet, and room for so many.
    #[must_use]
    pub fn room_for(n: usize) -> Self {
        Self { rows: Vec::with_capacity(n), between: Vec::with_capacity(n * (n + 1) / 2) }
    }

    /// Meets the present node.
    #[inline(always)]
    pub fn meet(&mut self) {
        self.rows.push(own_row());
        self.between.resize(self.between.len() + self.rows.len(), T::of(0.0));
    }

    /// Carries all over a crossing.
    #[inline(always)]
    pub fn carry(&mut self, left: &LeftBehind<T>) {
        let mut pair = 0;
        for a in 0..self.rows.len() {
            let moved = left.under(self.rows[a]);
            for b in 0..=a {
                self.between[pair] = self.between[pair] + dot(moved, self.rows[b]);
                pair += 1;
            }
        }
        for row in &mut self.rows {
            *row = left.carry(*row);
        }
    }
}

/// The chain in walking order towards the tailstock.
#[derive(Clone, Debug, PartialEq)]
pub struct Chain {
    /// One fewer than nodes.
    pub spans: Vec<Span>,
    pub nodes: Vec<NodeBlock>,
    /// Springs at right angles at each node, rising by node.
    pub jaws: Vec<JawSpring>,
    /// Nodes of the jaws, rising, each once.
    pub jaw_nodes: Vec<usize>,
}

impl Chain {
    /// The chain of the held work.
    #[must_use]
    pub fn of(work: &Work) -> Self {
        let mut nodes = vec![NodeBlock::default(); work.elements.len() + 1];
        for (index, element) in work.elements.iter().enumerate() {
            let mass = work.masses.get(index).copied().unwrap_or_default();
            nodes[index].add_element_end(element, mass[0]);
            nodes[index + 1].add_element_end(element, mass[1]);
        }
        for (node, spring) in work.springs {
            nodes[*node].add_spring(spring);
        }
        for (node, mass) in work.node_masses {
            nodes[*node].mass += *mass;
        }
        let jaws = principal(work.jaws);
        let mut jaw_nodes: Vec<usize> = jaws.iter().map(|jaw| jaw.node).collect();
        jaw_nodes.dedup();
        let spans = work.elements.iter().map(|element| Span::of(&element.towards_tailstock())).collect();
        Self { spans, nodes, jaws, jaw_nodes }
    }

    /// Number of a jaw's node among [`Self::jaw_nodes`].
    #[must_use]
    pub fn point_of(&self, jaw: &JawSpring) -> usize {
        self.jaw_nodes.partition_point(|node| *node < jaw.node)
    }
}

/// Jaws at one node put together to springs at right angles that are just as stiff: one or two a node, rising.
#[must_use]
pub fn principal(jaws: &[JawSpring]) -> Vec<JawSpring> {
    let mut sorted = jaws.to_vec();
    sorted.sort_by_key(|jaw| jaw.node);
    let mut springs = Vec::new();
    for group in sorted.chunk_by(|a, b| a.node == b.node) {
        let mut sum = Symmetric::default();
        // The determinant as a sum of squares, so that one jaw alone leaves exactly nothing across.
        let mut det = 0.0;
        for (index, jaw) in group.iter().enumerate() {
            let [x, y] = jaw.direction;
            sum.a11 += jaw.k_n_per_mm * x * x;
            sum.a12 += jaw.k_n_per_mm * x * y;
            sum.a22 += jaw.k_n_per_mm * y * y;
            for other in &group[..index] {
                let across = x * other.direction[1] - y * other.direction[0];
                det += jaw.k_n_per_mm * other.k_n_per_mm * across * across;
            }
        }
        let (mean, half) = ((sum.a11 + sum.a22) / 2.0, (sum.a11 - sum.a22) / 2.0);
        let spread = half.hypot(sum.a12);
        let even = spread <= 1e-12 * mean;
        let angle_rad = if even { 0.0 } else { 0.5 * sum.a12.atan2(half) };
        let stiff = if even { mean } else { mean + spread };
        let soft = if even { mean } else { det / stiff };
        let (sine, cosine) = angle_rad.sin_cos();
        let node = group[0].node;
        for (k_n_per_mm, direction) in [(stiff, [cosine, sine]), (soft, [-sine, cosine])] {
            if k_n_per_mm > 1e-12 * stiff {
                springs.push(JawSpring { node, direction, k_n_per_mm });
            }
        }
    }
    springs
}
