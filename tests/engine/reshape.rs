//! The finished part changed by hand: what goes along with a shoulder or a size, what stays, and what is refused.

use midspan::job::reshape::{LandEnds, shoulders_s_mm};
use midspan::job::{
    Cut, Edit, Feature, FeatureKind, Job, Land, Lathe, MaterialChoice, Pass, PassId, Reshape, Setup, SetupId, Shaft,
    Tolerance, Units, WantedLand,
};

fn wanted(length_mm: f64, diameter_mm: f64) -> WantedLand {
    let land = Land::cylinder(length_mm, diameter_mm);
    WantedLand { land, tolerance: Tolerance::Free, name: String::new() }
}

/// Stock of 40 mm, 500 mm long, the finished part over all of it: 30, 36 and 32 mm with shoulders at 200 and 300. Held
/// in a chuck with end A, cut from end B to the shoulder at 300 and to the one at 200, then turned round and cut to the
/// shoulder at 200 from end A.
fn job() -> Job {
    let mut shaft = Shaft::bar(MaterialChoice::Listed("C45".to_owned()), 40.0, 500.0);
    shaft.wanted = vec![wanted(200.0, 30.0), wanted(100.0, 36.0), wanted(200.0, 32.0)];
    let mut setup = Setup::chuck_and_centre(SetupId(0), 40.0);
    let turn = |id, from_s: f64, to_s: f64, cut| Pass::turn(PassId(id), from_s - 40.0, to_s - 40.0, cut, 0.2, 500.0);
    setup.passes = vec![
        turn(1, 500.0, 200.0, Cut::ToDiameter { diameter_mm: 36.5 }),
        turn(2, 500.0, 300.0, Cut::ToDiameter { diameter_mm: 32.0 }),
        turn(3, 500.0, 300.5, Cut::ToDrawing { leave_on_diameter_mm: 0.0 }),
    ];
    let mut job = Job::new("Stepped", Units::Metric, shaft, Lathe::medium(), setup);
    job.apply(&Edit::AddSetup { at: 1 }).expect("a second set-up");
    let second = job.setups[1].id;
    job.apply(&Edit::TurnEndForEnd(second)).expect("turned round");
    // End A at 460: place s lies at 460 - s.
    let cut = Cut::ToDrawing { leave_on_diameter_mm: 0.0 };
    let pass = Pass::turn(PassId(0), 460.0, 260.0, cut, 0.2, 500.0);
    job.apply(&Edit::AddPass { setup: second, at: 0, pass }).expect("a pass from end A to the shoulder at 200");
    job
}

fn reshaped(job: &Job, change: Reshape) -> Job {
    let mut job = job.clone();
    job.apply(&Edit::Reshape(change)).expect("it can be made");
    job
}

#[track_caller]
fn refused(job: &Job, change: Reshape) -> String {
    let mut after = job.clone();
    let error = after.apply(&Edit::Reshape(change)).expect_err("it must be refused").to_string();
    assert_eq!(after, *job, "what is refused leaves no trace");
    error
}

fn ends(job: &Job, setup: usize, pass: usize) -> (f64, f64) {
    let pass = &job.setups[setup].passes[pass];
    (pass.from_z_mm, pass.to_z_mm)
}

#[test]
fn cuts_that_end_at_a_shoulder_go_with_it_in_every_set_up_and_others_stay() {
    let before = job();
    let after = reshaped(&before, Reshape::MoveShoulder { shoulder: 2, to_s_mm: 320.0 });
    assert_eq!(shoulders_s_mm(&after.shaft), [0.0, 200.0, 320.0, 500.0]);
    assert_eq!(ends(&after, 0, 1), (460.0, 280.0), "it ended at the shoulder");
    assert_eq!(ends(&after, 0, 0), ends(&before, 0, 0), "it ended at another one");
    assert_eq!(ends(&after, 0, 2), ends(&before, 0, 2), "it ended half a millimetre short, on purpose");
    let after = reshaped(&before, Reshape::MoveShoulder { shoulder: 1, to_s_mm: 190.0 });
    assert_eq!(ends(&after, 0, 0), (460.0, 150.0));
    assert_eq!(ends(&after, 1, 0), (460.0, 270.0), "seen from the other end the shoulder goes the other way");
    assert_eq!(after.shaft.stock, before.shaft.stock);
}

#[test]
fn a_drag_there_and_back_leaves_no_trace() {
    let before = job();
    let mut dragged = before.clone();
    // Over the place where another cut ends: it must not be taken along.
    for to_s_mm in [300.2, 300.5, 310.0, 330.0, 300.0] {
        let edit = Reshape::MoveShoulder { shoulder: 2, to_s_mm }.edit(&before).expect("there is room");
        dragged.apply(&edit).expect("a whole edit");
        assert_eq!(ends(&dragged, 0, 2), ends(&before, 0, 2), "at {to_s_mm}");
    }
    assert_eq!(dragged, before);
}

#[test]
fn the_stock_around_a_shoulder_goes_with_it_and_so_does_its_end() {
    let mut before = job();
    before.shaft.stock = vec![Land::cylinder(200.0, 34.0), Land::cylinder(300.0, 40.0)];
    let after = reshaped(&before, Reshape::MoveShoulder { shoulder: 1, to_s_mm: 210.0 });
    assert_eq!(after.shaft.stock, [Land::cylinder(210.0, 34.0), Land::cylinder(290.0, 40.0)]);
    let after = reshaped(&before, Reshape::MoveShoulder { shoulder: 3, to_s_mm: 520.0 });
    assert_eq!(after.shaft.length_mm(), 520.0, "the part ends where its stock does: both grow");
    assert_eq!(ends(&after, 0, 1), (480.0, 260.0), "cuts begin at the new end");
    assert_eq!(ends(&after, 1, 0), (480.0, 280.0), "and stay at their place on the work where it is turned round");
}

#[test]
fn a_length_typed_shifts_the_lands_behind_it_with_all_that_is_on_them() {
    let mut before = job();
    let keyway = FeatureKind::Keyway { width_mm: 10.0, depth_mm: 5.0 };
    before.shaft.features = vec![Feature { kind: keyway, from_s_mm: 400.0, to_s_mm: 440.0 }];
    let mut shaft = before.shaft.clone();
    shaft.wanted[0].land.length_mm = 215.0;
    let after = reshaped(&before, Reshape::Typed(Box::new(shaft)));
    assert_eq!(shoulders_s_mm(&after.shaft), [0.0, 215.0, 315.0, 515.0]);
    assert_eq!(after.shaft.length_mm(), 515.0);
    assert_eq!((after.shaft.features[0].from_s_mm, after.shaft.features[0].to_s_mm), (415.0, 455.0));
    assert_eq!((ends(&after, 0, 0), ends(&after, 0, 1)), ((475.0, 175.0), (475.0, 275.0)));
}

#[test]
fn a_thread_runs_up_to_its_shoulder_and_a_groove_keeps_its_width() {
    let mut before = job();
    let thread = FeatureKind::Thread { pitch_mm: 2.0 };
    before.shaft.features = vec![
        Feature { kind: thread, from_s_mm: 300.0, to_s_mm: 340.0 },
        Feature { kind: FeatureKind::Groove { depth_mm: 1.0 }, from_s_mm: 197.0, to_s_mm: 200.0 },
    ];
    let after = reshaped(&before, Reshape::MoveShoulder { shoulder: 2, to_s_mm: 310.0 });
    assert_eq!((after.shaft.features[0].from_s_mm, after.shaft.features[0].to_s_mm), (310.0, 340.0));
    let after = reshaped(&before, Reshape::MoveShoulder { shoulder: 1, to_s_mm: 210.0 });
    assert_eq!((after.shaft.features[1].from_s_mm, after.shaft.features[1].to_s_mm), (207.0, 210.0));
    let error = refused(&before, Reshape::MoveShoulder { shoulder: 2, to_s_mm: 360.0 });
    assert!(error.contains("Feature 1") && error.contains("no length left"), "{error}");
}

#[test]
fn a_shoulder_does_not_come_to_stand_in_a_thread() {
    let mut before = job();
    let thread = FeatureKind::Thread { pitch_mm: 2.0 };
    before.shaft.features = vec![Feature { kind: thread, from_s_mm: 350.0, to_s_mm: 400.0 }];
    let error = refused(&before, Reshape::MoveShoulder { shoulder: 2, to_s_mm: 360.0 });
    assert!(error.contains("thread"), "{error}");
    let change = |to_s_mm| Reshape::MoveShoulder { shoulder: 2, to_s_mm };
    let reached = Reshape::furthest(&before, (300.0, 380.0), 1.0, change);
    assert_eq!(reached.value_mm, 350.0, "it stops at the thread");
    assert!(reached.edit.is_some() && reached.stopped.is_some());
}

#[test]
fn a_size_takes_along_the_cuts_that_belong_to_it() {
    let after = reshaped(&job(), Reshape::SetDiameter { land: 2, ends: LandEnds::Both, diameter_mm: 34.0 });
    let cuts: Vec<Cut> = after.setups[0].passes.iter().map(|pass| pass.cut).collect();
    assert_eq!(cuts[1], Cut::ToDiameter { diameter_mm: 34.0 }, "it was the finish cut of this land");
    assert_eq!(cuts[0], Cut::ToDiameter { diameter_mm: 36.5 }, "it leaves half a millimetre on the larger land");
    let after = reshaped(&job(), Reshape::SetDiameter { land: 1, ends: LandEnds::Both, diameter_mm: 37.0 });
    assert_eq!(after.setups[0].passes[0].cut, Cut::ToDiameter { diameter_mm: 37.5 });
}

#[test]
fn a_part_larger_than_its_stock_or_thinner_than_its_bore_is_refused_in_words() {
    let mut before = job();
    let size = |land, diameter_mm| Reshape::SetDiameter { land, ends: LandEnds::Both, diameter_mm };
    let error = refused(&before, size(1, 41.0));
    assert!(error.contains("Land 2") && error.contains("40.000 mm"), "{error}");
    let reached = Reshape::furthest(&before, (36.0, 55.0), 0.5, |mm| size(1, mm));
    assert_eq!(reached.value_mm, 40.0);
    let bore =
        midspan::job::BoreLand { from_s_mm: 0.0, to_s_mm: 500.0, start_diameter_mm: 20.0, end_diameter_mm: 20.0 };
    before.shaft.bores = vec![bore];
    let error = refused(&before, size(0, 20.0));
    assert!(error.contains("no wall") && error.contains("20.000 mm"), "{error}");
    assert!(refused(&before, size(0, f64::NAN)).contains("no diameter"));
    assert!(refused(&before, size(7, 20.0)).contains("no longer there"));
    assert!(refused(&before, Reshape::MoveShoulder { shoulder: 1, to_s_mm: 299.8 }).contains("no length left"));
    let past = refused(&before, Reshape::MoveShoulder { shoulder: 0, to_s_mm: -3.0 });
    assert!(past.contains("3.0 mm past its stock"), "{past}");
}

#[test]
fn what_did_not_fit_before_may_still_be_changed() {
    let mut before = job();
    before.shaft.wanted[1].land = Land::cylinder(100.0, 45.0);
    let after = reshaped(&before, Reshape::SetDiameter { land: 1, ends: LandEnds::Both, diameter_mm: 43.0 });
    assert_eq!(after.shaft.wanted[1].land.start_diameter_mm, 43.0, "better, if not yet good");
    refused(&before, Reshape::SetDiameter { land: 1, ends: LandEnds::Both, diameter_mm: 46.0 });
}

#[test]
fn a_land_is_split_where_it_is_and_joined_again() {
    let mut before = job();
    before.shaft.wanted[2].tolerance = Tolerance::H { grade: 7 };
    before.shaft.wanted[2].land.end_diameter_mm = 28.0;
    let split = reshaped(&before, Reshape::Split { land: 2, at_s_mm: 350.0 });
    let lands: Vec<Land> = split.shaft.wanted.iter().map(|wanted| wanted.land).collect();
    // A quarter of the way from 32 to 28.
    let part = |length_mm, start_diameter_mm, end_diameter_mm| Land { length_mm, start_diameter_mm, end_diameter_mm };
    assert_eq!(lands[2..], [part(50.0, 32.0, 31.0), part(150.0, 31.0, 28.0)]);
    assert_eq!(split.shaft.wanted[3].tolerance, Tolerance::H { grade: 7 });
    assert_eq!(split.setups, before.setups, "no cut changes");
    let joined = reshaped(&split, Reshape::Join { land: 3, keeps: 2 });
    assert_eq!(joined.shaft.wanted.len(), 3);
    assert_eq!(joined.shaft.wanted[2].land, part(200.0, 32.0, 31.0), "the size of the land that stays");
    assert!(refused(&before, Reshape::Split { land: 0, at_s_mm: 0.1 }).contains("so near its end"));
    assert!(refused(&before, Reshape::Join { land: 0, keeps: 2 }).contains("beside each other"));
}

#[test]
fn a_shoulder_does_not_swallow_a_cut() {
    let mut before = job();
    before.setups[0].passes[1].from_z_mm = 300.0;
    let error = refused(&before, Reshape::MoveShoulder { shoulder: 2, to_s_mm: 345.0 });
    assert!(error.contains("pass 2") && error.contains("nothing left to cut"), "{error}");
}
