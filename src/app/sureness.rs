//! The dearer bands, worked out beside the window: of what turns with the work, of the depth before chatter, and of the
//! shape with the tool where it stands.
//!
//! The bands of size and spring are there in the frame in which the job changes; these come some frames later. What came
//! last stays until then: how far a band reaches is put round the curve that is shown, which is always of the job on the
//! desk, and a drag hardly changes it. The band of the shape is dear only while something is dragged: where there is none
//! yet of what is looked at, it is worked out at once.

use std::sync::Arc;

use super::worker::{Wake, Worker};
use crate::job::{Job, PassId, SetupId};
use crate::study::band::{DepthBand, ShapeBand, depth_band, shape_band, turning_bands};
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

/// What shape has a band, with the bands it is made from.
#[derive(Clone, Debug)]
pub struct ShapeOf {
    pub setup: SetupId,
    pub pass: Option<PassId>,
    /// Nothing where the tool is drawn back.
    pub tool_z_mm: Option<f64>,
    pub bands: Arc<JobBands>,
}

impl ShapeOf {
    fn is_same(&self, other: &Self) -> bool {
        self.is_of(other.setup, other.pass)
            && self.tool_z_mm == other.tool_z_mm
            && Arc::ptr_eq(&self.bands, &other.bands)
    }

    fn is_of(&self, setup: SetupId, pass: Option<PassId>) -> bool {
        (self.setup, self.pass) == (setup, pass)
    }

    fn band(&self, job: &Job) -> Option<ShapeBand> {
        shape_band(job, &self.bands, self.setup, self.pass, self.tool_z_mm).filter(ShapeBand::is_wide)
    }
}

/// What has been worked out.
#[derive(Clone, Debug, Default)]
pub struct DearBands {
    /// Of run-out.
    pub turning: Option<JobBands>,
    depths: Option<(PassId, DepthBand)>,
    shape: Option<(ShapeOf, ShapeBand)>,
}

impl DearBands {
    /// The band of the shape in a pass.
    #[must_use]
    pub fn shape(&self, setup: SetupId, pass: Option<PassId>) -> Option<&ShapeBand> {
        self.shape.as_ref().filter(|(of, _)| of.is_of(setup, pass)).map(|(_, band)| band)
    }

    /// The band of the depth before chatter along a pass.
    #[must_use]
    pub fn depths(&self, pass: PassId) -> Option<&DepthBand> {
        self.depths.as_ref().filter(|(of, _)| *of == pass).map(|(_, band)| band)
    }
}

type ShapeWorker = Worker<(Job, ShapeOf), (ShapeOf, Option<ShapeBand>)>;

/// Sees to the dearer bands of the job on the desk.
#[derive(Debug, Default)]
pub struct Sureness {
    worker: Option<Worker<Question, DearBands>>,
    asked: Option<Question>,
    shapes: Option<ShapeWorker>,
    shape_asked: Option<ShapeOf>,
}

impl Sureness {
    /// Sees to the band of the shape that is looked at; `None` where it is not shown.
    pub fn refresh_shape(&mut self, bands: &mut DearBands, job: &Job, looked_at: Option<ShapeOf>, wake: &Wake) {
        let come = self.shapes.as_ref().and_then(Worker::take);
        let Some(looked_at) = looked_at else {
            (bands.shape, self.shape_asked) = (None, None);
            return;
        };
        // While a drag goes on, an answer that was overtaken is nearer than the one before it; that there is no band is
        // believed of the newest question only.
        let is_newest = |of: &ShapeOf| self.shape_asked.as_ref().is_some_and(|asked| asked.is_same(of));
        if let Some((of, band)) = come.filter(|(of, band)| band.is_some() || is_newest(of)) {
            bands.shape = band.map(|band| (of, band));
        }
        if self.shape_asked.as_ref().is_some_and(|asked| asked.is_same(&looked_at)) {
            return;
        }
        if bands.shape(looked_at.setup, looked_at.pass).is_some() {
            let work = |(job, of): (Job, ShapeOf), _: &dyn Fn() -> bool| {
                let band = of.band(&job);
                Some((of, band))
            };
            let worker = self.shapes.get_or_insert_with(|| Worker::start("shape", wake.clone(), work));
            worker.ask((job.clone(), looked_at.clone()));
        } else {
            bands.shape = looked_at.band(job).map(|band| (looked_at.clone(), band));
        }
        self.shape_asked = Some(looked_at);
    }

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

    /// Something is still being worked out, or the window is yet to hear of it.
    #[must_use]
    pub fn is_busy(&self) -> bool {
        self.worker.as_ref().is_some_and(|worker| !worker.is_at_rest())
            || self.shapes.as_ref().is_some_and(|worker| !worker.is_at_rest())
    }
}

fn work(question: Question, keep_going: &dyn Fn() -> bool) -> Option<DearBands> {
    let Question { job, turning, depths_of } = question;
    let turning = if turning { turning_bands(&job, keep_going) } else { None };
    let depths = depths_of.and_then(|(setup, pass)| Some((pass, depth_band(&job, setup, pass, keep_going)?)));
    keep_going().then_some(DearBands { turning, depths, shape: None })
}
