//! A cut shallower than the nose radius pushes the work sideways, whatever the entering angle.
//!
//! Source: Colwell's rule (Trans. ASME 76, 1954): the chip flows square to the chord of the engaged edge; with the
//! depth below the nose radius the chord lies along the work and most of the thrust becomes radial.

use super::size;
use super::why::sum::{Sum, number};
use super::why::{Sketch, Why};
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
                behind: Why::new(
                    "How deep the tool cuts on one side, against the round of its nose: which way the chip pushes.",
                    "across the chord of the engaged edge, after Colwell (1954)",
                    "read; tables of the push differ by some 40 %",
                )
                .with(Sum::figure(
                    "cut a side",
                    "what really comes off the diameter, where the cut is deepest \u{f7} 2",
                    format!("{} \u{f7} 2", number(deepest.real_depth_mm)),
                    words::diameter(a_side_mm, units),
                ))
                .with(Sum::figure(
                    "of the nose radius",
                    "cut a side \u{f7} nose radius: below 1 only the round of the tool cuts",
                    format!("{} \u{f7} {}", number(a_side_mm), number(nose_mm)),
                    format!("{:.2} times", a_side_mm / nose_mm),
                ))
                .with(Sum::figure(
                    "sideways against endways",
                    "push away \u{f7} feed force, both across the chord of the edge",
                    format!("{} \u{f7} {}", number(deepest.fp_n), number(deepest.ff_n)),
                    format!("{:.1} times", deepest.fp_n / deepest.ff_n),
                ))
                .drawn(Sketch::Chip {
                    depth_mm: a_side_mm,
                    feed_mm: computed.pass.feed_mm_per_rev,
                    nose_mm,
                    entering_rad: computed.setup.tool.entering_angle_rad,
                }),
            })
        })
        .collect()
}
