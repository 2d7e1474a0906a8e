//! Where the steady rests should stand, and what the next one would buy.
//!
//! [`Board`] tries rests in many places at next to no cost, [`search`] finds the best of a grid, [`strip()`] is what one rest
//! would come to everywhere. [`best_places`] puts it together: the best few placements of so many rests, told by the real
//! sweep, ranked by the worst of some cases of the band (force and stiffness are not known better), with the stretch over
//! which each rest is as good. [`deepest`] asks how deep a cut an arrangement stands.
//!
//! Limit: only what the sweep knows counts. That a rest can be got to a place is for whoever says what is allowed.

mod answer;
mod board;
mod cases;
mod chatter;
mod depth;
mod hands;
mod measure;
mod screen;
mod screened;
mod search;
mod strip;
mod table;
mod trial;

pub use answer::{Answer, Ask, Placing, best_places, value_now};
pub use board::{Board, Room};
pub use depth::{Deepest, deepest};
pub use measure::{Measure, Weights, WorstSize};
pub use screened::Screened;
pub use search::{Effort, Grid, Judge, Searched, Tried, search, search_by};
pub use strip::{Strip, strip};
pub use trial::Trial;

pub use super::reach::Stretch;

use super::layout::Fineness;

/// The mesh on which places are tried: the curves that are compared have no shorter waves than a span.
pub const FAST: Fineness = Fineness { spacing_mm: 40.0, fewest_stations: 32.0, parts_outside: 40.0, turns: false };
