//! The procedure for one set-up, written for the very holding, in the order in which it is done at the lathe.
//!
//! One file a part of the work, each a function from the set-up to its steps. A step says what to do with the places and
//! sizes of this job, why, and where the custom comes from. Sources are the trade's textbooks and makers' manuals; what
//! none of them says is called common practice.

mod begin;
mod cut;
mod dog;
mod finish;
mod follower;
mod hold;
mod steady;
mod tail;

use super::words;
use crate::job::quantity::{Kind, show};
use crate::job::{DriveKind, Job, Rest, Setup, TailKind, Units};

/// One thing to do.
#[derive(Clone, Debug, PartialEq)]
pub struct Step {
    /// The rule that wrote it.
    pub rule: &'static str,
    /// What to do, a sentence or two.
    pub text: String,
    /// Why, and where that comes from.
    pub why: &'static str,
}

impl Step {
    fn new(rule: &'static str, text: impl Into<String>, why: &'static str) -> Self {
        Self { rule, text: text.into(), why }
    }
}

/// The set-up under the eye.
#[derive(Clone, Copy)]
struct Holding<'a> {
    job: &'a Job,
    setup: &'a Setup,
}

impl<'a> Holding<'a> {
    fn length(&self, mm: f64) -> String {
        words::length(mm, self.job.units)
    }

    fn diameter(&self, mm: f64) -> String {
        words::diameter(mm, self.job.units)
    }

    fn on_centre(&self) -> bool {
        self.setup.drive.kind == DriveKind::CentreAndDog
    }

    fn has_tail(&self) -> bool {
        self.setup.tail.kind != TailKind::Free
    }

    fn has_rest(&self) -> bool {
        !self.setup.rests.is_empty() || self.setup.follower.is_some()
    }

    /// Rests from the headstock to the tailstock, with the number they have on screen.
    fn rests(&self) -> Vec<(usize, &'a Rest)> {
        let mut rests: Vec<(usize, &Rest)> =
            self.setup.rests.iter().enumerate().map(|(index, rest)| (index + 1, rest)).collect();
        rests.sort_by(|a, b| a.1.z_mm.total_cmp(&b.1.z_mm));
        rests
    }

    /// Thickness of a feeler or a film of oil.
    fn feeler(&self) -> &'static str {
        match self.job.units {
            Units::Metric => "0.025 mm",
            Units::Inch => "0.001 in",
        }
    }

    fn force(&self, n: f64) -> String {
        show(n, Kind::Force, self.job.units)
    }
}

/// A part of the work.
type Rule = fn(&Holding<'_>) -> Vec<Step>;

const RULES: [Rule; 8] =
    [begin::steps, hold::steps, dog::steps, tail::steps, steady::steps, follower::steps, cut::steps, finish::steps];

/// The steps of one set-up, in order.
#[must_use]
pub fn for_setup(job: &Job, setup: &Setup) -> Vec<Step> {
    let holding = Holding { job, setup };
    RULES.iter().flat_map(|rule| rule(&holding)).collect()
}
