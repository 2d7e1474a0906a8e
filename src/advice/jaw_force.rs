//! A jaw that is pressed hard for its surface speed: it may wear, score the work or heat up.
//!
//! Pressure times rubbing speed on the pad, against half of what the tip's material is listed for; the figures and their
//! sources stand in [`crate::job::tips`]. An estimate: oil, chips and how the tip fits decide as much.

use super::jaws::{hardest_of_each, roughly};
use super::why::Why;
use super::why::jaws::{drag_numbers, pressure, rubbing_numbers};
use super::why::sum::{Sum, number};
use super::words::{self, Computed};
use super::{Finding, Verdict};
use crate::job::quantity::{self, Kind};
use crate::job::tips::DESIGN_PV_RATIO;
use crate::job::{Job, Subject};
use crate::study::JobResult;
use crate::study::jaw_contact::JawContact;

/// At most one finding for each rest or follower: its hardest pressed jaw over all passes.
#[must_use]
pub fn findings(job: &Job, result: &JobResult) -> Vec<Finding> {
    hardest_of_each(job, result, JawContact::pv_used_ratio, |computed, z_mm, jaw, about| {
        finding_of(job, computed, z_mm, jaw, about)
    })
}

fn finding_of(job: &Job, computed: &Computed<'_>, z_mm: f64, jaw: &JawContact, about: Subject) -> Finding {
    let units = job.units;
    Finding {
        rule: "jaw_force",
        about,
        verdict: Verdict::Watch,
        text: format!(
            "{}: {} carries about {} at {}, an estimate: hard work for its tip",
            words::pass_name(job, computed.setup, computed.pass),
            words::support_name(computed.setup, jaw.support, units),
            roughly(jaw.force_n, units),
            quantity::show(jaw.rubbing_m_per_s, Kind::SurfaceSpeed, units),
        ),
        why: format!(
            "Pressure times rubbing speed is above half of what the tip's material is listed for, on a pad of {} by {}, \
             and its friction makes some {:.0} W of heat. Oil it well and watch for heat and marks, or turn slower, or \
             take less.",
            words::length(job.lathe.pad_length_mm.value, units),
            words::length(job.lathe.rest_jaw_width_mm.value, units),
            jaw.heat_w
        ),
        z_mm: Some(z_mm),
        remedy: None,
        behind: behind(job, computed, jaw),
    }
}

fn behind(job: &Job, computed: &Computed<'_>, jaw: &JawContact) -> Why {
    let (pressure, speed_rpm) = (pressure(job, computed.setup, jaw, true), computed.pass.speed_rpm);
    let (worked, limit) = (jaw.pv_mpa_m_per_s.unwrap_or(0.0), jaw.pv_limit_mpa_m_per_s.unwrap_or(0.0));
    let sketch = pressure.sketch.clone();
    let why = Why::new(
        "How hard the tip works: its pressure times the speed at which the work rubs on it, where it is pressed most.",
        "plain-bearing practice: the figure a bearing material is listed for (Mott), half of it to work with",
        "listed figures: read for bronze and plastic, else from memory; the half: from memory; within a factor of two",
    );
    Why { sums: pressure.sums, ..why }
        .drawn(sketch)
        .with(Sum::figure(
            "rubbing",
            "\u{3c0} \u{d7} diameter \u{d7} turns a minute",
            rubbing_numbers(jaw, speed_rpm),
            quantity::show(jaw.rubbing_m_per_s, Kind::SurfaceSpeed, job.units),
        ))
        .with(Sum::step(
            "pressure times speed",
            "mean pressure, in N/mm\u{b2} \u{d7} rubbing speed, in m/s",
            format!("{} \u{d7} {}", number(jaw.mean_mpa), number(jaw.rubbing_m_per_s)),
            worked,
            "N/mm\u{b2} m/s",
        ))
        .with(Sum::step(
            "to work with",
            "what its material is listed for \u{d7} the share to work with",
            format!("{} \u{d7} {}", number(limit / DESIGN_PV_RATIO), number(DESIGN_PV_RATIO)),
            limit,
            "N/mm\u{b2} m/s",
        ))
        .with(Sum::figure(
            "heat",
            "friction of an oiled tip \u{d7} force of the jaw \u{d7} rubbing speed",
            drag_numbers(jaw) + " \u{d7} " + &rubbing_numbers(jaw, speed_rpm),
            format!("{:.0} W", jaw.heat_w),
        ))
        .and(format!("That is {:.2} times what to work with.", worked / limit))
}
