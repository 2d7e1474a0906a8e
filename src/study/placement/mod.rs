//! Where the steady rests should stand, and what the next one would buy.

mod board;
mod measure;
mod table;
mod trial;

pub use board::{Board, Room};
pub use measure::{Measure, Weights, WorstSize};
pub use trial::Trial;
