//! Nothing is lost: unsaved jobs are kept, offered after a window was killed, and gone after an orderly end; the job
//! before this one can be brought back.

use std::fs::{self, File};
use std::path::{Path, PathBuf};
use std::sync::Arc;
use std::time::{Duration, SystemTime};

use egui::accesskit::Role;
use egui::{Key, Modifiers, ViewportId};
use egui_kittest::Harness;
use egui_kittest::kittest::Queryable as _;
use midspan::app::MidspanApp;
use midspan::app::drafts::AFTER_S;
use midspan::app::files;

use crate::desk::{Answer, enter_into, job, keys, press, window, window_keeping};

const PLACE: &str = "Place from the jaw face";
const OPEN_AGAIN: &str = "Open it again: Test shaft";
/// Steps of the harness, a quarter of a second each, until a change is kept.
const STEPS: usize = (AFTER_S / 0.25) as usize + 2;

fn keeping(folder: &Path, path: Option<PathBuf>) -> Harness<'static, MidspanApp> {
    window_keeping(job(), path, &Arc::new(Answer::default()), Some(folder))
}

fn drafts(folder: &Path) -> Vec<PathBuf> {
    let all = fs::read_dir(folder).into_iter().flatten().map(|entry| entry.unwrap().path());
    all.filter(|path| path.extension().is_some_and(|ending| ending == "ron")).collect()
}

fn everything(folder: &Path) -> usize {
    fs::read_dir(folder).map_or(0, Iterator::count)
}

fn rest_z_mm(window: &Harness<'_, MidspanApp>) -> f64 {
    window.state().desk.job().setups[0].rests[0].z_mm
}

/// A window with a change that has been kept.
fn changed(folder: &Path, path: Option<PathBuf>) -> Harness<'static, MidspanApp> {
    let mut window = keeping(folder, path);
    enter_into(&mut window, PLACE, "222");
    window.run_steps(STEPS);
    window
}

#[test]
fn a_change_is_kept_a_short_while_later_and_the_window_rests_again() {
    let folder = tempfile::tempdir().unwrap();
    let mut window = keeping(folder.path(), None);
    window.run_steps(STEPS);
    assert_eq!(everything(folder.path()), 0, "nothing was changed");
    let wait = |window: &Harness<'_, MidspanApp>| window.output().viewport_output[&ViewportId::ROOT].repaint_delay;
    press(&mut window, "Take the steady away");
    // What is worked out beside the window asks for a frame of its own.
    while window.state().desk.is_working() {
        std::thread::yield_now();
    }
    window.run_steps(2);
    assert!(drafts(folder.path()).is_empty());
    let delay = wait(&window);
    assert!(delay > Duration::ZERO && delay.as_secs_f64() <= AFTER_S, "{delay:?}");
    window.run_steps(STEPS);
    let kept = drafts(folder.path());
    assert_eq!(kept.len(), 1);
    assert_eq!(files::open(&kept[0]).unwrap(), *window.state().desk.document(), "a draft is a job file");
    window.step();
    assert_eq!(wait(&window), Duration::MAX);
}

#[test]
fn a_job_left_by_a_killed_window_is_offered_and_opened_as_it_was() {
    let folder = tempfile::tempdir().unwrap();
    let users = tempfile::tempdir().unwrap();
    let path = users.path().join("shaft \"A\".ron");
    files::save(&job().into(), &path).unwrap();
    let on_disk = fs::read(&path).unwrap();
    // A window that only goes away has not ended orderly.
    drop(changed(folder.path(), Some(path.clone())));
    assert_eq!(fs::read(&path).unwrap(), on_disk, "the user's file is not touched");
    let draft = drafts(folder.path()).remove(0);
    let long_ago = SystemTime::now() - Duration::from_secs(3 * 3600);
    File::options().write(true).open(draft).unwrap().set_modified(long_ago).unwrap();

    let mut window = keeping(folder.path(), None);
    assert!(window.query_by_label("Test shaft, last changed 3 hours ago").is_some());
    assert!(window.query_by_label_contains(&path.display().to_string()).is_some(), "its file is named");
    assert_eq!(window.unnamed_widgets(), Vec::<String>::new());
    press(&mut window, OPEN_AGAIN);
    assert_eq!(rest_z_mm(&window), 222.0);
    assert!(window.state().desk.is_unsaved());
    assert!(!window.state().is_asking());
    window.run_steps(STEPS);
    assert_eq!(drafts(folder.path()).len(), 1, "it stays kept");

    keys(&mut window, Modifiers::COMMAND, Key::S);
    assert_eq!(files::open(&path).unwrap().job.setups[0].rests[0].z_mm, 222.0);
    assert_eq!(everything(folder.path()), 0, "saved in its own file, it need not be kept");
}

#[test]
fn the_offer_is_answered_by_enter() {
    let folder = tempfile::tempdir().unwrap();
    drop(changed(folder.path(), None));
    let mut window = keeping(folder.path(), None);
    keys(&mut window, Modifiers::NONE, Key::Enter);
    assert_eq!(rest_z_mm(&window), 222.0);
}

#[test]
fn what_is_put_off_is_offered_again_and_what_is_not_to_be_kept_is_gone() {
    let folder = tempfile::tempdir().unwrap();
    drop(changed(folder.path(), None));
    let mut window = keeping(folder.path(), None);
    keys(&mut window, Modifiers::NONE, Key::Escape);
    assert!(!window.state().is_asking());
    drop(window);
    let mut window = keeping(folder.path(), None);
    press(&mut window, "Do not keep it: Test shaft");
    assert!(!window.state().is_asking());
    assert_eq!(everything(folder.path()), 0);
    assert_ne!(rest_z_mm(&window), 222.0);
}

#[test]
fn the_job_of_a_window_that_is_alive_is_not_offered_to_another() {
    let folder = tempfile::tempdir().unwrap();
    let first = changed(folder.path(), None);
    let mut second = changed(folder.path(), None);
    assert!(!second.state().is_asking());
    assert_eq!(drafts(folder.path()).len(), 2);
    keys(&mut second, Modifiers::COMMAND, Key::N);
    press(&mut second, "Throw the changes away");
    press(&mut second, "Begin this job");
    drop(first);
    let third = keeping(folder.path(), None);
    assert!(third.query_by_label(OPEN_AGAIN).is_some());
}

#[test]
fn quitting_without_saving_keeps_nothing() {
    let folder = tempfile::tempdir().unwrap();
    let mut window = changed(folder.path(), None);
    keys(&mut window, Modifiers::COMMAND, Key::Q);
    press(&mut window, "Throw the changes away");
    window.run_steps(STEPS);
    assert_eq!(everything(folder.path()), 0);
}

#[test]
fn taking_the_change_back_keeps_nothing() {
    let folder = tempfile::tempdir().unwrap();
    let mut window = changed(folder.path(), None);
    keys(&mut window, Modifiers::COMMAND, Key::Z);
    assert!(!window.state().desk.is_unsaved());
    assert_eq!(everything(folder.path()), 0);
}

#[test]
fn where_nothing_can_be_kept_it_is_said_once() {
    let folder = tempfile::tempdir().unwrap();
    let no_folder = folder.path().join("a file");
    fs::write(&no_folder, "in the way").unwrap();
    let mut window = changed(&no_folder, None);
    let status = window.state().desk.status.clone().expect("it is said");
    assert!(status.trouble && status.text.contains("not kept"), "{status:?}");
    enter_into(&mut window, PLACE, "230");
    window.run_steps(STEPS);
    assert_eq!(window.state().desk.status, None);
}

#[test]
fn a_job_thrown_away_can_be_brought_back_with_its_history() {
    let mut window = window();
    enter_into(&mut window, PLACE, "222");
    keys(&mut window, Modifiers::COMMAND | Modifiers::SHIFT, Key::T);
    assert_eq!(rest_z_mm(&window), 222.0, "there is no job before the first");
    assert!(!window.state().is_asking());
    keys(&mut window, Modifiers::COMMAND, Key::N);
    press(&mut window, "Throw the changes away");
    press(&mut window, "Begin this job");
    assert_ne!(window.state().desk.job().title, "Test shaft");
    press(&mut window, "File");
    window.get_by(|node| node.role() == Role::Button && node.label().is_some_and(|l| l.contains("Bring back"))).click();
    window.run_steps(3);
    press(&mut window, "Throw the changes away");
    assert_eq!(rest_z_mm(&window), 222.0);
    assert!(window.state().desk.is_unsaved());
    keys(&mut window, Modifiers::COMMAND, Key::Z);
    assert_ne!(rest_z_mm(&window), 222.0, "its steps came back with it");
}
