//! What the desk does about pinned arrangements: each is one step that undo takes back.

use super::Desk;
use crate::app::pins::{Arrangement, LETTERS, Pinning, Pins};
use crate::job::Edit;

impl Desk {
    /// The pinned arrangements.
    #[must_use]
    pub fn pins(&self) -> &Pins {
        &self.work.pins
    }

    /// Pins the present arrangement, or lets the one go that is just like it.
    pub(super) fn pin_or_let_go(&mut self) {
        let like = self.work.pins.like(&self.work.job);
        self.pin(like.map_or(Pinning::Pin, Pinning::LetGo));
    }

    /// Does what is asked of a pinned arrangement; what is not there any more is let be.
    pub(super) fn pin(&mut self, pinning: Pinning) {
        self.history.open_step(&self.work);
        match pinning {
            Pinning::Pin => self.pin_present(),
            Pinning::LetGo(letter) => {
                if self.work.pins.pinned.get_mut(letter).and_then(Option::take).is_some() {
                    self.say(format!("{} is no longer pinned.", LETTERS[letter]));
                }
            }
            Pinning::Rename(None, name) => self.work.pins.present_name = name,
            Pinning::Rename(Some(letter), name) => {
                if let Some(Some(pin)) = self.work.pins.pinned.get_mut(letter) {
                    pin.name = name;
                }
            }
            Pinning::Swap(letter) => self.swap(letter),
        }
        self.history.close_step(&self.work);
    }

    fn pin_present(&mut self) {
        let pins = &mut self.work.pins;
        let Some(letter) = pins.pinned.iter().position(Option::is_none) else {
            return self.warn("Four arrangements are pinned already: let one go first.");
        };
        pins.pinned[letter] = Some(Arrangement::of(&self.work.job, &pins.present_name));
        self.say(format!("Pinned as {}.", LETTERS[letter]));
    }

    fn swap(&mut self, letter: usize) {
        let Some(Some(pin)) = self.work.pins.pinned.get(letter).cloned() else {
            return self.say("Nothing is pinned under that letter.");
        };
        let present = Arrangement::of(&self.work.job, &self.work.pins.present_name);
        let edit = Edit::PutArrangement { setups: pin.setups, readings: pin.readings };
        if let Err(error) = self.work.job.apply(&edit) {
            return self.warn(error.to_string());
        }
        self.work.pins.present_name = pin.name;
        self.work.pins.pinned[letter] = Some(present);
        self.say(format!(
            "{} is the present arrangement now, and what was is pinned as {}.",
            LETTERS[letter], LETTERS[letter]
        ));
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
