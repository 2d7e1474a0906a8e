//! All that is saved and undone: a job and what is pinned beside it.
//!
//! Pins stand beside the job and not in it: what is computed hangs on the job alone, and pinning, naming and letting go
//! computes nothing again. [`Document::pin`] changes pins as [`Job::apply`] changes the job: all of it or nothing.

use super::pins::{Arrangement, Pins};
use super::{Edit, EditError, Job};

/// A job and its pinned arrangements.
#[derive(Clone, Debug, PartialEq)]
pub struct Document {
    pub job: Job,
    pub pins: Pins,
}

/// What is to become of a pinned arrangement, by its letter counted from 0.
#[derive(Clone, Debug, PartialEq)]
pub enum Pinning {
    /// The present one is pinned under the first free letter.
    Pin,
    LetGo(usize),
    /// Nothing: the present one.
    Rename(Option<usize>, String),
    /// The two change places.
    Swap(usize),
}

impl From<Job> for Document {
    fn from(job: Job) -> Self {
        Self { job, pins: Pins::default() }
    }
}

impl Document {
    /// Does what is asked, or none of it.
    ///
    /// # Errors
    /// [`EditError`] where nothing is pinned under the letter, four are pinned already, or a name cannot be.
    pub fn pin(&mut self, pinning: &Pinning) -> Result<(), EditError> {
        let mut next = self.clone();
        let Self { job, pins } = &mut next;
        match pinning {
            Pinning::Pin => {
                let free = pins.pinned.iter_mut().find(|pin| pin.is_none()).ok_or(EditError::AllPinned)?;
                *free = Some(Arrangement::of(job, &pins.present_name));
            }
            Pinning::LetGo(letter) => {
                pins.pinned.get_mut(*letter).and_then(Option::take).ok_or(EditError::NotPinned)?;
            }
            Pinning::Rename(None, name) => pins.present_name.clone_from(name),
            Pinning::Rename(Some(letter), name) => pins.pinned_mut(*letter)?.name.clone_from(name),
            Pinning::Swap(letter) => {
                let present = Arrangement::of(job, &pins.present_name);
                let Arrangement { name, setups, readings } = std::mem::replace(pins.pinned_mut(*letter)?, present);
                job.apply(&Edit::PutArrangement { setups, readings })?;
                pins.present_name = name;
            }
        }
        next.pins.validate(next.job.next_id)?;
        *self = next;
        Ok(())
    }

    /// Whether job and pins are such as can be, whatever their sense.
    ///
    /// # Errors
    /// [`EditError`] with the first thing found, named as the user sees it.
    pub fn validate(&self) -> Result<(), EditError> {
        self.job.validate()?;
        self.pins.validate(self.job.next_id)
    }
}

impl Pins {
    fn pinned_mut(&mut self, letter: usize) -> Result<&mut Arrangement, EditError> {
        self.pinned.get_mut(letter).and_then(Option::as_mut).ok_or(EditError::NotPinned)
    }
}
