//! What the steady rest looked at would come to wherever it may stand: by size and springiness in the frame in which
//! something changes, by the depth before chatter beside the window, the last answer staying until the next.

use super::worker::{Wake, Worker};
use super::{Results, View, rails};
use crate::job::{Job, RestId, SetupId};
use crate::study;
use crate::study::placement::{Measure, Strip, strip};
use crate::study::reach::Stretch;

/// Places of a strip are so far apart; nearer on short work, and on long work so that there are not too many.
const STEP_MM: f64 = 2.0;
const FEW_PLACES: f64 = 200.0;
const MANY_PLACES: f64 = 750.0;

/// A rest judged by a measure all along the work. Moving the rest does not outdate it.
#[derive(Clone, Debug)]
pub struct Promise {
    about: About,
    /// Nothing where nothing is turned, or none has come yet.
    pub strip: Option<Strip>,
    /// A newer one is being worked out.
    pub is_awaited: bool,
}

impl Promise {
    /// By what it is judged.
    #[must_use]
    pub fn measure(&self) -> Measure {
        self.about.measure
    }
}

/// What a strip hangs on.
#[derive(Clone, Debug, PartialEq)]
struct About {
    /// The job with the rest at the jaw face.
    job: Job,
    setup: SetupId,
    rest: RestId,
    measure: Measure,
}

struct Question {
    about: About,
    /// The job as it is.
    job: Job,
    allowed: Vec<Stretch>,
}

type Answer = (About, Option<Strip>);

/// Sees to the strip of the rest looked at.
#[derive(Debug, Default)]
pub struct Promised {
    worker: Option<Worker<Question, Answer>>,
}

impl Promised {
    /// Brings the strip in `results` up to date, or asks for it; `wake` is called when it has come.
    pub fn refresh(&mut self, results: &mut Results, job: &Job, view: &View, wake: &Wake) {
        let come = self.worker.as_ref().and_then(Worker::take);
        let Some(about) = About::of(job, view) else {
            results.promise = None;
            return;
        };
        // While a drag goes on, an answer that was overtaken is nearer than the one before it.
        if let (Some((of, strip)), Some(promise)) = (come, &mut results.promise)
            && of.looks_like(&promise.about)
        {
            (promise.is_awaited, promise.strip) = (of != promise.about, strip);
        }
        if results.promise.as_ref().is_some_and(|promise| promise.about == about) {
            return;
        }
        let allowed = results.reach(about.rest).map_or(&[][..], |reach| &reach.allowed);
        if about.measure != Measure::Chatter {
            let strip = about.strip(job, &results.result, allowed);
            results.promise = Some(Promise { about, strip, is_awaited: false });
            return;
        }
        let question = Question { about: about.clone(), job: job.clone(), allowed: allowed.to_vec() };
        let start = || {
            Worker::start("promise", wake.clone(), |Question { about, job, allowed }: Question, _| {
                let strip = about.strip(&job, &study::compute(&job), &allowed);
                Some((about, strip))
            })
        };
        self.worker.get_or_insert_with(start).ask(question);
        let last = results.promise.take().filter(|promise| promise.about.looks_like(&about));
        results.promise = Some(Promise { about, strip: last.and_then(|last| last.strip), is_awaited: true });
    }

    /// Something is still being worked out, or the window is yet to hear of it.
    #[must_use]
    pub fn is_busy(&self) -> bool {
        self.worker.as_ref().is_some_and(|worker| !worker.is_at_rest())
    }
}

impl About {
    fn of(job: &Job, view: &View) -> Option<Self> {
        let setup = job.setup(view.setup)?;
        let rest = rails::steady_shown(setup, view)?;
        let mut without = job.clone();
        let rests = without.setups.iter_mut().flat_map(|setup| &mut setup.rests);
        rests.filter(|one| one.id == rest).for_each(|one| one.z_mm = 0.0);
        Some(Self { job: without, setup: setup.id, rest, measure: view.measure })
    }

    /// The same rest by the same measure.
    fn looks_like(&self, other: &Self) -> bool {
        (self.rest, self.measure) == (other.rest, other.measure)
    }

    fn strip(&self, job: &Job, result: &study::JobResult, allowed: &[Stretch]) -> Option<Strip> {
        let length_mm: f64 = allowed.iter().map(|stretch| stretch.to_mm - stretch.from_mm).sum();
        let step_mm = (length_mm / FEW_PLACES).clamp(1.0, STEP_MM).max(length_mm / MANY_PLACES);
        strip(job, result, self.setup, self.rest, allowed, step_mm, self.measure)
    }
}
