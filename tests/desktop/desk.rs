//! A window to test: a known job on the desk, dialogs that answer at once with what the test says.

use std::path::{Path, PathBuf};
use std::sync::{Arc, Mutex};

use egui::accesskit::Role;
use egui_kittest::Harness;
use egui_kittest::kittest::Queryable as _;
use midspan::app::files::FilePicker;
use midspan::app::new_job::NewJobForm;
use midspan::app::{MidspanApp, Settings};
use midspan::job::{Document, Job, Units};
use midspan::sheet::save::FileKind;

/// Answers every question for a file with the path it was given; with none it acts as a desktop without dialogs.
#[derive(Debug, Default)]
pub struct Answer(pub Mutex<Option<PathBuf>>);

impl FilePicker for Answer {
    fn pick_open(&self, _folder: Option<&Path>) -> Option<PathBuf> {
        self.0.lock().unwrap().clone()
    }

    fn pick_save(&self, _folder: Option<&Path>, _name: &str) -> Option<PathBuf> {
        self.0.lock().unwrap().clone()
    }

    fn pick_sheet(&self, _folder: Option<&Path>, _name: &str, _kind: FileKind) -> Option<PathBuf> {
        self.0.lock().unwrap().clone()
    }
}

/// A shaft of 600 mm in a chuck with a centre and one steady rest, in metric.
pub fn job() -> Job {
    let mut form = NewJobForm::new(Units::Metric);
    form.title = "Test shaft".to_owned();
    form.steady = true;
    form.build().expect("the form starts with a shaft that can be")
}

/// The window with that job, 1366 x 768 points.
pub fn window() -> Harness<'static, MidspanApp> {
    window_with(job(), None, &Arc::new(Answer::default()))
}

/// The window with `job`, saved in `path` where one is given.
pub fn window_with(
    job: impl Into<Document>,
    path: Option<PathBuf>,
    answer: &Arc<Answer>,
) -> Harness<'static, MidspanApp> {
    window_keeping(job, path, answer, None)
}

/// The same, unsaved jobs being kept in the folder where one is given.
pub fn window_keeping(
    job: impl Into<Document>,
    path: Option<PathBuf>,
    answer: &Arc<Answer>,
    folder: Option<&Path>,
) -> Harness<'static, MidspanApp> {
    let (document, folder) = (job.into(), folder.map(Path::to_owned));
    let picker: Arc<dyn FilePicker> = Arc::clone(answer) as Arc<dyn FilePicker>;
    let mut harness = Harness::builder()
        .with_size([1366.0, 768.0])
        .with_os(egui::os::OperatingSystem::Nix)
        .with_theme(egui::Theme::Light)
        .build_eframe(move |creation| {
            let app = MidspanApp::with_picker(&creation.egui_ctx, document, path, Settings::default(), picker);
            match folder {
                Some(folder) => app.keeping_unsaved(folder),
                None => app,
            }
        });
    harness.run_steps(4);
    harness
}

/// The window with a job that stands in no file, at rest.
pub fn shown(job: Job) -> Harness<'static, MidspanApp> {
    let mut window = window_with(job, None, &Arc::new(Answer::default()));
    window.run_steps(3);
    window
}

/// How many things in the window say these words to a screen reader.
pub fn says(window: &Harness<'_, MidspanApp>, words: &str) -> usize {
    window.query_all_by_label_contains(words).count()
}

/// Waits for what is worked out beside the window, and shows it.
pub fn come_to_rest(window: &mut Harness<'_, MidspanApp>) {
    window.run_steps(2);
    wait_until(window, "all is worked out", |app| !app.desk.is_working());
    window.run_steps(3);
}

/// Types `text` into the field called `label`, over what stands there, without entering it.
pub fn type_into(harness: &mut Harness<'_, MidspanApp>, label: &str, text: &str) {
    harness.get_by_role_and_label(Role::TextInput, label).focus();
    harness.run_steps(2);
    harness.get_by_role_and_label(Role::TextInput, label).type_text(text);
    harness.run_steps(2);
}

/// Types `text` into the field called `label` and presses Enter.
pub fn enter_into(harness: &mut Harness<'_, MidspanApp>, label: &str, text: &str) {
    type_into(harness, label, text);
    harness.key_press(egui::Key::Enter);
    harness.run_steps(3);
}

/// Presses the button of that name.
pub fn press(harness: &mut Harness<'_, MidspanApp>, label: &str) {
    harness.get_by_role_and_label(Role::Button, label).click();
    harness.run_steps(3);
}

/// Selects what details are shown of, as the bench, the strip and the menu do.
pub fn select(harness: &mut Harness<'_, MidspanApp>, selected: midspan::app::Selected) {
    harness.state_mut().desk.view.selected = selected;
    harness.run_steps(3);
}

/// Chooses one of several in the list called `label`.
pub fn choose(harness: &mut Harness<'_, MidspanApp>, label: &str, option: &str) {
    harness.get_by_role_and_label(Role::ComboBox, label).click_accesskit();
    harness.run_steps(3);
    harness.get_by_role_and_label(Role::Button, option).scroll_to_me();
    harness.run_steps(8);
    harness.get_by_role_and_label(Role::Button, option).click();
    harness.run_steps(4);
}

/// Ticks, or clears, the box of that name, wherever it is scrolled to.
pub fn tick(harness: &mut Harness<'_, MidspanApp>, label: &str) {
    harness.get_by_role_and_label(Role::CheckBox, label).click_accesskit();
    harness.run_steps(3);
}

/// Opens, or shuts, the fold of that title, wherever it is scrolled to.
pub fn unfold(harness: &mut Harness<'_, MidspanApp>, title: &str) {
    harness.get_by_role_and_label(Role::DisclosureTriangle, title).click_accesskit();
    harness.run_steps(12);
}

/// There is a field to type into called `label`.
pub fn has_field(harness: &Harness<'_, MidspanApp>, label: &str) -> bool {
    harness.query_by_role_and_label(Role::TextInput, label).is_some()
}

/// Presses a key with modifiers.
pub fn keys(harness: &mut Harness<'_, MidspanApp>, modifiers: egui::Modifiers, key: egui::Key) {
    harness.key_press_modifiers(modifiers, key);
    harness.run_steps(3);
}

/// What stands in the field called `label`.
pub fn text_in(harness: &Harness<'_, MidspanApp>, label: &str) -> String {
    harness.get_by_role_and_label(Role::TextInput, label).value().unwrap_or_default()
}

/// Steps until what `done` waits for has come, as it does from a thread; fails after five seconds.
pub fn wait_until(harness: &mut Harness<'_, MidspanApp>, what: &str, done: impl Fn(&MidspanApp) -> bool) {
    for _ in 0..500 {
        harness.run_steps(1);
        if done(harness.state()) {
            return;
        }
        std::thread::sleep(std::time::Duration::from_millis(10));
    }
    panic!("waited in vain until {what}");
}
