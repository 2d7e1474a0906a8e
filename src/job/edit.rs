//! Every change of a job, and the one place that makes it.
//!
//! An edit replaces a whole object (a rest, a pass, the shaft): panels clone what they show, change a field and push
//! the edit. [`Job::apply`] either makes the whole change or none of it, and keeps these invariants: all numbers
//! finite, lengths and diameters positive, at least one set-up and one land of stock, ids unique (`invariants` holds
//! them). What is merely unwise (a rest off the work) is let through and reported by [`Job::check`].

use super::{
    DriveEnd, Follower, Job, Lathe, Pass, PassId, Reading, Reshape, Rest, RestId, Setup, SetupId, Shaft, Spread,
    TailEnd, TitleBlock, Tool, Units,
};

/// One change of a job.
#[derive(Clone, Debug, PartialEq)]
#[expect(clippy::large_enum_variant, reason = "a handful of edits a frame; a box would only make them harder to write")]
pub enum Edit {
    SetTitle(String),
    SetNotes(String),
    SetTitleBlock(TitleBlock),
    SetUnits(Units),
    SetShaft(Shaft),
    /// Changes the finished part, and with it what hangs on its shoulders and sizes.
    Reshape(Reshape),
    SetLathe(Lathe),
    SetReadings(Vec<Reading>),
    SetSpread(Spread),
    /// Adds a set-up that holds the work like the one before, without its passes, at this place in the order (behind
    /// the last one where `at` is too large). The set-up takes the job's next number, its rests those after it.
    AddSetup {
        at: usize,
    },
    /// Adds a copy of a set-up right after it: set-up, rests and passes take new numbers in this order.
    CopySetup(SetupId),
    /// Refused for the last one.
    RemoveSetup(SetupId),
    /// Puts these in place of all set-ups: set-ups, rests and passes take new numbers in this order. Readings go with the
    /// passes they were taken after.
    SetSetups(Vec<Setup>),
    /// Puts another arrangement of this very job in place of the present one: set-ups, rests and passes keep the numbers
    /// they have, all of which the job has given out before.
    PutArrangement {
        setups: Vec<Setup>,
        readings: Vec<Reading>,
    },
    MoveSetup {
        setup: SetupId,
        to: usize,
    },
    RenameSetup {
        setup: SetupId,
        name: String,
    },
    /// Holds the shaft the other way round, rests and passes staying where they are on the bed.
    TurnEndForEnd(SetupId),
    /// Slides the work along the bed in its holding.
    SetWorkStart {
        setup: SetupId,
        z_mm: f64,
    },
    SetDrive {
        setup: SetupId,
        drive: DriveEnd,
    },
    SetTail {
        setup: SetupId,
        tail: TailEnd,
    },
    SetTool {
        setup: SetupId,
        tool: Tool,
    },
    /// How much warmer the work is than when the centre was set, and whether jaw friction counts.
    SetConditions {
        setup: SetupId,
        warmer_by_k: f64,
        jaw_friction: bool,
    },
    SetFollower {
        setup: SetupId,
        follower: Option<Follower>,
    },
    /// The id in `rest` is ignored; the new one is `job.next_id` of before.
    AddRest {
        setup: SetupId,
        rest: Rest,
    },
    /// Replaces the rest with the same id.
    SetRest {
        setup: SetupId,
        rest: Rest,
    },
    RemoveRest {
        setup: SetupId,
        rest: RestId,
    },
    /// The id in `pass` is ignored; the new one is `job.next_id` of before.
    AddPass {
        setup: SetupId,
        at: usize,
        pass: Pass,
    },
    /// Replaces the pass with the same id.
    SetPass {
        setup: SetupId,
        pass: Pass,
    },
    RemovePass {
        setup: SetupId,
        pass: PassId,
    },
    MovePass {
        setup: SetupId,
        pass: PassId,
        to: usize,
    },
    /// Several changes that are one step to the user.
    Together(Vec<Edit>),
}

impl Edit {
    /// Several changes of which there are none.
    #[must_use]
    pub fn is_nothing(&self) -> bool {
        matches!(self, Self::Together(all) if all.is_empty())
    }
}

/// Why a change was refused; the job is as it was.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
pub enum EditError {
    #[error("that set-up is no longer there")]
    NoSetup,
    #[error("that rest is no longer there")]
    NoRest,
    #[error("that pass is no longer there")]
    NoPass,
    #[error("a job needs at least one set-up")]
    LastSetup,
    #[error("four arrangements are pinned already: let one go first")]
    AllPinned,
    #[error("nothing is pinned under that letter")]
    NotPinned,
    /// What is wrong with a pinned arrangement, which is named as the user sees it.
    #[error("{which}: {why}")]
    Pinned { which: String, why: Box<EditError> },
    /// A number that cannot be, named as the user sees it.
    #[error("{what}: {why}")]
    Impossible { what: String, why: String },
}

impl Job {
    /// Makes one change, or none of it.
    ///
    /// # Errors
    /// [`EditError`] where the object is gone or a number cannot be; the job is then unchanged.
    pub fn apply(&mut self, edit: &Edit) -> Result<(), EditError> {
        let mut next = self.clone();
        next.make(edit)?;
        next.validate()?;
        *self = next;
        Ok(())
    }

    fn make(&mut self, edit: &Edit) -> Result<(), EditError> {
        match edit {
            Edit::SetTitle(title) => self.title.clone_from(title),
            Edit::SetNotes(notes) => self.notes.clone_from(notes),
            Edit::SetTitleBlock(title_block) => self.title_block.clone_from(title_block),
            Edit::SetUnits(units) => self.units = *units,
            Edit::SetShaft(shaft) => self.shaft.clone_from(shaft),
            Edit::Reshape(change) => {
                let edit = change.edit(self)?;
                self.make(&edit)?;
            }
            Edit::SetLathe(lathe) => self.lathe.clone_from(lathe),
            Edit::SetReadings(readings) => self.readings.clone_from(readings),
            Edit::SetSpread(spread) => self.spread = *spread,
            Edit::AddSetup { at } => {
                let at = (*at).min(self.setups.len());
                let like = self.setups.get(at.saturating_sub(1)).ok_or(EditError::NoSetup)?;
                let copy = Setup { name: String::new(), passes: Vec::new(), ..like.clone() };
                let copy = self.with_new_ids(copy)?;
                self.setups.insert(at, copy);
            }
            Edit::CopySetup(id) => {
                let at = self.place_of(*id)?;
                let copy = self.with_new_ids(self.setups[at].clone())?;
                self.setups.insert(at + 1, copy);
            }
            Edit::RemoveSetup(id) => {
                let at = self.place_of(*id)?;
                if self.setups.len() == 1 {
                    return Err(EditError::LastSetup);
                }
                self.setups.remove(at);
            }
            Edit::SetSetups(setups) => {
                self.setups.clear();
                for setup in setups {
                    let setup = self.with_new_ids(setup.clone())?;
                    self.setups.push(setup);
                }
                self.readings.clear();
            }
            Edit::PutArrangement { setups, readings } => {
                if setups.is_empty() {
                    return Err(EditError::LastSetup);
                }
                self.setups.clone_from(setups);
                self.readings.clone_from(readings);
            }
            Edit::MoveSetup { setup, to } => {
                let at = self.place_of(*setup)?;
                move_within(&mut self.setups, at, *to);
            }
            Edit::RenameSetup { setup, name } => self.setup_mut(*setup)?.name.clone_from(name),
            Edit::TurnEndForEnd(id) => {
                let setup = self.setup_mut(*id)?;
                setup.end_for_end = !setup.end_for_end;
            }
            Edit::SetWorkStart { setup, z_mm } => self.setup_mut(*setup)?.work_start_z_mm = *z_mm,
            Edit::SetDrive { setup, drive } => self.setup_mut(*setup)?.drive.clone_from(drive),
            Edit::SetTail { setup, tail } => self.setup_mut(*setup)?.tail.clone_from(tail),
            Edit::SetTool { setup, tool } => self.setup_mut(*setup)?.tool.clone_from(tool),
            Edit::SetConditions { setup, warmer_by_k, jaw_friction } => {
                let setup = self.setup_mut(*setup)?;
                setup.warmer_by_k = *warmer_by_k;
                setup.jaw_friction = *jaw_friction;
            }
            Edit::SetFollower { setup, follower } => self.setup_mut(*setup)?.follower.clone_from(follower),
            Edit::AddRest { setup, rest } => {
                self.place_of(*setup)?;
                let rest = Rest { id: RestId(self.take_id()?), ..rest.clone() };
                self.setup_mut(*setup)?.rests.push(rest);
            }
            Edit::SetRest { setup, rest } => {
                let rests = &mut self.setup_mut(*setup)?.rests;
                *rests.iter_mut().find(|old| old.id == rest.id).ok_or(EditError::NoRest)? = rest.clone();
            }
            Edit::RemoveRest { setup, rest } => {
                let rests = &mut self.setup_mut(*setup)?.rests;
                let at = rests.iter().position(|old| old.id == *rest).ok_or(EditError::NoRest)?;
                rests.remove(at);
            }
            Edit::AddPass { setup, at, pass } => {
                self.place_of(*setup)?;
                let pass = Pass { id: PassId(self.take_id()?), ..pass.clone() };
                let passes = &mut self.setup_mut(*setup)?.passes;
                passes.insert((*at).min(passes.len()), pass);
            }
            Edit::SetPass { setup, pass } => {
                let passes = &mut self.setup_mut(*setup)?.passes;
                *passes.iter_mut().find(|old| old.id == pass.id).ok_or(EditError::NoPass)? = pass.clone();
            }
            Edit::RemovePass { setup, pass } => {
                let passes = &mut self.setup_mut(*setup)?.passes;
                let at = passes.iter().position(|old| old.id == *pass).ok_or(EditError::NoPass)?;
                passes.remove(at);
            }
            Edit::MovePass { setup, pass, to } => {
                let passes = &mut self.setup_mut(*setup)?.passes;
                let at = passes.iter().position(|old| old.id == *pass).ok_or(EditError::NoPass)?;
                move_within(passes, at, *to);
            }
            Edit::Together(edits) => {
                for edit in edits {
                    self.make(edit)?;
                }
            }
        }
        Ok(())
    }

    fn place_of(&self, id: SetupId) -> Result<usize, EditError> {
        self.setup_index(id).ok_or(EditError::NoSetup)
    }

    fn setup_mut(&mut self, id: SetupId) -> Result<&mut Setup, EditError> {
        self.setups.iter_mut().find(|setup| setup.id == id).ok_or(EditError::NoSetup)
    }

    /// The job's next number, used up.
    fn take_id(&mut self) -> Result<u32, EditError> {
        let id = self.next_id;
        self.next_id = id.checked_add(1).ok_or_else(|| EditError::Impossible {
            what: "The job".to_owned(),
            why: "has used up its numbers for set-ups, rests and passes".to_owned(),
        })?;
        Ok(id)
    }

    fn with_new_ids(&mut self, mut setup: Setup) -> Result<Setup, EditError> {
        setup.id = SetupId(self.take_id()?);
        for rest in &mut setup.rests {
            rest.id = RestId(self.take_id()?);
        }
        for pass in &mut setup.passes {
            pass.id = PassId(self.take_id()?);
        }
        Ok(setup)
    }
}

/// Takes the item at `at` out and puts it back so that it stands at `to` (at the end where that is too large).
fn move_within<T>(items: &mut Vec<T>, at: usize, to: usize) {
    let item = items.remove(at);
    items.insert(to.min(items.len()), item);
}
