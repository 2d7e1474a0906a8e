//! Rules about room on the bed: a quiet set-up, one change, one finding.

use midspan::advice::{Finding, Verdict, findings};
use midspan::job::{
    DriveKind, Edit, Feature, FeatureKind, Follower, FollowerSide, Job, Pass, PassId, Sleeve, Stated, Subject,
};

use crate::quiet::{PASS, REST, SETUP, job, land, steady};
use crate::quiet_result::result;

fn only(job: &Job) -> Finding {
    let mut all: Vec<Finding> =
        findings(job, &result(job)).into_iter().filter(|finding| finding.verdict > Verdict::Fine).collect();
    assert_eq!(all.len(), 1, "{all:#?}");
    all.remove(0)
}

fn quiet(job: &Job) {
    let all: Vec<Finding> =
        findings(job, &result(job)).into_iter().filter(|finding| finding.verdict > Verdict::Fine).collect();
    assert_eq!(all, vec![]);
}

#[test]
fn a_pass_to_the_end_wants_quill_and_centre_out_as_far_as_the_holder_reaches() {
    let mut job = job();
    job.lathe.holder_right_mm = Stated::given(110.0);
    let finding = only(&job);
    assert_eq!((finding.rule, finding.about), ("tool_room", Subject::Pass(SETUP, PASS)));
    let (_, edit) = finding.remedy.expect("the quill goes further out");
    let Edit::SetTail { tail, .. } = &edit else { panic!("the tailstock") };
    // 295 + 110 against 300 - 7.34 + 60 + 40: 12.34 short of it.
    assert_eq!(tail.quill_out_mm, 53.0);
    job.apply(&edit).expect("it can be made");
    quiet(&job);
    job.lathe.quill_travel_mm.value = 41.0;
    job.setups[0].tail.quill_out_mm = 40.0;
    assert_eq!(only(&job).remedy, None, "it does not go so far");
}

#[test]
fn a_pass_up_to_the_dog_meets_it() {
    let mut job = job();
    job.setups[0].drive.kind = DriveKind::CentreAndDog;
    job.setups[0].work_start_z_mm = 0.0;
    job.shaft.stock = vec![land(300.0, 40.0)];
    job.shaft.wanted[0].land = land(300.0, 38.0);
    quiet(&job);
    job.setups[0].drive.dog.length_mm = Stated::given(105.0);
    let finding = only(&job);
    assert_eq!((finding.rule, finding.verdict), ("tool_room", Verdict::Watch));
    assert!(finding.text.contains("dog") && finding.text.contains("7.0 mm"), "105 + 2 - 100: {}", finding.text);
}

#[test]
fn a_carriage_that_stops_short_of_the_jaws_cannot_bring_the_tool_to_the_end_of_the_pass() {
    let mut job = job();
    let (low_mm, _) = job.setups[0].passes[0].span_mm();
    job.lathe.nearest_to_jaws_mm = Stated::given(low_mm + 0.4);
    quiet(&job);
    job.lathe.nearest_to_jaws_mm = Stated::given(low_mm + 12.0);
    let finding = only(&job);
    assert_eq!((finding.rule, finding.verdict), ("tool_room", Verdict::Watch));
    assert!(finding.text.contains("chuck") && finding.text.contains("the carriage meets it"), "{}", finding.text);
    assert!(finding.text.contains("12.0 mm too near"), "{}", finding.text);
}

#[test]
fn wings_that_do_not_run_past_the_tailstock_meet_it_before_the_holder_does() {
    let mut job = job();
    job.lathe.carriage_right_mm = Stated::given(110.0);
    quiet(&job);
    job.lathe.wings_pass_tailstock = false;
    let finding = only(&job);
    assert_eq!((finding.rule, finding.about), ("tool_room", Subject::Pass(SETUP, PASS)));
    assert!(finding.text.contains("tailstock that the carriage meets it"), "{}", finding.text);
    // 295 + 110 against 300 - 7.34 + 60 + 40, as with the holder.
    assert!(finding.text.contains("12.3 mm too near"), "{}", finding.text);
}

#[test]
fn a_rest_whose_base_is_under_the_tailstock_has_no_room_until_the_quill_is_out() {
    let mut job = job();
    job.setups[0].passes.clear();
    job.setups[0].rests.push(steady(290.0));
    job.setups[0].tail.quill_out_mm = 0.0;
    job.lathe.centre_length_mm.value = 10.0;
    let finding = only(&job);
    assert_eq!((finding.rule, finding.about), ("rest_room", Subject::Rest(SETUP, REST)));
    let (_, edit) = finding.remedy.expect("the quill goes out");
    job.apply(&edit).expect("it can be made");
    quiet(&job);
}

#[test]
fn a_cat_head_that_does_not_turn_in_the_frame_has_no_room() {
    let mut job = job();
    job.setups[0].rests.push(steady(15.0));
    job.setups[0].rests[0].sleeve = Sleeve::CatHead { diameter_mm: 60.0, width_mm: 40.0 };
    quiet(&job);
    job.lathe.rest_bore_mm = Stated::given(70.0);
    let finding = only(&job);
    assert_eq!(finding.rule, "rest_room");
    assert!(finding.text.contains("76.0 mm") && finding.text.contains("70.0 mm"), "{}", finding.text);
}

#[test]
fn a_rest_clear_of_two_passes_but_between_them_is_told() {
    let mut job = job();
    job.shaft.stock = vec![land(825.0, 40.0)];
    job.shaft.wanted.clear();
    job.setups[0].rests.push(steady(300.0));
    let template = job.setups[0].passes[0].clone();
    job.setups[0].passes = vec![
        Pass { from_z_mm: 780.0, to_z_mm: 600.0, ..template.clone() },
        Pass { id: PassId(3), from_z_mm: 60.0, to_z_mm: 40.0, ..template },
    ];
    let all = findings(&job, &result(&job));
    let finding = all.iter().find(|finding| finding.rule == "in_the_way").expect("told");
    assert_eq!((finding.verdict, finding.about), (Verdict::Watch, Subject::Rest(SETUP, REST)));
    assert!(finding.text.contains("between pass 2 and pass 1"), "{}", finding.text);
}

#[test]
fn the_follower_does_not_run_over_a_keyway() {
    let mut job = job();
    job.setups[0].follower = Some(Follower { side: FollowerSide::Ahead, distance_mm: 20.0, ..Follower::usual() });
    let before = findings(&job, &result(&job));
    assert!(before.iter().all(|finding| finding.rule != "follower_path"), "{before:#?}");
    let kind = FeatureKind::Keyway { width_mm: 8.0, depth_mm: 4.0 };
    job.shaft.features.push(Feature { kind, from_s_mm: 200.0, to_s_mm: 220.0 });
    let all = findings(&job, &result(&job));
    let finding = all.iter().find(|finding| finding.rule == "follower_path").expect("told");
    assert_eq!(finding.about, Subject::Follower(SETUP));
    // From 175 to 195 in the set-up, half the follower's 15 mm wider either way.
    assert!(finding.text.contains("167.5 to 202.5 mm") && finding.text.contains("keyway"), "{}", finding.text);
}
