//! Pinned arrangements: up to four ways to hold and cut the shaft on the desk, each with a letter and a name.
//!
//! An arrangement is the set-ups with all that is in them and the readings of their passes. It belongs to the job: shaft,
//! lathe and what is uncertain are the job's own, so that a pin is worked out anew when these change.

use super::{Job, Reading, Setup, TitleBlock};

/// The letters of pinned arrangements.
pub const LETTERS: [&str; 4] = ["A", "B", "C", "D"];

/// A way to hold and cut the shaft.
#[derive(Clone, Debug, PartialEq)]
pub struct Arrangement {
    /// Empty where nobody named it.
    pub name: String,
    pub setups: Vec<Setup>,
    pub readings: Vec<Reading>,
}

/// All that are pinned of a job.
#[derive(Clone, Debug, PartialEq, Default)]
pub struct Pins {
    /// What the present arrangement is called.
    pub present_name: String,
    /// By letter.
    pub pinned: [Option<Arrangement>; LETTERS.len()],
}

impl Arrangement {
    /// That of a job.
    #[must_use]
    pub fn of(job: &Job, name: &str) -> Self {
        Self { name: name.to_owned(), setups: job.setups.clone(), readings: job.readings.clone() }
    }

    /// The job held and cut so; words that change no figure are left out.
    #[must_use]
    pub fn job(&self, job: &Job) -> Job {
        Job {
            title: String::new(),
            notes: String::new(),
            title_block: TitleBlock::default(),
            units: job.units,
            shaft: job.shaft.clone(),
            lathe: job.lathe.clone(),
            setups: self.setups.clone(),
            readings: Vec::new(),
            spread: job.spread,
            // A number given out since is no reason to work it out anew.
            next_id: u32::MAX,
        }
    }
}

impl Pins {
    /// Those there are, with their letters.
    pub fn all(&self) -> impl Iterator<Item = (usize, &Arrangement)> {
        self.pinned.iter().enumerate().filter_map(|(letter, pin)| Some((letter, pin.as_ref()?)))
    }

    /// Nothing is pinned.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        self.all().next().is_none()
    }

    /// The letter of one that is just like the job's own.
    #[must_use]
    pub fn like(&self, job: &Job) -> Option<usize> {
        self.all().find(|(_, pin)| pin.setups == job.setups).map(|(letter, _)| letter)
    }
}
