//! What the rules about jaws share: the hardest jaw of every rest and follower, and how roughly its force is told.

use super::Finding;
use super::words::{Computed, computed_passes};
use crate::job::quantity::{self, Kind};
use crate::job::{Job, Subject, Units};
use crate::study::jaw_contact::{JawContact, hardest};
use crate::study::{JobResult, Status, Support};

/// For each rest and follower the jaw with the largest ratio over all solved passes, where that is above 1, told by
/// `tell` (pass, place of the tool, jaw, the rest it is about).
pub fn hardest_of_each(
    job: &Job,
    result: &JobResult,
    ratio: impl Fn(&JawContact) -> Option<f64>,
    tell: impl Fn(&Computed<'_>, f64, &JawContact, Subject) -> Finding,
) -> Vec<Finding> {
    let mut all: Vec<(f64, Subject, Finding)> = Vec::new();
    for computed in computed_passes(job, result).filter(|computed| computed.result.status == Status::Solved) {
        for (z_mm, jaw) in hardest(job, computed.setup, computed.pass, computed.result) {
            let Some(used_ratio) = ratio(&jaw).filter(|ratio| *ratio > 1.0) else { continue };
            let about = match jaw.support {
                Support::Jaw { rest, .. } => Subject::Rest(computed.setup.id, rest),
                _ => Subject::Follower(computed.setup.id),
            };
            match all.iter_mut().find(|(_, other, _)| *other == about) {
                Some(known) if used_ratio > known.0 => *known = (used_ratio, about, tell(&computed, z_mm, &jaw, about)),
                Some(_) => {}
                None => all.push((used_ratio, about, tell(&computed, z_mm, &jaw, about))),
            }
        }
    }
    all.into_iter().map(|(_, _, finding)| finding).collect()
}

/// A force as roughly as it is known: to 10 N or 5 lbf.
#[must_use]
pub fn roughly(force_n: f64, units: Units) -> String {
    let step_n = match units {
        Units::Metric => 10.0,
        Units::Inch => 5.0 * 4.448_221_615_260_5,
    };
    quantity::show((force_n / step_n).round() * step_n, Kind::Force, units)
}
