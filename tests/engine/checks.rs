//! What `Job::check` says: a quiet job, one change, one problem in the user's words.

use midspan::job::{
    BoreLand, Cut, DriveEnd, Feature, FeatureKind, Follower, Hold, Job, Land, MaterialChoice, Pass, PassId, Reading,
    Rest, RestId, Sleeve, Stated, Subject, TailEnd, TailKind, Tolerance, Units, examples,
};

fn quiet(key: &str) -> Job {
    let job = examples::load(key).unwrap();
    assert_eq!(job.check(), []);
    job
}

/// The change brings this one problem about this subject.
#[track_caller]
fn one_problem(key: &str, change: impl FnOnce(&mut Job), about: impl FnOnce(&Job) -> Subject, text: &str) {
    let mut job = quiet(key);
    change(&mut job);
    let problems = job.check();
    assert_eq!(problems.len(), 1, "{problems:#?}");
    assert_eq!(problems[0].text, text);
    assert_eq!(problems[0].about, about(&job));
}

/// Among the problems the change brings is one with these words.
#[track_caller]
fn says(key: &str, change: impl FnOnce(&mut Job), text: &str) {
    let mut job = quiet(key);
    change(&mut job);
    let problems = job.check();
    assert!(problems.iter().any(|problem| problem.text == text), "no {text:?} among {problems:#?}");
}

fn first_rest(job: &Job) -> Subject {
    Subject::Rest(job.setups[0].id, job.setups[0].rests[0].id)
}

fn first_pass(job: &Job) -> Subject {
    Subject::Pass(job.setups[0].id, job.setups[0].passes[0].id)
}

#[test]
fn a_rest_must_stand_on_the_work() {
    one_problem(
        "spindle-nose",
        |job| job.setups[0].rests[0].z_mm = 400.0,
        first_rest,
        "Set-up 1: the steady rest at 15.75 in stands off the work",
    );
    one_problem(
        "pump-shaft",
        |job| job.setups[1].rests[0].z_mm = 900.0,
        |job| Subject::Rest(job.setups[1].id, job.setups[1].rests[0].id),
        "Set-up 2: the steady rest at 900.0 mm stands beyond the tailstock centre",
    );
    one_problem(
        "pump-shaft",
        |job| job.setups[0].rests[0].z_mm = 4.0,
        first_rest,
        "Set-up 1: the steady rest at 4.0 mm stands in the chuck",
    );
    one_problem(
        "pump-shaft",
        |job| job.setups[0].rests[0].z_mm = -100.0,
        first_rest,
        "Set-up 1: the steady rest at -100.0 mm stands off the work",
    );
}

#[test]
fn rests_must_not_stand_in_each_other() {
    let copy = |job: &mut Job, z_mm: f64| {
        let rest = Rest { id: RestId(90), z_mm, ..job.setups[0].rests[0].clone() };
        job.setups[0].rests.push(rest);
    };
    let second = |job: &Job| Subject::Rest(job.setups[0].id, RestId(90));
    one_problem("pump-shaft", |job| copy(job, 300.0), second, "Set-up 1: two steady rests stand at 300.0 mm");
    one_problem(
        "pump-shaft",
        |job| copy(job, 350.0),
        second,
        "Set-up 1: the steady rests at 300.0 mm and 350.0 mm stand in each other (their bases are 80.0 mm long)",
    );
}

#[test]
fn jaws_must_be_two_to_four_and_all_round() {
    one_problem(
        "pump-shaft",
        |job| job.setups[0].rests[0].jaws.truncate(1),
        first_rest,
        "Set-up 1: the steady rest at 300.0 mm has 1 jaws; a rest has two to four",
    );
    one_problem(
        "pump-shaft",
        |job| {
            for (jaw, degrees) in job.setups[0].rests[0].jaws.iter_mut().zip([200.0_f64, 270.0, 340.0]) {
                jaw.angle_rad = degrees.to_radians();
            }
        },
        first_rest,
        "Set-up 1: the steady rest at 300.0 mm has all its jaws on one side of the work",
    );
    // Two jaws below carry by weight.
    let mut job = quiet("pump-shaft");
    job.setups[0].rests[0].jaws.remove(0);
    assert_eq!(job.check(), []);
}

#[test]
fn a_rest_must_close_on_what_is_under_it() {
    one_problem(
        "pump-shaft",
        |job| job.lathe.rest_max_diameter_mm = Stated::given(40.0),
        first_rest,
        "Set-up 1: the steady rest at 300.0 mm is to close on 42.000 mm; its jaws take 6.0 mm to 40.0 mm",
    );
    one_problem(
        "forged-spindle",
        |job| job.setups[0].rests[0].sleeve = Sleeve::CatHead { diameter_mm: 110.0, width_mm: 80.0 },
        first_rest,
        "Set-up 1: the steady rest at 640.0 mm has a sleeve of 110.000 mm over work of 114.045 mm",
    );
}

#[test]
fn the_chuck_must_grip_what_is_there() {
    let drive = |job: &Job| Subject::Drive(job.setups[0].id);
    says("pump-shaft", |job| job.setups[0].drive.grip_mm = 0.0, "Set-up 1: the chuck grips nothing");
    one_problem(
        "pump-shaft",
        |job| job.setups[0].work_start_z_mm = -20.0,
        drive,
        "Set-up 1: the chuck is to grip 35.0 mm, but only 20.0 mm of the work is in it",
    );
    one_problem(
        "pump-shaft",
        |job| {
            job.setups[0].drive = DriveEnd::three_jaw(50.0);
            job.setups[0].work_start_z_mm = -50.0;
        },
        drive,
        "Set-up 1: a grip of 50.0 mm is more than the jaws reach (35.0 mm)",
    );
    says("pump-shaft", |job| job.setups[0].work_start_z_mm = 5.0, "Set-up 1: the work does not reach into the chuck");
    // The rough end is 33 mm and goes through; the bearing seat behind the jaws does not.
    let through = |job: &mut Job| {
        job.setups[0].work_start_z_mm = -200.0;
        job.lathe.spindle_bore_mm = Stated::given(34.0);
    };
    says("pump-shaft", through, "Set-up 1: the work behind the chuck is 38.0 mm, the spindle bore only 34.0 mm");
}

#[test]
fn centres_need_a_seat() {
    one_problem(
        "hinge-pin",
        |job| job.shaft.centre_hole_b = None,
        |job| Subject::Tail(job.setups[0].id),
        "Set-up 1: the tailstock centre finds no centre hole in the work",
    );
    // Held between centres first one way, then the other: the end without a hole is met twice.
    let mut job = quiet("grinding-arbor");
    job.shaft.centre_hole_a = None;
    let texts: Vec<_> = job.check().into_iter().map(|problem| problem.text).collect();
    assert_eq!(
        texts,
        [
            "Set-up 1: the headstock centre finds no centre hole in the work",
            "Set-up 2: the tailstock centre finds no centre hole in the work",
        ]
    );
    one_problem(
        "hinge-pin",
        |job| job.setups[0].tail.kind = TailKind::BullNose,
        |job| Subject::Tail(job.setups[0].id),
        "Set-up 1: the bull-nose centre finds no bore at that end of the work",
    );
    // The edge of a bore is a seat too.
    let mut job = quiet("sleeve");
    job.setups[0].tail.kind = TailKind::LiveCentre;
    assert_eq!(job.check(), []);
    says(
        "grinding-arbor",
        |job| job.setups[0].work_start_z_mm = -40.0,
        "Set-up 1: the work reaches 40.0 mm back over the headstock centre",
    );
    says(
        "grinding-arbor",
        |job| {
            job.lathe.swing_over_bed_mm = Stated::given(300.0);
            job.setups[0].drive.dog.tail_radius_mm = Stated::given(151.0);
        },
        "Set-up 1: the dog's tail swings 302.0 mm and does not clear the bed (300.0 mm)",
    );
}

#[test]
fn swings_weight_and_length_must_suit_the_lathe() {
    // 1 221 734 mm3 x pi/4 of C45 at 7850 kg/m3, summed by hand from the lands of the stock.
    says(
        "pump-shaft",
        |job| job.lathe.between_centres_mm = Stated::given(750.0),
        "Set-up 1: the work ends at 805.0 mm, beyond what goes between centres (750.0 mm)",
    );
    one_problem(
        "pump-shaft",
        |job| job.lathe.max_work_kg = Stated::given(5.0),
        |_| Subject::Shaft,
        "The work weighs 7.53 kg, more than the lathe carries (5 kg)",
    );
    says(
        "pump-shaft",
        |job| {
            job.lathe.swing_over_bed_mm = Stated::given(42.0);
            job.lathe.swing_over_cross_slide_mm = Stated::given(40.0);
        },
        "The work is 42.5 mm across and does not clear the bed (swing 42.0 mm)",
    );
    says(
        "pump-shaft",
        |job| job.lathe.swing_over_cross_slide_mm = Stated::given(40.0),
        "Set-up 1, pass 1: the work is 42.5 mm across and does not clear the cross slide (40.0 mm)",
    );
    says(
        "pump-shaft",
        |job| job.setups[0].tail.quill_out_mm = 200.0,
        "Set-up 1: the quill stands 200.0 mm out, its travel is 115.0 mm",
    );
}

#[test]
fn work_that_nothing_carries_is_told() {
    let setup = |job: &Job| Subject::Setup(job.setups[0].id);
    one_problem(
        "hinge-pin",
        |job| {
            job.setups[0].tail = TailEnd::free();
            job.setups[0].drive.hold = Hold::Hinge;
        },
        setup,
        "Set-up 1: nothing carries the tailstock end of the work",
    );
    one_problem(
        "test-bar",
        |job| job.setups[0].tail = TailEnd::free(),
        setup,
        "Set-up 1: nothing carries the tailstock end of the work",
    );
}

#[test]
fn passes_must_lie_on_the_work() {
    let pass = |job: &mut Job, from_z_mm: f64, to_z_mm: f64| {
        let pass = &mut job.setups[0].passes[0];
        (pass.from_z_mm, pass.to_z_mm) = (from_z_mm, to_z_mm);
    };
    one_problem(
        "pump-shaft",
        |job| pass(job, 1000.0, 900.0),
        first_pass,
        "Set-up 1, pass 1, from 900.0 mm to 1000.0 mm, does not meet the work",
    );
    one_problem("pump-shaft", |job| pass(job, 500.0, 500.0), first_pass, "Set-up 1, pass 1 has no length");
    one_problem("pump-shaft", |job| pass(job, 805.0, -5.0), first_pass, "Set-up 1, pass 1 runs into the chuck");
    one_problem(
        "pump-shaft",
        |job| pass(job, 850.0, 465.0),
        first_pass,
        "Set-up 1, pass 1 reaches to 850.0 mm, but the work ends at 805.0 mm",
    );
    one_problem(
        "grinding-arbor",
        |job| pass(job, 520.0, -40.0),
        first_pass,
        "Set-up 1, pass 1 runs into the headstock centre",
    );
    // A little air at either end is how a cut begins.
    let mut job = quiet("pump-shaft");
    pass(&mut job, 810.0, 465.0);
    assert_eq!(job.check(), []);
}

#[test]
fn passes_must_make_sense() {
    let mut job = quiet("boring-bar");
    job.setups[0].passes.drain(..2);
    let texts: Vec<_> = job.check().into_iter().map(|problem| problem.text).collect();
    assert_eq!(
        texts,
        [
            "Set-up 1, pass 1 is a spring pass, but nothing was cut there before it",
            "Set-up 1, pass 2 is a spring pass, but nothing was cut there before it",
        ]
    );
    one_problem(
        "pump-shaft",
        |job| job.setups[0].passes[0].speed_rpm = 2500.0,
        first_pass,
        "Set-up 1, pass 1 turns at 2500 rpm; the chuck is stamped 2000 rpm",
    );
    says(
        "sleeve",
        |job| job.setups[0].passes[0].cut = Cut::ToDiameter { diameter_mm: 59.0 },
        "Set-up 1, pass 1 cuts so deep that nothing is left of the work",
    );
    says(
        "pump-shaft",
        |job| job.setups[0].passes[0].cut = Cut::Depth { on_diameter_mm: 60.0 },
        "Set-up 1, pass 1 cuts so deep that nothing is left of the work",
    );
    one_problem(
        "hinge-pin",
        |job| {
            let cut = Cut::ToDrawing { leave_on_diameter_mm: 0.0 };
            let pass = Pass { id: PassId(90), cut, ..job.setups[0].passes[0].clone() };
            job.setups[0].passes.push(Pass { from_z_mm: 6.0, to_z_mm: 1.0, ..pass });
        },
        |job| Subject::Pass(job.setups[0].id, PassId(90)),
        "Set-up 1, pass 4 follows the drawing, but nothing is drawn there",
    );
    // A feed that the gearbox does not have is no problem.
    let mut job = quiet("pump-shaft");
    job.setups[0].passes[0].feed_mm_per_rev = 0.1234;
    assert_eq!(job.check(), []);
}

#[test]
fn the_follower_must_reach_and_fit() {
    let follower = |job: &Job| Subject::Follower(job.setups[0].id);
    one_problem(
        "guide-rod",
        |job| job.setups[0].follower = Some(Follower { distance_mm: 300.0, ..Follower::usual() }),
        follower,
        "Set-up 1: the follower rest is 300.0 mm from the tool, off the carriage (260.0 mm)",
    );
    one_problem(
        "guide-rod",
        |job| job.setups[0].follower = Some(Follower { distance_mm: 0.2, ..Follower::usual() }),
        follower,
        "Set-up 1: the follower rest is 0.2 mm from the tool, where its jaws would be in the cut",
    );
    one_problem(
        "guide-rod",
        |job| job.lathe.follower_max_diameter_mm = Stated::given(21.0),
        follower,
        "Set-up 1: the follower rest is to bear on 22.000 mm; it takes 10.0 mm to 21.0 mm",
    );
}

#[test]
fn the_lathe_must_agree_with_itself() {
    says(
        "hinge-pin",
        |job| job.lathe.rest_min_diameter_mm = Stated::given(60.0),
        "The lathe's steady rest takes 2.3622 in at the least and 1.9685 in at the most: the wrong way round",
    );
    one_problem(
        "hinge-pin",
        |job| job.lathe.swing_over_cross_slide_mm = Stated::given(300.0),
        |_| Subject::Lathe,
        "The lathe's swing over the cross slide is more than that over the bed",
    );
}

#[test]
fn readings_outlive_their_pass_and_are_told() {
    one_problem(
        "test-bar",
        |job| {
            let reading = Reading { pass: PassId(999), ..job.readings[0].clone() };
            job.readings.push(reading);
        },
        |_| Subject::Job,
        "Reading 6 was taken after a pass that is no longer there",
    );
}

#[test]
fn a_bore_and_a_feature_end_with_the_shaft() {
    says(
        "sleeve",
        |job| {
            let bore = BoreLand { from_s_mm: 600.0, to_s_mm: 710.0, start_diameter_mm: 50.0, end_diameter_mm: 50.0 };
            job.shaft.bores.push(bore);
        },
        "Bore 2 reaches past the shaft",
    );
}

#[test]
fn the_drawing_must_lie_within_the_stock() {
    let shaft = |_: &Job| Subject::Shaft;
    one_problem(
        "pump-shaft",
        |job| job.shaft.wanted[1].land = Land::cylinder(60.0, 39.0),
        shaft,
        "The finished part, length 2 (bearing seat) is larger than its stock: 39.000 mm out of 38.000 mm",
    );
    says(
        "boring-bar",
        |job| job.shaft.wanted_start_s_mm += 25.4,
        "The finished part reaches past the stock: from 3 in to 10 in from end A, in stock of 9 in",
    );
    one_problem(
        "pump-shaft",
        |job| job.shaft.wanted[0].tolerance = Tolerance::Limits { lower_mm: 0.1, upper_mm: -0.1 },
        shaft,
        "The finished part, length 1 (coupling seat): the tolerance is upside down",
    );
    one_problem(
        "pump-shaft",
        |job| {
            let kind = FeatureKind::Keyway { width_mm: 8.0, depth_mm: 4.0 };
            job.shaft.features.push(Feature { kind, from_s_mm: 800.0, to_s_mm: 850.0 });
        },
        shaft,
        "Feature 2 reaches past the shaft",
    );
    one_problem(
        "pump-shaft",
        |job| job.shaft.material = MaterialChoice::Listed("unobtainium".to_owned()),
        shaft,
        "The material \u{201c}unobtainium\u{201d} is not in the table",
    );
    one_problem(
        "sleeve",
        |job| {
            (job.shaft.bores[0].start_diameter_mm, job.shaft.bores[0].end_diameter_mm) = (75.2, 75.2);
            for pass in &mut job.setups[0].passes {
                pass.cut = Cut::Depth { on_diameter_mm: 0.01 };
            }
        },
        shaft,
        "Bore 1 leaves no wall under length 1 of the finished part",
    );
}

#[test]
fn problems_speak_the_units_of_the_job() {
    let mut job = quiet("pump-shaft");
    job.setups[0].rests[0].z_mm = 25.4 * 40.0;
    assert!(job.check()[0].text.contains("1016.0 mm"));
    job.units = Units::Inch;
    assert!(job.check()[0].text.contains("40 in"), "{:?}", job.check());
}
