//! Format 3 of the job file, frozen once released: a change of the document then makes a new format, never a change here.
//!
//! Pinned arrangements came with it; all else is as in format 2 and uses its types. The shaft and the lathe stand once,
//! as a pin is no more than set-ups and readings. Every field must stand in the file.

use serde::{Deserialize, Serialize};

use super::v1::{Reading, Units};
use super::v2::{Lathe, Setup, Shaft, Spread, TitleBlock};

#[derive(Debug, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Job {
    pub format: u32,
    pub title: String,
    pub notes: String,
    pub title_block: TitleBlock,
    pub units: Units,
    pub shaft: Shaft,
    pub lathe: Lathe,
    pub setups: Vec<Setup>,
    pub readings: Vec<Reading>,
    pub spread: Spread,
    pub present_name: String,
    pub pinned: Vec<Pinned>,
    pub next_id: u32,
}

#[derive(Debug, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Pinned {
    pub letter: Letter,
    pub name: String,
    pub setups: Vec<Setup>,
    pub readings: Vec<Reading>,
}

#[derive(Clone, Copy, Debug, Serialize, Deserialize)]
pub(super) enum Letter {
    A,
    B,
    C,
    D,
}

/// In the order of the document's letters.
pub(super) const LETTERS: [Letter; 4] = [Letter::A, Letter::B, Letter::C, Letter::D];
