//! The marks of the tool's nose, against a table worked by hand and the shape of the marks itself.

use midspan::mechanics::roughness::{LEAST_CHIP_MM, height_mm, height_of_fine_feed_mm, mean_mm, stays_on_the_nose};

use midspan::job::{Cut, PassKind};
use midspan::study::feed_marks::feed_marks;

use crate::close::close;
use crate::random_job::plain_job;

/// Source: `f²/(8 r)`, all texts on metal cutting (from memory); worked by hand for noses of 0.2, 0.4, 0.8 and 1.2 mm,
/// in um.
#[test]
fn heights_of_marks_meet_the_table_worked_by_hand() {
    for (feed_mm, heights_um, last_figure_um) in [
        (0.05, [1.56, 0.78, 0.39, 0.26], 0.01),
        (0.10, [6.25, 3.13, 1.56, 1.04], 0.01),
        (0.15, [14.1, 7.0, 3.5, 2.3], 0.1),
        (0.20, [25.0, 12.5, 6.25, 4.17], 0.01),
        (0.30, [56.0, 28.0, 14.1, 9.4], 1.0),
    ] {
        for (nose_mm, height_um) in [0.2, 0.4, 0.8, 1.2].into_iter().zip(heights_um) {
            close(1000.0 * height_mm(feed_mm, nose_mm), height_um, 0.0, 0.51 * last_figure_um);
        }
    }
}

/// The same from the marks themselves: circles of the nose's radius one feed apart, their height and the mean distance
/// from the mean line summed up by steps. A parabola stands for the circle to a few tenths of a percent (geometry).
#[test]
fn marks_drawn_as_circles_are_as_high_and_as_rough() {
    for (feed_mm, nose_mm) in [(0.05, 0.2), (0.1, 0.4), (0.2, 0.8), (0.3, 1.2)] {
        let depth = |x_mm: f64| nose_mm - (nose_mm * nose_mm - x_mm * x_mm).sqrt();
        close(height_mm(feed_mm, nose_mm), depth(feed_mm / 2.0), 0.006, 0.0);
        let n = 20_000;
        let places: Vec<f64> = (0..n).map(|index| (f64::from(index) + 0.5) / f64::from(n) * feed_mm / 2.0).collect();
        let mean_line = places.iter().map(|x| depth(*x)).sum::<f64>() / f64::from(n);
        let rough = places.iter().map(|x| (depth(*x) - mean_line).abs()).sum::<f64>() / f64::from(n);
        close(mean_mm(feed_mm, nose_mm), rough, 0.006, 0.0);
        // The rule of thumb with 32.
        close(mean_mm(feed_mm, nose_mm), feed_mm * feed_mm / (32.0 * nose_mm), 0.03, 0.0);
    }
}

/// A nose of 0.4 mm with a trailing edge at 5 degrees: the mark is all nose up to 2 * 0.4 * sin 5° = 0.0697 mm of feed.
#[test]
fn a_mark_stays_on_the_nose_up_to_twice_its_radius_times_the_sine() {
    let end_edge_rad = 5_f64.to_radians();
    assert!(stays_on_the_nose(0.069, 0.4, end_edge_rad));
    assert!(!stays_on_the_nose(0.070, 0.4, end_edge_rad));
}

/// Source: Brammertz 1961 (from memory): `f²/(8 r) + h/2 (1 + r h / f²)`; by hand at 0.1 mm feed, 0.4 mm nose and
/// h = 2 um: 3.125 + 1.08 = 4.205 um.
#[test]
fn a_fine_feed_leaves_more_than_its_marks() {
    close(height_of_fine_feed_mm(0.1, 0.4, 0.002), 0.004_205, 1e-9, 0.0);
    for least_chip_mm in LEAST_CHIP_MM {
        let heights = [0.01, 0.02, 0.05, 0.1, 0.3].map(|feed_mm| height_of_fine_feed_mm(feed_mm, 0.8, least_chip_mm));
        // There is a feed below which a finer one makes it no better.
        let finest = heights.iter().copied().fold(f64::INFINITY, f64::min);
        assert!(heights[0] > finest && heights[4] > finest, "{heights:?}");
    }
}

/// By hand: 0.1 mm a turn with a nose of 0.4 mm stands 3.125 um high, Ra 0.802 um; a worn edge (5 um) adds 3 um. The
/// nose of 0.4 mm reaches 0.0697 mm with a trailing edge of 5 degrees, one of 0.8 mm twice that.
#[test]
fn a_pass_leaves_the_marks_of_its_feed_and_nose() {
    let mut job = plain_job(300.0, 30.0);
    let setup = &mut job.setups[0];
    (setup.tool.nose_radius_mm, setup.passes[0].feed_mm_per_rev) = (0.4, 0.1);
    let marks = feed_marks(setup, &setup.passes[0]).unwrap();
    close(marks.height_mm, 0.003_125, 1e-12, 0.0);
    close(marks.mean_mm, 0.000_802, 1e-3, 0.0);
    close(marks.worn_height_mm, 0.006_125, 1e-12, 0.0);
    assert!(marks.past_the_nose);
    setup.tool.nose_radius_mm = 0.8;
    assert!(!feed_marks(setup, &setup.passes[0]).unwrap().past_the_nose);
    for kind in [PassKind::Thread, PassKind::Face, PassKind::Drill, PassKind::Groove, PassKind::Part] {
        setup.passes[0].kind = kind;
        assert_eq!(feed_marks(setup, &setup.passes[0]), None);
    }
    setup.passes[0].kind = PassKind::Bore;
    setup.passes[0].cut = Cut::Depth { on_diameter_mm: 1.0 };
    assert!(feed_marks(setup, &setup.passes[0]).is_some());
    setup.tool.nose_radius_mm = 0.0;
    assert_eq!(feed_marks(setup, &setup.passes[0]), None);
}
