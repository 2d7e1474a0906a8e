//! How long a sweep takes: two passes and a spring pass, two steady rests of three jaws and a follower, on shafts of
//! some 200 to 800 elements; the study's own way, and the plain way beside it. The last lines give the ratio of the
//! two, measured in this very run: times hold for one machine only, ratios for all.

mod plain_band;

#[path = "../engine/lot.rs"]
mod lot;
#[path = "../engine/random_job.rs"]
#[allow(dead_code, reason = "the jobs drawn by lot are for the tests")]
mod random_job;

use std::time::Instant;

use midspan::job::{Follower, FollowerSide, Job, Land, PassId, PassKind, Rest, RestId, SetTo, Sleeve, TipKind};
use midspan::study::compute;
use midspan::study::outline::{Outline, stock_surface};
use midspan::study::prepared::Scene;

use random_job::{jaw, plain_job};

/// Shaft lengths (mm); a station stands every 2 mm, and there are 200 at least.
const LENGTHS_MM: [f64; 4] = [240.0, 440.0, 840.0, 1660.0];

fn main() {
    for length_mm in LENGTHS_MM {
        agree(&job(length_mm));
    }
    divan::main();
    println!("\nelements  stations  quick (us)  plain (us)  plain/quick");
    for length_mm in LENGTHS_MM {
        let job = job(length_mm);
        let (n_elements, n_stations) = mesh(&job);
        let quick_us = median_us(21, || drop(divan::black_box(compute(divan::black_box(&job)))));
        let plain_us = median_us(3, || drop(divan::black_box(plain_band::sweep_all(divan::black_box(&job)))));
        let ratio = plain_us / quick_us;
        println!("{n_elements:8}  {n_stations:8}  {quick_us:10.0}  {plain_us:10.0}  {ratio:11.0}");
    }
}

#[divan::bench(args = LENGTHS_MM)]
fn quick(bencher: divan::Bencher, length_mm: f64) {
    let job = job(length_mm);
    bencher.bench_local(|| compute(divan::black_box(&job)));
}

#[divan::bench(args = &LENGTHS_MM[..2], sample_count = 3, sample_size = 1)]
fn plain(bencher: divan::Bencher, length_mm: &f64) {
    let job = job(*length_mm);
    bencher.bench_local(|| plain_band::sweep_all(divan::black_box(&job)));
}

/// A stepped, bored bar in a chuck with a centre: two passes and a spring pass over nine tenths of it.
fn job(length_mm: f64) -> Job {
    let diameter_mm = length_mm / 30.0 + 10.0;
    let mut job = plain_job(length_mm, diameter_mm);
    let land = |share: f64, diameter_mm: f64| Land {
        length_mm: share * length_mm,
        start_diameter_mm: diameter_mm,
        end_diameter_mm: diameter_mm,
    };
    job.shaft.stock = vec![
        land(0.3, 1.2 * diameter_mm),
        Land { end_diameter_mm: diameter_mm, ..land(0.2, 1.2 * diameter_mm) },
        land(0.5, diameter_mm),
    ];
    let setup = &mut job.setups[0];
    setup.work_start_z_mm = 0.0;
    let first = &mut setup.passes[0];
    (first.from_z_mm, first.to_z_mm) = (0.95 * length_mm, 0.05 * length_mm);
    let again = |id: u32, kind: PassKind| midspan::job::Pass { id: PassId(id), kind, ..first.clone() };
    let (second, spring) = (again(2, PassKind::Turn), again(3, PassKind::Spring));
    setup.passes.extend([second, spring]);
    setup.rests = [0.35, 0.7]
        .into_iter()
        .zip(5..)
        .map(|(share, id)| Rest {
            id: RestId(id),
            z_mm: share * length_mm,
            jaws: [90.0, 210.0, 330.0].map(|degrees| jaw(degrees, 0.003, 8e4)).to_vec(),
            tip: TipKind::Bronze,
            set_to: SetTo::Work,
            offset_x_mm: 0.0,
            offset_y_mm: 0.0,
            sleeve: Sleeve::None,
            spot: midspan::job::Spot::round(),
            tip_bored_mm: None,
        })
        .collect();
    setup.follower = Some(Follower {
        distance_mm: 8.0,
        side: FollowerSide::Behind,
        jaws: [jaw(0.0, 0.002, 6e4), jaw(90.0, 0.004, 6e4)],
        tip: TipKind::Bronze,
        tip_bored_mm: None,
        start_mm: 0.0,
    });
    job
}

/// Elements and stations of the first pass.
fn mesh(job: &Job) -> (usize, usize) {
    let setup = &job.setups[0];
    let outline = Outline::of(&stock_surface(&job.shaft), &job.shaft, setup);
    let scene =
        Scene::new(job, setup, &outline, midspan::study::Fineness::USUAL).expect("the work has a length to bend");
    let prepared = scene.prepare(&outline, Some(&setup.passes[0]), None);
    (prepared.old.len(), prepared.layout.places.len())
}

/// Both ways must leave the same surface, or the race means nothing.
fn agree(job: &Job) {
    let result = compute(job);
    let pass = result.setups[0].passes.last().expect("three passes");
    let plain_mm = plain_band::sweep_all(job);
    assert_eq!(pass.stations.len(), plain_mm.len());
    for (station, plain_mm) in pass.stations.iter().rev().zip(plain_mm) {
        let apart_mm = (station.left_diameter_mm - plain_mm).abs();
        assert!(apart_mm < 1e-7, "at {} mm the two are {apart_mm:e} mm apart", station.z_mm);
    }
}

fn median_us(n_times: usize, mut work: impl FnMut()) -> f64 {
    let mut times_us: Vec<f64> = (0..n_times)
        .map(|_| {
            let start = Instant::now();
            work();
            start.elapsed().as_secs_f64() * 1e6
        })
        .collect();
    times_us.sort_by(f64::total_cmp);
    times_us[n_times / 2]
}
