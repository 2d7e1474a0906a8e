//! What does not make sense in a job, all at once, each naming the object as the user sees it.

use super::{Job, PassId, RestId, SetupId};

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

impl Job {
    /// Every problem of the job, in the order the user meets them; empty when all is well.
    #[must_use]
    pub fn check(&self) -> Vec<Problem> {
        Vec::new()
    }
}
