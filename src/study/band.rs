//! How far every curve may be off, because force and stiffness are not known better: the band round it.
//!
//! The job is computed again and again on a coarse mesh with other forces and other stiffnesses (`members`), each
//! member whole, so that what one pass leaves is what the next one finds. At every station the lowest and the highest
//! twentieth of what comes out is left off (`reach`); what remains, as a *difference to the coarse figures as they
//! stand*, is put round the fine curve. The curve itself always counts as one of the cases.
//! Limits: it is the spread of these causes only, not of gaps, offsets, run-out or a worn machine; nine cases of ten
//! hold for each place by itself, not for the curve as a whole; nothing proves the stated spreads. Members in which
//! nothing holds the work have no figures: they are counted, and the band is of the others.

mod gathered;
mod lattice;
pub(super) mod members;
mod reach;

use super::layout::Fineness;
use super::results::{JobResult, PassResult, Station, Status, Support};
use super::{compute_varied, sweep};
use crate::job::{Job, PassId};
use gathered::Gathered;
pub use lattice::Lattice;
use members::Members;
use reach::{Plane, Scratch};

/// What is left off at either end of what the members give.
pub const LEFT_OFF_RATIO: f64 = 0.05;

/// How many members, and on how coarse a mesh.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Sample {
    pub lattice: Lattice,
    pub fineness: Fineness,
}

impl Sample {
    /// What the screen uses.
    pub const USUAL: Self = Self {
        lattice: Lattice { n_members: 31, generator: 12 },
        fineness: Fineness { spacing_mm: 100.0, fewest_stations: 12.0, parts_outside: 12.0, turns: false },
    };
}

/// One of the curves that have a band.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Curve {
    /// Error on diameter.
    Error,
    SpringX,
    SpringY,
}

impl Curve {
    const ALL: [Self; 3] = [Self::Error, Self::SpringX, Self::SpringY];

    fn read_mm(self, station: &Station) -> f64 {
        match self {
            Self::Error => station.error_mm,
            Self::SpringX => station.spring_x_mm,
            Self::SpringY => station.spring_y_mm,
        }
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
    /// How far below and above the curve its band reaches at these stations: 0 or less, 0 or more. By [`Curve`].
    offs_mm: [Vec<[f64; 2]>; 3],
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

/// As [`bands`], with a sample of one's own.
#[must_use]
pub fn bands_of(job: &Job, result: &JobResult, sample: &Sample, keep_going: &dyn Fn() -> bool) -> Option<JobBands> {
    let mut members = Members::new(job, sample.lattice);
    let mut room = sweep::Room::default();
    let mut gathered: Vec<Gathered> = Vec::new();
    // The first member is the job as it stands.
    for member in 0..members.n_members() {
        if !keep_going() {
            return None;
        }
        let factors = members.put(member);
        let coarse = compute_varied(members.job(), sample.fineness, factors, &mut room);
        let passes = coarse.setups.iter().flat_map(|setup| &setup.passes);
        if member == 0 {
            gathered = passes.map(|pass| Gathered::new(pass, members.n_members())).collect();
            continue;
        }
        let mut held = true;
        for (gathered, pass) in gathered.iter_mut().zip(passes) {
            // What follows on a pass that failed starts from another shape of the work.
            held &= matches!(pass.status, Status::Solved | Status::NothingToCut);
            gathered.add(held.then_some(pass));
        }
    }
    let n_figures = members.n_figures();
    let places = (0..members.n_members()).flat_map(|member| members.places(member)).collect::<Vec<f64>>();
    let (plane, mut scratch) = (Plane::new(&places, n_figures), Scratch::default());
    let fine = result.setups.iter().flat_map(|setup| &setup.passes);
    Some(JobBands {
        passes: gathered.iter().zip(fine).filter_map(|(all, fine)| all.band(fine, &plane, &mut scratch)).collect(),
    })
}

impl PassBand {
    /// Lowest and highest of a curve at every station of the pass this band belongs to.
    #[must_use]
    pub fn edges_mm(&self, curve: Curve, result: &PassResult) -> Vec<[f64; 2]> {
        let offs_mm = &self.offs_mm[curve as usize];
        let stations = &result.stations;
        let mut next = 0;
        (stations.iter().enumerate())
            .map(|(index, station)| {
                // Of two stations at a shoulder the second is the one on the tailstock side.
                let second = index > 0 && same_place(stations[index - 1].z_mm, station.z_mm);
                let [below_mm, above_mm] = self.off_at_mm(offs_mm, station.z_mm, second, &mut next);
                let curve_mm = curve.read_mm(station);
                [curve_mm + below_mm, curve_mm + above_mm]
            })
            .collect()
    }

    /// Whether the band has any width at all.
    #[must_use]
    pub fn is_wide(&self) -> bool {
        self.offs_mm.iter().flatten().any(|[below_mm, above_mm]| above_mm - below_mm > 0.0)
    }

    /// The band of a support's largest force.
    #[must_use]
    pub fn load(&self, support: Support) -> Option<[f64; 2]> {
        self.loads.iter().find(|load| load.support == support).map(|load| load.largest_n)
    }

    /// Straight between coarse stations; `next` is where the search goes on, for places that rise.
    fn off_at_mm(&self, offs_mm: &[[f64; 2]], z_mm: f64, second: bool, next: &mut usize) -> [f64; 2] {
        while *next + 1 < self.z_mm.len() && self.z_mm[*next] < z_mm && !same_place(self.z_mm[*next], z_mm) {
            *next += 1;
        }
        if second && self.z_mm.get(*next + 1).is_some_and(|after_mm| same_place(*after_mm, z_mm)) {
            *next += 1;
        }
        let Some(&after) = offs_mm.get(*next) else { return [0.0; 2] };
        let after_mm = self.z_mm[*next];
        if same_place(after_mm, z_mm) || *next == 0 {
            return after;
        }
        let (before, before_mm) = (offs_mm[*next - 1], self.z_mm[*next - 1]);
        let share = ((z_mm - before_mm) / (after_mm - before_mm)).clamp(0.0, 1.0);
        [0, 1].map(|edge| before[edge] + (after[edge] - before[edge]) * share)
    }
}

fn same_place(a_mm: f64, b_mm: f64) -> bool {
    (a_mm - b_mm).abs() < 2.0 * super::outline::SAME_PLACE_MM
}
