//! Jobs kept while they are unsaved: one file for each window, in the settings' own folder, written a short while after a
//! change and taken away once the job is saved or let go. What a window that was killed has left is found by the next.
//!
//! A draft is a job file with one line before it, a comment, that says which file the job belongs to. Beside it lies a
//! lock that its window holds for as long as it lives: a draft under a lock is no other window's business.

use std::fs::{self, File, OpenOptions, TryLockError};
use std::io;
use std::path::{Path, PathBuf};
use std::time::Duration;

use super::desk::Desk;
use crate::job::{Document, file};

/// A job that stays changed for so long is kept, in seconds of the window's clock.
pub const AFTER_S: f64 = 2.0;

/// What stands before the path in the first line of a draft.
const BELONGS_TO: &str = "// An unsaved job of the file ";

/// A draft and the lock beside it.
#[derive(Debug)]
struct Held {
    path: PathBuf,
    lock_path: PathBuf,
    /// Free again when the window ends, however it ends.
    _lock: File,
}

impl Held {
    /// A name no other window has.
    fn fresh(folder: &Path) -> io::Result<Self> {
        fs::create_dir_all(folder)?;
        let file = tempfile::Builder::new().prefix("job-").suffix(".lock").tempfile_in(folder)?;
        let (lock, lock_path) = file.keep().map_err(|error| error.error)?;
        // Where nothing can be locked, two windows may offer the same draft; neither loses it unasked.
        let _ = lock.try_lock();
        Ok(Self { path: lock_path.with_extension("ron"), lock_path, _lock: lock })
    }

    /// A draft that lies there, unless the window it belongs to is alive.
    fn found(path: PathBuf) -> Option<Self> {
        let lock_path = path.with_extension("lock");
        let lock = OpenOptions::new().create(true).truncate(false).write(true).open(&lock_path).ok()?;
        let is_alive = matches!(lock.try_lock(), Err(TryLockError::WouldBlock));
        (!is_alive).then_some(Self { path, lock_path, _lock: lock })
    }

    /// Takes it away, the lock last.
    fn take_away(self) {
        // What cannot be taken away is offered again: a nuisance, not a loss.
        let _ = fs::remove_file(&self.path);
        let _ = fs::remove_file(&self.lock_path);
    }
}

/// A job that a killed window has left.
#[derive(Debug)]
pub struct Found {
    held: Held,
    pub document: Document,
    /// The file it belongs to, where it has one.
    pub of_file: Option<PathBuf>,
    /// How long ago it was kept last.
    pub age: Duration,
}

impl Found {
    fn read(path: PathBuf) -> Option<Self> {
        let held = Held::found(path)?;
        let text = fs::read_to_string(&held.path).ok()?;
        // A draft of a newer format stays where it is, for the newer program.
        let document = file::from_text(&text).ok()?;
        let line = text.lines().next().and_then(|line| line.strip_prefix(BELONGS_TO));
        let of_file = line.and_then(|line| ron::from_str::<String>(line).ok()).map(PathBuf::from);
        let kept_at = fs::metadata(&held.path).and_then(|about| about.modified()).ok()?;
        Some(Self { held, document, of_file, age: kept_at.elapsed().unwrap_or_default() })
    }

    /// Forgets it for good.
    pub fn take_away(self) {
        self.held.take_away();
    }
}

/// The draft of this window, if it is to have one.
#[derive(Debug, Default)]
pub struct Drafts {
    folder: Option<PathBuf>,
    own: Option<Held>,
    /// The job as it stands in the draft, or as the draft could not be written.
    kept: Option<Document>,
    /// When a change is to be kept, on the window's clock.
    due_s: Option<f64>,
    /// It was said that nothing is kept.
    failing: bool,
}

impl Drafts {
    /// Drafts in a folder, and the jobs left there, newest first.
    #[must_use]
    pub fn in_folder(folder: PathBuf) -> (Self, Vec<Found>) {
        let paths = fs::read_dir(&folder).into_iter().flatten().filter_map(|entry| Some(entry.ok()?.path()));
        let drafts = paths.filter(|path| path.extension().is_some_and(|ending| ending == "ron"));
        let mut found: Vec<Found> = drafts.filter_map(Found::read).collect();
        found.sort_by_key(|found| found.age);
        (Self { folder: Some(folder), ..Self::default() }, found)
    }

    /// Brings the draft up to date with what is on the desk; gives back how long until a change is to be kept.
    ///
    /// # Errors
    /// One sentence for the user, once, where the draft cannot be written.
    pub fn keep_up(&mut self, desk: &Desk, now_s: f64) -> Result<Option<Duration>, String> {
        let Some(folder) = &self.folder else { return Ok(None) };
        if !desk.is_unsaved() {
            self.let_go();
            return Ok(None);
        }
        if self.kept.as_ref() == Some(desk.document()) {
            self.due_s = None;
            return Ok(None);
        }
        let due_s = *self.due_s.get_or_insert(now_s + AFTER_S);
        if now_s < due_s {
            return Ok(Some(Duration::from_secs_f64(due_s - now_s)));
        }
        if desk.history().step_is_open() {
            // The end of the gesture brings a frame.
            return Ok(None);
        }
        self.due_s = None;
        self.kept = Some(desk.document().clone());
        match write(folder, &mut self.own, desk) {
            Ok(()) => self.failing = false,
            Err(sentence) if !std::mem::replace(&mut self.failing, true) => {
                return Err(format!("Unsaved changes are not kept against a crash: {sentence}"));
            }
            Err(_) => {}
        }
        Ok(None)
    }

    /// Takes the draft away: the job is saved, or not to be kept.
    pub fn let_go(&mut self) {
        if let Some(own) = self.own.take() {
            own.take_away();
        }
        (self.kept, self.due_s) = (None, None);
    }

    /// A job found is on the desk now: its draft is this window's.
    pub fn adopt(&mut self, found: Found) {
        self.let_go();
        (self.own, self.kept) = (Some(found.held), Some(found.document));
    }
}

fn write(folder: &Path, own: &mut Option<Held>, desk: &Desk) -> Result<(), String> {
    let held = match own {
        Some(held) => held,
        None => own.insert(Held::fresh(folder).map_err(|error| format!("{error} ({})", folder.display()))?),
    };
    let of_file = desk.path.as_deref().and_then(Path::to_str).and_then(|path| ron::to_string(path).ok());
    let line = of_file.map_or_else(String::new, |path| format!("{BELONGS_TO}{path}\n"));
    file::write_text(&held.path, &(line + &file::to_text(desk.document()))).map_err(|error| error.to_string())
}
