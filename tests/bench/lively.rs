//! How long liveliness takes: a count and six frequencies of work of 400 elements, receptance for 160 frequencies at all
//! its nodes, and what a drag asks for in the opening example. The last lines give medians in microseconds.

use std::time::Instant;

use midspan::job::{Job, PassId, SetupId, examples};
use midspan::mechanics::beam::{Elastic, Element, Round};
use midspan::mechanics::buckling::critical_factor;
use midspan::mechanics::chain::{Chain, JawSpring, Work};
use midspan::mechanics::mass::{NodeMass, element_mass};
use midspan::mechanics::receptance::{Stop, Travel, receptances};
use midspan::mechanics::vibration::modes;
use midspan::mechanics::walk::NodeSpring;
use midspan::study::lively::{DAMPING_RATIO, depth_limits, lively, lobes};
use midspan::study::{JobResult, compute};

fn main() {
    divan::main();
    let (bar, opening) = (Bar::new(), Opening::new());
    println!("\nmedians, us");
    for n_rests in [0, 1, 2] {
        let work = bar.work(n_rests);
        let chain = Chain::of(&work);
        line(&format!("count, 400 elements, {n_rests} rests"), 2001, || chain.n_below(1e5));
        line(&format!("4 counts at once, {n_rests} rests"), 2001, || chain.counts([1e5; 4], [1.0; 4]));
        line(&format!("6 frequencies with shapes, {n_rests} rests"), 101, || modes(&work, 6));
        line(&format!("buckling factor, {n_rests} rests"), 101, || critical_factor(&work));
        line(&format!("receptance, 160 frequencies, 401 places, {n_rests} rests"), 21, || bar.receptances(n_rests));
    }
    line("lively, opening example", 101, || opening.lively());
    line("depth limits, opening example", 21, || opening.depth_limits());
    line("lobes, opening example", 21, || opening.lobes());
    line("whole compute, opening example", 21, || compute(&opening.job));
}

#[divan::bench(args = [0, 1, 2])]
fn count(bencher: divan::Bencher, n_rests: usize) {
    let bar = Bar::new();
    let chain = Chain::of(&bar.work(n_rests));
    bencher.bench_local(|| chain.n_below(divan::black_box(1e5)));
}

#[divan::bench(args = [0, 1, 2])]
fn six_frequencies(bencher: divan::Bencher, n_rests: usize) {
    let bar = Bar::new();
    let work = bar.work(n_rests);
    bencher.bench_local(|| modes(divan::black_box(&work), 6));
}

#[divan::bench(args = [0, 1, 2])]
fn receptance_everywhere(bencher: divan::Bencher, n_rests: usize) {
    let bar = Bar::new();
    bencher.bench_local(|| bar.receptances(n_rests));
}

#[divan::bench]
fn opening_lively(bencher: divan::Bencher) {
    let opening = Opening::new();
    bencher.bench_local(|| opening.lively());
}

#[divan::bench]
fn opening_depth_limits(bencher: divan::Bencher) {
    let opening = Opening::new();
    bencher.bench_local(|| opening.depth_limits());
}

fn line<T>(what: &str, n_times: usize, mut work: impl FnMut() -> T) {
    let mut times_us: Vec<f64> = (0..n_times)
        .map(|_| {
            let start = Instant::now();
            divan::black_box(work());
            start.elapsed().as_secs_f64() * 1e6
        })
        .collect();
    times_us.sort_by(f64::total_cmp);
    println!("{:9.1}  {what}", times_us[n_times / 2]);
}

/// A bar of 1200 mm in 400 elements, in a chuck with a centre, rests of two jaws that touch.
struct Bar {
    elements: Vec<Element>,
    masses: Vec<[NodeMass; 2]>,
    springs: Vec<(usize, NodeSpring)>,
    jaws: Vec<JawSpring>,
}

impl Bar {
    fn new() -> Self {
        let elastic = Elastic::new(2.1e5, 0.3, 7.7e-5);
        let rounds: Vec<Round> = (0..400).map(|index| Round::solid(if index < 200 { 40.0 } else { 36.0 })).collect();
        let spring = |radial_n_per_mm, turning_nmm_per_rad| NodeSpring {
            radial_n_per_mm,
            turning_nmm_per_rad,
            anchor_mm: [0.0; 2],
        };
        let jaw = |node: usize, degrees: f64| {
            let (up, away) = degrees.to_radians().sin_cos();
            JawSpring { node, direction: [away, up], k_n_per_mm: 8e4 }
        };
        Self {
            elements: rounds.iter().map(|round| Element::new(3.0, round, &elastic, 500.0)).collect(),
            masses: rounds.iter().map(|round| element_mass(3.0, round, &elastic)).collect(),
            springs: vec![(0, spring(2e5, 1e8)), (400, spring(3e4, 0.0))],
            jaws: vec![jaw(150, 210.0), jaw(150, 330.0), jaw(280, 210.0), jaw(280, 95.0)],
        }
    }

    fn work(&self, n_rests: usize) -> Work<'_> {
        Work {
            elements: &self.elements,
            masses: &self.masses,
            node_masses: &[],
            springs: &self.springs,
            jaws: &self.jaws[..2 * n_rests],
        }
    }

    fn receptances(&self, n_rests: usize) -> f64 {
        let jaws = &self.jaws[..2 * n_rests];
        let stops: Vec<Stop> = (0..=400).map(|node| Stop { node, jaws: jaws.to_vec() }).collect();
        let travel = Travel {
            front: &self.elements,
            front_masses: &self.masses,
            back: &self.elements,
            back_masses: &self.masses,
            springs: &self.springs,
            rest_nodes: &[150, 280][..n_rests],
            stops: &stops,
        };
        let frequencies_hz: Vec<f64> = (0..160).map(|step| 50.0 + 2.0 * f64::from(step)).collect();
        let mut least = f64::INFINITY;
        receptances(&travel, &frequencies_hz, DAMPING_RATIO, |_, _, found| least = least.min(found.xx.re));
        least
    }
}

/// The opening example, its first pass.
struct Opening {
    job: Job,
    result: JobResult,
    setup: SetupId,
    pass: PassId,
    middle_mm: f64,
}

impl Opening {
    fn new() -> Self {
        let job = examples::opening();
        let result = compute(&job);
        let (setup, pass) = (job.setups[0].id, &job.setups[0].passes[0]);
        let (pass, middle_mm) = (pass.id, 0.5 * (pass.from_z_mm + pass.to_z_mm));
        Self { setup, pass, middle_mm, job, result }
    }

    fn lively(&self) -> f64 {
        let found = lively(&self.job, &self.result, self.setup, Some(self.pass), Some(self.middle_mm), DAMPING_RATIO);
        found.map_or(0.0, |found| found.first_whip_rpm)
    }

    fn depth_limits(&self) -> usize {
        depth_limits(&self.job, &self.result, self.setup, self.pass, DAMPING_RATIO, &|| true).len()
    }

    fn lobes(&self) -> usize {
        let found = lobes(&self.job, &self.result, self.setup, self.pass, self.middle_mm, DAMPING_RATIO);
        found.map_or(0, |found| found.speeds.len())
    }
}
