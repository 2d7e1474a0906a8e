//! What the window does about the set-up sheet: shows it, saves it, hands it to be printed.

use std::path::PathBuf;
use std::sync::Arc;
use std::sync::mpsc::{Receiver, TryRecvError, channel};

use egui::Context;

use super::files::{self, Purpose};
use super::preview::{Asked, Preview};
use super::printing::{self, Printer};
use super::questions::Question;
use super::window::MidspanApp;
use crate::sheet::Choices;
use crate::sheet::save::{self, DOTS_PER_INCH, FileKind};

/// Said before files are written over.
const IS_THERE: &str = "There is a file of that name. Press Save again to replace it.";

/// The sheet in the window.
pub struct Sheets {
    /// Open while it is seen.
    pub preview: Option<Preview>,
    /// Of the preview before this one.
    choices: Option<Choices>,
    printer: Arc<dyn Printer>,
    printing: Option<Receiver<Result<String, String>>>,
}

/// Where a path to save to comes from.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum PathFrom {
    /// A dialog, which asks before it gives the name of a file that is there.
    Dialog,
    Typed {
        /// The user knows that it is there.
        replace: bool,
    },
}

impl Sheets {
    /// With something to print on.
    #[must_use]
    pub fn new(printer: Arc<dyn Printer>) -> Self {
        Self { preview: None, choices: None, printer, printing: None }
    }

    fn say(&mut self, said: Result<String, String>) {
        if let Some(preview) = &mut self.preview {
            let failed = said.is_err();
            preview.said = Some((said.unwrap_or_else(|sentence| sentence), failed));
        }
    }

    fn print(&mut self, wake: Context) {
        let Some(preview) = &self.preview else { return };
        let pdf = match preview.sheet.pdf() {
            Ok(pdf) => pdf,
            Err(error) => return self.say(Err(error.to_string())),
        };
        let (answer_to, answer) = channel();
        let printer = Arc::clone(&self.printer);
        let started = std::thread::Builder::new().name("print".to_owned()).spawn(move || {
            let done = printing::laid_aside(&pdf).and_then(|path| printer.hand_over(&path));
            // The window may be gone by now; then nobody needs the answer.
            let _ = answer_to.send(done);
            wake.request_repaint();
        });
        match started {
            Ok(_) => self.printing = Some(answer),
            Err(error) => self.say(Err(format!("The sheet cannot be printed: {error}"))),
        }
    }

    fn poll(&mut self) {
        let Some(printing) = &self.printing else { return };
        let said = match printing.try_recv() {
            Ok(said) => said,
            Err(TryRecvError::Empty) => return,
            Err(TryRecvError::Disconnected) => Err("Printing was broken off.".to_owned()),
        };
        self.printing = None;
        self.say(said);
    }
}

impl MidspanApp {
    /// Shows the sheet of the job on the desk.
    pub(super) fn show_sheet(&mut self) {
        let (job, results, view) = self.desk.parts();
        self.sheets.preview = Some(Preview::new(job, results, view.setup, self.sheets.choices.clone()));
    }

    /// Draws the sheet, if it is open, and does what is asked there.
    pub(super) fn sheets_ui(&mut self, ctx: &Context) {
        self.sheets.poll();
        let busy = self.files.is_waiting() || self.sheets.printing.is_some();
        let (job, results, _) = self.desk.parts();
        let Some(preview) = &mut self.sheets.preview else { return };
        match preview.show(ctx, job, results, busy) {
            None => {}
            Some(Asked::Save(kind)) => self.ask_for_file(ctx, Purpose::Sheet(kind)),
            Some(Asked::SaveByPath(kind)) => {
                let sentence = "The ending says what it is saved as: .pdf, .svg, .png or .csv (the tables alone).";
                self.ask_for_path(Purpose::Sheet(kind), sentence.to_owned(), None);
            }
            Some(Asked::Print) => self.sheets.print(ctx.clone()),
            Some(Asked::Close) => self.sheets.choices = self.sheets.preview.take().map(|preview| preview.choices),
        }
    }

    /// Saves the sheet, or asks again where that cannot be done yet.
    pub(super) fn save_sheet(&mut self, path: PathBuf, kind: FileKind, from: PathFrom) {
        let Some(preview) = &self.sheets.preview else { return };
        let path = files::with_ending(path, kind.ending());
        let paths = save::paths(&preview.sheet, &path);
        let known = match from {
            PathFrom::Dialog => paths[..] == [path.clone()],
            PathFrom::Typed { replace } => replace,
        };
        if !known && paths.iter().any(|path| path.exists()) {
            self.ask_again(kind, path, IS_THERE.to_owned(), true);
            return;
        }
        match (save::save(&preview.sheet, &path, DOTS_PER_INCH), from) {
            (Ok(written), _) => {
                let names: Vec<String> = written.iter().map(|path| path.display().to_string()).collect();
                self.sheets.say(Ok(format!("Saved to {}", names.join(", "))));
            }
            (Err(error), PathFrom::Dialog) => self.sheets.say(Err(error.to_string())),
            (Err(error), PathFrom::Typed { .. }) => self.ask_again(kind, path, error.to_string(), false),
        }
    }

    fn ask_again(&mut self, kind: FileKind, path: PathBuf, sentence: String, replace: bool) {
        let (purpose, text) = (Purpose::Sheet(kind), path.display().to_string());
        self.question = Some(Question::Path { purpose, text, sentence, replace, then: None });
    }
}
