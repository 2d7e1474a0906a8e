//! Details of the follower rest.

use super::jaws::{TIPS, gap_rows, stiffness_fold};
use crate::app::Commands;
use crate::app::fields::Fields;
use crate::job::quantity::Kind;
use crate::job::usual::FOLLOWER_JAW_K_N_PER_MM;
use crate::job::{Edit, Follower, FollowerSide, Setup};

/// Every field of the follower rest, or a button to mount one.
pub fn follower_ui(fields: &mut Fields<'_>, setup: &Setup, out: &mut Commands) {
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
    fields.choice("Tips", &mut new.tip, TIPS);
    fields.heading("Gap between jaw and work");
    gap_rows(fields, &mut new.jaws);
    fields.part("jaws", |fields| {
        fields.fold("Where its jaws stand", |fields| {
            for (index, jaw) in new.jaws.iter_mut().enumerate() {
                fields.number(&format!("Jaw {} angle", index + 1), &mut jaw.angle_rad, Kind::Angle);
            }
            fields.hint("Seen from the tailstock: 0 points away from you, 90 up.");
        });
    });
    stiffness_fold(fields, &mut new.jaws, FOLLOWER_JAW_K_N_PER_MM);
    if fields.changed {
        out.edits.push(Edit::SetFollower { setup: setup.id, follower: Some(new) });
    }
    fields.ui.add_space(8.0);
    if fields.ui.button("Take the follower rest off").clicked() {
        out.edits.push(Edit::SetFollower { setup: setup.id, follower: None });
    }
}
