//! Between what the work's axis may lie with the tool at its present place.
//!
//! Every member of the band, computed before, is solved once more at that place on its coarse mesh; what its axis differs
//! from that of the first is put round the fine line, as for the curves along a pass.

use super::reach::Scratch;
use super::{JobBands, Members, Sample, off_at, same_place};
use crate::job::{Job, PassId, SetupId};
use crate::study::results::{Shape, Status};
use crate::study::shape_of;

/// The band round the line of the bent work.
#[derive(Clone, Debug, PartialEq)]
pub struct ShapeBand {
    /// Coarse nodes, rising.
    z_mm: Vec<f64>,
    /// How far below and above the line away from the operator and the line upwards the band reaches there.
    offs_mm: [Vec<[f64; 2]>; 2],
}

/// The band of the shape that [`crate::study::shape_at`] gives for the same place; `None` where the members tell nothing.
#[must_use]
pub fn shape_band(
    job: &Job,
    bands: &JobBands,
    setup: SetupId,
    pass: Option<PassId>,
    tool_z_mm: Option<f64>,
) -> Option<ShapeBand> {
    let fineness = bands.fineness?;
    let mut members = Members::new(job, Sample::USUAL.lattice);
    if members.n_members() != bands.cases.len() {
        return None;
    }
    let mut first: Option<Shape> = None;
    // Of every member that holds: away and up at every node, less the first one's.
    let mut rows_mm: Vec<f64> = Vec::new();
    for (member, case) in bands.cases.iter().enumerate() {
        let factors = members.put(member);
        let shape = shape_of(members.job(), case, setup, pass, tool_z_mm, fineness, factors)
            .filter(|shape| shape.status == Status::Solved);
        let Some(first) = &first else {
            rows_mm.resize(2 * shape.as_ref()?.z_mm.len(), 0.0);
            first = shape;
            continue;
        };
        let alike = |shape: &Shape| {
            shape.z_mm.len() == first.z_mm.len()
                && shape.z_mm.iter().zip(&first.z_mm).all(|(one, other)| same_place(*one, *other))
        };
        if let Some(shape) = shape.filter(alike) {
            let off_mm =
                |one: &[f64], other: &[f64]| -> Vec<f64> { one.iter().zip(other).map(|(a, b)| a - b).collect() };
            rows_mm.extend(off_mm(&shape.x_mm, &first.x_mm));
            rows_mm.extend(off_mm(&shape.y_mm, &first.y_mm));
        }
    }
    let first = first?;
    let n_nodes = first.z_mm.len();
    let (plane, mut scratch) = (members.plane(), Scratch::default());
    let mut reach_mm = |at: usize| plane.reach_at(&rows_mm, 2 * n_nodes, at, &mut scratch);
    let offs_mm = [0, n_nodes].map(|from| (from..from + n_nodes).map(&mut reach_mm).collect());
    Some(ShapeBand { z_mm: first.z_mm, offs_mm })
}

impl ShapeBand {
    /// Whether the band has any width at all.
    #[must_use]
    pub fn is_wide(&self) -> bool {
        self.offs_mm.iter().flatten().any(|[below_mm, above_mm]| above_mm > below_mm)
    }

    /// Lowest and highest of both lines at every node of the shape this band belongs to: away, up.
    #[must_use]
    pub fn edges_mm(&self, shape: &Shape) -> [Vec<[f64; 2]>; 2] {
        [(&shape.x_mm, &self.offs_mm[0]), (&shape.y_mm, &self.offs_mm[1])].map(|(line_mm, offs_mm)| {
            let mut next = 0;
            (shape.z_mm.iter().zip(line_mm))
                .map(|(z_mm, line_mm)| off_at(&self.z_mm, offs_mm, *z_mm, false, &mut next).map(|off| line_mm + off))
                .collect()
        })
    }
}
