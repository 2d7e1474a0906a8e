//! How much the answer hangs on the closeness of nodes and stations: ladders from coarse to fine.
//!
//! The beam alone is compared with closed forms, and its error must fall with the order its method promises: cylinders
//! exact, tapers by three Gauss points (sixth order), a taper's weight and an axial force by the square of the element.
//! Whole jobs at the usual fineness are compared with four times finer ones: less than 0.1 % of the largest error.

use std::f64::consts::PI;

use midspan::job::{Job, examples};
use midspan::mechanics::beam::{Elastic, Element, Round};
use midspan::mechanics::deflection::{NodeMove, bent_line};
use midspan::mechanics::walk::{NodeLoad, NodeSpring};
use midspan::study::{Fineness, PassResult, Station, Status, compute, compute_at};

use crate::close::close;
use crate::random_job::{plain_job, random_job};

const E_MPA: f64 = 2e5;

/// A rigid wall for beams that give a millimetre a newton.
const WALL: NodeSpring = NodeSpring { radial_n_per_mm: 1e16, turning_nmm_per_rad: 1e22, anchor_mm: [0.0; 2] };
const PIN: NodeSpring = NodeSpring { radial_n_per_mm: 1e16, turning_nmm_per_rad: 0.0, anchor_mm: [0.0; 2] };

/// A cone from `wall_mm` to `tip_mm` in `n` equal elements.
fn cone(length_mm: f64, wall_mm: f64, tip_mm: f64, weight_n_per_mm3: f64, n: usize) -> Vec<Element> {
    let elastic = Elastic::new(E_MPA, 0.3, weight_n_per_mm3);
    let diameter_mm = |node: usize| wall_mm + (tip_mm - wall_mm) * node as f64 / n as f64;
    (0..n)
        .map(|i| {
            let round =
                Round { outside0_mm: diameter_mm(i), outside1_mm: diameter_mm(i + 1), ..Round::solid(diameter_mm(i)) };
            Element::new(length_mm / n as f64, &round, &elastic, 0.0)
        })
        .collect()
}

fn pushed(elements: &[Element], springs: &[(usize, NodeSpring)], node: usize) -> Vec<NodeMove> {
    let push = NodeLoad { node, force_n: [1.0, 0.0], moment_nmm: [0.0; 2] };
    bent_line(elements, springs, &[push]).expect("the bar is held")
}

/// Source: the integral of x²/EI + 1/κGA by hand: a cone with diameters a at the wall and b at the tip gives
/// 64·F·L³/(3π·E·a³·b) + 4·F·L/(π·κG·a·b) under a force at the tip. Doubling the elements divides the error by 64.
#[test]
fn error_of_a_taper_falls_with_the_sixth_power_of_its_elements() {
    let (length_mm, wall_mm, tip_mm) = (400.0_f64, 40.0_f64, 20.0_f64);
    let kappa_g_mpa = crate::dense::beam::cowper(0.3, 0.0) * E_MPA / 2.6;
    let exact_mm = 64.0 * length_mm.powi(3) / (3.0 * PI * E_MPA * wall_mm.powi(3) * tip_mm)
        + 4.0 * length_mm / (PI * kappa_g_mpa * wall_mm * tip_mm);
    let miss = |n: usize| {
        let moves = pushed(&cone(length_mm, wall_mm, tip_mm, 0.0, n), &[(0, WALL)], n);
        (moves[n].move_mm[0] / exact_mm - 1.0).abs()
    };
    let misses = [1, 2, 4, 8, 16].map(miss);
    for pair in misses[2..].windows(2) {
        close((pair[0] / pair[1]).log2(), 6.0, 0.0, 0.35);
    }
    // The usual fineness has 75 elements and more in a length: a taper is exact there.
    assert!(misses[0] < 5e-3 && miss(75) < 1e-11, "{misses:?}, {}", miss(75));
}

/// A cone hanging from a wall by its own weight, against the double integral worked out by Simpson's rule with a thousand
/// steps: the weight goes to the ends of each element as a cylinder's would, so the error falls with its square.
#[test]
fn error_of_a_tapers_own_weight_falls_with_the_square_of_its_elements() {
    let (length_mm, wall_mm, tip_mm, weight) = (400.0, 40.0, 20.0, 7.7e-5);
    let diameter_mm = |z_mm: f64| wall_mm + (tip_mm - wall_mm) * z_mm / length_mm;
    // Moment at z of what lies beyond: ∫ (s - z) q(s) ds with q = w·π/4·d², a polynomial, by hand from the tip:
    // with d = b + c·t, t from the tip, M = w·π/4·(b²t²/2 + b·c·t³/3 + c²·t⁴/12).
    let c = (wall_mm - tip_mm) / length_mm;
    let moment_nmm = |z_mm: f64| {
        let t: f64 = length_mm - z_mm;
        weight * PI / 4.0 * (tip_mm * tip_mm * t * t / 2.0 + tip_mm * c * t.powi(3) / 3.0 + c * c * t.powi(4) / 12.0)
    };
    // Its derivative: the shear force beyond z.
    let shear_n = |z_mm: f64| {
        let t: f64 = length_mm - z_mm;
        weight * PI / 4.0 * (tip_mm * tip_mm * t + tip_mm * c * t * t + c * c * t.powi(3) / 3.0)
    };
    let kappa_g_mpa = crate::dense::beam::cowper(0.3, 0.0) * E_MPA / 2.6;
    let give = |z_mm: f64| {
        let d_mm = diameter_mm(z_mm);
        moment_nmm(z_mm) * (length_mm - z_mm) / (E_MPA * PI / 64.0 * d_mm.powi(4))
            + shear_n(z_mm) / (kappa_g_mpa * PI / 4.0 * d_mm * d_mm)
    };
    let n_steps = 1000;
    let exact_mm: f64 = (0..=n_steps)
        .map(|i| {
            let factor = if i == 0 || i == n_steps { 1.0 } else { 2.0 + 2.0 * f64::from(i % 2) };
            factor * give(length_mm * f64::from(i) / f64::from(n_steps)) * length_mm / f64::from(n_steps) / 3.0
        })
        .sum();
    let miss = |n: usize| {
        let moves = bent_line(&cone(length_mm, wall_mm, tip_mm, weight, n), &[(0, WALL)], &[]).unwrap();
        (moves[n].move_mm[1] / -exact_mm - 1.0).abs()
    };
    for n in [4, 8, 16, 32] {
        close((miss(n) / miss(2 * n)).log2(), 2.0, 0.0, 0.1);
    }
    assert!(miss(75) < 1e-4, "{}", miss(75));
}

/// Source: a mid load under an axial force P between pins moves it by F·L³/48EI · 3(tan u - u)/u³ in compression, with
/// u = L/2·√(P/EI), and 3(u - tanh u)/u³ in tension (Timoshenko and Gere, Theory of Elastic Stability; from memory). The
/// error falls with the square of the element.
#[test]
fn error_of_an_axial_force_falls_with_the_square_of_the_element() {
    let length_mm = 2000.0_f64;
    let diameter_mm = 0.2_f64;
    let e_mpa = 1e9;
    let bending = e_mpa * PI / 64.0 * diameter_mm.powi(4);
    let euler_n = PI * PI * bending / (length_mm * length_mm);
    for share in [0.3, -0.5] {
        let axial_n = share * euler_n;
        let u = 0.5 * length_mm * (axial_n.abs() / bending).sqrt();
        let factor = if share > 0.0 { u.tan() - u } else { u - u.tanh() };
        let exact_mm = length_mm.powi(3) / (48.0 * bending) * 3.0 * factor / u.powi(3);
        let miss = |n: usize| {
            let elastic = Elastic::new(e_mpa, 0.3, 0.0);
            let element = Element::new(length_mm / n as f64, &Round::solid(diameter_mm), &elastic, axial_n);
            let moves = pushed(&vec![element; n], &[(0, PIN), (n, PIN)], n / 2);
            (moves[n / 2].move_mm[0] / exact_mm - 1.0).abs()
        };
        for n in [8, 16, 32] {
            close((miss(n) / miss(2 * n)).log2(), 2.0, 0.0, 0.1);
        }
        // The usual fineness has elements of a 75th of the length or less.
        assert!(miss(74) < 5e-5, "{}", miss(74));
    }
}

/// A cylinder under its own weight is exact at every node, however few there are: 5·q·L⁴/384EI (any beam table).
#[test]
fn cylinder_under_its_own_weight_is_exact_with_two_elements() {
    let (length_mm, diameter_mm, weight) = (2000.0_f64, 0.2_f64, 1e-3);
    let e_mpa = 1e9;
    let (q, bending) = (weight * PI / 4.0 * diameter_mm * diameter_mm, e_mpa * PI / 64.0 * diameter_mm.powi(4));
    for n in [2, 4, 50] {
        let elastic = Elastic::new(e_mpa, 0.3, weight);
        let elements = vec![Element::new(length_mm / n as f64, &Round::solid(diameter_mm), &elastic, 0.0); n];
        let moves = bent_line(&elements, &[(0, PIN), (n, PIN)], &[]).unwrap();
        close(-moves[n / 2].move_mm[1], 5.0 * q * length_mm.powi(4) / (384.0 * bending), 1e-7, 0.0);
    }
}

/// Error and support forces of a finer pass at the very place of a coarse station (the side of a shoulder included),
/// straight between neighbours where none stands there.
fn finer_at(fine: &PassResult, coarse: &PassResult, index: usize) -> (f64, Vec<f64>) {
    let same = |a: &Station, z_mm: f64| (a.z_mm - z_mm).abs() < 1e-6;
    let z_mm = coarse.stations[index].z_mm;
    let here: Vec<usize> = (0..fine.stations.len()).filter(|i| same(&fine.stations[*i], z_mm)).collect();
    if !here.is_empty() {
        let is_second = index > 0 && same(&coarse.stations[index - 1], z_mm);
        let found = if is_second { here[here.len() - 1] } else { here[0] };
        return (fine.stations[found].error_mm, fine.forces_at(found).to_vec());
    }
    let after = fine.stations.partition_point(|station| station.z_mm < z_mm).clamp(1, fine.stations.len() - 1);
    let (low, high) = (&fine.stations[after - 1], &fine.stations[after]);
    let share = (z_mm - low.z_mm) / (high.z_mm - low.z_mm);
    let between = |low: f64, high: f64| low + (high - low) * share;
    let forces = fine.forces_at(after - 1).iter().zip(fine.forces_at(after)).map(|(low, high)| between(*low, *high));
    (between(low.error_mm, high.error_mm), forces.collect())
}

/// For every station the change of its error against the largest error of the pass, or of a support's force against the
/// largest force, whichever is larger.
fn changes(coarse: &PassResult, fine: &PassResult) -> Vec<f64> {
    let largest = |values: &mut dyn Iterator<Item = f64>| values.fold(0.0, |most: f64, value| most.max(value.abs()));
    let most_mm = largest(&mut coarse.stations.iter().map(|station| station.error_mm));
    let most_n = largest(&mut coarse.forces_n.iter().copied());
    (coarse.stations.iter().enumerate())
        .map(|(index, station)| {
            let (error_mm, forces_n) = finer_at(fine, coarse, index);
            let forces = coarse.forces_at(index).iter().zip(&forces_n);
            let force_n = largest(&mut forces.map(|(force_n, finer_n)| force_n - finer_n));
            let change = ((station.error_mm - error_mm).abs() / most_mm).max(force_n / most_n);
            assert!(change.is_finite());
            change
        })
        .collect()
}

/// Compares every solved pass of a job with one computed four times finer; gives how many.
///
/// Where a follower comes onto the work, or crosses the place where it came on before, the surface it rides on has a
/// jump. The study draws that as a slope of one station spacing, so a station whose follower stands on such a slope may
/// miss by the jump itself, however fine the mesh; one a jaw distance, since the follower copies each
/// jump at the next, and as many again for every pass before. Everything else must hold.
fn four_times_finer_changes_little(name: &str, job: &Job, apart: &mut Vec<String>) -> usize {
    let (coarse, fine) = (compute(job), compute_at(job, Fineness::USUAL.finer(4.0)));
    let mut n_compared = 0;
    for ((coarse, fine), setup) in coarse.setups.iter().zip(&fine.setups).zip(&job.setups) {
        for (index, (coarse, fine)) in coarse.passes.iter().zip(&fine.passes).enumerate() {
            assert_eq!(coarse.status, fine.status, "{name}");
            // Faces and drilled holes have no stations.
            if coarse.status != Status::Solved || coarse.stations.is_empty() {
                continue;
            }
            let mut changes = changes(coarse, fine);
            changes.sort_by(f64::total_cmp);
            let length_mm = coarse.stations[coarse.stations.len() - 1].z_mm - coarse.stations[0].z_mm;
            let jaw_distances = setup.follower.as_ref().map_or(0.0, |rest| length_mm / rest.distance_mm);
            let on_a_jump = (index + 1) * jaw_distances as usize;
            let change = changes[changes.len() - 1 - on_a_jump];
            if change >= 1e-3 {
                apart.push(format!("{name}, pass {:?}: {change:.1e} of the largest", coarse.pass));
            }
            n_compared += 1;
        }
    }
    n_compared
}

#[test]
fn examples_hardly_change_when_they_are_computed_four_times_finer() {
    let mut apart = Vec::new();
    let n_compared: usize = examples::EXAMPLES
        .iter()
        .map(|example| four_times_finer_changes_little(example.key, &examples::load(example.key).unwrap(), &mut apart))
        .sum();
    assert!(apart.is_empty(), "{}", apart.join("\n"));
    assert!(n_compared >= 20, "{n_compared} passes were compared");
}

#[test]
fn random_jobs_hardly_change_when_they_are_computed_four_times_finer() {
    let mut apart = Vec::new();
    let n_compared: usize = (0..60)
        .map(|number| four_times_finer_changes_little(&format!("job {number}"), &random_job(number), &mut apart))
        .sum();
    assert!(apart.is_empty(), "{}", apart.join("\n"));
    assert!(n_compared >= 80, "{n_compared} passes were compared");
}

/// A whole job whose only mesh errors are the thrust and a taper's weight: what it leaves settles with the square of the
/// fineness.
#[test]
fn what_a_job_leaves_settles_with_the_square_of_the_fineness() {
    let mut job = plain_job(600.0, 16.0);
    job.shaft.stock[0].end_diameter_mm = 18.0;
    job.setups[0].tail.thrust_n = 2500.0;
    let left_mm = |times: f64| {
        let result = compute_at(&job, Fineness::USUAL.finer(times));
        let pass = &result.setups[0].passes[0];
        let middle = pass.stations.iter().min_by(|a, b| (a.z_mm - 300.0).abs().total_cmp(&(b.z_mm - 300.0).abs()));
        let station = middle.expect("a computed pass has stations");
        close(station.z_mm, 300.0, 0.0, 1e-6);
        station.error_mm
    };
    let [usual, fine, finest] = [1.0, 2.0, 4.0].map(left_mm);
    close((usual - fine) / (fine - finest), 4.0, 0.1, 0.0);
    close(usual, finest, 2e-6, 0.0);
}
