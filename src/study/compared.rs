//! An arrangement (set-ups, rests and passes) of a job worked out for comparison with others: its curves with their
//! bands, and the figures by which set-ups are told apart.

use super::band::Curve;
use super::placement::{Measure, WorstSize, value_now};
use super::{JobResult, Support, compute_with_bands};
use crate::job::{Job, PassId, Setup, SetupId};

/// A job as it would be in one arrangement, worked out.
#[derive(Clone, Debug, PartialEq)]
pub struct Compared {
    pub job: Job,
    /// With bands.
    pub result: JobResult,
    /// In the order of the job's set-ups.
    pub figures: Vec<SetupFigures>,
}

/// What one set-up comes to.
#[derive(Clone, Copy, Debug, PartialEq, Default)]
pub struct SetupFigures {
    /// By [`Measure::Size`]; nothing where nothing is turned.
    pub size: Option<Size>,
    /// By [`Measure::Springiness`].
    pub spring_mm_per_n: Option<f64>,
    /// By [`Measure::Chatter`].
    pub chatter_per_mm: Option<f64>,
    /// The jaw that is pressed most in any pass.
    pub jaw: Option<JawLoad>,
}

/// The largest size error where places are cut last.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Size {
    pub value: f64,
    /// Between what it may lie; as `value`, without sign.
    pub between: Option<[f64; 2]>,
    /// It is a share of half the tolerance, not mm.
    pub has_limits: bool,
    pub z_mm: f64,
}

/// A jaw and the most it feels.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct JawLoad {
    pub support: Support,
    pub force_n: f64,
    pub between_n: Option<[f64; 2]>,
}

/// Works a job out; nothing where it was told to give up.
#[must_use]
pub fn compared(job: &Job, keep_going: &dyn Fn() -> bool) -> Option<Compared> {
    let result = compute_with_bands(job);
    let mut figures = Vec::with_capacity(job.setups.len());
    for setup in &job.setups {
        if !keep_going() {
            return None;
        }
        let value = |measure| value_now(job, setup.id, measure, &|_| keep_going()).map(|(value, _)| value);
        figures.push(SetupFigures {
            size: size(job, setup, &result),
            spring_mm_per_n: value(Measure::Springiness),
            chatter_per_mm: value(Measure::Chatter),
            jaw: jaw(&result, setup.id),
        });
    }
    keep_going().then(|| Compared { job: job.clone(), result, figures })
}

impl Compared {
    /// The set-up and pass of this arrangement that are looked at where in `other` these are: those of the same number,
    /// else those in the same place of the order.
    #[must_use]
    pub fn like(&self, other: &Job, setup: SetupId, pass: Option<PassId>) -> Option<(&Setup, Option<PassId>)> {
        let of = other.setup(setup);
        let own = self.job.setup(setup).or_else(|| self.job.setups.get(other.setup_index(setup)?))?;
        let like = |pass: PassId| {
            let place = of.and_then(|of| of.passes.iter().position(|one| one.id == pass));
            own.pass(pass).or_else(|| own.passes.get(place?)).map(|pass| pass.id)
        };
        Some((own, pass.and_then(like)))
    }

    /// What a set-up comes to.
    #[must_use]
    pub fn of(&self, setup: SetupId) -> Option<&SetupFigures> {
        self.figures.get(self.job.setup_index(setup)?)
    }
}

fn size(job: &Job, setup: &Setup, result: &JobResult) -> Option<Size> {
    let computed = result.setup(setup.id)?;
    let WorstSize { value, pass, station, has_limits } = WorstSize::of(job, setup, computed)?;
    let of_pass = computed.passes.get(pass)?;
    let Some(at) = of_pass.stations.get(station).filter(|_| value.is_finite()) else {
        return Some(Size { value, between: None, has_limits, z_mm: 0.0 });
    };
    let band = result.band(of_pass.pass).filter(|band| band.is_wide());
    let between = band.and_then(|band| band.edges_mm(Curve::Error, of_pass).get(station).copied()).map(|edges_mm| {
        let weight = if at.error_mm == 0.0 { 0.0 } else { value / at.error_mm.abs() };
        let most_mm = edges_mm[0].abs().max(edges_mm[1].abs());
        let least_mm = if edges_mm[0] * edges_mm[1] <= 0.0 { 0.0 } else { edges_mm[0].abs().min(edges_mm[1].abs()) };
        [weight * least_mm, weight * most_mm]
    });
    Some(Size { value, between, has_limits, z_mm: at.z_mm })
}

fn jaw(result: &JobResult, setup: SetupId) -> Option<JawLoad> {
    let loads = result.setup(setup)?.passes.iter().flat_map(|pass| {
        let jaws = pass.supports.iter().filter(|one| matches!(one, Support::Jaw { .. } | Support::FollowerJaw { .. }));
        jaws.filter_map(move |support| {
            let band = result.band(pass.pass).filter(|band| band.is_wide());
            let (support, force_n) = (*support, pass.largest_n(*support)?);
            Some(JawLoad { support, force_n, between_n: band.and_then(|band| band.load(support)) })
        })
    });
    loads.max_by(|a, b| a.force_n.total_cmp(&b.force_n))
}
