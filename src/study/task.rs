//! A pass that is to be computed with what it finds, and which pass a spring pass repeats.

use super::outline::Outline;
use super::prepared::Scene;
use crate::job::{Material, Pass, PassKind, Setup};

/// A pass to be computed.
#[derive(Clone, Copy, Debug)]
pub struct Task<'a> {
    pub scene: &'a Scene<'a>,
    /// The work before it.
    pub outline: &'a Outline,
    pub material: &'a Material,
    pub pass: &'a Pass,
    /// Radial depth of the last pass that moved the same dial.
    pub last_depth_mm: f64,
}

/// The pass whose dial a pass uses: itself, or for a spring pass the last pass before it in the same holding that cut
/// the better part of its stretch (outside, thread, bore or groove); itself again where there is none.
#[must_use]
pub fn repeated<'a>(setup: &'a Setup, pass: &'a Pass) -> &'a Pass {
    if pass.kind != PassKind::Spring {
        return pass;
    }
    let (low_mm, high_mm) = pass.span_mm();
    let covers = |other: &&Pass| {
        let (from_mm, to_mm) = other.span_mm();
        let along = matches!(other.kind, PassKind::Turn | PassKind::Thread | PassKind::Bore | PassKind::Groove);
        along && to_mm.min(high_mm) - from_mm.max(low_mm) > 0.5 * (high_mm - low_mm)
    };
    let before = setup.passes.iter().position(|other| other.id == pass.id).unwrap_or(0);
    setup.passes[..before].iter().rev().find(covers).unwrap_or(pass)
}
