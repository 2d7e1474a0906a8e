//! The follower rest: brought on, and set again.

use super::{Holding, Step};
use crate::job::{FollowerSide, PassKind, TailKind};

pub(super) fn steps(here: &Holding<'_>) -> Vec<Step> {
    let Some(follower) = &here.setup.follower else { return Vec::new() };
    let from_tail = here.setup.tail.kind != TailKind::Free;
    let near = if from_tail { "near the centre" } else { "near the support" };
    let distance = here.length(follower.distance_mm);
    let mut steps = vec![match follower.side {
        FollowerSide::Behind => Step::new(
            "follower",
            format!(
                "Follower on the saddle, jaws {distance} behind the tool. Turn {} {near}, stop; bring the rear jaw, then the top \
                 jaw to touch the fresh surface, {} of feeler or an oil film at each; lock, oil.",
                here.length(follower.start_mm.max(follower.distance_mm + 10.0)),
                here.feeler()
            ),
            "The cut pushes the work away and lifts it: the jaws stand there and rely on the cut. Textbooks and makers' \
             manuals on follower rests.",
        ),
        FollowerSide::Ahead => Step::new(
            "follower",
            format!(
                "Follower on the saddle, jaws {distance} ahead of the tool on the old surface, which must be true and parallel. \
                 Rear and top jaw to touch {near}, {} of feeler or an oil film at each; lock, oil.",
                here.feeler()
            ),
            "Ahead of the tool the jaws copy what is wrong with the old surface. Old shop treatises.",
        ),
    }];
    steps.push(Step::new(
        "feed on",
        "Do not stop the feed while the follower carries: draw the tool back first.",
        "Without the cut the work leaves the jaws, and a shallow groove shows. Practitioners' accounts.",
    ));
    let passes = &here.setup.passes;
    let n_turned = passes.iter().filter(|pass| pass.kind == PassKind::Turn).count();
    if n_turned > 1 && follower.side == FollowerSide::Behind {
        steps.push(Step::new(
            "follower again",
            "Set the follower's jaws again on the fresh surface after each turning pass; not after a spring pass.",
            "The work is smaller by the cut, and jaws set on the old size would not touch. Common practice, no source.",
        ));
    }
    if passes.iter().any(|pass| pass.kind == PassKind::Thread) {
        steps.push(Step::new(
            "follower thread",
            "Thread: set the follower once, on the crests, before its first pass. Take the burrs off between passes.",
            "The crests do not change from pass to pass; a burr lifts the jaws and is copied. Common practice, no source.",
        ));
    }
    steps
}
