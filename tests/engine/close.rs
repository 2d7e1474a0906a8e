//! One comparison of numbers for all tests.

/// Says that `actual` is `expected` within a share of it, or within an absolute difference, whichever is wider.
#[track_caller]
pub fn close(actual: f64, expected: f64, rel: f64, abs: f64) {
    let allowed = (expected.abs() * rel).max(abs);
    let difference = actual - expected;
    assert!(
        difference.abs() <= allowed,
        "got {actual:e}, expected {expected:e}: off by {difference:e}, allowed {allowed:e}"
    );
}
