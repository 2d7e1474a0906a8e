//! Measured turning forces against the force laws: how far Kienzle's power law and the chord rule carry.
//!
//! Source: open data, GitHub mati-paredes/Turning-Cutting-Forces, `Ks/Datos.csv` and `f_fixed/Datos.csv` (read; grade A
//! as data, fit recomputed): lathe, some 1060 to 1090 rpm, dynamometer. Work material and tool are not stated; that Fx
//! is the feed force, Fy the radial and Fz the main one is a reading of the figures, not the authors' word.

use midspan::mechanics::cutting::{Edge, Law, kienzle_kc_mpa};

use crate::close::close;

/// One measured cut: depth, feed per revolution, and the three forces.
struct Measured {
    depth_mm: f64,
    feed_mm: f64,
    feed_n: f64,
    radial_n: f64,
    main_n: f64,
}

const fn cut(depth_mm: f64, feed_mm: f64, feed_n: f64, radial_n: f64, main_n: f64) -> Measured {
    Measured { depth_mm, feed_mm, feed_n, radial_n, main_n }
}

/// Depth 1 mm, feed varied.
const BY_FEED: [Measured; 4] = [
    cut(1.0, 0.098, 100.5, 78.2, 212.6),
    cut(1.0, 0.176, 147.2, 124.4, 371.1),
    cut(1.0, 0.303, 194.9, 201.6, 569.0),
    cut(1.0, 0.401, 250.9, 287.8, 725.6),
];

/// Feed about 0.1 mm, depth varied.
const BY_DEPTH: [Measured; 4] = [
    cut(0.25, 0.10, 8.0, 47.2, 65.5),
    cut(0.50, 0.10, 38.9, 62.2, 120.2),
    cut(1.00, 0.10, 100.5, 78.2, 212.6),
    cut(1.25, 0.10, 120.4, 69.2, 268.2),
];

/// Least squares of `ln Ks` on `ln f`: factor, exponent, and the share of the spread of `ln Ks` the line explains.
fn fit(cuts: &[Measured]) -> (f64, f64, f64) {
    let points: Vec<(f64, f64)> =
        cuts.iter().map(|cut| (cut.feed_mm.ln(), (cut.main_n / (cut.depth_mm * cut.feed_mm)).ln())).collect();
    let n = points.len() as f64;
    let mean = |part: fn(&(f64, f64)) -> f64| points.iter().map(part).sum::<f64>() / n;
    let (mean_x, mean_y) = (mean(|point| point.0), mean(|point| point.1));
    let sum = |term: &dyn Fn(f64, f64) -> f64| points.iter().map(|(x, y)| term(x - mean_x, y - mean_y)).sum::<f64>();
    let slope = sum(&|x, y| x * y) / sum(&|x, _| x * x);
    let rest = sum(&|x, y| (y - slope * x).powi(2));
    ((mean_y - slope * mean_x).exp(), slope, 1.0 - rest / sum(&|_, y| y * y))
}

/// The fit printed with the data: Ks = 1609.5·f^(-0.136) N/mm², R² = 0.932 (recomputed 1609.5 and 0.13617).
#[test]
fn fitted_specific_force_is_the_one_published_with_the_data() {
    let (factor, exponent, explained) = fit(&BY_FEED);
    close(factor, 1609.5, 0.0, 0.5);
    close(exponent, -0.136, 0.0, 5e-4);
    close(explained, 0.932, 0.0, 5e-3);
    // The program's law with these constants gives the measured main force back to a few percent.
    for measured in &BY_FEED {
        let main_n = kienzle_kc_mpa(factor, -exponent, measured.feed_mm) * measured.depth_mm * measured.feed_mm;
        close(main_n, measured.main_n, 0.04, 0.0);
    }
}

/// Main force in proportion to depth, as the program takes it, misses the measured cuts by no more than the 20 % it
/// claims; it is lowest at a quarter of a millimetre, where the edge ploughs.
#[test]
fn main_force_grows_with_the_depth_within_the_spread_that_is_claimed() {
    let (factor, exponent, _) = fit(&BY_FEED);
    for measured in BY_DEPTH.iter().chain(&BY_FEED) {
        let main_n = kienzle_kc_mpa(factor, -exponent, measured.feed_mm) * measured.depth_mm * measured.feed_mm;
        close(main_n, measured.main_n, 0.20, 0.0);
    }
}

/// Measured radial over main force: 0.72, 0.52, 0.37, 0.26 as the depth rises from 0.25 to 1.25 mm. One ratio for all
/// depths would mislead; the chord rule falls the same way. Nose radius and entering angle were not stated: with 0.8 mm
/// and 93 degrees, a common insert, and the thrust of the cut at 1 mm, it stays within the 40 % that is claimed for
/// the push.
#[test]
fn push_falls_behind_the_main_force_as_the_depth_rises() {
    let whole = &BY_DEPTH[2];
    let (factor, exponent, _) = fit(&BY_FEED);
    let law = Law::Chip {
        main_n_per_mm: kienzle_kc_mpa(factor, -exponent, whole.feed_mm) * whole.feed_mm,
        thrust_ratio: whole.feed_n.hypot(whole.radial_n) / whole.main_n,
        edge: Edge::new(whole.feed_mm, 0.8, 93_f64.to_radians()),
    };
    let (mut last_measured, mut last_found) = (f64::INFINITY, f64::INFINITY);
    for (measured, printed) in BY_DEPTH.iter().zip([0.72, 0.52, 0.37, 0.26]) {
        let (forces, _) = law.forces(measured.depth_mm);
        let (measured_ratio, found_ratio) = (measured.radial_n / measured.main_n, forces.radial_n / forces.main_n);
        close(measured_ratio, printed, 0.0, 0.0055);
        assert!(measured_ratio < last_measured && found_ratio < last_found, "at {} mm", measured.depth_mm);
        (last_measured, last_found) = (measured_ratio, found_ratio);
        close(forces.radial_n, measured.radial_n, 0.40, 0.0);
        // In a light cut most of the thrust is away from the tool, in a deeper one along the work: in both alike.
        assert_eq!(measured.radial_n > measured.feed_n, forces.radial_n > forces.feed_n, "at {} mm", measured.depth_mm);
    }
}
