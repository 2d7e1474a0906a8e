//! Job in, results out: what every pass leaves, what every support feels, and the shape of the work at the tool.
//!
//! Pure functions of the job; nothing here is saved. [`compute`] carries the work's shape from pass to pass and from
//! set-up to set-up; [`shape_at`] solves one tool place for the bench and the end view.

pub mod results;
pub mod table;

pub use results::{JobResult, PassResult, Reaction, SetupResult, Shape, Station, Status, Support, Surface};

use crate::job::{Job, PassId, SetupId};

/// Computes every pass of every set-up, carrying the shape of the work through.
#[must_use]
pub fn compute(job: &Job) -> JobResult {
    let _ = job;
    JobResult { setups: Vec::new() }
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
    let _ = (job, result, setup, pass, tool_z_mm);
    None
}
