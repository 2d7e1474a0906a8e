//! What is pinned is a person's work like the job: saved with it, missed when unsaved, kept against a crash, undone.

use std::path::Path;
use std::sync::{Arc, Mutex};

use egui::{Key, Modifiers};
use egui_kittest::Harness;
use egui_kittest::kittest::Queryable as _;
use midspan::app::drafts::AFTER_S;
use midspan::app::{MidspanApp, files};
use midspan::job::{Document, Pinning, examples};

use crate::desk::{
    Answer, come_to_rest, enter_into, job, keys, press, wait_until, window, window_keeping, window_with,
};

/// Pins the test job as "as drawn", takes its steady away and calls that "bare"; the table is open.
fn pin_and_name(window: &mut Harness<'_, MidspanApp>) {
    keys(window, Modifiers::NONE, Key::P);
    press(window, "Take the steady away");
    keys(window, Modifiers::COMMAND, Key::K);
    come_to_rest(window);
    enter_into(window, "Name of A", "as drawn");
    enter_into(window, "Name of the present arrangement", "bare");
    come_to_rest(window);
}

fn document(window: &Harness<'_, MidspanApp>) -> Document {
    window.state().desk.document().clone()
}

/// What the table says, row after row.
fn told(window: &Harness<'_, MidspanApp>) -> Vec<(String, Vec<String>)> {
    let rows = &window.state().desk.results().compared.rows;
    rows.iter().map(|row| (row.name.to_owned(), row.cells.iter().map(|cell| cell.whole()).collect())).collect()
}

fn in_file(path: &Path) -> Harness<'static, MidspanApp> {
    window_with(job(), Some(path.to_owned()), &Arc::new(Answer::default()))
}

#[test]
fn what_is_pinned_and_named_is_there_with_its_figures_in_another_window() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("shaft.ron");
    let mut window = in_file(&path);
    pin_and_name(&mut window);
    keys(&mut window, Modifiers::COMMAND, Key::S);
    assert!(!window.state().desk.is_unsaved());

    let answer = Arc::new(Answer(Mutex::new(Some(path.clone()))));
    let mut other = window_with(examples::opening(), None, &answer);
    keys(&mut other, Modifiers::COMMAND, Key::O);
    wait_until(&mut other, "it is opened", |app| app.desk.path.is_some());
    assert_eq!(document(&other), document(&window));
    assert!(!other.state().desk.is_unsaved() && !other.state().desk.history().can_undo());
    come_to_rest(&mut other);
    let pinned = &other.state().desk.results().compared.pinned;
    assert!(pinned.len() == 1 && pinned[0].told.is_some() && pinned[0].name.shown() == "as drawn");
    keys(&mut other, Modifiers::COMMAND, Key::K);
    come_to_rest(&mut other);
    assert_eq!(told(&other), told(&window));
    assert!(told(&other).iter().any(|(name, cells)| name == "Steady rests" && cells[1].contains("mm")));

    keys(&mut other, Modifiers::COMMAND, Key::Num1);
    assert_eq!(other.state().desk.job().setups, job().setups, "what was pinned is put in place");
    assert_eq!(document(&other).pins.present_name, "as drawn");
}

#[test]
fn a_pin_or_a_name_alone_is_missed_until_it_is_saved_or_taken_back() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("shaft.ron");
    files::save(&job().into(), &path).unwrap();
    let mut window = in_file(&path);
    keys(&mut window, Modifiers::NONE, Key::P);
    assert!(window.state().desk.is_unsaved());
    keys(&mut window, Modifiers::COMMAND, Key::N);
    assert!(window.query_by_label("The job has unsaved changes").is_some());
    press(&mut window, "Go back");
    keys(&mut window, Modifiers::COMMAND, Key::Z);
    assert!(!window.state().desk.is_unsaved() && window.state().desk.pins().is_empty());
    keys(&mut window, Modifiers::COMMAND, Key::Y);
    keys(&mut window, Modifiers::COMMAND, Key::S);
    assert!(!window.state().desk.is_unsaved());
    let results = window.state().desk.results().compute_ms;
    keys(&mut window, Modifiers::COMMAND, Key::K);
    enter_into(&mut window, "Name of A", "as drawn");
    assert!(window.state().desk.is_unsaved());
    assert_eq!(window.state().desk.results().compute_ms, results, "a name computes nothing again");
    keys(&mut window, Modifiers::COMMAND, Key::S);
    assert_eq!(files::open(&path).unwrap(), document(&window));
}

#[test]
fn what_a_killed_window_had_pinned_is_offered_with_its_job() {
    let folder = tempfile::tempdir().unwrap();
    let keeping = || window_keeping(job(), None, &Arc::new(Answer::default()), Some(folder.path()));
    let mut window = keeping();
    keys(&mut window, Modifiers::NONE, Key::P);
    let before = document(&window);
    // Nothing else is changed: the pin alone is worth keeping.
    window.run_steps((AFTER_S / 0.25) as usize + 2);
    drop(window);

    let mut window = keeping();
    press(&mut window, "Open it again: Test shaft");
    assert_eq!(document(&window), before);
    assert!(window.state().desk.is_unsaved());
    come_to_rest(&mut window);
    assert!(window.state().desk.results().compared.pinned[0].told.is_some(), "it is worked out");
}

/// Another window pinned something and saved: that is not written over unseen.
#[test]
fn pins_saved_by_another_window_are_not_written_over_unasked() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("shaft.ron");
    files::save(&job().into(), &path).unwrap();
    let mut window = in_file(&path);
    enter_into(&mut window, "Place from the jaw face", "200");
    let mut theirs: Document = job().into();
    theirs.pin(&Pinning::Pin).unwrap();
    files::save(&theirs, &path).unwrap();
    keys(&mut window, Modifiers::COMMAND, Key::S);
    assert!(window.query_by_label_contains("changed by another program").is_some());
    assert_eq!(files::open(&path).unwrap(), theirs);
}

#[test]
fn a_name_that_cannot_be_is_refused_in_words() {
    let mut window = window();
    keys(&mut window, Modifiers::NONE, Key::P);
    keys(&mut window, Modifiers::COMMAND, Key::K);
    let before = document(&window);
    enter_into(&mut window, "Name of A", &"long ".repeat(300));
    assert_eq!(document(&window), before);
    let status = window.state().desk.status.clone().expect("it is said");
    assert!(status.trouble && status.text.contains("arrangement A, name: is too long"), "{status:?}");
}
