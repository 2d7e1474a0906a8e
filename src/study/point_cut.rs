//! Grooving and parting: a tool as wide as its stretch goes straight in, and pushes just as hard all the way.
//!
//! The chip is as thick as the feed, however deep the groove, so `Fc = kc(f) · width · f · 1.3`, and the edge lies along
//! the axis, so the whole thrust is a push away ([`super::force::Engagement::Plunge`]). The tool is solved at the middle
//! of its width, on the work as it is when it begins and on the work with the groove in it. Drawn out the moment the
//! feed stops, it leaves the groove big by its spring; left to dwell, the push dies out and only what is off the axis
//! remains. What goes on to the next pass is the size without a dwell; a spring pass over a groove is the dwell.
//!
//! Parting goes to the middle or the bore, and leaves no diameter; its spring is taken at the start and with half of
//! the wall cut through. The work stays whole for what follows it in the job.

use std::sync::Arc;

use super::force::{Engagement, ForceModel};
use super::layout::{CutSpan, Place};
use super::outline::{Outline, Side};
use super::prepared::{Prepared, Scene, side_index};
use super::results::{Measured, PassResult, Plunge, Station, Status};
use super::sweep::{Room, Run, fresh_pieces};
use super::task::Task;
use super::thread::outside;
use crate::job::{Cut, Pass, PassKind};

/// A grooving or parting pass ready to be solved, the groove cut.
#[derive(Clone, Debug)]
pub struct AtBottom {
    pub prepared: Prepared,
    pub cut: CutSpan,
    pub place: Place,
}

/// Makes a pass ready with the tool at the bottom; `repeated` is the pass whose dial it uses. `None` where it does not
/// meet the work.
#[must_use]
pub fn at_bottom(task: &Task, repeated: &Pass) -> Option<AtBottom> {
    let scene = task.scene;
    let cut = scene.cut_span(repeated)?;
    let (low_mm, high_mm) = cut.ends_mm();
    let z_mm = f64::midpoint(low_mm, high_mm);
    let mut pass = Pass { from_z_mm: cut.from_z_mm, to_z_mm: cut.to_z_mm, ..task.pass.clone() };
    if repeated.kind == PassKind::Part {
        let diameter_mm = half_parted_mm(scene, task.outline, z_mm)?;
        pass.cut = Cut::ToDiameter { diameter_mm };
    }
    let mut prepared = scene.prepare(task.outline, Some(&pass), Some(z_mm));
    prepared.crest = Some(outside(task.outline, &prepared));
    let place = *prepared.layout.places.first()?;
    Some(AtBottom { prepared, cut, place })
}

/// Diameter with half of the wall parted through.
fn half_parted_mm(scene: &Scene, outline: &Outline, z_mm: f64) -> Option<f64> {
    let outside_mm = outline.at(z_mm, Side::Headstock)?.diameter_mm;
    let bored_mm = outline.bored_at(z_mm, Side::Headstock).map_or(0.0, |hole| hole.diameter_mm);
    Some(f64::midpoint(outside_mm, bored_mm.max(scene.bore_mm(z_mm, Side::Headstock))))
}

/// The force model of a plunge, or of a dwell after it.
#[must_use]
pub fn model<'a>(task: &Task<'a>, cut: &CutSpan) -> ForceModel<'a> {
    let (low_mm, high_mm) = cut.ends_mm();
    let engagement = match task.pass.kind {
        PassKind::Spring => Engagement::Dwell,
        _ => Engagement::Plunge { width_mm: high_mm - low_mm },
    };
    engaged(task, engagement)
}

fn engaged<'a>(task: &Task<'a>, engagement: Engagement) -> ForceModel<'a> {
    ForceModel::engaged(task.material, &task.scene.setup.tool, task.pass, task.last_depth_mm, engagement)
        .times(task.scene.factors)
}

/// The work on both sides of the tool as it was before the groove, or as it is with it.
pub fn same_on_both_sides(prepared: &mut Prepared, grooved: bool) {
    if grooved {
        prepared.old.clone_from(&prepared.finished);
    } else {
        prepared.finished.clone_from(&prepared.old);
    }
}

/// Computes a grooving or parting pass, or a dwell after grooving.
#[must_use]
pub fn plunge(task: &Task, repeated: &Pass, room: &mut Room, mut result: PassResult) -> PassResult {
    let parts = repeated.kind == PassKind::Part;
    if parts {
        result.measured = Measured::Nothing;
    }
    let Some(mut bottom) = at_bottom(task, repeated) else { return result };
    let (cut, place) = (bottom.cut, bottom.place);
    let sizes = bottom.prepared.sizes[place.node][side_index(place.side)];
    let dwells = task.pass.kind == PassKind::Spring;
    if !dwells && sizes.dial_mm >= sizes.old_mm {
        return result;
    }
    let mut start = bottom.prepared.clone();
    same_on_both_sides(&mut start, false);
    same_on_both_sides(&mut bottom.prepared, true);
    let (scene, model) = (task.scene, model(task, &cut));
    let begun = Run::new(scene, &start, cut, room).station(&place, &model);
    let free = Run::new(scene, &bottom.prepared, cut, room).station(&place, &engaged(task, Engagement::Dwell));
    let mut run = Run::new(scene, &bottom.prepared, cut, room);
    let (Some((begun, solved_0)), Some((free, solved_1)), Some((fed, solved_2))) =
        (begun, free, run.station(&place, &model))
    else {
        result.status = Status::NotHeld;
        return result;
    };
    let spring_mm = |station: &Station| [station.spring_x_mm, station.spring_y_mm];
    let swings = [&begun, &free, &fed].into_iter().any(|station| {
        let [x_mm, y_mm] = spring_mm(station);
        x_mm.hypot(y_mm) > station.old_diameter_mm / 4.0
    });
    result.status = match (swings, solved_0 && solved_1 && solved_2) {
        (true, _) => Status::NotHeld,
        (false, true) => Status::Solved,
        (false, false) => Status::StoppedEarly,
    };
    if swings {
        return result;
    }
    let (low_mm, high_mm) = cut.ends_mm();
    result.plunge = Some(Plunge {
        z_mm: fed.z_mm,
        width_mm: high_mm - low_mm,
        fc_n: fed.fc_n,
        fp_n: fed.fp_n,
        spring_at_start_mm: spring_mm(&begun),
        spring_at_bottom_mm: spring_mm(&fed),
        fed_out_error_mm: (!parts).then_some(fed.error_mm),
        dwell_error_mm: (!parts).then_some(free.error_mm),
    });
    if parts {
        return result;
    }
    // The tool leaves the whole of its width at one size: that at its middle.
    for z_mm in [low_mm, fed.z_mm, high_mm] {
        result.stations.push(Station { z_mm, ..fed });
        run.put_forces(&mut result.forces_n);
    }
    let after = task.outline.with_fresh(&fresh_pieces(&result.stations));
    result.after = Arc::new(after.to_surface(&scene.job.shaft, scene.setup));
    result
}
