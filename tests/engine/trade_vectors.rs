//! Figures worked out beside the project from the formulas of the trade: spans that spring by a given amount, stiffness
//! in mid-span, sag, buckling. Each is set up as a job and put through the study.
//!
//! Source: closed forms of any beam table (48·EI/L³, 5·q·L⁴/384·EI, π²·EI/L²), tabled to two or three figures for
//! steel of 210 GPa; they leave shear out. Half a unit of the last figure is the tolerance.

use std::f64::consts::{FRAC_PI_4, PI};

use midspan::job::{DriveKind, Hold, Stated, Stiffness};
use midspan::study::{Status, compute, shape_at};

use crate::bar_job::{Ends, bar, between, first_pass, set_push};
use crate::close::close;

const E_MPA: f64 = 210_000.0;

/// What shear adds to the spring in mid-span per N, F·L/4·κGA.
fn shear_mm_per_n(length_mm: f64, diameter_mm: f64) -> f64 {
    let area_mm2 = FRAC_PI_4 * diameter_mm * diameter_mm;
    length_mm / 4.0 / (crate::dense::beam::cowper(0.3, 0.0) * E_MPA / 2.6 * area_mm2)
}

/// Spring of the middle of a bar between rigid centres under a push there.
fn middle_mm(length_mm: f64, diameter_mm: f64, push_n: f64) -> f64 {
    let mut job = bar(&[(length_mm, diameter_mm)], Ends::TwoCentres, E_MPA);
    set_push(&mut job, push_n, false);
    between(&first_pass(&job), length_mm / 2.0, |station| station.spring_x_mm)
}

/// Spans that spring by 5 um, 10 um on diameter, at mid-span: L = (48·EI·δ/F)^(1/3), to a millimetre. Shear, which that
/// formula leaves out, is taken off. On spans this short it is no trifle: it adds 11 % to a bar of 10 x 44 mm, so that
/// the tabled spans are up to 4 % longer than they should be.
#[test]
fn spans_that_spring_by_five_micrometres_are_as_tabled() {
    for (diameter_mm, at_100_n_mm, at_300_n_mm) in
        [(10.0, 63.0, 44.0), (20.0, 158.0, 110.0), (30.0, 272.0, 188.0), (40.0, 399.0, 276.0), (50.0, 537.0, 372.0)]
    {
        for (push_n, length_mm) in [(100.0, at_100_n_mm), (300.0, at_300_n_mm)] {
            let bent_mm = middle_mm(length_mm, diameter_mm, push_n) - push_n * shear_mm_per_n(length_mm, diameter_mm);
            // The span that would spring by exactly 5 um.
            close(length_mm * (0.005 / bent_mm).cbrt(), length_mm, 0.0, 0.505);
        }
    }
    let sheared_mm = 300.0 * shear_mm_per_n(44.0, 10.0);
    close(sheared_mm / (middle_mm(44.0, 10.0, 300.0) - sheared_mm), 0.11, 0.0, 0.005);
}

/// Source: the same closed forms: stiffness in mid-span 0.040, 0.079, 0.193 and 0.375 N/um; and the twin in metric units
/// of a bar of 3/4 x 24 in: 20 x 600 mm under 90 N springs by 0.25 mm, 0.50 mm on diameter (steel of 30e6 psi there).
#[test]
fn middle_of_a_bar_between_centres_is_as_stiff_as_tabled() {
    for (diameter_mm, length_mm, k_n_per_um) in
        [(10.0, 500.0, 0.040), (20.0, 1000.0, 0.079), (25.0, 1000.0, 0.193), (40.0, 1500.0, 0.375)]
    {
        let bent_mm = middle_mm(length_mm, diameter_mm, 10.0) - 10.0 * shear_mm_per_n(length_mm, diameter_mm);
        close(10.0 / bent_mm / 1000.0, k_n_per_um, 0.0, 5.05e-4);
    }
    close(middle_mm(600.0, 20.0, 90.0), 0.25, 0.0, 0.005);
}

/// Source: sag of a bar between centres, 5·q·L⁴/384EI, of every material of the table, against its own modulus and
/// density. Shear adds q·L²/8κGA, 0.1 % of it here; a job weighs with standard gravity.
#[test]
fn bar_of_every_material_sags_by_the_formula() {
    use midspan::job::{MaterialChoice, materials::MATERIALS};
    let (length_mm, diameter_mm) = (1000.0_f64, 20.0_f64);
    for listed in MATERIALS {
        let mut job = bar(&[(length_mm, diameter_mm)], Ends::TwoCentres, E_MPA);
        job.shaft.material = MaterialChoice::Listed(listed.key.to_owned());
        let shape = crate::bar_job::lying(&job);
        let deepest_mm = -shape.y_mm.iter().copied().fold(f64::INFINITY, f64::min);
        let q_n_per_mm = listed.density_kg_per_m3.value * 9.806_65e-9 * FRAC_PI_4 * diameter_mm * diameter_mm;
        let bending = listed.e_mpa.value * PI / 64.0 * diameter_mm.powi(4);
        close(deepest_mm, 5.0 * q_n_per_mm * length_mm.powi(4) / (384.0 * bending), 1.5e-3, 0.0);
    }
}

/// Source: Euler's load with one end clamped and one hinged, 2.046·π²EI/L² (any text). Just below it the work is held,
/// just above it is not. A ring of wire under the jaws (a hinge) brings that down to π²EI/L².
#[test]
fn work_in_chuck_and_centre_buckles_at_twice_the_load_of_two_hinges() {
    let (length_mm, diameter_mm) = (1000.0_f64, 20.0_f64);
    let euler_n = PI.powi(2) * E_MPA * PI / 64.0 * diameter_mm.powi(4) / length_mm.powi(2);
    let held = |hinge: bool, thrust_n: f64| {
        let mut job = bar(&[(length_mm, diameter_mm)], Ends::ChuckAndCentre, E_MPA);
        let setup = &mut job.setups[0];
        assert_eq!(setup.drive.kind, DriveKind::ThreeJaw);
        if hinge {
            setup.drive.hold = Hold::Hinge;
            setup.drive.rotation_k_nmm_per_rad = Stiffness::Spring(Stated::given(1e-3));
        }
        setup.tail.thrust_n = thrust_n;
        setup.passes.clear();
        let shape = shape_at(&job, &compute(&job), job.setups[0].id, None, None);
        shape.is_some_and(|shape| shape.status == Status::Solved)
    };
    for (hinge, factor) in [(false, 2.046), (true, 1.0)] {
        assert!(held(hinge, 0.99 * factor * euler_n), "hinge {hinge}: it carries a hundredth less");
        assert!(!held(hinge, 1.01 * factor * euler_n), "hinge {hinge}: it does not carry a hundredth more");
    }
}
