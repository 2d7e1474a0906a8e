//! Lengths that the drawing wants cut and no pass reaches, and lengths left heavy or cut below the drawing by plan.
//!
//! The classic way to find out is with the cutter already at the steady: common practice, no source. Where a pass that
//! ends at the gap can be carried on, the remedy does it, as far as jaws and rests let the tool.

use super::cover_words::along;
use super::in_the_way::closed_stretch_mm;
use super::why::Why;
use super::why::room::apart;
use super::why::sum::{Sum, size};
use super::words;
use super::{Finding, Verdict};
use crate::job::{DriveKind, Edit, FeatureKind, Job, Pass, PassKind, Setup, Subject};
use crate::study::JobResult;
use crate::study::coverage::{Cover, Coverage, FeatureCover, Stretch};
use crate::study::reach::tool_room_mm;

/// A pass ends at a gap where it stops within this of it.
const AT_THE_GAP_MM: f64 = 0.01;
/// Nobody lengthens a pass by less. Common practice, no source.
const WORTH_IT_MM: f64 = 0.5;
/// Ends of threads and grooves are not cut finer than this. Common practice, no source.
const FEATURE_END_MM: f64 = 0.5;

/// One finding for each length not cut, left heavy or undersize, and one for each thread or groove not cut.
#[must_use]
pub fn findings(job: &Job, result: &JobResult, coverage: &Coverage) -> Vec<Finding> {
    if job.shaft.wanted.is_empty() && job.shaft.features.is_empty() {
        return Vec::new();
    }
    if job.setups.iter().any(|setup| result.setup(setup.id).is_none()) {
        return Vec::new();
    }
    let lengths = merged(coverage).into_iter().filter_map(|stretch| finding_of(job, coverage, &stretch));
    lengths.chain(coverage.features.iter().filter_map(|feature| of_feature(job, feature))).collect()
}

/// Stretches of one state, whoever cut them last.
fn merged(coverage: &Coverage) -> Vec<Stretch> {
    let mut all: Vec<Stretch> = Vec::new();
    for stretch in &coverage.stretches {
        match all.last_mut().filter(|last| last.cover == stretch.cover && stretch.from_s_mm <= last.to_s_mm + 1e-6) {
            Some(last) => {
                last.to_s_mm = stretch.to_s_mm;
                last.by_mm = last.by_mm.max(stretch.by_mm);
            }
            None => all.push(*stretch),
        }
    }
    all
}

fn finding_of(job: &Job, coverage: &Coverage, stretch: &Stretch) -> Option<Finding> {
    let units = job.units;
    let place = place_words(job, stretch.from_s_mm, stretch.to_s_mm);
    let off = words::diameter(stretch.by_mm, units);
    let (verdict, text, why) = match stretch.cover {
        Cover::NotDrawn | Cover::AsStock | Cover::ToSize => return None,
        Cover::Uncut if stretch.by_mm > 0.0 => (
            Verdict::Trouble,
            format!("Not cut in any set-up: {place}; {off} is still to come off"),
            reasons(job, coverage, stretch),
        ),
        Cover::Uncut => (
            Verdict::Watch,
            format!("Not cut in any set-up: {place}; the drawing asks for a tolerance, and the stock is left as it is"),
            "Stock keeps the size it was drawn or ground to. If that is good enough here, nothing is to be done."
                .to_owned(),
        ),
        Cover::Heavy => (
            Verdict::Watch,
            format!("Left heavy: {place}; up to {off} is still to come off after the last pass"),
            "The last dial here stands above what the drawing allows. A finishing pass takes it to size.".to_owned(),
        ),
        Cover::Undersize => (
            Verdict::Trouble,
            format!("Cut below the drawing: {place}, by {off} on the dial"),
            "The dial itself goes below what the drawing allows: look for a depth or a diameter that was typed wrong."
                .to_owned(),
        ),
    };
    let remedy = if stretch.cover == Cover::Uncut { lengthened(job, stretch) } else { None };
    let setup = (remedy.as_ref().map(|longer| longer.setup))
        .or_else(|| job.setups.iter().rev().find(|setup| !in_jaws(job, setup, stretch)))
        .or(job.setups.last())?;
    let middle_mm = f64::midpoint(stretch.from_s_mm, stretch.to_s_mm);
    Some(Finding {
        rule: "not_cut",
        about: Subject::Setup(setup.id),
        verdict,
        text,
        why,
        z_mm: Some(setup.z_of_s_mm(&job.shaft, middle_mm)),
        remedy: remedy.map(|longer| (longer.words, longer.edit)),
        behind: behind(job, (stretch.from_s_mm, stretch.to_s_mm), stretch.by_mm, stretch.cover == Cover::Undersize),
    })
}

/// How long the stretch is, and how far off the drawing.
fn behind(job: &Job, (from_s_mm, to_s_mm): (f64, f64), by_mm: f64, is_small: bool) -> Why {
    let why = Why::new(
        "Every pass is laid over the shaft with what its dial says and what it leaves; this length comes out so.",
        "the program's own bookkeeping",
        "sure, where the measures of the lathe are as stated",
    )
    .with(apart(job, "long", "its end \u{2212} its beginning, from end A", to_s_mm, from_s_mm));
    let inside_mm = [from_s_mm + AT_THE_GAP_MM, to_s_mm - AT_THE_GAP_MM].map(|s_mm| job.shaft.wanted_diameter_mm(s_mm));
    let [Some(drawn_mm), Some(other_mm)] = inside_mm else { return why };
    if by_mm <= 0.0 || drawn_mm != other_mm {
        return why;
    }
    let (words, large_mm, small_mm) = if is_small {
        ("diameter of the drawing \u{2212} what the dial leaves", drawn_mm, drawn_mm - by_mm)
    } else {
        ("diameter that stands there \u{2212} diameter of the drawing", drawn_mm + by_mm, drawn_mm)
    };
    let numbers = format!("{} \u{2212} {}", size(large_mm), size(small_mm));
    why.with(Sum::figure("off by", words, numbers, words::diameter(by_mm, job.units)))
}

/// "40 to 85 mm from end A (bearing seat)".
#[must_use]
pub fn place_words(job: &Job, from_s_mm: f64, to_s_mm: f64) -> String {
    let middle_mm = f64::midpoint(from_s_mm, to_s_mm);
    let name = (job.shaft.wanted_spans())
        .find(|(from_mm, to_mm, _)| (*from_mm..*to_mm).contains(&middle_mm))
        .map(|(_, _, wanted)| wanted.name.as_str())
        .filter(|name| !name.is_empty());
    let stretch = along(job, from_s_mm, to_s_mm);
    name.map_or_else(|| stretch.clone(), |name| format!("{stretch} ({name})"))
}

/// Why no set-up reaches a length: one clause for each.
fn reasons(job: &Job, coverage: &Coverage, stretch: &Stretch) -> String {
    let middle_mm = f64::midpoint(stretch.from_s_mm, stretch.to_s_mm);
    let meets = |from_mm: f64, to_mm: f64| (from_mm - 1e-6..=to_mm + 1e-6).contains(&middle_mm);
    let mut clauses = Vec::new();
    let mut held_everywhere = true;
    for (index, setup) in job.setups.iter().enumerate() {
        let here = coverage.setup(setup.id);
        let z_mm = setup.z_of_s_mm(&job.shaft, middle_mm);
        let closed = || {
            setup.rests.iter().any(|rest| {
                let (low_mm, high_mm) = closed_stretch_mm(job, rest);
                (low_mm..=high_mm).contains(&z_mm)
            })
        };
        let in_jaws = here.and_then(|here| here.held).is_some_and(|(from_mm, to_mm)| meets(from_mm, to_mm));
        held_everywhere &= in_jaws;
        let under = || here.is_some_and(|here| here.under.iter().any(|(_, from_mm, to_mm)| meets(*from_mm, *to_mm)));
        let what = if in_jaws {
            format!("it lies in the {}", words::drive_name(setup.drive.kind))
        } else if under() {
            "it lies under a steady rest".to_owned()
        } else if closed() {
            "it lies so near a steady rest that the tool does not get there".to_owned()
        } else {
            "no pass reaches it".to_owned()
        };
        clauses.push(format!("in set-up {} {what}", index + 1));
    }
    let close = if held_everywhere {
        " Hold the other end in one more set-up: turn the shaft end for end."
    } else {
        " Lengthen a pass, or add a set-up that reaches it."
    };
    format!("{}.{close}", words::capital(&clauses.join(", ")))
}

fn in_jaws(job: &Job, setup: &Setup, stretch: &Stretch) -> bool {
    let middle_mm = f64::midpoint(stretch.from_s_mm, stretch.to_s_mm);
    setup.drive.kind != DriveKind::CentreAndDog && setup.z_of_s_mm(&job.shaft, middle_mm) <= 0.0
}

/// Passes carried on over a gap.
struct Longer<'a> {
    setup: &'a Setup,
    words: String,
    edit: Edit,
}

/// The passes that end at a gap, carried on over it as far as the tool gets there.
fn lengthened<'a>(job: &'a Job, stretch: &Stretch) -> Option<Longer<'a>> {
    job.setups.iter().find_map(|setup| {
        let ends = [stretch.from_s_mm, stretch.to_s_mm].map(|s_mm| setup.z_of_s_mm(&job.shaft, s_mm));
        let gap = (ends[0].min(ends[1]), ends[0].max(ends[1]));
        let longer: Vec<(f64, Pass)> =
            setup.passes.iter().filter_map(|pass| carried_on(job, setup, pass, gap)).collect();
        let end_mm = longer.first()?.0;
        let edits: Vec<Edit> =
            longer.iter().map(|(_, pass)| Edit::SetPass { setup: setup.id, pass: pass.clone() }).collect();
        let which = if edits.len() == 1 { "the pass" } else { "these passes" };
        let words = format!("Carry {which} on to {}", words::length(end_mm, job.units));
        Some(Longer { setup, words, edit: Edit::Together(edits) })
    })
}

/// A pass with its end at the gap moved as far over it as the tool gets, and where it then ends.
fn carried_on(job: &Job, setup: &Setup, pass: &Pass, gap: (f64, f64)) -> Option<(f64, Pass)> {
    if !matches!(pass.kind, PassKind::Turn | PassKind::Spring) {
        return None;
    }
    let (low_mm, high_mm) = pass.span_mm();
    let (old_mm, new_mm) = if (low_mm - gap.1).abs() < AT_THE_GAP_MM {
        let jaws_mm = tool_room_mm(job, setup).0.0;
        let rest_mm = setup.rests.iter().filter(|rest| rest.z_mm < low_mm).map(|rest| closed_stretch_mm(job, rest).1);
        (low_mm, gap.0.max(jaws_mm).max(rest_mm.fold(f64::NEG_INFINITY, f64::max)))
    } else if (high_mm - gap.0).abs() < AT_THE_GAP_MM {
        let rest_mm = setup.rests.iter().filter(|rest| rest.z_mm > high_mm).map(|rest| closed_stretch_mm(job, rest).0);
        (high_mm, gap.1.min(rest_mm.fold(f64::INFINITY, f64::min)))
    } else {
        return None;
    };
    // Only forwards: a pass that already ends too near a rest is not for this rule to shorten.
    let gained_mm = if old_mm == low_mm { old_mm - new_mm } else { new_mm - old_mm };
    if gained_mm < WORTH_IT_MM {
        return None;
    }
    let mut longer = pass.clone();
    if longer.to_z_mm == old_mm {
        longer.to_z_mm = new_mm;
    } else {
        longer.from_z_mm = new_mm;
    }
    Some((new_mm, longer))
}

fn of_feature(job: &Job, cover: &FeatureCover) -> Option<Finding> {
    let feature = job.shaft.features.get(cover.feature)?;
    let (from_mm, to_mm) = *cover.gaps.iter().find(|(from_mm, to_mm)| to_mm - from_mm > FEATURE_END_MM)?;
    let what = if matches!(feature.kind, FeatureKind::Thread { .. }) { "thread" } else { "groove" };
    let setup = job.setups.last()?;
    Some(Finding {
        rule: "not_cut",
        about: Subject::Setup(setup.id),
        verdict: Verdict::Watch,
        text: format!("The {what} is not cut to its depth: {}", place_words(job, from_mm, to_mm)),
        why: format!("The drawing has a {what} there, and no pass of this job makes it; it may be cut elsewhere."),
        z_mm: Some(setup.z_of_s_mm(&job.shaft, f64::midpoint(from_mm, to_mm))),
        remedy: None,
        behind: behind(job, (from_mm, to_mm), 0.0, false),
    })
}
