//! Opening and saving: the desktop's dialogs on a thread of their own, so that the window never waits; a path entry
//! where the desktop has none; and the files opened before.
//!
//! A dialog that comes back with nothing at once was never shown: there is no error to tell that from "cancelled",
//! so the time decides.

use std::path::{Path, PathBuf};
use std::sync::Arc;
use std::sync::mpsc::{Receiver, TryRecvError, channel};
use std::time::{Duration, Instant};

use crate::job::{Document, file};
use crate::sheet::save::FileKind;

/// Faster than any person can cancel: no dialog was shown.
const NOT_SHOWN: Duration = Duration::from_millis(150);

/// Files kept in the menu of those opened before.
const MAX_RECENT: usize = 8;

/// What job files are called in dialogs.
const JOB: &str = "Midspan job";

/// Said where the desktop has no dialog.
pub const NO_DIALOG: &str = "There is no file dialog on this desktop: type where the file is.";

/// Asks the user for a file. Called on a thread of its own, may take as long as it likes.
pub trait FilePicker: Send + Sync {
    /// A job file to open.
    fn pick_open(&self, folder: Option<&Path>) -> Option<PathBuf>;
    /// Where to save the job, `name` being proposed.
    fn pick_save(&self, folder: Option<&Path>, name: &str) -> Option<PathBuf>;
    /// Where to save the set-up sheet, `name` being proposed.
    fn pick_sheet(&self, folder: Option<&Path>, name: &str, kind: FileKind) -> Option<PathBuf>;
}

/// The dialogs of the desktop.
#[derive(Clone, Copy, Debug, Default)]
pub struct DesktopPicker;

impl DesktopPicker {
    fn dialog(folder: Option<&Path>, what: &str, ending: &str) -> rfd::FileDialog {
        let dialog = rfd::FileDialog::new().add_filter(what, &[ending]).add_filter("All files", &["*"]);
        match folder {
            Some(folder) => dialog.set_directory(folder),
            None => dialog,
        }
    }
}

impl FilePicker for DesktopPicker {
    fn pick_open(&self, folder: Option<&Path>) -> Option<PathBuf> {
        Self::dialog(folder, JOB, "ron").set_title("Open a job").pick_file()
    }

    fn pick_save(&self, folder: Option<&Path>, name: &str) -> Option<PathBuf> {
        Self::dialog(folder, JOB, "ron").set_title("Save the job").set_file_name(name).save_file()
    }

    fn pick_sheet(&self, folder: Option<&Path>, name: &str, kind: FileKind) -> Option<PathBuf> {
        Self::dialog(folder, "Set-up sheet", kind.ending()).set_title("Save the sheet").set_file_name(name).save_file()
    }
}

/// What a file is asked for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Purpose {
    Open,
    Save,
    Sheet(FileKind),
    /// The table of arrangements.
    Comparison,
}

/// What came of asking.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Picked {
    Path(Purpose, PathBuf),
    Cancelled(Purpose),
    /// The desktop has no dialog: a path must be typed.
    NoDialog(Purpose),
}

struct Waiting {
    purpose: Purpose,
    answer: Receiver<(Option<PathBuf>, Duration)>,
}

/// Dialogs under way and files known.
pub struct Files {
    picker: Arc<dyn FilePicker>,
    waiting: Option<Waiting>,
    /// Newest first.
    pub recent: Vec<PathBuf>,
}

impl Files {
    /// With the dialogs of `picker`.
    #[must_use]
    pub fn new(picker: Arc<dyn FilePicker>) -> Self {
        Self { picker, waiting: None, recent: Vec::new() }
    }

    /// A dialog is open: no second one.
    #[must_use]
    pub fn is_waiting(&self) -> bool {
        self.waiting.is_some()
    }

    /// Opens a dialog on its own thread; `wake` is called when it has an answer.
    ///
    /// # Errors
    /// Where the system gives no thread.
    pub fn ask(
        &mut self,
        purpose: Purpose,
        folder: Option<PathBuf>,
        name: String,
        wake: impl FnOnce() + Send + 'static,
    ) -> std::io::Result<()> {
        if self.is_waiting() {
            return Ok(());
        }
        let (answer_to, answer) = channel();
        let picker = Arc::clone(&self.picker);
        std::thread::Builder::new().name("file dialog".to_owned()).spawn(move || {
            let asked = Instant::now();
            let path = match purpose {
                Purpose::Open => picker.pick_open(folder.as_deref()),
                Purpose::Save => picker.pick_save(folder.as_deref(), &name),
                Purpose::Sheet(kind) => picker.pick_sheet(folder.as_deref(), &name, kind),
                Purpose::Comparison => picker.pick_sheet(folder.as_deref(), &name, FileKind::Csv),
            };
            // The window may be gone by now; then nobody needs the answer.
            let _ = answer_to.send((path, asked.elapsed()));
            wake();
        })?;
        self.waiting = Some(Waiting { purpose, answer });
        Ok(())
    }

    /// The answer of the dialog, once there is one.
    pub fn poll(&mut self) -> Option<Picked> {
        let waiting = self.waiting.as_ref()?;
        let purpose = waiting.purpose;
        let picked = match waiting.answer.try_recv() {
            Ok((Some(path), _)) => Picked::Path(purpose, path),
            Ok((None, after)) if after < NOT_SHOWN => Picked::NoDialog(purpose),
            Ok((None, _)) => Picked::Cancelled(purpose),
            Err(TryRecvError::Empty) => return None,
            Err(TryRecvError::Disconnected) => Picked::NoDialog(purpose),
        };
        self.waiting = None;
        Some(picked)
    }

    /// Puts a file at the head of those opened before.
    pub fn remember(&mut self, path: &Path) {
        let path = std::path::absolute(path).unwrap_or_else(|_| path.to_owned());
        self.recent.retain(|known| *known != path);
        self.recent.insert(0, path);
        self.recent.truncate(MAX_RECENT);
    }
}

/// Reads a job and what is pinned beside it.
///
/// # Errors
/// One sentence for the user, with the path in it.
pub fn open(path: &Path) -> Result<Document, String> {
    file::read(path).map_err(|error| error.to_string())
}

/// Writes a job and what is pinned beside it.
///
/// # Errors
/// One sentence for the user, with the path in it.
pub fn save(document: &Document, path: &Path) -> Result<(), String> {
    file::write(path, document).map_err(|error| error.to_string())
}

/// The path a person means by what they typed: spaces and quotes around it gone, `~` their home.
#[must_use]
pub fn typed_path(text: &str) -> PathBuf {
    let text = text.trim().trim_matches(['"', '\'']);
    if let Some(rest) = text.strip_prefix("~/").or_else(|| text.strip_prefix("~\\"))
        && let Some(dirs) = directories::UserDirs::new()
    {
        return dirs.home_dir().join(rest);
    }
    PathBuf::from(text)
}

/// A path to save to: with this ending where none was given.
#[must_use]
pub fn with_ending(path: PathBuf, ending: &str) -> PathBuf {
    if path.extension().is_some() { path } else { path.with_extension(ending) }
}

/// A file name made of the job's title.
#[must_use]
pub fn proposed_name(title: &str, ending: &str) -> String {
    let words: String = title.trim().chars().map(|c| if c.is_alphanumeric() || c == '-' { c } else { ' ' }).collect();
    let joined = words.split_whitespace().collect::<Vec<_>>().join("-").to_lowercase();
    format!("{}.{ending}", if joined.is_empty() { "job" } else { &joined })
}

/// Folders and job files in a folder, folders first, each in order of name; hidden ones left out. Empty where the
/// folder cannot be read.
#[must_use]
pub fn jobs_and_folders(folder: &Path) -> Vec<PathBuf> {
    let folder = if folder.as_os_str().is_empty() { Path::new(".") } else { folder };
    let Ok(listing) = std::fs::read_dir(folder) else { return Vec::new() };
    let mut paths: Vec<PathBuf> = listing
        .filter_map(|entry| entry.ok().map(|entry| entry.path()))
        .filter(|path| !path.file_name().is_some_and(|name| name.to_string_lossy().starts_with('.')))
        .filter(|path| path.is_dir() || path.extension().is_some_and(|ending| ending == "ron"))
        .collect();
    paths.sort_by_key(|path| (!path.is_dir(), path.file_name().map(std::ffi::OsStr::to_owned)));
    paths
}
