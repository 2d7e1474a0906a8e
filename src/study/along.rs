//! Force along the work in a pass, or with the tool drawn back, and the warmth behind it: what notes and advice tell.
//!
//! The very figures the bending is computed with ([`super::axial`], [`super::heat`]): one feed force for a whole pass.

use super::axial::{Axial, axial};
use super::heat::Warmth;
use super::layout::Fineness;
use super::outline::Outline;
use super::prepared::Scene;
use super::results::JobResult;
use crate::job::{Job, PassId, PassKind, SetupId};

/// What acts along the work.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Along {
    pub warmth: Warmth,
    pub axial: Axial,
}

/// What acts along the work in a pass; with the tool drawn back for `None` and for passes that do not turn. `None` where
/// the set-up, the pass or its result is not there, or the work has no length to bend.
#[must_use]
pub fn along(job: &Job, result: &JobResult, setup: SetupId, pass: Option<PassId>) -> Option<Along> {
    let setup = job.setup(setup)?;
    let computed = result.setup(setup.id)?;
    let scene = Scene::new(job, setup, &Outline::of(&computed.before, &job.shaft, setup), Fineness::USUAL)?;
    let (pass, before) = match pass {
        Some(id) => (Some(setup.pass(id)?), &result.pass(id)?.before),
        None => (None, &computed.before),
    };
    let pass = pass.filter(|pass| matches!(pass.kind, PassKind::Turn | PassKind::Spring));
    let cut = pass.and_then(|pass| scene.cut_span(pass));
    let outline = Outline::of(before, &job.shaft, setup);
    Some(Along { warmth: scene.warmth, axial: axial(&scene, &outline, pass, cut) })
}
