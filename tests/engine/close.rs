//! The one comparison of numbers.

/// Fails unless `actual` is within `rel * |expected| + abs` of `expected`.
#[track_caller]
pub fn close(actual: f64, expected: f64, rel: f64, abs: f64) {
    let allowed = rel * expected.abs() + abs;
    let off = (actual - expected).abs();
    assert!(
        off <= allowed,
        "{actual} is not {expected}: off by {off:e} ({:+.4} %), allowed {allowed:e}",
        100.0 * (actual - expected) / expected
    );
}
