//! What the bands cost, and what a sample and a mesh are worth: the choice of both in `study::band` rests on the tables
//! printed last. Times hold for one machine only; how far two bands are apart is given as a share of the width of the
//! wider sampled or finer meshed one, at the worst station of a curve, over all curves of all examples.

use std::fmt;
use std::time::Instant;

use midspan::job::{Edit, Job, examples};
use midspan::study::band::{Curve, Lattice, Sample, bands_of};
use midspan::study::{Fineness, JobResult, compute, compute_with_bands};

/// A job the bands are timed with.
#[derive(Clone, Copy)]
enum Timed {
    /// 840 mm, two set-ups with a steady rest and three passes each.
    Opening,
    /// Eight feet, two set-ups with two steady rests and three passes each.
    Long,
    /// A follower asks for stations no further apart than its distance from the tool.
    Follower,
}

const TIMED: [Timed; 3] = [Timed::Opening, Timed::Long, Timed::Follower];

impl fmt::Display for Timed {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Self::Opening => "opening example",
            Self::Long => "eight feet, two steadies",
            Self::Follower => "guide rod, follower",
        })
    }
}

impl Timed {
    fn job(self) -> Job {
        let load = |key| examples::load(key).expect("an example of this name");
        match self {
            Self::Opening => examples::opening(),
            Self::Long => {
                let mut job = load("lead-screw");
                job.apply(&Edit::CopySetup(job.setups[0].id)).expect("the set-up is there");
                job.apply(&Edit::TurnEndForEnd(job.setups[1].id)).expect("the copy is there");
                job
            }
            Self::Follower => load("guide-rod"),
        }
    }
}

#[divan::bench(args = TIMED)]
fn curves_alone(bencher: divan::Bencher, timed: Timed) {
    let job = timed.job();
    bencher.bench_local(|| compute(divan::black_box(&job)));
}

#[divan::bench(args = TIMED)]
fn curves_and_bands(bencher: divan::Bencher, timed: Timed) {
    let job = timed.job();
    bencher.bench_local(|| compute_with_bands(divan::black_box(&job)));
}

fn main() {
    divan::main();
    let jobs: Vec<(Job, JobResult)> = (examples::EXAMPLES.iter())
        .map(|example| examples::load(example.key).expect("an example"))
        .map(|job| (job.clone(), compute(&job)))
        .collect();

    println!("\nmembers  generator   ms for all examples   apart from 2003 members: mean, nine in ten, largest");
    let many = Lattice { n_members: 2003, generator: 1487 };
    for (n_members, generator) in [(17, 6), (23, 11), (31, 12), (31, 13), (37, 20), (61, 43), (2003, 295)] {
        let sample = Sample { lattice: Lattice { n_members, generator }, ..Sample::USUAL };
        print!("{n_members:7}  {generator:9}");
        compare(&jobs, &sample, &Sample { lattice: many, ..Sample::USUAL });
    }
    println!("\nfewest stations       ms for all examples   apart from the mesh of the screen");
    for fewest_stations in [8.0, 12.0, 16.0, 24.0, 50.0] {
        let fineness = Fineness { spacing_mm: 100.0, fewest_stations, parts_outside: fewest_stations, turns: false };
        print!("{fewest_stations:15}   ");
        compare(&jobs, &Sample { fineness, ..Sample::USUAL }, &Sample { fineness: Fineness::USUAL, ..Sample::USUAL });
    }
}

/// One line of a table.
fn compare(jobs: &[(Job, JobResult)], sample: &Sample, best: &Sample) {
    let mut time_ms = 0.0;
    let mut apart = Vec::new();
    for (job, result) in jobs {
        let start = Instant::now();
        let bands = bands_of(job, result, sample, &|| true).expect("not stopped");
        time_ms += start.elapsed().as_secs_f64() * 1e3;
        let best = bands_of(job, result, best, &|| true).expect("not stopped");
        for band in &bands.passes {
            let (Some(best), Some(pass)) = (best.pass(band.pass), result.pass(band.pass)) else { continue };
            for curve in [Curve::Error, Curve::SpringX, Curve::SpringY] {
                let edges_mm = [band.edges_mm(curve, pass), best.edges_mm(curve, pass)];
                let width_mm = edges_mm[1].iter().map(|edge| edge[1] - edge[0]).fold(0.0, f64::max);
                let apart_mm = (edges_mm[0].iter().zip(&edges_mm[1]))
                    .map(|(one, other)| (one[0] - other[0]).abs().max((one[1] - other[1]).abs()))
                    .fold(0.0, f64::max);
                // What nobody can measure has no shape to agree with.
                if width_mm > 0.0005 {
                    apart.push(apart_mm / width_mm);
                }
            }
        }
    }
    apart.sort_by(f64::total_cmp);
    let mean = apart.iter().sum::<f64>() / apart.len() as f64;
    let (nine_in_ten, largest) = (apart[apart.len() * 9 / 10], apart[apart.len() - 1]);
    println!("  {time_ms:20.1}   {mean:6.3} {nine_in_ten:6.3} {largest:6.3}");
}
