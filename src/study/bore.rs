//! Boring: the tool stands in the hole on its own side of the work and cuts the wall outwards.
//!
//! A sweep whose sizes are those of the bore: the work is pushed towards the tool, so a work that gives leaves the bore
//! small, and work that lies away from the operator leaves it large. The hole is what is there: a bore of the stock, or
//! what this job has drilled and bored; a pass that runs deeper than the hole stops at its bottom. `Depth` is what the
//! dial adds to the diameter, `ToDiameter` what it stands at; no bore is drawn yet, so `ToDrawing` cuts nothing. The
//! wall gets thinner behind the tool, and stays so for what follows.
//!
//! Limit: the boring tool has the edge of the set-up's tool, and the give of its bar is that of the carriage; a slender
//! bar gives much more.

use std::sync::Arc;

use super::end_work;
use super::force::{Engagement, ForceModel};
use super::layout::{CutSpan, Place};
use super::outline::Side;
use super::prepared::{Prepared, Scene, side_index};
use super::results::{Measured, PassResult, Status};
use super::sweep::{Room, fresh_pieces, run_through};
use super::task::Task;
use crate::job::{Cut, Pass, PassKind};

/// Below this a hole is none.
const NO_HOLE_MM: f64 = 1e-6;
/// Largest share of the outside a bore may take: something must be left of the wall.
const MOST_RATIO: f64 = 0.99;

/// Computes a boring pass, or a spring pass after one.
#[must_use]
pub fn sweep(task: &Task, room: &mut Room, mut result: PassResult) -> PassResult {
    result.measured = Measured::Bore;
    let Some((mut prepared, cut)) = prepare(task, None) else { return result };
    run_through(task.scene, task.outline, &mut prepared, cut, &model(task), room, &mut result);
    if matches!(result.status, Status::Solved | Status::StoppedEarly) {
        let after = task.outline.with_bored(&fresh_pieces(&result.stations));
        result.after = Arc::new(after.to_surface(&task.scene.job.shaft, task.scene.setup));
        result.end = end_work::mouth(task, &prepared, &result);
    }
    result
}

/// The force model of a boring pass.
#[must_use]
pub fn model<'a>(task: &Task<'a>) -> ForceModel<'a> {
    ForceModel::engaged(task.material, &task.scene.setup.tool, task.pass, task.last_depth_mm, Engagement::Bore)
        .times(task.scene.factors)
}

/// A boring pass ready to be solved, with the stretch it bores; `None` where there is no hole to bore.
#[must_use]
pub fn prepare(task: &Task, only_tool_mm: Option<f64>) -> Option<(Prepared, CutSpan)> {
    let scene = task.scene;
    let whole = scene.cut_span(task.pass)?;
    // On the outside nothing is cut: the dial stays where it is.
    let mut idle = Pass { kind: PassKind::Spring, ..task.pass.clone() };
    let mut prepared = scene.prepare(task.outline, Some(&idle), None);
    let cut = CutSpan { to_z_mm: hole_ends_mm(&prepared, &whole)?, ..whole };
    if (cut.to_z_mm - cut.from_z_mm).abs() < 1e-3 {
        return None;
    }
    let only_tool_mm = only_tool_mm.map(|z_mm| z_mm.clamp(cut.ends_mm().0, cut.ends_mm().1));
    if only_tool_mm.is_some() || cut != whole {
        (idle.from_z_mm, idle.to_z_mm) = (cut.from_z_mm, cut.to_z_mm);
        prepared = scene.prepare(task.outline, Some(&idle), only_tool_mm);
    }
    let cuts = take_sizes_of_bore(task, &mut prepared, &cut);
    cuts.then_some((prepared, cut))
}

/// Where the hole ends, going the way of the cut; `None` where there is none to begin with.
fn hole_ends_mm(prepared: &Prepared, cut: &CutSpan) -> Option<f64> {
    let places = &prepared.layout.places;
    let is_solid = |place: &Place| prepared.sizes[place.node][side_index(place.side)].bore_mm < NO_HOLE_MM;
    match places.iter().position(is_solid) {
        None => Some(cut.to_z_mm),
        Some(solid) => Some(prepared.layout.nodes_mm[places[solid.checked_sub(1)?].node]),
    }
}

/// Puts the bore's sizes in place of the outside's, and the wall as it is behind the tool; false where the dial nowhere
/// asks for more than there is.
fn take_sizes_of_bore(task: &Task, prepared: &mut Prepared, cut: &CutSpan) -> bool {
    let scene = task.scene;
    let layout = Arc::make_mut(&mut prepared.layout);
    let nodes_mm = &layout.nodes_mm;
    let (low_mm, high_mm) = cut.ends_mm();
    let mut cuts = task.pass.kind == PassKind::Spring;
    let mut behind = prepared.sizes.clone();
    for ((z_mm, sizes), behind) in nodes_mm.iter().zip(&mut prepared.sizes).zip(&mut behind) {
        for (side, (there, behind)) in
            [Side::Headstock, Side::Tailstock].into_iter().zip(sizes.iter_mut().zip(behind.iter_mut()))
        {
            let in_cut = match side {
                Side::Headstock => *z_mm > low_mm + 1e-9 && *z_mm <= high_mm + 1e-9,
                Side::Tailstock => *z_mm >= low_mm - 1e-9 && *z_mm < high_mm - 1e-9,
            };
            let old_dial_mm = dial_before_mm(scene, task, *z_mm, side).unwrap_or(there.bore_mm);
            let dial_mm =
                if in_cut { dial_mm(task.pass, old_dial_mm).min(MOST_RATIO * there.old_mm) } else { old_dial_mm };
            cuts |= in_cut && dial_mm > old_dial_mm + 1e-9;
            behind.finished_mm = there.old_mm;
            if in_cut {
                behind.bore_mm = there.bore_mm.max(dial_mm);
            }
            (there.old_mm, there.old_dial_mm, there.dial_mm) = (there.bore_mm, old_dial_mm, dial_mm);
        }
    }
    let behind_n = prepared.behind_n;
    prepared.finished = scene.elements(nodes_mm, &behind, behind_n, |sizes| sizes.finished_mm);
    prepared.inside = true;
    for place in &mut layout.places {
        // The carriage stands off the end of the work: a follower has nothing to ride on.
        place.follower = None;
    }
    cuts
}

/// What the dial said of the hole at a place before the pass.
fn dial_before_mm(scene: &Scene, task: &Task, z_mm: f64, side: Side) -> Option<f64> {
    let stock_mm = scene.bore_mm(z_mm, side);
    let made = task.outline.bored_at(z_mm, side)?;
    Some(if made.diameter_mm >= stock_mm { made.dial_mm } else { stock_mm })
}

/// Where the dial of a boring pass stands, where it stood at `old_dial_mm`.
fn dial_mm(pass: &Pass, old_dial_mm: f64) -> f64 {
    match pass.cut {
        _ if pass.kind == PassKind::Spring => old_dial_mm,
        Cut::Depth { on_diameter_mm } => old_dial_mm + on_diameter_mm,
        Cut::ToDiameter { diameter_mm } => diameter_mm.max(old_dial_mm),
        Cut::ToDrawing { .. } => old_dial_mm,
    }
}
