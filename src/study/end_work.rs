//! Work at the end: facing, drilling, and the mouth of a bore, read off where the work's axis lies there.
//!
//! A facing tool goes straight across while the work turns about an axis that leans by θ in its plane, so the face is
//! a cone: a front tool leaves the middle lower than the rim by -θ r (hollow where the end leans toward the operator).
//! What lies above or below centre height leaves a pip of twice that. A drill comes along the tailstock's axis and meets
//! the work where its axis lies; a bore is wider at its mouth by twice the work's move there ([`super::bore`]).
//! Source: geometry; signs as common practice tells them.
//!
//! Facing: `Depth` is what comes off the face, else the length of the pass; `ToDiameter` is where it stops. The work
//! keeps its length. A drill is round, straight and free of side force, and its point is left out.

use std::sync::Arc;

use super::bent::{Bent, Push, bend};
use super::force::ForceModel;
use super::holding::tool_side;
use super::outline::Side;
use super::prepared::Prepared;
use super::results::{EndWork, Measured, PassResult, Status};
use super::task::Task;
use crate::job::{Cut, Force, RestId};
use crate::mechanics::cut::ToolAt;
use crate::mechanics::cutting::Forces;

/// Rims nearer together than this leave nothing to face.
const NO_FACE_MM: f64 = 1e-6;

/// A ring to be faced.
#[derive(Clone, Copy, Debug)]
struct Ring {
    z_mm: f64,
    outer_mm: f64,
    /// 0 where the tool goes to the middle.
    inner_mm: f64,
}

/// Computes a facing pass.
#[must_use]
pub fn face(task: &Task, mut result: PassResult) -> PassResult {
    result.measured = Measured::Nothing;
    let Some(ring) = ring(task) else { return result };
    let at_rim = bend(task.scene, task.outline, Some(&face_push(task, &ring, ring.outer_mm)));
    let at_middle = bend(task.scene, task.outline, Some(&face_push(task, &ring, ring.inner_mm)));
    let rest = bend(task.scene, task.outline, None);
    let (Some(at_rim), Some(at_middle), Some(rest)) = (at_rim, at_middle, rest) else {
        result.status = Status::NotHeld;
        return result;
    };
    result.status = status([&at_rim, &at_middle, &rest]);
    if result.status == Status::NotHeld {
        return result;
    }
    let (rim, middle) = (at_rim.at(ring.z_mm), at_middle.at(ring.z_mm));
    let side = tool_side(task.scene.setup);
    let height_mm = |slope_rad: [f64; 2], radius_mm: f64| -side * slope_rad[0] * radius_mm;
    result.end = Some(EndWork {
        dish_mm: Some(height_mm(rim.slope_rad, ring.outer_mm) - height_mm(middle.slope_rad, ring.inner_mm)),
        pip_mm: (ring.inner_mm == 0.0).then_some(2.0 * middle.move_mm[1].abs()),
        ..plain(task, ring.z_mm, rim.move_mm, rim.slope_rad, &rest)
    });
    result
}

/// The work with the tool at the rim of its face.
#[must_use]
pub fn faced(task: &Task) -> Option<Bent> {
    let ring = ring(task)?;
    bend(task.scene, task.outline, Some(&face_push(task, &ring, ring.outer_mm)))
}

/// Computes a drilling pass: the hole is there afterwards.
#[must_use]
pub fn drill(task: &Task, mut result: PassResult) -> PassResult {
    result.measured = Measured::Nothing;
    let (scene, setup) = (task.scene, task.scene.setup);
    let Some(cut) = scene.cut_span(task.pass) else { return result };
    let (low_mm, high_mm) = cut.ends_mm();
    let there_mm = hole_mm(task, high_mm, Side::Headstock);
    let drill_mm = match task.pass.cut {
        Cut::Depth { on_diameter_mm } => there_mm + on_diameter_mm,
        Cut::ToDiameter { diameter_mm } => diameter_mm,
        Cut::ToDrawing { .. } => return result,
    };
    let deep_mm = hole_mm(task, low_mm, Side::Tailstock);
    if drill_mm <= there_mm.min(deep_mm) {
        return result;
    }
    let Some(rest) = bend(scene, task.outline, None) else {
        result.status = Status::NotHeld;
        return result;
    };
    result.status = status([&rest; 3]);
    if result.status == Status::NotHeld {
        return result;
    }
    let there = rest.at(high_mm);
    let off_mm = [there.move_mm[0] - setup.tail.offset_x_mm, there.move_mm[1] - setup.tail.offset_y_mm];
    result.end = Some(plain(task, high_mm, off_mm, there.slope_rad, &rest));
    let holed = task.outline.with_hole(low_mm, high_mm, drill_mm);
    result.after = Arc::new(holed.to_surface(&scene.job.shaft, setup));
    result
}

/// The mouth of a bore that has been computed; `prepared` is the pass. Where the work is, the tool just begins.
#[must_use]
pub fn mouth(task: &Task, prepared: &Prepared, result: &PassResult) -> Option<EndWork> {
    let (deep, mouth) = (result.stations.first()?, result.stations.last()?);
    let side = tool_side(task.scene.setup);
    let forces = Forces { main_n: mouth.fc_n, radial_n: mouth.fp_n, feed_n: mouth.ff_n };
    let radius_mm = mouth.left_diameter_mm / 2.0;
    let toward_headstock = if task.pass.feeds_to_headstock() { -1.0 } else { 1.0 };
    let tool = ToolAt { inside: prepared.inside, ..tool(side, radius_mm, toward_headstock) };
    let cutting = bend(task.scene, task.outline, Some(&Push { z_mm: mouth.z_mm, tool, forces }))?;
    let rest = bend(task.scene, task.outline, None)?;
    let there = cutting.at(mouth.z_mm);
    let growth_mm = mouth.left_diameter_mm - deep.left_diameter_mm;
    Some(EndWork {
        bore_taper_mm_per_100mm: Some(growth_mm / (mouth.z_mm - deep.z_mm) * 100.0),
        ..plain(task, mouth.z_mm, there.move_mm, there.slope_rad, &rest)
    })
}

/// The part that all have.
fn plain(task: &Task, z_mm: f64, off_mm: [f64; 2], slope_rad: [f64; 2], rest: &Bent) -> EndWork {
    EndWork {
        z_mm,
        slope_x_rad: slope_rad[0],
        slope_y_rad: slope_rad[1],
        off_x_mm: off_mm[0],
        off_y_mm: off_mm[1],
        bore_taper_mm_per_100mm: None,
        dish_mm: None,
        pip_mm: None,
        at_steady: at_steady(task, z_mm, rest),
    }
}

/// The rest on the work that stands nearest to a place, and where the axis lies in it.
fn at_steady(task: &Task, z_mm: f64, rest: &Bent) -> Option<(RestId, [f64; 2])> {
    let (low_mm, high_mm) = task.scene.bending_mm;
    let on_work = task.scene.setup.rests.iter().filter(|one| (low_mm..=high_mm).contains(&one.z_mm));
    let nearest = on_work.min_by(|a, b| (a.z_mm - z_mm).abs().total_cmp(&(b.z_mm - z_mm).abs()))?;
    Some((nearest.id, rest.at(nearest.z_mm).move_mm))
}

fn status(all: [&Bent; 3]) -> Status {
    if all.iter().any(|bent| bent.swings_free()) {
        Status::NotHeld
    } else if all.iter().all(|bent| bent.solved) {
        Status::Solved
    } else {
        Status::StoppedEarly
    }
}

/// The ring a facing pass takes; `None` where there is none.
fn ring(task: &Task) -> Option<Ring> {
    let (low_mm, high_mm) = task.scene.bending_mm;
    let z_mm = task.pass.to_z_mm.clamp(low_mm, high_mm);
    let diameter_mm = |side| task.outline.at(z_mm, side).map(|found| found.diameter_mm);
    let (one, other) = (diameter_mm(Side::Headstock), diameter_mm(Side::Tailstock));
    let outer_mm = one.into_iter().chain(other).reduce(f64::max)? / 2.0;
    let hole_mm = hole_mm(task, z_mm, Side::Headstock).max(hole_mm(task, z_mm, Side::Tailstock));
    // At a shoulder the smaller land stands in the way, at the end of the work only a hole.
    let inner_mm = match (one, other) {
        (Some(one), Some(other)) => one.min(other).max(hole_mm) / 2.0,
        _ => hole_mm / 2.0,
    };
    let inner_mm = match task.pass.cut {
        Cut::ToDiameter { diameter_mm } => inner_mm.max(diameter_mm / 2.0),
        Cut::Depth { .. } | Cut::ToDrawing { .. } => inner_mm,
    };
    (outer_mm - inner_mm > NO_FACE_MM).then_some(Ring { z_mm, outer_mm, inner_mm })
}

/// Diameter of the hole at a side of a place; 0 where there is none.
fn hole_mm(task: &Task, z_mm: f64, side: Side) -> f64 {
    task.outline.bored_at(z_mm, side).map_or(0.0, |hole| hole.diameter_mm).max(task.scene.bore_mm(z_mm, side))
}

/// What a facing tool does to the work at a radius: the feed is across, so what would be the push along the work is the
/// push away, and the push into the depth of the cut goes along the work.
fn face_push(task: &Task, ring: &Ring, radius_mm: f64) -> Push {
    let side = tool_side(task.scene.setup);
    let forces = match task.pass.force {
        Force::Typed { radial_n, main_n, feed_n, .. } => Forces { main_n, radial_n, feed_n },
        Force::FromCut => {
            let depth_mm = face_depth_mm(task);
            let model =
                ForceModel::new(task.material, &task.scene.setup.tool, task.pass, depth_mm).times(task.scene.factors);
            let (chip, _) = model.law(2.0 * ring.outer_mm, depth_mm).forces(depth_mm);
            Forces { main_n: chip.main_n, radial_n: chip.feed_n, feed_n: chip.radial_n }
        }
    };
    Push { z_mm: ring.z_mm, tool: tool(side, radius_mm, -1.0), forces }
}

/// What comes off the face, along the work.
fn face_depth_mm(task: &Task) -> f64 {
    match task.pass.cut {
        Cut::Depth { on_diameter_mm } => on_diameter_mm,
        Cut::ToDiameter { .. } | Cut::ToDrawing { .. } => (task.pass.from_z_mm - task.pass.to_z_mm).abs(),
    }
}

/// A tool on one side at a radius; `along` is the sense of its push along the work, -1 to the headstock.
fn tool(side: f64, radius_mm: f64, along: f64) -> ToolAt {
    ToolAt {
        wanted_radius_mm: radius_mm.max(NO_FACE_MM),
        old_radius_mm: radius_mm.max(NO_FACE_MM),
        carriage_mm_per_n: 0.0,
        side,
        feed_lever_mm: side * along * radius_mm,
        inside: false,
    }
}
