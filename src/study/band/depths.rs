//! Between what the depth may lie from which chatter is to be expected, along one pass.
//!
//! The limit rises without end beside a support, so members are compared by how many times larger they are: the band is
//! of the logarithm. Damping is one stated figure and is not varied. Dear: some tens of milliseconds.

use super::reach::Scratch;
use super::{Members, Sample, off_at, same_place};
use crate::job::{Job, PassId, SetupId};
use crate::study::lively::{DepthLimit, Look, depth_limits_of};
use crate::study::sweep::Room;
use crate::study::{Fineness, compute_varied};

/// The band of the limits of one pass.
#[derive(Clone, Debug, PartialEq)]
pub struct DepthBand {
    /// Coarse places, rising.
    z_mm: Vec<f64>,
    /// Natural logarithm of how many times the limit may be smaller and larger there: 0 or less, 0 or more.
    off_ln: Vec<[f64; 2]>,
}

/// The band of what [`crate::study::lively::depth_limits`] gives; `None` where there is none or it has no
/// width, or `keep_going` said no.
#[must_use]
pub fn depth_band(job: &Job, setup: SetupId, pass: PassId, keep_going: &dyn Fn() -> bool) -> Option<DepthBand> {
    let fineness: Fineness = Sample::USUAL.fineness;
    let damping_ratio = job.spread.damping_ratio.value;
    let mut members = Members::new(job, Sample::USUAL.lattice);
    let mut room = Room::default();
    let mut first: Vec<DepthLimit> = Vec::new();
    let mut columns: Vec<Vec<f64>> = Vec::new();
    for member in 0..members.n_members() {
        if !keep_going() {
            return None;
        }
        let factors = members.put(member);
        let case = compute_varied(members.job(), fineness, factors, &mut room);
        let look = Look { fineness, factors, damping_ratio, ..Look::USUAL };
        let limits = depth_limits_of(members.job(), &case, setup, pass, &look, keep_going);
        if member == 0 {
            columns = vec![Vec::with_capacity(members.n_members()); limits.len()];
            first.clone_from(&limits);
        }
        for (limit, column) in first.iter().zip(&mut columns) {
            if let Some(here) = limits.iter().find(|here| same_place(here.z_mm, limit.z_mm)) {
                column.push((here.limit_on_diameter_mm / limit.limit_on_diameter_mm).ln());
            }
        }
    }
    let (plane, mut scratch) = (members.plane(), Scratch::default());
    let off_ln: Vec<[f64; 2]> = columns.iter().map(|column| plane.reach(column, &mut scratch)).collect();
    let is_wide = off_ln.iter().any(|[below, above]| above > below);
    let is_known = is_wide && !first.is_empty() && off_ln.iter().flatten().all(|off| off.is_finite());
    is_known.then(|| DepthBand { z_mm: first.iter().map(|limit| limit.z_mm).collect(), off_ln })
}

impl DepthBand {
    /// Lowest and highest of each of these limits, which rise in z.
    #[must_use]
    pub fn edges_mm(&self, limits: &[DepthLimit]) -> Vec<[f64; 2]> {
        let mut next = 0;
        let edges = limits.iter().map(|limit| {
            off_at(&self.z_mm, &self.off_ln, limit.z_mm, false, &mut next)
                .map(|off_ln| limit.limit_on_diameter_mm * off_ln.exp())
        });
        edges.collect()
    }
}
