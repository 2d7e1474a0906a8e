//! By what a placement of the rests is judged.

use super::table::{covers, cuts_outside, is_turned};
use crate::job::{Job, PassKind, Setup};
use crate::study::allowed::allowed_at;
use crate::study::results::{SetupResult, Station, Status};

/// A tolerance is at least so wide.
const LEAST_HALF_MM: f64 = 1e-6;

/// What is to be small; all are the largest along the work.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Measure {
    /// Error on diameter where a place is cut last: as a share of half the tolerance where the drawing states limits (only
    /// these places count then, as with the dial set to the middle of the tolerance), else in mm.
    Size,
    /// Movement of the work at the tool for each newton more of the cut, in the direction of its push (mm/N).
    Springiness,
    /// One over the depth on diameter from which chatter is to be expected (1/mm).
    Chatter,
}

/// How much the error counts at stops of a set-up's passes.
#[derive(Clone, Debug, Default)]
pub struct Weights {
    /// In the order of the stops; nothing where the stop does not count.
    pub weights: Vec<Option<f64>>,
    /// The drawing states limits somewhere: weighed errors are shares of half a tolerance, not mm.
    pub has_limits: bool,
}

impl Weights {
    /// Of stops given by the number of their pass in the set-up, their place and the size the dial stands at.
    #[must_use]
    pub fn of(job: &Job, setup: &Setup, stops: impl Iterator<Item = (usize, f64, f64)>) -> Self {
        // Halves of tolerances where a place is cut last and has one.
        let halves_mm: Vec<Option<Option<f64>>> = stops
            .map(|(pass, z_mm, dial_mm)| {
                let again = (setup.passes[pass + 1..].iter())
                    .any(|later| cuts_outside(setup, later) && later.kind != PassKind::Part && covers(later, z_mm));
                (!again).then(|| {
                    let station = Station { z_mm, wanted_diameter_mm: dial_mm, ..Station::default() };
                    let (lower_mm, upper_mm) = allowed_at(job, setup, &station)?.limits_mm?;
                    Some(((upper_mm - lower_mm) / 2.0).max(LEAST_HALF_MM))
                })
            })
            .collect();
        let has_limits = halves_mm.iter().flatten().any(Option::is_some);
        let weights = halves_mm
            .into_iter()
            .map(|half_mm| match half_mm? {
                Some(half_mm) => Some(1.0 / half_mm),
                None => (!has_limits).then_some(1.0),
            })
            .collect();
        Self { weights, has_limits }
    }
}

/// The place of a computed set-up where the size is worst.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct WorstSize {
    /// By [`Measure::Size`].
    pub value: f64,
    /// Number of the pass in the set-up, and of the station in it.
    pub pass: usize,
    pub station: usize,
    pub has_limits: bool,
}

impl WorstSize {
    /// `None` where nothing is turned; infinite where nothing holds the work or no answer was found.
    #[must_use]
    pub fn of(job: &Job, setup: &Setup, result: &SetupResult) -> Option<Self> {
        let turned: Vec<usize> = (0..setup.passes.len().min(result.passes.len()))
            .filter(|pass| is_turned(setup, &setup.passes[*pass]))
            .collect();
        let stations: Vec<(usize, usize)> = (turned.iter())
            .flat_map(|pass| (0..result.passes[*pass].stations.len()).map(move |station| (*pass, station)))
            .collect();
        let at = |(pass, station): (usize, usize)| &result.passes[pass].stations[station];
        let stops = stations.iter().map(|one| (one.0, at(*one).z_mm, at(*one).wanted_diameter_mm));
        let Weights { weights, has_limits } = Weights::of(job, setup, stops);
        let values = stations
            .iter()
            .zip(&weights)
            .filter_map(|(one, weight)| Some((*one, (*weight)? * at(*one).error_mm.abs())));
        let worst = values.max_by(|a, b| a.1.total_cmp(&b.1));
        let unsolved = |pass: &&usize| matches!(result.passes[**pass].status, Status::NotHeld | Status::StoppedEarly);
        if let Some(pass) = turned.iter().find(unsolved) {
            return Some(Self { value: f64::INFINITY, pass: *pass, station: 0, has_limits });
        }
        worst.map(|((pass, station), value)| Self { value, pass, station, has_limits })
    }
}
