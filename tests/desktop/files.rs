//! Saving, opening and the questions on the way.

use std::path::{Path, PathBuf};
use std::sync::Arc;

use egui::{Key, Modifiers};
use egui_kittest::Harness;
use egui_kittest::kittest::Queryable as _;
use midspan::app::MidspanApp;
use midspan::app::files::{self, NO_DIALOG};
use midspan::job::file;

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
    assert_eq!(files::open(&path).unwrap().job.setups[0].rests[0].z_mm, 222.0);
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
    assert_eq!(files::open(&path).unwrap().job.setups[0].rests[0].z_mm, 200.0);
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
    assert_eq!(files::open(&path).unwrap(), *window.state().desk.document());
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

#[test]
fn a_saved_file_stands_among_those_opened_before() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("shaft.ron");
    let mut window = window_with(job(), Some(path.clone()), &Arc::new(Answer::default()));
    enter_into(&mut window, PLACE, "200");
    keys(&mut window, Modifiers::COMMAND, Key::S);
    window.run_steps(1);
    assert_eq!(window.state().settings.recent, [std::path::absolute(&path).unwrap()]);
}

/// Drops files on the window, as the desktop does.
fn drop_on(window: &mut Harness<'_, MidspanApp>, paths: &[&Path]) {
    for path in paths {
        window.input_mut().dropped_files.push(Arc::new(Dropped((*path).to_owned())));
    }
    window.run_steps(3);
}

#[derive(Debug)]
struct Dropped(PathBuf);

impl egui::DroppedFile for Dropped {
    fn path(&self) -> &Path {
        &self.0
    }

    fn bytes(&self) -> Result<Vec<u8>, String> {
        std::fs::read(&self.0).map_err(|error| error.to_string())
    }
}

/// What is said at the foot of the window about something that went wrong.
fn trouble(window: &Harness<'_, MidspanApp>) -> String {
    let status = window.state().desk.status.clone().expect("something is said");
    assert!(status.trouble, "{status:?}");
    status.text
}

#[test]
fn a_file_dropped_on_the_window_is_opened_after_the_usual_question() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("pump.ron");
    let pump = midspan::job::examples::opening();
    files::save(&pump.clone().into(), &path).unwrap();
    let mut window = window();
    enter_into(&mut window, PLACE, "200");
    let changed = window.state().desk.job().clone();
    drop_on(&mut window, &[&path]);
    assert!(window.query_by_label("The job has unsaved changes").is_some());
    drop_on(&mut window, &[&path]);
    assert!(trouble(&window).contains("answer it"), "{}", trouble(&window));
    press(&mut window, "Go back");
    assert_eq!(*window.state().desk.job(), changed);
    drop_on(&mut window, &[&path]);
    press(&mut window, "Throw the changes away");
    assert_eq!(*window.state().desk.job(), pump);
    assert_eq!(window.state().desk.path.as_deref(), Some(path.as_path()));
}

#[test]
fn what_cannot_be_opened_is_told_when_dropped_and_nothing_is_asked() {
    let folder = tempfile::tempdir().unwrap();
    let path = |name: &str| folder.path().join(name);
    files::save(&job().into(), &path("one.ron")).unwrap();
    files::save(&job().into(), &path("two.ron")).unwrap();
    std::fs::write(path("list.csv"), "length;diameter\n100;20\n").unwrap();
    std::fs::write(path("picture.png"), [0x89, b'P', b'N', b'G', 0, 0xff]).unwrap();
    let newer = file::to_text(&job().into()).replacen("format: 3", "format: 77", 1);
    std::fs::write(path("newer.ron"), newer).unwrap();
    let mut window = window();
    enter_into(&mut window, PLACE, "200");
    let changed = window.state().desk.job().clone();
    for (names, says) in [
        (&["one.ron", "two.ron"][..], "drop one file"),
        (&[""], "that is a folder"),
        (&["list.csv"], "no job of Midspan"),
        (&["picture.png"], "no job of Midspan"),
        (&["newer.ron"], "made by a newer Midspan"),
        (&["gone.ron"], "moved, renamed or taken away"),
    ] {
        window.state_mut().desk.status = None;
        let paths: Vec<PathBuf> = names.iter().map(|name| path(name)).collect();
        drop_on(&mut window, &paths.iter().map(PathBuf::as_path).collect::<Vec<_>>());
        assert!(trouble(&window).contains(says), "{names:?}: {}", trouble(&window));
        assert!(!window.state().is_asking(), "{names:?}");
        assert_eq!(*window.state().desk.job(), changed, "{names:?}");
    }
}

#[test]
fn a_file_held_over_the_window_shows_what_a_drop_would_do() {
    let mut window = window();
    let texts = |window: &Harness<'_, MidspanApp>| {
        let shapes = &window.output().shapes;
        let text = |shape: &egui::epaint::ClippedShape| match &shape.shape {
            egui::Shape::Text(text) => Some(text.galley.text().to_owned()),
            _ => None,
        };
        shapes.iter().filter_map(text).collect::<Vec<_>>()
    };
    let words = "Drop the job file to open it.".to_owned();
    assert!(!texts(&window).contains(&words));
    window.input_mut().hovered_files = vec![egui::HoveredFile::default()];
    window.step();
    assert!(texts(&window).contains(&words));
}

#[test]
fn a_job_that_cannot_be_saved_stays_with_the_reason() {
    let folder = tempfile::tempdir().unwrap();
    let gone = folder.path().join("gone");
    std::fs::create_dir(&gone).unwrap();
    let guarded = folder.path().join("guarded.ron");
    files::save(&job().into(), &guarded).unwrap();
    let mut permissions = std::fs::metadata(&guarded).unwrap().permissions();
    permissions.set_readonly(true);
    std::fs::set_permissions(&guarded, permissions).unwrap();
    for (path, says) in [
        (gone.join("shaft.ron"), "its folder is not there"),
        (guarded, "write-protected; save the job under another name"),
        (folder.path().to_owned(), "that is a folder"),
        (folder.path().join("long".repeat(100)).with_extension("ron"), "too long"),
    ] {
        let _ = std::fs::remove_dir(&gone);
        let mut window = window_with(job(), Some(path.clone()), &Arc::new(Answer::default()));
        enter_into(&mut window, PLACE, "200");
        keys(&mut window, Modifiers::COMMAND, Key::N);
        press(&mut window, "Save first");
        assert!(trouble(&window).contains(says), "{}: {}", path.display(), trouble(&window));
        assert!(window.state().desk.is_unsaved());
        assert!(!window.state().is_asking(), "nothing goes on where the job is not saved");
    }
}

#[test]
fn a_file_the_dialog_did_not_ask_about_is_not_written_over() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("shaft.ron");
    let pump = midspan::job::examples::opening();
    files::save(&pump.clone().into(), &path).unwrap();
    let answer = Arc::new(Answer(std::sync::Mutex::new(Some(path.with_extension("")))));
    let mut window = window_with(job(), None, &answer);
    enter_into(&mut window, PLACE, "200");
    keys(&mut window, Modifiers::COMMAND, Key::S);
    wait_until(&mut window, "it is asked", |app| app.is_asking());
    window.run_steps(2);
    assert_eq!(files::open(&path).unwrap().job, pump);
    press(&mut window, "Save over it");
    assert_eq!(files::open(&path).unwrap(), *window.state().desk.document());
}

/// Two windows on one file, or another program: neither writes over the other's work unseen.
#[test]
fn a_file_written_by_somebody_else_since_is_not_written_over_unasked() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("shaft.ron");
    file::write(&path, &job().into()).unwrap();
    let mut window = window_with(job(), Some(path.clone()), &Arc::new(Answer::default()));
    enter_into(&mut window, PLACE, "200");
    let mut theirs = job();
    theirs.title = "Theirs".to_owned();
    file::write(&path, &theirs.into()).unwrap();
    keys(&mut window, Modifiers::COMMAND, Key::S);
    assert!(window.query_by_label_contains("changed by another program").is_some());
    press(&mut window, "Go back");
    assert_eq!(files::open(&path).unwrap().job.title, "Theirs");
    assert!(window.state().desk.is_unsaved());

    keys(&mut window, Modifiers::COMMAND, Key::S);
    press(&mut window, "Save over it");
    assert_eq!(files::open(&path).unwrap(), *window.state().desk.document());
    // One's own file is no stranger's, and one that was thrown away is written again.
    enter_into(&mut window, PLACE, "210");
    std::fs::remove_file(&path).unwrap();
    keys(&mut window, Modifiers::COMMAND, Key::S);
    assert!(!window.state().desk.is_unsaved());
    enter_into(&mut window, PLACE, "220");
    keys(&mut window, Modifiers::COMMAND, Key::S);
    assert_eq!(files::open(&path).unwrap().job.setups[0].rests[0].z_mm, 220.0);
}
