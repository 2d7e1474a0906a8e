//! Bars as jobs of the program: weightless work of given lands in an ideal lathe, and a push at the tool that the user
//! typed. What textbooks and teaching examples reckon with, put the way a user would put it.
//!
//! Ends, machine and carriage are rigid and the bar weighs nothing until a test says otherwise.

use midspan::job::material::OwnMaterial;
use midspan::job::{
    Cut, DriveKind, Force, Job, Land, MaterialChoice, Rest, RestId, SetTo, Sleeve, Spot, Stiffness, TailEnd, TailKind,
    TipKind,
};
use midspan::study::{PassResult, Shape, Station, Status, Support, compute, shape_at};

use crate::beam_case::{Case, Solved};
use crate::random_job::{jaw, plain_job};

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Ends {
    ChuckOnly,
    ChuckAndCentre,
    TwoCentres,
}

/// Elastic figures of a steel with the given modulus that weighs next to nothing.
pub fn weightless(e_mpa: f64) -> OwnMaterial {
    OwnMaterial {
        name: "steel".to_owned(),
        e_mpa,
        poisson_ratio: 0.3,
        density_kg_per_m3: 1e-6,
        growth_per_k: 1.2e-5,
        kc11_mpa: 2000.0,
        mc: 0.2,
        thrust_ratio: 0.5,
    }
}

/// A bar of lands (length, diameter) with one pass over its whole length towards the headstock, that takes nothing
/// off and pushes with nothing.
pub fn bar(lands: &[(f64, f64)], ends: Ends, e_mpa: f64) -> Job {
    let length_mm: f64 = lands.iter().map(|land| land.0).sum();
    let mut job = plain_job(length_mm, lands[0].1);
    job.shaft.stock = lands.iter().map(|&(length_mm, diameter_mm)| Land::cylinder(length_mm, diameter_mm)).collect();
    job.shaft.wanted.clear();
    job.shaft.material = MaterialChoice::Own(weightless(e_mpa));
    job.lathe.headstock_k_n_per_mm = Stiffness::Rigid;
    job.lathe.tailstock_k_n_per_mm = Stiffness::Rigid;
    job.lathe.carriage_k_n_per_mm = Stiffness::Rigid;
    let setup = &mut job.setups[0];
    setup.work_start_z_mm = 0.0;
    setup.drive.radial_k_n_per_mm = Stiffness::Rigid;
    setup.drive.rotation_k_nmm_per_rad = Stiffness::Rigid;
    setup.jaw_friction = false;
    setup.tail = TailEnd {
        kind: TailKind::DeadCentre,
        thrust_n: 0.0,
        quill_out_mm: 0.0,
        offset_x_mm: 0.0,
        offset_y_mm: 0.0,
        runout_tir_mm: 0.0,
    };
    match ends {
        Ends::ChuckOnly => setup.tail.kind = TailKind::Free,
        Ends::ChuckAndCentre => {}
        Ends::TwoCentres => {
            setup.drive.kind = DriveKind::CentreAndDog;
            setup.drive.rotation_k_nmm_per_rad = Stiffness::assumed(1e-3);
        }
    }
    let pass = &mut setup.passes[0];
    pass.from_z_mm = length_mm;
    pass.to_z_mm = 0.0;
    pass.cut = Cut::Depth { on_diameter_mm: 0.0 };
    set_push(&mut job, 0.0, false);
    job
}

/// The push away from the tool that the user types for the first pass.
pub fn set_push(job: &mut Job, radial_n: f64, follows_depth: bool) {
    job.setups[0].passes[0].force = Force::Typed { radial_n, main_n: 0.0, feed_n: 0.0, follows_depth };
}

/// A rest about the spindle axis that is a spring in every direction: four jaws that just touch.
pub fn spring_rest(number: u32, z_mm: f64, k_n_per_mm: f64) -> Rest {
    Rest {
        id: RestId(number),
        z_mm,
        jaws: [0.0, 90.0, 180.0, 270.0].map(|angle| jaw(angle, 0.0, k_n_per_mm)).to_vec(),
        tip: TipKind::Bronze,
        set_to: SetTo::Axis,
        offset_x_mm: 0.0,
        offset_y_mm: 0.0,
        sleeve: Sleeve::None,
        spot: Spot::round(),
        tip_bored_mm: None,
    }
}

/// The first pass, which must be solved.
pub fn first_pass(job: &Job) -> PassResult {
    let result = compute(job).setups.remove(0).passes.remove(0);
    assert_eq!(result.status, Status::Solved);
    result
}

/// The work as it lies with the tool drawn back.
pub fn lying(job: &Job) -> Shape {
    let shape = shape_at(job, &compute(job), job.setups[0].id, None, None).expect("the work is held");
    assert_eq!(shape.status, Status::Solved);
    shape
}

/// A figure of the stations at a place between them, by a straight line.
pub fn between(result: &PassResult, z_mm: f64, figure: impl Fn(&Station) -> f64) -> f64 {
    let stations = &result.stations;
    let after = stations.partition_point(|station| station.z_mm < z_mm).clamp(1, stations.len() - 1);
    let [low, high] = [&stations[after - 1], &stations[after]];
    let share = ((z_mm - low.z_mm) / (high.z_mm - low.z_mm)).clamp(0.0, 1.0);
    figure(low) + (figure(high) - figure(low)) * share
}

/// The station where the work springs furthest away.
pub fn furthest(result: &PassResult) -> &Station {
    let furthest = result.stations.iter().max_by(|a, b| a.spring_x_mm.total_cmp(&b.spring_x_mm));
    furthest.expect("a computed pass has stations")
}

/// A bar of real thickness, and the same bar with shear left out, as the plain solver of the tests sees them.
///
/// `held` puts supports and loads on; lengths, modulus and forces in any consistent units.
pub fn with_and_without_shear(lands: &[(f64, f64)], e: f64, held: impl Fn(Case) -> Case) -> [Solved; 2] {
    let first = lands[0].1;
    let ratios: Vec<(f64, f64)> = lands.iter().map(|&(length, diameter)| (length, diameter / first)).collect();
    let thin = Case::thin_stepped(e * std::f64::consts::PI / 64.0 * first.powi(4), &ratios);
    let thick = Case { e_mpa: e, lands: lands.to_vec(), ..thin.clone() };
    [thick, thin].map(|case| held(case).dense())
}

/// What one support pushes with, in a bent shape.
pub fn reaction_n(shape: &Shape, support: Support) -> f64 {
    shape.reactions.iter().find(|reaction| reaction.support == support).expect("the support is there").force_n
}

/// What the first rest, of four jaws at right angles, pushes the work away and up with.
pub fn rest_push_n(shape: &Shape, job: &Job) -> [f64; 2] {
    let rest = job.setups[0].rests[0].id;
    let jaw = |jaw: usize| reaction_n(shape, Support::Jaw { rest, jaw });
    [jaw(2) - jaw(0), jaw(3) - jaw(1)]
}
