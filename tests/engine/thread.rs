//! Threading: printed depths and infeeds, the area of the chips, passes that follow one another on the root, and the
//! whole against the plain solver.

use midspan::job::{
    Cut, Follower, FollowerSide, Force, Job, Pass, PassId, PassKind, Stated, Stiffness, TailEnd, TipKind, ToolSide,
};
use midspan::mechanics::cutting::{Law, ThreadChip};
use midspan::study::outline::Outline;
use midspan::study::prepared::Scene;
use midspan::study::task::Task;
use midspan::study::thread::{OverRoots, full_depth_mm, usual_infeeds_mm};
use midspan::study::{Fineness, Measured, PassResult, Status, compute, shape_at};

use crate::close::close;
use crate::plain_cut::{PlainCut, bar_in_chuck, end_give_mm_per_n, four_jaws, plain_jaws};
use crate::random_job::jaw;

/// Source: ISO 68-1, h3 = 0.61343 P worked out for ten pitches, three digits; a threading-tool maker's table of depths
/// (read) has the same to two digits.
#[test]
fn full_depth_meets_the_table() {
    for (pitch_mm, depth_mm) in [
        (0.5, 0.307),
        (0.75, 0.460),
        (1.0, 0.613),
        (1.25, 0.767),
        (1.5, 0.920),
        (1.75, 1.074),
        (2.0, 1.227),
        (2.5, 1.534),
        (3.0, 1.840),
        (4.0, 2.454),
    ] {
        close(full_depth_mm(pitch_mm), depth_mm, 0.0, 5.1e-4);
    }
}

/// Source: infeeds printed by a threading-tool maker for 1, 1.5 and 2 mm; number of passes and deepest pass by another.
#[test]
fn usual_infeeds_are_the_printed_ones_or_take_equal_areas() {
    assert_eq!(usual_infeeds_mm(1.5), [0.25, 0.20, 0.15, 0.15, 0.10, 0.07]);
    for pitch_mm in [1.0, 1.5, 2.0] {
        close(usual_infeeds_mm(pitch_mm).iter().sum(), full_depth_mm(pitch_mm), 0.0, 5e-3);
    }
    for (pitch_mm, n_passes) in [(0.75, 4), (1.25, 7), (1.75, 10), (2.5, 14), (3.0, 16)] {
        let infeeds_mm = usual_infeeds_mm(pitch_mm);
        assert_eq!(infeeds_mm.len(), n_passes, "pitch {pitch_mm}");
        close(infeeds_mm.iter().sum(), full_depth_mm(pitch_mm), 1e-12, 0.0);
        assert!(infeeds_mm.windows(2).all(|pair| pair[1] < pair[0]), "each pass takes less than the one before");
        // A sharp vee has area in proportion to its depth squared: every pass takes the same share.
        let mut deep_mm: f64 = 0.0;
        for infeed_mm in &infeeds_mm {
            let before_mm2 = deep_mm.powi(2);
            deep_mm += infeed_mm;
            close(deep_mm.powi(2) - before_mm2, full_depth_mm(pitch_mm).powi(2) / n_passes as f64, 1e-9, 0.0);
        }
    }
    for pitch_mm in [0.2, 0.5, 2.2, 4.0, 6.0, 12.0] {
        let infeeds_mm = usual_infeeds_mm(pitch_mm);
        close(infeeds_mm.iter().sum(), full_depth_mm(pitch_mm), 1e-12, 0.0);
        assert!(infeeds_mm.iter().all(|infeed_mm| (0.0..=0.5).contains(infeed_mm)), "pitch {pitch_mm}");
    }
}

fn chip(pitch_mm: f64, deep_mm: f64) -> ThreadChip {
    ThreadChip {
        kc11_mpa: 2000.0,
        mc: 0.25,
        correction_ratio: 1.1,
        radial_ratio: 0.5,
        deep_mm,
        root_width_mm: pitch_mm / 6.0,
    }
}

/// The chips of all passes together are the thread: its profile by the corners of the groove (7/8 P wide at the crest,
/// P/6 at the root, 17/24 √3/2 P deep), whatever the infeeds. Source: ISO 68-1 (from memory, sure); shoelace formula.
#[test]
fn chips_of_all_passes_are_the_groove_of_the_thread() {
    for pitch_mm in [1.0, 1.5, 2.5, 4.0] {
        let deep_mm = 17.0 / 24.0 * 0.75_f64.sqrt() * pitch_mm;
        let corners = [
            (-0.4375 * pitch_mm, 0.0),
            (-pitch_mm / 12.0, deep_mm),
            (pitch_mm / 12.0, deep_mm),
            (0.4375 * pitch_mm, 0.0),
        ];
        let next = |i: usize| corners[(i + 1) % 4];
        let groove_mm2: f64 =
            (0..4).map(|i| corners[i].0 * next(i).1 - next(i).0 * corners[i].1).sum::<f64>().abs() / 2.0;
        let mut at_mm = 0.0;
        let mut chips_mm2 = 0.0;
        for share in [0.3, 0.25, 0.2, 0.15, 0.1] {
            let infeed_mm = share * deep_mm;
            chips_mm2 += chip(pitch_mm, at_mm).area_mm2(infeed_mm).0;
            at_mm += infeed_mm;
        }
        // The groove leaves a crest of P/8 and no more.
        close(chips_mm2, groove_mm2, 1e-9, 0.0);
    }
}

#[test]
fn force_of_a_thread_has_the_slope_it_says_it_has() {
    for deep_mm in [0.0, 0.4, 1.2] {
        let law = Law::Thread(chip(2.0, deep_mm));
        for depth_mm in [0.01, 0.06, 0.2, 0.5] {
            let step_mm = 1e-6 * depth_mm;
            let (more, less) = (law.forces(depth_mm + step_mm).0, law.forces(depth_mm - step_mm).0);
            let (_, per_mm) = law.forces(depth_mm);
            close((more.main_n - less.main_n) / (2.0 * step_mm), per_mm.main_n, 1e-6, 0.0);
            close((more.radial_n - less.radial_n) / (2.0 * step_mm), per_mm.radial_n, 1e-6, 0.0);
            assert!(per_mm.main_n > 0.0, "a deeper cut pushes harder");
        }
    }
}

fn pass(id: u32, kind: PassKind, cut: Cut) -> Pass {
    Pass {
        id: PassId(id),
        kind,
        from_z_mm: 290.0,
        to_z_mm: 150.0,
        cut,
        feed_mm_per_rev: 2.0,
        speed_rpm: 80.0,
        force: Force::FromCut,
    }
}

fn depth(on_diameter_mm: f64) -> Cut {
    Cut::Depth { on_diameter_mm }
}

/// A 40 mm bar, 300 mm out of a rigid chuck, with a rigid centre or without.
fn threaded(with_centre: bool, passes: Vec<Pass>) -> Job {
    let mut job = bar_in_chuck(40.0, 300.0);
    if with_centre {
        job.setups[0].tail = TailEnd { kind: midspan::job::TailKind::DeadCentre, ..TailEnd::free() };
    }
    job.setups[0].passes = passes;
    job
}

fn passes_of(job: &Job) -> Vec<PassResult> {
    let passes = compute(job).setups.remove(0).passes;
    assert!(passes.iter().all(|pass| pass.status == Status::Solved));
    passes
}

#[test]
fn passes_follow_one_another_on_the_root_and_leave_the_crest() {
    let cuts = vec![
        pass(1, PassKind::Thread, depth(0.8)),
        pass(2, PassKind::Thread, depth(0.6)),
        pass(3, PassKind::Spring, depth(0.0)),
        pass(4, PassKind::Thread, Cut::ToDiameter { diameter_mm: 38.0 }),
    ];
    let done = passes_of(&threaded(true, cuts));
    let dials_mm = [39.2, 38.6, 38.6, 38.0];
    for (index, (done_pass, dial_mm)) in done.iter().zip(dials_mm).enumerate() {
        assert_eq!(done_pass.measured, Measured::ThreadRoot);
        assert_eq!(done_pass.after.spans, done[0].before.spans, "the crests stay");
        for (i, station) in done_pass.stations.iter().enumerate() {
            close(station.wanted_diameter_mm, dial_mm, 1e-12, 0.0);
            close(station.old_diameter_mm - station.left_diameter_mm, station.real_depth_mm, 0.0, 1e-9);
            let found_mm = if index == 0 { 40.0 } else { done[index - 1].stations[i].left_diameter_mm };
            close(station.old_diameter_mm, found_mm, 0.0, 1e-9);
        }
    }
    let worst = |index: usize| done[index].worst().unwrap().error_mm;
    assert!(worst(0) > 1e-4, "the work gives way: the thread is too shallow");
    assert!(worst(2) < 0.5 * worst(1), "a spring pass takes most of what the work gave way");
}

#[test]
fn a_thread_to_the_drawing_is_as_deep_as_its_pitch_asks_for() {
    let mut job = threaded(true, vec![pass(1, PassKind::Thread, Cut::ToDrawing { leave_on_diameter_mm: 0.1 })]);
    job.shaft.wanted[0].land = midspan::job::Land::cylinder(330.0, 39.5);
    let done = passes_of(&job);
    close(done[0].stations[5].wanted_diameter_mm, 39.5 - 2.0 * 1.226_87 + 0.1, 0.0, 1e-4);
    job.shaft.wanted.clear();
    let done = passes_of(&job);
    close(done[0].stations[5].wanted_diameter_mm, 40.0 - 2.0 * 1.226_87 + 0.1, 0.0, 1e-4);
}

#[test]
fn work_that_cannot_give_or_is_not_pushed_gets_the_thread_of_the_dial() {
    let mut silent = pass(1, PassKind::Thread, depth(0.8));
    silent.force = Force::Typed { radial_n: 0.0, main_n: 0.0, feed_n: 0.0, follows_depth: false };
    for station in &passes_of(&threaded(false, vec![silent]))[0].stations {
        close(station.error_mm, 0.0, 0.0, 1e-9);
    }
    // A stump 60 mm thick gives a ten-thousandth of what a slender bar does.
    let mut stump = bar_in_chuck(60.0, 12.0);
    stump.setups[0].passes = vec![Pass { from_z_mm: 10.0, to_z_mm: 2.0, ..pass(1, PassKind::Thread, depth(0.8)) }];
    for station in &passes_of(&stump)[0].stations {
        close(station.error_mm, 0.0, 0.0, 2e-4);
    }
}

/// Weightless work turned by half a turn with its tool at the rear is the same work.
#[test]
fn a_tool_at_the_rear_cuts_the_same_thread() {
    let mut job = threaded(true, vec![pass(1, PassKind::Thread, depth(0.8)), pass(2, PassKind::Thread, depth(0.6))]);
    let front = passes_of(&job);
    job.setups[0].tool.side = ToolSide::Rear;
    for (front, rear) in front.iter().zip(&passes_of(&job)) {
        for (one, other) in front.stations.iter().zip(&rear.stations) {
            close(one.error_mm, other.error_mm, 1e-9, 1e-12);
            close(one.spring_x_mm, -other.spring_x_mm, 1e-9, 1e-12);
        }
    }
}

/// The forces of a thread by hand: C = 2000 h^-0.25 with the factor for speed, half of it away from the tool.
fn by_hand(deep_mm: f64, depth_mm: f64) -> [f64; 3] {
    let speed_m_per_min = std::f64::consts::PI * 40.0 * 80.0 / 1000.0;
    let kc_mpa = 2000.0 * (0.5 * depth_mm).max(0.05).powf(-0.25) * 2.023 / speed_m_per_min.max(20.0).powf(0.153);
    let bottom_mm = 2.0 / 6.0;
    let width_at = |from_crest_mm: f64| bottom_mm + 2.0 * from_crest_mm / 3f64.sqrt();
    // From the old root to the new one the cut has the shape of a trapezium.
    let area_mm2 = depth_mm * 0.5 * (width_at(deep_mm) + width_at(deep_mm + depth_mm));
    [kc_mpa * area_mm2, 0.5 * kc_mpa * area_mm2, 0.0]
}

/// Two passes with a steady of real jaws, springy ends and a springy carriage, against whole matrices and halving.
#[test]
fn thread_passes_agree_with_the_plain_solver() {
    let mut job = threaded(true, vec![pass(1, PassKind::Thread, depth(0.8)), pass(2, PassKind::Thread, depth(0.6))]);
    job.lathe.carriage_k_n_per_mm = Stiffness::Spring(Stated::given(4e4));
    job.lathe.tailstock_k_n_per_mm = Stiffness::Spring(Stated::given(5e4));
    let mut rest = four_jaws(110.0, 0.01, -0.004);
    rest.jaws = [90.0, 210.0, 330.0].map(|angle| jaw(angle, 0.002, 6e4)).to_vec();
    job.setups[0].rests = vec![rest];
    let done = passes_of(&job);
    let setup = &job.setups[0];
    let material = job.material();
    let mut shared = 0;
    for (index, done_pass) in done.iter().enumerate() {
        let outline = Outline::of(&done_pass.before, &job.shaft, setup);
        let scene = Scene::new(&job, setup, &outline, Fineness::USUAL).unwrap();
        let task = Task {
            scene: &scene,
            outline: &outline,
            material: &material,
            pass: &setup.passes[index],
            last_depth_mm: 0.0,
        };
        let prepared = OverRoots::new(&task, 2.0).prepare(&task, None);
        let jaws = plain_jaws(&job, &prepared);
        assert!(!jaws.is_empty());
        for place in prepared.layout.places.iter().step_by(67) {
            let z_mm = prepared.layout.nodes_mm[place.node];
            let station = done_pass.stations.iter().find(|station| (station.z_mm - z_mm).abs() < 1e-9).unwrap();
            let deep_mm = 20.0 - station.old_diameter_mm / 2.0;
            let plain = PlainCut {
                job: &job,
                prepared: &prepared,
                place: *place,
                inside: false,
                old_radius_mm: station.old_diameter_mm / 2.0,
                wanted_radius_mm: station.wanted_diameter_mm / 2.0,
                lever_mm: 0.0,
                forces: &|depth_mm| by_hand(deep_mm, depth_mm),
                jaws: jaws.clone(),
            };
            let found = plain.solve(&|_| {});
            close(station.left_diameter_mm, 2.0 * found.radius_left_mm, 0.0, 1e-9);
            close(station.spring_x_mm, found.u_mm, 1e-7, 1e-9);
            close(station.spring_y_mm, found.v_mm, 1e-7, 1e-9);
            shared += 1;
        }
    }
    assert!(shared >= 6);
}

/// The jaws of a follower stand on the crests, which the tool leaves alone: they touch before and behind the tool, and
/// however deep the thread is by then.
#[test]
fn follower_rides_on_the_crests_on_either_side_of_the_tool() {
    let cuts = || vec![pass(1, PassKind::Thread, depth(1.0)), pass(2, PassKind::Thread, depth(0.6))];
    let bare = passes_of(&threaded(true, cuts()));
    for side in [FollowerSide::Behind, FollowerSide::Ahead] {
        let mut job = threaded(true, cuts());
        job.setups[0].follower = Some(Follower {
            distance_mm: 12.0,
            side,
            jaws: [jaw(0.0, 0.0, 1e9), jaw(90.0, 0.0, 1e9)],
            tip: TipKind::Bronze,
            tip_bored_mm: None,
            start_mm: 0.0,
        });
        let result = compute(&job);
        let done = &result.setups[0].passes;
        for (index, (with, without)) in done.iter().zip(&bare).enumerate() {
            let middle = with.stations.len() / 2;
            let n_supports = with.supports.len();
            let rear_n = with.forces_at(middle)[n_supports - 2];
            assert!(rear_n > 10.0, "{side:?}, pass {index}: the rear jaw carries {rear_n} N");
            let (with_mm, without_mm) = (with.stations[middle].error_mm, without.stations[middle].error_mm);
            assert!(with_mm < 0.3 * without_mm, "{side:?}, pass {index}: {with_mm} against {without_mm}");
            // What is drawn is what was swept.
            let z_mm = with.stations[middle].z_mm;
            let shape = shape_at(&job, &result, job.setups[0].id, Some(with.pass), Some(z_mm)).unwrap();
            close(shape.cut.unwrap().spring_x_mm, with.stations[middle].spring_x_mm, 1e-6, 1e-7);
        }
    }
}

/// A bar threaded all along, pushed at its end, bends as a bar of the root's diameter.
#[test]
fn what_carries_after_threading_is_the_root() {
    let mut silent = pass(1, PassKind::Thread, Cut::ToDiameter { diameter_mm: 36.0 });
    silent.force = Force::Typed { radial_n: 0.0, main_n: 0.0, feed_n: 0.0, follows_depth: false };
    (silent.from_z_mm, silent.to_z_mm) = (300.0, 0.0);
    let mut push = pass(2, PassKind::Turn, Cut::ToDiameter { diameter_mm: 40.0 });
    push.from_z_mm = 300.0;
    push.force = Force::Typed { radial_n: 200.0, main_n: 0.0, feed_n: 0.0, follows_depth: false };
    let done = passes_of(&threaded(false, vec![silent, push]));
    let end = done[1].stations.last().unwrap();
    close(end.spring_x_mm, 200.0 * end_give_mm_per_n(36.0, 0.0, 300.0), 1e-6, 0.0);
    assert_eq!(done[1].measured, Measured::Outside);
    close(end.old_diameter_mm, 40.0, 1e-12, 0.0);
}

#[test]
fn a_thread_goes_with_the_work_when_it_is_turned_end_for_end() {
    let mut job = threaded(true, vec![pass(1, PassKind::Thread, depth(0.8))]);
    let mut second = job.setups[0].clone();
    second.id = midspan::job::SetupId(50);
    second.end_for_end = true;
    // The far end of the thread, 260 to 120 mm from the jaws now, a little deeper.
    second.passes[0] =
        Pass { id: PassId(51), from_z_mm: 150.0, to_z_mm: 10.0, ..pass(1, PassKind::Thread, depth(0.2)) };
    job.setups.push(second);
    let result = compute(&job);
    let before = &result.setups[1].passes[0];
    let dials: Vec<f64> = before.stations.iter().map(|station| station.wanted_diameter_mm).collect();
    // Shaft 330 mm, from -30: z = 150..290 in the first set-up is s = 180..320, which is z = -20..120 in the second.
    for (station, dial_mm) in before.stations.iter().zip(dials) {
        let threaded_before = station.z_mm < 120.0 - 1e-6;
        if (station.z_mm - 120.0).abs() > 1e-6 {
            close(dial_mm, if threaded_before { 39.0 } else { 39.8 }, 1e-12, 0.0);
        }
    }
}
