//! Where the follower's jaws may run in a pass, and where the pass takes them.
//!
//! Behind the tool they run on what the pass leaves, ahead of it on what it finds. A follower goes over no shoulder, taper
//! or feature (common practice, no source); its jaws count as wide as the whole follower.

use super::bed;
use super::ground::{Ground, Jaws};
use super::{Forbidden, RestReach, Stretch, Why, surface_or_stock};
use crate::job::{FollowerSide, Job, Pass, PassId, Setup, SetupId};
use crate::study::JobResult;
use crate::study::holding::follower_reach_mm;

/// Where the middle of the follower's jaws goes in a pass, from where it is brought on; `None` without a follower, or
/// where the pass ends sooner.
#[must_use]
pub fn follower_travel_mm(setup: &Setup, pass: &Pass) -> Option<Stretch> {
    let reach_mm = follower_reach_mm(setup, pass.feeds_to_headstock())?;
    let start_mm = setup.follower.as_ref()?.start_mm;
    let (low_mm, high_mm) = pass.span_mm();
    let tool = if pass.feeds_to_headstock() {
        Stretch::new(low_mm, high_mm - start_mm)
    } else {
        Stretch::new(low_mm + start_mm, high_mm)
    };
    tool.has_length().then(|| Stretch::new(tool.from_mm + reach_mm, tool.to_mm + reach_mm))
}

/// Where the follower's jaws may run in a pass; `None` where set-up, pass or follower is not there.
#[must_use]
pub fn follower_reach(job: &Job, result: &JobResult, setup: SetupId, pass: PassId) -> Option<RestReach> {
    let setup = job.setup(setup)?;
    setup.pass(pass)?;
    let follower = setup.follower.as_ref()?;
    let computed = result.pass(pass).map(|computed| match follower.side {
        FollowerSide::Behind => &*computed.after,
        FollowerSide::Ahead => &*computed.before,
    });
    let surface = surface_or_stock(job, computed);
    let lathe = &job.lathe;
    let half_mm = lathe.follower_width_mm.value / 2.0;
    let jaws = Jaws {
        half_mm,
        beside_mm: 0.0,
        smallest_mm: lathe.follower_min_diameter_mm.value,
        largest_mm: lathe.follower_max_diameter_mm.value,
        may_be_spotted: false,
    };
    let whole = bed::whole(job, setup);
    let mut forbidden = Ground::of(job, result, setup, &surface).bare(job, setup, &jaws);
    forbidden.push(bed::in_the_drive(setup, half_mm, &whole));
    if let Some(face_mm) = bed::tailstock_face_mm(job, setup) {
        let why = Why::Tailstock {
            face_mm,
            half_base_mm: half_mm,
            quill_out_mm: setup.tail.quill_out_mm,
            quill_travel_mm: lathe.quill_travel_mm.value,
        };
        forbidden.push(Forbidden { from_mm: face_mm - half_mm, to_mm: whole.to_mm, why });
    }
    let half_jaw_mm = lathe.rest_jaw_width_mm.value / 2.0;
    forbidden.extend(setup.rests.iter().map(|rest| Forbidden {
        from_mm: rest.z_mm - half_jaw_mm - half_mm,
        to_mm: rest.z_mm + half_jaw_mm + half_mm,
        why: Why::OtherRest(rest.id),
    }));
    Some(RestReach::of(whole, Vec::new(), forbidden))
}
