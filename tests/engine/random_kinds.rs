//! Jobs drawn by lot with passes of every kind: nothing falls over, every figure is a number, forces are in balance, and
//! what is drawn at a place is what was computed there.

use midspan::advice::{findings, outcome};
use midspan::job::{BoreLand, Cut, FollowerSide, Job, Pass, PassId, PassKind, ToolSide};
use midspan::study::table::csv;
use midspan::study::{Measured, PassResult, Status, Support, compute, shape_at};

use crate::close::close;
use crate::properties::push_of;
use crate::random_job::{Lot, random_job};

const KINDS: [PassKind; 8] = [
    PassKind::Turn,
    PassKind::Spring,
    PassKind::Thread,
    PassKind::Face,
    PassKind::Drill,
    PassKind::Bore,
    PassKind::Groove,
    PassKind::Part,
];

/// A random job whose passes are replaced by six of any kind, over its work or past its ends.
fn job_of_kinds(number: u64) -> Job {
    let mut job = random_job(number);
    let mut lot = Lot(number ^ 0x9e37);
    let length_mm = job.shaft.length_mm();
    if lot.chance(0.5) {
        job.shaft.bores = vec![BoreLand {
            from_s_mm: 0.3 * length_mm,
            to_s_mm: length_mm,
            start_diameter_mm: 6.0,
            end_diameter_mm: 6.0,
        }];
    }
    let setup = &mut job.setups[0];
    let model = setup.passes[0].clone();
    let end_mm = setup.work_end_z_mm(&job.shaft);
    setup.passes = (0..6)
        .map(|index| {
            let kind = KINDS[lot.below(KINDS.len())];
            let from_z_mm = if lot.chance(0.3) { end_mm } else { lot.between(1.0, end_mm + 5.0) };
            let far_mm = match kind {
                PassKind::Groove | PassKind::Part => lot.between(0.5, 5.0),
                PassKind::Face if lot.chance(0.7) => 0.0,
                _ => lot.between(0.0, 0.8 * end_mm),
            };
            let cut = match lot.below(3) {
                0 => Cut::Depth { on_diameter_mm: lot.between(0.0, 2.0) },
                1 => Cut::ToDiameter { diameter_mm: lot.between(2.0, 40.0) },
                _ => Cut::ToDrawing { leave_on_diameter_mm: lot.between(-0.1, 0.5) },
            };
            let feed_mm_per_rev = if kind == PassKind::Thread { lot.between(0.5, 3.0) } else { model.feed_mm_per_rev };
            let id = PassId(200 + index);
            Pass { id, kind, from_z_mm, to_z_mm: (from_z_mm - far_mm).max(0.5), cut, feed_mm_per_rev, ..model.clone() }
        })
        .collect();
    job
}

/// Sideways: ends, jaws and tool add up to nothing.
fn balance(job: &Job, pass: &PassResult, station: usize) {
    let setup = &job.setups[0];
    let mut sum_n = 0.0;
    let mut largest_n: f64 = 1.0;
    for (support, force_n) in pass.supports.iter().zip(pass.forces_at(station)) {
        let share = match support {
            Support::DriveX | Support::TailX => 1.0,
            Support::DriveY | Support::TailY => 0.0,
            Support::Jaw { rest, jaw } => {
                let rest = setup.rest(*rest).unwrap();
                push_of(setup, rest.tip, rest.jaws[*jaw].angle_rad).0
            }
            Support::FollowerJaw { jaw } => {
                let follower = setup.follower.as_ref().unwrap();
                push_of(setup, follower.tip, follower.jaws[*jaw].angle_rad).0
            }
        };
        sum_n += share * force_n;
        largest_n = largest_n.max(force_n.abs());
    }
    let side = if setup.tool.side == ToolSide::Rear { -1.0 } else { 1.0 };
    let inward = if pass.measured == Measured::Bore { -1.0 } else { 1.0 };
    sum_n += side * inward * pass.stations[station].fp_n;
    close(sum_n, 0.0, 0.0, 1e-6 * largest_n);
}

#[test]
fn passes_of_every_kind_give_figures_that_hold_together() {
    let mut n_solved = [0; 8];
    for number in 0..150 {
        let job = job_of_kinds(number);
        let result = compute(&job);
        let setup = &job.setups[0];
        for (pass, done) in setup.passes.iter().zip(&result.setups[0].passes) {
            let told = (outcome::lines(&job, pass, done), outcome::sentence(&job, pass, done));
            assert!(!format!("{told:?}").contains("NaN"), "job {number}: {told:?}");
            if done.status != Status::Solved {
                continue;
            }
            let kind = KINDS.iter().position(|kind| *kind == pass.kind).unwrap();
            n_solved[kind] += 1;
            for (index, station) in done.stations.iter().enumerate() {
                assert!(station.left_diameter_mm.is_finite() && station.left_diameter_mm >= 0.0, "job {number}");
                let taken_mm = (station.old_diameter_mm - station.left_diameter_mm).abs();
                close(taken_mm, station.real_depth_mm, 0.0, 1e-9);
                if index % 40 == 0 {
                    balance(&job, done, index);
                }
            }
            let middle = done.stations.get(done.stations.len() / 2);
            let z_mm = middle.map_or(pass.to_z_mm, |station| station.z_mm);
            let shape = shape_at(&job, &result, setup.id, Some(pass.id), Some(z_mm));
            let shape = shape.unwrap_or_else(|| panic!("job {number}, {:?}: computed but not drawn", pass.kind));
            // A second sweep is drawn over what it left itself; a follower behind the tool copies what lies between.
            let copies = setup.follower.as_ref().is_some_and(|follower| follower.side == FollowerSide::Behind);
            if let (Some(station), Some(cut), None, false) = (middle, shape.cut, &done.behind, copies) {
                // The drawn work has fewer nodes, where what passes before have left is not straight: a thousandth.
                let spring_mm = station.spring_x_mm.hypot(station.spring_y_mm);
                close(cut.spring_x_mm, station.spring_x_mm, 0.0, (1e-3 * spring_mm).max(1e-6));
                close(cut.left_diameter_mm, station.left_diameter_mm, 0.0, (2e-3 * spring_mm).max(1e-6));
            }
        }
        assert!(!csv(&job, &result).contains("NaN"), "job {number}");
        assert!(findings(&job, &result).iter().all(|finding| !finding.text.contains("NaN")), "job {number}");
    }
    assert!(n_solved.iter().all(|n_passes| *n_passes > 10), "each kind was to be solved: {n_solved:?}");
}
