//! Warm work against its centre, and cold work that slackens it.
//!
//! Growth and thrust are the study's ([`crate::study::heat`]). Told where growth adds 50 N or more and a quarter of the
//! thrust that was set (common practice, no source), and where the thrust is gone. A dead centre rubs, so it is told to be
//! eased; a spring-loaded one takes growth up. Source: practitioners' notes on long work (read); growth formula, any text.

use super::why::along::of_warmth;
use super::words;
use super::{Finding, Verdict};
use crate::job::quantity::{self, Kind};
use crate::job::{Edit, Job, Setup, Subject, TailKind};
use crate::study::JobResult;
use crate::study::heat::{Warmth, warmth};
use crate::study::holding::bending_span_mm;
use crate::study::outline::Outline;

/// Thrust that growth must add to be told.
const TOLD_N: f64 = 50.0;
/// The same as a share of the thrust that was set.
const TOLD_RATIO: f64 = 0.25;

/// What warmth does to the work as it comes into a set-up; nothing where there is no result.
#[must_use]
pub fn warmth_of(job: &Job, result: &JobResult, setup: &Setup) -> Option<Warmth> {
    let outline = Outline::of(&result.setup(setup.id)?.before, &job.shaft, setup);
    Some(warmth(job, setup, &job.material(), &outline, bending_span_mm(job, setup)))
}

/// At most one finding a set-up.
#[must_use]
pub fn findings(job: &Job, result: &JobResult) -> Vec<Finding> {
    let warm = job.setups.iter().filter(|setup| setup.warmer_by_k != 0.0 && setup.tail.kind != TailKind::Free);
    warm.filter_map(|setup| finding_of(job, setup, &warmth_of(job, result, setup)?)).collect()
}

fn finding_of(job: &Job, setup: &Setup, warmth: &Warmth) -> Option<Finding> {
    let slack = warmth.thrust_n <= 0.0 && setup.tail.thrust_n > 0.0;
    let pressed = warmth.added_n >= TOLD_N.max(TOLD_RATIO * setup.tail.thrust_n);
    if !slack && !pressed {
        return None;
    }
    let by = quantity::show(setup.warmer_by_k.abs(), Kind::TemperatureRise, job.units);
    let change = words::amount(warmth.growth_mm, job.units);
    let force = |force_n: f64| quantity::show(force_n, Kind::Force, job.units);
    let dead = matches!(setup.tail.kind, TailKind::DeadCentre | TailKind::HalfCentre);
    let (text, why, button) = if slack {
        (
            format!("colder by {by} the work is {change} shorter, and its centre is slack"),
            "A slack centre lets the work jump and chatter, and a live one stops turning with it. Bring it up again once \
             the work has cooled."
                .to_owned(),
            "Bring the centre up",
        )
    } else {
        let centre = if dead { "dead centre" } else { "centre" };
        (
            format!(
                "warmer by {by} the work grows {change} and presses its {centre} with {}: ease the centre",
                force(warmth.thrust_n)
            ),
            format!(
                "It was set with {}. Growth has nowhere to go but into the tailstock's give, so slender work bows, and {} \
                 It is an estimate: the give of a tailstock along the bed is seldom known.",
                force(setup.tail.thrust_n),
                if dead {
                    "a dead centre runs dry and seizes. Keep it oiled and ease it as the work warms."
                } else {
                    "the centre's bearings carry it. Ease it as the work warms, or use a spring-loaded one."
                }
            ),
            "Ease the centre",
        )
    };
    let eased = Edit::SetConditions { setup: setup.id, warmer_by_k: 0.0, jaw_friction: setup.jaw_friction };
    Some(Finding {
        rule: "warm",
        about: Subject::Tail(setup.id),
        verdict: Verdict::Watch,
        text: words::capital(&format!("{}{text}", words::of_setup(job, setup))),
        why,
        z_mm: Some(setup.work_end_z_mm(&job.shaft)),
        remedy: Some((button.to_owned(), eased)),
        behind: of_warmth(job, setup, warmth),
    })
}
