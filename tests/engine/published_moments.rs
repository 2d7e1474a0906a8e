//! Bending moments with a printed answer, read off the bent line: M/EI is the change of the section's slope along it.
//!
//! The slope's change over an element is M/EI in its middle where M is a straight line; two elements beside a place give
//! it at the place itself. Put to the program and to the plain solver alike.

use midspan::mechanics::beam::{Elastic, Element, Round};
use midspan::mechanics::deflection::bent_line;
use midspan::mechanics::walk::NodeSpring;
use midspan::mechanics::{RIGID_N_PER_MM, RIGID_NMM_PER_RAD};

use crate::beam_case::{Case, Solved};
use crate::close::close;

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Beside {
    Before,
    After,
}

/// M/EI just before or just after a place that is a node, positive where the loads pull the far side.
fn curvature_at(solved: &Solved, z_mm: f64, beside: Beside) -> f64 {
    let last = solved.z_mm.len() - 1;
    let node = (0..=last).min_by(|&a, &b| {
        let off = |node: usize| (solved.z_mm[node] - z_mm).abs();
        off(a).total_cmp(&off(b))
    });
    let node = node.expect("a beam has nodes");
    let [near, far] = match beside {
        Beside::Before => [node - 1, node - 2],
        Beside::After => [node, node + 1],
    };
    let middle = |element: usize| {
        let step_mm = solved.z_mm[element + 1] - solved.z_mm[element];
        let turned = solved.turn_rad[element + 1] - solved.turn_rad[element];
        (0.5 * (solved.z_mm[element] + solved.z_mm[element + 1]), -turned / step_mm)
    };
    let ((near_mm, near), (far_mm, far)) = (middle(near), middle(far));
    near + (near - far) * (solved.z_mm[node] - near_mm) / (near_mm - far_mm)
}

/// Source: Shigley, 8th ed., solutions, problem 7-10: the printed table of M/I either side of every shoulder, in
/// 1e9 N/m³ (read; grade A, all recomputed within 0.03 %); E = 207 GPa.
#[test]
fn moment_over_inertia_of_the_stepped_shaft_meets_shigley() {
    let lands = [(40.0, 35.0), (60.0, 40.0), (110.0, 45.0), (65.0, 40.0), (40.0, 35.0)];
    let e_mpa = 207_000.0;
    let ratios = lands.map(|(length, diameter)| (length, diameter / 40.0));
    let inertia_mm4 = std::f64::consts::PI / 64.0 * 40.0_f64.powi(4);
    let case = Case::thin_stepped(e_mpa * inertia_mm4, &ratios).pinned(0.0).pinned(315.0).push(140.0, 7000.0);
    for solved in case.solved() {
        for (z_mm, beside, printed) in [
            (40.0, Beside::Before, 2.112),
            (40.0, Beside::After, 1.2375),
            (100.0, Beside::Before, 3.094),
            (100.0, Beside::After, 1.932),
            (140.0, Beside::Before, 2.705),
            (140.0, Beside::After, 2.705),
            (210.0, Beside::Before, 1.623),
            (210.0, Beside::After, 2.6),
            (275.0, Beside::Before, 0.99),
            (275.0, Beside::After, 1.6894),
        ] {
            close(e_mpa * curvature_at(&solved, z_mm, beside), printed, 5e-4, 0.0);
        }
    }
}

/// Source: first example of the open library IndeterminateBeam (its own tests; grade A for forces): largest moment
/// 4092.3 N·m, over the pin at 5 m; shear -2381.5 N at 1 m.
#[test]
fn largest_moment_of_the_continuous_beam_meets_an_open_library() {
    let bending = 200e9 * 9.05e-6;
    let case = Case::thin(7.0, bending).pinned(0.0).pinned(5.0).clamped(7.0);
    for solved in case.push(2.0, 1000.0).even(1.0, 4.0, 2000.0).couple(3.5, 2000.0).solved() {
        let over_pin = bending * curvature_at(&solved, 5.0, Beside::Before);
        close(over_pin.abs(), 4092.3, 2e-5, 0.0);
        close(bending * curvature_at(&solved, 5.0, Beside::After), over_pin, 1e-6, 0.0);
        close(bending * curvature_at(&solved, 1.0, Beside::Before).abs(), 2381.5, 2e-5, 0.0);
        // At the pin that is the end nothing is bent.
        close(bending * curvature_at(&solved, 0.0, Beside::After), 0.0, 0.0, 1e-3);
    }
}

/// Source: the same library's propped beam with a mid load: wall 16875 N·m, 4687.5 N on the prop 3 m from the load.
#[test]
fn moments_of_the_propped_beam_meet_an_open_library() {
    let bending = 200e9 * 9.05e-6;
    for solved in Case::thin(6.0, bending).clamped(0.0).pinned(6.0).push(3.0, 15_000.0).solved() {
        close(bending * curvature_at(&solved, 0.0, Beside::After), -16_875.0, 1e-6, 0.0);
        close(bending * curvature_at(&solved, 3.0, Beside::After), 3.0 * 4687.5, 1e-6, 0.0);
    }
}

/// Source: settling supports, mathalino.com/tag/reviewer/settling-support (read; grade A): a propped beam whose prop
/// sinks by δ loses 3·EI·δ/L³; of fixed ends that move apart by Δ each holds 6·EI·Δ/L² (and so 12·EI·Δ/L³).
#[test]
fn supports_that_settle_load_the_beam_by_the_closed_forms() {
    let (length_mm, apart_mm, n) = (2000.0_f64, 3.0, 40);
    let diameter_mm = 1e-4 * length_mm;
    let bending = 4e9;
    let e_mpa = bending / (std::f64::consts::PI / 64.0 * diameter_mm.powi(4));
    let elements =
        vec![Element::new(length_mm / n as f64, &Round::solid(diameter_mm), &Elastic::new(e_mpa, 0.3, 0.0), 0.0); n];
    let end = |turning_nmm_per_rad: f64, away_mm: f64| NodeSpring {
        radial_n_per_mm: RIGID_N_PER_MM,
        turning_nmm_per_rad,
        anchor_mm: [away_mm, 0.0],
    };
    let moves = |far_turning: f64| {
        let springs = [(0, end(RIGID_NMM_PER_RAD, 0.0)), (n, end(far_turning, apart_mm))];
        bent_line(&elements, &springs, &[]).unwrap()
    };
    let fixed = moves(RIGID_NMM_PER_RAD);
    let couple_nmm = |turn_rad: f64| RIGID_NMM_PER_RAD * turn_rad.abs();
    close(couple_nmm(fixed[0].slope_rad[0]), 6.0 * bending * apart_mm / length_mm.powi(2), 1e-5, 0.0);
    close(couple_nmm(fixed[n].slope_rad[0]), 6.0 * bending * apart_mm / length_mm.powi(2), 1e-5, 0.0);
    close(fixed[n / 2].move_mm[0], apart_mm / 2.0, 1e-9, 0.0);
    let hinged = moves(0.0);
    // The wall holds the prop's force by its lever L.
    close(couple_nmm(hinged[0].slope_rad[0]), 3.0 * bending * apart_mm / length_mm.powi(2), 1e-5, 0.0);
    close(hinged[n / 2].move_mm[0], apart_mm * 5.0 / 16.0, 1e-6, 0.0);
}
