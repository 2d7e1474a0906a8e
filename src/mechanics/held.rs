//! The held work at one place of the tool: two walks joined, and how supports and tool feel each other through it.
//!
//! With the tool at node j the work in front of it and behind it are two condensed springs on the same node:
//! `(S_F + S_B) w = b_F + b_B + f_tool + Σ t_aᵀ λ_a`. With `A = (S_F + S_B)⁻¹` a force at the tool moves tracked node
//! `a` by `t_a A`, and two tracked nodes answer each other by `G_ab = t_a A t_bᵀ (+ C_ab on the same side)`.
//! Jaws are not in the walks: they are put in afterwards ([`super::contact`]), so one pair of walks serves every
//! station and every state of contact.

use super::beam::{Crossing, Element};
use super::count::negatives;
use super::walk::{JoinAt, NodeLoad, NodeSpring, Row, Symmetric, Walk, through};

/// The work held by its end springs, ready for the tool at any node.
#[derive(Clone, Debug, Default)]
pub struct Held {
    forward: Walk,
    /// In coordinates that begin at the tailstock centre, where that stands off the axis: see [`Self::run`].
    backward: Walk,
    /// The tailstock centre off the spindle axis: away, up.
    tail_anchor_mm: [f64; 2],
    n_tracked: usize,
}

/// A watched place seen from the tool: a support, a rest or the follower.
#[derive(Clone, Copy, Debug, PartialEq, Default)]
pub struct Point {
    /// How it follows the tool node: `u = t · w + ...`.
    t: [f64; 2],
    /// Its move per unit force at the tool.
    pub per_force: f64,
    /// Its move per unit moment at the tool.
    pub per_moment: f64,
    /// Where it lies with no jaw touching and no cut: away, up.
    pub free_mm: [f64; 2],
}

/// The work at one node with no jaw touching.
pub(super) struct Bare {
    pub compliance: Symmetric,
    /// Where it lies: move and turn, in both planes.
    pub free: [[f64; 2]; 2],
    /// See [`AtTool::n_lost`].
    pub n_lost: usize,
}

/// Everything the cut and the jaws need to know of the work with the tool at one node.
#[derive(Clone, Debug, Default)]
pub struct AtTool {
    /// Move and turn of the work at the tool per unit force and moment there.
    pub compliance: Symmetric,
    /// In how many ways, in both planes, thrust would buckle the work were it not for its jaws. Where it is any, all
    /// that is said here of work without jaws is of a balance that would not last.
    pub n_lost: usize,
    /// Where the work lies at the tool with no jaw touching and no cut: away, up.
    pub free_mm: [f64; 2],
    /// Where the last tracked node, the tailstock end, lies from its own centre: away, up. Kept apart because that
    /// distance is tiny beside the centre's offset, and the centre's force hangs on it.
    pub tail_free_mm: [f64; 2],
    /// Tracked nodes in rising order, then the follower if there is one.
    pub points: Vec<Point>,
    /// Number of points, also while they are still being added.
    n_points: usize,
    /// Row-major: move of one point per unit force at another, no jaw touching.
    between: Vec<f64>,
}

impl Point {
    /// How it follows the tool node's move and turn.
    #[inline]
    pub(super) fn t(&self) -> [f64; 2] {
        self.t
    }
}

impl AtTool {
    /// Move of point `a` per unit force at point `b`.
    #[must_use]
    #[inline]
    pub fn between(&self, a: usize, b: usize) -> f64 {
        self.between[a * self.n_points + b]
    }
}

impl Held {
    /// Walks both ways. `front` are the elements as they are on the headstock side of the tool, `back` as on the
    /// tailstock side; `springs` and `tracked` are by node, rising. Springs stand at the first and the last node only.
    ///
    /// Nothing but the tailstock centre ties the back part to the ground, so the backward walk counts from that centre
    /// and its offset is put on when the walks are joined. With the offset as a push of a rigid centre (`k` times the
    /// offset) the crossings would lose digits.
    pub fn run(&mut self, front: &[Element], back: &[Element], springs: &[(usize, NodeSpring)], tracked: &[usize]) {
        let front = front.iter().map(Element::towards_tailstock);
        self.run_crossed(front, back.iter().rev().map(Element::towards_headstock), springs, tracked, &[]);
    }

    /// As [`Self::run`], to be joined at the last node only: behind it there is no work.
    pub fn run_to_end(&mut self, work: &[Element], springs: &[(usize, NodeSpring)], tracked: &[usize]) {
        self.run_crossed(work.iter().map(Element::towards_tailstock), std::iter::empty(), springs, tracked, &[]);
    }

    /// As [`Self::run`] for crossings: of the front part towards the tailstock, of the back part towards the headstock, each
    /// in walking order. `head_loads` stand at the first node.
    pub fn run_crossed(
        &mut self,
        front: impl ExactSizeIterator<Item = Crossing>,
        back: impl ExactSizeIterator<Item = Crossing>,
        springs: &[(usize, NodeSpring)],
        tracked: &[usize],
        head_loads: &[NodeLoad],
    ) {
        let last = front.len();
        self.n_tracked = tracked.len();
        self.forward.run(JoinAt::Leaving, front, springs, tracked, head_loads);
        let tail = springs.iter().find(|(node, _)| *node == last && last > 0);
        self.tail_anchor_mm = tail.map_or([0.0; 2], |(_, spring)| spring.anchor_mm);
        let springs_back: Vec<_> = (springs.iter().rev())
            .map(|&(node, spring)| (last - node, NodeSpring { anchor_mm: [0.0; 2], ..spring }))
            .collect();
        let tracked_back: Vec<_> = tracked.iter().rev().map(|&node| last - node).collect();
        self.backward.run(JoinAt::Arriving, back, &springs_back, &tracked_back, &[]);
    }

    /// The work at the tool node with no jaw touching; `None` where nothing holds it.
    pub(super) fn at(&self, node: usize) -> Option<Bare> {
        let node_back = self.n_nodes() - 1 - node;
        let (fore, aft) = (self.forward.condensed(node), self.backward.condensed(node_back));
        let (f, b) = (&fore.stiffness, &aft.stiffness);
        let (s11, s12, s22) = (f.a11 + b.a11, f.a12 + b.a12, f.a22 + b.a22);
        let det = fore.det + aft.det + (f.a11 * b.a22 + f.a22 * b.a11 - 2.0 * f.a12 * b.a12);
        if det == 0.0 || !det.is_finite() {
            return None;
        }
        let n_lost = 2 * (fore.n_lost + aft.n_lost + negatives(det, s11 + s22)) as usize;
        let compliance = Symmetric { a11: s22 / det, a12: -s12 / det, a22: s11 / det };
        let free = [0, 1].map(|plane| {
            let anchor_mm = self.tail_anchor_mm[plane];
            let force = fore.push[plane][0] + aft.push[plane][0] + b.a11 * anchor_mm;
            let moment = fore.push[plane][1] + aft.push[plane][1] + b.a12 * anchor_mm;
            [compliance.a11 * force + compliance.a12 * moment, compliance.a12 * force + compliance.a22 * moment]
        });
        Some(Bare { compliance, free, n_lost })
    }

    /// Number of nodes walked.
    #[must_use]
    pub fn n_nodes(&self) -> usize {
        self.forward.n_nodes()
    }

    pub(super) fn forward(&self) -> &Walk {
        &self.forward
    }

    pub(super) fn backward(&self) -> &Walk {
        &self.backward
    }

    /// Joins the walks at `node`, with a follower at another node if there is one. False where nothing holds the work;
    /// `at_tool` is then not to be used. Work that thrust would buckle is joined, and says so ([`AtTool::n_lost`]).
    pub fn join(&self, node: usize, follower: Option<usize>, at_tool: &mut AtTool) -> bool {
        let Some(Bare { compliance, free, n_lost }) = self.at(node) else { return false };
        let node_back = self.n_nodes() - 1 - node;
        at_tool.compliance = compliance;
        at_tool.free_mm = [free[0][0], free[1][0]];

        at_tool.begin(self.n_tracked + usize::from(follower.is_some()));
        at_tool.n_lost = n_lost;
        let n_fore = self.forward.n_met(node);
        for a in 0..self.n_tracked {
            let row = if a < n_fore {
                *self.forward.row(node, a)
            } else {
                self.counted_from_axis(*self.backward.row(node_back, self.n_tracked - 1 - a))
            };
            at_tool.points.push(point(&row, &compliance, &free));
        }
        at_tool.tail_free_mm = self.tail_from_centre(node_back, n_fore, &free, at_tool);
        for a in 0..self.n_tracked {
            for b in 0..=a {
                let same_side = if a < n_fore {
                    self.forward.between(node, a, b)
                } else if b >= n_fore {
                    self.backward.between(node_back, self.n_tracked - 1 - a, self.n_tracked - 1 - b)
                } else {
                    0.0
                };
                at_tool.set_between(a, b, same_side);
            }
        }
        if let Some(follower) = follower {
            self.join_follower(node, follower, &compliance, &free, at_tool);
        }
        true
    }

    /// Where the tailstock end lies from its centre with no jaw touching and no cut.
    fn tail_from_centre(&self, node_back: usize, n_fore: usize, free: &[[f64; 2]; 2], at_tool: &AtTool) -> [f64; 2] {
        let Some(last) = self.n_tracked.checked_sub(1) else { return [0.0; 2] };
        if n_fore == self.n_tracked {
            return [0, 1].map(|plane| at_tool.points[last].free_mm[plane] - self.tail_anchor_mm[plane]);
        }
        let row = self.backward.row(node_back, 0);
        [0, 1].map(|plane| {
            row.t[0] * (free[plane][0] - self.tail_anchor_mm[plane]) + row.t[1] * free[plane][1] + row.offset_mm[plane]
        })
    }

    /// A row of the backward walk, counted from the spindle axis again.
    pub(super) fn counted_from_axis(&self, mut row: Row) -> Row {
        for (offset_mm, anchor_mm) in row.offset_mm.iter_mut().zip(self.tail_anchor_mm) {
            *offset_mm += anchor_mm * (1.0 - row.t[0]);
        }
        row
    }

    /// Adds the follower as the last point: its row is carried over the few elements between it and the tool.
    fn join_follower(
        &self,
        node: usize,
        follower: usize,
        compliance: &Symmetric,
        free: &[[f64; 2]; 2],
        at_tool: &mut AtTool,
    ) {
        let last = self.backward.n_nodes() - 1;
        let behind_tailstock_side = follower > node;
        let (walk, from, to) = if behind_tailstock_side {
            (&self.backward, last - follower, last - node)
        } else {
            (&self.forward, follower, node)
        };
        let index = |met: usize| if behind_tailstock_side { self.n_tracked - 1 - met } else { met };
        let mut row = Row { t: [1.0, 0.0], offset_mm: [0.0; 2] };
        let mut own = 0.0;
        let n_points = self.n_tracked + 1;
        let f = self.n_tracked;
        at_tool.between[f * n_points..].fill(0.0);
        for step in from..to {
            let left = walk.left_behind(step);
            own += through(row.t, &left.z, row.t);
            for met in 0..walk.n_met(step) {
                at_tool.between[f * n_points + index(met)] += through(row.t, &left.z, walk.row(step, met).t);
            }
            row = row.carried(left);
        }
        let row = if behind_tailstock_side { self.counted_from_axis(row) } else { row };
        at_tool.points.push(point(&row, compliance, free));
        for b in 0..self.n_tracked {
            let same_side = at_tool.between[f * n_points + b];
            at_tool.set_between(f, b, same_side);
        }
        at_tool.set_between(f, f, own);
    }
}

impl AtTool {
    /// Makes room for so many points.
    pub(super) fn begin(&mut self, n_points: usize) {
        self.n_lost = 0;
        self.points.clear();
        self.n_points = n_points;
        self.between.resize(n_points * n_points, 0.0);
    }

    /// `t_a A t_bᵀ` plus what the same side adds, both ways round.
    #[inline]
    pub(super) fn set_between(&mut self, a: usize, b: usize, same_side: f64) {
        let n_points = self.n_points;
        let t = self.points[b].t;
        let value = self.points[a].per_force * t[0] + self.points[a].per_moment * t[1] + same_side;
        self.between[a * n_points + b] = value;
        self.between[b * n_points + a] = value;
    }
}

#[inline]
pub(super) fn point(row: &Row, compliance: &Symmetric, free: &[[f64; 2]; 2]) -> Point {
    let [t0, t1] = row.t;
    Point {
        t: row.t,
        per_force: t0 * compliance.a11 + t1 * compliance.a12,
        per_moment: t0 * compliance.a12 + t1 * compliance.a22,
        free_mm: [0, 1].map(|plane| t0 * free[plane][0] + t1 * free[plane][1] + row.offset_mm[plane]),
    }
}
