//! A cut shallower than the nose radius pushes the work sideways, whatever the entering angle.
//!
//! Source: Colwell's rule (Trans. ASME 76, 1954): the chip flows square to the chord of the engaged edge; with the
//! depth below the nose radius the chord lies along the work and most of the thrust becomes radial.

use super::size;
use super::words::{self, computed_passes};
use super::{Finding, Verdict};
use crate::job::{Force, Job, PassKind, Subject};
use crate::study::{JobResult, Status};

/// At most one finding a set-up, for its last such pass; it is to be watched only where the size is in trouble.
#[must_use]
pub fn findings(job: &Job, result: &JobResult) -> Vec<Finding> {
    let mut all: Vec<Finding> = Vec::new();
    for finding in each_pass(job, result) {
        all.retain(|earlier| earlier.about != finding.about);
        all.push(finding);
    }
    all
}

fn each_pass(job: &Job, result: &JobResult) -> Vec<Finding> {
    let units = job.units;
    computed_passes(job, result)
        .filter(|computed| {
            computed.pass.kind == PassKind::Turn
                && computed.pass.force == Force::FromCut
                && computed.result.status == Status::Solved
        })
        .filter_map(|computed| {
            let nose_mm = computed.setup.tool.nose_radius_mm;
            let deepest = computed.result.stations.iter().max_by(|a, b| a.real_depth_mm.total_cmp(&b.real_depth_mm))?;
            let a_side_mm = deepest.real_depth_mm / 2.0;
            if a_side_mm <= 0.0 || a_side_mm >= nose_mm || deepest.fp_n <= deepest.ff_n {
                return None;
            }
            let size_is_fine = size::verdict_of_pass(job, result, computed.pass.id) != Some(Verdict::Trouble);
            Some(Finding {
                rule: "nose_radius",
                about: Subject::Tool(computed.setup.id),
                verdict: if size_is_fine { Verdict::Fine } else { Verdict::Watch },
                text: format!(
                    "{}: {} a side with {} pushes mostly sideways",
                    words::pass_name(job, computed.setup, computed.pass),
                    words::diameter(a_side_mm, units),
                    words::nose(&computed.setup.tool, units),
                ),
                why: "Below the nose radius only the round of the tool cuts, so the push is radial whatever the \
                      entering angle. A smaller nose pushes less."
                    .to_owned(),
                z_mm: None,
                remedy: None,
            })
        })
        .collect()
}
