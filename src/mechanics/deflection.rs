//! The whole bent line of work whose loads are all known: one walk with the loads put in, and one way back.
//!
//! The walk ends at the last node with `S w = b`; then `w_i = M w_(i+1) + Z b_i` node by node. Jaws that touch come in
//! as loads, so this draws what [`super::cut`] has solved; with springs alone it is a beam solver for checks.

use super::beam::Element;
use super::walk::{JoinAt, NodeLoad, NodeSpring, Walk};

/// Displacement of a node in both planes.
#[derive(Clone, Copy, Debug, PartialEq, Default)]
pub struct NodeMove {
    /// Away, up.
    pub move_mm: [f64; 2],
    /// Slope of the axis, away and up.
    pub slope_rad: [f64; 2],
}

/// The bent line at every node, or `None` where nothing holds the work. With jaws as loads the springs alone need not
/// hold it against buckling.
///
/// `springs` and `loads` are by node, rising.
#[must_use]
pub fn bent_line(elements: &[Element], springs: &[(usize, NodeSpring)], loads: &[NodeLoad]) -> Option<Vec<NodeMove>> {
    let mut walk = Walk::default();
    walk.run(JoinAt::Leaving, elements.iter().map(Element::towards_tailstock), springs, &[], loads);
    let last = walk.n_nodes() - 1;
    let end = walk.condensed(last);
    if end.det == 0.0 || !end.det.is_finite() {
        return None;
    }
    let mut moves = vec![NodeMove::default(); last + 1];
    for plane in 0..2 {
        let [force, moment] = end.push[plane];
        let mut w = [
            (end.stiffness.a22 * force - end.stiffness.a12 * moment) / end.det,
            (end.stiffness.a11 * moment - end.stiffness.a12 * force) / end.det,
        ];
        for node in (0..=last).rev() {
            if node < last {
                let left = walk.left_behind(node);
                let drift = left.drift[plane];
                w = [
                    left.m[0][0] * w[0] + left.m[0][1] * w[1] + drift[0],
                    left.m[1][0] * w[0] + left.m[1][1] * w[1] + drift[1],
                ];
            }
            moves[node].move_mm[plane] = w[0];
            moves[node].slope_rad[plane] = w[1];
        }
    }
    Some(moves)
}
