//! The plan as a person takes it: asked for by key or menu, read, taken as one edit, undone, or left aside.

use egui::{Key, Modifiers};
use egui_kittest::Harness;
use midspan::app::MidspanApp;
use midspan::app::new_job::NewJobForm;
use midspan::job::{Job, Tolerance, Units};
use midspan::study::coverage::Cover;
use midspan::study::plan::plan;

use crate::desk::{keys, press, says, shown, wait_until};

type Window = Harness<'static, MidspanApp>;

/// A bar of 600 mm to be turned from end to end, nothing done yet.
fn bare() -> Job {
    let mut job = NewJobForm::new(Units::Metric).build().expect("the form starts with a shaft that can be");
    job.setups[0].passes.clear();
    job.setups[0].rests.clear();
    for wanted in &mut job.shaft.wanted {
        wanted.tolerance = Tolerance::Js { grade: 11 };
    }
    job
}

fn uncut_mm(window: &Window) -> f64 {
    window.state().desk.results().coverage.length_mm(Cover::Uncut)
}

/// Waits until the window of the plan has its answer.
fn answered(window: &mut Window) {
    wait_until(window, "the plan is there", |app| app.plan_is_there());
    window.run_steps(3);
}

#[test]
fn the_plan_is_asked_for_by_key_taken_as_one_edit_and_undone() {
    let mut window = shown(bare());
    let before = window.state().desk.job().clone();
    assert!(uncut_mm(&window) > 0.0);
    assert!(says(&window, "Not cut in any set-up") > 0);
    keys(&mut window, Modifiers::COMMAND, Key::L);
    answered(&mut window);
    assert_eq!(says(&window, "Set-up 1:"), 1);
    assert!(says(&window, "for the finishing cut") > 0, "a step has its reason");
    assert!(says(&window, "Computed: ") > 0, "and what the sweep makes of it");
    assert_eq!(*window.state().desk.job(), before, "looking changes nothing");
    press(&mut window, "Take this plan");
    assert!(!window.state().is_asking());
    let expected = plan(&before, &|| true).expect("there is a plan");
    let mut by_hand = before.clone();
    by_hand.apply(&expected.edit(&before)).unwrap();
    assert_eq!(*window.state().desk.job(), by_hand);
    assert!(uncut_mm(&window) < 1e-6);
    assert_eq!(says(&window, "Not cut in any set-up"), 0);
    let view = &window.state().desk.view;
    assert!(window.state().desk.job().setup(view.setup).is_some(), "a set-up that is there is looked at");
    keys(&mut window, Modifiers::COMMAND, Key::Z);
    assert_eq!(*window.state().desk.job(), before);
    assert!(!window.state().desk.history().can_undo(), "it was one step");
}

#[test]
fn escape_leaves_the_plan_aside_and_enter_takes_it() {
    let mut window = shown(bare());
    let before = window.state().desk.job().clone();
    keys(&mut window, Modifiers::COMMAND, Key::L);
    answered(&mut window);
    keys(&mut window, Modifiers::NONE, Key::Escape);
    assert!(!window.state().is_asking());
    assert_eq!(*window.state().desk.job(), before);
    press(&mut window, "Plan the job\u{2026}");
    answered(&mut window);
    keys(&mut window, Modifiers::NONE, Key::Enter);
    assert!(!window.state().is_asking());
    assert_ne!(*window.state().desk.job(), before);
}

#[test]
fn where_there_is_no_plan_the_window_says_why() {
    let mut job = bare();
    job.shaft.wanted.clear();
    let mut window = shown(job);
    keys(&mut window, Modifiers::COMMAND, Key::L);
    answered(&mut window);
    assert_eq!(says(&window, "Nothing is drawn yet"), 1);
    assert_eq!(says(&window, "Take this plan"), 0);
    press(&mut window, "Go back");
    assert!(!window.state().is_asking());
}
