//! The document: a shaft, a lathe and an ordered list of set-ups, each a holding of the work and its passes; and the
//! arrangements of these that are pinned beside it (`document`).
//!
//! Types here are the truth that is saved and undone. [`Job::apply`] is the only writer; [`Job::check`] says, all
//! at once and in the user's words, what does not make sense. The file has types of its own (`file`).

pub mod check;
pub mod document;
pub mod edit;
pub mod examples;
pub mod feature_kinds;
pub mod file;
pub mod ids;
mod invariants;
pub mod land_row;
pub mod land_text;
pub mod lathe;
pub mod lathes;
pub mod material;
pub mod materials;
mod nominal;
pub mod pins;
pub mod quantity;
pub mod reshape;
pub mod setup;
pub mod shaft;
pub mod spread;
pub mod strength;
pub mod tips;
pub mod tolerance;
pub mod usual;

pub use check::{Problem, Subject};
pub use document::{Document, Pinning};
pub use edit::{Edit, EditError};
pub use ids::{PassId, RestId, SetupId};
pub use lathe::{Lathe, Stated, Stiffness};
pub use material::{Material, MaterialChoice};
pub use pins::{Arrangement, Pins};
pub use quantity::Units;
pub use reshape::Reshape;
pub use setup::{
    Cut, Dog, DogKind, DriveEnd, DriveKind, Follower, FollowerSide, Force, Hold, Jaw, Pass, PassKind, Rest, SetTo,
    Setup, Sleeve, Spot, TailEnd, TailKind, TipKind, Tool, ToolMaterial, ToolSide, ToolWear,
};
pub use shaft::{BoreLand, CentreHole, Feature, FeatureKind, Land, Shaft, WantedLand};
pub use spread::Spread;
pub use tolerance::Tolerance;

/// A whole piece of work: what it is made of and how it is held and cut, set-up after set-up.
#[derive(Clone, Debug, PartialEq)]
pub struct Job {
    /// What the part is called, as it stands on the sheet.
    pub title: String,
    /// Free words of the user.
    pub notes: String,
    pub title_block: TitleBlock,
    /// Units in which this job is shown and typed; the numbers themselves are always metric.
    pub units: Units,
    pub shaft: Shaft,
    pub lathe: Lathe,
    /// In the order they are done; never empty.
    pub setups: Vec<Setup>,
    /// Diameters measured on the work, in the order they were typed.
    pub readings: Vec<Reading>,
    /// How far the figures nobody confirmed may be off.
    pub spread: Spread,
    /// The next number for a set-up, rest or pass; ids are never used twice in a job.
    pub next_id: u32,
}

/// What stands in the title block of the sheet beside the title (data fields of ISO 7200); each may be empty, to be
/// written by hand.
#[derive(Clone, Debug, PartialEq, Eq, Default)]
pub struct TitleBlock {
    /// Number of the part or drawing.
    pub part: String,
    /// Whose drawing it is.
    pub owner: String,
    /// As the user writes it.
    pub date: String,
}

/// A diameter measured after a pass.
#[derive(Clone, Debug, PartialEq)]
pub struct Reading {
    pub pass: PassId,
    /// Place from the jaw face in the set-up of that pass.
    pub z_mm: f64,
    pub diameter_mm: f64,
    /// Temperature of the work above the shop's, if it was known.
    pub warmer_by_k: Option<f64>,
}

impl Job {
    /// A new job: the shaft on a lathe, held once as in `setup`, nothing cut yet. Numbers follow on those of `setup`.
    #[must_use]
    pub fn new(title: &str, units: Units, shaft: Shaft, lathe: Lathe, setup: Setup) -> Self {
        let ids = setup.rests.iter().map(|rest| rest.id.0).chain(setup.passes.iter().map(|pass| pass.id.0));
        let next_id = ids.fold(setup.id.0, u32::max).saturating_add(1);
        Self {
            title: title.to_owned(),
            notes: String::new(),
            title_block: TitleBlock::default(),
            units,
            shaft,
            lathe,
            setups: vec![setup],
            readings: Vec::new(),
            spread: Spread::usual(),
            next_id,
        }
    }

    /// The set-up with this id.
    #[must_use]
    pub fn setup(&self, id: SetupId) -> Option<&Setup> {
        self.setups.iter().find(|setup| setup.id == id)
    }

    /// The set-up's place in the order of work, from 0.
    #[must_use]
    pub fn setup_index(&self, id: SetupId) -> Option<usize> {
        self.setups.iter().position(|setup| setup.id == id)
    }

    /// The material of the shaft with its figures.
    #[must_use]
    pub fn material(&self) -> Material {
        self.shaft.material.resolve()
    }
}
