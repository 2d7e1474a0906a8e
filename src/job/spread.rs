//! How far the figures nobody confirmed may be off: what the bands round the curves are made of.
//!
//! What the user stated himself (a stiffness, a typed push) is taken as known and not varied.

use super::lathe::Stated;

/// Stated spreads, each the same way up and down.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Spread {
    /// Main force, as a share of itself: 0.2 is 20 % either way.
    pub main_ratio: f64,
    /// Push away from the tool, as a share of itself.
    pub radial_ratio: f64,
    /// Assumed stiffnesses may be so many times larger or smaller.
    pub stiffness_factor: f64,
    /// Damping ratio of the held work.
    pub damping_ratio: Stated,
}

impl Spread {
    /// What the published tables differ by.
    ///
    /// Source: two respected tables of specific force differ by 19 % for C45 (computed from Kienzle/Victor and
    /// König/Essel); 40 % on the push and a factor 1.5 on machine stiffness are judgement. Damping ratio 0.01 to 0.03
    /// for a bar with the tool engaged: Altintas, Manufacturing Automation (from memory, fair).
    #[must_use]
    pub const fn usual() -> Self {
        Self { main_ratio: 0.2, radial_ratio: 0.4, stiffness_factor: 1.5, damping_ratio: Stated::assumed(0.02) }
    }
}
