//! Undo and redo: snapshots of all that is worked on, the job and what is pinned beside it.
//!
//! A step opens with the first change of a gesture and stays open until the gesture ends (pointer up, keyboard gone
//! from the field), so that one drag and one typed number are one step each. A gesture that is given up puts the job
//! back to where the step opened.

/// Steps kept; the oldest is forgotten beyond that.
const MAX_STEPS: usize = 500;

/// The steps back and forward from the present job.
#[derive(Debug)]
pub struct History<T> {
    /// The job before each step, oldest first.
    past: Vec<T>,
    /// The job after each step that was undone, the next one last.
    future: Vec<T>,
    /// The job before the step under way.
    open: Option<T>,
}

impl<T> Default for History<T> {
    fn default() -> Self {
        Self { past: Vec::new(), future: Vec::new(), open: None }
    }
}

impl<T: Clone + PartialEq> History<T> {
    /// To be called before a change: opens a step unless one is open.
    pub fn open_step(&mut self, job: &T) {
        if self.open.is_none() {
            self.open = Some(job.clone());
        }
    }

    /// Closes the step under way; one that changed nothing leaves no trace.
    pub fn close_step(&mut self, job: &T) {
        let Some(before) = self.open.take() else { return };
        if before == *job {
            return;
        }
        self.past.push(before);
        if self.past.len() > MAX_STEPS {
            self.past.remove(0);
        }
        self.future.clear();
    }

    /// Gives up the step under way: the job as it was before it, where there is one.
    pub fn give_up_step(&mut self) -> Option<T> {
        self.open.take()
    }

    /// True while a step is open.
    #[must_use]
    pub fn step_is_open(&self) -> bool {
        self.open.is_some()
    }

    /// Puts `job` back by one step; false where there is none.
    pub fn undo(&mut self, job: &mut T) -> bool {
        self.close_step(job);
        let Some(before) = self.past.pop() else { return false };
        self.future.push(std::mem::replace(job, before));
        true
    }

    /// Takes back the last undo; false where there is none.
    pub fn redo(&mut self, job: &mut T) -> bool {
        self.close_step(job);
        let Some(after) = self.future.pop() else { return false };
        self.past.push(std::mem::replace(job, after));
        true
    }

    /// True where [`Self::undo`] would change something.
    #[must_use]
    pub fn can_undo(&self) -> bool {
        !self.past.is_empty() || self.open.is_some()
    }

    /// True where [`Self::redo`] would change something.
    #[must_use]
    pub fn can_redo(&self) -> bool {
        !self.future.is_empty()
    }
}
