//! The embedded example jobs.

use midspan::job::{DriveKind, Job, PassKind, Sleeve, TailKind, Units, examples, file};
use midspan::study::{Status, compute, shape_at};

use crate::close::close;

fn all() -> Vec<(&'static str, Job)> {
    examples::EXAMPLES.iter().map(|example| (example.key, examples::load(example.key).unwrap())).collect()
}

#[test]
fn every_example_is_exactly_what_the_program_writes() {
    for example in examples::EXAMPLES {
        let read = file::from_text(example.text).unwrap();
        assert_eq!(file::to_text(&read), example.text, "{}", example.key);
        assert_eq!(read.job.title, example.title);
        assert!(example.about.ends_with('.') && example.about.matches('.').count() == 1, "{}", example.about);
    }
}

#[test]
fn no_example_has_a_problem() {
    for (key, job) in all() {
        assert_eq!(job.check(), [], "{key}");
    }
}

#[test]
fn keys_are_names_of_their_own() {
    let mut keys: Vec<_> = examples::EXAMPLES.iter().map(|example| example.key).collect();
    keys.sort_unstable();
    keys.dedup();
    assert_eq!(keys.len(), examples::EXAMPLES.len());
    assert!(keys.len() >= 9);
    assert!(examples::load("no-such-job").unwrap_err().to_string().contains("no-such-job"));
}

/// The set-ups a turner of long work meets: rows of the list in the trade's practice, common practice, no source.
#[test]
fn the_usual_set_ups_are_all_there() {
    let has = |what: &str, of: &dyn Fn(&Job) -> bool| {
        assert!(all().iter().any(|(_, job)| of(job)), "no example with {what}");
    };
    let held = |job: &Job, drive: DriveKind, tail: bool, n_rests: usize| {
        job.setups.iter().any(|setup| {
            setup.drive.kind == drive && (setup.tail.kind != TailKind::Free) == tail && setup.rests.len() == n_rests
        })
    };
    has("chuck and centre", &|job| held(job, DriveKind::ThreeJaw, true, 0));
    has("chuck, centre and steady", &|job| held(job, DriveKind::ThreeJaw, true, 1));
    has("a dog between centres", &|job| held(job, DriveKind::CentreAndDog, true, 0));
    has("a follower", &|job| job.setups.iter().any(|setup| setup.follower.is_some()));
    has("a steady at the outer end", &|job| held(job, DriveKind::FourJaw, false, 1));
    has("a cat head", &|job| {
        job.setups.iter().any(|setup| setup.rests.iter().any(|rest| matches!(rest.sleeve, Sleeve::CatHead { .. })))
    });
    has("two steadies", &|job| held(job, DriveKind::ThreeJaw, true, 2));
    has("the shaft turned end for end", &|job| {
        job.setups.iter().any(|setup| setup.end_for_end) && job.setups.iter().any(|setup| !setup.end_for_end)
    });
    has("inches", &|job| job.units == Units::Inch);
    has("millimetres", &|job| job.units == Units::Metric);
    has("readings", &|job| !job.readings.is_empty());
    has("a bore", &|job| !job.shaft.bores.is_empty());
    for lathe in ["Small", "Medium", "Large"] {
        has(lathe, &|job| job.lathe.name.starts_with(lathe));
    }
}

#[test]
fn the_opening_job_is_a_stepped_shaft_with_a_steady_on_its_true_spot() {
    let job = examples::opening();
    let (one, two) = (&job.setups[0], &job.setups[1]);
    assert!(job.shaft.wanted.len() > 3);
    assert_eq!((one.drive.kind, one.tail.kind), (DriveKind::ThreeJaw, TailKind::LiveCentre));
    let kinds: Vec<_> = one.passes.iter().map(|pass| pass.kind).collect();
    assert_eq!(kinds, [PassKind::Turn, PassKind::Turn, PassKind::Spring]);
    assert!(two.end_for_end && !one.end_for_end);
    let rest_s_mm = one.s_of_z_mm(&job.shaft, one.rests[0].z_mm);
    let spot = &job.shaft.features[0];
    assert!((spot.from_s_mm..spot.to_s_mm).contains(&rest_s_mm));
    for pass in &one.passes {
        assert!(pass.span_mm().0 > one.rests[0].z_mm, "the steady stands on the headstock side of what is cut");
    }
}

/// Passes of the examples cut what a light lathe takes: common practice, no source.
#[test]
fn passes_of_the_examples_take_reasonable_depths() {
    for (key, job) in all() {
        for setup in &job.setups {
            for pass in setup.passes.iter().filter(|pass| pass.kind == PassKind::Turn) {
                let (from_mm, to_mm) = pass.span_mm();
                // Middles of short stretches, so that no sample falls on a shoulder.
                let deepest = (0..200).filter_map(|step| {
                    let z_mm = from_mm + (to_mm - from_mm) * (f64::from(step) + 0.5) / 200.0;
                    let s_mm = setup.s_of_z_mm(&job.shaft, z_mm);
                    let before_mm = job.dial_diameter_mm(setup.id, Some(pass.id), s_mm)?;
                    Some(before_mm - job.dial_after_mm(setup, pass, s_mm, before_mm))
                });
                let deepest_mm = deepest.fold(0.0, f64::max);
                assert!((0.1..=3.3).contains(&deepest_mm), "{key}, {:?}: {deepest_mm} mm on diameter", pass.id);
            }
        }
    }
}

/// The drawn shape and the curve are one answer at either end of a pass, also where the work is stepped there. Left out
/// are passes with an error above 1 %: behind the tool they were swept over what a first sweep left, and are drawn over
/// what the second one left.
#[test]
fn the_shape_drawn_at_the_ends_of_a_pass_is_the_one_swept() {
    for (_, job) in all() {
        let result = compute(&job);
        for setup in &result.setups {
            for pass in setup.passes.iter().filter(|pass| pass.status == Status::Solved) {
                if pass.stations.iter().any(|station| station.error_mm.abs() > 0.01 * station.wanted_diameter_mm) {
                    continue;
                }
                for station in [pass.stations.first(), pass.stations.last()].into_iter().flatten() {
                    let shape = shape_at(&job, &result, setup.setup, Some(pass.pass), Some(station.z_mm));
                    let cut = shape.and_then(|shape| shape.cut).expect("the pass was solved");
                    close(cut.old_diameter_mm, station.old_diameter_mm, 0.0, 1e-9);
                    close(cut.spring_x_mm, station.spring_x_mm, 1e-6, 1e-6);
                    close(cut.spring_y_mm, station.spring_y_mm, 1e-6, 1e-6);
                }
            }
        }
    }
}
