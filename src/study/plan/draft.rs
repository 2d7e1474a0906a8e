//! One way of doing the job, drawn up set-up by set-up as a choice says.

use std::ops::Range;

use super::{STANDS_ALONE_RATIO, Step, What, Why, cuts, ends, rests, room};
use crate::job::{DriveKind, FeatureKind, Follower, Job, PassId, RestId, Setup, SetupId, Shaft, TailKind};
use crate::study::coverage::FIT_MM;
use crate::study::reach::tool_room_mm;

/// A follower is brought on once the tool has turned so much. Common practice, no source.
const FOLLOWER_START_MM: f64 = 20.0;
/// A bore from here on takes a bull-nose centre. Common practice, no source.
const BULL_NOSE_MM: f64 = 10.0;
/// Places nearer than this are the same.
pub const SAME_MM: f64 = 1e-6;

/// How the work is held for its cuts.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Hold {
    ChuckAlone,
    Chuck,
    Centres,
}

/// What keeps it from springing.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Support {
    None,
    Follower,
    Steadies(usize),
}

/// One way.
#[derive(Clone, Debug, PartialEq)]
pub struct Choice {
    pub hold: Hold,
    pub support: Support,
    /// The first holding has the shaft turned end for end.
    pub first_turned: bool,
    /// Where the cuts of two holdings meet; `None` where one reaches all.
    pub seam_s_mm: Option<f64>,
    /// What is left beyond the seam is cut in the same holding, the steady moved to the other side of it; else the shaft
    /// is turned end for end.
    pub moves_rest: bool,
    /// All roughing before any finishing.
    pub rough_first: bool,
    /// Spring passes after every finishing pass.
    pub n_springs: usize,
    /// Of a rough cut, on diameter.
    pub depth_mm: f64,
}

/// What became of it.
#[derive(Clone, Debug)]
pub struct Draft {
    pub job: Job,
    pub steps: Vec<Step>,
    pub choice: Choice,
}

impl Support {
    /// How many things are to be set.
    pub fn n_set(self) -> usize {
        match self {
            Self::None => 0,
            Self::Follower => 1,
            Self::Steadies(n_rests) => n_rests,
        }
    }
}

/// A length to be cut in one holding.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Side {
    pub turned: bool,
    pub from_s_mm: f64,
    pub to_s_mm: f64,
    /// The rest stands on the tailstock side of the cut.
    pub rest_at_tail: bool,
}

/// Some land has a close tolerance.
pub fn has_fits(shaft: &Shaft) -> bool {
    shaft.wanted.iter().any(|wanted| {
        let limits_mm = wanted.tolerance.limits_mm(wanted.land.start_diameter_mm);
        limits_mm.is_some_and(|(lower_mm, upper_mm)| upper_mm - lower_mm <= FIT_MM)
    })
}

/// A groove of the drawing is there.
pub fn is_grooved(shaft: &Shaft, s_mm: f64) -> bool {
    let groove = |kind| matches!(kind, FeatureKind::Groove { .. });
    shaft.features.iter().any(|one| groove(one.kind) && (one.from_s_mm..=one.to_s_mm).contains(&s_mm))
}

/// Work behind the face of the jaws: the grip, and what a bed too short makes go into the spindle.
fn behind_mm(job: &Job) -> f64 {
    room::grip_mm(&job.shaft, &job.lathe).max(job.shaft.length_mm() - job.lathe.between_centres_mm.value)
}

/// Length at the headstock end that the tool does not reach.
fn hidden_mm(job: &Job, hold: Hold) -> f64 {
    let behind_mm = if hold == Hold::Centres { 0.0 } else { behind_mm(job) };
    behind_mm + room::nearest_cut_mm(job, hold)
}

/// The tool reaches every length to be cut in one holding, no rest being in its way.
pub fn reaches_all(job: &Job, need: &[(f64, f64)], hold: Hold, turned: bool) -> bool {
    let (Some(first), Some(last)) = (need.first(), need.last()) else { return true };
    let hidden_mm = hidden_mm(job, hold);
    if turned { last.1 <= job.shaft.length_mm() - hidden_mm + SAME_MM } else { first.0 >= hidden_mm - SAME_MM }
}

/// Where the cuts of two holdings may meet, the best places only; `[None]` where one holding reaches all, nothing where
/// this way leads nowhere.
pub fn seams(job: &Job, need: &[(f64, f64)], hold: Hold, support: Support, first_turned: bool) -> Vec<Option<f64>> {
    let (Some(first), Some(last)) = (need.first(), need.last()) else { return Vec::new() };
    let (length_mm, hidden_mm) = (job.shaft.length_mm(), hidden_mm(job, hold));
    if hold == Hold::ChuckAlone && (length_mm - behind_mm(job)) > STANDS_ALONE_RATIO * least_diameter_mm(&job.shaft) {
        return Vec::new();
    }
    let fits = |turned: bool| reaches_all(job, need, hold, turned);
    let steadied = matches!(support, Support::Steadies(_));
    if fits(first_turned) && !steadied {
        return vec![None];
    }
    if fits(!first_turned) && !fits(first_turned) {
        return Vec::new();
    }
    let (mut low_mm, mut high_mm) = (first.0, last.1);
    if !fits(first_turned) {
        (low_mm, high_mm) = (low_mm.max(hidden_mm), high_mm.min(length_mm - hidden_mm));
    }
    let mut places: Vec<f64> = shoulders(&job.shaft).filter(|s_mm| *s_mm > low_mm && *s_mm < high_mm).collect();
    if low_mm >= high_mm {
        return Vec::new();
    }
    let middle_mm = f64::midpoint(low_mm, high_mm);
    if places.is_empty() || (steadied && places.iter().all(|s_mm| (s_mm - middle_mm).abs() > 0.2 * (high_mm - low_mm)))
    {
        places.push(middle_mm.round().clamp(low_mm, high_mm));
    }
    let in_feature = |s_mm: f64| {
        let one_cut = |kind| matches!(kind, FeatureKind::Thread { .. } | FeatureKind::Groove { .. });
        job.shaft.features.iter().any(|one| one_cut(one.kind) && s_mm > one.from_s_mm && s_mm < one.to_s_mm)
    };
    places.retain(|s_mm| !in_feature(*s_mm));
    places.sort_by(|a, b| (a - middle_mm).abs().total_cmp(&(b - middle_mm).abs()));
    let lowest = places.iter().copied().reduce(f64::min);
    let highest = places.iter().copied().reduce(f64::max);
    let mut best: Vec<f64> = places.first().copied().into_iter().chain(lowest).chain(highest).collect();
    best.dedup();
    best.into_iter().map(Some).chain((fits(first_turned) && steadied).then_some(None)).collect()
}

/// Steps of the drawing.
fn shoulders(shaft: &Shaft) -> impl Iterator<Item = f64> + '_ {
    let mut last: Option<f64> = None;
    shaft.wanted_spans().filter_map(move |(from_s_mm, _, wanted)| {
        let steps = last.is_some_and(|last_mm| (last_mm - wanted.land.start_diameter_mm).abs() > SAME_MM);
        last = Some(wanted.land.end_diameter_mm);
        steps.then_some(from_s_mm)
    })
}

fn least_diameter_mm(shaft: &Shaft) -> f64 {
    let wanted = shaft.wanted.iter().map(|one| one.land.start_diameter_mm.min(one.land.end_diameter_mm));
    wanted.fold(shaft.max_diameter_mm(), f64::min)
}

/// Draws up a choice; `None` where it cannot be set up.
pub fn build(base: &Job, need: &[(f64, f64)], choice: &Choice) -> Option<Draft> {
    let job = Job { setups: Vec::new(), readings: Vec::new(), next_id: 1, ..base.clone() };
    let mut builder = Builder { job, steps: Vec::new(), choice: choice.clone() };
    let sides = sides(need, choice)?;
    if choice.hold == Hold::Chuck {
        for side in &sides {
            ends::centre(&mut builder, !side.turned)?;
        }
    }
    let visits: &[(usize, bool, bool)] = match (sides.len(), choice.rough_first) {
        (1, _) => &[(0, true, true)],
        (_, false) => &[(0, true, true), (1, true, true)],
        (_, true) => &[(0, true, false), (1, true, true), (0, false, true)],
    };
    for (index, (side, roughs, finishes)) in visits.iter().enumerate() {
        builder.visit(&sides[*side], *roughs, *finishes, index)?;
    }
    let Builder { job, steps, .. } = builder;
    Some(Draft { job, steps, choice: choice.clone() })
}

/// What each holding cuts, in order.
fn sides(need: &[(f64, f64)], choice: &Choice) -> Option<Vec<Side>> {
    let (first_mm, last_mm) = (need.first()?.0, need.last()?.1);
    let whole = Side { turned: choice.first_turned, from_s_mm: first_mm, to_s_mm: last_mm, rest_at_tail: false };
    let Some(seam_mm) = choice.seam_s_mm else { return Some(vec![whole]) };
    let (to_a, to_b) = (Side { to_s_mm: seam_mm, ..whole }, Side { from_s_mm: seam_mm, ..whole });
    let (at_tail, at_head) = if choice.first_turned { (to_a, to_b) } else { (to_b, to_a) };
    let at_head = if choice.moves_rest {
        Side { rest_at_tail: true, ..at_head }
    } else {
        Side { turned: !choice.first_turned, ..at_head }
    };
    Some(vec![at_tail, at_head])
}

/// A draft under the pencil.
#[derive(Debug)]
pub struct Builder {
    /// The job with the set-ups drawn up so far.
    pub job: Job,
    pub steps: Vec<Step>,
    pub choice: Choice,
}

impl Builder {
    fn take_id(&mut self) -> u32 {
        self.job.next_id += 1;
        self.job.next_id - 1
    }

    /// Gives the set-up, its rests and its passes numbers, and adds it.
    pub fn add(&mut self, mut setup: Setup) {
        setup.id = SetupId(self.take_id());
        for rest in &mut setup.rests {
            rest.id = RestId(self.take_id());
        }
        for pass in &mut setup.passes {
            pass.id = PassId(self.take_id());
        }
        self.job.setups.push(setup);
    }

    /// Notes a step of the set-up that is added next.
    pub fn step(&mut self, what: What, why: Vec<Why>) {
        self.step_of(what, why, 0..0);
    }

    /// The same with its passes.
    pub fn step_of(&mut self, what: What, why: Vec<Why>, passes: Range<usize>) {
        self.steps.push(Step { setup: self.job.setups.len(), what, why, passes, comes_to: None });
    }

    /// What is said of the place where the cuts meet.
    fn seam(&self) -> Option<Why> {
        let s_mm = self.choice.seam_s_mm?;
        let at_shoulder = shoulders(&self.job.shaft).any(|shoulder_mm| (shoulder_mm - s_mm).abs() < SAME_MM);
        Some(if at_shoulder { Why::SeamAtShoulder { s_mm } } else { Why::SeamOnLand { s_mm } })
    }

    /// Diameter the dials stand for after all set-ups so far.
    pub fn now_mm(&self, s_mm: f64) -> Option<f64> {
        match self.job.setups.last() {
            Some(last) => self.job.dial_diameter_mm(last.id, None, s_mm),
            None => self.job.shaft.stock_diameter_mm(s_mm),
        }
    }

    /// The bare holding of a side.
    pub fn held(&self, turned: bool) -> Setup {
        let (shaft, lathe) = (&self.job.shaft, &self.job.lathe);
        let grip_mm = room::grip_mm(shaft, lathe);
        let mut setup = match self.choice.hold {
            Hold::ChuckAlone => Setup::in_chuck(SetupId(0), grip_mm),
            Hold::Chuck => Setup::chuck_and_centre(SetupId(0), grip_mm),
            Hold::Centres => Setup::between_centres(SetupId(0)),
        };
        setup.end_for_end = turned;
        if setup.drive.kind != DriveKind::CentreAndDog {
            setup.work_start_z_mm = -behind_mm(&self.job);
        }
        let end_s_mm = if turned { 0.0 } else { shaft.length_mm() };
        let hole = if turned { shaft.centre_hole_a } else { shaft.centre_hole_b };
        if setup.tail.kind != TailKind::Free {
            if hole.is_none() && shaft.bore_diameter_mm(end_s_mm) >= BULL_NOSE_MM {
                setup.tail.kind = TailKind::BullNose;
            }
            // Far enough out that the tool holder clears the tailstock at the end of the work.
            let clear_mm = tool_room_mm(&self.job, &setup).1.map_or(f64::INFINITY, |(z_mm, _)| z_mm);
            let short_mm = (setup.work_end_z_mm(shaft) - clear_mm).max(0.0);
            setup.tail.quill_out_mm = (setup.tail.quill_out_mm + short_mm).ceil().min(lathe.quill_travel_mm.value);
        }
        setup
    }

    /// One holding with its support and its passes.
    fn visit(&mut self, side: &Side, roughs: bool, finishes: bool, index: usize) -> Option<()> {
        let mut setup = self.held(side.turned);
        let ends_mm = [side.from_s_mm, side.to_s_mm].map(|s_mm| setup.z_of_s_mm(&self.job.shaft, s_mm));
        if ends_mm[0].min(ends_mm[1]) < room::nearest_cut_mm(&self.job, self.choice.hold) - SAME_MM {
            return None;
        }
        let stood_here = |last: &Setup| last.end_for_end == side.turned && !last.rests.is_empty();
        let is_moved = index > 0 && self.job.setups.last().is_some_and(stood_here);
        self.hold_step(side, index);
        self.support(&mut setup, side)?;
        let made = cuts::passes(self, &setup, side, roughs, finishes);
        if made.passes.is_empty() {
            return None;
        }
        setup.passes = made.passes;
        for (rest_at, ground) in rests::placed(self, &setup) {
            if is_moved {
                let why = [Some(Why::ToolCannotPass), Some(ground), self.seam()].into_iter().flatten().collect();
                self.step(What::MoveRest { s_mm: rest_at }, why);
            } else {
                self.step(What::SetRest { s_mm: rest_at }, vec![ground]);
            }
        }
        if setup.follower.is_some() {
            self.step(What::FitFollower, vec![Why::OneDiameter]);
        }
        for cuts::MadeStep { what, why, passes } in made.steps {
            self.step_of(what, why, passes);
        }
        setup.name = match (roughs, finishes) {
            (true, false) => "Rough",
            (false, true) => "Finish",
            _ => "Rough and finish",
        }
        .to_owned();
        self.add(setup);
        Some(())
    }

    /// How the work comes into its holding.
    fn hold_step(&mut self, side: &Side, index: usize) {
        let seam = self.seam();
        let last = self.job.setups.last();
        if index > 0 && last.is_some_and(|last| last.end_for_end == side.turned) {
            return;
        }
        if index > 0 {
            let mut why = if index > 1 { vec![Why::RoughingFirst] } else { vec![Why::WasInTheJaws] };
            why.extend(seam.filter(|_| index == 1));
            if index > 1 || !self.choice.rough_first {
                why.push(Why::HeldOnFinished);
            }
            self.step(What::TurnEndForEnd, why);
            return;
        }
        let mut why = Vec::new();
        match self.choice.hold {
            Hold::ChuckAlone => {
                let out_mm = self.job.shaft.length_mm() - behind_mm(&self.job);
                why.push(Why::StandsAlone { ratio: out_mm / least_diameter_mm(&self.job.shaft) });
            }
            Hold::Centres => why.push(Why::SameCentres),
            Hold::Chuck => {}
        }
        if self.choice.hold != Hold::Centres {
            let one = self.choice.seam_s_mm.is_none() || self.choice.moves_rest;
            why.push(if one { Why::HeldByStub } else { Why::HeldWhereCutLast });
        }
        self.step(What::Hold, why);
    }

    /// Puts rests or a follower to a holding, with what the rests need before.
    fn support(&mut self, setup: &mut Setup, side: &Side) -> Option<()> {
        match self.choice.support {
            Support::None => Some(()),
            Support::Follower => {
                let lathe = &self.job.lathe;
                let now_mm = cuts::one_diameter_mm(self, side)?;
                let most_mm = lathe.follower_max_diameter_mm.value;
                let wanted_mm = self.job.shaft.wanted_diameter_mm(f64::midpoint(side.from_s_mm, side.to_s_mm))?;
                if now_mm > most_mm || wanted_mm < lathe.follower_min_diameter_mm.value {
                    return None;
                }
                setup.follower = Some(Follower { start_mm: FOLLOWER_START_MM, ..Follower::usual() });
                Some(())
            }
            Support::Steadies(n_rests) => rests::put(self, setup, side, n_rests),
        }
    }
}
