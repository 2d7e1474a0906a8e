//! How rough a tool leaves the work at best: the marks of its nose, one a turn.
//!
//! `Rt = f² / (8 r)` as long as the mark stays on the nose's arc, and a little more for fine feeds, where the edge stops
//! cutting below a least chip thickness. Source: Shaw; Boothroyd and Knight (all texts on metal cutting, from memory);
//! J. Brammertz, Industrie-Anzeiger 83 (1961) (from memory).
//! Limit: what is left in the shop is 1.5 to 3 times this (experience, no source); spring and chatter come on top.

/// Least chip thickness of a keen and of a worn edge in Brammertz's addition.
///
/// Source: 1 to 5 um, from memory (fair).
pub const LEAST_CHIP_MM: [f64; 2] = [0.001, 0.005];

/// Height of the marks a nose leaves, `f² / (8 r)`.
#[must_use]
pub fn height_mm(feed_mm: f64, nose_radius_mm: f64) -> f64 {
    feed_mm * feed_mm / (8.0 * nose_radius_mm)
}

/// Mean roughness Ra of those marks, `f² / (18 sqrt(3) r)`, about `f² / (31.2 r)`: that of a row of parabolas.
#[must_use]
pub fn mean_mm(feed_mm: f64, nose_radius_mm: f64) -> f64 {
    feed_mm * feed_mm / (18.0 * 3f64.sqrt() * nose_radius_mm)
}

/// Whether a mark of this feed lies wholly on the nose, `f <= 2 r sin kappa'`, for an end-edge angle (between the edge
/// that trails and the feed). Beyond it the trailing edge cuts the tops off and the formulas say too much.
#[must_use]
pub fn stays_on_the_nose(feed_mm: f64, nose_radius_mm: f64, end_edge_angle_rad: f64) -> bool {
    feed_mm <= 2.0 * nose_radius_mm * end_edge_angle_rad.sin()
}

/// Height of the marks with Brammertz's addition for an edge that cuts nothing thinner than `least_chip_mm`.
///
/// Falling feeds stop paying: the addition grows as `1 / f²`.
#[must_use]
pub fn height_of_fine_feed_mm(feed_mm: f64, nose_radius_mm: f64, least_chip_mm: f64) -> f64 {
    let ploughed_mm = least_chip_mm / 2.0 * (1.0 + nose_radius_mm * least_chip_mm / (feed_mm * feed_mm));
    height_mm(feed_mm, nose_radius_mm) + ploughed_mm
}
