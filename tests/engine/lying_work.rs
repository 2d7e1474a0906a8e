//! Work that lies in its holding with the tool drawn back: its own weight, thrust, buckling, against printed figures.

use midspan::job::material::OwnMaterial;
use midspan::job::{DriveKind, Job, MaterialChoice, Stated, Stiffness, TailKind};
use midspan::mechanics::held::{AtTool, Held};
use midspan::study::outline::{Outline, stock_surface};
use midspan::study::prepared::Scene;
use midspan::study::{Fineness, Shape, Status, Support, compute, shape_at};

use crate::bar_job::spring_rest;
use crate::close::close;
use crate::random_job::{jaw, plain_job, random_job};

/// A bar of steel (E 210 GPa, 7850 kg/m³) between rigid centres, no pass.
fn between_centres(diameter_mm: f64, length_mm: f64) -> Job {
    let mut job = plain_job(length_mm, diameter_mm);
    job.shaft.material = MaterialChoice::Own(OwnMaterial {
        name: "steel".to_owned(),
        e_mpa: 210_000.0,
        poisson_ratio: 0.3,
        density_kg_per_m3: 7850.0,
        growth_per_k: 11.5e-6,
        kc11_mpa: 2100.0,
        mc: 0.17,
        thrust_ratio: 0.56,
    });
    job.lathe.headstock_k_n_per_mm = Stiffness::Rigid;
    job.lathe.tailstock_k_n_per_mm = Stiffness::Rigid;
    let setup = &mut job.setups[0];
    setup.work_start_z_mm = 0.0;
    setup.drive.kind = DriveKind::CentreAndDog;
    setup.drive.radial_k_n_per_mm = Stiffness::Rigid;
    setup.drive.rotation_k_nmm_per_rad = Stiffness::Spring(Stated::given(0.0));
    setup.tail.kind = TailKind::DeadCentre;
    setup.tail.thrust_n = 0.0;
    setup.passes.clear();
    job
}

fn lying(job: &Job) -> Option<Shape> {
    shape_at(job, &compute(job), job.setups[0].id, None, None)
}

/// Jaws that drag bend the work as they are said to: the line lies in each touching jaw by as much as its force presses it.
#[test]
fn the_line_at_rest_lies_in_the_jaws_that_drag_on_it() {
    let mut job = between_centres(20.0, 1000.0);
    job.setups[0].jaw_friction = true;
    job.setups[0].rests.push(midspan::job::Rest {
        jaws: [90.0, 210.0, 330.0].map(|degrees| jaw(degrees, -0.01, 5e4)).to_vec(),
        set_to: midspan::job::SetTo::Axis,
        ..midspan::job::Rest::three_jaw(midspan::job::RestId(9), 400.0)
    });
    let shape = lying(&job).unwrap();
    let node = shape.z_mm.iter().position(|z_mm| (z_mm - 400.0).abs() < 1e-9).unwrap();
    let mut n_touch = 0;
    for (index, jaw) in job.setups[0].rests[0].jaws.iter().enumerate() {
        let force_n = shape.reactions[4 + index].force_n;
        if force_n > 0.0 {
            let toward_mm = jaw.angle_rad.cos() * shape.x_mm[node] + jaw.angle_rad.sin() * shape.y_mm[node];
            close(5e4 * (toward_mm + 0.01), force_n, 1e-6, 0.0);
            n_touch += 1;
        }
    }
    assert!(n_touch >= 2);
}

fn deepest_mm(shape: &Shape) -> f64 {
    -shape.y_mm.iter().copied().fold(f64::INFINITY, f64::min)
}

/// Source: 5·q·L⁴/384EI worked out for four bars, printed to three digits (with g = 9.81).
#[test]
fn bar_between_centres_sags_as_the_table_says() {
    for (diameter_mm, length_mm, sag_mm) in
        [(10.0, 500.0, 0.048), (20.0, 1000.0, 0.191), (25.0, 1000.0, 0.122), (40.0, 1500.0, 0.242)]
    {
        let shape = lying(&between_centres(diameter_mm, length_mm)).unwrap();
        assert_eq!(shape.status, Status::Solved);
        close(deepest_mm(&shape), sag_mm, 0.0, 7e-4);
        // Both centres carry half the weight.
        let weight_n = 7.85e-6 * 9.806_65 * std::f64::consts::PI / 4.0 * diameter_mm * diameter_mm * length_mm;
        for support in [Support::DriveY, Support::TailY] {
            let reaction = shape.reactions.iter().find(|reaction| reaction.support == support).unwrap();
            close(reaction.force_n, weight_n / 2.0, 1e-5, 0.0);
        }
    }
}

/// Source: the same formula with six digits, 0.190993 and 0.122236 mm at g = 9.81, less the share of g, plus shear
/// (q·L²/8κGA, below 0.1 %).
#[test]
fn sag_of_slim_bars_is_good_to_a_tenth_of_a_percent() {
    for (diameter_mm, sag_mm) in [(20.0, 0.190_99), (25.0, 0.122_24)] {
        let shape = lying(&between_centres(diameter_mm, 1000.0)).unwrap();
        close(deepest_mm(&shape), sag_mm * 9.806_65 / 9.81, 1.2e-3, 0.0);
    }
}

/// Source: Airy points, L/√3 apart: a bar that lies on them under its own weight has upright end faces (published notes on
/// length standards, scribd 442629217; grade A). Here it lies in two steady rests with jaws below, the drive all but
/// loose and no tailstock.
#[test]
fn bar_on_two_steadies_at_the_airy_points_has_upright_ends() {
    let length_mm = 1000.0_f64;
    let end_slopes = |apart_mm: f64| {
        let mut job = between_centres(20.0, length_mm);
        let setup = &mut job.setups[0];
        setup.tail.kind = TailKind::Free;
        setup.drive.radial_k_n_per_mm = Stiffness::Spring(Stated::given(1e-2));
        setup.drive.rotation_k_nmm_per_rad = Stiffness::Spring(Stated::given(1e-2));
        setup.rests = [1, 2]
            .map(|number| {
                let z_mm = 0.5 * (length_mm + if number == 1 { -apart_mm } else { apart_mm });
                let mut rest = spring_rest(number, z_mm, 1e6);
                rest.jaws = [225.0, 315.0].map(|degrees| jaw(degrees, 0.0, 1e6)).to_vec();
                rest
            })
            .to_vec();
        let shape = lying(&job).unwrap();
        assert_eq!(shape.status, Status::Solved);
        let last = shape.z_mm.len() - 1;
        [[0, 1], [last, last - 1]]
            .map(|[end, next]| (shape.y_mm[next] - shape.y_mm[end]) / (shape.z_mm[next] - shape.z_mm[end]).abs())
    };
    // Slope of the same bar on its ends, q·L³/24EI, is the measure.
    let q_n_per_mm = 7.85e-6 * 9.806_65 * std::f64::consts::FRAC_PI_4 * 400.0;
    let measure = q_n_per_mm * length_mm.powi(3) / (24.0 * 210_000.0 * std::f64::consts::PI / 64.0 * 20.0_f64.powi(4));
    for slope in end_slopes(length_mm / 3.0_f64.sqrt()) {
        close(slope / measure, 0.0, 0.0, 2e-4);
    }
    // A hundredth of the length further in, the ends hang; further out they stand up.
    assert!(end_slopes(length_mm / 3.0_f64.sqrt() - 10.0).iter().all(|slope| slope / measure > 1e-3));
    assert!(end_slopes(length_mm / 3.0_f64.sqrt() + 10.0).iter().all(|slope| slope / measure < -1e-3));
}

/// Source: Timoshenko's approximation for a beam under thrust, lateral movement times 1/(1 - P/Pcr) with Euler's
/// Pcr = π²EI/L² (16278 N for 20 x 1000 mm); good to 1 % for an even load.
#[test]
fn thrust_deepens_the_sag_by_the_beam_column_factor() {
    let mut job = between_centres(20.0, 1000.0);
    let without = deepest_mm(&lying(&job).unwrap());
    for share in [0.2, 0.5, 0.8] {
        job.setups[0].tail.thrust_n = share * 16_278.0;
        let shape = lying(&job).unwrap();
        close(deepest_mm(&shape) / without, 1.0 / (1.0 - share), 0.02, 0.0);
    }
}

/// Source: Euler's load of bars between centres: 4070, 16278, 39742, 115757 N. Just beyond it the work is not held.
#[test]
fn work_between_centres_buckles_at_the_euler_load() {
    for (diameter_mm, length_mm, euler_n) in
        [(10.0, 500.0, 4070.0), (20.0, 1000.0, 16_278.0), (25.0, 1000.0, 39_742.0), (40.0, 1500.0, 115_757.0)]
    {
        let held = |thrust_n: f64| {
            let mut job = between_centres(diameter_mm, length_mm);
            job.setups[0].tail.thrust_n = thrust_n;
            lying(&job).is_some_and(|shape| shape.status == Status::Solved)
        };
        assert!(held(0.9 * euler_n), "{diameter_mm} x {length_mm} carries nine tenths of its load");
        assert!(!held(1.01 * euler_n), "{diameter_mm} x {length_mm} does not carry a hundredth more than its load");
    }
}

/// Where the work lies is found from the headstock alone; walked from both ends it comes to the same.
#[test]
fn walked_from_one_end_the_work_lies_where_it_lies_walked_from_both() {
    let mut n_compared = 0;
    for number in 0..40 {
        let job = random_job(number);
        let setup = &job.setups[0];
        let outline = Outline::of(&stock_surface(&job.shaft), &job.shaft, setup);
        let Some(scene) = Scene::new(&job, setup, &outline, Fineness::USUAL) else { continue };
        let prepared = scene.prepare(&outline, None, None);
        let (mut whole, mut one_way) = (Held::default(), Held::default());
        whole.run(&prepared.old, &prepared.old, &prepared.springs, &prepared.tracked);
        one_way.run_to_end(&prepared.old, &prepared.springs, &prepared.tracked);
        let last = prepared.layout.nodes_mm.len() - 1;
        let (mut from_both, mut from_one) = (AtTool::default(), AtTool::default());
        assert_eq!(whole.join(last, None, &mut from_both), one_way.join(last, None, &mut from_one), "job {number}");
        assert_eq!(format!("{from_both:?}"), format!("{from_one:?}"), "job {number}");
        n_compared += from_both.points.len();
    }
    assert!(n_compared > 100, "{n_compared} points");
}
