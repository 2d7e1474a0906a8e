//! The steps of a set-up: what belongs to a holding is there, in the order of the work, and what does not is not.

use midspan::advice::steps::{Step, for_setup};
use midspan::job::{
    DriveKind, Feature, FeatureKind, FollowerSide, Job, Pass, PassId, PassKind, SetTo, TailKind, Units, examples,
};

use crate::quiet::{job, steady};

fn steps(job: &Job) -> Vec<Step> {
    for_setup(job, &job.setups[0])
}

fn rules(job: &Job) -> Vec<&'static str> {
    steps(job).into_iter().map(|step| step.rule).collect()
}

fn text(job: &Job, rule: &str) -> String {
    steps(job).into_iter().find(|step| step.rule == rule).unwrap_or_else(|| panic!("a step {rule}")).text
}

#[test]
fn a_steady_between_chuck_and_centre_is_set_while_the_centre_carries_the_work() {
    let mut job = job();
    job.setups[0].rests.push(steady(150.0));
    job.setups[0].rests[0].set_to = SetTo::Work;
    let expected = [
        "clean",
        "spot",
        "grip",
        "key",
        "tail",
        "tail true",
        "place",
        "jaws",
        "latch",
        "oil",
        "by hand",
        "slow",
        "ease",
        "warm",
        "measure",
        "let go",
    ];
    assert_eq!(rules(&job), expected);
    assert!(text(&job, "place").contains("150.0 mm from the jaw face"));
    assert!(text(&job, "jaws").contains("with the centre carrying the work"));
    assert!(text(&job, "jaws").contains("0.025 mm of feeler"));
    job.units = Units::Inch;
    assert!(text(&job, "jaws").contains("0.001 in of feeler"));
}

#[test]
fn a_second_steady_is_set_like_the_first_and_one_about_the_axis_in_its_own_way() {
    let mut job = job();
    job.setups[0].rests.extend([steady(100.0), steady(200.0)]);
    job.setups[0].rests.iter_mut().for_each(|rest| rest.set_to = SetTo::Work);
    let jaws = |job: &Job| -> Vec<String> {
        steps(job).into_iter().filter(|step| step.rule == "jaws").map(|step| step.text).collect()
    };
    let both = jaws(&job);
    assert!(both[0].contains("to touch, not lift") && both[1].contains("like those of steady 1"), "{both:?}");
    job.setups[0].rests[1].set_to = SetTo::Axis;
    assert!(jaws(&job)[1].contains("test bar"));
    job.setups[0].rests[1].set_to = SetTo::Work;
    job.setups[0].tail.kind = TailKind::Free;
    assert!(jaws(&job)[1].contains("close to the chuck"), "without a centre each is set in full");
}

#[test]
fn a_spot_that_is_drawn_is_not_turned_again() {
    let mut job = job();
    job.setups[0].rests.push(steady(150.0));
    let s_mm = job.setups[0].s_of_z_mm(&job.shaft, 150.0);
    let spot = Feature { kind: FeatureKind::TrueSpot, from_s_mm: s_mm - 20.0, to_s_mm: s_mm + 20.0 };
    assert!(text(&job, "spot").contains("150.0 mm"));
    job.shaft.features.push(spot);
    assert!(!rules(&job).contains(&"spot"));
}

#[test]
fn without_a_centre_the_steady_is_set_near_the_chuck_and_slid_along() {
    let mut job = job();
    job.setups[0].rests.push(steady(250.0));
    job.setups[0].rests[0].set_to = SetTo::Work;
    job.setups[0].tail.kind = TailKind::Free;
    assert!(text(&job, "jaws").contains("close to the chuck"));
    assert!(rules(&job).contains(&"endways"));
    assert!(!rules(&job).iter().any(|rule| ["tail true", "ease"].contains(rule)));
    job.setups[0].rests[0].set_to = SetTo::Axis;
    assert!(text(&job, "jaws").contains("test bar"));
}

#[test]
fn work_on_the_headstock_centre_with_nothing_behind_it_must_be_tied_back_before_the_start() {
    let mut job = job();
    let setup = &mut job.setups[0];
    setup.drive.kind = DriveKind::CentreAndDog;
    assert!(!rules(&job).contains(&"key") && rules(&job).contains(&"dog"));
    assert!(!rules(&job).contains(&"hold-back"), "the tailstock centre holds it");
    job.setups[0].rests.push(steady(250.0));
    job.setups[0].tail.kind = TailKind::Free;
    assert!(text(&job, "hold-back").contains("Do not start before it is tied back"));
    job.setups[0].drive.hold_back = true;
    assert!(text(&job, "hold-back").contains("Tie the work back"));
    let order = rules(&job);
    let place = |rule: &str| order.iter().position(|known| *known == rule).unwrap();
    assert!(place("hold-back") < place("by hand") && place("place") < place("slow"));
}

#[test]
fn a_follower_is_set_again_after_each_turning_pass_but_once_only_for_a_thread() {
    let mut job = examples::load("guide-rod").unwrap();
    job.setups[0].passes.retain(|pass| pass.kind == PassKind::Turn);
    assert!(job.setups[0].passes.len() > 1 && job.setups[0].follower.is_some());
    assert!(text(&job, "follower again").contains("after each turning pass"));
    assert!(!rules(&job).contains(&"follower thread"));
    let setup = &mut job.setups[0];
    setup.follower.as_mut().unwrap().side = FollowerSide::Ahead;
    assert!(!rules(&job).contains(&"follower again"));
    let thread = Pass { id: PassId(900), kind: PassKind::Thread, ..job.setups[0].passes[0].clone() };
    job.setups[0].passes = vec![thread];
    assert!(text(&job, "follower thread").contains("once"));
    assert!(text(&job, "follower thread").contains("burrs"));
}

#[test]
fn bar_behind_the_spindle_and_the_turned_shaft_are_spoken_of_where_there_are_any() {
    let mut job = job();
    assert!(!rules(&job).contains(&"bar behind") && !rules(&job).contains(&"end for end"));
    job.setups[0].work_start_z_mm = -job.lathe.headstock_length_mm.value - 250.0;
    job.setups[0].end_for_end = true;
    assert!(text(&job, "bar behind").contains("250.0 mm"));
    assert!(text(&job, "end for end").contains("end A is at the tailstock"));
}

#[test]
fn every_step_says_why_and_where_that_comes_from_and_ends_as_a_sentence() {
    for example in examples::EXAMPLES {
        let job = examples::load(example.key).unwrap();
        for setup in &job.setups {
            let steps = for_setup(&job, setup);
            assert!(steps.len() >= 5, "{}", example.key);
            for step in steps {
                assert!(step.text.ends_with('.') && step.why.ends_with('.'), "{}: {step:?}", example.key);
                assert!(step.why.len() > 20, "{step:?}");
            }
        }
    }
}
