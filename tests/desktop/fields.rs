//! Every number of shaft, ends, rests, lathe, set-up and job that was not on screen before the second format: typed as
//! a person does, in millimetres and inches, taken back and done again.

use std::sync::Arc;

use egui::{Key, Modifiers};
use egui_kittest::Harness;
use midspan::app::{MidspanApp, Selected, files};
use midspan::job::{DogKind, Follower, Job, PassKind, Stated, Stiffness, TailKind, Units};

use crate::desk::{
    Answer, choose, enter_into, has_field, job, keys, press, select, text_in, tick, unfold, wait_until, window,
    window_with,
};

type Window = Harness<'static, MidspanApp>;

/// Types into a field and sees what of the job it becomes, takes it back, and does it again.
#[track_caller]
fn typed(window: &mut Window, label: &str, text: &str, of: impl Fn(&Job) -> f64, expected: f64) {
    let before = window.state().desk.job().clone();
    enter_into(window, label, text);
    let after = window.state().desk.job().clone();
    assert_eq!(of(&after), expected, "{label}: {text}");
    keys(window, Modifiers::COMMAND, Key::Z);
    assert_eq!(*window.state().desk.job(), before, "{label}: {text} taken back");
    keys(window, Modifiers::COMMAND, Key::Y);
    assert_eq!(*window.state().desk.job(), after, "{label}: {text} done again");
    if text.parse::<f64>().is_ok() {
        assert_eq!(text_in(window, label), text, "{label}");
    }
}

/// A window with the test's job in these units, looking at `selected`.
fn window_in(units: Units, selected: impl Fn(&Job) -> Selected, change: impl Fn(&mut Job)) -> Window {
    let mut job = job();
    job.units = units;
    change(&mut job);
    let selected = selected(&job);
    let mut window = window_with(job, None, &Arc::new(Answer::default()));
    select(&mut window, selected);
    window
}

fn first_rest(job: &Job) -> Selected {
    Selected::Rest(job.setups[0].rests[0].id)
}

fn stated(of: impl Fn(&Job) -> Stated) -> impl Fn(&Job) -> f64 {
    move |job| {
        assert!(!of(job).assumed, "what was typed is the user's own");
        of(job).value
    }
}

/// Source: by definition.
const LBF: f64 = 4.448_221_615_260_5;

/// What a typed size is in mm. Source: the inch is 25.4 mm by definition; counted in whole ten-thousandths of it, so
/// that only the quotient is rounded.
fn in_mm(units: Units, typed: f64) -> f64 {
    match units {
        Units::Metric => typed,
        Units::Inch => (typed * 10_000.0).round() * 254.0 / 100_000.0,
    }
}

#[test]
fn the_bow_of_the_bar_has_a_side() {
    let mut metric = window_in(Units::Metric, |_| Selected::Shaft, |_| ());
    typed(&mut metric, "Bow of the bar", "0.3", |job| job.shaft.bow_tir_mm, 0.3);
    typed(&mut metric, "Bent towards", "120", |job| job.shaft.bow_at_rad, 120f64.to_radians());
    let mut inch = window_in(Units::Inch, |_| Selected::Shaft, |_| ());
    typed(&mut inch, "Bow of the bar", "0.01", |job| job.shaft.bow_tir_mm, in_mm(Units::Inch, 0.01));
    typed(&mut inch, "Bent towards", "-45", |job| job.shaft.bow_at_rad, (-45f64).to_radians());
}

#[test]
fn a_centre_hole_may_be_off_the_middle() {
    let hole = |job: &Job| job.shaft.centre_hole_b.expect("the test's shaft has a hole in end B");
    let mut metric = window_in(Units::Metric, |_| Selected::Shaft, |_| ());
    typed(&mut metric, "Off the middle, end B", "0.2", |job| hole(job).off_tir_mm, 0.2);
    typed(&mut metric, "Off towards, end B", "90", |job| hole(job).off_at_rad, 90f64.to_radians());
    let mut inch = window_in(Units::Inch, |_| Selected::Shaft, |_| ());
    typed(&mut inch, "Off the middle, end B", "8 thou", |job| hole(job).off_tir_mm, 0.2032);
    typed(&mut inch, "Off towards, end B", "270", |job| hole(job).off_at_rad, 270f64.to_radians());
}

#[test]
fn run_out_at_the_jaws_has_a_side_and_the_jaws_a_force() {
    let mut metric = window_in(Units::Metric, |_| Selected::Drive, |_| ());
    typed(&mut metric, "Run-out at the jaw face", "0.04", |job| job.setups[0].drive.runout_tir_mm, 0.04);
    typed(&mut metric, "Stands out towards", "30", |job| job.setups[0].drive.runout_at_rad, 30f64.to_radians());
    typed(&mut metric, "Force of one jaw", "3000", stated(|job| job.setups[0].drive.grip_force_n), 3000.0);
    let mut inch = window_in(Units::Inch, |_| Selected::Drive, |_| ());
    typed(
        &mut inch,
        "Run-out at the jaw face",
        "0.002",
        |job| job.setups[0].drive.runout_tir_mm,
        in_mm(Units::Inch, 0.002),
    );
    typed(&mut inch, "Force of one jaw", "1000", stated(|job| job.setups[0].drive.grip_force_n), 1000.0 * LBF);
}

#[test]
fn the_tail_of_the_dog_has_its_place() {
    for units in [Units::Metric, Units::Inch] {
        let mut window = window_in(units, |_| Selected::Drive, |_| ());
        choose(&mut window, "Held in", "centre, dog and drive plate");
        let dog = |job: &Job| job.setups[0].drive.dog;
        typed(&mut window, "Tail, from the axis", "3", stated(|job| dog(job).tail_radius_mm), in_mm(units, 3.0));
        let back = "Tail, back from the centre's point";
        typed(&mut window, back, "2", stated(|job| dog(job).tail_reach_mm), in_mm(units, 2.0));
        choose(&mut window, "Driven by", "two tails");
        assert_eq!(dog(window.state().desk.job()).kind, DogKind::TwoTails);
        keys(&mut window, Modifiers::COMMAND, Key::Z);
        assert_eq!(dog(window.state().desk.job()).kind, DogKind::OneTail);
        typed(
            &mut window,
            "Run-out of the centre",
            "0.01",
            |job| job.setups[0].drive.runout_tir_mm,
            in_mm(units, 0.01),
        );
    }
}

#[test]
fn a_centre_that_turns_may_run_out() {
    for units in [Units::Metric, Units::Inch] {
        let mut window = window_in(units, |_| Selected::Tail, |_| ());
        typed(&mut window, "Run-out of the centre", "0.01", |job| job.setups[0].tail.runout_tir_mm, in_mm(units, 0.01));
    }
}

#[test]
fn tips_are_bored_to_the_work_first_and_then_to_what_is_typed() {
    for units in [Units::Metric, Units::Inch] {
        let mut window = window_in(units, first_rest, |_| ());
        let bored = |job: &Job| job.setups[0].rests[0].tip_bored_mm;
        assert_eq!(bored(window.state().desk.job()), None);
        choose(&mut window, "Tips are", "bored out");
        let stock_mm = window.state().desk.job().shaft.stock[0].start_diameter_mm;
        assert_eq!(bored(window.state().desk.job()), Some(stock_mm), "the test's rest stands on the plain bar");
        typed(&mut window, "Bored to", "2", |job| bored(job).expect("bored"), in_mm(units, 2.0));
        choose(&mut window, "Tips are", "flat");
        assert_eq!(bored(window.state().desk.job()), None);
    }
}

#[test]
fn the_spot_under_the_jaws_may_have_lobes() {
    let spot = |job: &Job| job.setups[0].rests[0].spot;
    for (units, text, height_mm) in [(Units::Metric, "0.02", 0.02), (Units::Inch, "1 thou", 0.0254)] {
        let mut window = window_in(units, first_rest, |_| ());
        unfold(&mut window, "How round the spot is");
        typed(&mut window, "High to low, on radius", text, |job| spot(job).height_mm, height_mm);
        typed(&mut window, "Lobes around it", "5", |job| f64::from(spot(job).n_lobes), 5.0);
    }
}

#[test]
fn lobes_that_cannot_be_are_refused_beneath_the_field() {
    let mut window = window_in(Units::Metric, first_rest, |job| job.setups[0].rests[0].spot.height_mm = 0.02);
    unfold(&mut window, "How round the spot is (20 \u{b5}m)");
    let before = window.state().desk.job().clone();
    for text in ["1", "-3", "2.5", "99999999999"] {
        enter_into(&mut window, "Lobes around it", text);
        assert_eq!(*window.state().desk.job(), before, "{text}");
        assert_eq!(text_in(&window, "Lobes around it"), text);
    }
}

#[test]
fn the_follower_comes_on_late_and_has_bored_tips() {
    for units in [Units::Metric, Units::Inch] {
        let mut window =
            window_in(units, |_| Selected::Follower, |job| job.setups[0].follower = Some(Follower::usual()));
        let follower = |job: &Job| job.setups[0].follower.clone().expect("mounted");
        typed(&mut window, "Brought on after", "1.5", |job| follower(job).start_mm, in_mm(units, 1.5));
        choose(&mut window, "Tips are", "bored out");
        let fresh_mm = follower(window.state().desk.job()).tip_bored_mm.expect("bored");
        let land_mm = window.state().desk.job().shaft.wanted[0].land.start_diameter_mm;
        // The roughing pass of the form leaves half a millimetre.
        assert!((fresh_mm - (land_mm + 0.5)).abs() < 1e-9, "{fresh_mm} behind a cut that leaves {land_mm} + 0.5");
        typed(&mut window, "Bored to", "1.25", |job| follower(job).tip_bored_mm.expect("bored"), in_mm(units, 1.25));
    }
}

#[test]
fn the_lathe_has_tips_rollers_and_what_it_gives_along_the_bed() {
    let axial = |job: &Job| match job.lathe.tailstock_axial_k_n_per_mm {
        Stiffness::Spring(stated) => stated,
        Stiffness::Rigid => panic!("the generic lathe is not rigid"),
    };
    let lbf_per_thou = LBF / 0.0254;
    for (units, one_k) in [(Units::Metric, 1000.0), (Units::Inch, lbf_per_thou)] {
        let mut window = window_in(units, |_| Selected::Lathe, |_| ());
        let lathe = |job: &Job| job.lathe.clone();
        typed(
            &mut window,
            "Tips, length around the work",
            "2",
            stated(|job| lathe(job).pad_length_mm),
            in_mm(units, 2.0),
        );
        typed(&mut window, "Rollers, diameter", "3", stated(|job| lathe(job).roller_diameter_mm), in_mm(units, 3.0));
        let near = |of: f64, to: f64| assert!((of / to - 1.0).abs() < 1e-14, "{of} against {to}");
        enter_into(&mut window, "Tailstock along the bed", "80");
        near(stated(axial)(window.state().desk.job()), 80.0 * one_k);
        enter_into(&mut window, "Spring-loaded centre along the bed", "0.5");
        near(stated(|job| job.lathe.spring_centre_k_n_per_mm)(window.state().desk.job()), 0.5 * one_k);
        keys(&mut window, Modifiers::COMMAND, Key::Z);
        assert!(window.state().desk.job().lathe.spring_centre_k_n_per_mm.assumed);
        tick(&mut window, "Tailstock along the bed: rigid");
        assert_eq!(window.state().desk.job().lathe.tailstock_axial_k_n_per_mm, Stiffness::Rigid);
    }
}

/// Source: a difference of 1.8 degrees Fahrenheit is one kelvin, by definition.
#[test]
fn the_work_may_be_warmer_than_when_the_centre_was_set() {
    const WARMER: &str = "Work warmer than when the centre was set";
    let mut metric = window_in(Units::Metric, |_| Selected::Setup, |_| ());
    typed(&mut metric, WARMER, "10", |job| job.setups[0].warmer_by_k, 10.0);
    typed(&mut metric, WARMER, "45 \u{b0}F", |job| job.setups[0].warmer_by_k, 25.0);
    let mut inch = window_in(Units::Inch, |_| Selected::Setup, |_| ());
    typed(&mut inch, WARMER, "18", |job| job.setups[0].warmer_by_k, 10.0);
    assert_eq!(text_in(&inch, WARMER), "18");
    enter_into(&mut inch, WARMER, "20 K");
    assert_eq!(inch.state().desk.job().setups[0].warmer_by_k, 20.0);
    assert_eq!(text_in(&inch, WARMER), "36");
}

#[test]
fn friction_at_the_jaws_is_ticked_off_and_comes_back_by_undo() {
    let mut window = window_in(Units::Metric, |_| Selected::Setup, |_| ());
    assert!(window.state().desk.job().setups[0].jaw_friction);
    tick(&mut window, "Friction at the jaws drags on the work");
    assert!(!window.state().desk.job().setups[0].jaw_friction);
    keys(&mut window, Modifiers::COMMAND, Key::Z);
    assert!(window.state().desk.job().setups[0].jaw_friction);
}

#[test]
fn how_sure_is_one_press_away_and_is_typed_in_percent() {
    let mut window = window();
    press(&mut window, "How sure");
    assert_eq!(window.state().desk.view.selected, Selected::Sureness);
    let usual = window.state().desk.job().spread;
    typed(&mut window, "Main force, up or down by", "15", |job| job.spread.main_ratio, 0.15);
    typed(&mut window, "Push away, up or down by", "30 %", |job| job.spread.radial_ratio, 0.3);
    typed(&mut window, "Times or divided by", "2", |job| job.spread.stiffness_factor, 2.0);
    typed(&mut window, "Damping ratio", "3", stated(|job| job.spread.damping_ratio), 0.03);
    press(&mut window, "Put the usual figures in");
    assert_eq!(window.state().desk.job().spread, usual);
    let before = window.state().desk.job().clone();
    enter_into(&mut window, "Times or divided by", "0.5");
    assert_eq!(*window.state().desk.job(), before, "a factor below 1 is refused");
}

#[test]
fn a_job_with_everything_typed_comes_back_from_its_file() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("everything.ron");
    let answer = Arc::new(Answer(std::sync::Mutex::new(Some(path.clone()))));
    let mut window = window_with(job(), None, &answer);
    fill_in(&mut window);
    let typed = window.state().desk.job().clone();
    keys(&mut window, Modifiers::COMMAND, Key::S);
    wait_until(&mut window, "the job is saved", |app| !app.desk.is_unsaved());
    assert_eq!(files::open(&path).unwrap().job, typed);
    keys(&mut window, Modifiers::COMMAND, Key::O);
    wait_until(&mut window, "the job is opened", |app| !app.desk.history().can_undo());
    assert_eq!(*window.state().desk.job(), typed);
}

/// Every field of the second format, typed one after another.
fn fill_in(window: &mut Window) {
    let before = window.state().desk.job().clone();
    let fields: [(Selected, &[(&str, &str)]); 4] = [
        (
            Selected::Shaft,
            &[
                ("Bow of the bar", "0.3"),
                ("Bent towards", "120"),
                ("Off the middle, end B", "0.1"),
                ("Off towards, end B", "200"),
            ],
        ),
        (
            Selected::Lathe,
            &[
                ("Tips, length around the work", "14"),
                ("Rollers, diameter", "25"),
                ("Tailstock along the bed", "60"),
                ("Spring-loaded centre along the bed", "0.2"),
            ],
        ),
        (
            Selected::Drive,
            &[("Force of one jaw", "2500"), ("Run-out at the jaw face", "0.02"), ("Stands out towards", "75")],
        ),
        (Selected::Setup, &[("Work warmer than when the centre was set", "12")]),
    ];
    for (selected, rows) in fields {
        select(window, selected);
        for (label, text) in rows {
            enter_into(window, label, text);
        }
    }
    tick(window, "Friction at the jaws drags on the work");
    select(window, Selected::Tail);
    enter_into(window, "Run-out of the centre", "0.005");
    select(window, Selected::Drive);
    choose(window, "Held in", "centre, dog and drive plate");
    enter_into(window, "Tail, from the axis", "62");
    enter_into(window, "Tail, back from the centre's point", "18");
    choose(window, "Driven by", "two tails");
    let rest = first_rest(window.state().desk.job());
    select(window, rest);
    choose(window, "Tips are", "bored out");
    enter_into(window, "Bored to", "41");
    unfold(window, "How round the spot is");
    enter_into(window, "High to low, on radius", "0.012");
    enter_into(window, "Lobes around it", "5");
    tick(window, "Follower rest");
    enter_into(window, "Brought on after", "22");
    choose(window, "Tips are", "bored out");
    enter_into(window, "Bored to", "39.5");
    select(window, Selected::Sureness);
    for (label, text) in [
        ("Main force, up or down by", "12"),
        ("Push away, up or down by", "35"),
        ("Times or divided by", "1.8"),
        ("Damping ratio", "1.5"),
    ] {
        enter_into(window, label, text);
    }
    let passes: Vec<_> = before.setups[0].passes.iter().map(|pass| pass.id).collect();
    for (pass, kind) in passes.iter().zip(["groove", "part off"]) {
        select(window, Selected::Pass(*pass));
        choose(window, "Kind", kind);
    }
    assert!(!has_field(window, "Begins, from the jaw face"));

    let now = window.state().desk.job();
    let setup = &now.setups[0];
    assert_eq!(
        setup.passes.iter().map(|pass| pass.kind).collect::<Vec<_>>(),
        [PassKind::Groove, PassKind::Part],
        "the form makes two passes"
    );
    assert_eq!((setup.warmer_by_k, setup.jaw_friction), (12.0, false));
    assert_eq!((setup.drive.dog.kind, setup.tail.kind), (DogKind::TwoTails, TailKind::LiveCentre));
    assert_eq!(setup.drive.dog.tail_radius_mm, Stated::given(62.0));
    assert_eq!((setup.drive.runout_at_rad, setup.drive.grip_force_n), (75f64.to_radians(), Stated::given(2500.0)));
    assert_eq!((setup.rests[0].spot.n_lobes, setup.rests[0].spot.height_mm), (5, 0.012));
    let follower = setup.follower.as_ref().expect("mounted");
    assert_eq!((follower.start_mm, follower.tip_bored_mm), (22.0, Some(39.5)));
    assert_eq!((now.spread.main_ratio, now.spread.damping_ratio), (0.12, Stated::given(0.015)));
}
