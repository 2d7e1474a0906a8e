//! The marks of the tool's nose along a turned or bored surface: how rough a pass leaves the work at best.
//!
//! Formulas and their limits: [`crate::mechanics::roughness`]. Limit: the angle of the trailing edge is not in the job and
//! counted as 5 degrees, the least in common use (from memory); spring and chatter come on top.

use super::task::repeated;
use crate::job::{Pass, PassKind, Setup};
use crate::mechanics::roughness::{LEAST_CHIP_MM, height_mm, height_of_fine_feed_mm, mean_mm, stays_on_the_nose};

const TRAILING_EDGE_RAD: f64 = 5.0 * std::f64::consts::PI / 180.0;

/// The marks of a pass.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct FeedMarks {
    /// From the bottom to the top of a mark.
    pub height_mm: f64,
    /// Mean roughness Ra of the marks.
    pub mean_mm: f64,
    /// Height with a worn edge, which ploughs what is too thin for it to cut.
    pub worn_height_mm: f64,
    /// The feed may reach past the nose: the trailing edge then cuts the tops off, and the marks are lower.
    pub past_the_nose: bool,
}

/// The marks a pass leaves along the outside or in a bore; nothing for other passes, a pointed tool or no feed.
#[must_use]
pub fn feed_marks(setup: &Setup, pass: &Pass) -> Option<FeedMarks> {
    let (feed_mm, nose_mm) = (pass.feed_mm_per_rev, setup.tool.nose_radius_mm);
    let along = matches!(repeated(setup, pass).kind, PassKind::Turn | PassKind::Bore | PassKind::Spring);
    (along && feed_mm > 0.0 && nose_mm > 0.0).then(|| FeedMarks {
        height_mm: height_mm(feed_mm, nose_mm),
        mean_mm: mean_mm(feed_mm, nose_mm),
        worn_height_mm: height_of_fine_feed_mm(feed_mm, nose_mm, LEAST_CHIP_MM[1]),
        past_the_nose: !stays_on_the_nose(feed_mm, nose_mm, TRAILING_EDGE_RAD),
    })
}
