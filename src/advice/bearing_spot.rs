//! A rest must run on a round, smooth, straight band: not on a thread, keyway, flat, spline, weld, hole, groove,
//! taper or shoulder, unless a sleeve covers it.
//!
//! Source: textbooks on the steady rest (true, round, smooth band turned first); features: common practice.

use super::words;
use super::{Finding, Verdict};
use crate::job::{Edit, FeatureKind, Job, Rest, Setup, Sleeve, Subject};
use crate::study::{JobResult, Surface};

/// Diameters along a jaw may differ by this much and still be a straight band.
const STRAIGHT_MM: f64 = 0.05;
/// How far a better place is looked for, either way.
const SEARCH_MM: u32 = 300;

/// At most one finding for each steady rest.
#[must_use]
pub fn findings(job: &Job, result: &JobResult) -> Vec<Finding> {
    job.setups
        .iter()
        .flat_map(|setup| setup.rests.iter().filter_map(move |rest| finding_of(job, result, setup, rest)))
        .collect()
}

fn finding_of(job: &Job, result: &JobResult, setup: &Setup, rest: &Rest) -> Option<Finding> {
    if rest.sleeve != Sleeve::None {
        return None;
    }
    let surface = result.setup(setup.id).map(|setup_result| &setup_result.before);
    let fault = fault_at(job, surface, setup, rest.z_mm)?;
    let better = (1..=SEARCH_MM)
        .flat_map(|step_mm| [f64::from(step_mm), -f64::from(step_mm)])
        .map(|step_mm| (rest.z_mm + step_mm).round())
        .filter(|z_mm| *z_mm > 0.0 && *z_mm < setup.work_end_z_mm(&job.shaft))
        .find(|z_mm| fault_at(job, surface, setup, *z_mm).is_none());
    Some(Finding {
        rule: "bearing_spot",
        about: Subject::Rest(setup.id, rest.id),
        verdict: Verdict::Trouble,
        text: format!("{} stands on {fault}", words::rest_heading(job, setup, rest)),
        why: "The jaws need a true, round, smooth band slightly wider than they are; anything else thumps, marks or \
              moves the work at every turn. Move the rest, or put a cat head or a bush under it."
            .to_owned(),
        z_mm: Some(rest.z_mm),
        remedy: better.map(|z_mm| {
            (
                format!("Move it to {}", words::length(z_mm, job.units)),
                Edit::SetRest { setup: setup.id, rest: Rest { z_mm, ..rest.clone() } },
            )
        }),
    })
}

/// What is wrong with the work under the jaws of a rest at `z_mm`; nothing where it is fit, or off the work.
fn fault_at(job: &Job, surface: Option<&Surface>, setup: &Setup, z_mm: f64) -> Option<&'static str> {
    let middle_mm = setup.s_of_z_mm(&job.shaft, z_mm);
    let half_mm = job.lathe.rest_jaw_width_mm.value / 2.0;
    let (low_mm, high_mm) = (middle_mm - half_mm, middle_mm + half_mm);
    let feature = job
        .shaft
        .features
        .iter()
        .filter(|feature| feature.from_s_mm < high_mm && feature.to_s_mm > low_mm)
        .find_map(|feature| feature_fault(feature.kind));
    feature.or_else(|| shape_fault(job, surface, low_mm, high_mm))
}

fn feature_fault(kind: FeatureKind) -> Option<&'static str> {
    match kind {
        FeatureKind::Thread { .. } => Some("a thread"),
        FeatureKind::Keyway { .. } => Some("a keyway"),
        FeatureKind::Flat => Some("a flat"),
        FeatureKind::Spline => Some("a spline"),
        FeatureKind::Weld => Some("a weld"),
        FeatureKind::CrossHole { .. } => Some("a cross hole"),
        FeatureKind::Groove { .. } => Some("a groove"),
        FeatureKind::TrueSpot => None,
    }
}

fn shape_fault(job: &Job, surface: Option<&Surface>, low_mm: f64, high_mm: f64) -> Option<&'static str> {
    let roots = surface.map_or(&[][..], |surface| &surface.roots);
    if roots.iter().any(|root| root.from_s_mm < high_mm && root.to_s_mm > low_mm) {
        return Some("a thread");
    }
    let stock = || {
        job.shaft
            .stock_spans()
            .map(|(from_mm, to_mm, land)| (from_mm, to_mm, land.start_diameter_mm, land.end_diameter_mm))
            .collect()
    };
    let spans: Vec<(f64, f64, f64, f64)> = match surface.filter(|surface| !surface.spans.is_empty()) {
        Some(surface) => surface
            .spans
            .iter()
            .map(|span| (span.from_s_mm, span.to_s_mm, span.start_diameter_mm, span.end_diameter_mm))
            .collect(),
        None => stock(),
    };
    let mut under = spans.iter().filter(|span| span.0 < high_mm && span.1 > low_mm);
    let first = under.next()?;
    // A slope is a taper at any jaw width; what counts is the change under the jaw.
    let change_mm = |span: &(f64, f64, f64, f64)| {
        let shared_mm = span.1.min(high_mm) - span.0.max(low_mm);
        (span.3 - span.2).abs() * shared_mm / (span.1 - span.0).max(f64::MIN_POSITIVE)
    };
    let mut taper_mm = change_mm(first);
    let mut last_end_mm = first.3;
    for span in under {
        if (span.2 - last_end_mm).abs() > STRAIGHT_MM {
            return Some("a shoulder");
        }
        taper_mm += change_mm(span);
        last_end_mm = span.3;
    }
    (taper_mm > STRAIGHT_MM).then_some("a taper")
}
