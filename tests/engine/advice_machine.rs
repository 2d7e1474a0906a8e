//! Rules about what the lathe can give: a quiet set-up, one change, exactly one finding.

use midspan::advice::{Finding, Verdict, findings};
use midspan::job::{
    Cut, DriveKind, Edit, Force, Job, Pass, PassId, PassKind, Stated, Subject, TailKind, ToolMaterial, examples,
};
use midspan::study::compute;

use crate::quiet::{PASS, SETUP, job};
use crate::quiet_result::result;
use crate::remarks::{only, remarks};

/// The speed the remedy sets in the one pass.
fn mended_speed_rpm(finding: &Finding) -> f64 {
    let mut edits = vec![finding.remedy.clone().expect("a remedy").1];
    while let Some(edit) = edits.pop() {
        match edit {
            Edit::SetPass { pass, .. } => return pass.speed_rpm,
            Edit::Together(more) => edits.extend(more),
            other => panic!("{other:?}"),
        }
    }
    panic!("nothing is set")
}

/// By hand: 400 N at 40 mm and 400 rpm are 335 W. A motor of 0.4 kW gives 300 W at the spindle, one of 0.5 kW 375 W,
/// which 20 % more force would pass, one of 0.6 kW 450 W.
#[test]
fn a_pass_that_asks_more_than_the_lathe_gives_is_told() {
    let mut job = job();
    job.lathe.power_kw = Stated::given(0.4);
    let finding = only(&job, &result(&job));
    assert_eq!((finding.rule, finding.verdict), ("power", Verdict::Trouble));
    assert_eq!(finding.about, Subject::Pass(SETUP, PASS));
    assert_eq!(finding.text, "Pass 1 asks for about 0.335 kW at the spindle; the lathe gives about 0.3 kW");
    assert_eq!(mended_speed_rpm(&finding), 340.0, "400 rpm times (300/335)^1.25 is 348");
    job.lathe.speeds_rpm = vec![180.0, 250.0, 355.0, 400.0];
    assert_eq!(mended_speed_rpm(&only(&job, &result(&job))), 250.0, "355 would still be too fast");
    job.lathe.power_kw = Stated::given(0.5);
    let finding = only(&job, &result(&job));
    assert_eq!((finding.rule, finding.verdict, finding.remedy), ("power", Verdict::Watch, None));
    job.lathe.power_kw = Stated::given(0.6);
    assert_eq!(remarks(&job, &result(&job)), vec![]);
    // With a wider stated spread of the force it may be more.
    job.spread.main_ratio = 0.4;
    assert_eq!(only(&job, &result(&job)).verdict, Verdict::Watch);
    // A typed force is taken as known.
    let (radial_n, main_n, feed_n) = (120.0, 400.0, 150.0);
    job.setups[0].passes[0].force = Force::Typed { radial_n, main_n, feed_n, follows_depth: true };
    assert_eq!(remarks(&job, &result(&job)), vec![]);
}

/// The remedy is checked by the study itself: at the slower speed the same cut asks for less than there is.
#[test]
fn the_slower_speed_brings_the_power_within_the_lathe() {
    let mut job = job();
    job.lathe.power_kw = Stated::given(0.5);
    job.setups[0].passes[0].cut = Cut::ToDiameter { diameter_mm: 37.0 };
    let is_power = |finding: &&Finding| finding.rule == "power";
    for material in [ToolMaterial::Carbide, ToolMaterial::HighSpeedSteel] {
        let mut job = job.clone();
        job.setups[0].tool.material = material;
        job.setups[0].passes[0].speed_rpm = 900.0;
        let all = findings(&job, &compute(&job));
        let finding = all.iter().find(is_power).expect("3 mm off at 900 rpm is too much");
        assert_eq!(finding.verdict, Verdict::Trouble);
        let edit = finding.remedy.clone().expect("slower").1;
        job.apply(&edit).expect("the remedy can be made");
        let after = findings(&job, &compute(&job));
        assert!(after.iter().filter(is_power).all(|finding| finding.verdict < Verdict::Trouble), "{after:#?}");
        assert!(job.setups[0].passes[0].speed_rpm > 100.0, "not slower than need be");
    }
}

/// Source: the next lower step (a note on stepped drives, read).
#[test]
fn a_speed_between_two_steps_gets_the_lower_one() {
    let mut job = job();
    job.lathe.speeds_rpm = vec![180.0, 250.0, 355.0, 500.0];
    let finding = only(&job, &result(&job));
    assert_eq!((finding.rule, finding.verdict), ("speed_step", Verdict::Watch));
    assert_eq!(finding.about, Subject::Pass(SETUP, PASS));
    assert_eq!(mended_speed_rpm(&finding), 355.0);
    job.setups[0].passes[0].speed_rpm = 355.0;
    assert_eq!(remarks(&job, &result(&job)), vec![]);
    // As good as a step: nothing to be said.
    job.setups[0].passes[0].speed_rpm = 350.0;
    assert_eq!(remarks(&job, &result(&job)), vec![]);
}

#[test]
fn several_passes_off_the_gearbox_are_one_finding_with_one_remedy() {
    let mut job = job();
    job.lathe.speeds_rpm = vec![180.0, 250.0, 355.0, 500.0];
    let again = Pass { id: PassId(3), speed_rpm: 300.0, ..job.setups[0].passes[0].clone() };
    job.setups[0].passes.push(again);
    let finding = only(&job, &result(&job));
    assert_eq!((finding.rule, finding.about), ("speed_step", Subject::Setup(SETUP)));
    let edit = finding.remedy.expect("a remedy").1;
    job.apply(&edit).expect("the remedy can be made");
    assert_eq!(job.setups[0].passes.iter().map(|pass| pass.speed_rpm).collect::<Vec<_>>(), [355.0, 250.0]);
    assert_eq!(remarks(&job, &result(&job)), vec![]);
}

#[test]
fn a_feed_off_the_feed_box_gets_the_nearest() {
    let mut job = job();
    job.lathe.feeds_mm_per_rev = vec![0.08, 0.125, 0.2];
    job.setups[0].passes[0].feed_mm_per_rev = 0.11;
    let finding = only(&job, &result(&job));
    assert_eq!((finding.rule, finding.verdict), ("feed_step", Verdict::Watch));
    assert!(finding.text.contains("0.11 mm/rev") && finding.text.contains("0.125 mm/rev"), "{}", finding.text);
    let edit = finding.remedy.expect("a remedy").1;
    job.apply(&edit).expect("the remedy can be made");
    assert_eq!(job.setups[0].passes[0].feed_mm_per_rev, 0.125);
    assert_eq!(remarks(&job, &result(&job)), vec![]);
}

/// A drill is fed by hand, a thread by its pitch, and the cross feed has steps of its own (common practice, no source).
#[test]
fn feeds_that_are_not_the_carriages_are_not_told() {
    let mut job = job();
    job.lathe.feeds_mm_per_rev = vec![0.08, 0.125, 0.2];
    for kind in [PassKind::Drill, PassKind::Thread, PassKind::Face, PassKind::Groove, PassKind::Part] {
        job.setups[0].passes[0].kind = kind;
        let all = findings(&job, &result(&job));
        assert!(all.iter().all(|finding| finding.rule != "feed_step"), "{kind:?}: {all:#?}");
    }
}

#[test]
fn a_speed_above_the_chucks_mark_is_trouble_and_nothing_is_called_safe() {
    let mut job = job();
    job.lathe.chuck_max_rpm = Stated::given(360.0);
    let finding = only(&job, &result(&job));
    assert_eq!((finding.rule, finding.verdict), ("chuck_speed", Verdict::Trouble));
    assert_eq!(mended_speed_rpm(&finding), 360.0);
    job.lathe.speeds_rpm = vec![180.0, 250.0, 355.0, 400.0];
    assert_eq!(mended_speed_rpm(&only(&job, &result(&job))), 355.0);
    let words = finding.remedy.clone().expect("a remedy").0;
    let told = format!("{} {} {words}", finding.text, finding.why).to_lowercase();
    assert!(!told.contains("safe") && !told.contains("allowed"), "{told}");
    // The file's own check still says it, once.
    assert_eq!(job.check().len(), 1);
}

#[test]
fn between_centres_no_chuck_turns() {
    let mut job = job();
    job.lathe.chuck_max_rpm = Stated::given(360.0);
    job.setups[0].drive.kind = DriveKind::CentreAndDog;
    job.setups[0].tail.kind = TailKind::DeadCentre;
    assert!(findings(&job, &result(&job)).iter().all(|finding| finding.rule != "chuck_speed"));
}

/// What the work must clear is told by the check of the job, once each.
#[test]
fn swing_and_spindle_bore_are_told_once() {
    let about = |change: &dyn Fn(&mut Job), words: &str| {
        let mut job = job();
        change(&mut job);
        let told: Vec<Finding> =
            findings(&job, &result(&job)).into_iter().filter(|finding| finding.text.contains(words)).collect();
        assert_eq!(told.len(), 1, "{words}: {told:#?}");
        assert_eq!(told[0].verdict, Verdict::Trouble);
    };
    about(&|job| job.lathe.swing_over_cross_slide_mm = Stated::given(39.0), "does not clear the cross slide");
    about(
        &|job| {
            job.lathe.swing_over_bed_mm = Stated::given(39.0);
            job.lathe.swing_over_cross_slide_mm = Stated::given(39.0);
        },
        "does not clear the bed",
    );
    about(
        &|job| {
            job.setups[0].work_start_z_mm = -60.0;
            job.lathe.spindle_bore_mm = Stated::given(39.0);
        },
        "the spindle bore only",
    );
}

/// The example jobs are cut with the gears and the power their lathes have.
#[test]
fn no_example_asks_for_what_its_lathe_has_not() {
    for example in examples::EXAMPLES {
        let job = examples::load(example.key).expect("embedded");
        let told: Vec<Finding> = findings(&job, &compute(&job))
            .into_iter()
            .filter(|finding| ["power", "speed_step", "feed_step", "chuck_speed"].contains(&finding.rule))
            .collect();
        assert_eq!(told, vec![], "{}", example.key);
    }
}
