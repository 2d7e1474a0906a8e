//! Grooving and parting against hand formulas: the force of a plunge, the spring of a bar in the chuck, what a dwell
//! leaves.

use midspan::job::{BoreLand, Cut, Force, Job, Pass, PassId, PassKind, ToolSide};
use midspan::study::{Measured, PassResult, Plunge, Status, compute, shape_at};

use crate::close::close;
use crate::plain_cut::{bar_in_chuck, end_give_mm_per_n, four_jaws};

fn pass(id: u32, kind: PassKind, cut: Cut) -> Pass {
    Pass {
        id: PassId(id),
        kind,
        from_z_mm: 102.0,
        to_z_mm: 98.0,
        cut,
        feed_mm_per_rev: 0.08,
        speed_rpm: 100_000.0 / (std::f64::consts::PI * 40.0),
        force: Force::FromCut,
    }
}

fn groove() -> Pass {
    pass(1, PassKind::Groove, Cut::ToDiameter { diameter_mm: 30.0 })
}

/// 40 mm, 100 mm to the middle of the groove and nothing beyond its far edge to speak of.
fn job(passes: Vec<Pass>) -> Job {
    let mut job = bar_in_chuck(40.0, 120.0);
    job.setups[0].passes = passes;
    job
}

fn solved(job: &Job) -> Vec<PassResult> {
    let passes = compute(job).setups.remove(0).passes;
    assert!(passes.iter().all(|pass| pass.status == Status::Solved), "{:?}", passes[0].status);
    passes
}

fn plunge(pass: &PassResult) -> Plunge {
    pass.plunge.expect("a plunge was computed")
}

/// Fc = 2000 · 0.08^-0.25 · 4 · 0.08 · 1.3 at 100 m/min, half of it away. Source of the 1.3: Tschätsch, from memory.
#[test]
fn a_plunge_pushes_as_the_chip_and_the_width_of_the_tool_ask_for() {
    let found = plunge(&solved(&job(vec![groove()]))[0]);
    let main_n = 2000.0 * 0.08_f64.powf(-0.25) * 4.0 * 0.08 * 1.3;
    // The factor for speed is 1 at 100 m/min, but for its rounded constants (0.03 %).
    close(found.fc_n, main_n, 4e-4, 0.0);
    close(found.fp_n, 0.5 * found.fc_n, 1e-12, 0.0);
    close(found.width_mm, 4.0, 1e-12, 0.0);
    close(found.z_mm, 100.0, 1e-12, 0.0);
}

#[test]
fn the_spring_when_it_begins_is_that_of_a_bar_in_the_chuck() {
    let found = plunge(&solved(&job(vec![groove()]))[0]);
    let give = end_give_mm_per_n(40.0, 0.0, 100.0);
    close(found.spring_at_start_mm[0], give * found.fp_n, 1e-6, 0.0);
    close(found.spring_at_start_mm[1], give * found.fc_n, 1e-6, 0.0);
}

/// At the bottom the half of the groove that lies before the tool gives too: 2 mm of 30 mm bar at the end of 98 mm of
/// 40 mm (virtual work: bending ∫x²/EI from the load, shear ∫1/κGA).
#[test]
fn the_spring_at_the_bottom_is_that_of_a_bar_with_the_groove_in_it() {
    let done = solved(&job(vec![groove()]));
    let found = plunge(&done[0]);
    let whole = end_give_mm_per_n(40.0, 0.0, 100.0) - end_give_mm_per_n(40.0, 0.0, 2.0);
    let give = whole + end_give_mm_per_n(30.0, 0.0, 2.0);
    close(found.spring_at_bottom_mm[0], give * found.fp_n, 1e-6, 0.0);
    assert!(found.spring_at_bottom_mm[0] > found.spring_at_start_mm[0]);
    // Drawn out at once the groove is big by the spring: radius √((15 + u)² + v²).
    let [u_mm, v_mm] = found.spring_at_bottom_mm;
    let left_mm = 2.0 * (15.0 + u_mm).hypot(v_mm);
    // The rigid carriage gives Fp / 1e12 N/mm.
    close(found.fed_out_error_mm.unwrap(), left_mm - 30.0, 0.0, 4e-9);
    for station in &done[0].stations {
        close(station.left_diameter_mm, left_mm, 0.0, 4e-9);
    }
    close(found.dwell_error_mm.unwrap(), 0.0, 0.0, 1e-9);
}

#[test]
fn a_spring_pass_over_a_groove_is_a_dwell() {
    let dwell = pass(2, PassKind::Spring, Cut::Depth { on_diameter_mm: 0.0 });
    let done = solved(&job(vec![groove(), dwell]));
    assert!(done[0].stations[0].error_mm > 1e-3);
    for station in &done[1].stations {
        close(station.error_mm, 0.0, 0.0, 1e-9);
        close(station.fc_n, 0.0, 0.0, 0.0);
        close(station.old_diameter_mm, done[0].stations[0].left_diameter_mm, 1e-12, 0.0);
    }
}

/// A rest off the axis is not spring: a dwell leaves it. Clamped bar, its end held e off: at z it lies
/// e (3 z² L - z³) / 2 L³ off (shear left out: 0.5 % here).
#[test]
fn what_lies_off_the_axis_stays_after_a_dwell() {
    let mut job = job(vec![groove()]);
    job.setups[0].rests = vec![four_jaws(120.0, 0.05, 0.0)];
    let (share, e_mm) = (100.0 / 120.0, 0.05);
    let off_mm = e_mm * (3.0 * share * share - share * share * share) / 2.0;
    close(plunge(&solved(&job)[0]).dwell_error_mm.unwrap(), 2.0 * off_mm, 0.02, 0.0);
}

#[test]
fn the_groove_is_there_for_the_next_pass() {
    let push = |id: u32| Pass {
        from_z_mm: 120.0,
        to_z_mm: 110.0,
        force: Force::Typed { radial_n: 300.0, main_n: 0.0, feed_n: 0.0, follows_depth: false },
        ..pass(id, PassKind::Turn, Cut::ToDiameter { diameter_mm: 40.0 })
    };
    let mut exact = groove();
    exact.force = Force::Typed { radial_n: 0.0, main_n: 0.0, feed_n: 0.0, follows_depth: false };
    let done = solved(&job(vec![push(1), exact, push(3)]));
    let end_mm = |pass: &PassResult| pass.stations.last().unwrap().spring_x_mm;
    close(end_mm(&done[0]), 300.0 * end_give_mm_per_n(40.0, 0.0, 120.0), 1e-6, 0.0);
    // 18 mm beyond, 4 mm of groove, 98 mm before: ∫x²/EI from the end.
    let part = |diameter_mm: f64, from_mm: f64, to_mm: f64| {
        end_give_mm_per_n(diameter_mm, 0.0, to_mm) - end_give_mm_per_n(diameter_mm, 0.0, from_mm.max(1e-9))
    };
    let give = part(40.0, 0.0, 18.0) + part(30.0, 18.0, 22.0) + part(40.0, 22.0, 120.0);
    close(end_mm(&done[2]), 300.0 * give, 1e-6, 0.0);
}

#[test]
fn a_groove_without_push_is_to_size_and_one_that_reaches_nothing_cuts_nothing() {
    let mut silent = groove();
    silent.force = Force::Typed { radial_n: 0.0, main_n: 0.0, feed_n: 0.0, follows_depth: true };
    for station in &solved(&job(vec![silent]))[0].stations {
        close(station.error_mm, 0.0, 0.0, 1e-9);
    }
    let shallow = pass(1, PassKind::Groove, Cut::ToDiameter { diameter_mm: 41.0 });
    assert_eq!(compute(&job(vec![shallow])).setups[0].passes[0].status, Status::NothingToCut);
    let narrow = Pass { to_z_mm: 102.0, ..groove() };
    assert_eq!(compute(&job(vec![narrow])).setups[0].passes[0].status, Status::NothingToCut);
}

#[test]
fn a_tool_at_the_rear_grooves_the_same() {
    let mut rear = job(vec![groove()]);
    rear.setups[0].tool.side = ToolSide::Rear;
    let (front, rear) = (plunge(&solved(&job(vec![groove()]))[0]), plunge(&solved(&rear)[0]));
    close(front.fed_out_error_mm.unwrap(), rear.fed_out_error_mm.unwrap(), 1e-9, 0.0);
    for plane in [0, 1] {
        close(front.spring_at_bottom_mm[plane], -rear.spring_at_bottom_mm[plane], 1e-9, 0.0);
    }
}

#[test]
fn parting_has_a_spring_but_no_diameter_and_leaves_the_work_whole() {
    let part = pass(1, PassKind::Part, Cut::ToDiameter { diameter_mm: 0.0 });
    let job = job(vec![part]);
    let result = compute(&job);
    let done = &result.setups[0].passes[0];
    assert_eq!((done.status, done.measured), (Status::Solved, Measured::Nothing));
    assert!(done.stations.is_empty());
    assert_eq!(done.after, done.before);
    let found = plunge(done);
    close(found.spring_at_start_mm[0], end_give_mm_per_n(40.0, 0.0, 100.0) * found.fp_n, 1e-6, 0.0);
    assert_eq!((found.fed_out_error_mm, found.dwell_error_mm), (None, None));
    // Half of the wall of a solid bar: 20 mm are left.
    let neck = end_give_mm_per_n(20.0, 0.0, 2.0) - end_give_mm_per_n(40.0, 0.0, 2.0);
    let give = end_give_mm_per_n(40.0, 0.0, 100.0) + neck;
    close(found.spring_at_bottom_mm[0], give * found.fp_n, 1e-6, 0.0);
    let shape = shape_at(&job, &result, job.setups[0].id, Some(PassId(1)), Some(100.0)).unwrap();
    close(shape.cut.unwrap().spring_x_mm, found.spring_at_bottom_mm[0], 1e-9, 0.0);
}

#[test]
fn a_tube_is_parted_to_its_bore() {
    let mut job = job(vec![pass(1, PassKind::Part, Cut::ToDiameter { diameter_mm: 0.0 })]);
    job.shaft.bores = vec![BoreLand { from_s_mm: 0.0, to_s_mm: 150.0, start_diameter_mm: 30.0, end_diameter_mm: 30.0 }];
    let found = plunge(&solved(&job)[0]);
    let neck = end_give_mm_per_n(35.0, 30.0, 2.0) - end_give_mm_per_n(40.0, 30.0, 2.0);
    close(found.spring_at_bottom_mm[0], (end_give_mm_per_n(40.0, 30.0, 100.0) + neck) * found.fp_n, 1e-6, 0.0);
}
