//! How good a draft is: first that all is cut, then that sizes are kept, then how little there is to set up.

use std::ops::Range;

use super::draft::{Draft, Hold};
use crate::job::{Job, Shaft};
use crate::study::coverage::{Cover, FREE_SIZE_MM, coverage};
use crate::study::machine::hardest_load;
use crate::study::results::{JobResult, Surface};

/// Kept well: so much of the way from the middle of the tolerance to its limit. No source.
const WELL_RATIO: f64 = 0.75;
/// Where no way keeps the sizes, one more set-up or turning must better them by so much. No source.
const DEAR_RATIO: f64 = 0.1;
/// Lengths shorter than this do not count as left.
const LENGTH_MM: f64 = 0.01;

/// What is compared.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Score {
    left_mm: f64,
    /// Threads and grooves not made.
    n_gaps: usize,
    /// Of half the tolerance, where it is worst.
    used_ratio: f64,
    /// Largest error from the middle of what is allowed, on diameter.
    pub worst_mm: f64,
    /// Farthest outside the drawing.
    pub outside_mm: f64,
    n_setups: usize,
    /// How often the shaft is turned end for end.
    n_turns: usize,
    /// Rests and followers to be set.
    n_set: usize,
    n_seams_on_fits: usize,
    between_centres: bool,
}

impl Score {
    /// All sizes stay within what the drawing allows.
    pub fn keeps_sizes(&self) -> bool {
        self.used_ratio <= 1.0
    }

    /// Well kept, kept, or not.
    fn class(&self) -> u8 {
        match self.used_ratio {
            ratio if ratio <= WELL_RATIO => 0,
            ratio if ratio <= 1.0 => 1,
            _ => 2,
        }
    }

    /// A draft of this score is to be preferred.
    pub fn is_better_than(&self, other: &Self) -> bool {
        let first = |score: &Self| ((score.left_mm / LENGTH_MM).round(), score.n_gaps, score.class());
        if first(self) != first(other) {
            return first(self) < first(other);
        }
        // Where no draft keeps the sizes, a set-up more must be worth its while.
        let dear = |score: &Self| {
            let n_handled = (score.n_setups + score.n_turns) as f64;
            if score.class() == 2 { score.used_ratio * (1.0 + DEAR_RATIO * n_handled) } else { 0.0 }
        };
        if dear(self) != dear(other) {
            return dear(self) < dear(other);
        }
        let handling = |score: &Self| score.n_setups + score.n_turns + score.n_set + score.n_seams_on_fits;
        let rest = |score: &Self| (handling(score), score.between_centres, score.used_ratio);
        rest(self) < rest(other)
    }
}

/// The score of a draft by what it comes to.
pub fn score(draft: &Draft, result: &JobResult) -> Score {
    let job = &draft.job;
    let coverage = coverage(job, result);
    let left_mm = [Cover::Uncut, Cover::Heavy, Cover::Undersize]
        .into_iter()
        .flat_map(|cover| coverage.of(cover))
        .filter(|stretch| stretch.by_mm > 0.0)
        .map(crate::study::coverage::Stretch::length_mm)
        .sum();
    let (used_ratio, worst_mm, outside_mm) = result
        .setups
        .last()
        .map_or((f64::INFINITY, 0.0, 0.0), |last| errors(&job.shaft, last.after(), &(0.0..job.shaft.length_mm())));
    let on_fits = coverage.seams.iter().filter(|seam| {
        let land = seam.land.and_then(|land| job.shaft.wanted.get(land));
        land.is_some_and(|land| land.tolerance.limits_mm(land.land.start_diameter_mm).is_some())
    });
    Score {
        left_mm,
        n_gaps: coverage.features.iter().map(|feature| feature.gaps.len()).sum(),
        used_ratio,
        worst_mm,
        outside_mm,
        n_setups: job.setups.len(),
        n_turns: job.setups.windows(2).filter(|pair| pair[0].end_for_end != pair[1].end_for_end).count(),
        n_set: draft.choice.support.n_set(),
        n_seams_on_fits: on_fits.count(),
        between_centres: draft.choice.hold == Hold::Centres,
    }
}

/// Worst share of half a tolerance, largest error from its middle, farthest outside: what is really there, the grooves
/// of the drawing left aside, within a stretch of the shaft.
pub fn errors(shaft: &Shaft, after: &Surface, within: &Range<f64>) -> (f64, f64, f64) {
    let (mut used_ratio, mut worst_mm, mut outside_mm) = (0.0_f64, 0.0_f64, 0.0_f64);
    for (from_s_mm, to_s_mm, wanted) in shaft.wanted_spans() {
        let larger_mm = wanted.land.start_diameter_mm.max(wanted.land.end_diameter_mm);
        let limits_mm = wanted.tolerance.limits_mm(larger_mm);
        for span in after.spans.iter().filter(|span| span.to_s_mm > from_s_mm && span.from_s_mm < to_s_mm) {
            let s_mm = f64::midpoint(span.from_s_mm.max(from_s_mm), span.to_s_mm.min(to_s_mm));
            let grooved = crate::study::plan::draft::is_grooved(shaft, s_mm);
            let stock_mm = shaft.stock_diameter_mm(s_mm).unwrap_or(0.0);
            let wanted_mm = wanted.land.diameter_at_mm(s_mm - from_s_mm);
            if grooved || wanted_mm > stock_mm - 1e-6 || !within.contains(&s_mm) {
                continue;
            }
            let share = (s_mm - span.from_s_mm) / (span.to_s_mm - span.from_s_mm).max(f64::MIN_POSITIVE);
            let there_mm = span.start_diameter_mm + (span.end_diameter_mm - span.start_diameter_mm) * share;
            let (lower_mm, upper_mm) = limits_mm.unwrap_or((-FREE_SIZE_MM, FREE_SIZE_MM));
            let off_mm = (there_mm - wanted_mm - f64::midpoint(lower_mm, upper_mm)).abs();
            let half_mm = ((upper_mm - lower_mm) / 2.0).max(1e-6);
            used_ratio = used_ratio.max(off_mm / half_mm);
            worst_mm = worst_mm.max(off_mm);
            outside_mm = outside_mm.max(off_mm - half_mm);
        }
    }
    (used_ratio, worst_mm, outside_mm)
}

/// What the hardest pass asks of the spindle's power, as a share of what it gives.
pub fn power_ratio(job: &Job, result: &JobResult) -> f64 {
    let passes = job.setups.iter().flat_map(|setup| setup.passes.iter().map(move |pass| (setup, pass)));
    passes
        .filter_map(|(setup, pass)| hardest_load(job, setup, pass, result.pass(pass.id)?))
        .map(|load| load.used_ratio())
        .fold(0.0, f64::max)
}
