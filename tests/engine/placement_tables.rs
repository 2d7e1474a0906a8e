//! Rests tried on a board come to what the sweep says with the rests really there, on the same mesh.

use std::sync::Arc;

use midspan::job::{Job, Pass, Setup};
use midspan::study::layout::Fineness;
use midspan::study::outline::{Outline, stock_surface};
use midspan::study::placement::{Board, Measure, Room, Trial};
use midspan::study::prepared::Scene;
use midspan::study::results::{PassResult, SetupResult, Status};
use midspan::study::sweep;

use crate::random_job::{Lot, random_job};

const FINENESS: Fineness = Fineness { spacing_mm: 12.0, fewest_stations: 40.0, parts_outside: 60.0, turns: false };

/// The set-up swept with a node at every place.
fn swept(job: &Job, places_mm: &[f64]) -> SetupResult {
    let (setup, material) = (&job.setups[0], job.material());
    let before = Arc::new(stock_surface(&job.shaft));
    let mut outline = Outline::of(&before, &job.shaft, setup);
    let scene = Scene::with_nodes(job, setup, &outline, FINENESS, places_mm.to_vec()).expect("there is work to bend");
    let mut passes: Vec<PassResult> = Vec::new();
    for pass in &setup.passes {
        let last_mm = last_depth_mm(setup, &passes);
        let surface = passes.last().map_or(&before, |last| &last.after).clone();
        let room = &mut sweep::Room::default();
        passes.push(sweep::sweep(&scene, &outline, &surface, &material, pass, last_mm, room));
        outline = Outline::of(&passes.last().expect("just put").after, &job.shaft, setup);
    }
    SetupResult { setup: setup.id, before, passes }
}

/// What the dial asked for at the middle of the last turning pass.
fn last_depth_mm(setup: &Setup, passes: &[PassResult]) -> f64 {
    let turned = |(pass, result): &(&Pass, &PassResult)| {
        pass.kind == midspan::job::PassKind::Turn && !result.stations.is_empty()
    };
    let Some((_, last)) = setup.passes.iter().zip(passes).rfind(turned) else { return 0.0 };
    let middle = &last.stations[last.stations.len() / 2];
    ((middle.old_diameter_mm - middle.wanted_diameter_mm) / 2.0).max(0.0)
}

/// A job drawn by lot with rests, places for them, and where they stand.
fn case(number: u64) -> (Trial, Vec<f64>, Vec<usize>) {
    let mut job = random_job(number);
    let mut lot = Lot(number ^ 0x51ce);
    let n_rests = 1 + lot.below(3);
    let trial = Trial::new(&job, job.setups[0].id, n_rests, job.setups[0].follower.is_some(), true).expect("there");
    job = trial.job.clone();
    let end_mm = job.setups[0].work_end_z_mm(&job.shaft);
    let mut places_mm: Vec<f64> = (0..25).map(|_| lot.between(5.0, end_mm - 5.0)).collect();
    places_mm.sort_by(f64::total_cmp);
    places_mm.dedup_by(|later, earlier| *later - *earlier < 0.5);
    let mut rests_at: Vec<usize> = Vec::new();
    while rests_at.len() < n_rests {
        let place = lot.below(places_mm.len());
        if !rests_at.contains(&place) {
            rests_at.push(place);
        }
    }
    rests_at.sort_unstable();
    (trial, places_mm, rests_at)
}

/// The largest difference of any error, and how many stops were compared.
fn largest_difference(board: &Board, rests_at: &[usize], truth: &SetupResult, n_passes: usize) -> (f64, usize) {
    let (mut largest_mm, mut n_compared) = (0.0_f64, 0);
    let tried = board.errors_mm(&mut Room::default(), rests_at);
    let turned = truth.passes.iter().filter(|pass| pass.status != Status::NothingToCut);
    for (stops, pass) in tried.iter().zip(turned).take(n_passes) {
        assert_eq!(stops.len(), pass.stations.len());
        let mut stops = stops.clone();
        if stops.first().map(|stop| stop.0) > stops.last().map(|stop| stop.0) {
            stops.reverse();
        }
        for ((z_mm, error_mm), station) in stops.iter().zip(&pass.stations) {
            assert_eq!(*z_mm, station.z_mm);
            let Some(error_mm) = error_mm else { continue };
            largest_mm = largest_mm.max((error_mm - station.error_mm).abs());
            n_compared += 1;
        }
    }
    (largest_mm, n_compared)
}

#[test]
fn with_rests_where_the_reference_has_them_a_board_gives_every_error_of_the_sweep() {
    let mut n_compared = 0;
    for number in 0..120 {
        let (mut trial, places_mm, rests_at) = case(number);
        let places: Vec<f64> = rests_at.iter().map(|at| places_mm[*at]).collect();
        trial.put(&places);
        let truth = swept(&trial.job, &places_mm);
        if truth.passes.iter().any(|pass| !matches!(pass.status, Status::Solved | Status::NothingToCut)) {
            continue;
        }
        let Some(board) = Board::new(&trial, &truth, &places_mm, FINENESS, Measure::Size) else { continue };
        let (largest_mm, n) = largest_difference(&board, &rests_at, &truth, usize::MAX);
        assert!(largest_mm < 2e-9, "job {number}: {largest_mm} mm");
        n_compared += n;
    }
    assert!(n_compared > 4000, "{n_compared} stops compared");
}

#[test]
fn the_first_pass_is_that_of_the_sweep_wherever_the_rests_stand() {
    let mut n_compared = 0;
    for number in 200..320 {
        let (mut trial, places_mm, rests_at) = case(number);
        // The reference has its rests somewhere else.
        let elsewhere: Vec<f64> = (rests_at.iter()).map(|at| places_mm[(at + 7) % places_mm.len()]).collect();
        trial.put(&elsewhere);
        let reference = swept(&trial.job, &places_mm);
        let Some(board) = Board::new(&trial, &reference, &places_mm, FINENESS, Measure::Size) else { continue };
        trial.put(&rests_at.iter().map(|at| places_mm[*at]).collect::<Vec<f64>>());
        let truth = swept(&trial.job, &places_mm);
        let second_sweep = |result: &SetupResult| result.passes.first().is_some_and(|pass| pass.behind.is_some());
        if truth.passes.first().is_none_or(|pass| pass.status != Status::Solved)
            || second_sweep(&truth)
            || second_sweep(&reference)
        {
            continue;
        }
        let (largest_mm, n) = largest_difference(&board, &rests_at, &truth, 1);
        assert!(largest_mm < 2e-9, "job {number}: {largest_mm} mm");
        n_compared += n;
    }
    assert!(n_compared > 4000, "{n_compared} stops compared");
}
