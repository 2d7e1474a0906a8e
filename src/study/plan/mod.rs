//! A plan for a job: the set-ups in order, complete with rests and passes, and the reason for each step.
//!
//! Customs of the trade give the candidates (face and centre first; spot, then rest; all roughing before finishing; heavy
//! before thin; turn end for end for what was in the chuck; a seam at a shoulder); [`super::compute_at`] judges between
//! them by the size that is left against the drawing. Every figure can be edited afterwards as if it had been typed.
//! Source of the customs: common practice, no source. Limits: parallel or tapered outsides, grooves and threads of the
//! drawing; no bores, no parting off, no set-over tapers.

mod cuts;
mod draft;
mod ends;
mod judge;
mod rests;
mod room;

use std::ops::Range;

use super::JobResult;
use super::coverage::{Cover, Stretch, coverage};
use super::layout::Fineness;
use super::results::Status;
use crate::job::{Edit, Job, Lathe, Setup, Shaft};
use draft::{Choice, Draft, Hold, Support, build};
use judge::{Score, score};

/// A cut that asks for more than this of the spindle's power is made lighter.
const MOST_POWER_RATIO: f64 = 0.85;
/// Lighter by this each time.
const LIGHTER_RATIO: f64 = 0.6;
/// Then it is hardly a cut any more.
const MOST_LIGHTER: usize = 8;
/// After so many spring passes a tool rubs more than it cuts. Common practice, no source.
const MOST_SPRINGS: usize = 2;
/// A tail centre is not needed where the work stands out by no more than so many diameters. Custom of printed lathe
/// manuals, from memory.
const STANDS_ALONE_RATIO: f64 = 2.5;

/// What is done in a step.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum What {
    /// Faces an end, where there is stock to face, and drills its centre hole.
    FaceAndCentre {
        end_b: bool,
        facing_mm: f64,
        through_spindle: bool,
    },
    /// Takes the work into chuck or between centres.
    Hold,
    TurnEndForEnd,
    /// A true band for the jaws of a rest.
    Spot {
        s_mm: f64,
        width_mm: f64,
    },
    SetRest {
        s_mm: f64,
    },
    /// The rest goes to the other side of what is to be cut.
    MoveRest {
        s_mm: f64,
    },
    FitFollower,
    Rough {
        from_s_mm: f64,
        to_s_mm: f64,
        n_passes: usize,
    },
    Finish {
        from_s_mm: f64,
        to_s_mm: f64,
        n_passes: usize,
    },
    Groove {
        from_s_mm: f64,
        to_s_mm: f64,
    },
    Thread {
        from_s_mm: f64,
        to_s_mm: f64,
        pitch_mm: f64,
        n_passes: usize,
    },
}

/// Why a step is done, or done just then.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Why {
    /// The tailstock needs a centre hole, and there is none yet.
    CentreWanted,
    /// So little stands out that no tailstock is needed.
    StandsAlone { ratio: f64 },
    /// Rough stock runs in a cat head.
    CatHead,
    /// A steady carries the end while the tailstock is away.
    SteadyAtTheEnd,
    /// The stock beyond the finished part is held, so one holding reaches all.
    HeldByStub,
    /// The chuck holds what is cut last.
    HeldWhereCutLast,
    /// Both ends run on the same centres.
    SameCentres,
    /// What was in the jaws, or under the dog, comes out.
    WasInTheJaws,
    /// Largest error against the drawing, on diameter, without this support and with it.
    Stiffer { without_mm: f64, with_mm: f64 },
    /// No tool cuts so far along without it.
    NothingStiffEnough,
    /// The jaws need a true band.
    TrueBand,
    /// Too springy to spot there at once: a band nearer the headstock first.
    Leapfrog,
    /// The stock is left as it is there, and has to serve.
    AsItIs,
    /// It runs on what is cut already.
    OnCutWork,
    /// One diameter all along, so that the follower can go with the tool.
    OneDiameter,
    /// The tool cannot pass a steady, so the other side of it is cut from there.
    ToolCannotPass,
    /// The heavy diameters are cut while the thin ones are still stiff.
    HeavyBeforeThin,
    /// So much is left for the finishing cut.
    LeftForFinishing { on_diameter_mm: f64 },
    /// What the work sprang away from is taken off with the same dial.
    SpringPasses,
    /// Jaws or dog are on a finished length.
    HeldOnFinished,
    /// A neck is cut once the lands on both sides are finished.
    NeckLast,
    /// All roughing comes before any finishing: roughed work moves.
    RoughingFirst,
    /// The cuts meet at a shoulder, where the seam is hidden.
    SeamAtShoulder { s_mm: f64 },
    /// No shoulder in reach: the cuts meet on a land.
    SeamOnLand { s_mm: f64 },
    /// The dial goes to the middle of each tolerance.
    ToTheMiddle,
    /// Threads and grooves weaken the work and catch jaws.
    AfterDiameters,
}

/// One step of a plan.
#[derive(Clone, Debug, PartialEq)]
pub struct Step {
    /// The set-up it belongs to, counted from 0.
    pub setup: usize,
    pub what: What,
    pub why: Vec<Why>,
    /// Which passes of the set-up are its own; empty where nothing is cut.
    pub passes: Range<usize>,
    /// What the sweep makes of its passes.
    pub comes_to: Option<ComesTo>,
}

/// What a step leaves, on diameter.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum ComesTo {
    /// The most that is left over what the dial was set to.
    Left { over_mm: f64 },
    /// The largest error from the middle of what the drawing allows, and the farthest outside it.
    Size { worst_mm: f64, outside_mm: f64 },
}

/// A whole plan.
#[derive(Clone, Debug, PartialEq)]
pub struct Plan {
    pub steps: Vec<Step>,
    /// The job with the plan's set-ups in it; their numbers are the plan's own.
    pub job: Job,
    /// What it comes to.
    pub result: JobResult,
    /// Farthest the work left is outside the drawing, on diameter; 0 where all is within.
    pub outside_mm: f64,
    /// Lengths the drawing wants cut that the plan does not bring to size.
    pub left: Vec<Stretch>,
}

impl Plan {
    /// The set-ups in order.
    #[must_use]
    pub fn setups(&self) -> &[Setup] {
        &self.job.setups
    }

    /// The change that puts the plan in place of all set-ups of `job`.
    #[must_use]
    pub fn edit(&self, job: &Job) -> Edit {
        let setups = Edit::SetSetups(self.job.setups.clone());
        if self.job.shaft == job.shaft {
            return setups;
        }
        // Centre holes that the plan drills.
        Edit::Together(vec![Edit::SetShaft(self.job.shaft.clone()), setups])
    }
}

/// Why there is no plan.
#[derive(Clone, Debug, PartialEq)]
pub enum NoPlan {
    /// The drawing asks for nothing that is to be cut.
    NothingToCut,
    TooLong {
        length_mm: f64,
        most_mm: f64,
    },
    TooHeavy {
        mass_kg: f64,
        most_kg: f64,
    },
    /// It does not clear the bed.
    TooLargeForBed {
        diameter_mm: f64,
        most_mm: f64,
    },
    /// It does not clear the cross slide.
    TooLargeForSlide {
        diameter_mm: f64,
        most_mm: f64,
    },
    /// It is larger than the chuck, and has no centres to run between.
    TooLargeForChuck {
        diameter_mm: f64,
        most_mm: f64,
    },
    /// The length can be held nowhere without being cut there as well.
    NowhereToHold,
    /// Under any cut it bends away, however it is held.
    TooSpringy,
    /// Something in the job has to be put right first: what its check says.
    Problem(String),
    /// It was asked to stop.
    Stopped,
}

/// Proposes set-ups for the shaft and lathe of a job; what set-ups it has is left aside. Asks `keep_going` now and then.
///
/// # Errors
/// [`NoPlan`] with everything that stands in the way.
pub fn plan(job: &Job, keep_going: &dyn Fn() -> bool) -> Result<Plan, Vec<NoPlan>> {
    let obstacles = obstacles(job);
    if !obstacles.is_empty() {
        return Err(obstacles);
    }
    let need = need(job);
    if need.is_empty() {
        return Err(vec![NoPlan::NothingToCut]);
    }
    let mut search = Search { job, need: &need, best: None, plain: None, problem: None, is_too_springy: false };
    for choice in choices(job, &need) {
        if !keep_going() {
            return Err(vec![NoPlan::Stopped]);
        }
        search.consider(choice);
    }
    let (plain, problem, is_too_springy) = (search.plain, search.problem, search.is_too_springy);
    let Some(best) = search.best else {
        let otherwise = if is_too_springy { NoPlan::TooSpringy } else { NoPlan::NowhereToHold };
        return Err(vec![problem.map_or(otherwise, NoPlan::Problem)]);
    };
    if !keep_going() {
        return Err(vec![NoPlan::Stopped]);
    }
    let best = with_spring_passes(job, &need, best);
    let plan = finished(best, plain);
    if is_solved(&plan.result) { Ok(plan) } else { Err(vec![NoPlan::TooSpringy]) }
}

/// A draft with what it comes to.
struct Tried {
    choice: Choice,
    draft: Draft,
    score: Score,
}

struct Search<'a> {
    job: &'a Job,
    need: &'a [(f64, f64)],
    best: Option<Tried>,
    /// Largest error of the best draft without rest or follower.
    plain: Option<Score>,
    /// What the check said of a draft that came to nothing.
    problem: Option<String>,
    /// Some draft could not be computed, because the work bends away.
    is_too_springy: bool,
}

impl Search<'_> {
    fn consider(&mut self, choice: Choice) {
        let Some(tried) = self.tried(choice) else { return };
        if tried.choice.support == Support::None && self.plain.is_none_or(|plain| tried.score.is_better_than(&plain)) {
            self.plain = Some(tried.score);
        }
        if self.best.as_ref().is_none_or(|best| tried.score.is_better_than(&best.score)) {
            self.best = Some(tried);
        }
    }

    /// The draft of a choice, its cuts made lighter until the spindle can drive them.
    fn tried(&mut self, mut choice: Choice) -> Option<Tried> {
        let mut tried = None;
        for _ in 0..MOST_LIGHTER {
            let draft = build(self.job, self.need, &choice)?;
            if draft.job.validate().is_err() {
                return tried;
            }
            if let Some(problem) = draft.job.check().into_iter().next() {
                self.problem = Some(problem.text);
                return tried;
            }
            let result = super::compute_at(&draft.job, coarse());
            if !is_solved(&result) {
                self.is_too_springy = true;
                return tried;
            }
            let score = score(&draft, &result);
            let is_too_hard = judge::power_ratio(&draft.job, &result) > MOST_POWER_RATIO;
            let depth_mm = choice.depth_mm;
            tried = Some(Tried { choice: choice.clone(), draft, score });
            if !is_too_hard {
                break;
            }
            choice.depth_mm = depth_mm * LIGHTER_RATIO;
        }
        tried
    }
}

/// Every pass could be computed to its end.
fn is_solved(result: &JobResult) -> bool {
    result.setups.iter().flat_map(|setup| &setup.passes).all(|pass| pass.status == Status::Solved)
}

/// Stations far enough apart to judge many drafts.
fn coarse() -> Fineness {
    Fineness { spacing_mm: 12.0, fewest_stations: 16.0, parts_outside: 40.0, turns: false }
}

/// The same with spring passes, where that helps a draft that does not keep its tolerances.
fn with_spring_passes(job: &Job, need: &[(f64, f64)], best: Tried) -> Tried {
    if best.score.keeps_sizes() {
        return best;
    }
    let mut search = Search { job, need, best: None, plain: None, problem: None, is_too_springy: false };
    let mut best = best;
    for n_springs in 1..=MOST_SPRINGS {
        let sprung = search.tried(Choice { n_springs, ..best.choice.clone() });
        match sprung {
            Some(sprung) if sprung.score.is_better_than(&best.score) => best = sprung,
            _ => break,
        }
        if best.score.keeps_sizes() {
            break;
        }
    }
    best
}

fn finished(best: Tried, plain: Option<Score>) -> Plan {
    let Tried { choice, draft, .. } = best;
    let result = super::compute(&draft.job);
    let fine = score(&draft, &result);
    let mut steps = draft.steps;
    if choice.support != Support::None {
        let why = match plain {
            Some(plain) => Why::Stiffer { without_mm: plain.worst_mm, with_mm: fine.worst_mm },
            None => Why::NothingStiffEnough,
        };
        let carries = |step: &&mut Step| {
            let is_set = matches!(step.what, What::SetRest { .. } | What::MoveRest { .. } | What::FitFollower);
            is_set && !step.why.contains(&Why::SteadyAtTheEnd)
        };
        if let Some(step) = steps.iter_mut().find(carries) {
            step.why.insert(0, why);
        }
    }
    for step in &mut steps {
        step.comes_to = comes_to(&draft.job, &result, step);
    }
    let left = coverage(&draft.job, &result)
        .stretches
        .into_iter()
        .filter(|one| one.by_mm > 0.0 && matches!(one.cover, Cover::Uncut | Cover::Heavy | Cover::Undersize))
        .collect();
    Plan { steps, outside_mm: fine.outside_mm, job: draft.job, result, left }
}

/// What the sweep says of the passes of a step.
fn comes_to(job: &Job, result: &JobResult, step: &Step) -> Option<ComesTo> {
    let computed = result.setups.get(step.setup)?;
    if let What::Finish { from_s_mm, to_s_mm, .. } = step.what {
        let (_, worst_mm, outside_mm) = judge::errors(&job.shaft, computed.after(), &(from_s_mm..to_s_mm));
        return Some(ComesTo::Size { worst_mm, outside_mm });
    }
    let passes = computed.passes.get(step.passes.clone())?;
    let over_mm = passes.iter().flat_map(|pass| &pass.stations).map(|station| station.error_mm).reduce(f64::max)?;
    Some(ComesTo::Left { over_mm: over_mm.max(0.0) })
}

/// What no arrangement helps against.
fn obstacles(job: &Job) -> Vec<NoPlan> {
    let (shaft, lathe) = (&job.shaft, &job.lathe);
    let mut all = Vec::new();
    let (diameter_mm, length_mm, mass_kg) = (shaft.max_diameter_mm(), shaft.length_mm(), shaft.stock_mass_kg());
    if mass_kg > lathe.max_work_kg.value {
        all.push(NoPlan::TooHeavy { mass_kg, most_kg: lathe.max_work_kg.value });
    }
    if diameter_mm > lathe.swing_over_bed_mm.value {
        all.push(NoPlan::TooLargeForBed { diameter_mm, most_mm: lathe.swing_over_bed_mm.value });
    } else if diameter_mm > lathe.swing_over_cross_slide_mm.value {
        all.push(NoPlan::TooLargeForSlide { diameter_mm, most_mm: lathe.swing_over_cross_slide_mm.value });
    }
    let most_mm = longest_mm(shaft, lathe);
    if length_mm > most_mm {
        all.push(NoPlan::TooLong { length_mm, most_mm });
    }
    if diameter_mm > room::chuck_takes_mm(lathe) && (shaft.centre_hole_a.is_none() || shaft.centre_hole_b.is_none()) {
        all.push(NoPlan::TooLargeForChuck { diameter_mm, most_mm: room::chuck_takes_mm(lathe) });
    }
    let bare = Job { setups: Vec::new(), readings: Vec::new(), ..job.clone() };
    // What the list above already says is not said twice.
    let about_lathe = ["does not clear", "more than the lathe carries"];
    let problems = bare.check().into_iter().map(|problem| problem.text);
    all.extend(problems.filter(|text| !about_lathe.iter().any(|known| text.contains(known))).map(NoPlan::Problem));
    all
}

/// The longest stock the lathe takes: between its centres, and as much again as goes into the spindle.
fn longest_mm(shaft: &Shaft, lathe: &Lathe) -> f64 {
    let behind_mm = if shaft.max_diameter_mm() <= lathe.spindle_bore_mm.value {
        lathe.headstock_length_mm.value
    } else {
        room::grip_mm(shaft, lathe)
    };
    lathe.between_centres_mm.value + behind_mm
}

/// Lengths the drawing wants cut, rising.
fn need(job: &Job) -> Vec<(f64, f64)> {
    let bare = Job { setups: Vec::new(), ..job.clone() };
    let nothing = JobResult { setups: Vec::new(), bands: None };
    (coverage(&bare, &nothing).of(Cover::Uncut))
        .filter(|stretch| stretch.by_mm > 0.0)
        .map(|stretch| (stretch.from_s_mm, stretch.to_s_mm))
        .collect()
}

/// Every way worth trying, the plainest first.
fn choices(job: &Job, need: &[(f64, f64)]) -> Vec<Choice> {
    let (shaft, lathe) = (&job.shaft, &job.lathe);
    let mut holds = Vec::new();
    if shaft.max_diameter_mm() <= room::chuck_takes_mm(lathe) {
        holds.extend([Hold::ChuckAlone, Hold::Chuck]);
    }
    if shaft.centre_hole_a.is_some() && shaft.centre_hole_b.is_some() {
        holds.push(Hold::Centres);
    }
    let depth_mm = room::usual_depth_mm(lathe);
    let mut all = Vec::new();
    for hold in holds {
        let supports: &[Support] = match hold {
            Hold::ChuckAlone => &[Support::None],
            _ => &[Support::None, Support::Follower, Support::Steadies(1), Support::Steadies(2)],
        };
        for &support in supports {
            for first_turned in [false, true] {
                for seam_s_mm in draft::seams(job, need, hold, support, first_turned) {
                    let rough_first = seam_s_mm.is_some() && draft::has_fits(shaft);
                    let moves = matches!(support, Support::Steadies(_))
                        && seam_s_mm.is_some()
                        && draft::reaches_all(job, need, hold, first_turned);
                    all.extend([true, false].into_iter().filter(|moves_rest| moves || !moves_rest).map(|moves_rest| {
                        let n_springs = 0;
                        Choice { hold, support, first_turned, seam_s_mm, moves_rest, rough_first, n_springs, depth_mm }
                    }));
                }
            }
        }
    }
    all
}
