//! Work that the force along it would buckle were it not for its jaws, against the plain solver with the jaws in its matrix
//! and all their sets tried: what lasts there is what the study finds, and where more than one set lasts as a pass begins it
//! says so.

use midspan::job::{Cut, DogKind, DriveEnd, Force, Job, Rest, RestId, SetTo, Stated, Stiffness, TailEnd};
use midspan::study::layout::Place;
use midspan::study::{JobResult, PassResult, Status, compute};

use crate::close::close;
use crate::dense::{Answer, Forces};
use crate::random_job::{Lot, jaw, plain_job};
use crate::second_method::Second;

/// The force along steel of this thickness that buckles it between two points (Euler; any text on strength).
fn euler_n(diameter_mm: f64, length_mm: f64) -> f64 {
    let ei = 207_000.0 * std::f64::consts::PI / 64.0 * diameter_mm.powi(4);
    std::f64::consts::PI.powi(2) * ei / length_mm.powi(2)
}

fn rest(lot: &mut Lot, number: u32, z_mm: f64) -> Rest {
    let angles: &[f64] = lot.one_of(&[&[90.0, 210.0, 330.0][..], &[45.0, 135.0, 270.0], &[0.0, 90.0, 180.0, 270.0]]);
    let k_n_per_mm = lot.between(2e4, 3e5);
    let gap_mm = lot.one_of(&[0.0, 0.01]);
    Rest {
        jaws: angles.iter().map(|degrees| jaw(degrees + lot.between(-15.0, 15.0), gap_mm, k_n_per_mm)).collect(),
        set_to: SetTo::Axis,
        offset_x_mm: lot.between(-0.02, 0.02),
        ..Rest::three_jaw(RestId(number), z_mm)
    }
}

/// On a headstock centre, the other end in a steady; or long and thin between centres that press more than it stands.
fn pressed_job(number: u64) -> Job {
    let mut lot = Lot(number);
    let on_one_centre = number.is_multiple_of(2);
    let (length_mm, diameter_mm) =
        if on_one_centre { (400.0, lot.between(25.0, 60.0)) } else { (800.0, lot.between(7.0, 10.0)) };
    let mut job = plain_job(length_mm, diameter_mm);
    let setup = &mut job.setups[0];
    setup.work_start_z_mm = 0.0;
    setup.drive = DriveEnd { hold_back: true, ..DriveEnd::between_centres() };
    setup.drive.rotation_k_nmm_per_rad = Stiffness::Spring(Stated::given(1.0));
    // One tail would push the work round and round, and each angle may be one of two answers.
    setup.drive.dog.kind = DogKind::TwoTails;
    if on_one_centre {
        setup.tail = TailEnd::free();
        setup.rests = vec![rest(&mut lot, 9, 380.0)];
    } else {
        setup.tail.thrust_n = lot.between(1.2, 3.0) * euler_n(diameter_mm, length_mm);
        let z_mm = lot.between(350.0, 450.0);
        setup.rests = vec![rest(&mut lot, 9, z_mm)];
        if lot.chance(0.3) {
            let z_mm = lot.between(550.0, 650.0);
            setup.rests.push(rest(&mut lot, 10, z_mm));
        }
    }
    setup.jaw_friction = false;
    // Thinner behind the tool it would stand less.
    setup.passes[0].cut = Cut::Depth { on_diameter_mm: 0.0 };
    let times = if on_one_centre { 10.0 } else { 0.1 };
    let (radial_n, main_n) = (times * lot.between(1.0, 6.0), times * lot.between(1.0, 12.0));
    setup.passes[0].force = Force::Typed { radial_n, main_n, feed_n: 10.0, follows_depth: false };
    job
}

fn pass_of(result: &JobResult) -> &PassResult {
    &result.setups[0].passes[0]
}

#[test]
fn pressed_work_is_held_by_the_jaws_that_hold_it_in_the_plain_solver() {
    let (mut n_solved, mut n_several, mut n_elsewhere) = (0, 0, 0);
    for number in 0..40 {
        let job = pressed_job(number);
        let result = compute(&job);
        let pass = pass_of(&result);
        assert!(pass.behind.is_none(), "job {number}: behind the tool the work is what the dial says");
        let second = Second::new(&job, &job.setups[0], &result.setups[0]);
        let plain = second.pass(&result, 0, None);
        let mut places = plain.prepared.layout.places.clone();
        places.reverse();
        let Force::Typed { radial_n, main_n, feed_n, .. } = job.setups[0].passes[0].force else { unreachable!() };
        let forces = Forces { fc_n: main_n, fp_n: radial_n, ff_n: feed_n };
        let springs_mm = |place: &Place, answers: &[Answer]| -> Vec<[f64; 2]> {
            answers.iter().map(|answer| [0, 2].map(|plane| answer.shape[place.node][plane])).collect()
        };
        let several = |springs_mm: &[[f64; 2]]| {
            springs_mm.iter().any(|spring| (0..2).any(|i| (spring[i] - springs_mm[0][i]).abs() > 1e-5))
        };
        if pass.status == Status::StoppedEarly {
            let mut at_places = places.iter().map(|place| springs_mm(place, &plain.answers(place, forces)));
            assert!(at_places.any(|springs_mm| several(&springs_mm)), "job {number} has one answer everywhere");
            n_several += 1;
            continue;
        }
        assert_eq!(pass.status, Status::Solved, "job {number}");
        n_solved += 1;
        // Stations rise, the tool comes from the tailstock: the pass begins at the last, where there must be one answer.
        for index in (0..places.len()).rev().step_by(23) {
            let place = &places[index];
            assert!(plain.beam_at(place).system().matrix.factors().is_none(), "job {number} buckles without its jaws");
            let answers = plain.answers(place, forces);
            let springs_mm = springs_mm(place, &answers);
            assert!(!answers.is_empty(), "job {number}: no set of jaws lasts with the tool at place {index}");
            let begins = index + 1 == places.len();
            assert!(!(begins && several(&springs_mm)), "job {number} may lie otherwise, and is called solved");
            let station = &pass.stations[index];
            let apart_mm = |spring: &[f64; 2]| (spring[0] - station.spring_x_mm).hypot(spring[1] - station.spring_y_mm);
            let nearest = (0..answers.len())
                .min_by(|a, b| apart_mm(&springs_mm[*a]).total_cmp(&apart_mm(&springs_mm[*b])))
                .expect("there is an answer");
            n_elsewhere += usize::from(several(&springs_mm));
            close(station.spring_x_mm, springs_mm[nearest][0], 1e-7, 1e-9);
            close(station.spring_y_mm, springs_mm[nearest][1], 1e-7, 1e-9);
            let jaws_n = &pass.forces_at(index)[pass.supports.len() - answers[nearest].forces_n.len()..];
            let largest_n = jaws_n.iter().copied().fold(1.0, f64::max);
            for (jaw_n, plain_n) in jaws_n.iter().zip(&answers[nearest].forces_n) {
                close(*jaw_n, *plain_n, 0.0, 1e-6 * largest_n);
            }
        }
    }
    assert!(
        n_solved >= 30 && n_elsewhere >= 1,
        "{n_solved} solved, {n_elsewhere} of their places with more than one answer, {n_several} jobs stopped early"
    );
}

/// A long thin bar between centres that press more than it stands lies to either side of a rest that is open by a
/// millimetre: there are two answers, and neither is called the answer.
#[test]
fn work_that_may_lie_to_either_side_is_not_called_solved() {
    let mut job = pressed_job(1);
    let setup = &mut job.setups[0];
    setup.rests.truncate(1);
    setup.tail.thrust_n = 1.5 * euler_n(job.shaft.stock[0].start_diameter_mm, 800.0);
    let jaws = [0.0, 90.0, 180.0, 270.0].map(|degrees| jaw(degrees, 1.0, 1e5)).to_vec();
    setup.rests[0] = Rest { jaws, set_to: SetTo::Axis, ..Rest::three_jaw(RestId(9), 400.0) };
    setup.passes[0].force = Force::Typed { radial_n: 0.1, main_n: 0.1, feed_n: 0.0, follows_depth: false };
    assert_eq!(pass_of(&compute(&job)).status, Status::StoppedEarly);
}

/// More than the stretches between centre, rest and centre stand is held by no jaw.
#[test]
fn work_that_buckles_between_its_rests_is_not_held() {
    let mut job = pressed_job(1);
    let setup = &mut job.setups[0];
    setup.rests.truncate(1);
    setup.rests[0].z_mm = 400.0;
    let buckles_n = 4.0 * euler_n(job.shaft.stock[0].start_diameter_mm, 800.0);
    for (share, status) in [(0.8, Status::Solved), (1.2, Status::NotHeld), (4.0, Status::NotHeld)] {
        job.setups[0].tail.thrust_n = share * buckles_n;
        job.setups[0].rests[0].jaws.iter_mut().for_each(|jaw| jaw.gap_mm = 0.0);
        assert_eq!(pass_of(&compute(&job)).status, status, "{share} of what it stands");
    }
}
