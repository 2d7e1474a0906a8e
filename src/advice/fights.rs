//! A rest that bends the work with no cut at all: the force with which it fights, and whether work may walk out.
//!
//! With the tool drawn back a rest set to the work carries nothing, so what its jaws press is the fight. Off the axis by e
//! and alone beyond a rigid chuck that is `3EI e/L³`. A bent bar meets a rest that keeps it from swinging in the same way,
//! once a turn: its free swing there counts as the offset. Source: statics; that work walks out, worst close to the chuck,
//! with fat work, a short grip or reversed jaws: a shop writer's report (read). No limit is known, so none is given.

use super::endways;
use super::jaws::roughly;
use super::why::bar::stiffness_step;
use super::why::sum::{Sum, number};
use super::why::{Sketch, Why};
use super::words;
use super::{Finding, Verdict};
use crate::job::{DriveKind, Job, Rest, Setup, SetupId, Sleeve, Subject};
use crate::study::layout::{Fineness, node_at};
use crate::study::outline::Outline;
use crate::study::prepared::Scene;
use crate::study::turning::TurningWork;
use crate::study::{JobResult, Shape, Support, shape_at};

/// A fight below this is no more than jaws that are felt to touch. Source: common practice, no source.
const FELT_N: f64 = 20.0;
/// Closer to the jaws than so many diameters counts as close. Source: a judgement.
const CLOSE_RATIO: f64 = 6.0;

/// A bent bar in rests: at most one finding for each rest. A rest off the axis is told by [`super::off_axis`].
#[must_use]
pub fn findings(job: &Job, result: &JobResult) -> Vec<Finding> {
    if job.shaft.bow_tir_mm <= 0.0 {
        return Vec::new();
    }
    let of_setup = |setup| swings_mm(job, result, setup).into_iter().map(move |(rest, off_mm)| (setup, rest, off_mm));
    let rests = job.setups.iter().flat_map(of_setup);
    rests.filter_map(|(setup, rest, off_mm)| bent_finding(job, result, setup, rest, off_mm)).collect()
}

fn bent_finding(job: &Job, result: &JobResult, setup: &Setup, rest: &Rest, off_mm: [f64; 2]) -> Option<Finding> {
    let swing_mm = off_mm[0].hypot(off_mm[1]);
    let tir_mm = 2.0 * swing_mm;
    let force_n = force_of_swing_n(job, result, setup.id, rest, swing_mm)?;
    if force_n < FELT_N {
        return None;
    }
    Some(Finding {
        rule: "fights",
        about: Subject::Rest(setup.id, rest.id),
        verdict: Verdict::Watch,
        text: format!(
            "{} fights the bent bar: it would swing {} there, and the jaws press with up to {} once a turn, with no cut",
            words::rest_heading(job, setup, rest),
            words::amount(tir_mm, job.units),
            roughly(force_n, job.units),
        ),
        why: format!(
            "The jaws hold straight what is bent, so they wear and warm, and the work springs back when they are opened. \
             Straighten the bar, or run the rest on a cat head set true.{}",
            walk_out(job, setup, rest)
        ),
        z_mm: Some(rest.z_mm),
        remedy: None,
        behind: beside(
            job,
            setup,
            rest,
            swing_mm,
            Why::new(
                "How far the bent bar would swing at this rest with no rest touching, and how hard jaws press that keep it there.",
                "statics; the swing and the force come of the whole computation of the bent bar",
                "as good as the bend that was stated",
            )
            .with(Sum::figure(
                "would swing",
                "2 \u{d7} how far its middle stands off the axis there, sideways and up together",
                format!("2 \u{d7} \u{221a}({}^2 + {}^2)", number(off_mm[0].abs()), number(off_mm[1].abs())),
                words::amount(tir_mm, job.units),
            )),
        ),
    })
}

/// With the textbook's force of a rest that is `off_mm` off, alone beyond a chuck that does not give; not for work between
/// centres.
pub(super) fn beside(job: &Job, setup: &Setup, rest: &Rest, off_mm: f64, why: Why) -> Why {
    let thickness_mm = job.dial_diameter_into_mm(setup.id, setup.s_of_z_mm(&job.shaft, rest.z_mm));
    let Some(diameter_mm) = thickness_mm.filter(|_| setup.drive.kind != DriveKind::CentreAndDog && rest.z_mm > 0.0)
    else {
        return why;
    };
    let (i_mm4, section) = stiffness_step(diameter_mm);
    let e_mpa = job.material().e_mpa.value;
    why.with(section)
        .with(Sum::estimate(
            "plain bar in a chuck",
            "3 \u{d7} stiffness of the material \u{d7} section \u{d7} how far it is held off \u{f7} distance from the jaw face\u{b3}",
            format!("3 \u{d7} {} \u{d7} {} \u{d7} {} \u{f7} {}^3", number(e_mpa), number(i_mm4), number(off_mm), number(rest.z_mm)),
            words::force(3.0 * e_mpa * i_mm4 * off_mm / rest.z_mm.powi(3), job.units),
        ))
        .and("The textbook's bar is plain, held fast in a chuck, and nothing but this rest carries it.")
        .drawn(Sketch::Bar { from_mm: 0.0, to_mm: None, load_at_mm: rest.z_mm, diameter_mm })
}

/// Force of a rest on the work with the tool drawn back: that of all its jaws together.
#[must_use]
pub fn fight_n(job: &Job, result: &JobResult, setup: SetupId, rest: &Rest) -> Option<f64> {
    Some(net_n(&shape_at(job, result, setup, None, None)?, rest))
}

fn net_n(shape: &Shape, rest: &Rest) -> f64 {
    let forces = shape.reactions.iter().filter_map(|reaction| match reaction.support {
        Support::Jaw { rest: id, jaw } if id == rest.id => Some((rest.jaws.get(jaw)?.angle_rad, reaction.force_n)),
        _ => None,
    });
    let [away_n, up_n] = forces.fold([0.0, 0.0], |sum: [f64; 2], (angle_rad, force_n)| {
        [sum[0] - force_n * angle_rad.cos(), sum[1] - force_n * angle_rad.sin()]
    });
    away_n.hypot(up_n)
}

/// The largest force on one jaw as work that would swing by `swing_mm` either way goes round: as if the rest were off by
/// so much, away from each of its jaws in turn.
fn force_of_swing_n(job: &Job, result: &JobResult, setup: SetupId, rest: &Rest, swing_mm: f64) -> Option<f64> {
    let mut moved = job.clone();
    let index = moved.setups.iter().position(|other| other.id == setup)?;
    let place = moved.setups[index].rests.iter().position(|other| other.id == rest.id)?;
    let mut force_n: f64 = 0.0;
    for (jaw, facing) in rest.jaws.iter().enumerate() {
        let off = &mut moved.setups[index].rests[place];
        off.offset_x_mm = rest.offset_x_mm - swing_mm * facing.angle_rad.cos();
        off.offset_y_mm = rest.offset_y_mm - swing_mm * facing.angle_rad.sin();
        let shape = shape_at(&moved, result, setup, None, None)?;
        let on_jaw = Support::Jaw { rest: rest.id, jaw };
        let found = shape.reactions.iter().find(|reaction| reaction.support == on_jaw);
        force_n = force_n.max(found.map_or(0.0, |reaction| reaction.force_n));
    }
    Some(force_n)
}

/// Where the middle of a bent bar stands off the axis at each rest that runs on it, with no rest touching.
fn swings_mm<'a>(job: &Job, result: &JobResult, setup: &'a Setup) -> Vec<(&'a Rest, [f64; 2])> {
    let found = || {
        let before = &result.setup(setup.id)?.before;
        let outline = Outline::of(before, &job.shaft, setup);
        let scene = Scene::new(job, setup, &outline, Fineness::USUAL)?;
        let prepared = scene.prepare(&outline, None, None);
        let turning = scene.turning.as_ref()?;
        let mut work = TurningWork::new(turning, job, setup, &prepared, [&prepared.old, &prepared.old]);
        let mut swings = Vec::new();
        for rest in setup.rests.iter().filter(|rest| !matches!(rest.sleeve, Sleeve::CatHead { .. })) {
            let Some(node) = node_at(&prepared.layout.nodes_mm, rest.z_mm) else { continue };
            if !work.join(node, None) || !work.stands_alone() {
                continue;
            }
            let [away_mm, up_mm] = work.tool_mm(rest.z_mm, 0.0);
            let off = prepared.sizes[node][0].old_off_mm;
            swings.push((rest, [away_mm + off[0], up_mm + off[1]]));
        }
        Some(swings)
    };
    found().unwrap_or_default()
}

/// Whether work that a rest bends may walk out of its grip, in words that follow a sentence.
#[must_use]
pub fn walk_out(job: &Job, setup: &Setup, rest: &Rest) -> String {
    let thickness_mm = job.dial_diameter_into_mm(setup.id, setup.s_of_z_mm(&job.shaft, rest.z_mm));
    if setup.drive.kind == DriveKind::CentreAndDog {
        return if endways::can_leave_its_centre(setup) { " The work can leave its centre." } else { "" }.to_owned();
    }
    let mut worse = Vec::new();
    if thickness_mm.is_some_and(|diameter_mm| rest.z_mm < CLOSE_RATIO * diameter_mm) {
        worse.push("the rest stands close to the jaws for such thick work");
    }
    if thickness_mm.is_some_and(|diameter_mm| setup.drive.grip_mm < diameter_mm) {
        worse.push("the grip is shorter than the work is thick");
    }
    let here = if worse.is_empty() { String::new() } else { format!("; here {}", worse.join(", and ")) };
    format!(
        " Bent work can walk out of the chuck as it turns, worst close to the jaws, with thick work and a short \
         grip{here}: mark it at the jaw face and watch the mark."
    )
}
