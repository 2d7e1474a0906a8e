//! What holds the work in a set-up, as springs and jaws on the mechanics' side of the fence.

use crate::job::{DriveKind, FollowerSide, Jaw, Job, SetTo, Setup, Stiffness, TailKind, TipKind, ToolSide};
use crate::mechanics::cut::JawAt;
use crate::mechanics::walk::NodeSpring;
use crate::mechanics::{RIGID_N_PER_MM, RIGID_NMM_PER_RAD};

use super::results::Support;

/// A gap that never closes: a jaw that is not at the work.
pub const NEVER_MM: f64 = 1e9;

/// Two springs one behind the other.
fn in_series(k1: f64, k2: f64) -> f64 {
    1.0 / (1.0 / k1 + 1.0 / k2)
}

/// The spring of the drive end.
#[must_use]
pub fn drive_spring(job: &Job, setup: &Setup) -> NodeSpring {
    let radial = in_series(
        job.lathe.headstock_k_n_per_mm.value_or(RIGID_N_PER_MM),
        setup.drive.radial_k_n_per_mm.value_or(RIGID_N_PER_MM),
    );
    let rigid = setup.drive.radial_k_n_per_mm == Stiffness::Rigid && job.lathe.headstock_k_n_per_mm == Stiffness::Rigid;
    NodeSpring {
        radial_n_per_mm: if rigid { RIGID_N_PER_MM } else { radial },
        turning_nmm_per_rad: setup.drive.rotation_k_nmm_per_rad.value_or(RIGID_NMM_PER_RAD),
        anchor_mm: [0.0; 2],
    }
}

/// The spring of the tailstock centre, or `None` where the end is free.
///
/// The quill's give grows in a straight line from drawn in to fully out.
#[must_use]
pub fn tail_spring(job: &Job, setup: &Setup) -> Option<NodeSpring> {
    let (lathe, tail) = (&job.lathe, &setup.tail);
    if tail.kind == TailKind::Free {
        return None;
    }
    let radial_n_per_mm = match lathe.tailstock_k_n_per_mm {
        Stiffness::Rigid => RIGID_N_PER_MM,
        Stiffness::Spring(stated) => {
            let out_share = (tail.quill_out_mm / lathe.quill_travel_mm.value.max(1e-9)).clamp(0.0, 1.0);
            let more_give = 1.0 / lathe.quill_out_stiffness_ratio.value - 1.0;
            stated.value * tail.kind.stiffness_ratio() / (1.0 + more_give * out_share)
        }
    };
    Some(NodeSpring { radial_n_per_mm, turning_nmm_per_rad: 0.0, anchor_mm: [tail.offset_x_mm, tail.offset_y_mm] })
}

/// Stretch of the work that bends: from the jaw face, or the centre's point, to the tailstock end.
#[must_use]
pub fn bending_span_mm(job: &Job, setup: &Setup) -> (f64, f64) {
    let end_mm = setup.work_end_z_mm(&job.shaft);
    let start_mm = match setup.drive.kind {
        DriveKind::CentreAndDog => setup.work_start_z_mm,
        DriveKind::ThreeJaw | DriveKind::FourJaw | DriveKind::Collet | DriveKind::FacePlate => {
            setup.work_start_z_mm.max(0.0)
        }
    };
    (start_mm, end_mm)
}

/// The columns of a pass's support forces: drive, tail, every jaw in document order, the follower.
#[must_use]
pub fn supports(setup: &Setup) -> Vec<Support> {
    let n_jaws = setup.rests.iter().map(|rest| rest.jaws.len()).sum::<usize>();
    let mut supports = Vec::with_capacity(6 + n_jaws);
    supports.extend([Support::DriveX, Support::DriveY]);
    if setup.tail.kind != TailKind::Free {
        supports.extend([Support::TailX, Support::TailY]);
    }
    for rest in &setup.rests {
        supports.extend((0..rest.jaws.len()).map(|jaw| Support::Jaw { rest: rest.id, jaw }));
    }
    if setup.follower.is_some() {
        supports.extend([0, 1].map(|jaw| Support::FollowerJaw { jaw }));
    }
    supports
}

/// The jaws of the steady rests, in document order, then the follower's.
///
/// `point_of_rest` gives the watched point of each rest, or `None` off the work; `lie_mm` where the work lies at each
/// rest with no rest touching (away, up). Follower jaws get [`NEVER_MM`] and point 0 until the carriage has a place.
#[must_use]
pub fn jaws(setup: &Setup, point_of_rest: &[Option<usize>], lie_mm: &[[f64; 2]]) -> Vec<JawAt> {
    let friction_ratio = |tip: TipKind| if setup.jaw_friction { tip.friction_ratio() } else { 0.0 };
    let jaw_at = |point: Option<usize>, jaw: &Jaw, tip: TipKind| {
        let k_n_per_mm = jaw.k_n_per_mm.value_or(RIGID_N_PER_MM);
        JawAt::new(point.unwrap_or(0), jaw.angle_rad, NEVER_MM, k_n_per_mm, friction_ratio(tip))
    };
    let mut jaws = Vec::new();
    for (index, rest) in setup.rests.iter().enumerate() {
        let mut centre = [rest.offset_x_mm, rest.offset_y_mm];
        if rest.set_to == SetTo::Work {
            centre[0] += lie_mm[index][0];
            centre[1] += lie_mm[index][1];
        }
        for jaw in &rest.jaws {
            let mut at = jaw_at(point_of_rest[index], jaw, rest.tip);
            if point_of_rest[index].is_some() {
                at.gap_mm = jaw.gap_mm + at.direction[0] * centre[0] + at.direction[1] * centre[1];
            }
            jaws.push(at);
        }
    }
    if let Some(follower) = &setup.follower {
        jaws.extend(follower.jaws.iter().map(|jaw| jaw_at(None, jaw, follower.tip)));
    }
    jaws
}

/// +1 for a tool at the front, -1 at the rear.
#[must_use]
pub fn tool_side(setup: &Setup) -> f64 {
    match setup.tool.side {
        ToolSide::Front => 1.0,
        ToolSide::Rear => -1.0,
    }
}

/// From the tool to the follower along z, with its sign, for a feed towards the headstock or the tailstock.
#[must_use]
pub fn follower_reach_mm(setup: &Setup, to_headstock: bool) -> Option<f64> {
    let follower = setup.follower.as_ref()?;
    let behind = if to_headstock { follower.distance_mm } else { -follower.distance_mm };
    Some(match follower.side {
        FollowerSide::Behind => behind,
        FollowerSide::Ahead => -behind,
    })
}
