//! A made-up result of the quiet set-up, so that each rule can be shown exactly what it is about.

use std::sync::Arc;

use midspan::job::{Job, Pass, Setup};
use midspan::study::results::Span;
use midspan::study::{JobResult, Measured, PassResult, SetupResult, Station, Status, Support, Surface};

/// What the pass of `job` leaves: a hump of 5 um on diameter, well within the tolerance, with 2 mm taken off.
pub fn result(job: &Job) -> JobResult {
    let setups = job
        .setups
        .iter()
        .map(|setup| SetupResult {
            setup: setup.id,
            before: cylinder(325.0, 40.0),
            passes: setup.passes.iter().map(|pass| pass_result(setup, pass, 0.005)).collect(),
        })
        .collect();
    JobResult { setups, bands: None }
}

/// A pass that leaves a hump of `hump_mm` on diameter; every jaw carries 60 N.
pub fn pass_result(setup: &Setup, pass: &Pass, hump_mm: f64) -> PassResult {
    let (low_mm, high_mm) = pass.span_mm();
    let n = 40;
    let stations: Vec<Station> = (0..=n)
        .map(|index| {
            let along = f64::from(index) / f64::from(n);
            let error_mm = hump_mm * (std::f64::consts::PI * along).sin();
            Station {
                z_mm: low_mm + along * (high_mm - low_mm),
                wanted_diameter_mm: 38.0,
                old_diameter_mm: 40.0,
                left_diameter_mm: 38.0 + error_mm,
                error_mm,
                spring_x_mm: error_mm / 2.0,
                spring_y_mm: error_mm / 3.0,
                real_depth_mm: 2.0 - error_mm,
                fc_n: 400.0,
                fp_n: 120.0,
                ff_n: 150.0,
                residual_mm: 0.0,
                turned: midspan::study::Turned::default(),
            }
        })
        .collect();
    let mut supports = vec![Support::DriveX, Support::DriveY, Support::TailX, Support::TailY];
    for rest in &setup.rests {
        supports.extend((0..rest.jaws.len()).map(|jaw| Support::Jaw { rest: rest.id, jaw }));
    }
    if setup.follower.is_some() {
        supports.extend((0..2).map(|jaw| Support::FollowerJaw { jaw }));
    }
    let forces_n = vec![60.0; supports.len() * stations.len()];
    PassResult {
        pass: pass.id,
        status: Status::Solved,
        stations,
        supports,
        forces_n,
        turns: false,
        before: cylinder(325.0, 40.0),
        behind: None,
        after: cylinder(325.0, 38.0),
        measured: Measured::Outside,
        plunge: None,
        end: None,
    }
}

/// A straight surface.
pub fn cylinder(length_mm: f64, diameter_mm: f64) -> Arc<Surface> {
    Arc::new(Surface {
        spans: vec![Span {
            from_s_mm: 0.0,
            to_s_mm: length_mm,
            start_diameter_mm: diameter_mm,
            end_diameter_mm: diameter_mm,
            start_dial_mm: diameter_mm,
            end_dial_mm: diameter_mm,
            start_off_mm: [0.0; 2],
            end_off_mm: [0.0; 2],
        }],
        ..Surface::default()
    })
}
