//! Details of the follower rest.

use super::jaws::{gap_rows, stiffness_fold, tip_rows};
use super::standing::standing_fold;
use crate::app::fields::Fields;
use crate::app::{Commands, Results, View};
use crate::job::quantity::Kind;
use crate::job::usual::FOLLOWER_JAW_K_N_PER_MM;
use crate::job::{Edit, Follower, FollowerSide, Job, Setup};
use crate::study::reach::follower_reach;

/// Every field of the follower rest, or a button to mount one.
pub fn follower_ui(
    fields: &mut Fields<'_>,
    job: &Job,
    setup: &Setup,
    view: &View,
    results: &Results,
    out: &mut Commands,
) {
    let Some(follower) = &setup.follower else {
        fields.hint("No follower rest is mounted.");
        if fields.ui.button("Mount the follower rest").clicked() {
            out.edits.push(Edit::SetFollower { setup: setup.id, follower: Some(Follower::usual()) });
        }
        return;
    };
    let mut new = follower.clone();
    fields.number("Distance from the tool", &mut new.distance_mm, Kind::Length);
    fields.choice(
        "Jaws bear",
        &mut new.side,
        &[(FollowerSide::Behind, "behind, fresh cut"), (FollowerSide::Ahead, "ahead, old surface")],
    );
    fields.number("Brought on after", &mut new.start_mm, Kind::Length);
    fields.hint("The tool turns so much before the jaws are set on the work; 0: as soon as they can reach it.");
    let runs_on_mm = runs_on_diameter_mm(job, setup, &new, results);
    tip_rows(fields, &mut new.tip, &mut new.tip_bored_mm, &job.lathe, runs_on_mm);
    fields.heading("Gap between jaw and work");
    gap_rows(fields, &mut new.jaws);
    fields.fold("jaws", "Where its jaws stand", |fields| {
        for (index, jaw) in new.jaws.iter_mut().enumerate() {
            fields.number(&format!("Jaw {} angle", index + 1), &mut jaw.angle_rad, Kind::Angle);
        }
        fields.hint("Seen from the tailstock: 0 points away from you, 90 up.");
    });
    stiffness_fold(fields, &mut new.jaws, FOLLOWER_JAW_K_N_PER_MM);
    let pass = view.pass.or_else(|| setup.passes.first().map(|pass| pass.id));
    if let Some(reach) = pass.and_then(|pass| follower_reach(job, &results.result, setup.id, pass)) {
        standing_fold(fields, job, setup, &reach, "Where it may run");
    }
    if fields.changed {
        out.edits.push(Edit::SetFollower { setup: setup.id, follower: Some(new) });
    }
    fields.ui.add_space(8.0);
    if fields.ui.button("Take the follower rest off").clicked() {
        out.edits.push(Edit::SetFollower { setup: setup.id, follower: None });
    }
}

/// Diameter the jaws run on half-way along the first pass that cuts: the fresh one behind the tool, the old one ahead.
fn runs_on_diameter_mm(job: &Job, setup: &Setup, follower: &Follower, results: &Results) -> f64 {
    let mut passes = setup.passes.iter().filter_map(|pass| results.result.pass(pass.id));
    let middle = passes.find_map(|pass| pass.stations.get(pass.stations.len() / 2));
    middle.map_or(job.shaft.max_diameter_mm(), |station| match follower.side {
        FollowerSide::Behind => station.wanted_diameter_mm,
        FollowerSide::Ahead => station.old_diameter_mm,
    })
}
