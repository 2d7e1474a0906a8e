//! What every swept pass must have, whatever the job: forces in balance, jaws that only push, the same answer for the
//! same job turned or mirrored, nothing that jumps where nothing happens.

use midspan::job::material::OwnMaterial;
use midspan::job::{
    DriveKind, Follower, FollowerSide, Force, Job, Land, MaterialChoice, Rest, RestId, SetTo, Setup, Sleeve, Stated,
    Stiffness, TailKind, TipKind, ToolSide,
};
use midspan::study::{Status, Support, compute, shape_at};

use proptest::prelude::*;

use crate::close::close;
use crate::dense::{Dof, Plane};
use crate::random_job::{Lot, jaw, plain_job, random_job};
use crate::second_method::Second;

fn rest(id: u32, z_mm: f64) -> Rest {
    Rest {
        id: RestId(id),
        z_mm,
        jaws: [90.0, 210.0, 330.0].map(|degrees| jaw(degrees, 0.003, 8e4)).to_vec(),
        tip: TipKind::Bronze,
        set_to: SetTo::Axis,
        offset_x_mm: 0.0,
        offset_y_mm: 0.0,
        sleeve: Sleeve::None,
        spot: midspan::job::Spot::round(),
        tip_bored_mm: None,
    }
}

fn spring(k: f64) -> Stiffness {
    Stiffness::Spring(Stated::given(k))
}

/// Where a jaw pushes the work per unit of its force: off its tip, and by friction against the turn of the work.
pub fn push_of(setup: &Setup, tip: TipKind, angle_rad: f64) -> (f64, f64) {
    let mu = if setup.jaw_friction { tip.friction_ratio() } else { 0.0 };
    (-angle_rad.cos() + mu * angle_rad.sin(), -angle_rad.sin() - mu * angle_rad.cos())
}

/// Statics: what the ends and jaws push, the tool's push and the weight add up to nothing, up and down as to and fro.
fn forces_are_in_balance(number: u64) {
    let job = random_job(number);
    let result = compute(&job);
    let (setup, computed) = (&job.setups[0], &result.setups[0]);
    let second = Second::new(&job, setup, computed);
    let side = if setup.tool.side == ToolSide::Front { 1.0 } else { -1.0 };
    let drive_rigid = [job.lathe.headstock_k_n_per_mm, setup.drive.radial_k_n_per_mm] == [Stiffness::Rigid; 2];
    let floor_n = if drive_rigid || job.lathe.tailstock_k_n_per_mm == Stiffness::Rigid { 1e-5 } else { 0.0 };
    for (index, pass) in computed.passes.iter().enumerate().filter(|(_, pass)| pass.status == Status::Solved) {
        let mut directions = Vec::new();
        for support in &pass.supports {
            directions.push(match support {
                Support::DriveX | Support::TailX => (1.0, 0.0),
                Support::DriveY | Support::TailY => (0.0, 1.0),
                Support::Jaw { rest, jaw } => {
                    let rest = setup.rest(*rest).unwrap();
                    push_of(setup, rest.tip, rest.jaws[*jaw].angle_rad)
                }
                Support::FollowerJaw { jaw } => {
                    let follower = setup.follower.as_ref().unwrap();
                    push_of(setup, follower.tip, follower.jaws[*jaw].angle_rad)
                }
            });
        }
        let mut plain = second.pass(&result, index, None);
        plain.remember(pass);
        let mut places = plain.prepared.layout.places.clone();
        if setup.passes[index].feeds_to_headstock() {
            places.reverse();
        }
        let middle = places.len() / 2;
        let station = &pass.stations[middle];
        let beam = plain.beam_at(&places[middle]);
        let weight_n: f64 = (beam.weight_loads().iter())
            .filter(|load| load.plane == Plane::Y && load.dof == Dof::Shift)
            .map(|load| load.value)
            .sum();
        let (mut x_n, mut y_n) = (side * station.fp_n, side * station.fc_n + weight_n);
        let mut size_n = station.fp_n.abs() + station.fc_n.abs() + weight_n.abs();
        for (force_n, (x, y)) in pass.forces_at(middle).iter().zip(&directions) {
            x_n += x * force_n;
            y_n += y * force_n;
            size_n += force_n.abs();
        }
        if pass.behind.is_none() {
            close(x_n, 0.0, 0.0, (1e-9 * size_n).max(floor_n));
            close(y_n, 0.0, 0.0, (1e-9 * size_n).max(floor_n));
        }
    }
}

/// Jaws push or are open, at every station and in the drawn shape; and a solved place says how well.
fn jaws_only_push(number: u64) {
    let job = random_job(number);
    let result = compute(&job);
    let setup = &job.setups[0];
    for pass in result.setups[0].passes.iter().filter(|pass| pass.status == Status::Solved) {
        let n_ends = if setup.tail.kind == TailKind::Free { 2 } else { 4 };
        for station in 0..pass.stations.len() {
            assert!(pass.forces_at(station)[n_ends..].iter().all(|force| *force >= 0.0), "a jaw only pushes");
            assert!(pass.stations[station].residual_mm < 1e-9, "a solved place keeps its equations");
        }
        let z_mm = pass.stations[pass.stations.len() / 3].z_mm;
        let shape = shape_at(&job, &result, setup.id, Some(pass.pass), Some(z_mm)).unwrap();
        for (gap_mm, reaction) in shape.jaw_gaps_mm.iter().zip(&shape.reactions[n_ends..]) {
            assert!(*gap_mm >= 0.0 && reaction.force_n >= 0.0);
            assert_eq!(gap_mm * reaction.force_n, 0.0, "a jaw that is open carries nothing");
        }
    }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 96, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn forces_on_the_work_are_in_balance(number in any::<u32>()) {
        forces_are_in_balance(u64::from(number));
    }

    #[test]
    fn jaws_only_push_and_open_jaws_carry_nothing(number in any::<u32>()) {
        jaws_only_push(u64::from(number));
    }
}

/// Real depth and size left belong together, and no cut is deeper than the work it meets.
#[test]
fn what_is_left_is_what_was_there_less_what_was_taken() {
    for number in 0..100 {
        let job = random_job(number);
        for pass in &compute(&job).setups[0].passes {
            for station in &pass.stations {
                close(station.left_diameter_mm, station.old_diameter_mm - station.real_depth_mm, 0.0, 1e-12);
                assert!(station.real_depth_mm >= 0.0 && station.left_diameter_mm > 0.0);
                close(station.error_mm, station.left_diameter_mm - station.wanted_diameter_mm, 0.0, 1e-12);
            }
        }
    }
}

/// Weightless work: the whole job turned by half a turn about the spindle, tool at the rear instead of the front, gives
/// the same sizes and all movements the other way.
#[test]
fn half_turn_of_a_weightless_job_turns_the_answer() {
    let mut job = plain_job(600.0, 25.0);
    job.shaft.material = MaterialChoice::Own(OwnMaterial {
        name: "weightless".to_owned(),
        e_mpa: 207_000.0,
        poisson_ratio: 0.3,
        density_kg_per_m3: 0.0,
        growth_per_k: 1e-5,
        kc11_mpa: 2100.0,
        mc: 0.17,
        thrust_ratio: 0.56,
    });
    let setup = &mut job.setups[0];
    setup.tail.offset_x_mm = 0.02;
    setup.tail.offset_y_mm = -0.01;
    setup.rests.push(rest(5, 220.0));
    setup.rests[0].offset_x_mm = 0.01;
    setup.follower = Some(Follower {
        distance_mm: 9.0,
        side: FollowerSide::Behind,
        jaws: [jaw(0.0, 0.004, 6e4), jaw(90.0, 0.002, 6e4)],
        tip: TipKind::Bronze,
        tip_bored_mm: None,
        start_mm: 0.0,
    });
    let mut turned = job.clone();
    let setup = &mut turned.setups[0];
    setup.tool.side = ToolSide::Rear;
    setup.tail.offset_x_mm *= -1.0;
    setup.tail.offset_y_mm *= -1.0;
    setup.rests[0].offset_x_mm *= -1.0;
    setup.rests[0].jaws.iter_mut().for_each(|jaw| jaw.angle_rad += std::f64::consts::PI);
    setup.follower.as_mut().unwrap().jaws.iter_mut().for_each(|jaw| jaw.angle_rad += std::f64::consts::PI);
    let (here, there) = (compute(&job), compute(&turned));
    let pairs = here.setups[0].passes[0].stations.iter().zip(&there.setups[0].passes[0].stations);
    assert!(pairs.len() >= 200);
    for (a, b) in pairs {
        close(b.spring_x_mm, -a.spring_x_mm, 1e-9, 1e-12);
        close(b.spring_y_mm, -a.spring_y_mm, 1e-9, 1e-12);
        close(b.left_diameter_mm, a.left_diameter_mm, 0.0, 1e-12);
    }
}

/// Work between two equal centres, seen from the other end: feed, rest and follower mirrored give the mirrored answer.
/// The push is typed and has no feed force: that would press one end's stretch together and pull the other's apart.
#[test]
fn job_between_equal_centres_can_be_mirrored_end_for_end() {
    let length_mm = 700.0;
    let mut job = plain_job(length_mm, 26.0);
    job.lathe.headstock_k_n_per_mm = spring(8e4);
    job.lathe.tailstock_k_n_per_mm = spring(4e4);
    let setup = &mut job.setups[0];
    setup.work_start_z_mm = 0.0;
    setup.drive.kind = DriveKind::CentreAndDog;
    setup.drive.radial_k_n_per_mm = spring(8e4);
    setup.drive.rotation_k_nmm_per_rad = spring(0.0);
    setup.tail.kind = TailKind::DeadCentre;
    setup.tail.quill_out_mm = 0.0;
    setup.rests.push(rest(5, 260.0));
    setup.follower = Some(Follower {
        distance_mm: 10.0,
        side: FollowerSide::Behind,
        jaws: [jaw(0.0, 0.004, 6e4), jaw(90.0, 0.002, 6e4)],
        tip: TipKind::Bronze,
        tip_bored_mm: None,
        start_mm: 0.0,
    });
    (setup.passes[0].from_z_mm, setup.passes[0].to_z_mm) = (620.0, 55.0);
    setup.passes[0].force = Force::Typed { radial_n: 90.0, main_n: 180.0, feed_n: 0.0, follows_depth: true };
    let mut mirrored = job.clone();
    let setup = &mut mirrored.setups[0];
    setup.rests[0].z_mm = length_mm - 260.0;
    (setup.passes[0].from_z_mm, setup.passes[0].to_z_mm) = (length_mm - 620.0, length_mm - 55.0);
    let (here, there) = (compute(&job), compute(&mirrored));
    let pairs = here.setups[0].passes[0].stations.iter().zip(there.setups[0].passes[0].stations.iter().rev());
    assert!(pairs.len() >= 200);
    for (a, b) in pairs {
        close(b.z_mm, length_mm - a.z_mm, 0.0, 1e-9);
        close(b.spring_x_mm, a.spring_x_mm, 1e-9, 1e-12);
        close(b.spring_y_mm, a.spring_y_mm, 1e-9, 1e-12);
        close(b.left_diameter_mm, a.left_diameter_mm, 0.0, 1e-12);
        close(b.ff_n, a.ff_n, 1e-9, 0.0);
    }
}

/// With the contact set frozen (no jaws at all) a push at one place moves another as the other way round (Maxwell).
#[test]
fn movement_at_one_place_for_a_push_at_another_is_mutual() {
    let mut lot = Lot(4);
    for number in 0..20 {
        let mut job: Job = random_job(number);
        job.setups[0].rests.clear();
        job.setups[0].follower = None;
        let result = compute(&job);
        let second = Second::new(&job, &job.setups[0], &result.setups[0]);
        let plain = second.pass(&result, 0, None);
        let prepared = &plain.prepared;
        let bent = |node: usize| {
            let load = midspan::mechanics::walk::NodeLoad { node, force_n: [100.0, 0.0], moment_nmm: [0.0; 2] };
            midspan::mechanics::deflection::bent_line(&prepared.old, &prepared.springs, &[load]).unwrap()
        };
        let bare = midspan::mechanics::deflection::bent_line(&prepared.old, &prepared.springs, &[]).unwrap();
        let (a, b) = (lot.below(bare.len()), lot.below(bare.len()));
        let moved = |pushed: usize, seen: usize| bent(pushed)[seen].move_mm[0] - bare[seen].move_mm[0];
        close(moved(a, b), moved(b, a), 1e-9, 1e-13);
    }
}

/// A follower behind the tool that comes onto a shoulder just as the tool reaches a station feels no more there than
/// just before and after: the shoulder is not an error of the surface.
#[test]
fn follower_feels_nothing_special_on_a_shoulder() {
    let mut job = plain_job(530.0, 30.0);
    let land = |length_mm: f64, diameter_mm: f64| Land {
        length_mm,
        start_diameter_mm: diameter_mm,
        end_diameter_mm: diameter_mm,
    };
    job.shaft.stock = vec![land(230.0, 30.0), land(300.0, 28.0)];
    let setup = &mut job.setups[0];
    (setup.passes[0].from_z_mm, setup.passes[0].to_z_mm) = (440.0, 40.0);
    setup.follower = Some(Follower {
        distance_mm: 20.0,
        side: FollowerSide::Behind,
        jaws: [jaw(0.0, -0.002, 6e4), jaw(90.0, -0.002, 6e4)],
        tip: TipKind::Bronze,
        tip_bored_mm: None,
        start_mm: 0.0,
    });
    let result = compute(&job);
    let pass = &result.setups[0].passes[0];
    let at = |z_mm: f64| pass.stations.iter().position(|station| (station.z_mm - z_mm).abs() < 1e-6).unwrap();
    let rear_jaw = |z_mm: f64| pass.forces_at(at(z_mm))[pass.supports.len() - 2];
    // The shoulder lies at 200 mm; the follower stands on it with the tool at 180 mm.
    let (before, on, after) = (rear_jaw(182.0), rear_jaw(180.0), rear_jaw(178.0));
    assert!(before > 1.0 && after > 1.0, "the jaw was to touch");
    close(on, 0.5 * (before + after), 0.0, (before - after).abs() + 0.02 * before);
}

/// A tailstock off the axis that cannot give: the far end lies where the centre is, and its force is that of statics.
/// Source: a clamped bar moved by d at its other end needs 3·EI·d/L³.
#[test]
fn rigid_centre_off_the_axis_bends_the_bar_by_its_offset() {
    let (length_mm, offset_mm) = (800.0_f64, 0.05);
    let mut job = plain_job(length_mm, 20.0);
    job.lathe.tailstock_k_n_per_mm = Stiffness::Rigid;
    job.lathe.headstock_k_n_per_mm = Stiffness::Rigid;
    let setup = &mut job.setups[0];
    setup.work_start_z_mm = 0.0;
    setup.drive.radial_k_n_per_mm = Stiffness::Rigid;
    setup.drive.rotation_k_nmm_per_rad = Stiffness::Rigid;
    setup.tail.kind = TailKind::DeadCentre;
    setup.tail.thrust_n = 0.0;
    setup.tail.offset_x_mm = offset_mm;
    setup.passes.clear();
    let result = compute(&job);
    let shape = shape_at(&job, &result, job.setups[0].id, None, None).unwrap();
    close(*shape.x_mm.last().unwrap(), offset_mm, 1e-6, 0.0);
    let inertia_mm4 = std::f64::consts::PI / 64.0 * 20.0_f64.powi(4);
    let tail_x = shape.reactions.iter().find(|reaction| reaction.support == Support::TailX).unwrap();
    // Shear takes 3EI/κGA = 0.15 % off so slim a bar.
    close(tail_x.force_n, 3.0 * 207_000.0 * inertia_mm4 * offset_mm / length_mm.powi(3), 2e-3, 0.0);
}
