//! How far every curve may be off, because force and stiffness are not known better: the band round it.
//!
//! The job is computed again and again on a coarse mesh with other forces and other stiffnesses (`members`), each
//! member whole, so that what one pass leaves is what the next one finds. At every station the lowest and the highest
//! twentieth of what comes out is left off (`reach`); what remains, as a *difference to the coarse figures as they
//! stand*, is put round the fine curve. The curve itself always counts as one of the cases.
//! Limits: it is the spread of these causes only, not of gaps, offsets, run-out or a worn machine; nine cases of ten
//! hold for each place by itself, not for the curve as a whole; nothing proves the stated spreads. Members in which
//! nothing holds the work have no figures: they are counted, and the band is of the others.

mod depths;
mod gathered;
mod lattice;
pub(super) mod members;
mod reach;
mod shape;

use std::sync::Arc;

use super::force::Factors;
use super::layout::Fineness;
use super::results::{JobResult, PassResult, Station, Status, Support};
use super::{compute_varied, sweep};
use crate::job::{Job, PassId};
pub use depths::{DepthBand, depth_band};
use gathered::{Gathered, Reaches};
pub use lattice::Lattice;
use members::Members;
use reach::{Plane, Scratch};
pub use shape::{ShapeBand, shape_band};

/// What is left off at either end of what the members give.
pub const LEFT_OFF_RATIO: f64 = 0.05;

/// How many members, on how coarse a mesh, and which curves are read off them.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Sample {
    pub lattice: Lattice,
    pub fineness: Fineness,
    pub curves: &'static [Curve],
}

impl Sample {
    /// What the screen uses.
    pub const USUAL: Self = Self {
        lattice: Lattice { n_members: 31, generator: 12 },
        fineness: Fineness { spacing_mm: 100.0, fewest_stations: 12.0, parts_outside: 12.0, turns: false },
        curves: &[Curve::Error, Curve::SpringX, Curve::SpringY],
    };

    /// The same with a turn of the work worked out at every station, for the curves of what turns with it. Dearer.
    pub const TURNING: Self = Self {
        fineness: Fineness { turns: true, ..Self::USUAL.fineness },
        curves: &[Curve::RunOut, Curve::LetGo],
        ..Self::USUAL
    };
}

/// One of the curves that have a band.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Curve {
    /// Error on diameter.
    Error,
    SpringX,
    SpringY,
    /// Run-out of the fresh surface as the work is held.
    RunOut,
    /// The same once the work is let go.
    LetGo,
}

impl Curve {
    fn read_mm(self, station: &Station) -> f64 {
        match self {
            Self::Error => station.error_mm,
            Self::SpringX => station.spring_x_mm,
            Self::SpringY => station.spring_y_mm,
            Self::RunOut => station.turned.left_mm,
            Self::LetGo => station.turned.free_mm,
        }
    }

    /// The least this can be.
    fn least_mm(self) -> f64 {
        if matches!(self, Self::RunOut | Self::LetGo) { 0.0 } else { f64::NEG_INFINITY }
    }
}

/// The largest force a support feels in a pass, lowest and highest.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct LoadBand {
    /// Chuck and centre by their x column, both directions in one.
    pub support: Support,
    pub largest_n: [f64; 2],
}

/// The band of one pass.
#[derive(Clone, Debug, PartialEq)]
pub struct PassBand {
    pub pass: PassId,
    /// Coarse stations, rising; two at a shoulder.
    pub z_mm: Vec<f64>,
    /// How far below and above each of the curves its band reaches at these stations: 0 or less, 0 or more.
    reaches: Reaches,
    /// In the order of the supports, without the y columns of chuck and centre.
    pub loads: Vec<LoadBand>,
    /// Members that were computed.
    pub n_members: usize,
    /// Those of them that have no figures for this pass, because nothing holds the work or no answer was found.
    pub n_lost: usize,
}

/// The bands of a job.
#[derive(Clone, Debug, PartialEq, Default)]
pub struct JobBands {
    /// Of every pass that has figures, in the order of work.
    pub passes: Vec<PassBand>,
    /// The members, coarse, the job as it stands first; kept for [`shape_band`].
    cases: Vec<JobResult>,
    fineness: Option<Fineness>,
}

impl JobBands {
    /// The band of one pass.
    #[must_use]
    pub fn pass(&self, id: PassId) -> Option<&PassBand> {
        self.passes.iter().find(|band| band.pass == id)
    }
}

/// The bands of a computed job; `None` where `keep_going` said no.
#[must_use]
pub fn bands(job: &Job, result: &JobResult, keep_going: &dyn Fn() -> bool) -> Option<JobBands> {
    bands_of(job, result, &Sample::USUAL, keep_going)
}

/// The bands of what turns with the work, by itself: run-out as held and let go. `None` where `keep_going` said no.
#[must_use]
pub fn turning_bands(job: &Job, keep_going: &dyn Fn() -> bool) -> Option<JobBands> {
    let coarse = compute_varied(job, Sample::TURNING.fineness, Factors::ONE, &mut sweep::Room::default());
    bands_of(job, &coarse, &Sample::TURNING, keep_going)
}

/// As [`bands`], with a sample of one's own.
#[must_use]
pub fn bands_of(job: &Job, result: &JobResult, sample: &Sample, keep_going: &dyn Fn() -> bool) -> Option<JobBands> {
    Some(Cases::of(job, sample, keep_going)?.around(result))
}

/// All members of a job, computed: what its bands are made of but for the fine curves they go round.
pub(super) struct Cases {
    gathered: Vec<Gathered>,
    plane: Plane,
    cases: Vec<JobResult>,
    fineness: Fineness,
}

impl Cases {
    /// `None` where `keep_going` said no.
    pub fn of(job: &Job, sample: &Sample, keep_going: &dyn Fn() -> bool) -> Option<Self> {
        let mut members = Members::new(job, sample.lattice);
        let mut room = sweep::Room::default();
        let mut gathered: Vec<Gathered> = Vec::new();
        let mut cases = Vec::with_capacity(members.n_members());
        // The first member is the job as it stands.
        for member in 0..members.n_members() {
            if !keep_going() {
                return None;
            }
            let factors = members.put(member);
            let coarse = compute_varied(members.job(), sample.fineness, factors, &mut room);
            let passes = coarse.setups.iter().flat_map(|setup| &setup.passes);
            if member == 0 {
                gathered = passes.map(|pass| Gathered::new(pass, members.n_members(), sample.curves)).collect();
            } else {
                let mut held = true;
                for (gathered, pass) in gathered.iter_mut().zip(passes) {
                    // What follows on a pass that failed starts from another shape of the work.
                    held &= matches!(pass.status, Status::Solved | Status::NothingToCut);
                    gathered.add(held.then_some(pass));
                }
            }
            cases.push(coarse);
        }
        Some(Self { gathered, plane: members.plane(), cases, fineness: sample.fineness })
    }

    /// The bands round the finely computed curves of the same job.
    pub fn around(self, result: &JobResult) -> JobBands {
        let mut scratch = Scratch::default();
        let fine = result.setups.iter().flat_map(|setup| &setup.passes);
        let plane = Arc::new(self.plane);
        let passes = self.gathered.into_iter().zip(fine);
        JobBands {
            passes: passes.filter_map(|(all, fine)| all.band(fine, &plane, &mut scratch)).collect(),
            cases: self.cases,
            fineness: Some(self.fineness),
        }
    }
}

impl PassBand {
    /// Lowest and highest of a curve at every station of the pass this band belongs to; the curve itself where it is none
    /// of those the band is of.
    #[must_use]
    pub fn edges_mm(&self, curve: Curve, result: &PassResult) -> Vec<[f64; 2]> {
        let offs_mm = self.reaches.of_curve_mm(curve);
        let stations = &result.stations;
        let mut next = 0;
        (stations.iter().enumerate())
            .map(|(index, station)| {
                // Of two stations at a shoulder the second is the one on the tailstock side.
                let second = index > 0 && same_place(stations[index - 1].z_mm, station.z_mm);
                let [below_mm, above_mm] = off_at(&self.z_mm, offs_mm, station.z_mm, second, &mut next);
                let curve_mm = curve.read_mm(station);
                [(curve_mm + below_mm).max(curve.least_mm()), curve_mm + above_mm]
            })
            .collect()
    }

    /// Whether the band has any width at all.
    #[must_use]
    pub fn is_wide(&self) -> bool {
        self.reaches.all_mm().flatten().any(|[below_mm, above_mm]| above_mm - below_mm > 0.0)
    }

    /// The band of a support's largest force.
    #[must_use]
    pub fn load(&self, support: Support) -> Option<[f64; 2]> {
        self.loads.iter().find(|load| load.support == support).map(|load| load.largest_n)
    }
}

/// How far a band reaches at a place, straight between the coarse places it is known at; `next` is where the search goes
/// on, for places that rise.
fn off_at(places_mm: &[f64], offs: &[[f64; 2]], z_mm: f64, second: bool, next: &mut usize) -> [f64; 2] {
    while *next + 1 < places_mm.len() && places_mm[*next] < z_mm && !same_place(places_mm[*next], z_mm) {
        *next += 1;
    }
    if second && places_mm.get(*next + 1).is_some_and(|after_mm| same_place(*after_mm, z_mm)) {
        *next += 1;
    }
    let Some(&after) = offs.get(*next) else { return [0.0; 2] };
    let after_mm = places_mm[*next];
    if same_place(after_mm, z_mm) || *next == 0 {
        return after;
    }
    let (before, before_mm) = (offs[*next - 1], places_mm[*next - 1]);
    let share = ((z_mm - before_mm) / (after_mm - before_mm)).clamp(0.0, 1.0);
    [0, 1].map(|edge| before[edge] + (after[edge] - before[edge]) * share)
}

fn same_place(a_mm: f64, b_mm: f64) -> bool {
    (a_mm - b_mm).abs() < 2.0 * super::outline::SAME_PLACE_MM
}
