//! What does not make sense in a job, all at once, each naming the object as the user sees it.
//!
//! Softer than the invariants: a rest may stand off the work while it is being dragged there, and the job can still
//! be saved; but it is said.

mod holding;
mod passes;
mod rests;
mod shaft;

use super::quantity::{Kind, show};
use super::{Job, PassId, RestId, Setup, SetupId};

/// What a problem or finding is about, so that the window can select it.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Subject {
    Job,
    Shaft,
    Lathe,
    Setup(SetupId),
    Drive(SetupId),
    Tail(SetupId),
    Tool(SetupId),
    Follower(SetupId),
    Rest(SetupId, RestId),
    Pass(SetupId, PassId),
}

/// One thing that does not make sense.
#[derive(Clone, Debug, PartialEq)]
pub struct Problem {
    pub about: Subject,
    /// A sentence that names the object as the user sees it ("Set-up 2, rest 1 stands off the work").
    pub text: String,
}

/// A hair of slack for places that are sums of lengths.
const HAIR_MM: f64 = 1e-6;

/// The job under the eye, and what was found.
struct Check<'a> {
    job: &'a Job,
    problems: Vec<Problem>,
}

/// One set-up under the eye.
#[derive(Clone, Copy)]
struct SetupHere<'a> {
    setup: &'a Setup,
    /// From 1.
    number: usize,
}

impl Check<'_> {
    fn found(&mut self, about: Subject, text: impl Into<String>) {
        self.problems.push(Problem { about, text: text.into() });
    }

    /// A place or length in the job's units.
    fn length(&self, mm: f64) -> String {
        show(mm, Kind::Length, self.job.units)
    }

    /// A size in the job's units.
    fn diameter(&self, mm: f64) -> String {
        show(mm, Kind::Diameter, self.job.units)
    }

    fn readings(&mut self) {
        for (index, reading) in self.job.readings.iter().enumerate() {
            if !self.job.setups.iter().any(|setup| setup.pass(reading.pass).is_some()) {
                let text = format!("Reading {} was taken after a pass that is no longer there", index + 1);
                self.found(Subject::Job, text);
            }
        }
    }
}

impl Job {
    /// Every problem of the job, in the order the user meets them; empty when all is well.
    #[must_use]
    pub fn check(&self) -> Vec<Problem> {
        let mut check = Check { job: self, problems: Vec::new() };
        check.shaft();
        check.lathe();
        for (index, setup) in self.setups.iter().enumerate() {
            let here = SetupHere { setup, number: index + 1 };
            check.holding(here);
            check.rests(here);
            check.follower(here);
            check.passes(here);
        }
        check.readings();
        check.problems
    }
}
