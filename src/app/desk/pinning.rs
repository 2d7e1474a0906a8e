//! What the desk does about pinned arrangements: each is one step that undo takes back.

use super::Desk;
use crate::advice::words::capital;
use crate::job::Pinning;
use crate::job::pins::{LETTERS, Pins};

impl Desk {
    /// The pinned arrangements.
    #[must_use]
    pub fn pins(&self) -> &Pins {
        &self.work.pins
    }

    /// Pins the present arrangement, or lets the one go that is just like it.
    pub(super) fn pin_or_let_go(&mut self) {
        let like = self.work.pins.like(&self.work.job);
        self.pin(&like.map_or(Pinning::Pin, Pinning::LetGo));
    }

    /// Does what is asked of a pinned arrangement, and says so.
    pub(super) fn pin(&mut self, pinning: &Pinning) {
        self.history.open_step(&self.work);
        let free = self.work.pins.pinned.iter().position(Option::is_none);
        let done = self.work.pin(pinning);
        self.history.close_step(&self.work);
        if let Err(error) = done {
            return self.warn(format!("{}.", capital(&error.to_string())));
        }
        let letter = |index: usize| LETTERS[index];
        match pinning {
            Pinning::Pin => self.say(format!("Pinned as {}.", free.map_or("", letter))),
            Pinning::LetGo(index) => self.say(format!("{} is no longer pinned.", letter(*index))),
            Pinning::Rename(..) => self.status = None,
            Pinning::Swap(index) => {
                self.say(format!("{0} is the present arrangement now, and what was is pinned as {0}.", letter(*index)))
            }
        }
    }

    /// Takes what has been worked out of pinned arrangements and asks for what is missing; what they look like where the
    /// tool stands is drawn up anew only where that or they changed.
    pub(super) fn refresh_compared(&mut self, is_same_look: bool) {
        let in_gesture = self.history.step_is_open();
        let (view, results) = (&self.view, &mut self.results);
        self.comparing.refresh(
            &mut results.compared,
            (&self.work.job, &self.work.pins),
            view,
            (is_same_look, in_gesture),
            &self.wake,
        );
    }
}
