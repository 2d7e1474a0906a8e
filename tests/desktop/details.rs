//! What the details show and what they hide: a row stands there where it means something, and what is hidden is kept.

use std::sync::Arc;

use egui::accesskit::Role;
use egui_kittest::Harness;
use egui_kittest::kittest::Queryable as _;
use midspan::app::{MidspanApp, Selected};
use midspan::job::{DogKind, DriveKind, Follower, Force, Job, PassKind, Stated, TailKind, TipKind, Units};

use crate::desk::{Answer, choose, enter_into, has_field, job, press, select, tick, unfold, window, window_with};

type Window = Harness<'static, MidspanApp>;

fn window_of(change: impl Fn(&mut Job), selected: impl Fn(&Job) -> Selected) -> Window {
    let mut job = job();
    change(&mut job);
    let selected = selected(&job);
    let mut window = window_with(job, None, &Arc::new(Answer::default()));
    select(&mut window, selected);
    window
}

fn has_choice(window: &Window, label: &str) -> bool {
    window.query_by_role_and_label(Role::ComboBox, label).is_some()
}

fn says(window: &Window, words: &str) -> bool {
    window.query_all_by_label_contains(words).count() > 0
}

#[test]
fn a_side_is_asked_for_only_where_something_is_off() {
    let mut window = window();
    for (selected, size, side) in [
        (Selected::Shaft, "Bow of the bar", "Bent towards"),
        (Selected::Shaft, "Off the middle, end B", "Off towards, end B"),
        (Selected::Drive, "Run-out at the jaw face", "Stands out towards"),
    ] {
        select(&mut window, selected);
        assert!(!has_field(&window, side), "{side} while {size} is 0");
        enter_into(&mut window, size, "0.1");
        assert!(has_field(&window, side), "{side}");
        enter_into(&mut window, size, "0");
        assert!(!has_field(&window, side), "{side} while {size} is 0 again");
    }
}

#[test]
fn the_dog_is_asked_about_only_between_centres_and_the_jaws_force_only_of_jaws() {
    let mut window = window_of(|_| (), |_| Selected::Drive);
    for (kind, jaws, dog) in [
        ("four-jaw chuck", true, false),
        ("collet", false, false),
        ("face plate", false, false),
        ("centre, dog and drive plate", false, true),
        ("three-jaw chuck", true, false),
    ] {
        choose(&mut window, "Held in", kind);
        assert_eq!(has_field(&window, "Force of one jaw"), jaws, "{kind}");
        assert_eq!(has_choice(&window, "Driven by"), dog, "{kind}");
        assert_eq!(has_field(&window, "Tail, from the axis"), dog, "{kind}");
        assert_eq!(has_field(&window, "Run-out of the centre"), dog, "{kind}");
    }
    choose(&mut window, "Held in", "centre, dog and drive plate");
    choose(&mut window, "Driven by", "two tails");
    assert!(!has_field(&window, "Tail, from the axis"), "two tails push nothing aside, wherever they bear");
}

#[test]
fn another_drive_keeps_run_out_jaw_force_and_dog() {
    let mut window = window_of(
        |job| {
            let drive = &mut job.setups[0].drive;
            (drive.runout_tir_mm, drive.runout_at_rad) = (0.05, 1.25);
            drive.grip_force_n = Stated::given(1234.0);
            drive.dog.kind = DogKind::TwoTails;
            drive.dog.tail_radius_mm = Stated::given(77.0);
        },
        |_| Selected::Drive,
    );
    let before = window.state().desk.job().setups[0].drive.clone();
    for kind in ["collet", "centre, dog and drive plate", "face plate", "three-jaw chuck"] {
        choose(&mut window, "Held in", kind);
        let now = &window.state().desk.job().setups[0].drive;
        assert_eq!((now.runout_tir_mm, now.runout_at_rad), (before.runout_tir_mm, before.runout_at_rad), "{kind}");
        assert_eq!((now.grip_force_n, now.dog), (before.grip_force_n, before.dog), "{kind}");
    }
    assert_eq!(window.state().desk.job().setups[0].drive.kind, DriveKind::ThreeJaw);
}

#[test]
fn a_centre_that_stands_still_has_no_run_out_and_what_was_typed_is_kept() {
    let mut window = window_of(|_| (), |_| Selected::Tail);
    enter_into(&mut window, "Run-out of the centre", "0.02");
    for (kind, turns) in [
        ("dead centre", false),
        ("half centre", false),
        ("spring-loaded live", true),
        ("bull-nose centre", true),
        ("nothing", false),
        ("live centre", true),
    ] {
        choose(&mut window, "Carried by", kind);
        assert_eq!(has_field(&window, "Run-out of the centre"), turns, "{kind}");
        assert_eq!(window.state().desk.job().setups[0].tail.runout_tir_mm, 0.02, "{kind}");
    }
    for kind in [TailKind::Free, TailKind::LiveCentre] {
        tick(&mut window, "Tailstock");
        let tail = &window.state().desk.job().setups[0].tail;
        assert_eq!((tail.kind, tail.runout_tir_mm), (kind, 0.02), "taken off and put to on the strip");
    }
}

#[test]
fn rollers_are_not_bored_and_say_how_large_they_are() {
    let rest = |job: &Job| Selected::Rest(job.setups[0].rests[0].id);
    let follower = |_: &Job| Selected::Follower;
    let mount = |job: &mut Job| job.setups[0].follower = Some(Follower::usual());
    for mut window in [window_of(|_| (), rest), window_of(mount, follower)] {
        choose(&mut window, "Tips are", "bored out");
        assert!(has_field(&window, "Bored to"));
        choose(&mut window, "Tips", "roller");
        assert!(!has_field(&window, "Bored to") && !has_choice(&window, "Tips are"));
        assert!(says(&window, "Rollers of 20.0 mm (assumed)"));
        choose(&mut window, "Tips", "bronze");
        assert!(has_field(&window, "Bored to"), "the bore is as it was");
        choose(&mut window, "Tips are", "flat");
        assert!(!has_field(&window, "Bored to"));
    }
}

#[test]
fn how_round_the_spot_is_stays_folded_until_asked_for() {
    let mut window = window();
    assert!(!has_field(&window, "High to low, on radius"));
    unfold(&mut window, "How round the spot is");
    assert!(has_field(&window, "High to low, on radius"));
    assert!(!has_field(&window, "Lobes around it"), "a round spot has none");
    enter_into(&mut window, "High to low, on radius", "0.02");
    assert!(has_field(&window, "Lobes around it"), "the fold stays open though its title says more now");
    assert!(says(&window, "How round the spot is (20 \u{b5}m)"));
}

#[test]
fn warmth_needs_a_centre_and_friction_needs_jaws() {
    const WARMER: &str = "Work warmer than when the centre was set";
    const FRICTION: &str = "Friction at the jaws drags on the work";
    for (tail, rest, warm) in
        [(true, true, 0.0), (true, false, 0.0), (false, true, 0.0), (false, false, 0.0), (false, false, 5.0)]
    {
        let window = window_of(
            |job| {
                let setup = &mut job.setups[0];
                setup.warmer_by_k = warm;
                if !tail {
                    setup.tail.kind = TailKind::Free;
                }
                if !rest {
                    setup.rests.clear();
                }
            },
            |_| Selected::Setup,
        );
        let case = format!("tailstock {tail}, rest {rest}, {warm} K");
        assert_eq!(has_field(&window, WARMER), tail || warm != 0.0, "{case}");
        assert_eq!(window.query_by_role_and_label(Role::CheckBox, FRICTION).is_some(), rest, "{case}");
    }
}

#[test]
fn a_groove_is_as_wide_as_its_stretch_and_a_parting_cut_has_no_depth() {
    let mut window = window_of(
        |job| {
            let pass = &mut job.setups[0].passes[0];
            (pass.from_z_mm, pass.to_z_mm) = (204.0, 200.0);
        },
        |job| Selected::Pass(job.setups[0].passes[0].id),
    );
    let travels = |window: &Window| has_field(window, "Begins, from the jaw face") && says(window, "Feeds toward");
    assert!(travels(&window) && has_choice(&window, "Dial set"));
    choose(&mut window, "Kind", "groove");
    assert!(!travels(&window) && has_field(&window, "One side, from the jaw face"));
    assert!(says(&window, "Width of the tool: 3.000 mm"), "a usual tool at the headstock end of the stretch");
    choose(&mut window, "Dial set", "so deep");
    assert!(has_field(&window, "Depth, on diameter"));
    choose(&mut window, "Dial set", "to the floor's diameter");
    assert!(has_field(&window, "Diameter of the floor"));
    choose(&mut window, "Force", "typed");
    assert!(has_field(&window, "Pushes the work away") && !has_field(&window, "Along the work"));
    choose(&mut window, "Kind", "part off");
    assert!(!travels(&window) && !has_choice(&window, "Dial set") && says(&window, "to the middle or the bore"));
    choose(&mut window, "Kind", "turn");
    assert!(travels(&window) && has_field(&window, "Along the work"));
    let pass = &window.state().desk.job().setups[0].passes[0];
    assert_eq!((pass.kind, pass.from_z_mm, pass.to_z_mm), (PassKind::Turn, 203.0, 200.0));
    assert!(matches!(pass.force, Force::Typed { feed_n, .. } if feed_n == 0.0), "{:?}", pass.force);
}

#[test]
fn a_thread_asks_for_its_pitch_where_others_ask_for_their_feed() {
    let mut window = window_of(|_| (), |job| Selected::Pass(job.setups[0].passes[0].id));
    assert!(has_field(&window, "Feed per turn") && !has_field(&window, "Pitch"));
    choose(&mut window, "Kind", "thread");
    assert!(has_field(&window, "Pitch") && !has_field(&window, "Feed per turn"));
    choose(&mut window, "Dial set", "to one root diameter");
    assert!(has_field(&window, "To root diameter"));
}

#[test]
fn how_sure_stands_in_the_menu_too() {
    let mut window = window();
    press(&mut window, "Select");
    let in_menu = window
        .query_all_by_role_and_label(Role::Button, "How sure")
        .find(|item| item.rect().top() < 500.0)
        .expect("an item of the menu, above the strip");
    in_menu.click();
    window.run_steps(3);
    assert_eq!(window.state().desk.view.selected, Selected::Sureness);
    assert!(says(&window, "only assumed figures are varied"));
}

#[test]
fn a_narrow_window_has_how_sure_in_the_menu_alone() {
    let mut window = window();
    window.set_size(egui::vec2(1000.0, 700.0));
    window.run_steps(4);
    assert!(window.query_by_role_and_label(Role::Button, "How sure").is_none());
    press(&mut window, "Select");
    press(&mut window, "How sure");
    assert_eq!(window.state().desk.view.selected, Selected::Sureness);
}

/// A job in which every row that can be hidden is shown.
fn with_everything(job: &mut Job) {
    job.shaft.bow_tir_mm = 0.2;
    for hole in [&mut job.shaft.centre_hole_a, &mut job.shaft.centre_hole_b] {
        let hole = hole.get_or_insert(midspan::job::CentreHole::in_the_middle(4.0));
        hole.off_tir_mm = 0.1;
    }
    let setup = &mut job.setups[0];
    setup.drive.runout_tir_mm = 0.03;
    setup.warmer_by_k = 12.5;
    setup.rests[0].spot.height_mm = 0.02;
    setup.rests[0].tip_bored_mm = Some(40.0);
    setup.rests[0].tip = TipKind::CastIron;
    setup.follower = Some(Follower { tip_bored_mm: Some(38.0), ..Follower::usual() });
    setup.passes[0].kind = PassKind::Groove;
    setup.passes[1].kind = PassKind::Thread;
}

#[test]
fn every_row_has_a_name_and_none_is_cut_off_at_the_side() {
    for units in [Units::Metric, Units::Inch] {
        for drive in [DriveKind::ThreeJaw, DriveKind::CentreAndDog] {
            let mut window = window_of(
                |job| {
                    with_everything(job);
                    job.units = units;
                    job.setups[0].drive.kind = drive;
                },
                |job| Selected::Rest(job.setups[0].rests[0].id),
            );
            let height = if units == Units::Metric { "20 \u{b5}m" } else { "0.8 thou" };
            unfold(&mut window, &format!("How round the spot is ({height})"));
            let edge = window.get_by_label("Size error").rect().left();
            let setup = window.state().desk.job().setups[0].clone();
            for selected in [
                Selected::Rest(setup.rests[0].id),
                Selected::Follower,
                Selected::Shaft,
                Selected::Lathe,
                Selected::Sureness,
                Selected::Drive,
                Selected::Tail,
                Selected::Setup,
                Selected::Pass(setup.passes[0].id),
                Selected::Pass(setup.passes[1].id),
            ] {
                select(&mut window, selected);
                assert_eq!(window.unnamed_widgets(), Vec::<String>::new(), "{units:?}, {drive:?}, {selected:?}");
                let moved = (window.get_by_label("Size error").rect().left() - edge).abs();
                assert!(moved < 0.5, "{units:?}, {drive:?}, {selected:?}: the bench is pushed aside by {moved}");
                for role in [Role::TextInput, Role::ComboBox, Role::CheckBox, Role::Button] {
                    for node in window.query_all_by_role(role) {
                        let rect = node.rect();
                        let inside = rect.right() < edge - 4.0;
                        assert!(
                            inside || rect.left() > edge - 20.0 || rect.top() > 640.0 || rect.bottom() < 60.0,
                            "{units:?}, {drive:?}, {selected:?}: {node:?} ends at {}, the panel at {edge}",
                            rect.right()
                        );
                    }
                }
            }
        }
    }
}
