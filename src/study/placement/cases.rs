//! A few cases of the band: the same set-up with other forces and stiffnesses, each with a board of its own.

use super::FAST;
use super::board::{Board, Room};
use super::measure::Measure;
use super::trial::Trial;
use crate::study::band::Lattice;
use crate::study::band::members::Members;
use crate::study::sweep;

/// Seven cases, the middle one included: each uncertain figure takes seven values evenly over its spread.
const FEW: Lattice = Lattice { n_members: 7, generator: 3 };
/// Differences smaller than this share of the figure are none: nobody measures them.
pub const ALIKE_RATIO: f64 = 0.05;

/// The cases; the first is the job as it stands.
pub struct Cases {
    boards: Vec<(Board, Room)>,
}

impl Cases {
    /// Of a trial whose rests stand where the tables are to be most exact.
    pub fn new(trial: &Trial, places_mm: &[f64], measure: Measure) -> Self {
        let mut members = Members::new(&trial.job, FEW);
        let mut room = sweep::Room::default();
        let boards = (0..members.n_members()).filter_map(|member| {
            let factors = members.put(member);
            let trial = Trial { job: members.job().clone(), factors };
            let reference = trial.compute_setup(FAST, &mut room)?;
            Some((Board::new(&trial, &reference, places_mm, FAST, measure)?, Room::default()))
        });
        Self { boards: boards.collect() }
    }

    /// The figure of a placement in every case.
    pub fn values(&mut self, rests_at: &[usize]) -> Vec<f64> {
        self.boards.iter_mut().map(|(board, room)| board.value(room, rests_at, f64::INFINITY)).collect()
    }

    /// Whether a placement cannot be told from one with these values: in some case it is better, or its worst case is all
    /// but the same.
    pub fn as_good(&mut self, rests_at: &[usize], best: &[f64]) -> bool {
        let worst_of_best = largest(best);
        let mut worst: f64 = 0.0;
        let mut better = false;
        for ((board, room), best) in self.boards.iter_mut().zip(best) {
            // Far above the best in one case is not as good, whatever the others say.
            let limit = 2.0 * worst_of_best;
            let value = board.value(room, rests_at, limit);
            if value > limit {
                return false;
            }
            better |= value <= *best;
            worst = worst.max(value);
        }
        better || worst <= (1.0 + ALIKE_RATIO) * worst_of_best
    }
}

/// The largest; infinite where nothing holds.
pub fn largest(values: &[f64]) -> f64 {
    values.iter().copied().fold(0.0, f64::max)
}
