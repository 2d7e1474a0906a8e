//! Warm work: growth and thrust against figures worked out beside the project, and what feed and thrust do to bending.

use midspan::job::{Cut, DriveKind, Force, Job, Stated, Stiffness, TailKind};
use midspan::study::outline::{Outline, stock_surface};
use midspan::study::prepared::Scene;
use midspan::study::{Fineness, compute};

use crate::close::close;
use crate::random_job::plain_job;

/// A plain bar of steel (E 210 GPa) between chuck face and a dead centre, the work warmer by so much.
fn warm_bar(diameter_mm: f64, length_mm: f64, growth_per_k: f64, e_mpa: f64, warmer_by_k: f64) -> Job {
    let mut job = plain_job(length_mm, diameter_mm);
    job.shaft.material = midspan::job::MaterialChoice::Own(midspan::job::material::OwnMaterial {
        name: "steel".to_owned(),
        e_mpa,
        poisson_ratio: 0.3,
        density_kg_per_m3: 7850.0,
        growth_per_k,
        kc11_mpa: 2100.0,
        mc: 0.17,
        thrust_ratio: 0.5,
    });
    job.lathe.tailstock_axial_k_n_per_mm = Stiffness::Rigid;
    let setup = &mut job.setups[0];
    setup.work_start_z_mm = 0.0;
    setup.drive.kind = DriveKind::CentreAndDog;
    setup.tail.kind = TailKind::DeadCentre;
    setup.tail.thrust_n = 0.0;
    setup.warmer_by_k = warmer_by_k;
    job
}

/// Growth and thrust as the study takes them.
fn growth_and_thrust(job: &Job) -> (f64, f64) {
    let setup = &job.setups[0];
    let outline = Outline::of(&stock_surface(&job.shaft), &job.shaft, setup);
    let scene = Scene::new(job, setup, &outline, Fineness::USUAL).unwrap();
    (scene.warmth.growth_mm, scene.warmth.thrust_n)
}

/// Source: growth `α L ΔT` and thrust `ΔL/(L/EA + 1/k)` for steel (E 210 GPa, 11.5e-6 /K, 10 K), four bars, ends rigid and
/// with 50 N/µm along the bed. Figures computed beside the project and printed to the digits here.
#[test]
fn warm_bars_grow_and_press_as_worked_out_by_hand() {
    for (diameter_mm, length_mm, growth_mm, rigid_n, with_give_n) in [
        (10.0, 500.0, 0.057, 1897.0, 1143.0),
        (20.0, 1000.0, 0.115, 7587.0, 3271.0),
        (25.0, 1000.0, 0.115, 11_855.0, 3872.0),
        (40.0, 1500.0, 0.173, 30_348.0, 6716.0),
    ] {
        let mut job = warm_bar(diameter_mm, length_mm, 11.5e-6, 210_000.0, 10.0);
        let (grown_mm, thrust_n) = growth_and_thrust(&job);
        close(grown_mm, growth_mm, 0.0, 0.0006);
        close(thrust_n, rigid_n, 0.0, 0.6);
        job.lathe.tailstock_axial_k_n_per_mm = Stiffness::Spring(Stated::given(50_000.0));
        close(growth_and_thrust(&job).1, with_give_n, 0.0, 0.6);
    }
}

/// Source: lesson L8, a shaft of 36 in, 40 °F warmer: it grows 0.0094 in; thrust between rigid ends 1530, 3450 and
/// 6130 lbf for 1/2, 3/4 and 1 in, and 580, 740 and 810 lbf where the machine gives 1 in per 100 000 lbf. Computed beside
/// the project with E 30e6 psi and 6.5e-6 /°F (the growth of 0.0094 in gives that figure back).
#[test]
fn a_warm_shaft_of_three_feet_presses_as_the_lesson_says() {
    const INCH_MM: f64 = 25.4;
    const POUND_N: f64 = 4.448_221_615;
    for (diameter_in, rigid_lbf, with_give_lbf) in [(0.5, 1530.0, 580.0), (0.75, 3450.0, 740.0), (1.0, 6130.0, 810.0)] {
        let e_mpa = 30e6 * POUND_N / (INCH_MM * INCH_MM);
        let mut job = warm_bar(diameter_in * INCH_MM, 36.0 * INCH_MM, 6.5e-6 * 1.8, e_mpa, 40.0 / 1.8);
        let (grown_mm, thrust_n) = growth_and_thrust(&job);
        close(grown_mm / INCH_MM, 0.0094, 0.0, 0.00005);
        close(thrust_n / POUND_N, rigid_lbf, 0.0, 5.0);
        job.lathe.tailstock_axial_k_n_per_mm = Stiffness::Spring(Stated::given(100_000.0 * POUND_N / INCH_MM));
        close(growth_and_thrust(&job).1 / POUND_N, with_give_lbf, 0.0, 5.0);
    }
}

/// A spring-loaded centre takes the growth up: 100 N/mm against a tenth of a millimetre is some ten newtons.
#[test]
fn a_spring_centre_all_but_takes_the_thrust_of_growth_away() {
    let mut job = warm_bar(20.0, 1000.0, 11.5e-6, 210_000.0, 10.0);
    job.lathe.spring_centre_k_n_per_mm = Stated::given(100.0);
    job.setups[0].tail.kind = TailKind::SpringCentre;
    close(growth_and_thrust(&job).1, 100.0 * 0.115, 0.002, 0.0);
}

/// Work that cools draws back from its centre: the thrust ends at nothing and does not pull.
#[test]
fn cold_work_slackens_its_centre_and_no_more() {
    let mut job = warm_bar(20.0, 1000.0, 11.5e-6, 210_000.0, -10.0);
    job.setups[0].tail.thrust_n = 300.0;
    assert_eq!(growth_and_thrust(&job).1, 0.0);
}

/// Largest spring away under a push of 60 N in the middle, nothing taken off.
fn spring_mm(job: &Job) -> f64 {
    compute(job).setups[0].passes[0].stations.iter().map(|station| station.spring_x_mm).fold(0.0, f64::max)
}

/// Source: a mid load under thrust P between pins bends by `F L³/48EI · 3 (tan u - u)/u³`, `u = L/2 √(P/EI)` (Timoshenko
/// and Gere, Theory of Elastic Stability; from memory). Thrust from growth counts as thrust from the handwheel.
#[test]
fn thrust_of_a_warm_bar_softens_it_as_the_beam_column_says() {
    let (diameter_mm, length_mm) = (16.0, 1200.0);
    let bar = |warmer_by_k: f64| {
        let mut job = warm_bar(diameter_mm, length_mm, 11.5e-6, 210_000.0, warmer_by_k);
        job.lathe.headstock_k_n_per_mm = Stiffness::Rigid;
        job.lathe.tailstock_k_n_per_mm = Stiffness::Rigid;
        let setup = &mut job.setups[0];
        setup.drive.radial_k_n_per_mm = Stiffness::Rigid;
        setup.drive.rotation_k_nmm_per_rad = Stiffness::Spring(Stated::given(1e-3));
        let pass = &mut setup.passes[0];
        (pass.from_z_mm, pass.to_z_mm) = (length_mm, 0.0);
        pass.cut = Cut::Depth { on_diameter_mm: 0.0 };
        pass.force = Force::Typed { radial_n: 60.0, main_n: 0.0, feed_n: 0.0, follows_depth: false };
        job
    };
    let cold = spring_mm(&bar(0.0));
    let warm = bar(8.0);
    let (_, thrust_n) = growth_and_thrust(&warm);
    let ei = 210_000.0 * std::f64::consts::PI / 64.0 * f64::powi(diameter_mm, 4);
    let u = 0.5 * length_mm * (thrust_n / ei).sqrt();
    let factor = 3.0 * (u.tan() - u) / u.powi(3);
    assert!(thrust_n > 2000.0 && factor > 1.5, "a case that matters: {thrust_n} N, factor {factor}");
    close(spring_mm(&warm) / cold, factor, 1e-3, 0.0);
}

/// Work on a headstock centre, held back, its other end in a steady: the feed presses it, and the steady holds it.
#[test]
fn work_on_a_centre_and_an_end_steady_is_held_under_the_feed() {
    let mut job = plain_job(400.0, 60.0);
    let setup = &mut job.setups[0];
    setup.work_start_z_mm = 0.0;
    setup.drive = midspan::job::DriveEnd { hold_back: true, ..midspan::job::DriveEnd::between_centres() };
    setup.drive.rotation_k_nmm_per_rad = Stiffness::Spring(Stated::given(1.0));
    setup.tail = midspan::job::TailEnd::free();
    setup.rests.push(midspan::job::Rest::three_jaw(midspan::job::RestId(9), 380.0));
    setup.passes[0].force = Force::Typed { radial_n: 50.0, main_n: 100.0, feed_n: 100.0, follows_depth: false };
    let along_n = |job: &Job| {
        let outline = Outline::of(&stock_surface(&job.shaft), &job.shaft, &job.setups[0]);
        let scene = Scene::new(job, &job.setups[0], &outline, Fineness::USUAL).unwrap();
        let pass = &job.setups[0].passes[0];
        let along = midspan::study::axial::axial(&scene, &outline, Some(pass), scene.cut_span(pass));
        [along.front_n, along.back_n]
    };
    assert_eq!(along_n(&job), [100.0, 0.0]);
    // Fed the other way the hold-back pulls; without it the work leaves its centre, and nothing stands against it.
    let mut other_way = job.clone();
    let pass = &mut other_way.setups[0].passes[0];
    (pass.from_z_mm, pass.to_z_mm) = (pass.to_z_mm, pass.from_z_mm);
    assert_eq!(along_n(&other_way), [-100.0, 0.0]);
    other_way.setups[0].drive.hold_back = false;
    assert_eq!(along_n(&other_way), [0.0, 0.0]);
    let pass = compute(&job).setups.remove(0).passes.remove(0);
    assert_eq!(pass.status, midspan::study::Status::Solved);
    assert!(pass.stations.len() >= 200);
}

/// Fed to the tailstock the cut pulls a chucked bar straight, fed to the headstock it presses it: the pull springs less.
/// Source for the sense: shop practice of turning slender work towards the tailstock (abstract of a comparison of both
/// ways of turning slender shafts, read).
#[test]
fn a_pulled_bar_springs_less_than_a_pressed_one() {
    let bar = |to_tailstock: bool| {
        let mut job = plain_job(900.0, 14.0);
        let setup = &mut job.setups[0];
        setup.tail.thrust_n = 100.0;
        let pass = &mut setup.passes[0];
        pass.cut = Cut::Depth { on_diameter_mm: 0.0 };
        pass.force = Force::Typed { radial_n: 20.0, main_n: 0.0, feed_n: 400.0, follows_depth: false };
        if to_tailstock {
            std::mem::swap(&mut pass.from_z_mm, &mut pass.to_z_mm);
        }
        // Only the force along the work is to differ, not its lever.
        let mut bent = compute(&job).setups[0].passes[0].stations.iter().map(|s| s.spring_x_mm).collect::<Vec<_>>();
        bent.sort_by(f64::total_cmp);
        bent[bent.len() - 1]
    };
    assert!(bar(true) < bar(false));
}
