//! Job in, results out: what every pass leaves, what every support feels, and the shape of the work at the tool.
//!
//! Pure functions of the job; nothing here is saved. [`compute`] carries the work's shape from pass to pass and from
//! set-up to set-up; [`shape_at`] solves one tool place for the bench and the end view.

pub mod allowed;
pub mod along;
pub mod axial;
pub mod band;
pub mod bearing_spot;
pub mod bent;
pub mod between;
pub mod bore;
pub mod compared;
pub mod coverage;
pub mod end_work;
pub mod feed_marks;
pub mod force;
pub mod heat;
pub mod holding;
pub mod jaw_contact;
pub mod layout;
pub mod lively;
pub mod machine;
pub mod outline;
pub mod placement;
pub mod plan;
pub mod point_cut;
pub mod prepared;
pub mod reach;
pub mod results;
pub mod shape;
pub mod sweep;
pub mod table;
pub mod task;
pub mod thread;
pub mod turning;

use std::sync::Arc;

use crate::job::{Job, Pass, PassId, PassKind, Setup, SetupId};
use task::{Task, repeated};

pub use band::{JobBands, PassBand};
use force::Factors;
pub use layout::Fineness;
use outline::{Outline, stock_surface};
use prepared::Scene;
pub use results::{
    EndWork, JobResult, Measured, PassResult, Plunge, Reaction, SetupResult, Shape, Span, Station, Status, Support,
    Surface, Turned,
};

/// Computes every pass of every set-up, carrying the shape of the work through.
#[must_use]
pub fn compute(job: &Job) -> JobResult {
    compute_at(job, Fineness::USUAL)
}

/// As [`compute`], with the band round every curve; its members are computed on a thread of their own beside the curves.
#[must_use]
pub fn compute_with_bands(job: &Job) -> JobResult {
    let members = || band::Cases::of(job, &band::Sample::USUAL, &|| true);
    let (mut result, cases) = std::thread::scope(|scope| {
        let beside = std::thread::Builder::new().name("bands".to_owned()).spawn_scoped(scope, members);
        let result = compute(job);
        let cases = match beside {
            Ok(beside) => beside.join().unwrap_or_else(|panic| std::panic::resume_unwind(panic)),
            // No thread is to be had: one after the other.
            Err(_) => members(),
        };
        (result, cases)
    });
    result.bands = cases.map(|cases| Arc::new(cases.around(&result)));
    result
}

/// As [`compute`], with stations and nodes as close as asked for.
#[must_use]
pub fn compute_at(job: &Job, fineness: Fineness) -> JobResult {
    compute_varied(job, fineness, Factors::ONE, &mut sweep::Room::default())
}

/// As [`compute_at`], with the force of the chip so many times larger; reuses the memory in `room`.
#[must_use]
pub fn compute_varied(job: &Job, fineness: Fineness, factors: Factors, room: &mut sweep::Room) -> JobResult {
    let mut surface = Arc::new(stock_surface(&job.shaft));
    let mut setups = Vec::with_capacity(job.setups.len());
    for setup in &job.setups {
        let computed = compute_setup(job, setup, &surface, fineness, factors, room);
        surface.clone_from(computed.after());
        setups.push(computed);
    }
    JobResult { setups, bands: None }
}

/// The passes of one set-up of the job, into which the work comes with this surface.
fn compute_setup(
    job: &Job,
    setup: &Setup,
    before: &Arc<Surface>,
    fineness: Fineness,
    factors: Factors,
    room: &mut sweep::Room,
) -> SetupResult {
    let material = job.material();
    let mut outline = Outline::of(before, &job.shaft, setup);
    let scene = Scene::new(job, setup, &outline, fineness).map(|scene| Scene { factors, ..scene });
    let mut passes: Vec<PassResult> = Vec::with_capacity(setup.passes.len());
    for (index, pass) in setup.passes.iter().enumerate() {
        let surface = passes.last().map_or(before, |last| &last.after);
        let result = match &scene {
            Some(scene) => {
                let last_mm = last_depth_mm(setup, index, &passes);
                sweep::sweep(scene, &outline, surface, &material, pass, last_mm, room)
            }
            None => nothing_held(pass, setup, surface),
        };
        outline = Outline::of(&result.after, &job.shaft, setup);
        passes.push(result);
    }
    SetupResult { setup: setup.id, before: before.clone(), passes }
}

/// The work bent with the tool of `pass` at `tool_z_mm` (kept within the pass), or with the tool drawn back where
/// `tool_z_mm` is `None`. `pass` `None` means the work as it comes into the set-up, tool drawn back.
///
/// Gives `None` where the set-up or pass is not there or nothing can be solved.
#[must_use]
pub fn shape_at(
    job: &Job,
    result: &JobResult,
    setup: SetupId,
    pass: Option<PassId>,
    tool_z_mm: Option<f64>,
) -> Option<Shape> {
    shape_of(job, result, setup, pass, tool_z_mm, Fineness::USUAL, Factors::ONE)
}

/// As [`shape_at`], for a result computed so finely and with the force of the chip so many times larger.
fn shape_of(
    job: &Job,
    result: &JobResult,
    setup: SetupId,
    pass: Option<PassId>,
    tool_z_mm: Option<f64>,
    fineness: Fineness,
    factors: Factors,
) -> Option<Shape> {
    let setup = job.setup(setup)?;
    let computed = result.setup(setup.id)?;
    let scene = Scene::new(job, setup, &Outline::of(&computed.before, &job.shaft, setup), fineness)?;
    let scene = Scene { factors, ..scene };
    let Some(pass) = pass else { return shape::at_rest(&scene, &computed.before) };
    let index = setup.passes.iter().position(|candidate| candidate.id == pass)?;
    let (pass, computed_pass) = (&setup.passes[index], computed.passes.get(index)?);
    let Some(z_mm) = tool_z_mm else { return shape::at_rest(&scene, &computed_pass.before) };
    let last_depth_mm = last_depth_mm(setup, index, &computed.passes);
    let outline = Outline::of(&computed_pass.before, &job.shaft, setup);
    let (scene, outline, material) = (&scene, &outline, &job.material());
    let task = Task { scene, outline, material, pass, last_depth_mm };
    // A pass that cuts nothing leaves the work as it lies.
    let idle = || (computed_pass.status == Status::NothingToCut).then(|| shape::at_rest(scene, &computed_pass.before));
    shape::in_cut(&task, computed_pass, z_mm).or_else(|| idle().flatten())
}

/// Radial depth the dial asked for in the last pass before `index` that moved the dial which this pass uses, at the
/// middle of that pass; 0 if there is none.
fn last_depth_mm(setup: &Setup, index: usize, results: &[PassResult]) -> f64 {
    let kind = match repeated(setup, &setup.passes[index]).kind {
        kind @ (PassKind::Thread | PassKind::Bore) => kind,
        _ => PassKind::Turn,
    };
    let last = (setup.passes[..index].iter().zip(results).rev())
        .find(|(pass, result)| pass.kind == kind && !result.stations.is_empty());
    last.map_or(0.0, |(_, result)| {
        let middle = &result.stations[result.stations.len() / 2];
        let asked_mm = (middle.old_diameter_mm - middle.wanted_diameter_mm) / 2.0;
        if kind == PassKind::Bore { -asked_mm } else { asked_mm }.max(0.0)
    })
}

/// The result of a pass on work that has no length to bend.
fn nothing_held(pass: &Pass, setup: &Setup, surface: &Arc<Surface>) -> PassResult {
    PassResult {
        pass: pass.id,
        status: Status::NotHeld,
        stations: Vec::new(),
        supports: holding::supports(setup),
        forces_n: Vec::new(),
        before: surface.clone(),
        behind: None,
        turns: false,
        after: surface.clone(),
        measured: Measured::Nothing,
        plunge: None,
        end: None,
    }
}
