//! Facing, drilling and boring: a steady off the axis against worked geometry, cutting forces against the bar in the
//! chuck, signs against the trade's catalogue of failures, and boring against the plain solver.

use midspan::job::{Cut, Force, Job, Pass, PassId, PassKind, RestId, Stated, Stiffness, TailEnd, ToolSide};
use midspan::study::outline::Outline;
use midspan::study::prepared::Scene;
use midspan::study::task::Task;
use midspan::study::{EndWork, Fineness, Measured, PassResult, Status, bore, compute, shape_at};

use crate::close::close;
use crate::dense::Beam;
use crate::plain_cut::{E_MPA, PlainCut, bar_in_chuck, end_give_mm_per_n, four_jaws, plain_jaws};
use crate::random_job::jaw;

const INCH_MM: f64 = 25.4;
const NO_PUSH: Force = Force::Typed { radial_n: 0.0, main_n: 0.0, feed_n: 0.0, follows_depth: false };

fn pass(id: u32, kind: PassKind, from_z_mm: f64, to_z_mm: f64, cut: Cut) -> Pass {
    Pass {
        id: PassId(id),
        kind,
        from_z_mm,
        to_z_mm,
        cut,
        feed_mm_per_rev: 0.1,
        speed_rpm: 100_000.0 / (std::f64::consts::PI * 40.0),
        force: Force::FromCut,
    }
}

fn silent(pass: Pass) -> Pass {
    Pass { force: NO_PUSH, ..pass }
}

fn to(diameter_mm: f64) -> Cut {
    Cut::ToDiameter { diameter_mm }
}

fn solved(job: &Job) -> Vec<PassResult> {
    let passes = compute(job).setups.remove(0).passes;
    for pass in &passes {
        assert_eq!(pass.status, Status::Solved);
    }
    passes
}

fn end(pass: &PassResult) -> EndWork {
    pass.end.expect("the end was computed")
}

/// 3 in bar, its end in a steady 20 in from the chuck that stands off the axis; faced, drilled and bored 3 in deep.
fn off_axis(hinged: bool, offset_x_in: f64, offset_y_in: f64) -> Vec<PassResult> {
    let length_mm = 20.0 * INCH_MM;
    let mut job = bar_in_chuck(3.0 * INCH_MM, length_mm);
    let setup = &mut job.setups[0];
    if hinged {
        setup.drive.rotation_k_nmm_per_rad = Stiffness::Spring(Stated::given(1.0));
    }
    setup.rests = vec![four_jaws(length_mm, offset_x_in * INCH_MM, offset_y_in * INCH_MM)];
    let deep_mm = length_mm - 3.0 * INCH_MM;
    setup.passes = vec![
        silent(pass(1, PassKind::Face, length_mm, length_mm, Cut::Depth { on_diameter_mm: 0.5 })),
        silent(pass(2, PassKind::Drill, length_mm, deep_mm, to(INCH_MM))),
        silent(pass(3, PassKind::Bore, length_mm, deep_mm, to(1.25 * INCH_MM))),
    ];
    solved(&job)
}

/// Source: the trade's notes on a steady off the axis, geometry worked out: diameter 3 in, 20 in from the chuck, 0.005 in
/// off: the bore's diameter changes by 1.5 thou (hinge) to 2.3 thou (clamp) over 3 in, the face is 0.4 to 0.6 thou out
/// of flat; slope e/L hinged, 1.5 e/L clamped. Shear makes the clamped slope 1 % less.
#[test]
fn a_steady_off_the_axis_tapers_the_bore_and_dishes_the_face_as_the_trade_has_it() {
    let thou = |mm: f64| 1000.0 * mm / INCH_MM;
    for (hinged, slope_share, taper_thou, dish_thou) in [(true, 1.0, 1.5, 0.4), (false, 1.5, 2.3, 0.6)] {
        let done = off_axis(hinged, 0.005, 0.0);
        let (face, bore) = (end(&done[0]), end(&done[2]));
        close(face.slope_x_rad, slope_share * 0.005 / 20.0, 0.015, 0.0);
        close(thou(3.0 * INCH_MM * bore.bore_taper_mm_per_100mm.unwrap() / 100.0), taper_thou, 0.0, 0.1);
        close(thou(face.dish_mm.unwrap()), -dish_thou, 0.0, 0.05);
        close(face.dish_mm.unwrap(), -face.slope_x_rad * 1.5 * INCH_MM, 1e-9, 0.0);
        close(face.off_x_mm, 0.005 * INCH_MM, 1e-6, 0.0);
        assert_eq!(face.at_steady.map(|(rest, _)| rest), Some(RestId(7)));
        close(face.at_steady.unwrap().1[0], 0.005 * INCH_MM, 1e-6, 0.0);
    }
}

/// Source: the trade's catalogue of failures: steady away from the operator: bore open at the mouth, face domed; toward:
/// bore tight at the mouth, face hollow.
#[test]
fn signs_are_those_of_the_catalogue_of_failures() {
    for (offset_in, open, hollow) in [(0.004, true, false), (-0.004, false, true)] {
        let done = off_axis(false, offset_in, 0.0);
        assert_eq!(end(&done[2]).bore_taper_mm_per_100mm.unwrap() > 0.0, open);
        assert_eq!(end(&done[0]).dish_mm.unwrap() > 0.0, hollow);
        let (deep, mouth) = (&done[2].stations[0], done[2].stations.last().unwrap());
        assert_eq!(mouth.error_mm > deep.error_mm, open);
        assert!((mouth.error_mm > 0.0) == open, "the near wall is cut");
    }
}

/// Source: the same notes: up or down the face is nearly flat with a pip, and the diameter is out by e²/r only.
#[test]
fn a_steady_too_high_leaves_a_pip_and_hardly_changes_the_bore() {
    let done = off_axis(false, 0.0, 0.005);
    let e_mm = 0.005 * INCH_MM;
    close(end(&done[0]).dish_mm.unwrap(), 0.0, 0.0, 1e-9);
    close(end(&done[0]).pip_mm.unwrap(), 2.0 * e_mm, 1e-6, 0.0);
    let mouth = done[2].stations.last().unwrap();
    close(mouth.error_mm, e_mm * e_mm / (0.625 * INCH_MM), 1e-3, 0.0);
    let drill = end(&done[1]);
    close(drill.off_y_mm, e_mm, 1e-6, 0.0);
    close(drill.off_x_mm, 0.0, 0.0, 1e-9);
}

#[test]
fn work_on_the_axis_that_is_not_pushed_is_faced_flat_and_bored_straight() {
    let done = off_axis(false, 0.0, 0.0);
    close(end(&done[0]).dish_mm.unwrap(), 0.0, 0.0, 1e-9);
    close(end(&done[0]).pip_mm.unwrap(), 0.0, 0.0, 1e-9);
    close(end(&done[2]).bore_taper_mm_per_100mm.unwrap(), 0.0, 0.0, 1e-9);
    for station in &done[2].stations {
        close(station.error_mm, 0.0, 0.0, 1e-9);
    }
}

/// Facing the end of a 40 mm bar 150 mm out of the chuck with 100 N across, 300 N up and 80 N along: slope at the end
/// F L²/2EI of the push across, less M L/EI of the push along on the rim's lever; height of the middle F L³/3EI and shear.
#[test]
fn a_facing_cut_bends_the_work_as_a_bar_in_the_chuck() {
    let mut job = bar_in_chuck(40.0, 150.0);
    let mut face = pass(1, PassKind::Face, 150.0, 150.0, Cut::Depth { on_diameter_mm: 0.5 });
    face.force = Force::Typed { radial_n: 100.0, main_n: 300.0, feed_n: 80.0, follows_depth: false };
    job.setups[0].passes = vec![face];
    let result = compute(&job);
    let found = end(&result.setups[0].passes[0]);
    let ei_nmm2 = E_MPA * std::f64::consts::PI / 64.0 * 40.0_f64.powi(4);
    let slope_rad = 100.0 * 150.0_f64.powi(2) / (2.0 * ei_nmm2) - 80.0 * 20.0 * 150.0 / ei_nmm2;
    close(found.slope_x_rad, slope_rad, 1e-6, 0.0);
    close(found.dish_mm.unwrap(), -20.0 * slope_rad, 1e-6, 0.0);
    close(found.pip_mm.unwrap(), 2.0 * 300.0 * end_give_mm_per_n(40.0, 0.0, 150.0), 1e-6, 0.0);
    let shape = shape_at(&job, &result, job.setups[0].id, Some(PassId(1)), Some(150.0)).unwrap();
    close(*shape.x_mm.last().unwrap(), found.off_x_mm, 1e-9, 0.0);
}

/// From the chip: a face 0.5 mm deep at 0.1 mm a turn has the force of a turning cut of that depth, feed and push
/// changing places.
#[test]
fn the_force_of_facing_is_that_of_turning_with_feed_and_push_changed() {
    let mut job = bar_in_chuck(40.0, 150.0);
    job.setups[0].passes = vec![pass(1, PassKind::Turn, 150.0, 140.0, Cut::Depth { on_diameter_mm: 1.0 })];
    job.lathe.carriage_k_n_per_mm = Stiffness::Rigid;
    let shape =
        |job: &Job, z_mm: f64| shape_at(job, &compute(job), job.setups[0].id, Some(PassId(1)), Some(z_mm)).unwrap();
    let turned = shape(&job, 150.0);
    job.setups[0].passes = vec![pass(1, PassKind::Face, 150.0, 150.0, Cut::Depth { on_diameter_mm: 0.5 })];
    let faced = shape(&job, 150.0);
    let force = |shape: &midspan::study::Shape, index: usize| shape.reactions[index].force_n;
    let cut = turned.cut.unwrap();
    // The work gives way by some micrometres: the turned depth is that much less than the dial's.
    close(-force(&faced, 0), cut.ff_n, 0.02, 0.0);
    close(-force(&faced, 1), cut.fc_n, 0.02, 0.0);
    close(-force(&turned, 0), cut.fp_n, 1e-6, 0.0);
}

#[test]
fn a_tool_at_the_rear_faces_the_other_way_round() {
    let mut job = bar_in_chuck(60.0, 150.0);
    job.setups[0].rests = vec![four_jaws(140.0, 0.05, 0.0)];
    job.setups[0].passes = vec![silent(pass(1, PassKind::Face, 150.0, 150.0, Cut::Depth { on_diameter_mm: 0.5 }))];
    let front = end(&solved(&job)[0]);
    job.setups[0].tool.side = ToolSide::Rear;
    let rear = end(&solved(&job)[0]);
    close(front.dish_mm.unwrap(), -rear.dish_mm.unwrap(), 1e-9, 0.0);
}

#[test]
fn a_shoulder_and_a_ring_are_faced_over_their_own_radii() {
    let mut job = bar_in_chuck(60.0, 150.0);
    job.setups[0].rests = vec![four_jaws(150.0, 0.05, 0.0)];
    job.setups[0].passes = vec![
        silent(pass(1, PassKind::Turn, 150.0, 100.0, to(40.0))),
        silent(pass(2, PassKind::Face, 100.0, 100.0, Cut::Depth { on_diameter_mm: 0.2 })),
        silent(pass(3, PassKind::Face, 150.0, 150.0, to(10.0))),
    ];
    let done = solved(&job);
    let (shoulder, ring) = (end(&done[1]), end(&done[2]));
    // The turned land itself is big where the steady holds it off.
    let inner_mm = done[0].stations[0].left_diameter_mm / 2.0;
    close(shoulder.dish_mm.unwrap(), -(30.0 - inner_mm) * shoulder.slope_x_rad, 1e-9, 0.0);
    let rim_mm = done[0].stations.last().unwrap().left_diameter_mm / 2.0;
    close(ring.dish_mm.unwrap(), -(rim_mm - 5.0) * ring.slope_x_rad, 1e-9, 0.0);
    assert_eq!((shoulder.pip_mm, ring.pip_mm), (None, None));
}

#[test]
fn a_drill_meets_the_work_where_the_tailstock_points() {
    let mut job = bar_in_chuck(40.0, 150.0);
    job.setups[0].passes = vec![pass(1, PassKind::Drill, 150.0, 120.0, to(10.0))];
    job.setups[0].tail = TailEnd { offset_x_mm: 0.03, offset_y_mm: -0.02, ..TailEnd::free() };
    let found = end(&solved(&job)[0]);
    close(found.off_x_mm, -0.03, 0.0, 1e-9);
    close(found.off_y_mm, 0.02, 0.0, 1e-9);
}

/// A bored bar pushed at its end bends as a hollow one as deep as the bore goes.
#[test]
fn holes_are_there_for_what_follows() {
    let mut job = bar_in_chuck(40.0, 150.0);
    let mut push = pass(3, PassKind::Turn, 150.0, 140.0, to(40.0));
    push.force = Force::Typed { radial_n: 300.0, main_n: 0.0, feed_n: 0.0, follows_depth: false };
    job.setups[0].passes = vec![
        pass(1, PassKind::Drill, 150.0, 90.0, to(20.0)),
        silent(pass(2, PassKind::Bore, 150.0, 100.0, to(30.0))),
        push,
    ];
    let done = solved(&job);
    assert_eq!(done[1].measured, Measured::Bore);
    let bore = done[1].stations.last().unwrap();
    close(bore.old_diameter_mm, 20.0, 1e-12, 0.0);
    close(bore.left_diameter_mm, 30.0, 0.0, 1e-9);
    close(bore.real_depth_mm, 10.0, 0.0, 1e-9);
    assert_eq!(done[2].before.spans, done[0].before.spans, "the outside is untouched");
    let part = |bore_mm: f64, from_mm: f64, to_mm: f64| {
        end_give_mm_per_n(40.0, bore_mm, to_mm) - end_give_mm_per_n(40.0, bore_mm, from_mm.max(1e-9))
    };
    let give = part(30.0, 0.0, 50.0) + part(20.0, 50.0, 60.0) + part(0.0, 60.0, 150.0);
    close(done[2].stations.last().unwrap().spring_x_mm, 300.0 * give, 1e-6, 0.0);
}

#[test]
fn a_boring_pass_ends_where_the_hole_ends_and_without_a_hole_it_cuts_nothing() {
    let mut job = bar_in_chuck(40.0, 150.0);
    job.setups[0].passes = vec![
        pass(1, PassKind::Drill, 150.0, 110.0, to(20.0)),
        pass(2, PassKind::Bore, 150.0, 80.0, Cut::Depth { on_diameter_mm: 2.0 }),
        pass(3, PassKind::Spring, 150.0, 110.0, Cut::Depth { on_diameter_mm: 0.0 }),
    ];
    let done = solved(&job);
    close(done[1].stations[0].z_mm, 110.0, 0.0, 1e-9);
    close(done[1].stations[0].wanted_diameter_mm, 22.0, 1e-12, 0.0);
    let worst = |pass: &PassResult| pass.worst().unwrap().error_mm;
    assert!(worst(&done[1]) < -1e-4, "work that gives way leaves the bore small");
    close(done[2].stations[0].wanted_diameter_mm, 22.0, 1e-12, 0.0);
    assert!(worst(&done[2]).abs() < 0.5 * worst(&done[1]).abs(), "a spring pass in the bore takes most of it");
    let solid = |cut| {
        job.setups[0].passes = vec![pass(2, PassKind::Bore, 150.0, 110.0, cut)];
        job.clone()
    };
    let mut solid = solid;
    for cut in [to(20.0), Cut::ToDrawing { leave_on_diameter_mm: 0.0 }] {
        let job = solid(cut);
        let result = compute(&job);
        assert_eq!(result.setups[0].passes[0].status, Status::NothingToCut);
        let shape = shape_at(&job, &result, job.setups[0].id, Some(PassId(2)), Some(130.0)).unwrap();
        assert_eq!(shape.cut, None, "the work lies there, uncut");
    }
}

/// A push that is there whatever the depth: the mouth lies F (L³/3EI + L/κGA) toward the tool, and the bore is smaller
/// by twice that. The wall behind the tool is taken as bored, so the bar is one of uniform bore.
#[test]
fn a_boring_push_leaves_the_bore_small() {
    let mut job = bar_in_chuck(40.0, 150.0);
    job.shaft.bores =
        vec![midspan::job::BoreLand { from_s_mm: 0.0, to_s_mm: 180.0, start_diameter_mm: 20.0, end_diameter_mm: 20.0 }];
    let mut bore = pass(1, PassKind::Bore, 150.0, 100.0, to(21.0));
    bore.force = Force::Typed { radial_n: 200.0, main_n: 0.0, feed_n: 0.0, follows_depth: false };
    job.setups[0].passes = vec![bore];
    let done = solved(&job);
    let give_mm = 200.0 * end_give_mm_per_n(40.0, 20.0, 150.0);
    let mouth = done[0].stations.last().unwrap();
    close(mouth.spring_x_mm, -give_mm, 1e-6, 0.0);
    close(mouth.error_mm, -2.0 * give_mm, 1e-6, 0.0);
    assert!(end(&done[0]).bore_taper_mm_per_100mm.unwrap() < 0.0, "tight at the mouth");
}

/// Kienzle's force with 1.2 for boring, by hand for 45 degrees to the feed and a sharp nose: the chord is the edge.
fn boring_forces(depth_mm: f64, diameter_mm: f64) -> [f64; 3] {
    let feed_mm = 0.1;
    let thickness_mm = feed_mm * 45_f64.to_radians().sin();
    let speed: f64 = diameter_mm / 40.0 * 100.0;
    let speed_ratio = if speed < 100.0 { 2.023 / speed.max(20.0).powf(0.153) } else { 1.38 / speed.powf(0.07) };
    let main_n = 1.2 * speed_ratio * 2000.0 * thickness_mm.powf(-0.25) * feed_mm * depth_mm;
    // The chord from the root of the old surface to half a feed behind the tip.
    let run_mm = depth_mm + feed_mm / 2.0;
    let chord_mm = depth_mm.hypot(run_mm);
    [main_n, 0.5 * main_n * run_mm / chord_mm, 0.5 * main_n * depth_mm / chord_mm]
}

/// Bored in a steady of real jaws with a springy carriage and grip: whole matrices and halving agree.
#[test]
fn boring_agrees_with_the_plain_solver() {
    let mut job = bar_in_chuck(50.0, 200.0);
    job.shaft.bores = vec![midspan::job::BoreLand {
        from_s_mm: 100.0,
        to_s_mm: 230.0,
        start_diameter_mm: 24.0,
        end_diameter_mm: 24.0,
    }];
    job.lathe.carriage_k_n_per_mm = Stiffness::Spring(Stated::given(3e4));
    let setup = &mut job.setups[0];
    setup.drive.rotation_k_nmm_per_rad = Stiffness::Spring(Stated::given(2e7));
    setup.tool.entering_angle_rad = 45_f64.to_radians();
    setup.tool.nose_radius_mm = 0.0;
    let mut rest = four_jaws(170.0, 0.02, 0.01);
    rest.jaws = [90.0, 210.0, 330.0].map(|angle| jaw(angle, 0.002, 5e4)).to_vec();
    setup.rests = vec![rest];
    setup.passes = vec![pass(1, PassKind::Bore, 200.0, 120.0, Cut::Depth { on_diameter_mm: 3.0 })];
    for side in [ToolSide::Front, ToolSide::Rear] {
        job.setups[0].tool.side = side;
        let done = solved(&job);
        let setup = &job.setups[0];
        let outline = Outline::of(&done[0].before, &job.shaft, setup);
        let scene = Scene::new(&job, setup, &outline, Fineness::USUAL).unwrap();
        let material = job.material();
        let task =
            Task { scene: &scene, outline: &outline, material: &material, pass: &setup.passes[0], last_depth_mm: 0.0 };
        let (prepared, _) = bore::prepare(&task, None).unwrap();
        let mut n_compared = 0;
        for place in prepared.layout.places.iter().step_by(49) {
            let z_mm = prepared.layout.nodes_mm[place.node];
            let station = done[0].stations.iter().find(|station| (station.z_mm - z_mm).abs() < 1e-9).unwrap();
            let plain = PlainCut {
                job: &job,
                prepared: &prepared,
                place: *place,
                inside: true,
                old_radius_mm: 12.0,
                wanted_radius_mm: 13.5,
                lever_mm: 13.5 - 0.75,
                forces: &|depth_mm| boring_forces(depth_mm, 24.0),
                jaws: plain_jaws(&job, &prepared),
            };
            // The wall as it is: 50 mm outside, solid to 70 mm from the jaws, 24 mm ahead of the tool, 27 behind it.
            let found = plain.solve(&|beam: &mut Beam| {
                let mut z0_mm = 0.0;
                for (index, element) in beam.elements.iter_mut().enumerate() {
                    let bore_mm = match z0_mm + 0.5 * element.length_mm {
                        middle if middle < 70.0 => 0.0,
                        _ if index >= place.node => 27.0,
                        _ => 24.0,
                    };
                    z0_mm += element.length_mm;
                    (element.outside_left_mm, element.outside_right_mm) = (50.0, 50.0);
                    (element.bore_left_mm, element.bore_right_mm) = (bore_mm, bore_mm);
                }
            });
            close(station.left_diameter_mm, 2.0 * found.radius_left_mm, 0.0, 1e-9);
            close(station.real_depth_mm, 2.0 * found.depth_mm, 0.0, 1e-9);
            close(station.spring_x_mm, found.u_mm, 1e-7, 1e-9);
            close(station.spring_y_mm, found.v_mm, 1e-7, 1e-9);
            n_compared += 1;
        }
        assert!(n_compared > 3);
    }
}
