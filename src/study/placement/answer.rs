//! The best few places of so many rests, as they are told: figures of the real sweep, how far they may be off, and how far
//! each rest may be moved before it is worse.

use super::board::{Board, Room};
use super::cases::{Cases, largest};
use super::chatter;
use super::depth::{Deepest, deepest};
use super::measure::{Measure, WorstSize};
use super::search::{Grid, Judge, Searched, Tried, polish, search};
use super::trial::Trial;
use super::{FAST, Stretch};
use crate::job::{Edit, Job, Rest, Setup, SetupId, TailKind};
use crate::study::holding::bending_span_mm;
use crate::study::layout::Fineness;
use crate::study::reach::{least_apart_mm, reach_on};
use crate::study::results::{PassResult, Support};
use crate::study::sweep;

/// Most placements told.
pub const MOST_TOLD: usize = 4;
/// Placements in which no rest stands further off than this share of the work are one.
const APART_RATIO: f64 = 0.06;
/// How far a rest may be moved is looked at in so many strides along its bands, the last one halved.
const STRIDES_ALONG: usize = 50;
/// An alternative so many times worse than the best is none.
pub const WORTH_TELLING: f64 = 3.0;
/// The mesh of the screen, without turns.
pub const FINE: Fineness = Fineness { turns: false, ..Fineness::USUAL };

/// What is asked.
#[derive(Clone, Debug, PartialEq)]
pub struct Ask {
    pub setup: SetupId,
    pub measure: Measure,
    pub follower: bool,
    pub tailstock: bool,
    /// Between two places that are tried.
    pub step_mm: f64,
    /// Between two rests.
    pub least_apart_mm: f64,
    /// Where each rest may stand, from the headstock on; the last one goes for all further rests.
    pub allowed: Vec<Vec<Stretch>>,
}

/// One placement.
#[derive(Clone, Debug, PartialEq)]
pub struct Placing {
    /// From the headstock on.
    pub places_mm: Vec<f64>,
    /// By the measure, by the real sweep with the figures as they stand.
    pub value: f64,
    /// Between what it lies in the cases of the band.
    pub between: [f64; 2],
    /// Error on diameter where the size is worst, and where that is.
    pub worst_error: Option<(f64, f64)>,
    /// Where a rest is never reached by the work in the pass where the size is worst: how far its jaws are set clear.
    pub never_reached_mm: Option<f64>,
    /// Where each rest may stand, the others as they are, without being worse as far as the figures can tell.
    pub as_good: Vec<Stretch>,
}

impl Placing {
    /// The one change that sets the set-up up like this, with or without follower and tailstock: its rests are moved in their order from the
    /// headstock, more like the last are added, or the last are taken away. `None` where the set-up is not there.
    #[must_use]
    pub fn edit(&self, job: &Job, setup: SetupId, follower: bool, tailstock: bool) -> Option<Edit> {
        let held = job.setup(setup)?;
        let mut trial = Trial::new(job, setup, self.places_mm.len(), follower, tailstock)?;
        trial.put(&self.places_mm);
        let Setup { tail, follower, rests, .. } = trial.setup().clone();
        let mut edits = Vec::new();
        if tail != held.tail {
            edits.push(Edit::SetTail { setup, tail });
        }
        if follower != held.follower {
            edits.push(Edit::SetFollower { setup, follower });
        }
        let surplus = held.rests.iter().filter(|rest| !rests.iter().any(|kept| kept.id == rest.id));
        edits.extend(surplus.map(|rest| Edit::RemoveRest { setup, rest: rest.id }));
        for (number, rest) in rests.into_iter().enumerate() {
            if number >= held.rests.len() {
                edits.push(Edit::AddRest { setup, rest });
            } else if held.rest(rest.id) != Some(&rest) {
                edits.push(Edit::SetRest { setup, rest });
            }
        }
        Some(Edit::Together(edits))
    }
}

/// The best placements of so many rests.
#[derive(Clone, Debug, PartialEq)]
pub struct Answer {
    pub n_rests: usize,
    /// The size measure counts in shares of half the tolerance.
    pub has_limits: bool,
    /// Best worst case first; none where no place is allowed, or nothing holds the work.
    pub told: Vec<Placing>,
    /// The deepest cut the best of them stands.
    pub deepest: Option<Deepest>,
}

impl Answer {
    /// The drawing's tolerance is held, in every case that was tried.
    #[must_use]
    pub fn holds_tolerance(&self) -> bool {
        self.has_limits && self.told.first().is_some_and(|best| best.between[1] <= 1.0)
    }
}

/// Between two places that are tried.
const STEP_MM: f64 = 3.0;

impl Ask {
    /// A set-up with or without follower and tailstock, as it has them where that is not said; rests wherever nothing
    /// forbids them, base against base. `None` where the set-up is not there.
    #[must_use]
    pub fn of(
        job: &Job,
        setup: SetupId,
        measure: Measure,
        follower: Option<bool>,
        tailstock: Option<bool>,
    ) -> Option<Self> {
        let held = job.setup(setup)?;
        let follower = follower.unwrap_or(held.follower.is_some());
        let tailstock = tailstock.unwrap_or(held.tail.kind != TailKind::Free);
        let trial = Trial::new(job, setup, held.rests.len().max(1), follower, tailstock)?;
        let result = trial.compute(FINE, &mut sweep::Room::default());
        let allowed = |rest: &Rest| reach_on(&trial.job, &result, setup, rest.sleeve).unwrap_or_default().allowed;
        Some(Self {
            setup,
            measure,
            follower,
            tailstock,
            step_mm: STEP_MM,
            least_apart_mm: least_apart_mm(job),
            allowed: trial.setup().rests.iter().map(allowed).collect(),
        })
    }

    /// Places for so many rests.
    fn grid(&self, trial: &Trial) -> Grid {
        let n_rests = trial.setup().rests.len();
        let allowed: Vec<Vec<Stretch>> = (0..n_rests)
            .map(|rest| self.allowed.get(rest).or(self.allowed.last()).cloned().unwrap_or_default())
            .collect();
        let bending_mm = bending_span_mm(&trial.job, trial.setup());
        Grid::new(&allowed, bending_mm, self.step_mm, self.least_apart_mm, &[])
    }
}

/// The best places of `n_rests` rests; `None` where `keep_going`, which hears the share done, said no, or the set-up is not
/// there.
#[must_use]
pub fn best_places(job: &Job, ask: &Ask, n_rests: usize, keep_going: &dyn Fn(f64) -> bool) -> Option<Answer> {
    let trial = Trial::new(job, ask.setup, n_rests, ask.follower, ask.tailstock)?;
    let grid = ask.grid(&trial);
    let mut answer = if ask.measure == Measure::Chatter {
        chatter::best_places(trial, &grid, keep_going)?
    } else {
        by_the_sweep(trial, &grid, ask.measure, keep_going)?
    };
    if let Some(best) = answer.told.first() {
        let mut trial = Trial::new(job, ask.setup, n_rests, ask.follower, ask.tailstock)?;
        trial.put(&best.places_mm);
        answer.deepest = deepest(&trial, &|| keep_going(1.0));
    }
    keep_going(1.0).then_some(answer)
}

/// By size or springiness.
fn by_the_sweep(mut trial: Trial, grid: &Grid, measure: Measure, keep_going: &dyn Fn(f64) -> bool) -> Option<Answer> {
    let n_rests = trial.setup().rests.len();
    let nothing = Answer { n_rests, has_limits: false, told: Vec::new(), deepest: None };
    let Some(found) = candidates(&mut trial, grid, measure, &|share| keep_going(0.5 * share))? else {
        return Some(nothing);
    };
    let mut cases = Cases::new(&trial, &grid.places_mm, measure);
    let mut ranked: Vec<(Vec<usize>, Vec<f64>)> = Vec::new();
    for (number, rests_at) in found.iter().enumerate() {
        if !keep_going(0.6 + 0.2 * number as f64 / found.len() as f64) {
            return None;
        }
        let values = cases.values(rests_at);
        ranked.push((rests_at.clone(), values));
    }
    ranked.retain(|(_, values)| largest(values).is_finite());
    ranked.sort_by(|a, b| largest(&a.1).total_cmp(&largest(&b.1)));
    let Some(least) = ranked.first().map(|(_, values)| largest(values)) else { return Some(nothing) };
    ranked.retain(|(_, values)| largest(values) <= WORTH_TELLING * least);
    ranked.truncate(MOST_TOLD);
    let mut answer = nothing;
    for (number, (rests_at, values)) in ranked.iter().enumerate() {
        if !keep_going(0.8 + 0.2 * number as f64 / ranked.len() as f64) {
            return None;
        }
        let as_good = as_good(grid, rests_at, &mut |moved| cases.as_good(moved, values));
        let told = tell(&mut trial, measure, grid.places_of(rests_at), values, as_good)?;
        answer.has_limits |= told.1;
        answer.told.push(told.0);
    }
    Some(answer)
}

/// Placements worth a closer look, the best first, none like another; leaves the trial's rests at the best. The outer
/// `None` where `keep_going` said no, the inner where there is nothing to place or to judge.
fn candidates(
    trial: &mut Trial,
    grid: &Grid,
    measure: Measure,
    keep_going: &dyn Fn(f64) -> bool,
) -> Option<Option<Vec<Vec<usize>>>> {
    let Some(spread) = grid.spread() else { return Some(None) };
    let (mut sweep_room, mut room) = (sweep::Room::default(), Room::default());
    let mut board_at = |trial: &mut Trial, rests_at: &[usize]| {
        trial.put(&grid.places_of(rests_at));
        let reference = trial.compute_setup(FAST, &mut sweep_room)?;
        Board::new(trial, &reference, &grid.places_mm, FAST, measure)
    };
    let Some(board) = board_at(trial, &spread) else { return Some(None) };
    let Searched { best, coarse } = search(&board, grid, &mut room, &|share| keep_going(0.8 * share))?;
    let Some(first) = best.first() else { return Some(None) };
    // Once more, with the stiffness that passes leave with the rests there.
    let Some(board) = board_at(trial, &first.rests_at) else { return Some(None) };
    let mut room = Room::default();
    let mut judge = |rests_at: &[usize], limit: f64| board.value(&mut room, rests_at, limit);
    let first = polish(&mut judge, grid, &first.rests_at, keep_going)?;
    let found = well_apart(&mut judge, grid, first, best.iter().chain(&coarse), keep_going)?;
    Some(Some(found.into_iter().map(|tried| tried.rests_at).collect()))
}

/// The first and those of the others that, with their rests moved to where they are best nearby, are none like another; the
/// best first.
pub fn well_apart<'a>(
    judge: &mut Judge<'_>,
    grid: &Grid,
    first: Tried,
    others: impl Iterator<Item = &'a Tried>,
    keep_going: &dyn Fn(f64) -> bool,
) -> Option<Vec<Tried>> {
    let mut found = vec![first];
    let (low_mm, high_mm) =
        (grid.places_mm.first().copied().unwrap_or(0.0), grid.places_mm.last().copied().unwrap_or(0.0));
    let apart_mm = APART_RATIO * (high_mm - low_mm);
    let alike = |a: &[usize], b: &[usize]| {
        a.iter().zip(b).all(|(a, b)| (grid.places_mm[*a] - grid.places_mm[*b]).abs() < apart_mm)
    };
    for other in others {
        if found.len() > MOST_TOLD {
            break;
        }
        if found.iter().any(|one| alike(&one.rests_at, &other.rests_at)) {
            continue;
        }
        let other = polish(judge, grid, &other.rests_at, keep_going)?;
        if other.value.is_finite() && !found.iter().any(|one| alike(&one.rests_at, &other.rests_at)) {
            found.push(other);
        }
    }
    found.sort_by(|a, b| a.value.total_cmp(&b.value));
    Some(found)
}

/// How far each rest may be moved, the others where they are.
pub fn as_good(grid: &Grid, rests_at: &[usize], is_alike: &mut dyn FnMut(&[usize]) -> bool) -> Vec<Stretch> {
    (0..rests_at.len())
        .map(|rest| {
            let mine = grid.of_rest(rest);
            let stride = (mine.len() / STRIDES_ALONG).max(1);
            let at = mine.binary_search(&rests_at[rest]).unwrap_or(0);
            let mut moved = rests_at.to_vec();
            let mut is_good = |place: usize| {
                moved[rest] = place;
                grid.fits(&moved) && is_alike(&moved)
            };
            let [n_below, n_above] = grid.without_a_gap(rest, at);
            let n_below = goes_on(n_below, stride, |steps| is_good(mine[at - steps]));
            let n_above = goes_on(n_above, stride, |steps| is_good(mine[at + steps]));
            Stretch { from_mm: grid.places_mm[mine[at - n_below]], to_mm: grid.places_mm[mine[at + n_above]] }
        })
        .collect()
}

/// How many of `most` steps something is good without a break: by strides, the last one halved again and again.
fn goes_on(most: usize, stride: usize, mut is_good: impl FnMut(usize) -> bool) -> usize {
    let (mut good, mut stride) = (0, stride.min(most));
    while stride > 0 {
        let next = (good + stride).min(most);
        if next > good && is_good(next) {
            good = next;
        } else {
            stride /= 2;
        }
    }
    good
}

/// A placement by the real sweep; and whether its value is a share of a tolerance.
fn tell(
    trial: &mut Trial,
    measure: Measure,
    places_mm: Vec<f64>,
    values: &[f64],
    as_good: Vec<Stretch>,
) -> Option<(Placing, bool)> {
    trial.put(&places_mm);
    let Real { value, worst_error, never_reached_mm, has_limits } = really(trial, measure)?;
    // The cases are those of a coarse mesh: their spread goes round the real figure.
    let middle = values.first().copied().unwrap_or(value);
    let least = values.iter().copied().fold(f64::INFINITY, f64::min);
    let between = [(value + least - middle).clamp(0.0, value), value + largest(values) - middle];
    Some((Placing { places_mm, value, between, worst_error, never_reached_mm, as_good }, has_limits))
}

/// What the real sweep says of a trial.
pub struct Real {
    /// By the measure.
    value: f64,
    pub worst_error: Option<(f64, f64)>,
    pub never_reached_mm: Option<f64>,
    /// The drawing's limits are in the value.
    has_limits: bool,
}

/// The real sweep of a trial; `None` where nothing is turned.
pub fn really(trial: &Trial, measure: Measure) -> Option<Real> {
    // With its turns, so that what is told is to the last digit what the screen will say.
    let result = trial.compute_setup(Fineness::USUAL, &mut sweep::Room::default())?;
    let size = WorstSize::of(&trial.job, trial.setup(), &result)?;
    let station = result.passes[size.pass].stations.get(size.station);
    let worst_error = station.filter(|_| size.value.is_finite()).map(|station| (station.error_mm, station.z_mm));
    let never_reached_mm = never_reached_mm(trial.setup(), &result.passes[size.pass]);
    if measure != Measure::Springiness {
        return Some(Real { value: size.value, worst_error, never_reached_mm, has_limits: size.has_limits });
    }
    let bending_mm = bending_span_mm(&trial.job, trial.setup());
    let mut trial = trial.clone();
    trial.keep_rests(|rest| bending_mm.0 < rest.z_mm && rest.z_mm < bending_mm.1);
    let places_mm = trial.places_mm();
    let mut distinct_mm = places_mm.clone();
    distinct_mm.dedup();
    let board = Board::new(&trial, &result, &distinct_mm, FINE, measure)?;
    let number = |z_mm: &f64| distinct_mm.iter().position(|other| other == z_mm);
    let rests_at: Vec<usize> = places_mm.iter().filter_map(number).collect();
    let value = board.value(&mut Room::default(), &rests_at, f64::INFINITY);
    Some(Real { value, worst_error, never_reached_mm, has_limits: false })
}

/// How far the jaws of a rest are set clear that the work never reaches in a pass.
fn never_reached_mm(setup: &Setup, pass: &PassResult) -> Option<f64> {
    let is_reached = |rest: &Rest| {
        (0..rest.jaws.len()).any(|jaw| pass.largest_n(Support::Jaw { rest: rest.id, jaw }).is_some_and(|n| n > 0.0))
    };
    let clear_mm =
        setup.rests.iter().filter(|rest| !is_reached(rest)).flat_map(|rest| &rest.jaws).map(|jaw| jaw.gap_mm);
    clear_mm.filter(|gap_mm| *gap_mm > 0.0).reduce(f64::min)
}

/// What the set-up comes to as it stands, by the real sweep, and whether the drawing's limits are in it; `None` where
/// nothing is turned.
#[must_use]
pub fn value_now(job: &Job, setup: SetupId, measure: Measure, keep_going: &dyn Fn(f64) -> bool) -> Option<(f64, bool)> {
    let trial = Trial::as_it_is(job, setup)?;
    match measure {
        Measure::Chatter => chatter::value_now(trial, keep_going).map(|value| (value, false)),
        _ => really(&trial, measure).map(|real| (real.value, real.has_limits)),
    }
}
