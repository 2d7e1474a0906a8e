//! Works pinned arrangements out beside the window, once each, and keeps what the bench, the curves and the table of
//! arrangements show of them. While anything is dragged, what came last stays until it is let go.

use std::sync::{Arc, Mutex, PoisonError};

use super::View;
use super::worker::{Wake, Worker};
use crate::advice::compared::{Row, Told, rows, usual_name};
use crate::job::pins::{Arrangement, LETTERS, Pins};
use crate::job::{Job, PassId, Setup, SetupId};
use crate::study::{PassResult, Shape, shape_at};

/// What is shown of arrangements.
#[derive(Clone, Debug, Default)]
pub struct ComparedAll {
    /// In the order of their letters.
    pub pinned: Vec<Pinned>,
    /// The present one, while the table is open.
    pub present: Option<Arc<Told>>,
    /// What the present one is called, and whether that is by what it looks like.
    pub present_name: Name,
    /// The table: the present arrangement first, then the pinned ones. Empty while it is shut.
    pub rows: Vec<Row>,
    /// Something in the table is of before the last change.
    pub is_stale: bool,
}

/// A pinned arrangement as far as it is worked out.
#[derive(Clone, Debug)]
pub struct Pinned {
    /// Counted from 0.
    pub letter: usize,
    pub name: Name,
    /// What was worked out of it, for the job as it is or as it was a moment ago.
    pub told: Option<Arc<Told>>,
    /// What of it is looked at.
    pub setup: Option<SetupId>,
    pub pass: Option<PassId>,
    /// The work with the tool at its present place.
    pub shape: Option<Shape>,
}

/// What an arrangement is called.
#[derive(Clone, Debug, PartialEq, Eq, Default)]
pub struct Name {
    /// What the user calls it; empty where nobody named it.
    pub given: String,
    /// What it is called then.
    pub usual: String,
}

impl Name {
    /// The one that is shown.
    #[must_use]
    pub fn shown(&self) -> &str {
        if self.given.is_empty() { &self.usual } else { &self.given }
    }
}

impl Pinned {
    /// Its letter.
    #[must_use]
    pub fn letter(&self) -> &'static str {
        LETTERS[self.letter]
    }

    /// The set-up looked at.
    #[must_use]
    pub fn setup(&self) -> Option<&Setup> {
        self.told.as_ref()?.of.job.setup(self.setup?)
    }

    /// What the pass looked at came to.
    #[must_use]
    pub fn pass(&self) -> Option<&PassResult> {
        self.told.as_ref()?.of.result.pass(self.pass?)
    }
}

/// Sees to the arrangements of the job on the desk.
#[derive(Debug, Default)]
pub struct Comparing {
    worker: Option<Worker<Vec<Job>, Vec<Arc<Told>>>>,
    /// What was asked for last: the pinned ones, then the present one where the table is open.
    asked: Vec<Job>,
    answer: Vec<Arc<Told>>,
    /// What the shown things were drawn up for.
    drawn_up: Option<DrawnUp>,
}

#[derive(Debug, PartialEq)]
struct DrawnUp {
    pins: Pins,
    comparing: bool,
    job: Option<Job>,
}

impl Comparing {
    /// Brings what is shown up to date; at no cost while nothing is pinned and the table is shut.
    pub fn refresh(
        &mut self,
        shown: &mut ComparedAll,
        (job, pins): (&Job, &Pins),
        view: &View,
        (is_same_look, in_gesture): (bool, bool),
        wake: &Wake,
    ) {
        if pins.is_empty() && !view.comparing {
            if self.drawn_up.take().is_some() {
                *shown = ComparedAll::default();
                (self.asked, self.answer) = (Vec::new(), Vec::new());
            }
            return;
        }
        let is_drawn_up = |drawn: &DrawnUp| (&drawn.pins, drawn.comparing) == (pins, view.comparing);
        if in_gesture && is_same_look && self.drawn_up.as_ref().is_some_and(is_drawn_up) {
            // What is dragged has the whole machine; the table catches up when it is let go.
            shown.is_stale = true;
            return;
        }
        let mut wanted: Vec<Job> = pins.all().map(|(_, pin)| pin.job(job)).collect();
        if view.comparing {
            wanted.push(Arrangement::of(job, "").job(job));
        }
        if wanted != self.asked {
            let worker = self.worker.get_or_insert_with(|| Worker::start("comparing", wake.clone(), work()));
            worker.ask(wanted.clone());
            self.asked = wanted;
            shown.is_stale = true;
        }
        let has_come = match self.worker.as_ref().and_then(Worker::take) {
            Some(answer) => {
                self.answer = answer;
                true
            }
            None => false,
        };
        // The job counts only in the table: moving a rest leaves the overlays as they are.
        let now = DrawnUp { pins: pins.clone(), comparing: view.comparing, job: view.comparing.then(|| job.clone()) };
        if has_come || !is_same_look || self.drawn_up.as_ref() != Some(&now) {
            self.draw_up(shown, (job, pins), view);
            self.drawn_up = Some(now);
        }
    }

    /// Something is still being worked out, or the window is yet to hear of it.
    #[must_use]
    pub fn is_busy(&self) -> bool {
        self.worker.as_ref().is_some_and(|worker| !worker.is_at_rest())
    }

    fn draw_up(&self, shown: &mut ComparedAll, (job, pins): (&Job, &Pins), view: &View) {
        let find = |of: &Job| self.answer.iter().find(|told| told.of.job == *of).cloned();
        let old = std::mem::take(&mut shown.pinned);
        let tool_z_mm = view.pass.map(|_| view.tool_z_mm);
        let mut is_stale = false;
        shown.pinned = pins
            .all()
            .map(|(letter, pin)| {
                let fresh = find(&pin.job(job));
                is_stale |= fresh.is_none();
                // What stood under the letter stays only if it is the same arrangement of another shaft.
                let before = || old.iter().find(|old| old.letter == letter).and_then(|old| old.told.clone());
                let told = fresh.or_else(|| before().filter(|told| told.of.job.setups == pin.setups));
                let like = told.as_ref().and_then(|told| told.of.like(job, view.setup, view.pass));
                let (setup, pass) = like.map_or((None, None), |(setup, pass)| (Some(setup.id), pass));
                let shape = told.as_ref().zip(setup).and_then(|(told, setup)| {
                    shape_at(&told.of.job, &told.of.result, setup, pass, tool_z_mm.filter(|_| pass.is_some()))
                });
                let usual = pin.setups.iter().find(|one| Some(one.id) == setup).or(pin.setups.first());
                let usual = usual.map(|setup| usual_name(setup, job.units)).unwrap_or_default();
                Pinned { letter, name: Name { given: pin.name.clone(), usual }, told, setup, pass, shape }
            })
            .collect();
        let usual = job.setup(view.setup).map(|setup| usual_name(setup, job.units)).unwrap_or_default();
        shown.present_name = Name { given: pins.present_name.clone(), usual };
        shown.rows.clear();
        if view.comparing {
            let fresh = find(&Arrangement::of(job, "").job(job));
            is_stale |= fresh.is_none();
            shown.present = fresh.or_else(|| shown.present.take());
            let all: Vec<Option<&Told>> = std::iter::once(shown.present.as_deref())
                .chain(shown.pinned.iter().map(|pinned| pinned.told.as_deref()))
                .collect();
            shown.rows = rows(job, view.setup, view.pass, &all);
        } else {
            shown.present = None;
        }
        shown.is_stale = is_stale;
    }
}

/// Answers a list of jobs; those of the last list are not worked out again.
fn work() -> impl Fn(Vec<Job>, &dyn Fn() -> bool) -> Option<Vec<Arc<Told>>> + Send + 'static {
    let known: Mutex<Vec<Arc<Told>>> = Mutex::default();
    move |jobs, keep_going| {
        let mut known = known.lock().unwrap_or_else(PoisonError::into_inner);
        let mut answer = Vec::with_capacity(jobs.len());
        for job in jobs {
            let before = known.iter().find(|told| told.of.job == job).cloned();
            answer.push(match before {
                Some(told) => told,
                None => Arc::new(Told::of(&job, keep_going)?),
            });
        }
        known.clone_from(&answer);
        Some(answer)
    }
}
