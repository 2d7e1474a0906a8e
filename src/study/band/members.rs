//! The cases a band is made of: which figures of a job are uncertain, and what they are in each case.
//!
//! A figure lies anywhere within its spread, a force evenly, a stiffness evenly on the scale of its logarithm. What the
//! user stated himself, what is rigid and a push he typed are known. Main force and thrust vary each for itself. One
//! factor serves all jaws of a rest, and one the grip of a chuck both ways.

use super::lattice::Lattice;
use super::reach::Plane;
use crate::job::{Force, Job, Spread, Stiffness, TailKind};
use crate::study::force::Factors;

/// One cause of uncertainty.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Cause {
    /// Push away and feed force.
    Thrust,
    MainForce,
    Carriage,
    Tailstock,
    Headstock,
    /// Radial and turning, by set-up.
    Grip(usize),
    /// By set-up.
    Follower(usize),
    /// By set-up, by rest.
    Steady(usize, usize),
}

/// A cause that is at work in a job.
struct Figure {
    cause: Cause,
    /// The stiffnesses it is about, as they stand.
    as_they_stand: Vec<Stiffness>,
}

/// The job, changed into one member after another.
pub struct Members {
    job: Job,
    lattice: Lattice,
    figures: Vec<Figure>,
}

impl Members {
    /// The members of a job.
    pub fn new(job: &Job, lattice: Lattice) -> Self {
        let mut job = job.clone();
        // Those of a set-up come after those before it: a set-up added behind leaves their places as they are.
        let mut causes = vec![Cause::Thrust, Cause::MainForce, Cause::Carriage, Cause::Tailstock, Cause::Headstock];
        for (index, setup) in job.setups.iter().enumerate() {
            causes.extend([Cause::Grip(index), Cause::Follower(index)]);
            causes.extend((0..setup.rests.len()).map(|rest| Cause::Steady(index, rest)));
        }
        let figures = (causes.into_iter())
            .filter_map(|cause| {
                let mut as_they_stand = Vec::new();
                each_stiffness(&mut job, cause, &mut |stiffness| as_they_stand.push(*stiffness));
                is_at_work(&job, cause, &as_they_stand).then_some(Figure { cause, as_they_stand })
            })
            .collect();
        Self { job, lattice, figures }
    }

    /// How many there are: one where nothing is uncertain.
    pub fn n_members(&self) -> usize {
        if self.figures.is_empty() { 1 } else { self.lattice.n_members as usize }
    }

    /// The plane to be laid through what the members give.
    pub fn plane(&self) -> Plane {
        let places: Vec<f64> = (0..self.n_members()).flat_map(|member| self.places(member)).collect();
        Plane::new(&places, self.figures.len())
    }

    /// Where every cause at work stands within its spread in a member, from -1 to 1.
    fn places(&self, member: usize) -> impl Iterator<Item = f64> + '_ {
        (0..self.figures.len()).map(move |figure| self.lattice.place(member, figure))
    }

    /// The job as it is in the member last put.
    pub fn job(&self) -> &Job {
        &self.job
    }

    /// Makes the job what it is in a member; gives the factors on the force of the chip.
    pub fn put(&mut self, member: usize) -> Factors {
        let Spread { main_ratio, radial_ratio, stiffness_factor, .. } = self.job.spread;
        let mut factors = Factors::ONE;
        for (number, figure) in self.figures.iter().enumerate() {
            let place = self.lattice.place(member, number);
            match figure.cause {
                Cause::Thrust => factors.radial_ratio += radial_ratio * place,
                Cause::MainForce => factors.main_ratio += main_ratio * place,
                cause => {
                    let factor = stiffness_factor.powf(place);
                    let mut as_they_stand = figure.as_they_stand.iter();
                    each_stiffness(&mut self.job, cause, &mut |stiffness| {
                        if let Some(stands) = as_they_stand.next() {
                            *stiffness = times(*stands, factor);
                        }
                    });
                }
            }
        }
        factors
    }
}

/// Visits the stiffnesses a cause is about, always in the same order.
fn each_stiffness(job: &mut Job, cause: Cause, visit: &mut dyn FnMut(&mut Stiffness)) {
    match cause {
        Cause::Thrust | Cause::MainForce => {}
        Cause::Carriage => visit(&mut job.lathe.carriage_k_n_per_mm),
        Cause::Tailstock => visit(&mut job.lathe.tailstock_k_n_per_mm),
        Cause::Headstock => visit(&mut job.lathe.headstock_k_n_per_mm),
        Cause::Grip(setup) => {
            let drive = &mut job.setups[setup].drive;
            visit(&mut drive.radial_k_n_per_mm);
            visit(&mut drive.rotation_k_nmm_per_rad);
        }
        Cause::Follower(setup) => {
            let follower = &mut job.setups[setup].follower;
            follower.iter_mut().flat_map(|follower| &mut follower.jaws).for_each(|jaw| visit(&mut jaw.k_n_per_mm));
        }
        Cause::Steady(setup, rest) => {
            job.setups[setup].rests[rest].jaws.iter_mut().for_each(|jaw| visit(&mut jaw.k_n_per_mm));
        }
    }
}

/// Whether a cause makes any difference in this job.
fn is_at_work(job: &Job, cause: Cause, stiffnesses: &[Stiffness]) -> bool {
    let from_cut = || job.setups.iter().flat_map(|setup| &setup.passes).any(|pass| pass.force == Force::FromCut);
    let tailstock_is_used = || job.setups.iter().any(|setup| setup.tail.kind != TailKind::Free);
    match cause {
        Cause::Thrust => job.spread.radial_ratio > 0.0 && from_cut(),
        Cause::MainForce => job.spread.main_ratio > 0.0 && from_cut(),
        Cause::Tailstock if !tailstock_is_used() => false,
        _ => job.spread.stiffness_factor > 1.0 && stiffnesses.iter().copied().any(is_assumed),
    }
}

fn is_assumed(stiffness: Stiffness) -> bool {
    matches!(stiffness, Stiffness::Spring(stated) if stated.assumed)
}

/// A stiffness nobody stated, so many times larger.
fn times(stiffness: Stiffness, factor: f64) -> Stiffness {
    match stiffness {
        Stiffness::Spring(mut stated) if stated.assumed => {
            stated.value *= factor;
            Stiffness::Spring(stated)
        }
        known => known,
    }
}
