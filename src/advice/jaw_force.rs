//! A jaw that is pressed hard for its surface speed: it may wear, score the work or heat up.
//!
//! Pressure times rubbing speed on the pad, against half of what the tip's material is listed for; the figures and their
//! sources stand in [`crate::job::tips`]. An estimate: oil, chips and how the tip fits decide as much.

use super::jaws::{hardest_of_each, roughly};
use super::words::{self, Computed};
use super::{Finding, Verdict};
use crate::job::quantity::{self, Kind};
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
    }
}
