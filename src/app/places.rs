//! The best places of the rests of the set-up looked at, worked out beside the window while their list is shown.
//!
//! One question is asked at a time: what the set-up comes to as it stands, then the best places of no, one, two and three
//! rests. A list stays until the next one replaces it line by line; moving the rests about does not outdate it.

use std::sync::Arc;

use super::worker::{Wake, Worker};
use super::{Selected, View};
use crate::job::{Edit, Job, RestId, SetupId, TailKind};
use crate::study::placement::{Answer, Ask, Deepest, Measure, Placing, Trial, best_places, deepest, value_now};

/// The most rests that are tried.
pub const MOST_RESTS: usize = 3;

/// What the list hangs on: a job in which the rests of the set-up stand nowhere in particular.
#[derive(Clone, Debug, PartialEq)]
struct About {
    job: Job,
    wanted: Wanted,
}

/// What is looked for, and where.
#[derive(Clone, Copy, Debug, PartialEq)]
struct Wanted {
    setup: SetupId,
    measure: Measure,
    follower: bool,
    tailstock: bool,
}

impl Wanted {
    fn of(job: &Job, view: &View) -> Option<Self> {
        let setup = job.setup(view.setup)?;
        let follower = view.with_follower.unwrap_or(setup.follower.is_some());
        let tailstock = view.with_tailstock.unwrap_or(setup.tail.kind != TailKind::Free);
        Some(Self { setup: setup.id, measure: view.measure, follower, tailstock })
    }

    fn ask(&self, job: &Job) -> Option<Ask> {
        Ask::of(job, self.setup, self.measure, Some(self.follower), Some(self.tailstock))
    }
}

/// The set-up as it stands.
#[derive(Clone, Debug, PartialEq)]
pub struct AsItStands {
    /// By the measure, and whether that is a share of the tolerance; nothing where nothing is turned.
    pub value: Option<(f64, bool)>,
    pub deepest: Option<Deepest>,
}

/// What it is asked for.
#[derive(Clone, Debug, PartialEq)]
struct Stand {
    job: Job,
    setup: SetupId,
    measure: Measure,
}

enum Question {
    AsItStands(Arc<Stand>),
    Best(Arc<About>, usize),
}

enum Said {
    AsItStands(Arc<Stand>, AsItStands),
    Best(Arc<About>, usize, Option<Answer>),
}

/// The list, and the thread that works it out.
#[derive(Default)]
pub struct Places {
    wake: Wake,
    worker: Option<Worker<Question, Said>>,
    about: Option<Arc<About>>,
    answers: Vec<Answer>,
    /// So many of the answers are about what is looked at now.
    n_fresh: usize,
    stands: Option<(Arc<Stand>, AsItStands)>,
    stopped: bool,
}

impl Places {
    /// With a window to be told of answers.
    #[must_use]
    pub fn new(wake: Wake) -> Self {
        Self { wake, ..Self::default() }
    }

    /// Takes what has been worked out, and asks for what is missing while the list is shown.
    pub fn keep_up(&mut self, job: &Job, view: &View) {
        while let Some(said) = self.worker.as_ref().and_then(Worker::take) {
            self.hear(said);
        }
        let wanted = (view.selected == Selected::Places).then(|| Wanted::of(job, view)).flatten();
        let Some(wanted) = wanted else {
            self.worker.iter().for_each(Worker::call_off);
            return;
        };
        let Some(about) = without_places(job, wanted) else { return };
        if self.about.as_deref() != Some(&about) {
            let other = self.about.as_ref().is_none_or(|old| {
                (old.wanted.setup, old.wanted.measure, &old.job.shaft) != (wanted.setup, wanted.measure, &job.shaft)
            });
            if other {
                // Another list, not the same one anew.
                self.answers.clear();
            }
            self.about = Some(Arc::new(about));
            (self.n_fresh, self.stopped) = (0, false);
            self.worker.iter().for_each(Worker::call_off);
        }
        let Wanted { setup, measure, .. } = wanted;
        let is_same = |asked: &Stand| (&asked.job, asked.setup, asked.measure) == (job, setup, measure);
        let next = if !self.stands.as_ref().is_some_and(|(asked, _)| is_same(asked)) {
            Some(Question::AsItStands(Arc::new(Stand { job: job.clone(), setup, measure })))
        } else {
            self.about.as_ref().zip(self.under_way()).map(|(about, n_rests)| Question::Best(Arc::clone(about), n_rests))
        };
        let wake = &self.wake;
        let worker = self.worker.get_or_insert_with(|| Worker::start("best places", wake.clone(), answer));
        if let Some(next) = next.filter(|_| !self.stopped && !worker.is_busy()) {
            worker.ask(next);
        }
    }

    fn hear(&mut self, said: Said) {
        match said {
            Said::AsItStands(asked, stands) => self.stands = Some((asked, stands)),
            Said::Best(about, n_rests, answer) => {
                if self.about.as_ref().is_none_or(|now| !Arc::ptr_eq(now, &about)) || n_rests != self.n_fresh {
                    return;
                }
                let none = Answer { n_rests, has_limits: false, told: Vec::new(), deepest: None };
                let answer = answer.unwrap_or(none);
                match self.answers.get_mut(n_rests) {
                    Some(old) => *old = answer,
                    None => self.answers.push(answer),
                }
                self.n_fresh += 1;
            }
        }
    }

    /// For no, one, two and three rests, as far as they are worked out; true where the answer is about the job as it is.
    pub fn answers(&self) -> impl Iterator<Item = (&Answer, bool)> {
        self.answers.iter().enumerate().map(|(n_rests, answer)| (answer, n_rests < self.n_fresh))
    }

    /// The answers about the job as it is.
    #[must_use]
    pub fn fresh(&self) -> &[Answer] {
        &self.answers[..self.n_fresh]
    }

    /// What the set-up comes to as it stands, or stood a moment ago.
    #[must_use]
    pub fn as_it_stands(&self) -> Option<&AsItStands> {
        let (asked, stands) = self.stands.as_ref()?;
        let about = self.about.as_ref()?;
        ((asked.setup, asked.measure) == (about.wanted.setup, about.wanted.measure)).then_some(stands)
    }

    /// Nothing is turned along the work, so that there is nothing to look for.
    #[must_use]
    pub fn nothing_is_turned(&self) -> bool {
        self.as_it_stands().is_some_and(|stands| stands.value.is_none())
    }

    /// The number of rests being looked into, if any.
    #[must_use]
    pub fn under_way(&self) -> Option<usize> {
        let is_wanted = !self.stopped && self.about.is_some() && !self.nothing_is_turned();
        (is_wanted && self.n_fresh <= MOST_RESTS).then_some(self.n_fresh)
    }

    /// The list is about work held by the tailstock.
    #[must_use]
    pub fn has_tailstock(&self) -> bool {
        self.about.as_ref().is_some_and(|about| about.wanted.tailstock)
    }

    /// Something is still to come.
    #[must_use]
    pub fn is_busy(&self) -> bool {
        self.under_way().is_some() || self.worker.as_ref().is_some_and(Worker::is_busy)
    }

    /// Gives up until something changes, or goes on.
    pub fn stop(&mut self, stopped: bool) {
        self.stopped = stopped;
        if stopped {
            self.worker.iter().for_each(Worker::call_off);
        }
    }

    /// It was told to give up.
    #[must_use]
    pub fn is_stopped(&self) -> bool {
        self.stopped
    }

    /// The change that sets the job up like one of the list.
    #[must_use]
    pub fn edit(&self, job: &Job, placing: &Placing) -> Option<Edit> {
        let wanted = self.about.as_ref()?.wanted;
        placing.edit(job, wanted.setup, wanted.follower, wanted.tailstock)
    }
}

/// The job up to the set-up, held as is wanted, its rests all at the jaw face; rests like those before them are left
/// out, since more of the last one's kind are added as they are needed.
fn without_places(job: &Job, wanted: Wanted) -> Option<About> {
    let n_rests = job.setup(wanted.setup)?.rests.len().max(1);
    let mut trial = Trial::new(job, wanted.setup, n_rests, wanted.follower, wanted.tailstock)?;
    let rests = &mut trial.job.setups.last_mut()?.rests;
    for rest in rests.iter_mut() {
        (rest.id, rest.z_mm) = (RestId(0), 0.0);
    }
    while rests.len() > 1 && rests[rests.len() - 1] == rests[rests.len() - 2] {
        rests.pop();
    }
    trial.job.next_id = 0;
    Some(About { job: trial.job, wanted })
}

fn answer(question: Question, keep_going: &dyn Fn() -> bool) -> Option<Said> {
    let said = match question {
        Question::AsItStands(asked) => {
            let Stand { job, setup, measure } = &*asked;
            let value = value_now(job, *setup, *measure, &|_| keep_going());
            let deepest = Trial::as_it_is(job, *setup).and_then(|trial| deepest(&trial, keep_going));
            Said::AsItStands(asked, AsItStands { value, deepest })
        }
        Question::Best(about, n_rests) => {
            let ask = about.wanted.ask(&about.job);
            let answer = ask.and_then(|ask| best_places(&about.job, &ask, n_rests, &|_| keep_going()));
            Said::Best(about, n_rests, answer)
        }
    };
    keep_going().then_some(said)
}
