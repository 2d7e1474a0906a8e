//! What the follower's jaws meet on their way: a shoulder, a taper, a feature, the chuck, the tailstock or a steady rest.
//!
//! Source: makers' notes on the follower rest (not across steps, tapers, keyways or flats); its own width on the side it
//! stands: geometry.

use super::why::Sketch;
use super::why::room::{apart, measured, of_reason};
use super::{Finding, Verdict, standing, words};
use crate::job::{FollowerSide, Job, Pass, PassKind, Setup, Subject};
use crate::study::JobResult;
use crate::study::reach::{Forbidden, Stretch, Why, follower_reach, follower_travel_mm};
use crate::study::task::repeated;

/// At most one finding a set-up: the pass in which its way is longest barred.
#[must_use]
pub fn findings(job: &Job, result: &JobResult) -> Vec<Finding> {
    job.setups.iter().filter_map(|setup| finding_of(job, result, setup)).collect()
}

fn finding_of(job: &Job, result: &JobResult, setup: &Setup) -> Option<Finding> {
    let side = setup.follower.as_ref()?.side;
    // Over a thread that is cut, or sprung, the jaws run on its crests.
    let along =
        setup.passes.iter().filter(|pass| matches!(repeated(setup, pass).kind, PassKind::Turn | PassKind::Spring));
    let met = along.filter_map(|pass| Some((pass, first_met(job, result, setup, pass)?)));
    let (pass, (at, why)) = met.max_by(|a, b| {
        let length_mm = |met: &(Stretch, Why)| met.0.to_mm - met.0.from_mm;
        length_mm(&a.1).total_cmp(&length_mm(&b.1))
    })?;
    let what = match side {
        FollowerSide::Behind => "what the tool has just cut",
        FollowerSide::Ahead => "the old surface",
    };
    let mut behind = measured("Where the middle of the follower's jaws cannot go, of the way it goes in this pass.");
    behind.sums.extend(of_reason(job, None, &why));
    let half_mm = job.lathe.follower_width_mm.value / 2.0;
    let mut lengths = vec![(at.from_mm, at.to_mm, "barred")];
    lengths.extend(follower_travel_mm(setup, pass).map(|travel| (travel.from_mm, travel.to_mm, "way of the jaws")));
    behind = behind
        .with(apart(job, "barred", "end of it \u{2212} its beginning, from the jaw face", at.to_mm, at.from_mm))
        .and(format!(
            "Half the follower's width, {}, counts to either side of its jaws.",
            words::length(half_mm, job.units)
        ))
        .drawn(Sketch::Lengths(lengths));
    Some(Finding {
        rule: "follower_path",
        about: Subject::Follower(setup.id),
        verdict: Verdict::Watch,
        text: format!(
            "{}: the follower cannot run from {}: {}",
            words::pass_name(job, setup, pass),
            standing::from_to(&at, job.units),
            standing::because(job, setup, &why)
        ),
        why: format!(
            "Its jaws, set on {what}, follow one straight diameter. Draw them back before that place, cut it without the \
             follower, or in another set-up."
        ),
        z_mm: Some(f64::midpoint(at.from_mm, at.to_mm)),
        remedy: None,
        behind,
    })
}

/// The longest stretch of the follower's way that is barred in a pass. Its jaws' range is told as a problem.
fn first_met(job: &Job, result: &JobResult, setup: &Setup, pass: &Pass) -> Option<(Stretch, Why)> {
    let travel = follower_travel_mm(setup, pass)?;
    let reach = follower_reach(job, result, setup.id, pass.id)?;
    let barred = |one: &Forbidden| {
        if matches!(one.why, Why::JawsTooSmall { .. } | Why::JawsCannotClose { .. }) {
            return None;
        }
        Some((Stretch::new(one.from_mm, one.to_mm).within(&travel)?, one.why))
    };
    let met = reach.forbidden.iter().filter_map(barred);
    met.max_by(|a, b| (a.0.to_mm - a.0.from_mm).total_cmp(&(b.0.to_mm - b.0.from_mm)))
}
