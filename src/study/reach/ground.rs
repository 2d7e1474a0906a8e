//! What the jaws would run on: the outside of the work as it comes into a set-up, by the dial, and where it has been
//! turned true.
//!
//! A land must be wider than the jaws by twice the run-out, at least by a quarter of an inch (common practice, no
//! source). On stock not turned yet a taper or shoulder forbids nothing where a spot can be turned in its allowance.

use super::stretch::{Stretch, joined};
use super::{Forbidden, Why};
use crate::job::{Feature, FeatureKind, Job, Pass, PassKind, Setup};
use crate::study::outline::{Outline, Piece};
use crate::study::{JobResult, PassResult, Station, Status, Surface};

/// Diameters along a jaw may differ by this much and still be a straight band. Common practice, no source.
pub const STRAIGHT_MM: f64 = 0.05;
/// A land must be longer than the jaws are wide by this much at least: a quarter of an inch.
pub const LEAST_ALLOWANCE_MM: f64 = 6.35;
/// What cleaning up takes off the diameter, run-out apart. Common practice, no source.
pub const CLEAN_UP_MM: f64 = 0.3;

/// By how much a band must be wider than the jaws.
#[must_use]
pub fn allowance_mm(job: &Job) -> f64 {
    (2.0 * job.shaft.bow_tir_mm).max(LEAST_ALLOWANCE_MM)
}

/// A stretch of the outside, straight between its ends.
#[derive(Clone, Copy, Debug)]
pub struct Flank {
    pub at: Stretch,
    pub diameter_mm: [f64; 2],
}

impl Flank {
    fn slope(&self) -> f64 {
        (self.diameter_mm[1] - self.diameter_mm[0]) / (self.at.to_mm - self.at.from_mm).max(1e-9)
    }

    fn least_mm(&self) -> f64 {
        self.diameter_mm[0].min(self.diameter_mm[1])
    }
}

/// The jaws that would run on the work.
#[derive(Clone, Copy, Debug)]
pub struct Jaws {
    /// Half their width along the work.
    pub half_mm: f64,
    /// Room a shoulder must leave beside them.
    pub beside_mm: f64,
    pub smallest_mm: f64,
    pub largest_mm: f64,
    /// Raw stock under them can first be turned true.
    pub may_be_spotted: bool,
}

impl Jaws {
    /// Those of a steady rest.
    #[must_use]
    pub fn of_a_steady(job: &Job) -> Self {
        Self {
            half_mm: job.lathe.rest_jaw_width_mm.value / 2.0,
            beside_mm: allowance_mm(job) / 2.0,
            smallest_mm: job.lathe.rest_min_diameter_mm.value,
            largest_mm: job.lathe.rest_max_diameter_mm.value,
            may_be_spotted: true,
        }
    }

    fn out_of_range(&self, flank: &Flank) -> impl Iterator<Item = Forbidden> {
        let Self { smallest_mm, largest_mm, .. } = *self;
        let [first, last] = flank.diameter_mm;
        let too_large = beyond(flank, |diameter_mm| diameter_mm - largest_mm)
            .map(|at| (at, Why::JawsTooSmall { diameter_mm: first.max(last), largest_mm }));
        let too_small = beyond(flank, |diameter_mm| smallest_mm - diameter_mm)
            .map(|at| (at, Why::JawsCannotClose { diameter_mm: first.min(last), smallest_mm }));
        let both = [too_large, too_small].into_iter().flatten();
        both.map(|(at, why)| Forbidden { from_mm: at.from_mm, to_mm: at.to_mm, why })
    }
}

/// The work a rest finds.
#[derive(Clone, Debug)]
pub struct Ground {
    pub flanks: Vec<Flank>,
    /// Threads cut so far.
    pub threads: Vec<Stretch>,
    /// Turned, or stated to be true, rising.
    pub true_mm: Vec<Stretch>,
}

impl Ground {
    /// The work as it comes into the set-up as `surface`.
    #[must_use]
    pub fn of(job: &Job, result: &JobResult, setup: &Setup, surface: &Surface) -> Self {
        let outline = Outline::of(surface, &job.shaft, setup);
        let threads = outline.roots.iter().map(|root| Stretch::new(root.from_z_mm, root.to_z_mm)).collect();
        Self { flanks: flanks(&outline.pieces), threads: joined(threads), true_mm: true_spots(job, result, setup) }
    }

    /// Everything the bare work forbids a rest.
    pub fn bare(&self, job: &Job, setup: &Setup, jaws: &Jaws) -> Vec<Forbidden> {
        let over = |at: &Stretch, why: Why| {
            let wider = at.grown(jaws.half_mm);
            Forbidden { from_mm: wider.from_mm, to_mm: wider.to_mm, why }
        };
        let mut all: Vec<Forbidden> = Vec::new();
        for feature in job.shaft.features.iter().filter(|feature| feature.kind != FeatureKind::TrueSpot) {
            all.push(over(&in_setup(job, setup, feature), Why::Feature(feature.kind)));
        }
        all.extend(self.threads.iter().map(|at| over(at, Why::CutThread)));
        for flank in &self.flanks {
            all.extend(jaws.out_of_range(flank));
            all.extend(self.taper(job, setup, flank, jaws));
        }
        for pair in self.flanks.windows(2) {
            all.extend(self.step(job, setup, pair, jaws));
        }
        all
    }

    /// What it forbids a rest on a sleeve of that size.
    pub fn under_a_sleeve(&self, job: &Job, sleeve_mm: f64, whole: &Stretch) -> Vec<Forbidden> {
        let too_large = self.flanks.iter().filter_map(|flank| {
            let at = beyond(flank, |diameter_mm| diameter_mm - sleeve_mm)?;
            let work_mm = flank.diameter_mm[0].max(flank.diameter_mm[1]);
            Some(Forbidden { from_mm: at.from_mm, to_mm: at.to_mm, why: Why::SleeveTooSmall { sleeve_mm, work_mm } })
        });
        let sleeve = Flank { at: *whole, diameter_mm: [sleeve_mm; 2] };
        too_large.chain(Jaws::of_a_steady(job).out_of_range(&sleeve)).collect()
    }

    /// A stretch has been turned, or is stated to be true, all along.
    #[must_use]
    pub fn is_true(&self, at: &Stretch) -> bool {
        self.true_mm.iter().any(|spot| spot.holds(at.from_mm) && spot.holds(at.to_mm))
    }

    /// Smallest and largest diameter in a stretch; `None` where its middle is off the work.
    #[must_use]
    pub fn ends_mm(&self, at: &Stretch) -> Option<(f64, f64)> {
        let middle_mm = f64::midpoint(at.from_mm, at.to_mm);
        self.flanks.iter().find(|flank| flank.at.holds(middle_mm))?;
        let ends =
            self.flanks.iter().filter_map(|flank| Some((flank, flank.at.within(at)?))).flat_map(|(flank, part)| {
                [part.from_mm, part.to_mm].map(|z_mm| flank.diameter_mm[0] + flank.slope() * (z_mm - flank.at.from_mm))
            });
        Some(ends.fold((f64::INFINITY, 0.0), |(least, most), mm| (least.min(mm), most.max(mm))))
    }

    /// To what diameter a true spot can be turned in a stretch; `None` where the allowance is too small.
    #[must_use]
    pub fn spot_mm(&self, job: &Job, setup: &Setup, at: &Stretch) -> Option<f64> {
        let (least_mm, _) = self.ends_mm(at)?;
        spot_diameter_mm(job, setup, at, least_mm)
    }

    fn is_raw(&self, at: &Stretch) -> bool {
        self.true_mm.iter().all(|spot| spot.within(at).is_none())
    }

    fn taper(&self, job: &Job, setup: &Setup, flank: &Flank, jaws: &Jaws) -> Option<Forbidden> {
        // So much of the jaw on the slope is too much.
        let too_much_mm = STRAIGHT_MM / flank.slope().abs().max(1e-12);
        let length_mm = flank.at.to_mm - flank.at.from_mm;
        if length_mm.min(2.0 * jaws.half_mm) <= too_much_mm {
            return None;
        }
        let at = flank.at.grown(jaws.half_mm - too_much_mm);
        if jaws.may_be_spotted
            && self.is_raw(&flank.at)
            && spot_diameter_mm(job, setup, &at.grown(jaws.half_mm), flank.least_mm()).is_some()
        {
            return None;
        }
        let change_mm = flank.slope().abs() * length_mm.min(2.0 * jaws.half_mm);
        Some(Forbidden { from_mm: at.from_mm, to_mm: at.to_mm, why: Why::Taper { change_mm } })
    }

    fn step(&self, job: &Job, setup: &Setup, pair: &[Flank], jaws: &Jaws) -> Option<Forbidden> {
        let change_mm = (pair[1].diameter_mm[0] - pair[0].diameter_mm[1]).abs();
        if change_mm <= STRAIGHT_MM {
            return None;
        }
        let (at_mm, beside_mm) = (pair[1].at.from_mm, jaws.beside_mm);
        let at = Stretch::new(at_mm, at_mm).grown(jaws.half_mm + beside_mm);
        let least_mm = pair[1].diameter_mm[0].min(pair[0].diameter_mm[1]);
        if jaws.may_be_spotted
            && self.is_raw(&at)
            && spot_diameter_mm(job, setup, &at.grown(jaws.half_mm), least_mm).is_some()
        {
            return None;
        }
        Some(Forbidden { from_mm: at.from_mm, to_mm: at.to_mm, why: Why::Step { at_mm, change_mm, beside_mm } })
    }
}

/// Where a feature lies in a set-up.
fn in_setup(job: &Job, setup: &Setup, feature: &Feature) -> Stretch {
    let ends = [feature.from_s_mm, feature.to_s_mm].map(|s_mm| setup.z_of_s_mm(&job.shaft, s_mm));
    Stretch::new(ends[0].min(ends[1]), ends[0].max(ends[1]))
}

/// The dial's profile with pieces that run on in one line joined.
fn flanks(pieces: &[Piece]) -> Vec<Flank> {
    let mut all: Vec<Flank> = Vec::new();
    for piece in pieces {
        let next = Flank { at: Stretch::new(piece.from_z_mm, piece.to_z_mm), diameter_mm: piece.dial_mm };
        match all.last_mut() {
            Some(last)
                if (next.diameter_mm[0] - last.diameter_mm[1]).abs() < 1e-6
                    && (next.slope() - last.slope()).abs() < 1e-7 =>
            {
                last.at.to_mm = next.at.to_mm;
                last.diameter_mm[1] = next.diameter_mm[1];
            }
            _ => all.push(next),
        }
    }
    all
}

/// What earlier set-ups turned and what the shaft states to be true, as it lies in this set-up.
fn true_spots(job: &Job, result: &JobResult, setup: &Setup) -> Vec<Stretch> {
    let here = |from_s_mm: f64, to_s_mm: f64| {
        let ends = [from_s_mm, to_s_mm].map(|s_mm| setup.z_of_s_mm(&job.shaft, s_mm));
        Stretch::new(ends[0].min(ends[1]), ends[0].max(ends[1]))
    };
    let stated = job.shaft.features.iter().filter(|feature| feature.kind == FeatureKind::TrueSpot);
    let mut all: Vec<Stretch> = stated.map(|spot| in_setup(job, setup, spot)).collect();
    let earlier = job.setups.iter().take_while(|other| other.id != setup.id);
    for other in earlier {
        for (pass, computed) in other.passes.iter().filter_map(|pass| Some((pass, result.pass(pass.id)?))) {
            for run in turned(pass, computed) {
                all.push(here(other.s_of_z_mm(&job.shaft, run.from_mm), other.s_of_z_mm(&job.shaft, run.to_mm)));
            }
        }
    }
    joined(all)
}

/// Where a pass along the outside took something off, between its stations.
fn turned(pass: &Pass, computed: &PassResult) -> Vec<Stretch> {
    let along = matches!(pass.kind, PassKind::Turn | PassKind::Spring);
    if !along || !matches!(computed.status, Status::Solved | Status::StoppedEarly) {
        return Vec::new();
    }
    let cut = |pair: &[Station]| pair.iter().all(|station| station.real_depth_mm > 0.0);
    let pairs = computed.stations.windows(2).filter(|pair| cut(pair));
    joined(pairs.map(|pair| Stretch::new(pair[0].z_mm, pair[1].z_mm)).collect())
}

/// The cylinder that can be turned there, where it is still as large as what is wanted.
fn spot_diameter_mm(job: &Job, setup: &Setup, at: &Stretch, least_mm: f64) -> Option<f64> {
    let spot_mm = least_mm - CLEAN_UP_MM - job.shaft.bow_tir_mm;
    let wanted_mm = largest_wanted_mm(job, setup, at);
    let s_mm = setup.s_of_z_mm(&job.shaft, f64::midpoint(at.from_mm, at.to_mm));
    (spot_mm >= wanted_mm && spot_mm > job.shaft.bore_diameter_mm(s_mm)).then_some(spot_mm)
}

/// Largest diameter the drawing wants in a stretch; 0 where it says nothing.
fn largest_wanted_mm(job: &Job, setup: &Setup, at: &Stretch) -> f64 {
    let ends = [at.from_mm, at.to_mm].map(|z_mm| setup.s_of_z_mm(&job.shaft, z_mm));
    let (low_mm, high_mm) = (ends[0].min(ends[1]), ends[0].max(ends[1]));
    let mut largest_mm = 0.0_f64;
    for (from_mm, to_mm, wanted) in job.shaft.wanted_spans() {
        let (from_here_mm, to_here_mm) = (low_mm.max(from_mm), high_mm.min(to_mm));
        if from_here_mm < to_here_mm {
            for s_mm in [from_here_mm, to_here_mm] {
                largest_mm = largest_mm.max(wanted.land.diameter_at_mm(s_mm - from_mm));
            }
        }
    }
    largest_mm
}

/// The part of a flank where `over` of the diameter is above nothing.
fn beyond(flank: &Flank, over: impl Fn(f64) -> f64) -> Option<Stretch> {
    let [first, last] = flank.diameter_mm.map(over);
    let share = (first / (first - last)).clamp(0.0, 1.0);
    let crossing_mm = flank.at.from_mm + share * (flank.at.to_mm - flank.at.from_mm);
    match (first > 0.0, last > 0.0) {
        (true, true) => Some(flank.at),
        (true, false) => Some(Stretch::new(flank.at.from_mm, crossing_mm)),
        (false, true) => Some(Stretch::new(crossing_mm, flank.at.to_mm)),
        (false, false) => None,
    }
}
