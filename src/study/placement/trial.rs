//! A job with other rests, follower or tailstock than it has: what a search tries.

use crate::job::{Follower, Job, Rest, RestId, Setup, SetupId, TailEnd, TailKind};
use crate::study::compute_varied;
use crate::study::force::Factors;
use crate::study::layout::Fineness;
use crate::study::results::{JobResult, SetupResult};
use crate::study::sweep::Room;

/// A job whose last set-up is the one asked about.
#[derive(Clone, Debug)]
pub struct Trial {
    pub job: Job,
    pub factors: Factors,
}

impl Trial {
    /// The job up to this set-up, with so many rests there, from the headstock on: those it has, then more like the last
    /// of them; with or without follower and tailstock. `None` where the set-up is not there.
    #[must_use]
    pub fn new(job: &Job, setup: SetupId, n_rests: usize, follower: bool, tailstock: bool) -> Option<Self> {
        let mut trial = Self::as_it_is(job, setup)?;
        let setup = trial.job.setups.last_mut()?;
        let last = setup.rests.last().cloned();
        let another = |_| last.clone().unwrap_or_else(|| Rest::three_jaw(RestId(0), 0.0));
        let n_missing = n_rests.saturating_sub(setup.rests.len());
        setup.rests.extend((0..n_missing).map(another));
        setup.rests.truncate(n_rests);
        match (&setup.follower, follower) {
            (None, true) => setup.follower = Some(Follower::usual()),
            (Some(_), false) => setup.follower = None,
            _ => {}
        }
        let tail = &setup.tail;
        match (tail.kind == TailKind::Free, tailstock) {
            (true, true) => setup.tail = TailEnd::live().standing_like(tail),
            (false, false) => setup.tail = TailEnd::free().standing_like(tail),
            _ => {}
        }
        Some(trial)
    }

    /// The job up to this set-up with what it has, rests in their order from the headstock on.
    #[must_use]
    pub fn as_it_is(job: &Job, setup: SetupId) -> Option<Self> {
        let index = job.setup_index(setup)?;
        let mut job = job.clone();
        job.setups.truncate(index + 1);
        job.setups[index].rests.sort_by(|a, b| a.z_mm.total_cmp(&b.z_mm));
        Some(Self { job, factors: Factors::ONE })
    }

    /// The set-up asked about.
    ///
    /// # Panics
    /// Never: a trial has it.
    #[must_use]
    pub fn setup(&self) -> &Setup {
        self.job.setups.last().expect("a trial ends with its set-up")
    }

    /// Leaves out the rests that are not to be kept.
    pub fn keep_rests(&mut self, keep: impl FnMut(&Rest) -> bool) {
        if let Some(setup) = self.job.setups.last_mut() {
            setup.rests.retain(keep);
        }
    }

    /// Puts the rests to these places, in their order.
    pub fn put(&mut self, places_mm: &[f64]) {
        let rests = self.job.setups.last_mut().into_iter().flat_map(|setup| &mut setup.rests);
        rests.zip(places_mm).for_each(|(rest, z_mm)| rest.z_mm = *z_mm);
    }

    /// Where the rests stand, in their order.
    #[must_use]
    pub fn places_mm(&self) -> Vec<f64> {
        self.setup().rests.iter().map(|rest| rest.z_mm).collect()
    }

    /// Sweeps the job as it is now.
    #[must_use]
    pub fn compute(&self, fineness: Fineness, room: &mut Room) -> JobResult {
        compute_varied(&self.job, fineness, self.factors, room)
    }

    /// The set-up asked about, swept.
    pub fn compute_setup(&self, fineness: Fineness, room: &mut Room) -> Option<SetupResult> {
        self.compute(fineness, room).setups.pop()
    }
}
