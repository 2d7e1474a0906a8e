//! The dearer bands, worked out beside the window: of what turns with the work, and of the depth before chatter.
//!
//! The bands of size, spring and shape are there in the frame in which the job changes; these come some frames later.
//! What came last stays until then: how far a band reaches is put round the curve that is shown, which is always of the
//! job on the desk, and a drag hardly changes it.

use super::worker::{Wake, Worker};
use crate::job::{Job, PassId, SetupId};
use crate::study::band::{DepthBand, depth_band, turning_bands};
use crate::study::{JobBands, JobResult};

/// What is to be worked out.
#[derive(Clone, Debug, PartialEq)]
struct Question {
    job: Job,
    /// The bands of run-out are looked at.
    turning: bool,
    /// The pass whose depth before chatter is looked at.
    depths_of: Option<(SetupId, PassId)>,
}

/// What has been worked out.
#[derive(Clone, Debug, Default)]
pub struct DearBands {
    /// Of run-out.
    pub turning: Option<JobBands>,
    depths: Option<(PassId, DepthBand)>,
}

impl DearBands {
    /// The band of the depth before chatter along a pass.
    #[must_use]
    pub fn depths(&self, pass: PassId) -> Option<&DepthBand> {
        self.depths.as_ref().filter(|(of, _)| *of == pass).map(|(_, band)| band)
    }
}

/// Sees to the dearer bands of the job on the desk.
#[derive(Debug, Default)]
pub struct Sureness {
    worker: Option<Worker<Question, DearBands>>,
    asked: Option<Question>,
}

impl Sureness {
    /// Asks for what is looked at, if that has changed, and puts what has come into `bands`. `wake` is called when more
    /// has come.
    pub fn refresh(
        &mut self,
        bands: &mut DearBands,
        (job, result): (&Job, &JobResult),
        turning: bool,
        depths_of: Option<(SetupId, PassId)>,
        wake: &Wake,
    ) {
        let turning = turning && result.setups.iter().flat_map(|setup| &setup.passes).any(|pass| pass.turns);
        if !turning {
            bands.turning = None;
        }
        if depths_of.is_none() {
            bands.depths = None;
        }
        if !turning && depths_of.is_none() {
            self.asked = None;
            return;
        }
        let is_asked = self
            .asked
            .as_ref()
            .is_some_and(|asked| asked.turning == turning && asked.depths_of == depths_of && asked.job == *job);
        if !is_asked {
            let question = Question { job: job.clone(), turning, depths_of };
            let worker = self.worker.get_or_insert_with(|| Worker::start("bands", wake.clone(), work));
            worker.ask(question.clone());
            self.asked = Some(question);
        }
        if let Some(answer) = self.worker.as_ref().and_then(Worker::take) {
            if turning {
                bands.turning = answer.turning;
            }
            if depths_of.is_some() {
                bands.depths = answer.depths;
            }
        }
    }

    /// Something is still being worked out.
    #[must_use]
    pub fn is_busy(&self) -> bool {
        self.worker.as_ref().is_some_and(Worker::is_busy)
    }
}

fn work(question: Question, keep_going: &dyn Fn() -> bool) -> Option<DearBands> {
    let Question { job, turning, depths_of } = question;
    let turning = if turning { turning_bands(&job, keep_going) } else { None };
    let depths = depths_of.and_then(|(setup, pass)| Some((pass, depth_band(&job, setup, pass, keep_going)?)));
    keep_going().then_some(DearBands { turning, depths })
}
