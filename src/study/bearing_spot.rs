//! What a steady rest runs on: whether a true spot must be turned for it first, how wide, to what size, and whether the
//! work is stiff enough there; or what sleeve it needs where none can be turned.
//!
//! Turning the spot is judged by a light cut, with no rest on the work but one that already stands on a true spot. Of
//! what runs out before, a cut leaves the share e = C k / (1 + C k), with C the give of the work there and k what the
//! push gains with depth (linear springs, the feed force's lever left out). Where that will not do, a spot is turned
//! nearer to a support first, the rest set there, and so on: leapfrogging (common practice, no source).

use super::JobResult;
use super::force::ForceModel;
use super::layout::Fineness;
use super::outline::Outline;
use super::prepared::{Prepared, Scene};
use super::reach::{Ground, Jaws, STRAIGHT_MM, Stretch, Why, surface_or_stock};
use crate::job::{Cut, FeatureKind, Job, Pass, PassId, Rest, RestId, SetTo, Setup, SetupId, Sleeve};
use crate::mechanics::RIGID_N_PER_MM;
use crate::mechanics::held::{AtTool, Held};

/// What a light cut takes off a side, its feed, and its speed where no pass gives one. Common practice, no source.
const LIGHT_DEPTH_MM: f64 = 0.1;
pub const LIGHT_FEED_MM: f64 = 0.05;
const LIGHT_SPEED_RPM: f64 = 250.0;
/// Cuts that true a spot, one after another. Common practice, no source.
pub const N_CUTS: i32 = 2;
/// How true a spot must run, total indicator reading. Common practice, no source.
pub const TRUE_TIR_MM: f64 = 0.02;
/// The work may give way by so much of the depth of a light cut. No source: a tool that takes half of what it is set to
/// is taken to be the limit of what a turner calls cutting.
const GIVE_RATIO: f64 = 0.5;
/// More leaps than a turner makes.
const MOST_LEAPS: usize = 4;
/// A leap shorter than this gets nowhere.
const LEAST_LEAP_MM: f64 = 5.0;
/// A sleeve is so much larger than the work, and so wide. Common practice, no source.
const SLEEVE_OVER_MM: f64 = 20.0;
const SLEEVE_WIDTH_MM: f64 = 40.0;

/// What the jaws of a rest find.
#[derive(Clone, Debug, PartialEq)]
pub enum Bearing {
    /// A true band, or a sleeve.
    Fit,
    /// Stock, on which a true spot must be turned first.
    Turn(SpotToTurn),
    /// Something no spot can be turned on.
    Sleeve(SleeveToUse),
}

/// A spot to be turned.
#[derive(Clone, Debug, PartialEq)]
pub struct SpotToTurn {
    /// Where: the width of the jaws and room beside them.
    pub at: Stretch,
    /// The least diameter of the stock there.
    pub stock_mm: f64,
    /// To what diameter.
    pub diameter_mm: f64,
    /// How much the stock runs out there, total indicator reading.
    pub runs_out_mm: f64,
    /// A light cut at that very place.
    pub light_cut: LightCut,
    /// Places where a spot must be turned and the rest be set before that, in order; empty where it can be turned at
    /// once. `None` where leapfrogging does not get there either.
    pub leaps_mm: Option<Vec<f64>>,
    /// What to put under the rest where it does not.
    pub instead: Sleeve,
}

/// What a light cut does.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct LightCut {
    /// A side.
    pub depth_mm: f64,
    /// What pushes the work away, and up.
    pub away_n: f64,
    pub up_n: f64,
    /// What the push away gains with depth.
    pub gain_n_per_mm: f64,
    /// How far the work gives way to a newton.
    pub give_mm_per_n: f64,
    /// How far it gives way.
    pub spring_mm: f64,
    /// How much the spot still runs out after it, total indicator reading.
    pub left_tir_mm: f64,
}

/// A cat head, or a bush where the work is threaded or splined.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SleeveToUse {
    /// What is in the way of a bare spot; `None` where there is no stock left to turn one.
    pub why: Option<Why>,
    pub sleeve: Sleeve,
}

impl LightCut {
    /// The spot comes out true.
    #[must_use]
    pub fn is_true(&self) -> bool {
        self.spring_mm <= GIVE_RATIO * self.depth_mm && self.left_tir_mm <= TRUE_TIR_MM
    }
}

/// What this rest finds; `None` where it is not there or stands off the work.
#[must_use]
pub fn bearing(job: &Job, result: &JobResult, setup: SetupId, rest: RestId) -> Option<Bearing> {
    let setup = job.setup(setup)?;
    let rest = setup.rest(rest)?;
    let surface = surface_or_stock(job, result.setup(setup.id).map(|computed| &*computed.before));
    let ground = Ground::of(job, result, setup, &surface);
    let here = |rest: &Rest| found(job, setup, &ground, rest);
    let (at, found) = here(rest)?;
    let (stock_mm, diameter_mm) = match found {
        Found::Fit => return Some(Bearing::Fit),
        Found::Sleeve(why) => return Some(Bearing::Sleeve(sleeve(&ground, rest.z_mm, why))),
        Found::Stock { stock_mm, diameter_mm } => (stock_mm, diameter_mm),
    };
    // Another rest that stands on a true spot already helps: the nearest of them.
    let helps = |other: &&Rest| other.id != rest.id && matches!(here(other), Some((_, Found::Fit)));
    let helper = (setup.rests.iter().filter(helps))
        .min_by(|a, b| (a.z_mm - rest.z_mm).abs().total_cmp(&(b.z_mm - rest.z_mm).abs()));
    let outline = Outline::of(&surface, &job.shaft, setup);
    let spotting = Spotting::new(job, setup, &outline, rest, diameter_mm);
    let (light_cut, leaps_mm) = spotting.judge(&ground, helper)?;
    Some(Bearing::Turn(SpotToTurn {
        at,
        stock_mm,
        diameter_mm,
        runs_out_mm: runs_out_mm(job, setup, rest.z_mm),
        light_cut,
        leaps_mm,
        instead: sleeve(&ground, rest.z_mm, None).sleeve,
    }))
}

enum Found {
    Fit,
    /// Raw stock, from its least diameter to be turned to another.
    Stock {
        stock_mm: f64,
        diameter_mm: f64,
    },
    Sleeve(Option<Why>),
}

/// The stretch a rest needs and what is there; `None` off the work.
fn found(job: &Job, setup: &Setup, ground: &Ground, rest: &Rest) -> Option<(Stretch, Found)> {
    let jaws = Jaws::of_a_steady(job);
    let z_mm = rest.z_mm;
    let at = Stretch::new(z_mm, z_mm).grown(jaws.half_mm + jaws.beside_mm);
    let diameters_mm = ground.ends_mm(&at)?;
    if rest.sleeve != Sleeve::None {
        return Some((at, Found::Fit));
    }
    let against = ground.bare(job, setup, &jaws).into_iter();
    let mut why = against.filter(|one| one.from_mm < z_mm && z_mm < one.to_mm).map(|one| one.why);
    if let Some(why) = why.find(Why::a_sleeve_helps) {
        return Some((at, Found::Sleeve(Some(why))));
    }
    if ground.is_true(&Stretch::new(z_mm, z_mm).grown(jaws.half_mm)) {
        return Some((at, Found::Fit));
    }
    Some((
        at,
        match ground.spot_mm(job, setup, &at) {
            Some(diameter_mm) => Found::Stock { stock_mm: diameters_mm.0, diameter_mm },
            // A bright bar at its finished size is run on as it is, as long as it is straight.
            None if job.shaft.bow_tir_mm == 0.0 && diameters_mm.1 - diameters_mm.0 <= STRAIGHT_MM => Found::Fit,
            None => Found::Sleeve(None),
        },
    ))
}

/// The usual cat head over work of so much diameter.
#[must_use]
pub fn cat_head(diameter_mm: f64) -> Sleeve {
    Sleeve::CatHead { diameter_mm: diameter_mm + SLEEVE_OVER_MM, width_mm: SLEEVE_WIDTH_MM }
}

fn sleeve(ground: &Ground, z_mm: f64, why: Option<Why>) -> SleeveToUse {
    let largest_mm = ground.ends_mm(&Stretch::new(z_mm, z_mm).grown(SLEEVE_WIDTH_MM / 2.0)).map_or(0.0, |ends| ends.1);
    let bush = matches!(why, Some(Why::CutThread | Why::Feature(FeatureKind::Thread { .. } | FeatureKind::Spline)));
    let sleeve = if bush {
        Sleeve::Bush { diameter_mm: largest_mm + SLEEVE_OVER_MM, width_mm: SLEEVE_WIDTH_MM }
    } else {
        cat_head(largest_mm)
    };
    SleeveToUse { why, sleeve }
}

/// How much a bent bar runs out at a place, the bend being greatest half-way.
fn runs_out_mm(job: &Job, setup: &Setup, z_mm: f64) -> f64 {
    let share = (setup.s_of_z_mm(&job.shaft, z_mm) / job.shaft.length_mm()).clamp(0.0, 1.0);
    job.shaft.bow_tir_mm * 4.0 * share * (1.0 - share)
}

/// Turning a spot for a rest.
struct Spotting<'a> {
    job: &'a Job,
    setup: &'a Setup,
    outline: &'a Outline,
    rest: &'a Rest,
    /// What pushes the work away and up in a light cut, and what the push gains per mm of depth.
    away_n: f64,
    up_n: f64,
    gain_n_per_mm: f64,
}

impl<'a> Spotting<'a> {
    fn new(job: &'a Job, setup: &'a Setup, outline: &'a Outline, rest: &'a Rest, diameter_mm: f64) -> Self {
        let speed_rpm = setup.passes.first().map_or(LIGHT_SPEED_RPM, |pass| pass.speed_rpm);
        let cut = Cut::Depth { on_diameter_mm: 2.0 * LIGHT_DEPTH_MM };
        let pass = Pass::turn(PassId(0), rest.z_mm, rest.z_mm, cut, LIGHT_FEED_MM, speed_rpm);
        let model = ForceModel::new(&job.material(), &setup.tool, &pass, 0.0);
        let (force, per_mm) = model.law(diameter_mm, LIGHT_DEPTH_MM).forces(LIGHT_DEPTH_MM);
        let (away_n, up_n) = (force.radial_n, force.main_n);
        Self { job, setup, outline, rest, away_n, up_n, gain_n_per_mm: per_mm.radial_n }
    }

    /// A light cut at the rest's place, and the leaps it takes to get there.
    fn judge(&self, ground: &Ground, helper: Option<&Rest>) -> Option<(LightCut, Option<Vec<f64>>)> {
        let wanted_mm = self.rest.z_mm;
        let mut carried: Option<Rest> = helper.cloned();
        let mut leaps_mm: Vec<f64> = Vec::new();
        let mut first = None;
        for _ in 0..=MOST_LEAPS {
            // The rest to be set carries nothing yet, but where it stands must be a place that is computed. Where the
            // work lies there is not asked: only how it gives.
            let to_axis = |rest: &Rest| Rest { set_to: SetTo::Axis, ..rest.clone() };
            let rests = carried.iter().chain([self.rest]).map(to_axis).collect();
            let bare = Setup { rests, follower: None, ..self.setup.clone() };
            let give = Give::of(self.job, &bare, carried.as_ref(), self.outline)?;
            let cut = self.light_cut(give.at_mm(wanted_mm)?, wanted_mm);
            if cut.is_true() {
                return Some((*first.get_or_insert(cut), Some(leaps_mm)));
            }
            let first = *first.get_or_insert(cut);
            let last_mm = leaps_mm.last().copied();
            let away_mm = |z_mm: f64| (z_mm - wanted_mm).abs();
            let mut stiff_mm: Vec<f64> = (give.nodes_mm())
                .filter(|z_mm| last_mm.is_none_or(|last_mm| away_mm(*z_mm) < away_mm(last_mm) - LEAST_LEAP_MM))
                .filter(|z_mm| give.at_mm(*z_mm).is_some_and(|give| self.light_cut(give, *z_mm).is_true()))
                .collect();
            stiff_mm.sort_by(|a, b| away_mm(*a).total_cmp(&away_mm(*b)));
            let next = stiff_mm.into_iter().find(|z_mm| self.may_be_spotted(ground, *z_mm));
            let Some(z_mm) = next else { return Some((first, None)) };
            leaps_mm.push(z_mm);
            carried = Some(Rest { z_mm, ..self.rest.clone() });
        }
        first.map(|cut| (cut, None))
    }

    /// The work allows a spot there, the passes to come left aside.
    fn may_be_spotted(&self, ground: &Ground, z_mm: f64) -> bool {
        let half_mm = Jaws::of_a_steady(self.job).half_mm;
        let in_the_open = z_mm >= half_mm && z_mm <= self.setup.work_end_z_mm(&self.job.shaft) - half_mm;
        let there = Rest { z_mm, ..self.rest.clone() };
        in_the_open
            && matches!(found(self.job, self.setup, ground, &there), Some((_, Found::Fit | Found::Stock { .. })))
    }

    fn light_cut(&self, give_mm_per_n: f64, z_mm: f64) -> LightCut {
        let gain = give_mm_per_n * self.gain_n_per_mm;
        LightCut {
            depth_mm: LIGHT_DEPTH_MM,
            away_n: self.away_n,
            up_n: self.up_n,
            gain_n_per_mm: self.gain_n_per_mm,
            give_mm_per_n,
            spring_mm: give_mm_per_n * self.away_n.hypot(self.up_n),
            left_tir_mm: runs_out_mm(self.job, self.setup, z_mm) * (gain / (1.0 + gain)).powi(N_CUTS),
        }
    }
}

/// How much the work gives at each place, with at most one rest on it.
struct Give {
    prepared: Prepared,
    held: Held,
    /// The rest's watched point, and how much it gives.
    rest: Option<(usize, f64)>,
}

impl Give {
    /// `carried` is the first rest of the set-up, the only one that holds the work; nothing where none does.
    fn of(job: &Job, setup: &Setup, carried: Option<&Rest>, outline: &Outline) -> Option<Self> {
        let scene = Scene::new(job, setup, outline, Fineness::USUAL)?;
        let prepared = scene.prepare(outline, None, None);
        let mut held = Held::default();
        held.run(&prepared.old, &prepared.old, &prepared.springs, &prepared.tracked);
        let on_work = prepared.jaw_nodes.first().copied().flatten();
        let rest = carried.filter(|_| on_work.is_some()).and_then(|rest| {
            // Jaws round the work give alike in every direction, by half the sum of their stiffnesses.
            let jaws = rest.jaws.iter().map(|jaw| jaw.k_n_per_mm.value_or(RIGID_N_PER_MM));
            let k_n_per_mm = jaws.sum::<f64>() / 2.0;
            Some((prepared.jaws.first()?.point, 1.0 / k_n_per_mm))
        });
        Some(Self { prepared, held, rest })
    }

    fn nodes_mm(&self) -> impl Iterator<Item = f64> + '_ {
        self.prepared.layout.nodes_mm.iter().copied()
    }

    /// Per newton at the node nearest to a place.
    fn at_mm(&self, z_mm: f64) -> Option<f64> {
        let mut at_tool = AtTool::default();
        if !self.held.join(self.prepared.nearest_node(z_mm), None, &mut at_tool) {
            return None;
        }
        let bare = at_tool.compliance.a11;
        Some(match self.rest {
            None => bare,
            Some((point, rest_gives)) => {
                let across = at_tool.points[point].per_force;
                bare - across * across / (at_tool.between(point, point) + rest_gives)
            }
        })
    }
}
