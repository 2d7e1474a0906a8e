//! What is worked out of the job for the screen, at once.

use std::sync::Arc;
use std::time::Instant;

use crate::app::comparing::ComparedAll;
use crate::app::sureness::DearBands;
use crate::app::{Results, View};
use crate::job::{Job, PassId, Rest, RestId, Setup, SetupId};
use crate::study::reach::{RestReach, rest_reach_beside_others};
use crate::{advice, study};

/// What the shape of the work hangs on besides the job.
pub type ShapeKey = (SetupId, Option<PassId>, f64);

pub fn shape_key(view: &View) -> ShapeKey {
    (view.setup, view.pass, view.tool_z_mm)
}

/// The work with the tool where it stands, and drawn back.
pub fn shapes(job: &Job, result: &study::JobResult, view: &View) -> (Option<study::Shape>, Option<study::Shape>) {
    let (setup, pass, tool_z_mm) = shape_key(view);
    let at_rest = study::shape_at(job, result, setup, pass, None);
    (study::shape_at(job, result, setup, pass, pass.map(|_| tool_z_mm)), at_rest)
}

/// Where every steady rest of the job may stand.
fn reaches(job: &Job, result: &study::JobResult) -> Vec<(RestId, RestReach)> {
    let of_setup = |setup: &Setup| {
        let id = setup.id;
        let reach = move |rest: &Rest| Some((rest.id, rest_reach_beside_others(job, result, id, rest.id)?));
        setup.rests.iter().filter_map(reach).collect::<Vec<_>>()
    };
    job.setups.iter().flat_map(of_setup).collect()
}

/// Everything that is shown of a job in the frame in which it changes.
pub fn compute(job: &Job, view: &View) -> Results {
    let started = Instant::now();
    let result = study::compute_with_bands(job);
    let (shape, at_rest) = shapes(job, &result, view);
    let coverage = study::coverage::coverage(job, &result);
    let findings = advice::findings_with(job, &result, &coverage);
    let reaches = reaches(job, &result);
    let compute_ms = started.elapsed().as_secs_f64() * 1e3;
    Results {
        job: job.clone(),
        result: Arc::new(result),
        shape,
        at_rest,
        findings,
        coverage,
        reaches,
        depths: None,
        promise: None,
        dear_bands: DearBands::default(),
        compared: ComparedAll::default(),
        compute_ms,
    }
}
