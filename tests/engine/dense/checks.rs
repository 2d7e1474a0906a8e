//! The dense solver against closed forms, so that a difference from the program is not its own mistake.

use super::beam::{Beam, Dof, Element, Load, Material, Plane, Spring, cowper};
use super::contact::{Jaw, all_answers, solve};
use super::cut::{Cut, Forces, tool_loads};
use crate::close::close;

const STEEL: Material = Material { e_mpa: 210_000.0, poisson_ratio: 0.3, density_t_per_mm3: 7.85e-9 };

fn bar(length_mm: f64, diameter_mm: f64, n_elements: usize) -> Beam {
    let element = Element::uniform(length_mm / n_elements as f64, diameter_mm, 0.0);
    Beam { material: STEEL, elements: vec![element; n_elements], springs: vec![], loads: vec![], weighs: false }
}

fn hold(beam: &mut Beam, node: usize, dof: Dof, k: f64) {
    for plane in [Plane::X, Plane::Y] {
        beam.springs.push(Spring { node, plane, dof, k, anchor: 0.0 });
    }
}

fn push(beam: &mut Beam, node: usize, plane: Plane, force_n: f64) {
    beam.loads.push(Load { node, plane, dof: Dof::Shift, value: force_n });
}

fn inertia_mm4(diameter_mm: f64) -> f64 {
    std::f64::consts::PI / 64.0 * diameter_mm.powi(4)
}

fn shear_stiffness_n(diameter_mm: f64) -> f64 {
    let area_mm2 = std::f64::consts::PI / 4.0 * diameter_mm.powi(2);
    cowper(STEEL.poisson_ratio, 0.0) * STEEL.e_mpa / (2.0 * (1.0 + STEEL.poisson_ratio)) * area_mm2
}

/// Source: Timoshenko cantilever, tip P·L³/3EI + P·L/κGA (Gere and Timoshenko, any edition).
#[test]
fn dense_cantilever_gives_bending_and_shear() {
    let (length_mm, diameter_mm, force_n) = (200.0_f64, 40.0, 500.0);
    for n in [1, 7, 40] {
        let mut beam = bar(length_mm, diameter_mm, n);
        hold(&mut beam, 0, Dof::Shift, 1e18);
        hold(&mut beam, 0, Dof::Turn, 1e22);
        push(&mut beam, n, Plane::X, force_n);
        let shape = beam.shape().unwrap();
        let bending = force_n * length_mm.powi(3) / (3.0 * STEEL.e_mpa * inertia_mm4(diameter_mm));
        close(shape[n][0], bending + force_n * length_mm / shear_stiffness_n(diameter_mm), 1e-12, 0.0);
        assert_eq!(shape[n][2], 0.0, "the other plane stays where it was");
    }
}

/// Source: cone of diameters d1 at the wall and d2 at the tip, tip deflection by bending F·L³/(3·E·I1)·d1/d2, I1 at
/// the wall (integral of x²/d⁴ done by hand).
#[test]
fn dense_cone_meets_the_integral() {
    let (length_mm, wall_mm, tip_mm, n) = (1e5_f64, 40.0, 20.0, 100);
    let diameter = |i: usize| wall_mm + (tip_mm - wall_mm) * i as f64 / n as f64;
    let mut beam = bar(length_mm, 1.0, n);
    for (i, element) in beam.elements.iter_mut().enumerate() {
        (element.outside_left_mm, element.outside_right_mm) = (diameter(i), diameter(i + 1));
    }
    hold(&mut beam, 0, Dof::Shift, 1e18);
    hold(&mut beam, 0, Dof::Turn, 1e22);
    push(&mut beam, n, Plane::X, 1.0);
    let expected = length_mm.powi(3) / (3.0 * STEEL.e_mpa * inertia_mm4(wall_mm)) * wall_mm / tip_mm;
    close(beam.shape().unwrap()[n][0], expected, 1e-6, 0.0);
}

/// Source: 5·q·L⁴/384EI + q·L²/8κGA for an even load on two supports (any beam table).
#[test]
fn dense_weight_sags_as_an_even_load_does() {
    let (length_mm, diameter_mm, n) = (1000.0_f64, 20.0, 10);
    let mut beam = bar(length_mm, diameter_mm, n);
    beam.weighs = true;
    hold(&mut beam, 0, Dof::Shift, 1e18);
    hold(&mut beam, n, Dof::Shift, 1e18);
    let q = STEEL.density_t_per_mm3 * 9806.65 * std::f64::consts::PI / 4.0 * diameter_mm.powi(2);
    let bending = 5.0 * q * length_mm.powi(4) / (384.0 * STEEL.e_mpa * inertia_mm4(diameter_mm));
    let shear = q * length_mm.powi(2) / (8.0 * shear_stiffness_n(diameter_mm));
    close(beam.shape().unwrap()[n / 2][2], -(bending + shear), 1e-12, 0.0);
}

/// Source: a mid load under thrust P between pins bends by F·L³/48EI · 3(tan u - u)/u³, u = L/2·sqrt(P/EI)
/// (Timoshenko and Gere, Theory of Elastic Stability; from memory).
#[test]
fn dense_thrust_softens_with_the_square_of_the_mesh() {
    let (length_mm, diameter_mm) = (2000.0_f64, 20.0);
    let bending = STEEL.e_mpa * inertia_mm4(diameter_mm);
    let thrust_n = 0.3 * std::f64::consts::PI.powi(2) * bending / length_mm.powi(2);
    let u = 0.5 * length_mm * (thrust_n / bending).sqrt();
    let exact = length_mm.powi(3) / (48.0 * bending) * 3.0 * (u.tan() - u) / u.powi(3);
    let miss = |n: usize| {
        let mut beam = bar(length_mm, diameter_mm, n);
        beam.elements.iter_mut().for_each(|element| element.thrust_n = thrust_n);
        hold(&mut beam, 0, Dof::Shift, 1e18);
        hold(&mut beam, n, Dof::Shift, 1e18);
        push(&mut beam, n / 2, Plane::Y, 1.0);
        (beam.shape().unwrap()[n / 2][2] / exact - 1.0).abs()
    };
    // The shear of so thin a bar, 3e-4 of the whole, is in all of them alike.
    let settled = miss(320);
    close((miss(10) - settled) / (miss(20) - settled), 4.0, 0.1, 0.0);
}

/// Thrust beyond the Euler load cannot be carried. Source: P = π²EI/L² (any text).
#[test]
fn dense_buckled_work_has_no_answer() {
    let mut beam = bar(2000.0, 20.0, 40);
    let euler_n = std::f64::consts::PI.powi(2) * STEEL.e_mpa * inertia_mm4(20.0) / 2000.0_f64.powi(2);
    hold(&mut beam, 0, Dof::Shift, 1e9);
    hold(&mut beam, 40, Dof::Shift, 1e9);
    beam.elements.iter_mut().for_each(|element| element.thrust_n = 0.98 * euler_n);
    assert!(beam.shape().is_some());
    beam.elements.iter_mut().for_each(|element| element.thrust_n = 1.02 * euler_n);
    assert!(beam.shape().is_none());
}

/// Source: propped cantilever with a gap, force (δ_free - g)/(L³/3EI + L/κGA + 1/k) once the gap is closed.
#[test]
fn dense_jaw_takes_up_its_gap_and_then_pushes() {
    let (length_mm, diameter_mm, n, gap_mm, k) = (500.0_f64, 25.0, 10, 0.2, 2e4);
    let mut beam = bar(length_mm, diameter_mm, n);
    hold(&mut beam, 0, Dof::Shift, 1e18);
    hold(&mut beam, 0, Dof::Turn, 1e22);
    let give =
        length_mm.powi(3) / (3.0 * STEEL.e_mpa * inertia_mm4(diameter_mm)) + length_mm / shear_stiffness_n(diameter_mm);
    let jaws = [0.0, 180.0].map(|degrees: f64| Jaw {
        node: n,
        nx: degrees.to_radians().cos(),
        ny: degrees.to_radians().sin(),
        gap_mm,
        k_n_per_mm: k,
        friction_ratio: 0.0,
    });
    let light = Beam { loads: vec![], ..beam.clone() };
    let light = solve(&light, &jaws).unwrap();
    assert_eq!(light.forces_n, [0.0, 0.0]);
    push(&mut beam, n, Plane::X, 3.0 * gap_mm / give);
    let answers = all_answers(&beam, &jaws);
    assert_eq!(answers.len(), 1, "one set of jaws fits and no more");
    assert_eq!(answers[0].touching, 1);
    close(answers[0].forces_n[0], 2.0 * gap_mm / (give + 1.0 / k), 1e-12, 0.0);
    assert_eq!(answers[0].forces_n[1], 0.0);
}

/// With a force in proportion to the depth the cut can be solved by hand: rigid post, no lever, one plane.
#[test]
fn dense_cut_meets_the_answer_by_hand() {
    let (length_mm, diameter_mm, n, radial_n_per_mm) = (300.0_f64, 20.0, 6, 400.0);
    let mut beam = bar(length_mm, diameter_mm, n);
    hold(&mut beam, 0, Dof::Shift, 1e18);
    hold(&mut beam, 0, Dof::Turn, 1e22);
    let give =
        length_mm.powi(3) / (3.0 * STEEL.e_mpa * inertia_mm4(diameter_mm)) + length_mm / shear_stiffness_n(diameter_mm);
    for rear in [false, true] {
        let cut = Cut {
            node: n,
            rear,
            wanted_radius_mm: 9.5,
            old_radius_mm: 10.0,
            lever_mm: 9.75,
            feeds_to_headstock: true,
            carriage_k_n_per_mm: 2e4,
            forces: &|depth_mm| Forces { fc_n: 0.0, fp_n: radial_n_per_mm * depth_mm, ff_n: 0.0 },
        };
        let left = cut.solve(&beam, &[]).unwrap();
        let depth_mm = 0.5 / (1.0 + radial_n_per_mm * (give + 1.0 / 2e4));
        close(left.depth_mm, depth_mm, 1e-12, 0.0);
        close(left.radius_left_mm, 10.0 - depth_mm, 1e-14, 0.0);
        close(left.u_mm, if rear { -1.0 } else { 1.0 } * give * radial_n_per_mm * depth_mm, 1e-12, 0.0);
    }
}

/// All forces and couples on the work add up to nothing: springs, jaws, weight, tool.
#[test]
fn dense_forces_are_in_balance() {
    let n = 12;
    let mut beam = bar(600.0, 25.0, n);
    beam.weighs = true;
    hold(&mut beam, 0, Dof::Shift, 2e5);
    hold(&mut beam, 0, Dof::Turn, 1e8);
    hold(&mut beam, n, Dof::Shift, 3e4);
    let jaws = [90.0, 210.0, 330.0].map(|degrees: f64| Jaw {
        node: 7,
        nx: degrees.to_radians().cos(),
        ny: degrees.to_radians().sin(),
        gap_mm: 0.001,
        k_n_per_mm: 1e5,
        friction_ratio: 0.15,
    });
    let cut = Cut {
        node: 5,
        rear: false,
        wanted_radius_mm: 11.5,
        old_radius_mm: 12.5,
        lever_mm: 12.0,
        feeds_to_headstock: true,
        carriage_k_n_per_mm: 4e4,
        forces: &|depth_mm| Forces { fc_n: 600.0 * depth_mm, fp_n: 200.0 * depth_mm.powf(0.8), ff_n: 250.0 * depth_mm },
    };
    let left = cut.solve(&beam, &jaws).unwrap();
    assert!(left.forces.fc_n > 100.0 && left.work.forces_n.iter().any(|&force| force > 1.0));
    let (shape, step_mm) = (&left.work.shape, 50.0);
    let mut loads: Vec<(usize, usize, f64)> = Vec::new();
    for spring in &beam.springs {
        let dof = usize::from(spring.plane == Plane::Y) * 2 + usize::from(spring.dof == Dof::Turn);
        loads.push((spring.node, dof, -spring.k * shape[spring.node][dof]));
    }
    for load in beam.weight_loads().iter().chain(&tool_loads(&cut, left.forces)) {
        let dof = usize::from(load.plane == Plane::Y) * 2 + usize::from(load.dof == Dof::Turn);
        loads.push((load.node, dof, load.value));
    }
    for (jaw, force_n) in jaws.iter().zip(&left.work.forces_n) {
        loads.push((jaw.node, 0, -force_n * (jaw.nx - jaw.friction_ratio * jaw.ny)));
        loads.push((jaw.node, 2, -force_n * (jaw.ny + jaw.friction_ratio * jaw.nx)));
    }
    for plane in 0..2 {
        let (mut force_n, mut couple_nmm) = (0.0, 0.0);
        for &(node, dof, value) in loads.iter().filter(|(_, dof, _)| dof / 2 == plane) {
            if dof % 2 == 0 {
                force_n += value;
                couple_nmm += value * node as f64 * step_mm;
            } else {
                couple_nmm += value;
            }
        }
        close(force_n, 0.0, 0.0, 1e-9);
        close(couple_nmm, 0.0, 0.0, 1e-6);
    }
}
