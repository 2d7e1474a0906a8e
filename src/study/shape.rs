//! The work bent, with the tool at one place or drawn back: what the bench and the end view draw.
//!
//! One place is solved with the very steps of a sweep; then all forces are known and the whole line follows in one
//! walk.

use super::bent::{Bent, bend};
use super::between::over_between;
use super::force::ForceModel;
use super::holding::{follower_reach_mm, supports};
use super::layout::CutSpan;
use super::outline::{Outline, SAME_PLACE_MM, Side};
use super::prepared::{Prepared, Scene};
use super::results::{PassResult, Reaction, Shape, Station, Status, Surface};
use super::sweep::{Room, Run, take_what_was_left};
use super::task::{Task, repeated};
use super::{bore, end_work, point_cut, thread};
use crate::job::{FollowerSide, PassKind, Setup};
use crate::mechanics::cut::{JawAt, Workbench};
use crate::mechanics::deflection::bent_line;
use crate::mechanics::walk::{NodeLoad, NodeSpring};

/// The work with the tool drawn back; `surface` is its outside.
#[must_use]
pub fn at_rest(scene: &Scene, surface: &Surface) -> Option<Shape> {
    let outline = Outline::of(surface, &scene.job.shaft, scene.setup);
    of_bent(scene, &bend(scene, &outline, None)?)
}

fn of_bent(scene: &Scene, bent: &Bent) -> Option<Shape> {
    finish(scene, &bent.prepared, &bent.bench, &bent.loads, None, None, bent.solved)
}

/// The work with the tool of a computed pass at `tool_z_mm`, kept within the pass. A drill leaves it as it lies.
#[must_use]
pub fn in_cut(task: &Task, result: &PassResult, tool_z_mm: f64) -> Option<Shape> {
    let &Task { scene, outline, pass, .. } = task;
    let repeated = repeated(scene.setup, pass);
    let whole = scene.cut_span(pass);
    let z_mm = whole.map_or(tool_z_mm, |cut| tool_z_mm.clamp(cut.ends_mm().0, cut.ends_mm().1));
    match repeated.kind {
        PassKind::Turn | PassKind::Spring => {
            let prepared = scene.prepare(outline, Some(pass), Some(z_mm));
            let model =
                ForceModel::new(task.material, &scene.setup.tool, pass, task.last_depth_mm).times(scene.factors);
            at_place(scene, [outline; 2], prepared, whole?, &model, result)
        }
        PassKind::Thread => {
            let pitch_mm = repeated.feed_mm_per_rev;
            let over = thread::OverRoots::new(task, pitch_mm);
            let prepared = over.prepare(task, Some(z_mm));
            at_place(&over.scene, [&over.outline, outline], prepared, whole?, &thread::model(task, pitch_mm), result)
        }
        PassKind::Bore => {
            let (prepared, cut) = bore::prepare(task, Some(z_mm))?;
            at_place(scene, [outline; 2], prepared, cut, &bore::model(task), result)
        }
        PassKind::Groove | PassKind::Part => {
            let mut bottom = point_cut::at_bottom(task, repeated)?;
            point_cut::same_on_both_sides(&mut bottom.prepared, true);
            at_place(scene, [outline; 2], bottom.prepared, bottom.cut, &point_cut::model(task, &bottom.cut), result)
        }
        PassKind::Face => of_bent(scene, &end_work::faced(task)?),
        PassKind::Drill => of_bent(scene, &bend(scene, outline, None)?),
    }
}

/// The work with the tool at the one place a pass was prepared for; of the outlines the first is what is cut, the second
/// the outside.
fn at_place(
    scene: &Scene,
    [outline, crests]: [&Outline; 2],
    mut prepared: Prepared,
    cut: CutSpan,
    model: &ForceModel,
    result: &PassResult,
) -> Option<Shape> {
    let place = *prepared.layout.places.first()?;
    let z_mm = prepared.layout.nodes_mm[place.node];
    let mut left: Vec<(f64, f64)> = result.stations.iter().map(|s| (s.z_mm, s.error_mm / 2.0)).collect();
    if cut.to_headstock() {
        left.reverse();
    }
    if let Some(behind) = &result.behind {
        take_what_was_left(scene, &mut prepared, &Outline::of(behind, &scene.job.shaft, scene.setup));
    }
    let mut off: Vec<(f64, [f64; 2])> = result.stations.iter().map(|s| (s.z_mm, s.turned.off_mm)).collect();
    if cut.to_headstock() {
        off.reverse();
    }
    let set_mm = match &prepared.crest {
        None => follower_set_mm(scene.setup, outline, &left, &cut),
        // A plunge has one place: the follower is set there.
        Some(_) if result.plunge.is_some() => None,
        Some(_) => set_on_crest_mm(scene.setup, crests, &left, &cut),
    };
    off.retain(|(place_mm, _)| if cut.to_headstock() { *place_mm >= z_mm - 1e-9 } else { *place_mm <= z_mm + 1e-9 });
    left.retain(|(place_mm, _)| if cut.to_headstock() { *place_mm >= z_mm - 1e-9 } else { *place_mm <= z_mm + 1e-9 });

    let mut room = Room::default();
    let mut run = Run::new(scene, &prepared, cut, &mut room);
    run.remember(left, off, set_mm);
    let away_mm = |index: &usize| (result.stations[*index].z_mm - z_mm).abs();
    if let Some(nearest) = (0..result.stations.len()).min_by(|a, b| away_mm(a).total_cmp(&away_mm(b))) {
        run.lie_as(result.forces_at(nearest));
    }
    let (station, solved) = run.station(&place, model)?;
    let mut loads = jaw_loads(&prepared, run.bench(), place.follower.map(|node| (node, run.jaws())));
    let [away_n, up_n, moment_nmm] = run.bench().push;
    loads.push(NodeLoad { node: place.node, force_n: [away_n, up_n], moment_nmm: [moment_nmm, 0.0] });
    loads.sort_by_key(|load| load.node);
    let to_headstock = cut.to_headstock();
    let mut merged = prepared.clone();
    for (index, element) in merged.old.iter_mut().enumerate() {
        let behind = if to_headstock { index >= place.node } else { index < place.node };
        if behind {
            *element = prepared.finished[index];
        }
    }
    let mut shape = finish(scene, &merged, run.bench(), &loads, Some(station), Some(&run), solved)?;
    if let Some((turned, solved)) = run.turned(&place, model, &station) {
        shape.cut = Some(Station { turned, ..station });
        if !solved && shape.status == Status::Solved {
            shape.status = Status::StoppedEarly;
        }
        shape.turn_mm.clone_from(&run.bench().turn_mm);
    }
    Some(shape)
}

/// How much over the dial's radius the surface was where the follower was set: where it was brought on, or where it first
/// came over work it can ride on. `left` is what the whole pass left, in cutting order.
fn follower_set_mm(setup: &Setup, outline: &Outline, left: &[(f64, f64)], cut: &CutSpan) -> Option<f64> {
    let follower = setup.follower.as_ref()?;
    let to_headstock = cut.to_headstock();
    let direction = if to_headstock { -1.0 } else { 1.0 };
    match follower.side {
        FollowerSide::Behind => {
            let set_on_mm = (follower.start_mm - follower.distance_mm).max(0.0);
            over_between(left, cut.from_z_mm + direction * set_on_mm, to_headstock)
        }
        FollowerSide::Ahead => {
            let side = if to_headstock { Side::Headstock } else { Side::Tailstock };
            let found = outline.at(cut.from_z_mm + direction * (follower.start_mm + follower.distance_mm), side)?;
            Some((found.diameter_mm - found.dial_mm) / 2.0)
        }
    }
}

/// How much over the dial's radius the crests were where the follower was set: at the first place of the tool, in
/// cutting order, at which it is brought on and its jaws are over the work.
fn set_on_crest_mm(setup: &Setup, crests: &Outline, left: &[(f64, f64)], cut: &CutSpan) -> Option<f64> {
    let start_mm = setup.follower.as_ref()?.start_mm;
    let reach_mm = follower_reach_mm(setup, cut.to_headstock())?;
    let side = if cut.to_headstock() { Side::Headstock } else { Side::Tailstock };
    let mut brought_on = left.iter().filter(|(z_mm, _)| (z_mm - cut.from_z_mm).abs() >= start_mm - SAME_PLACE_MM);
    let found = brought_on.find_map(|(z_mm, _)| crests.at(z_mm + reach_mm, side))?;
    Some((found.diameter_mm - found.dial_mm) / 2.0)
}

/// Jaws as loads at their nodes.
fn jaw_loads(prepared: &Prepared, bench: &Workbench, follower: Option<(usize, &[JawAt])>) -> Vec<NodeLoad> {
    let n_rest_jaws = prepared.jaw_nodes.len();
    let mut loads = Vec::new();
    for (index, force_n) in bench.jaw_force_n.iter().enumerate() {
        let (node, jaw) = if index < n_rest_jaws {
            (prepared.jaw_nodes[index], &prepared.jaws[index])
        } else {
            let Some((node, jaws)) = follower else { continue };
            (Some(node), &jaws[index])
        };
        let Some(node) = node else { continue };
        loads.push(NodeLoad { node, force_n: jaw.against.map(|part| -part * force_n), moment_nmm: [0.0; 2] });
    }
    loads
}

fn finish(
    scene: &Scene,
    prepared: &Prepared,
    bench: &Workbench,
    loads: &[NodeLoad],
    cut: Option<Station>,
    run: Option<&Run>,
    solved: bool,
) -> Option<Shape> {
    let moves = bent_line(&prepared.old, &prepared.springs, loads)?;
    let mut forces_n = Vec::new();
    if let Some(run) = run {
        run.put_forces(&mut forces_n);
    } else {
        let last = moves.len() - 1;
        for (spring, node) in prepared.springs.iter().zip([0, last]) {
            forces_n.extend([0, 1].map(|plane| spring_force_n(&spring.1, moves[node].move_mm[plane], plane)));
        }
        forces_n.extend_from_slice(&bench.jaw_force_n);
    }
    let reactions = (supports(scene.setup).into_iter().zip(forces_n))
        .map(|(support, force_n)| Reaction { support, force_n })
        .collect();
    let too_far = moves
        .iter()
        .zip(&prepared.sizes)
        .any(|(node, sizes)| node.move_mm[0].hypot(node.move_mm[1]) > sizes[0].old_mm.max(sizes[1].old_mm) / 4.0);
    Some(Shape {
        status: if too_far {
            Status::NotHeld
        } else if solved {
            Status::Solved
        } else {
            Status::StoppedEarly
        },
        z_mm: prepared.layout.nodes_mm.clone(),
        x_mm: moves.iter().map(|node| node.move_mm[0]).collect(),
        y_mm: moves.iter().map(|node| node.move_mm[1]).collect(),
        reactions,
        cut,
        jaw_gaps_mm: bench.jaw_gap_mm.clone(),
        turn_mm: Vec::new(),
    })
}

fn spring_force_n(spring: &NodeSpring, move_mm: f64, plane: usize) -> f64 {
    spring.radial_n_per_mm * (spring.anchor_mm[plane] - move_mm)
}
