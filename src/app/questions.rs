//! What the window does about files, and the questions it asks on the way: unsaved changes, a path to type, the form
//! of a new job. Questions are drawn by the window itself: a desktop without dialogs still gets them.

use std::path::{Path, PathBuf};

use egui::{Context, Id, Key, Modal, TextEdit, Ui, ViewportCommand};

use super::desk::Desk;
use super::entry::FIELD_HEIGHT;
use super::files::{self, Picked, Purpose};
use super::gallery::{Chosen, Gallery};
use super::key_list::key_list_ui;
use super::new_job::{NewJobForm, Outcome};
use super::plan::{self, PlanWindow};
use super::recovery::{self, Told};
use super::sheets::PathFrom;
use super::window::MidspanApp;
use super::{Action, Commands, theme};
use crate::advice::words::capital;
use crate::job::{Document, examples};
use crate::sheet::save::FileKind;

/// What the user wants to do that puts another job on the desk, or none.
#[derive(Clone, Debug, PartialEq)]
pub enum Next {
    NewForm,
    OpenDialog,
    TypePath,
    OpenFile(PathBuf),
    Example(usize),
    LastJob,
    Quit,
}

/// A question in the way.
#[derive(Clone, Debug, PartialEq)]
pub enum Question {
    /// The job has unsaved changes; afterwards `Next`.
    Unsaved(Next),
    /// A path is to be typed.
    Path {
        purpose: Purpose,
        text: String,
        /// Why it is asked for, or what was wrong with the last one.
        sentence: String,
        /// The text names a file that is there, and the user was told so.
        replace: bool,
        /// What comes after saving.
        then: Option<Next>,
    },
}

/// Said before a file is written over that the user did not choose.
const ASK_TO_REPLACE: &str = "There is a file of that name. Press Save again to replace it.";

/// Said before a file is written over that somebody else wrote.
const CHANGED_OUTSIDE: &str = "The file was changed by another program, or in another window, since it was opened here. \
                               Save over it, or save under another name and look at both.";

enum Answer {
    Save,
    ThrowAway,
    Back,
    Path(PathBuf),
}

impl MidspanApp {
    /// True while a question or form covers the panels.
    #[must_use]
    pub fn is_asking(&self) -> bool {
        self.question.is_some()
            || self.new_job.is_some()
            || self.plan.is_some()
            || self.sheets.preview.is_some()
            || self.gallery.is_some()
            || self.keys_shown
            || !self.found.is_empty()
    }

    /// A plan that was asked for has come, or why there is none.
    #[must_use]
    pub fn plan_is_there(&self) -> bool {
        self.plan.as_ref().is_some_and(PlanWindow::has_answer)
    }

    /// Does an action that the desk alone cannot do.
    pub(super) fn act(&mut self, ctx: &Context, action: Action) {
        match action {
            Action::NewJob => self.go(ctx, Next::NewForm),
            Action::NewWindow => match self.windows.open() {
                Ok(()) => self.desk.say("Another window opens, with a job of its own."),
                Err(sentence) => self.desk.warn(sentence),
            },
            Action::SaveComparison => self.ask_to_save_comparison(ctx),
            Action::Open => self.go(ctx, Next::OpenDialog),
            Action::OpenByPath => self.go(ctx, Next::TypePath),
            Action::Gallery => self.gallery = Some(Gallery::new()),
            Action::KeyList => self.keys_shown = true,
            Action::Recent(index) => {
                if let Some(path) = self.files.recent.get(index).cloned() {
                    self.go(ctx, Next::OpenFile(path));
                }
            }
            Action::LastJob if self.last.is_none() => self.desk.say("There is no job before this one."),
            Action::LastJob => self.go(ctx, Next::LastJob),
            Action::Quit => self.go(ctx, Next::Quit),
            Action::Save => self.save(ctx, None),
            Action::SaveAs => self.save_as(ctx, None),
            Action::Plan => self.plan = Some(PlanWindow::open(self.desk.job(), ctx)),
            Action::Sheet => self.show_sheet(),
            Action::LargerType => self.change_zoom(ctx, 0.1),
            Action::SmallerType => self.change_zoom(ctx, -0.1),
            Action::UsualType => self.settings.zoom = 1.0,
            Action::Undo
            | Action::Redo
            | Action::Fit
            | Action::Pin
            | Action::Swap(_)
            | Action::Compare
            | Action::Why(_)
            | Action::DeleteSelected
            | Action::CancelGesture
            | Action::Play
            | Action::StepOn
            | Action::StepBack
            | Action::EndPlay => {}
        }
    }

    /// Goes on to `next`, after asking about unsaved changes where there are any. A file that cannot be opened is no
    /// reason to ask.
    pub(super) fn go(&mut self, ctx: &Context, next: Next) {
        let fails = |next: &Next| matches!(next, Next::OpenFile(path) if files::open(path).is_err());
        if self.desk.is_unsaved() && !fails(&next) {
            self.question = Some(Question::Unsaved(next));
        } else {
            self.go_on(ctx, next);
        }
    }

    fn go_on(&mut self, ctx: &Context, next: Next) {
        match next {
            Next::NewForm => self.new_job = Some(NewJobForm::new(self.desk.job().units)),
            Next::OpenDialog => self.ask_for_file(ctx, Purpose::Open),
            Next::TypePath => self.ask_for_path(Purpose::Open, "Where is the job file?".to_owned(), None),
            Next::OpenFile(path) => self.open_file(&path),
            Next::Example(index) => {
                let Some(example) = examples::EXAMPLES.get(index) else { return };
                match examples::load(example.key) {
                    Ok(job) => self.lay_out(job, None),
                    Err(error) => self.desk.warn(error.to_string()),
                }
            }
            Next::LastJob => {
                if let Some(last) = &mut self.last {
                    std::mem::swap(&mut self.desk, last);
                    self.desk.say(format!("Brought back {}.", recovery::title(self.desk.job())));
                }
            }
            Next::Quit => {
                self.quitting = true;
                self.drafts.let_go();
                ctx.send_viewport_cmd(ViewportCommand::Close);
            }
        }
    }

    /// Puts another job on the desk; the one before it can be brought back.
    fn lay_out(&mut self, document: impl Into<Document>, path: Option<PathBuf>) {
        let desk = Desk::new(document, path).waking(self.desk.wake().clone());
        self.last = Some(Box::new(std::mem::replace(&mut self.desk, desk)));
    }

    /// Keeps the job while it is unsaved, a short while after a change.
    pub(super) fn keep_unsaved(&mut self, ctx: &Context) {
        if self.quitting {
            return;
        }
        match self.drafts.keep_up(&self.desk, ctx.input(|input| input.time)) {
            Ok(Some(wait)) => ctx.request_repaint_after(wait),
            Ok(None) => {}
            Err(sentence) => self.desk.warn(sentence),
        }
    }

    /// Asks about jobs left unsaved, and does as it is told.
    fn recover(&mut self, ctx: &Context) {
        let Some(told) = recovery::recovery_ui(ctx, &self.found) else { return };
        match told {
            Told::Later => self.found.clear(),
            Told::DoNotKeep(index) => self.found.remove(index).take_away(),
            Told::OpenAgain(index) => {
                let found = self.found.remove(index);
                self.found.clear();
                self.lay_out(found.document.clone(), found.of_file.clone());
                self.desk.mark_new();
                self.desk.say("Open again as it was; it is not saved yet.");
                self.drafts.adopt(found);
            }
        }
    }

    fn open_file(&mut self, path: &Path) {
        match files::open(path) {
            Ok(document) => self.lay_out_file(document, path),
            Err(sentence) => {
                self.files.recent.retain(|known| known != path || path.exists());
                self.desk.warn(sentence);
            }
        }
    }

    fn lay_out_file(&mut self, document: Document, path: &Path) {
        self.files.remember(path);
        self.lay_out(document, Some(path.to_owned()));
        self.desk.say(format!("Opened {}", path.display()));
    }

    fn save(&mut self, ctx: &Context, then: Option<Next>) {
        match self.desk.path.clone() {
            Some(path) if self.was_changed_outside(&path) => {
                let (purpose, text) = (Purpose::Save, path.display().to_string());
                let sentence = CHANGED_OUTSIDE.to_owned();
                self.question = Some(Question::Path { purpose, text, sentence, replace: true, then });
            }
            Some(path) => self.save_to(ctx, &path, then),
            None => self.save_as(ctx, then),
        }
    }

    /// The file no longer holds what was opened from it or last saved to it. One that is gone is simply written again.
    fn was_changed_outside(&self, path: &Path) -> bool {
        let saved = self.desk.saved();
        path.is_file() && saved.is_some() && files::open(path).ok().as_ref() != saved
    }

    fn save_as(&mut self, ctx: &Context, then: Option<Next>) {
        self.after_save = then;
        self.ask_for_file(ctx, Purpose::Save);
    }

    fn save_to(&mut self, ctx: &Context, path: &Path, then: Option<Next>) {
        if let Err(sentence) = self.write(ctx, path, then) {
            self.desk.warn(sentence);
        }
    }

    /// Writes the job and goes on to `then`; gives back the sentence where it cannot be written.
    fn write(&mut self, ctx: &Context, path: &Path, then: Option<Next>) -> Result<(), String> {
        files::save(self.desk.document(), path)?;
        self.desk.mark_saved(path.to_owned());
        self.files.remember(path);
        self.desk.say(format!("Saved to {}", path.display()));
        if let Some(next) = then {
            self.go_on(ctx, next);
        }
        Ok(())
    }

    pub(super) fn ask_for_file(&mut self, ctx: &Context, purpose: Purpose) {
        let folder = self.desk.path.as_ref().and_then(|path| path.parent()).map(Path::to_owned);
        let name = self.proposed_name(purpose);
        let wake = ctx.clone();
        if self.files.ask(purpose, folder, name, move || wake.request_repaint()).is_err() {
            let then = self.after_save.take();
            self.ask_for_path(purpose, files::NO_DIALOG.to_owned(), then);
        }
    }

    pub(super) fn ask_for_path(&mut self, purpose: Purpose, sentence: String, then: Option<Next>) {
        let folder = self.desk.path.as_ref().and_then(|path| path.parent()).map(Path::to_owned);
        let folder = folder.or_else(|| std::env::current_dir().ok()).unwrap_or_default();
        let text = match purpose {
            Purpose::Open => folder.join("").display().to_string(),
            Purpose::Save => folder.join(files::proposed_name(&self.desk.job().title, "ron")).display().to_string(),
            Purpose::Sheet(_) | Purpose::Comparison => folder.join(self.proposed_name(purpose)).display().to_string(),
        };
        self.question = Some(Question::Path { purpose, text, sentence, replace: false, then });
    }

    /// The name of the file the job stands in, or one made of its title.
    fn proposed_name(&self, purpose: Purpose) -> String {
        let ending = match purpose {
            Purpose::Open | Purpose::Save => "ron",
            Purpose::Sheet(kind) => kind.ending(),
            Purpose::Comparison => FileKind::Csv.ending(),
        };
        let own = self.desk.path.as_ref().filter(|path| path.file_name().is_some()).map(|path| match purpose {
            Purpose::Sheet(_) | Purpose::Comparison => path.with_extension(ending),
            Purpose::Open | Purpose::Save => path.clone(),
        });
        let name = own.as_deref().and_then(Path::file_name).map(|name| name.to_string_lossy().into_owned());
        name.unwrap_or_else(|| files::proposed_name(&self.desk.job().title, ending))
    }

    /// Takes the answer of a file dialog, if one has come.
    pub(super) fn poll_files(&mut self, ctx: &Context) {
        match self.files.poll() {
            Some(Picked::Path(Purpose::Open, path)) => self.open_file(&path),
            Some(Picked::Path(Purpose::Save, path)) => {
                let then = self.after_save.take();
                let named = files::with_ending(path.clone(), "ron");
                if named != path && named.exists() {
                    // The dialog asked about another name than the one with the ending.
                    let (purpose, text) = (Purpose::Save, named.display().to_string());
                    let sentence = ASK_TO_REPLACE.to_owned();
                    self.question = Some(Question::Path { purpose, text, sentence, replace: true, then });
                } else {
                    self.save_to(ctx, &named, then);
                }
            }
            Some(Picked::Path(Purpose::Sheet(kind), path)) => self.save_sheet(path, kind, PathFrom::Dialog),
            Some(Picked::Path(Purpose::Comparison, path)) => self.save_comparison(path, PathFrom::Dialog),
            Some(Picked::Cancelled(_)) => self.after_save = None,
            Some(Picked::NoDialog(purpose)) => {
                let then = self.after_save.take();
                self.ask_for_path(purpose, files::NO_DIALOG.to_owned(), then);
            }
            None => {}
        }
    }

    /// Keeps the window from closing over unsaved changes.
    pub(super) fn guard_closing(&mut self, ctx: &Context) {
        if ctx.input(|input| input.viewport().close_requested()) && !self.quitting && self.desk.is_unsaved() {
            ctx.send_viewport_cmd(ViewportCommand::CancelClose);
            self.question = Some(Question::Unsaved(Next::Quit));
        }
    }

    /// Draws the plan, if it is asked for; taking it is an edit like any other.
    fn plan_ui(&mut self, ctx: &Context, out: &mut Commands) {
        let Some(window) = &mut self.plan else { return };
        match window.show(ctx) {
            plan::Outcome::Open => return,
            plan::Outcome::Back => {}
            plan::Outcome::Take(edit) => out.edits.push(*edit),
        }
        self.plan = None;
    }

    /// Draws the question in the way, if there is one, and acts on the answer.
    pub(super) fn asking_ui(&mut self, ctx: &Context, out: &mut Commands) {
        if let Some(form) = &mut self.new_job {
            match form.show(ctx) {
                Outcome::Open => {}
                Outcome::Back => self.new_job = None,
                Outcome::Job(job) => {
                    self.new_job = None;
                    self.lay_out(*job, None);
                    self.desk.mark_new();
                }
            }
        }
        self.plan_ui(ctx, out);
        if self.keys_shown {
            self.keys_shown = !key_list_ui(ctx);
        }
        if let Some(gallery) = &mut self.gallery {
            match gallery.show(ctx) {
                Chosen::Nothing => {}
                Chosen::Back => self.gallery = None,
                Chosen::Example(index) => {
                    self.gallery = None;
                    self.go(ctx, Next::Example(index));
                }
            }
        }
        if !self.found.is_empty() {
            self.recover(ctx);
        }
        let Some(mut question) = self.question.take() else { return };
        let answer = match &mut question {
            Question::Unsaved(next) => unsaved_ui(ctx, &self.desk, next),
            Question::Path { purpose, text, sentence, replace, .. } => path_ui(ctx, *purpose, text, sentence, *replace),
        };
        match (question, answer) {
            (question, None) => self.question = Some(question),
            (_, Some(Answer::Back)) => {}
            (Question::Unsaved(next), Some(Answer::Save)) => self.save(ctx, Some(next)),
            (Question::Unsaved(next), Some(Answer::ThrowAway)) => self.go_on(ctx, next),
            (Question::Path { purpose: Purpose::Open, text, then, .. }, Some(Answer::Path(path))) => {
                match files::open(&path) {
                    Ok(document) => self.lay_out_file(document, &path),
                    Err(sentence) => {
                        self.question =
                            Some(Question::Path { purpose: Purpose::Open, text, sentence, replace: false, then });
                    }
                }
            }
            (Question::Path { purpose: Purpose::Save, text, replace, then, .. }, Some(Answer::Path(path))) => {
                let path = files::with_ending(path, "ron");
                let known = self.desk.path.as_ref() == Some(&path);
                if path.exists() && !replace && !known {
                    let sentence = ASK_TO_REPLACE.to_owned();
                    self.question =
                        Some(Question::Path { purpose: Purpose::Save, text, sentence, replace: true, then });
                } else if let Err(sentence) = self.write(ctx, &path, then.clone()) {
                    self.question =
                        Some(Question::Path { purpose: Purpose::Save, text, sentence, replace: false, then });
                }
            }
            (Question::Path { purpose: Purpose::Sheet(kind), replace, .. }, Some(Answer::Path(path))) => {
                self.save_sheet(path, kind, PathFrom::Typed { replace });
            }
            (Question::Path { purpose: Purpose::Comparison, replace, .. }, Some(Answer::Path(path))) => {
                self.save_comparison(path, PathFrom::Typed { replace });
            }
            (question, Some(_)) => self.question = Some(question),
        }
    }
}

fn unsaved_ui(ctx: &Context, desk: &Desk, next: &Next) -> Option<Answer> {
    let modal = Modal::new(Id::unique("unsaved changes")).frame(theme::question_frame(ctx)).show(ctx, |ui| {
        ui.set_max_width(430.0);
        ui.heading("The job has unsaved changes");
        let name = if desk.job().title.is_empty() { "This job" } else { desk.job().title.as_str() };
        let before = match next {
            Next::NewForm => "a new job is begun",
            Next::Quit => "the window closes",
            _ => "another job is opened",
        };
        ui.label(format!("{name} was changed since it was last saved. Save it before {before}?"));
        if *next != Next::Quit {
            ui.weak("Unsaved, it can be brought back from the File menu until yet another job is opened.");
        }
        ui.add_space(6.0);
        ui.horizontal(|ui| {
            if ui.button("Save first").clicked() {
                return Some(Answer::Save);
            }
            if ui.button("Throw the changes away").clicked() {
                return Some(Answer::ThrowAway);
            }
            ui.button("Go back").clicked().then_some(Answer::Back)
        })
        .inner
    });
    let closed = modal.should_close();
    modal.inner.or(closed.then_some(Answer::Back))
}

fn path_ui(ctx: &Context, purpose: Purpose, text: &mut String, sentence: &str, replace: bool) -> Option<Answer> {
    let id = Id::unique("path typed");
    let modal = Modal::new(Id::unique("type a path")).frame(theme::question_frame(ctx)).show(ctx, |ui| {
        ui.set_width(560.0_f32.min(ui.ctx().content_rect().width() - 60.0));
        ui.heading(match purpose {
            Purpose::Open => "Open a job",
            Purpose::Save => "Save the job",
            Purpose::Sheet(_) => "Save the sheet",
            Purpose::Comparison => "Save the table",
        });
        ui.label(capital(sentence));
        let label = ui.label("Path of the file").id;
        let field =
            TextEdit::singleline(text).id(id).desired_width(f32::INFINITY).min_size(egui::vec2(0.0, FIELD_HEIGHT));
        let response = ui.add(field.cursor_at_end(true)).labelled_by(label);
        let entered = response.lost_focus() && ui.input(|input| input.key_pressed(Key::Enter));
        if !response.has_focus() && !entered && ui.memory(|memory| memory.focused().is_none()) {
            response.request_focus();
        }
        if purpose == Purpose::Open {
            listing_ui(ui, text);
        }
        ui.horizontal(|ui| {
            let words = match purpose {
                Purpose::Open => "Open",
                Purpose::Save | Purpose::Sheet(_) | Purpose::Comparison if replace => "Save over it",
                Purpose::Save | Purpose::Sheet(_) | Purpose::Comparison => "Save",
            };
            let path = files::typed_path(text);
            if (ui.button(words).clicked() || entered) && !text.trim().is_empty() {
                return Some(Answer::Path(path));
            }
            ui.button("Go back").clicked().then_some(Answer::Back)
        })
        .inner
    });
    let closed = modal.should_close();
    modal.inner.or(closed.then_some(Answer::Back))
}

/// The folders and job files beside what is typed, to be pressed instead of typed.
fn listing_ui(ui: &mut Ui, text: &mut String) {
    let path = files::typed_path(text);
    let folder = if path.is_dir() { path } else { path.parent().map(Path::to_owned).unwrap_or_default() };
    let entries = files::jobs_and_folders(&folder);
    egui::ScrollArea::vertical().max_height(220.0).auto_shrink([false, true]).show(ui, |ui| {
        for entry in entries {
            let is_folder = entry.is_dir();
            let name = entry.file_name().map(|name| name.to_string_lossy().into_owned()).unwrap_or_default();
            let shown = if is_folder { format!("{name}{}", std::path::MAIN_SEPARATOR) } else { name };
            if ui.selectable_label(false, shown).clicked() {
                let entry = if is_folder { entry.join("") } else { entry };
                *text = entry.display().to_string();
            }
        }
    });
}
