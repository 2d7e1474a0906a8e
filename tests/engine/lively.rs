//! Liveliness of whole jobs: that the study hands the right work, springs and jaws to the mechanics.

use midspan::job::{Cut, DriveKind, Force, PassId, Rest, RestId, SetupId, Stated, Stiffness, TailKind};
use midspan::job::{Job, Units, examples};
use midspan::mechanics::beam::Round;
use midspan::mechanics::buckling::critical_factor;
use midspan::mechanics::vibration::modes;
use midspan::study::force::ForceModel;
use midspan::study::lively::{DAMPING_RATIO, bar_tail, depth_limits, lively, lobes};
use midspan::study::{compute, shape_at};

use crate::close::close;
use crate::random_job::{jaw, plain_job};
use crate::swing_case::Rod;

const SETUP: SetupId = SetupId(0);
const PASS: PassId = PassId(1);

fn always() -> bool {
    true
}

/// A bar of 30 x 600 mm in a chuck, live centre, tool in the middle of its pass; with the ends' springs written out.
fn rod_of(job: &Job, tool_z_mm: f64) -> Rod {
    let (setup, material) = (&job.setups[0], job.material());
    let series = |a: Stiffness, b: Stiffness| 1.0 / (1.0 / a.value_or(1e12) + 1.0 / b.value_or(1e12));
    let free_mm = job.shaft.length_mm() + setup.work_start_z_mm;
    let diameter_mm = job.shaft.stock[0].start_diameter_mm;
    let Cut::Depth { on_diameter_mm } = setup.passes[0].cut else { panic!("a depth is typed") };
    let mut rod = Rod::bar(free_mm, diameter_mm, material.e_mpa.value, material.density_kg_per_m3.value);
    rod.poisson_ratio = material.poisson_ratio.value;
    let begin_mm = setup.passes[0].from_z_mm;
    let thrust_n = setup.tail.thrust_n;
    // The feed presses the stretch between tool and chuck together as well.
    let model = ForceModel::new(&material, &setup.tool, &setup.passes[0], 0.0);
    let feed_n = model.law(diameter_mm, 0.5 * on_diameter_mm).forces(0.5 * on_diameter_mm).0.feed_n;
    rod.lands = vec![
        (tool_z_mm, Round::solid(diameter_mm), thrust_n + feed_n),
        (begin_mm - tool_z_mm, Round::solid(diameter_mm - on_diameter_mm), thrust_n),
        (free_mm - begin_mm, Round::solid(diameter_mm), thrust_n),
    ];
    let turning = setup.drive.rotation_k_nmm_per_rad.value_or(1e15);
    let out = setup.tail.quill_out_mm / job.lathe.quill_travel_mm.value;
    let give = 1.0 + (1.0 / job.lathe.quill_out_stiffness_ratio.value - 1.0) * out;
    let tail = 0.7 * job.lathe.tailstock_k_n_per_mm.value_or(1e12) / give;
    rod.sprung(0.0, series(job.lathe.headstock_k_n_per_mm, setup.drive.radial_k_n_per_mm), turning)
        .sprung(free_mm, tail, 0.0)
        .longest(4.0)
}

#[test]
fn frequencies_and_buckling_of_a_plain_job_are_those_of_its_bar() {
    let mut job = plain_job(600.0, 25.0);
    job.setups[0].passes[0].cut = Cut::Depth { on_diameter_mm: 2.0 };
    let result = compute(&job);
    let found = lively(&job, &result, SETUP, Some(PASS), Some(300.0), DAMPING_RATIO).unwrap();
    let meshed = rod_of(&job, 300.0).mesh();
    let wanted = modes(&meshed.work(), 6).unwrap();
    for (swing, mode) in found.swings.iter().zip(&wanted) {
        close(swing.frequency_hz, mode.frequency_hz, 1e-5, 0.0);
    }
    close(found.first_whip_rpm, 60.0 * wanted[0].frequency_hz, 1e-5, 0.0);
    close(found.buckling_factor.unwrap(), critical_factor(&meshed.work()).unwrap(), 1e-4, 0.0);
    let bends: Vec<usize> = found.swings.iter().map(|swing| swing.bend).collect();
    assert_eq!(bends, [1, 1, 2, 2, 3, 3]);
    assert_eq!(found.z_mm.len(), found.swings[0].x_ratio.len());
    close(found.swings[0].x_ratio.iter().map(|x| x.abs()).fold(0.0, f64::max), 1.0, 1e-9, 0.0);
    close(found.swings[1].y_ratio.iter().map(|y| y.abs()).fold(0.0, f64::max), 1.0, 1e-9, 0.0);
}

/// Three jaws of 8e4 N/mm that just touch the work as it lies.
fn three_jaw_steady(z_mm: f64) -> Rest {
    let jaws = [90.0, 210.0, 330.0].map(|degrees| jaw(degrees, 0.0, 8e4)).to_vec();
    Rest { jaws, ..Rest::three_jaw(RestId(50), z_mm) }
}

/// Only the jaws that touch are springs.
#[test]
fn jaws_that_touch_stiffen_the_work_and_others_do_not() {
    let mut job = plain_job(900.0, 25.0);
    let bare = compute(&job);
    job.setups[0].rests.push(three_jaw_steady(400.0));
    let with = compute(&job);
    let at = 600.0;
    let shape = shape_at(&job, &with, SETUP, Some(PASS), Some(at)).unwrap();
    let mut rod = rod_of(&job, at);
    for (index, degrees) in [90.0, 210.0, 330.0].into_iter().enumerate() {
        let force_n = shape.reactions[4 + index].force_n;
        if force_n > 0.0 {
            rod = rod.jaw(400.0, degrees, 8e4);
        }
    }
    assert!((1..3).contains(&rod.jaws.len()), "some touch and some do not");
    let wanted = modes(&rod.mesh().work(), 6).unwrap();
    let found = lively(&job, &with, SETUP, Some(PASS), Some(at), DAMPING_RATIO).unwrap();
    for (swing, mode) in found.swings.iter().zip(&wanted) {
        close(swing.frequency_hz, mode.frequency_hz, 1e-5, 0.0);
    }
    // Jaws drawn far back are no springs at all.
    job.setups[0].rests[0].jaws.iter_mut().for_each(|jaw| jaw.gap_mm = 5.0);
    let back = compute(&job);
    let (open, none) = (
        lively(&job, &back, SETUP, Some(PASS), Some(at), DAMPING_RATIO).unwrap(),
        lively(&plain_job(900.0, 25.0), &bare, SETUP, Some(PASS), Some(at), DAMPING_RATIO).unwrap(),
    );
    for (open, none) in open.swings.iter().zip(&none.swings) {
        close(open.frequency_hz, none.frequency_hz, 1e-6, 0.0);
    }
}

#[test]
fn limits_along_a_pass_do_not_hang_on_how_the_stops_are_laid_out() {
    let mut job = plain_job(700.0, 20.0);
    job.setups[0].rests.push(three_jaw_steady(350.0));
    let result = compute(&job);
    let limits = depth_limits(&job, &result, SETUP, PASS, DAMPING_RATIO, &always);
    assert!((60..=100).contains(&limits.len()), "{}", limits.len());
    assert!(limits.windows(2).all(|pair| pair[0].z_mm <= pair[1].z_mm));
    // One stop alone, with frequencies of its own, says the same.
    for limit in limits.iter().step_by(11) {
        let alone = lobes(&job, &result, SETUP, PASS, limit.z_mm, DAMPING_RATIO).unwrap();
        close(alone.worst.z_mm, limit.z_mm, 0.0, 1e-9);
        close(alone.worst.limit_on_diameter_mm, limit.limit_on_diameter_mm, 0.01, 0.0);
        close(alone.worst.frequency_hz, limit.frequency_hz, 0.01, 0.0);
        for speed in &alone.speeds {
            assert!(speed.limit_on_diameter_mm > 0.98 * alone.worst.limit_on_diameter_mm);
        }
    }
}

/// Between centres the limit is lowest in the middle; far from the middle it rises.
#[test]
fn limit_of_a_job_between_centres_is_lowest_in_the_middle() {
    let mut job = plain_job(800.0, 20.0);
    let setup = &mut job.setups[0];
    setup.work_start_z_mm = 0.0;
    setup.drive.kind = DriveKind::CentreAndDog;
    setup.drive.rotation_k_nmm_per_rad = Stiffness::Spring(Stated::given(1.0));
    setup.drive.radial_k_n_per_mm = Stiffness::Rigid;
    job.lathe.headstock_k_n_per_mm = Stiffness::Rigid;
    job.lathe.tailstock_k_n_per_mm = Stiffness::Rigid;
    job.setups[0].passes[0].from_z_mm = 780.0;
    // A push in proportion to depth, so that the direction is the same everywhere.
    job.setups[0].passes[0].cut = Cut::Depth { on_diameter_mm: 0.2 };
    job.setups[0].passes[0].force = Force::Typed { radial_n: 20.0, main_n: 40.0, feed_n: 15.0, follows_depth: true };
    let result = compute(&job);
    let limits = depth_limits(&job, &result, SETUP, PASS, DAMPING_RATIO, &always);
    let lowest = limits.iter().min_by(|a, b| a.limit_on_diameter_mm.total_cmp(&b.limit_on_diameter_mm)).unwrap();
    close(lowest.z_mm, 400.0, 0.0, 25.0);
    let near =
        |z_mm: f64| limits.iter().min_by(|a, b| (a.z_mm - z_mm).abs().total_cmp(&(b.z_mm - z_mm).abs())).unwrap();
    assert!(near(100.0).limit_on_diameter_mm > 2.0 * lowest.limit_on_diameter_mm);
}

#[test]
fn a_search_for_limits_can_be_stopped_and_a_push_without_depth_has_none() {
    let mut job = plain_job(600.0, 20.0);
    let result = compute(&job);
    assert!(depth_limits(&job, &result, SETUP, PASS, DAMPING_RATIO, &|| false).is_empty());
    job.setups[0].passes[0].force = Force::Typed { radial_n: 20.0, main_n: 40.0, feed_n: 10.0, follows_depth: false };
    let result = compute(&job);
    assert!(depth_limits(&job, &result, SETUP, PASS, DAMPING_RATIO, &always).is_empty());
}

#[test]
fn every_held_pass_of_the_examples_has_frequencies_and_finite_limits() {
    for example in examples::EXAMPLES {
        let job = examples::load(example.key).unwrap();
        let result = compute(&job);
        for setup in &job.setups {
            for pass in &setup.passes {
                let middle_mm = 0.5 * (pass.from_z_mm + pass.to_z_mm);
                let shape = shape_at(&job, &result, setup.id, Some(pass.id), Some(middle_mm));
                let found = lively(&job, &result, setup.id, Some(pass.id), Some(middle_mm), DAMPING_RATIO);
                let (Some(_), Some(found)) = (&shape, &found) else {
                    assert!(shape.is_none(), "{}: held work has frequencies", example.key);
                    continue;
                };
                assert_eq!(found.swings.len(), 6, "{}", example.key);
                for pair in found.swings.windows(2) {
                    assert!(pair[0].frequency_hz <= pair[1].frequency_hz * (1.0 + 1e-9), "{}", example.key);
                }
                assert!((1.0..1e5).contains(&found.swings[0].frequency_hz), "{}", example.key);
                for limit in depth_limits(&job, &result, setup.id, pass.id, DAMPING_RATIO, &always) {
                    assert!(
                        limit.limit_on_diameter_mm > 0.0 && limit.limit_on_diameter_mm.is_finite(),
                        "{}: {limit:?}",
                        example.key
                    );
                }
            }
        }
    }
}

/// Source: workshop lesson of a bar tail (computed there, not published): 3/4 in of steel, 36 in free behind the
/// spindle: sags 0.056 in, first whip speed about 980 rpm as a perfect cantilever.
#[test]
fn bar_tail_meets_the_lesson() {
    let mut job = plain_job(1500.0, 19.05);
    job.units = Units::Inch;
    job.setups[0].work_start_z_mm = -(job.lathe.headstock_length_mm.value + 36.0 * 25.4);
    let tail = bar_tail(&job, &job.setups[0]).unwrap();
    close(tail.length_mm, 914.4, 1e-9, 0.0);
    close(tail.sag_mm / 25.4, 0.056, 0.015, 0.0);
    close(tail.first_whip_rpm, 980.0, 0.015, 0.0);
    job.setups[0].work_start_z_mm = -100.0;
    assert_eq!(bar_tail(&job, &job.setups[0]), None, "a bar that ends inside the spindle has no tail");
    job.setups[0].work_start_z_mm = -900.0;
    job.setups[0].drive.kind = DriveKind::CentreAndDog;
    job.setups[0].tail.kind = TailKind::DeadCentre;
    assert_eq!(bar_tail(&job, &job.setups[0]), None);
}
