//! Work that stands far out of its last support with nothing at its end.
//!
//! Source: two makers' lathe manuals: use the tailstock centre beyond 2.5 diameters from the chuck; a third: support
//! what stands out more than 3 diameters. No standard fixes the ratio; what is computed counts.

use super::why::sum::{Sum, number};
use super::why::{Sketch, Why};
use super::words;
use super::{Finding, Verdict};
use crate::job::{Job, Setup, Subject, TailKind};
use crate::study::JobResult;

/// Beyond this many diameters a tailstock centre is recommended.
const USE_A_CENTRE_RATIO: f64 = 2.5;
/// Beyond this many it is required.
const SUPPORT_IT_RATIO: f64 = 3.0;

/// At most one finding for each set-up with a free end.
#[must_use]
pub fn findings(job: &Job, _result: &JobResult) -> Vec<Finding> {
    job.setups
        .iter()
        .filter(|setup| setup.tail.kind == TailKind::Free)
        .filter_map(|setup| finding_of(job, setup))
        .collect()
}

fn finding_of(job: &Job, setup: &Setup) -> Option<Finding> {
    let units = job.units;
    let end_z_mm = setup.work_end_z_mm(&job.shaft);
    let last = setup.rests.iter().filter(|rest| rest.z_mm < end_z_mm).max_by(|a, b| a.z_mm.total_cmp(&b.z_mm));
    let from_z_mm = last.map_or(0.0, |rest| rest.z_mm.max(0.0));
    let out_mm = end_z_mm - from_z_mm;
    let (thickness_mm, thickness) = mean_diameter(job, setup, from_z_mm, end_z_mm)?;
    let ratio = out_mm / thickness_mm;
    if ratio <= USE_A_CENTRE_RATIO {
        return None;
    }
    let from = match last {
        Some(rest) => words::rest_name(rest, units),
        None => "the jaws".to_owned(),
    };
    Some(Finding {
        rule: "overhang",
        about: Subject::Tail(setup.id),
        verdict: if ratio > SUPPORT_IT_RATIO { Verdict::Watch } else { Verdict::Fine },
        text: words::capital(&format!(
            "{}the work stands {} out of {from}, {ratio:.1} times its diameter, with nothing at its end",
            words::of_setup(job, setup),
            words::length(out_mm, units)
        )),
        why: "Lathe manuals ask for a tailstock centre beyond 2.5 to 3 diameters. It is a rule of thumb: the computed \
              spring says more."
            .to_owned(),
        z_mm: Some(end_z_mm),
        remedy: None,
        behind: Why::new(
            "How far the work stands out of its last support, counted in its own diameters.",
            "lathe manuals: a centre beyond 2.5 diameters (two makers), support beyond 3 (a third)",
            "read; a rule of thumb for one thickness and one cut",
        )
        .with(Sum::figure(
            "stands out",
            "end of the work \u{2212} last support, from the jaw face",
            format!("{} \u{2212} {}", number(end_z_mm), number(from_z_mm)),
            words::length(out_mm, units),
        ))
        .with(thickness)
        .with(in_diameters(out_mm, thickness_mm, 1))
        .drawn(Sketch::Bar {
            from_mm: from_z_mm,
            to_mm: None,
            load_at_mm: end_z_mm,
            diameter_mm: thickness_mm,
        }),
    })
}

/// Length over diameter, with so many decimals.
pub(super) fn in_diameters(length_mm: f64, diameter_mm: f64, n_decimals: usize) -> Sum {
    let numbers = format!("{} \u{f7} {}", number(length_mm), number(diameter_mm));
    let shown = format!("{:.n_decimals$} times", length_mm / diameter_mm);
    Sum::figure("in diameters", "length \u{f7} mean diameter", numbers, shown)
}

/// Mean diameter of the stock over a stretch of the set-up, and how it comes about; nothing where no stock lies there.
pub(super) fn mean_diameter(job: &Job, setup: &Setup, from_z_mm: f64, to_z_mm: f64) -> Option<(f64, Sum)> {
    let ends_mm = [setup.s_of_z_mm(&job.shaft, from_z_mm), setup.s_of_z_mm(&job.shaft, to_z_mm)];
    let (low_mm, high_mm) = (ends_mm[0].min(ends_mm[1]), ends_mm[0].max(ends_mm[1]));
    let mut area_mm2 = 0.0;
    let mut length_mm = 0.0;
    let mut parts = Vec::new();
    for (from_mm, to_mm, land) in job.shaft.stock_spans() {
        let shared_mm = to_mm.min(high_mm) - from_mm.max(low_mm);
        if shared_mm > 0.0 {
            let diameter_mm = f64::midpoint(land.start_diameter_mm, land.end_diameter_mm);
            area_mm2 += shared_mm * diameter_mm;
            parts.push(format!("{} \u{d7} {}", number(diameter_mm), number(shared_mm)));
            length_mm += shared_mm;
        }
    }
    (area_mm2 > 0.0).then(|| {
        let numbers = format!("({}) \u{f7} {}", parts.join(" + "), number(length_mm));
        let words = "diameter of each land of the stock \u{d7} its length there, all together \u{f7} their length";
        let mean_mm = area_mm2 / length_mm;
        (mean_mm, Sum::step("mean diameter", words, numbers, mean_mm, "mm"))
    })
}
