//! Saving, opening and the questions on the way.

use std::sync::Arc;

use egui::{Key, Modifiers};
use egui_kittest::kittest::Queryable as _;
use midspan::app::files::{self, NO_DIALOG};

use crate::desk::{Answer, enter_into, job, keys, press, text_in, wait_until, window, window_with};

const PLACE: &str = "Place from the jaw face";

#[test]
fn what_is_saved_and_opened_again_is_the_same_job() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("shaft.ron");
    let answer = Arc::new(Answer(std::sync::Mutex::new(Some(path.clone()))));
    let mut window = window_with(job(), None, &answer);
    enter_into(&mut window, PLACE, "1-3/8 in");
    let saved = window.state().desk.job().clone();
    assert!(window.state().title().starts_with("• "), "{}", window.state().title());

    keys(&mut window, Modifiers::COMMAND, Key::S);
    wait_until(&mut window, "the job is saved", |app| !app.desk.is_unsaved());
    assert_eq!(window.state().desk.path.as_deref(), Some(path.as_path()));
    window.run_steps(1);
    assert_eq!(window.state().title(), "shaft.ron - Midspan");

    enter_into(&mut window, PLACE, "200");
    keys(&mut window, Modifiers::COMMAND, Key::S);
    assert!(!window.state().desk.is_unsaved(), "a job with a file is saved without a dialog");
    let saved_again = window.state().desk.job().clone();
    assert_ne!(saved_again, saved);

    keys(&mut window, Modifiers::COMMAND, Key::O);
    wait_until(&mut window, "the job is opened", |app| !app.desk.history().can_undo());
    assert_eq!(*window.state().desk.job(), saved_again);
}

#[test]
fn text_still_being_typed_is_entered_before_saving() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("shaft.ron");
    let mut window = window_with(job(), Some(path.clone()), &Arc::new(Answer::default()));
    crate::desk::type_into(&mut window, PLACE, "222");
    keys(&mut window, Modifiers::COMMAND, Key::S);
    assert_eq!(files::open(&path).unwrap().setups[0].rests[0].z_mm, 222.0);
}

#[test]
fn unsaved_changes_are_asked_about_and_kept_on_going_back() {
    let mut window = window();
    enter_into(&mut window, PLACE, "200");
    let changed = window.state().desk.job().clone();
    keys(&mut window, Modifiers::COMMAND, Key::N);
    assert!(window.query_by_label("The job has unsaved changes").is_some());
    press(&mut window, "Go back");
    assert!(window.query_by_label("The job has unsaved changes").is_none());
    assert_eq!(*window.state().desk.job(), changed);
}

#[test]
fn nothing_is_asked_where_nothing_was_changed() {
    let mut window = window();
    keys(&mut window, Modifiers::COMMAND, Key::N);
    assert!(window.query_by_label("The job has unsaved changes").is_none());
    assert!(window.query_by_label("New job").is_some());
}

#[test]
fn closing_the_window_asks_about_unsaved_changes() {
    let mut window = window();
    enter_into(&mut window, PLACE, "200");
    keys(&mut window, Modifiers::COMMAND, Key::Q);
    assert!(window.query_by_label("The job has unsaved changes").is_some());
}

#[test]
fn save_first_saves_and_then_goes_on() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("shaft.ron");
    let mut window = window_with(job(), Some(path.clone()), &Arc::new(Answer::default()));
    enter_into(&mut window, PLACE, "200");
    keys(&mut window, Modifiers::COMMAND, Key::N);
    press(&mut window, "Save first");
    assert_eq!(files::open(&path).unwrap().setups[0].rests[0].z_mm, 200.0);
    assert!(window.query_by_label("New job").is_some());
}

#[test]
fn where_the_desktop_has_no_dialog_a_path_can_be_typed() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("typed.ron");
    let mut window = window();
    enter_into(&mut window, PLACE, "200");
    keys(&mut window, Modifiers::COMMAND | Modifiers::SHIFT, Key::S);
    wait_until(&mut window, "a path is asked for", |app| app.is_asking());
    window.run_steps(2);
    assert!(window.query_by_label(NO_DIALOG).is_some());
    window.get_by_role_and_label(egui::accesskit::Role::TextInput, "Path of the file").focus();
    window.run_steps(2);
    keys(&mut window, Modifiers::COMMAND, Key::A);
    enter_into(&mut window, "Path of the file", &path.display().to_string());
    assert!(!window.state().is_asking(), "{}", text_in(&window, "Path of the file"));
    assert_eq!(files::open(&path).unwrap(), *window.state().desk.job());
}

#[test]
fn a_file_that_is_not_there_is_said_so_and_the_job_stays() {
    let folder = tempfile::tempdir().unwrap();
    let missing = folder.path().join("missing.ron");
    let answer = Arc::new(Answer(std::sync::Mutex::new(Some(missing))));
    let mut window = window_with(job(), None, &answer);
    let before = window.state().desk.job().clone();
    keys(&mut window, Modifiers::COMMAND, Key::O);
    wait_until(&mut window, "the failure is said", |app| app.desk.status.is_some());
    let status = window.state().desk.status.clone().unwrap();
    assert!(status.trouble);
    assert!(status.text.contains("missing.ron"), "{}", status.text);
    assert_eq!(*window.state().desk.job(), before);
}
