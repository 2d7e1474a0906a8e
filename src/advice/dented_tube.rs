//! A thin tube under the jaws of a rest: its wall goes in, and the work stands that much nearer to the jaw.
//!
//! A ring as long as the jaws are wide under the computed forces of all jaws of the rest, taken by itself: the tube on
//! both sides holds it, so this is the most it can be. An axis that goes off by so much leaves twice as much on diameter
//! at the most; told where that is more than the closest tolerance the pass cuts to. Source of the ring: see
//! [`crate::mechanics::ring`]. The computed spring does not hold it.

use super::size::closest_tolerance_mm;
use super::why::ring::going_in;
use super::why::sum::{Sum, number};
use super::words::{self, Computed, computed_passes};
use super::{Finding, Verdict};
use crate::job::{Job, Sleeve, Subject};
use crate::mechanics::ring::{Load, Ring};
use crate::study::jaw_contact::PassJaws;
use crate::study::{JobResult, Status, Support};

/// At most one finding for each rest and follower: the pass in which its jaws go in furthest.
#[must_use]
pub fn findings(job: &Job, result: &JobResult) -> Vec<Finding> {
    let mut all: Vec<(f64, Finding)> = Vec::new();
    for computed in computed_passes(job, result).filter(|computed| computed.result.status == Status::Solved) {
        let setup = computed.setup;
        let rests = setup.rests.iter().map(|rest| Subject::Rest(setup.id, rest.id));
        for about in rests.chain(setup.follower.iter().map(|_| Subject::Follower(setup.id))) {
            let Some((in_mm, finding)) = finding_of(job, &computed, about) else { continue };
            match all.iter_mut().find(|(_, other)| other.about == about) {
                Some(known) if in_mm > known.0 => *known = (in_mm, finding),
                Some(_) => {}
                None => all.push((in_mm, finding)),
            }
        }
    }
    all.into_iter().map(|(_, finding)| finding).collect()
}

/// How far the wall goes in at most, where the tool stands then, and which jaw does it.
struct Dent {
    in_mm: f64,
    tool_z_mm: f64,
    support: Support,
    angle_rad: f64,
    ring: Ring,
    loads: Vec<Load>,
}

fn finding_of(job: &Job, computed: &Computed<'_>, about: Subject) -> Option<(f64, Finding)> {
    let dent = deepest_dent(job, computed, about)?;
    let allowed_mm = closest_tolerance_mm(job, computed.setup, computed.result.stations.iter())?;
    if 2.0 * dent.in_mm <= allowed_mm {
        return None;
    }
    let finding = Finding {
        rule: "dented_tube",
        about,
        verdict: Verdict::Watch,
        text: format!(
            "{}: {} may press the tube's wall in by up to {}",
            words::pass_name(job, computed.setup, computed.pass),
            words::support_name(computed.setup, dent.support, job.units),
            words::amount(dent.in_mm, job.units)
        ),
        why: format!(
            "A thin wall gives under a jaw, so the work springs more than is computed: at most twice that on diameter, \
             where the tolerance has {} in all. This is the most it can be, from a ring as long as the jaw is wide by \
             itself. A plug in the bore under the rest, or a sleeve over the work, stiffens it.",
            words::amount(allowed_mm, job.units)
        ),
        z_mm: Some(dent.tool_z_mm),
        remedy: None,
        behind: going_in(&dent.ring, &dent.loads, dent.angle_rad, job.units).with(Sum::figure(
            "at most, on diameter",
            "twice how far the wall goes in",
            format!("2 \u{d7} {}", number(dent.in_mm)),
            words::amount(2.0 * dent.in_mm, job.units),
        )),
    };
    Some((dent.in_mm, finding))
}

fn deepest_dent(job: &Job, computed: &Computed<'_>, about: Subject) -> Option<Dent> {
    let (setup, result) = (computed.setup, computed.result);
    if job.shaft.bores.is_empty() {
        return None;
    }
    let e_mpa = job.material().e_mpa.value;
    let columns: Vec<(usize, Support, f64)> = (result.supports.iter().enumerate())
        .filter_map(|(column, support)| Some((column, *support, angle_of_rad(computed, *support, about)?)))
        .collect();
    let jaws = PassJaws::new(job, setup, Some(computed.pass), columns.iter().map(|(_, support, _)| *support));
    let dent_at = |station: usize| {
        let (at, forces_n) = (&result.stations[station], result.forces_at(station));
        let z_mm = match about {
            Subject::Rest(_, rest) => setup.rest(rest)?.z_mm,
            _ => words::follower_z_mm(setup, Some(computed.pass), at.z_mm)?,
        };
        let bore_mm = job.shaft.bore_diameter_mm(setup.s_of_z_mm(&job.shaft, z_mm));
        let forces_n: Vec<f64> = columns.iter().map(|(column, _, _)| forces_n[*column]).collect();
        let outside_mm = jaws.diameter_mm(0, at)?;
        let ring = (bore_mm > 0.0)
            .then(|| Ring::of_tube(outside_mm, bore_mm, job.lathe.rest_jaw_width_mm.value, e_mpa))
            .filter(Ring::is_thin)?;
        let loads: Vec<Load> = columns
            .iter()
            .zip(&forces_n)
            .map(|((_, _, angle_rad), n)| Load { angle_rad: *angle_rad, force_n: *n })
            .collect();
        let dents = columns.iter().map(|(_, support, angle_rad)| Dent {
            in_mm: ring.in_mm(&loads, *angle_rad),
            tool_z_mm: at.z_mm,
            support: *support,
            angle_rad: *angle_rad,
            ring,
            loads: loads.clone(),
        });
        dents.max_by(|a, b| a.in_mm.total_cmp(&b.in_mm))
    };
    (0..result.stations.len()).filter_map(dent_at).max_by(|a, b| a.in_mm.total_cmp(&b.in_mm))
}

/// Where a jaw of this rest stands, if it is one of it and bears on the work itself.
fn angle_of_rad(computed: &Computed<'_>, support: Support, about: Subject) -> Option<f64> {
    match (support, about) {
        (Support::Jaw { rest, jaw }, Subject::Rest(_, other)) if rest == other => {
            let found = computed.setup.rest(rest)?;
            (found.sleeve == Sleeve::None).then_some(found.jaws.get(jaw)?.angle_rad)
        }
        (Support::FollowerJaw { jaw }, Subject::Follower(_)) => {
            Some(computed.setup.follower.as_ref()?.jaws.get(jaw)?.angle_rad)
        }
        _ => None,
    }
}
