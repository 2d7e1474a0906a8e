//! Names that outlast reordering: a rest keeps its id while others come and go, so the window keeps its focus and
//! readings keep their pass.

macro_rules! id {
    ($(#[$doc:meta])* $name:ident) => {
        $(#[$doc])*
        #[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord, serde::Serialize, serde::Deserialize)]
        #[serde(transparent)]
        pub struct $name(pub u32);
    };
}

id!(
    /// A set-up of a job.
    SetupId
);
id!(
    /// A steady rest of a set-up.
    RestId
);
id!(
    /// A pass of a set-up.
    PassId
);
