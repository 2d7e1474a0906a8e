//! What turns with the work: run-out and roundness against closed forms, and angle by angle against the plain solver.
//!
//! A turn is taken at 36 angles, its highest and lowest place by a parabola through three of them: an indicator reading is
//! 2e-5 of itself low at the worst, which is the `READ` below.

use std::f64::consts::PI;

use midspan::job::material::OwnMaterial;
use midspan::job::{
    CentreHole, Cut, DogKind, DriveKind, Edit, Feature, FeatureKind, Force, Jaw, Job, MaterialChoice, PassKind, Rest,
    RestId, SetTo, Spot, Stated, Stiffness, TailEnd, TailKind,
};
use midspan::study::{PassResult, Station, Status, compute, shape_at};

use crate::close::close;
use crate::random_job::{Lot, jaw, plain_job, random_job};
use crate::second_method::Second;

/// How near a reading of one pure wave comes: see above.
const READ: f64 = 3e-5;

/// A bar on two rigid centres that are hinges, a push typed in newtons at full depth, nothing weighing on size.
fn on_centres(length_mm: f64, diameter_mm: f64, force: Force) -> Job {
    let mut job = plain_job(length_mm, diameter_mm);
    job.lathe.headstock_k_n_per_mm = Stiffness::Rigid;
    job.lathe.tailstock_k_n_per_mm = Stiffness::Rigid;
    job.lathe.carriage_k_n_per_mm = Stiffness::Rigid;
    let hole = Some(CentreHole::in_the_middle(4.0));
    (job.shaft.centre_hole_a, job.shaft.centre_hole_b) = (hole, hole);
    let setup = &mut job.setups[0];
    setup.work_start_z_mm = 0.0;
    setup.drive.kind = DriveKind::CentreAndDog;
    setup.drive.dog.kind = DogKind::TwoTails;
    setup.drive.radial_k_n_per_mm = Stiffness::Rigid;
    setup.drive.rotation_k_nmm_per_rad = Stiffness::Spring(Stated::given(1e-3));
    setup.tail = TailEnd { kind: TailKind::DeadCentre, ..TailEnd::free() };
    let pass = &mut setup.passes[0];
    (pass.from_z_mm, pass.to_z_mm) = (length_mm, 0.0);
    pass.cut = Cut::Depth { on_diameter_mm: 1.0 };
    pass.force = force;
    job
}

fn push(radial_n: f64, main_n: f64, follows_depth: bool) -> Force {
    Force::Typed { radial_n, main_n, feed_n: 0.0, follows_depth }
}

fn first_pass(job: &Job) -> PassResult {
    let pass = compute(job).setups.remove(0).passes.remove(0);
    assert_eq!(pass.status, Status::Solved);
    pass
}

fn at(pass: &PassResult, z_mm: f64) -> Station {
    *pass.stations.iter().min_by(|a, b| (a.z_mm - z_mm).abs().total_cmp(&(b.z_mm - z_mm).abs())).unwrap()
}

/// Where all runs true there is nothing to turn, and no figure but 0.
#[test]
fn a_true_bar_has_no_run_out() {
    let pass = first_pass(&on_centres(500.0, 25.0, push(100.0, 200.0, true)));
    assert!(!pass.turns && pass.stations.iter().all(|station| station.turned == Default::default()));
}

/// A bent bar that nothing forces straight turns with its bend: an indicator reads `4 s (L - s)/L²` of the reading at
/// mid-length. The cut leaves it true about its centres, held or not. Source: geometry of a parabola.
#[test]
fn a_bent_bar_on_centres_is_turned_true() {
    let mut job = on_centres(600.0, 20.0, push(0.0, 0.0, true));
    job.shaft.bow_tir_mm = 0.3;
    job.shaft.bow_at_rad = 0.7;
    let pass = first_pass(&job);
    for station in pass.stations.iter().filter(|station| (20.0..580.0).contains(&station.z_mm)) {
        let share = station.z_mm / 600.0;
        close(station.turned.before_mm, 0.3 * 4.0 * share * (1.0 - share), 5e-3, 1e-6);
        close(station.turned.left_mm, 0.0, 0.0, 1e-9);
        close(station.turned.free_mm, 0.0, 0.0, 1e-6);
        close(station.turned.roundness_mm, 0.0, 0.0, 1e-9);
        close(station.error_mm, 0.0, 0.0, 1e-4);
    }
}

/// A steady that holds a bent bar on the axis at mid-length: turned true there, and bent again by its whole bow once let
/// go. On a spot turned true beforehand the same steady forces nothing, and nothing comes back.
/// Source: common practice ("a steady does not straighten a bar"); geometry.
#[test]
fn a_bar_forced_straight_springs_back_when_it_is_let_go() {
    let mut job = on_centres(600.0, 20.0, push(0.0, 0.0, true));
    job.shaft.bow_tir_mm = 0.2;
    let jaws = [0.0, 90.0, 180.0, 270.0]
        .map(|degrees: f64| Jaw { angle_rad: degrees.to_radians(), gap_mm: 0.0, k_n_per_mm: Stiffness::Rigid })
        .to_vec();
    job.setups[0].rests.push(Rest { jaws, set_to: SetTo::Axis, ..Rest::three_jaw(RestId(9), 300.0) });
    let forced = at(&first_pass(&job), 300.0).turned;
    close(forced.before_mm, 0.0, 0.0, 1e-6);
    close(forced.left_mm, 0.0, 0.0, 1e-6);
    close(forced.free_mm, 0.2, 1e-3, 0.0);

    job.shaft.features = vec![Feature { kind: FeatureKind::TrueSpot, from_s_mm: 285.0, to_s_mm: 315.0 }];
    let on_spot = first_pass(&job);
    close(at(&on_spot, 300.0).turned.free_mm, 0.0, 0.0, 1e-4);
    close(at(&on_spot, 200.0).turned.before_mm, 0.2 * 8.0 / 9.0, 1e-2, 0.0);
}

/// An off-true grip carries a stiff stub round off the axis; the cut is true to the spindle and as far off the bar's
/// middle. Source: geometry.
#[test]
fn an_off_true_grip_runs_out_before_the_cut_and_not_after_it() {
    let mut job = plain_job(80.0, 40.0);
    job.lathe.headstock_k_n_per_mm = Stiffness::Rigid;
    let setup = &mut job.setups[0];
    setup.drive.radial_k_n_per_mm = Stiffness::Rigid;
    setup.drive.rotation_k_nmm_per_rad = Stiffness::Rigid;
    setup.drive.runout_tir_mm = 0.12;
    setup.drive.runout_at_rad = 2.0;
    setup.tail = TailEnd::free();
    (setup.passes[0].from_z_mm, setup.passes[0].to_z_mm) = (50.0, 5.0);
    setup.passes[0].force = push(0.0, 0.0, true);
    let pass = first_pass(&job);
    for station in &pass.stations {
        close(station.turned.before_mm, 0.12, READ, 0.0);
        close(station.turned.left_mm, 0.0, 0.0, 1e-9);
        close(station.turned.free_mm, 0.12, 1e-6, 0.0);
    }

    // Turned end for end into a true chuck, what was cut there runs out by as much.
    job.apply(&Edit::CopySetup(job.setups[0].id)).unwrap();
    let setup = &mut job.setups[1];
    setup.end_for_end = true;
    setup.drive.runout_tir_mm = 0.0;
    let again = compute(&job).setups.remove(1).passes.remove(0);
    // The stub was cut from 5 mm off the jaws to its end at 50: turned round, that stretch lies from -30 to 15.
    let cut_before: Vec<_> = again.stations.iter().filter(|station| (5.5..14.5).contains(&station.z_mm)).collect();
    assert!(cut_before.len() > 10 && again.turns);
    for station in cut_before {
        close(station.turned.before_mm, 0.12, READ, 0.0);
        close(station.turned.left_mm, 0.0, 0.0, 1e-9);
    }
}

/// An eccentric surface makes the depth swing once a turn, and the work gives: with the push `k_c` times the depth and a
/// give `g` of the work, the share `g k_c/(1 + g k_c)` of the run-out is copied. Source: the error-copying rule of
/// process texts (from memory); `g = L³/48EI` and shear at mid-length.
#[test]
fn run_out_is_copied_by_the_give_of_the_work() {
    let (length_mm, diameter_mm, kc_n_per_mm) = (500.0, 20.0, 3000.0);
    let mut job = on_centres(length_mm, diameter_mm, push(kc_n_per_mm * 0.05, 0.0, true));
    // Both holes off alike: the whole bar goes round a tenth of a millimetre off, and is cut by a tenth on diameter.
    let hole = Some(CentreHole { pilot_mm: 4.0, off_tir_mm: 0.05, off_at_rad: 1.0 });
    (job.shaft.centre_hole_a, job.shaft.centre_hole_b) = (hole, hole);
    job.setups[0].passes[0].cut = Cut::Depth { on_diameter_mm: 0.1 };
    let turned = at(&first_pass(&job), length_mm / 2.0).turned;
    close(turned.before_mm, 0.05, READ, 0.0);
    let (e_mpa, inertia_mm4) = (job.material().e_mpa.value, PI / 64.0 * f64::powi(diameter_mm, 4));
    let give = length_mm.powi(3) / (48.0 * e_mpa * inertia_mm4);
    let share = give * kc_n_per_mm / (1.0 + give * kc_n_per_mm);
    assert!(share > 0.3, "a case that matters: {share}");
    // Shear gives 0.3 % more, the tenth taken off behind the tool 1 % more.
    close(turned.left_mm / turned.before_mm, share, 0.02, 0.0);
}

/// Work that lies with a three-lobed spot in the two lower jaws of a steady, 90 degrees apart: the middle goes to and fro
/// by half the height of the lobes, three times a turn, and the lobes are cut into the work at full height beside it.
/// Source: the middle of the section from `d_i·p = -δ_i` for both jaws (vee-block geometry), worked out by hand.
#[test]
fn lobes_of_the_spot_are_copied_into_the_work() {
    let mut job = on_centres(400.0, 60.0, push(0.0, 0.0, true));
    let setup = &mut job.setups[0];
    setup.tail = TailEnd::free();
    // The work hangs on the jaws alone: the turning stiffness that the program itself assumes, not a thousandth of it,
    // which would cost the digits looked for.
    setup.drive.rotation_k_nmm_per_rad = Stiffness::Spring(Stated::given(1.0));
    let jaws = [225.0, 315.0]
        .map(|degrees: f64| Jaw { angle_rad: degrees.to_radians(), gap_mm: 0.0, k_n_per_mm: Stiffness::Rigid })
        .to_vec();
    let spot = Spot { n_lobes: 3, height_mm: 0.01 };
    setup.rests.push(Rest { jaws, set_to: SetTo::Axis, spot, ..Rest::three_jaw(RestId(9), 380.0) });
    setup.jaw_friction = false;
    (setup.passes[0].from_z_mm, setup.passes[0].to_z_mm) = (395.0, 370.0);
    let turned = at(&first_pass(&job), 380.0).turned;
    close(turned.roundness_mm, 0.01, 5e-3, 0.0);
    // An indicator where the tool stood sees nothing of it: the lobes dance as they did under the tool.
    close(turned.left_mm, 0.0, 0.0, 1e-6);
    close(turned.before_mm, 0.01, 5e-3, 0.0);
    close(turned.off_mm[0].hypot(turned.off_mm[1]), 0.0, 0.0, 1e-6);

    // Three jaws a third of a turn apart meet the lobes all at once: held fast, the middle stays where it is.
    let three = [90.0, 210.0, 330.0].map(|degrees: f64| jaw(degrees, -0.02, 1e5)).to_vec();
    job.setups[0].rests[0].jaws = three;
    close(at(&first_pass(&job), 380.0).turned.roundness_mm, 0.0, 0.0, 1e-4);
}

/// The tail of a bent dog pushes with the torque over its radius, a reach behind the centre: a moment at the end of a bar
/// on two hinges, which bends it by `M L²/16EI` at mid-length and goes round with it. Source: any beam table.
#[test]
fn a_one_tail_dog_bends_the_work_round_and_round() {
    let (length_mm, diameter_mm) = (500.0, 20.0);
    let mut job = on_centres(length_mm, diameter_mm, push(0.0, 400.0, false));
    // Deep enough that the bent work never turns clear of the tool.
    job.setups[0].passes[0].cut = Cut::Depth { on_diameter_mm: 0.2 };
    let dog = &mut job.setups[0].drive.dog;
    dog.kind = DogKind::OneTail;
    (dog.tail_radius_mm, dog.tail_reach_mm) = (Stated::given(40.0), Stated::given(25.0));
    let pass = first_pass(&job);
    let station = at(&pass, length_mm / 2.0);
    let torque_nmm = 400.0 * station.left_diameter_mm / 2.0;
    let moment_nmm = torque_nmm / 40.0 * 25.0;
    let inertia_mm4 = PI / 64.0 * f64::powi(diameter_mm, 4);
    let bend_mm = moment_nmm * length_mm * length_mm / (16.0 * job.material().e_mpa.value * inertia_mm4);
    assert!(bend_mm > 2e-3, "a case that matters: {bend_mm}");
    // The main force lifts the work by some hundredths, which lets a little of the up and down through to size.
    close(station.turned.left_mm, 2.0 * bend_mm, 0.02, 0.0);
    assert!(station.turned.roundness_mm < 0.05 * station.turned.left_mm);
    job.setups[0].drive.dog.kind = DogKind::TwoTails;
    assert!(!first_pass(&job).turns, "a balanced drive turns and no more");
}

/// What turns leaves the size alone: with nothing that can lift, the curve of size is the same to the last bit.
#[test]
fn size_does_not_know_of_run_out() {
    let mut job = on_centres(500.0, 22.0, push(150.0, 300.0, true));
    let straight = first_pass(&job);
    job.shaft.bow_tir_mm = 0.1;
    let bent = first_pass(&job);
    for (a, b) in straight.stations.iter().zip(&bent.stations) {
        assert_eq!(a.error_mm.to_bits(), b.error_mm.to_bits());
    }
}

/// Which side the faults face does not matter where the holding is alike all round: the readings stay as they were.
#[test]
fn faults_turned_together_read_the_same() {
    let reading = |turn_rad: f64| {
        let mut job = plain_job(500.0, 20.0);
        job.shaft.bow_tir_mm = 0.1;
        job.shaft.bow_at_rad = 0.4 + turn_rad;
        let setup = &mut job.setups[0];
        setup.drive.runout_tir_mm = 0.05;
        setup.drive.runout_at_rad = 2.0 + turn_rad;
        let turned = at(&first_pass(&job), 250.0).turned;
        (turned.before_mm, turned.left_mm, turned.free_mm)
    };
    let (a, b) = (reading(0.0), reading(1.3));
    close(b.0, a.0, 5e-3, 0.0);
    close(b.1, a.1, 5e-2, 1e-5);
    close(b.2, a.2, 1e-3, 0.0);
}

/// A pass tight behind the tool copies itself: with a jaw of stiffness `k`, pressed in by `p`, on work that gives `g`, and
/// `q = g k/(1 + g k)`, the first stretch of one jaw distance stays to size, the next is cut `q p` deep, then
/// `q p (1 - q)`, then `q p (1 - q + q²)`: rings one distance long. Source: the recursion written out by hand.
#[test]
fn a_follower_set_tight_leaves_rings_a_jaw_distance_long() {
    let (distance_mm, pressed_mm, k_jaw, k_end) = (12.0, 0.02, 2e3, 2e3);
    let mut job = on_centres(300.0, 80.0, push(0.0, 0.0, true));
    // Next to no weight: sag on such soft ends would show in the size by its square.
    let figures = job.material();
    job.shaft.material = MaterialChoice::Own(OwnMaterial {
        name: "weightless steel".to_owned(),
        e_mpa: figures.e_mpa.value,
        poisson_ratio: 0.3,
        density_kg_per_m3: 1.0,
        growth_per_k: 0.0,
        kc11_mpa: 2000.0,
        mc: 0.2,
        thrust_ratio: 0.5,
    });
    job.lathe.headstock_k_n_per_mm = Stiffness::Spring(Stated::given(k_end));
    job.lathe.tailstock_k_n_per_mm = Stiffness::Spring(Stated::given(k_end));
    let setup = &mut job.setups[0];
    setup.drive.radial_k_n_per_mm = Stiffness::Rigid;
    setup.jaw_friction = false;
    setup.follower = Some(midspan::job::Follower {
        distance_mm,
        jaws: [jaw(0.0, -pressed_mm, k_jaw), jaw(90.0, 1.0, k_jaw)],
        ..midspan::job::Follower::usual()
    });
    (setup.passes[0].from_z_mm, setup.passes[0].to_z_mm) = (174.0, 126.0);
    let pass = first_pass(&job);
    let left_mm = |travelled_mm: f64| at(&pass, 174.0 - travelled_mm).error_mm / 2.0;
    // At mid-length both ends give alike: g = 1/2k; the bar's own bending is half a percent of it.
    let give = 1.0 / (2.0 * k_end);
    let q = give * k_jaw / (1.0 + give * k_jaw);
    close(left_mm(6.0), 0.0, 0.0, 1e-6);
    close(left_mm(18.0), -q * pressed_mm, 0.02, 0.0);
    close(left_mm(30.0), -q * pressed_mm * (1.0 - q), 0.02, 0.0);
    close(left_mm(42.0), -q * pressed_mm * (1.0 - q + q * q), 0.02, 0.0);

    // Brought on only after 30 mm, the same rings begin there, and all before it is to size.
    job.setups[0].follower.as_mut().unwrap().start_mm = 30.0;
    let late = first_pass(&job);
    let left_mm = |travelled_mm: f64| at(&late, 174.0 - travelled_mm).error_mm / 2.0;
    close(left_mm(29.5), 0.0, 0.0, 1e-6);
    close(left_mm(36.0), -q * pressed_mm, 0.02, 0.0);
    close(left_mm(47.0), -q * pressed_mm * (1.0 - q), 0.02, 0.0);
}

/// The drawn work at one place of the tool knows the same follower as the sweep that passed there.
#[test]
fn the_shape_at_a_place_sees_the_follower_the_sweep_saw() {
    let mut job = plain_job(500.0, 16.0);
    let mut follower = midspan::job::Follower::usual();
    follower.start_mm = 37.0;
    follower.jaws = [jaw(0.0, -0.01, 3e4), jaw(90.0, 0.0, 3e4)];
    job.setups[0].follower = Some(follower);
    job.setups[0].drive.runout_tir_mm = 0.1;
    let result = compute(&job);
    let pass = &result.setups[0].passes[0];
    for index in [3, 20, 60, 150, pass.stations.len() - 8] {
        let station = &pass.stations[index];
        let shape = shape_at(&job, &result, job.setups[0].id, Some(pass.pass), Some(station.z_mm)).unwrap();
        let cut = shape.cut.unwrap();
        close(cut.error_mm, station.error_mm, 2e-3, 1e-6);
        close(cut.turned.before_mm, station.turned.before_mm, 0.05, 1e-4);
    }
}

/// Random jobs with random faults, one turn of the work at one place: the radius left at every angle against the plain
/// solver, which bends the whole bar anew at each, the bend of the bar put on as loads.
#[test]
fn every_angle_of_a_turn_agrees_with_the_plain_solver() {
    let mut lot = Lot(77);
    let mut n_compared = 0;
    for number in 0..60 {
        let mut job = random_job(number);
        job.shaft.bow_tir_mm = lot.between(0.0, 0.2);
        job.shaft.bow_at_rad = lot.between(-3.0, 3.0);
        let hole = |lot: &mut Lot| {
            Some(CentreHole { pilot_mm: 3.0, off_tir_mm: lot.between(0.0, 0.1), off_at_rad: lot.between(-3.0, 3.0) })
        };
        (job.shaft.centre_hole_a, job.shaft.centre_hole_b) = (hole(&mut lot), hole(&mut lot));
        let setup = &mut job.setups[0];
        setup.drive.runout_tir_mm = lot.between(0.0, 0.1);
        setup.drive.runout_at_rad = lot.between(-3.0, 3.0);
        setup.tail.runout_tir_mm = lot.between(0.0, 0.02);
        for rest in &mut setup.rests {
            rest.spot = Spot { n_lobes: 2 + lot.below(4) as u32, height_mm: lot.between(0.0, 0.01) };
        }
        // One pass on the stock: its surface is the bar's own.
        setup.passes.truncate(1);
        let result = compute(&job);
        let setup = &job.setups[0];
        let computed = &result.setups[0].passes[0];
        if computed.status != Status::Solved || computed.behind.is_some() || setup.passes[0].kind != PassKind::Turn {
            continue;
        }
        // A follower behind the tool rides on what the turn before left, which only the sweep knows.
        let rides = setup.follower.as_ref();
        if rides.is_some_and(|follower| follower.side == midspan::job::FollowerSide::Behind) {
            continue;
        }
        let station = computed.stations[lot.below(computed.stations.len())];
        let Some(shape) = shape_at(&job, &result, setup.id, Some(computed.pass), Some(station.z_mm)) else { continue };
        let second = Second::new(&job, setup, &result.setups[0]);
        let whole = second.pass(&result, 0, None);
        let set_on_mm = whole.follower_set_on_mm(&whole.prepared.layout.places);
        let mut plain = second.pass(&result, 0, Some(station.z_mm));
        plain.remember(computed);
        let place = plain.prepared.layout.places[0];
        let cut = shape.cut.unwrap();
        let torque_nmm = cut.fc_n * cut.left_diameter_mm / 2.0;
        assert!(shape.turn_mm.len() >= 24, "a turn is resolved");
        for step in [0, 7, 13, 22] {
            let angle_rad = std::f64::consts::TAU * step as f64 / shape.turn_mm.len() as f64;
            let answer = plain.solve_turned(&place, set_on_mm, angle_rad, torque_nmm).expect("held at any angle");
            let (_, radius_mm) = shape.turn_mm[step];
            close(radius_mm, answer.cut.radius_left_mm, 0.0, 2e-9);
            n_compared += 1;
        }
    }
    assert!(n_compared >= 100, "{n_compared} angles could be compared");
}

/// Cat heads are set to run true, so a bent bar does not thump in their jaws.
#[test]
fn a_cat_head_takes_the_thump_out_of_the_jaws() {
    let mut job = on_centres(600.0, 20.0, push(0.0, 0.0, true));
    job.shaft.bow_tir_mm = 0.2;
    let jaws = [0.0, 90.0, 180.0, 270.0].map(|degrees: f64| jaw(degrees, 0.0, 1e5)).to_vec();
    job.setups[0].rests.push(Rest { jaws, set_to: SetTo::Axis, ..Rest::three_jaw(RestId(9), 300.0) });
    let bare = at(&first_pass(&job), 200.0).turned;
    job.setups[0].rests[0].sleeve = midspan::job::Sleeve::CatHead { diameter_mm: 40.0, width_mm: 40.0 };
    let with_head = at(&first_pass(&job), 200.0).turned;
    close(with_head.before_mm, 0.2 * 8.0 / 9.0, 1e-2, 0.0);
    assert!(bare.before_mm < 0.5 * with_head.before_mm, "the bare bar is forced towards the axis");
}
