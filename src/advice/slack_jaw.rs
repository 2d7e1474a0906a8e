//! Jaws and rests that do nothing: slack all through a pass, or lifted where they are needed most.
//!
//! A jaw set to touch may well be lifted by the push of the cut, on the tool's side; that is as it should be and is
//! not told. Told are: a rest no jaw of which ever touches; a jaw set clear that never touches; a rest that carries
//! nothing at the place of the largest error.

use super::why::Why;
use super::why::jaws::gap;
use super::why::sum::{Sum, number};
use super::words::{self, Computed, computed_passes};
use super::{Finding, Verdict};
use crate::job::{Edit, Follower, Job, PassKind, Rest, Subject};
use crate::study::{JobResult, Status, Support};

/// A gap up to this is "set to touch": the feel of a slip of paper. Source: common practice, no source.
const TOUCHING_GAP_MM: f64 = 0.03;

/// Findings for every rest and follower of every solved pass.
#[must_use]
pub fn findings(job: &Job, result: &JobResult) -> Vec<Finding> {
    let mut all: Vec<Finding> = Vec::new();
    for computed in computed_passes(job, result).filter(is_told) {
        for rest in &computed.setup.rests {
            all.extend(rest_findings(job, &computed, rest));
        }
        if let Some(follower) = &computed.setup.follower {
            all.extend(follower_findings(job, &computed, follower));
        }
    }
    // The same rest is told once, in the first pass it is slack in.
    let mut told: Vec<(Subject, usize)> = Vec::new();
    all.retain(|finding| {
        let key = (finding.about, finding.text.len());
        let is_new = !told.contains(&key);
        told.push(key);
        is_new
    });
    all
}

/// In a spring pass there is little push and jaws may well hang free.
fn is_told(computed: &Computed<'_>) -> bool {
    computed.result.status == Status::Solved
        && computed.pass.kind == PassKind::Turn
        && !computed.result.stations.is_empty()
}

/// Largest force a jaw feels over the pass, and its force where the error is largest.
fn jaw_forces_n(computed: &Computed<'_>, support: Support) -> Option<(f64, f64)> {
    let column = computed.result.supports.iter().position(|other| *other == support)?;
    let n_stations = computed.result.stations.len();
    let largest_n = (0..n_stations).map(|station| computed.result.forces_at(station)[column]).fold(0.0, f64::max);
    let worst = (0..n_stations).max_by(|a, b| {
        let error = |station: usize| computed.result.stations[station].error_mm.abs();
        error(*a).total_cmp(&error(*b))
    })?;
    Some((largest_n, computed.result.forces_at(worst)[column]))
}

fn rest_findings(job: &Job, computed: &Computed<'_>, rest: &Rest) -> Vec<Finding> {
    let forces: Vec<(f64, f64)> =
        (0..rest.jaws.len()).filter_map(|jaw| jaw_forces_n(computed, Support::Jaw { rest: rest.id, jaw })).collect();
    if forces.len() != rest.jaws.len() || forces.is_empty() {
        return Vec::new();
    }
    let pass = words::pass_name(job, computed.setup, computed.pass);
    let name = words::rest_name(rest, job.units);
    let about = Subject::Rest(computed.setup.id, rest.id);
    let set_to_touch = |which: &dyn Fn(usize) -> bool| {
        let mut mended = rest.clone();
        for (jaw, part) in mended.jaws.iter_mut().enumerate() {
            if which(jaw) && part.gap_mm > TOUCHING_GAP_MM {
                part.gap_mm = 0.0;
            }
        }
        (mended != *rest).then(|| ("Set to touch".to_owned(), Edit::SetRest { setup: computed.setup.id, rest: mended }))
    };
    if forces.iter().all(|(largest_n, _)| *largest_n <= 0.0) {
        return vec![Finding {
            rule: "slack_jaw",
            about,
            verdict: Verdict::Watch,
            text: format!("{pass}: {name} never touches the work and carries nothing"),
            why: "A rest that stands clear does not keep the work from springing.".to_owned(),
            z_mm: Some(rest.z_mm),
            remedy: set_to_touch(&|_| true),
            behind: lifted(computed),
        }];
    }
    let slack = |jaw: usize| forces[jaw].0 <= 0.0 && rest.jaws[jaw].gap_mm > TOUCHING_GAP_MM;
    if let Some(jaw) = (0..rest.jaws.len()).find(|jaw| slack(*jaw)) {
        return vec![Finding {
            rule: "slack_jaw",
            about,
            verdict: Verdict::Watch,
            text: format!(
                "{pass}: the {} of {name} is {} clear and never touches",
                words::jaw_name(rest, jaw),
                words::amount(rest.jaws[jaw].gap_mm, job.units)
            ),
            why: "A slack jaw lets the work jump to it when the push changes. Jaws are set to touch, not to press."
                .to_owned(),
            z_mm: Some(rest.z_mm),
            remedy: set_to_touch(&slack),
            behind: lifted(computed).with(Sum::figure(
                "clear",
                "how far the jaw was set off the work",
                number(rest.jaws[jaw].gap_mm),
                words::amount(rest.jaws[jaw].gap_mm, job.units),
            )),
        }];
    }
    if forces.iter().all(|(_, at_worst_n)| *at_worst_n <= 0.0) {
        let worst = computed.result.worst();
        return vec![Finding {
            rule: "slack_jaw",
            about,
            verdict: Verdict::Watch,
            text: format!(
                "{pass}: {name} carries nothing where the error is largest, at {}",
                words::length(worst.map_or(rest.z_mm, |station| station.z_mm), job.units)
            ),
            why: "All its jaws are lifted with the tool there, so it does not help at the worst place.".to_owned(),
            z_mm: worst.map(|station| station.z_mm),
            remedy: set_to_touch(&|_| true),
            behind: gap(),
        }];
    }
    Vec::new()
}

fn follower_findings(job: &Job, computed: &Computed<'_>, follower: &Follower) -> Option<Finding> {
    let forces: Vec<f64> = (0..2)
        .filter_map(|jaw| jaw_forces_n(computed, Support::FollowerJaw { jaw }).map(|(largest_n, _)| largest_n))
        .collect();
    let slack = forces.iter().position(|largest_n| *largest_n <= 0.0)?;
    let mut mended = follower.clone();
    for part in &mut mended.jaws {
        part.gap_mm = part.gap_mm.min(0.0);
    }
    let remedy = (mended != *follower)
        .then(|| ("Set to touch".to_owned(), Edit::SetFollower { setup: computed.setup.id, follower: Some(mended) }));
    Some(Finding {
        rule: "slack_jaw",
        about: Subject::Follower(computed.setup.id),
        verdict: Verdict::Watch,
        text: format!(
            "{}: the follower's {} never touches the work",
            words::pass_name(job, computed.setup, computed.pass),
            words::follower_jaw_name(slack)
        ),
        why: "Both follower jaws should bear: the rear one against the push away, the top one against climbing."
            .to_owned(),
        z_mm: None,
        remedy,
        behind: lifted(computed),
    })
}

/// A jaw or rest that carries nothing in a whole pass.
fn lifted(computed: &Computed<'_>) -> Why {
    let n_places = computed.result.stations.len();
    gap().and(format!("Its force is worked out at {n_places} places of the pass; the largest of them is nothing."))
}
