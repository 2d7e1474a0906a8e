//! Axial force at which held work buckles: Euler's cases, a table, and whole matrices.

use std::f64::consts::PI;

use midspan::mechanics::beam::Round;
use midspan::mechanics::buckling::critical_factor;
use midspan::mechanics::vibration::modes;

use crate::close::close;
use crate::random_job::Lot;
use crate::swing_case::Rod;

fn euler_n(e_mpa: f64, diameter_mm: f64, length_mm: f64) -> f64 {
    PI * PI * e_mpa * PI / 64.0 * diameter_mm.powi(4) / (length_mm * length_mm)
}

/// Source: Euler's column, any text: π²EI/L² pinned, 2.046 times that with one end clamped, a quarter for a cantilever,
/// four times for both ends clamped. (tan x = x at x = 4.493409 gives 2.0457.)
#[test]
fn columns_buckle_where_euler_says() {
    let (length, diameter, e) = (1000.0, 20.0, 2.1e5);
    let bar = || Rod::thin(length, diameter, e, 0.0).thrust(100.0).longest(5.0);
    let unit = euler_n(e, diameter, length) / 100.0;
    let exact = (4.493_409_457_909_064 / PI).powi(2);
    close(exact, 2.046, 2e-4, 0.0);
    for (rod, factor) in [
        (bar().pinned(0.0).pinned(length), 1.0),
        (bar().clamped(0.0).pinned(length), exact),
        (bar().clamped(0.0), 0.25),
        (bar().clamped(0.0).clamped(length), 4.0),
    ] {
        close(critical_factor(&rod.mesh().work()).unwrap(), factor * unit, 1e-4, 0.0);
    }
}

#[test]
fn error_of_the_buckling_force_falls_with_the_square_of_the_element() {
    let error = |n: f64| {
        let rod = Rod::thin(1000.0, 20.0, 2.1e5, 0.0).thrust(100.0).longest(1000.0 / n).clamped(0.0).pinned(1000.0);
        let exact = (4.493_409_457_909_064 / PI).powi(2) * euler_n(2.1e5, 20.0, 1000.0) / 100.0;
        critical_factor(&rod.mesh().work()).unwrap() / exact - 1.0
    };
    let errors = [8.0, 16.0, 32.0, 64.0].map(error);
    for pair in errors.windows(2) {
        close((pair[0] / pair[1]).log2(), 2.0, 0.0, 0.1);
    }
}

/// Source: trade table of slender bars between centres, steel of E 210 GPa, column "Pcr pin-pin" (computed there with
/// Euler's formula, not published): 4070, 16278, 39742, 115757 N.
#[test]
fn slender_bars_between_centres_buckle_as_the_table_says() {
    for (diameter, length, critical_n) in
        [(10.0, 500.0, 4070.0), (20.0, 1000.0, 16278.0), (25.0, 1000.0, 39742.0), (40.0, 1500.0, 115_757.0)]
    {
        let rod = Rod::bar(length, diameter, 2.1e5, 7850.0).thrust(1000.0).pinned(0.0).pinned(length);
        let factor = critical_factor(&rod.longest(length / 200.0).mesh().work()).unwrap();
        // Shear makes a real bar softer, by π²EI/(κGA·L²): some 0.2 % at most here.
        close(1000.0 * factor, critical_n, 2.5e-3, 0.0);
        assert!(1000.0 * factor < critical_n, "shear cannot make it stiffer");
    }
}

/// Source: S. P. Timoshenko and J. M. Gere, Theory of Elastic Stability (from memory): a cantilever column of two equal
/// lengths l, load at the tip, buckles at the least root of `tan(k₁ l) tan(k₂ l) = k₂/k₁`, `k² = P/EI`, 1 at the foot.
#[test]
fn stepped_column_buckles_where_timoshenko_and_gere_say() {
    let (half, e): (f64, f64) = (500.0, 2.1e5);
    let (thin, thick): (f64, f64) = (0.02, 0.026);
    let inertia = |d: f64| PI / 64.0 * d.powi(4);
    let mut rod = Rod::bar(2.0 * half, thin, e, 0.0).clamped(0.0).longest(2.5);
    rod.lands = vec![(half, Round::solid(thick), 1e-9), (half, Round::solid(thin), 1e-9)];
    let found_n = 1e-9 * critical_factor(&rod.mesh().work()).unwrap();
    // Root by halving between 0 and where the thin half alone would give way.
    let rest = |p: f64| {
        let (k1, k2) = ((p / (e * inertia(thick))).sqrt(), (p / (e * inertia(thin))).sqrt());
        (k1 * half).tan() * (k2 * half).tan() - k2 / k1
    };
    let (mut low, mut high) = (0.0, e * inertia(thin) * (PI / 2.0 / half).powi(2));
    for _ in 0..100 {
        let middle = 0.5 * (low + high);
        if rest(middle) < 0.0 { low = middle } else { high = middle }
    }
    close(found_n, low, 1e-4, 0.0);
}

#[test]
fn critical_factor_of_random_work_is_that_of_the_whole_matrix() {
    let mut n_pressed = 0;
    for number in 0..60 {
        let rod = Rod::random(&mut Lot(9_000 + number));
        let meshed = rod.mesh();
        let (found, whole) = (critical_factor(&meshed.work()), meshed.matrices().critical_factor());
        if meshed.elements.iter().all(|element| element.axial_n() <= 0.0) {
            assert_eq!(found, None, "case {number} is only pulled");
            continue;
        }
        n_pressed += 1;
        close(found.unwrap(), whole.unwrap(), 1e-7, 0.0);
    }
    assert!(n_pressed > 40);
}

#[test]
fn pulled_work_never_buckles() {
    let rod = Rod::bar(800.0, 20.0, 2.1e5, 7850.0).pinned(0.0).pinned(800.0);
    assert_eq!(critical_factor(&rod.mesh().work()), None);
    assert_eq!(critical_factor(&rod.clone().thrust(-500.0).mesh().work()), None);
    let loose = Rod::bar(800.0, 20.0, 2.1e5, 7850.0).pinned(0.0).thrust(500.0);
    assert_eq!(critical_factor(&loose.mesh().work()), None, "work that is not held has no buckling force");
}

/// At the critical force the work has no stiffness left, so its lowest frequency goes to nothing.
#[test]
fn first_frequency_falls_to_nothing_at_the_buckling_force() {
    let rod = Rod::bar(800.0, 20.0, 2.1e5, 7850.0).clamped(0.0).pinned(800.0).jaw(500.0, 30.0, 2e3).thrust(1000.0);
    let factor = critical_factor(&rod.mesh().work()).unwrap();
    let first = |share: f64| modes(&rod.clone().thrust(1000.0 * factor * share).mesh().work(), 1);
    let free_hz = first(1e-6).unwrap()[0].frequency_hz;
    close(first(1.0 - 1e-6).unwrap()[0].frequency_hz / free_hz, 0.0, 0.0, 2e-3);
    assert_eq!(first(1.0 + 1e-6), None, "buckled work has no frequencies");
}
