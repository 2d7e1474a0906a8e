//! From the first turn by hand to the last pass.

use super::{Holding, Step};
use crate::job::{PassKind, TailKind};

pub(super) fn steps(here: &Holding<'_>) -> Vec<Step> {
    let mut steps = vec![Step::new(
        "by hand",
        "One full turn by hand, and the carriage by hand through its travel: tool, rests, chuck, dog and tailstock must \
         clear.",
        "Safety bulletins on lathes; by hand: common practice.",
    )];
    let passes = &here.setup.passes;
    if here.has_rest() {
        steps.push(Step::new(
            "slow",
            "Start slow, watch the oil film for some turns, then go up to speed.",
            "What is set too tight shows first as a dry streak. Common practice, no source.",
        ));
    }
    match here.setup.tail.kind {
        TailKind::Free => {}
        TailKind::DeadCentre | TailKind::HalfCentre => steps.push(Step::new(
            "ease",
            "After the first pass and whenever warm: stop, ease the dead centre, oil it, nip it again.",
            "Warm work grows against it, and a dry centre burns. Makers' manuals; easing: common practice.",
        )),
        TailKind::LiveCentre | TailKind::BullNose => steps.push(Step::new(
            "ease",
            "Whenever the work has warmed: stop, ease the centre, nip it again.",
            "Warm work grows against it and bows. Common practice, no source.",
        )),
        TailKind::SpringCentre => steps.push(Step::new(
            "ease",
            "See that the spring-loaded centre has travel left when the work is warm.",
            "Once the spring is home, growth bows the work. Common practice, no source.",
        )),
    }
    if !here.setup.rests.is_empty() {
        steps.push(Step::new(
            "warm",
            "Once all is warm: stop, feel every jaw of the steadies again.",
            "Work and jaws grow, and what touched cold may press warm. Practitioners' accounts.",
        ));
    }
    if passes.iter().any(|pass| pass.kind == PassKind::Spring) {
        steps.push(Step::new(
            "spring pass",
            "Spring pass: leave the dial where it is, run over the work again.",
            "It takes what the work gave way by. Common practice, no source.",
        ));
    }
    if passes.iter().any(|pass| pass.kind == PassKind::Thread) && here.setup.follower.is_none() {
        steps.push(Step::new(
            "burrs",
            "Burrs off the thread before anything bears on it or a gauge is tried.",
            "A burr lifts a jaw and spoils a gauge. Common practice, no source.",
        ));
    }
    if passes.iter().any(|pass| pass.kind == PassKind::Part) {
        steps.push(Step::new(
            "parting",
            "Part only close to the chuck or between chuck and steady, the piece that comes off held hand-safe.",
            "Work parted between supports closes on the tool. Textbooks and common practice.",
        ));
    }
    if passes.iter().any(|pass| matches!(pass.kind, PassKind::Drill | PassKind::Bore)) && !here.setup.rests.is_empty() {
        steps.push(Step::new(
            "bore true",
            "Before drilling or boring sweep the end with an indicator: it must run true in the steady.",
            "A hole follows the axis on which the end turns. Common practice, no source.",
        ));
    }
    steps
}
