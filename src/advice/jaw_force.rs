//! A jaw that is pressed hard for its surface speed: it may wear, mark the work or heat up.
//!
//! Pressure times rubbing speed, p v, against half the listed limit of the tip's material; the pad is taken as 10 mm
//! long and as wide as the lathe's jaw. Source of limits: Mott, Machine Elements (leaded tin bronze 2.625 MPa m/s,
//! nylon 0.105 dry); half of it as design value, same book, from memory. An estimate.

use super::words::{self, Computed, computed_passes};
use super::{Finding, Verdict};
use crate::job::quantity::{self, Kind};
use crate::job::{Job, Rest, Sleeve, Subject, TipKind, Units};
use crate::study::{JobResult, Status, Support};

/// Length of a pad around the work. Source: common practice, no source.
const PAD_LENGTH_MM: f64 = 10.0;

/// Half the listed p v of the tip (MPa m/s); nothing where no figure was found, or where the tip rolls.
fn design_pv_mpa_m_per_s(tip: TipKind) -> Option<f64> {
    match tip {
        TipKind::Bronze => Some(2.625 / 2.0),
        TipKind::Plastic => Some(0.105 / 2.0),
        TipKind::Brass | TipKind::CastIron | TipKind::Roller => None,
    }
}

/// At most one finding for each rest or follower: its hardest pressed jaw over all passes.
#[must_use]
pub fn findings(job: &Job, result: &JobResult) -> Vec<Finding> {
    let mut all: Vec<(f64, Finding)> = Vec::new();
    for computed in computed_passes(job, result).filter(|computed| computed.result.status == Status::Solved) {
        for (column, support) in computed.result.supports.iter().enumerate() {
            let Some((ratio, finding)) = jaw_finding(job, &computed, column, *support) else { continue };
            match all.iter_mut().find(|(_, other)| other.about == finding.about) {
                Some(known) if ratio > known.0 => *known = (ratio, finding),
                Some(_) => {}
                None => all.push((ratio, finding)),
            }
        }
    }
    all.into_iter().map(|(_, finding)| finding).collect()
}

fn jaw_finding(job: &Job, computed: &Computed<'_>, column: usize, support: Support) -> Option<(f64, Finding)> {
    let setup = computed.setup;
    let (tip, about) = match support {
        Support::Jaw { rest, .. } => (setup.rest(rest)?.tip, Subject::Rest(setup.id, rest)),
        Support::FollowerJaw { .. } => (setup.follower.as_ref()?.tip, Subject::Follower(setup.id)),
        Support::DriveX | Support::DriveY | Support::TailX | Support::TailY => return None,
    };
    let limit = design_pv_mpa_m_per_s(tip)?;
    let (station, force_n) = (0..computed.result.stations.len())
        .map(|station| (station, computed.result.forces_at(station)[column]))
        .max_by(|a, b| a.1.total_cmp(&b.1))?;
    let at = computed.result.stations.get(station)?;
    let pressure_mpa = force_n / (PAD_LENGTH_MM * job.lathe.rest_jaw_width_mm.value);
    let diameter_mm = match support {
        Support::Jaw { rest, .. } => diameter_under(job, computed, setup.rest(rest)?)?,
        _ => at.old_diameter_mm,
    };
    let speed_m_per_s = std::f64::consts::PI * diameter_mm * computed.pass.speed_rpm / 60_000.0;
    let ratio = pressure_mpa * speed_m_per_s / limit;
    (ratio > 1.0).then(|| {
        let finding = Finding {
            rule: "jaw_force",
            about,
            verdict: Verdict::Watch,
            text: format!(
                "{}: {} carries about {} at {}, an estimate: hard work for its tip",
                words::pass_name(job, computed.setup, computed.pass),
                words::support_name(computed.setup, support, job.units),
                roughly(force_n, job.units),
                quantity::show(speed_m_per_s, Kind::SurfaceSpeed, job.units),
            ),
            why: "Pressure times rubbing speed is above half of what the tip's material is listed for, on a pad of \
                  10 mm. Oil it well and watch for heat and marks, or turn slower, or take less."
                .to_owned(),
            z_mm: Some(at.z_mm),
            remedy: None,
        };
        (ratio, finding)
    })
}

/// The diameter the jaws of a steady run on.
fn diameter_under(job: &Job, computed: &Computed<'_>, rest: &Rest) -> Option<f64> {
    match rest.sleeve {
        Sleeve::CatHead { diameter_mm, .. } | Sleeve::Bush { diameter_mm, .. } => Some(diameter_mm),
        Sleeve::None => {
            let s_mm = computed.setup.s_of_z_mm(&job.shaft, rest.z_mm);
            job.dial_diameter_mm(computed.setup.id, Some(computed.pass.id), s_mm)
        }
    }
}

/// A force as roughly as it is known: to 10 N or 5 lbf.
fn roughly(force_n: f64, units: Units) -> String {
    let step_n = match units {
        Units::Metric => 10.0,
        Units::Inch => 5.0 * 4.448_221_615_260_5,
    };
    quantity::show((force_n / step_n).round() * step_n, Kind::Force, units)
}
