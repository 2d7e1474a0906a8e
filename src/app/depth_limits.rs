//! The depth before chatter along the pass looked at, while its curve is shown. With a follower it is dear, so it is
//! worked out beside the window, the last answer staying until the next; only where there is none yet of this pass is it
//! worked out at once.

use std::sync::Arc;

use super::Results;
use super::worker::{Wake, Worker};
use crate::job::{Job, PassId, SetupId};
use crate::study::JobResult;
use crate::study::lively::{DepthLimit, depth_limits};

/// Limits of depth along one pass.
#[derive(Clone, Debug, PartialEq)]
pub struct Depths {
    pub pass: PassId,
    pub limits: Vec<DepthLimit>,
}

/// A pass of a computed job.
struct Question {
    job: Job,
    result: Arc<JobResult>,
    setup: SetupId,
    pass: PassId,
}

impl Question {
    fn answer(&self) -> Depths {
        let Self { job, result, setup, pass } = self;
        let limits = depth_limits(job, result, *setup, *pass, job.spread.damping_ratio.value, &|| true);
        Depths { pass: *pass, limits }
    }
}

/// Sees to the limits of the pass looked at.
#[derive(Debug, Default)]
pub struct DepthLimits {
    worker: Option<Worker<Question, Depths>>,
    /// For which pass of which results they were worked out last, or asked for.
    asked: Option<(Arc<JobResult>, PassId)>,
}

impl DepthLimits {
    /// Brings the limits in `results` up to date, or asks for them; `wake` is called when they have come. `looked_at` is
    /// `None` where they are not shown.
    pub fn refresh(&mut self, results: &mut Results, looked_at: Option<(SetupId, PassId)>, wake: &Wake) {
        let come = self.worker.as_ref().and_then(Worker::take);
        let Some((setup, pass)) = looked_at else {
            (results.depths, self.asked) = (None, None);
            return;
        };
        if let Some(come) = come.filter(|come| come.pass == pass) {
            results.depths = Some(come);
        }
        let is_of = |(result, of): &(_, _)| Arc::ptr_eq(result, &results.result) && *of == pass;
        if self.asked.as_ref().is_some_and(is_of) {
            return;
        }
        self.asked = Some((Arc::clone(&results.result), pass));
        let question = Question { job: results.job.clone(), result: Arc::clone(&results.result), setup, pass };
        if results.depths.as_ref().is_some_and(|depths| depths.pass == pass) {
            let start = || Worker::start("depths", wake.clone(), |question: Question, _| Some(question.answer()));
            self.worker.get_or_insert_with(start).ask(question);
        } else {
            results.depths = Some(question.answer());
        }
    }

    /// Something is still being worked out, or the window is yet to hear of it.
    #[must_use]
    pub fn is_busy(&self) -> bool {
        self.worker.as_ref().is_some_and(|worker| !worker.is_at_rest())
    }
}
