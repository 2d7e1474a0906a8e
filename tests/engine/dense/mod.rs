//! A second, plain implementation of the mechanics, for comparison only: nothing of the program is used here.
//!
//! Where the program is clever (two recursions, condensed supports, a complementarity solver), this one is dull: it
//! assembles the whole work with four unknowns a node, factors it anew for every set of touching jaws, tries the
//! sets one after another, and finds the depth of cut by halving. It counts in numbers of twice the usual digits,
//! so a difference is the program's, not a matter of rounding here.

pub mod band;
pub mod beam;
pub mod checks;
pub mod contact;
pub mod cut;
pub mod wide;

pub use beam::{Beam, Dof, Element, Load, Material, Plane, Spring};
pub use contact::{Answer, Jaw, all_answers, solve};
pub use cut::{Cut, CutAnswer, Forces, tool_loads};
