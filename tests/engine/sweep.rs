//! The study's sweep against the plain solver, on jobs drawn by lot.

use midspan::job::Job;
use midspan::study::{JobResult, PassResult, Station, Status, compute, shape_at};

use crate::random_job::{Lot, jaw, plain_job, random_job};
use crate::second_method::{Second, Solved, SupportForce};

/// Below a millionth of a nanometre a length is rounding: diameters are of 50 mm, and have 16 digits.
const ROUNDING_MM: f64 = 1e-12;

/// An end's spring gives its force as stiffness times a movement, and that is known to this much: nothing for a real
/// spring, but 1e-5 N for an end that is rigid (1e12 N/mm).
const END_MOVE_MM: f64 = 1e-17;

/// What both must agree to.
const AGREE: f64 = 1e-9;

/// The largest disagreement, in units of what is allowed.
#[derive(Default)]
struct Worst {
    ratio: f64,
    words: String,
}

impl Worst {
    fn look(&mut self, what: &str, actual: f64, expected: f64, size: f64, floor: f64) {
        let ratio = (actual - expected).abs() / (AGREE * size.abs()).max(floor);
        if ratio > self.ratio || ratio.is_nan() {
            self.ratio = if ratio.is_nan() { f64::INFINITY } else { ratio };
            self.words = format!("{what}: study {actual:e}, plain {expected:e}");
        }
    }

    fn complaint(&self, whose: &str) -> Option<String> {
        (self.ratio > 1.0).then(|| format!("{whose}, {} ({:.1} times too far)", self.words, self.ratio))
    }

    fn compare(&mut self, station: &Station, forces_n: &[f64], plain: &Solved) {
        let answer = &plain.cut;
        let spring_mm = answer.u_mm.hypot(answer.v_mm);
        let at = format!("tool at {} mm", station.z_mm);
        let mut look = |what: &str, actual, expected, size, floor| {
            self.look(&format!("{at}, {what}"), actual, expected, size, floor);
        };
        look("spring x", station.spring_x_mm, answer.u_mm, spring_mm, ROUNDING_MM);
        look("spring y", station.spring_y_mm, answer.v_mm, spring_mm, ROUNDING_MM);
        let error_mm = 2.0 * answer.radius_left_mm - station.wanted_diameter_mm;
        look("error", station.error_mm, error_mm, error_mm, ROUNDING_MM);
        look("diameter", station.left_diameter_mm, 2.0 * answer.radius_left_mm, error_mm, ROUNDING_MM);
        look("depth", station.real_depth_mm, 2.0 * answer.depth_mm, 2.0 * answer.depth_mm, ROUNDING_MM);
        let forces = &answer.forces;
        let cut_n = forces.fc_n.hypot(forces.fp_n).hypot(forces.ff_n);
        // A force is no surer than the depth it follows, and 10 kN a mm is more than any of these cuts asks for.
        let floor_n = 1e4 * ROUNDING_MM;
        look("main force", station.fc_n, forces.fc_n, cut_n, floor_n);
        look("radial force", station.fp_n, forces.fp_n, cut_n, floor_n);
        look("feed force", station.ff_n, forces.ff_n, cut_n, floor_n);
        let largest_n = plain.supports.iter().fold(cut_n, |largest, support| largest.max(support.force_n.abs()));
        assert_eq!(forces_n.len(), plain.supports.len());
        for (i, (actual, SupportForce { force_n, spring_k_n_per_mm })) in
            forces_n.iter().zip(&plain.supports).enumerate()
        {
            let floor_n = floor_n.max(spring_k_n_per_mm * END_MOVE_MM);
            look(&format!("support {i}"), *actual, *force_n, largest_n, floor_n);
        }
    }
}

/// The pass was solved in one sweep: behind the tool the work has the dial's size.
fn one_sweep_was_enough(result: &PassResult) -> bool {
    result.status == Status::Solved && result.behind.is_none()
}

/// Compares some stations of every pass, and the bent line at one; gives how many stations were compared, and adds to
/// `apart` where the two disagree.
fn compare_job(number: u64, apart: &mut Vec<String>) -> usize {
    let job = random_job(number);
    let result = compute(&job);
    let (setup, computed) = (&job.setups[0], &result.setups[0]);
    let second = Second::new(&job, setup, computed);
    let mut lot = Lot(number);
    let mut n_compared = 0;
    for (index, pass_result) in computed.passes.iter().enumerate().filter(|(_, pass)| one_sweep_was_enough(pass)) {
        let mut plain = second.pass(&result, index, None);
        plain.remember(pass_result);
        let mut places = plain.prepared.layout.places.clone();
        let set_on_mm = plain.follower_set_on_mm(&places);
        if setup.passes[index].feeds_to_headstock() {
            places.reverse();
        }
        assert_eq!(places.len(), pass_result.stations.len(), "job {number}: a station for every place");
        let mut worst = Worst::default();
        let chosen = [lot.below(places.len()), lot.below(places.len())];
        let ends = [0, places.len() - 1];
        for place in chosen.into_iter().chain(ends.into_iter().filter(|_| index == 0)) {
            let solved = plain.solve(&places[place], set_on_mm).expect("solved by the study");
            worst.compare(&pass_result.stations[place], pass_result.forces_at(place), &solved);
            n_compared += 1;
        }
        apart.extend(worst.complaint(&format!("job {number}, pass {index}")));
        if index == 0 {
            let worst = compare_shape(&job, &result, &second, index, set_on_mm, &mut lot);
            apart.extend(worst.complaint(&format!("job {number}, pass {index}, bent line")));
        }
    }
    n_compared
}

/// Compares the whole bent line at a place between stations.
fn compare_shape(
    job: &Job,
    result: &JobResult,
    second: &Second,
    index: usize,
    set_on_mm: Option<f64>,
    lot: &mut Lot,
) -> Worst {
    let setup = second.setup;
    let pass = &setup.passes[index];
    let pass_result = &result.setups[0].passes[index];
    let first = pass_result.stations[0].z_mm;
    let last = pass_result.stations[pass_result.stations.len() - 1].z_mm;
    let z_mm = lot.between(first + 1.0, last - 1.0);
    let shape = shape_at(job, result, setup.id, Some(pass.id), Some(z_mm)).expect("solved before");
    let mut plain = second.pass(result, index, Some(z_mm));
    plain.remember(pass_result);
    let solved = plain.solve(&plain.prepared.layout.places[0], set_on_mm).expect("solved by the study");
    let mut worst = Worst::default();
    let bent = &solved.cut.work.shape;
    let largest_mm = bent.iter().fold(0.0, |largest: f64, node| largest.max(node[0].hypot(node[2])));
    assert_eq!(shape.z_mm.len(), bent.len());
    for (i, node) in bent.iter().enumerate() {
        let at = format!("tool at {z_mm}, line at {}", shape.z_mm[i]);
        worst.look(&at, shape.x_mm[i], node[0], largest_mm, ROUNDING_MM);
        worst.look(&at, shape.y_mm[i], node[2], largest_mm, ROUNDING_MM);
    }
    let forces_n: Vec<f64> = shape.reactions.iter().map(|reaction| reaction.force_n).collect();
    worst.compare(shape.cut.as_ref().expect("the tool is in the cut"), &forces_n, &solved);
    worst
}

fn compare_jobs(numbers: std::ops::Range<u64>, least_jobs: usize) {
    let mut apart = Vec::new();
    let compared: Vec<usize> = numbers.map(|number| compare_job(number, &mut apart)).collect();
    assert!(apart.is_empty(), "{} disagreements:\n{}", apart.len(), apart.join("\n"));
    let n_jobs = compared.iter().filter(|n_stations| **n_stations > 0).count();
    assert!(n_jobs >= least_jobs, "{n_jobs} jobs could be compared, {least_jobs} were wanted");
}

#[test]
fn sweep_agrees_with_the_plain_solver_on_random_jobs() {
    compare_jobs(0..115, 100);
}

#[test]
fn sweep_agrees_with_the_plain_solver_on_more_random_jobs() {
    compare_jobs(115..230, 100);
}

/// A bar that springs by more than 1 % of its diameter, a follower riding on the fresh surface, and a spring pass after
/// it: every station of every pass, the plain solver carrying its own surface and its own second sweep.
#[test]
fn whole_passes_agree_with_the_plain_solver_where_the_error_asks_for_a_second_sweep() {
    let mut job = plain_job(330.0, 16.0);
    let setup = &mut job.setups[0];
    setup.follower = Some(midspan::job::Follower {
        distance_mm: 12.0,
        side: midspan::job::FollowerSide::Behind,
        jaws: [jaw(0.0, 0.15, 5e4), jaw(90.0, 0.3, 5e4)],
        tip: midspan::job::TipKind::Bronze,
        tip_bored_mm: None,
        start_mm: 0.0,
    });
    setup.rests.push(midspan::job::Rest {
        id: midspan::job::RestId(7),
        z_mm: 41.3,
        jaws: [90.0, 210.0, 330.0].map(|degrees| jaw(degrees, 0.05, 1e5)).to_vec(),
        tip: midspan::job::TipKind::Bronze,
        set_to: midspan::job::SetTo::Work,
        offset_x_mm: 0.0,
        offset_y_mm: 0.0,
        sleeve: midspan::job::Sleeve::None,
        spot: midspan::job::Spot::round(),
        tip_bored_mm: None,
    });
    setup.passes[0].cut = midspan::job::Cut::Depth { on_diameter_mm: 3.0 };
    setup.passes[0].feed_mm_per_rev = 0.15;
    let spring = midspan::job::Pass {
        id: midspan::job::PassId(2),
        kind: midspan::job::PassKind::Spring,
        ..setup.passes[0].clone()
    };
    setup.passes.push(spring);
    let result = compute(&job);
    let (setup, computed) = (&job.setups[0], &result.setups[0]);
    let second = Second::new(&job, setup, computed);
    let errors = computed.passes[0].stations.iter().map(|s| s.error_mm.abs() / s.wanted_diameter_mm);
    assert!(errors.fold(0.0, f64::max) > 0.01, "this job was to need a second sweep");
    let touches = |jaw: usize| {
        let pass = &computed.passes[0];
        (0..pass.stations.len()).any(|i| pass.forces_at(i)[pass.supports.len() - 2 + jaw] > 1.0)
    };
    assert!(touches(0) || touches(1), "the follower was to touch");
    for (index, pass_result) in computed.passes.iter().enumerate() {
        let mut plain = second.pass(&result, index, None);
        let mut solved = plain.sweep();
        solved.reverse();
        assert_eq!(solved.len(), pass_result.stations.len());
        let mut worst = Worst::default();
        for (i, solved) in solved.iter().enumerate() {
            worst.compare(&pass_result.stations[i], pass_result.forces_at(i), solved);
        }
        assert_eq!(worst.complaint(&format!("pass {index}")), None);
    }
}
