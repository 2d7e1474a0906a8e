//! Saving: a temporary file in the same folder, synced, then renamed over the old one.

use std::fs::{self, File, Permissions};
use std::io::{self, Write as _};
use std::path::{Path, PathBuf};

use tempfile::Builder;

use super::{FileError, FileTrouble, to_text};
use crate::job::Document;

/// Writes a job to a file; whatever happens, the old file or the new one is there whole.
///
/// A link is followed and stays a link; the permissions of an old file are kept; a write-protected file is refused.
///
/// # Errors
/// [`FileError`] with the path.
pub fn write(path: &Path, document: &Document) -> Result<(), FileError> {
    write_text(path, &to_text(document))
}

/// Writes a text in the same way.
///
/// # Errors
/// [`FileError`] with the path.
pub fn write_text(path: &Path, text: &str) -> Result<(), FileError> {
    let wrong = |trouble| FileError::at(path, trouble);
    let unwritable = |error| wrong(FileTrouble::Write(error));
    let target = followed(path).map_err(unwritable)?;
    let old = match fs::metadata(&target) {
        Ok(old) => match FileTrouble::of_kind(old.file_type()) {
            Some(trouble) => return Err(wrong(trouble)),
            None if old.permissions().readonly() => return Err(wrong(FileTrouble::WriteProtected)),
            None => Some(old.permissions()),
        },
        Err(error) if error.kind() == io::ErrorKind::NotFound => None,
        Err(error) => return Err(unwritable(error)),
    };
    write_whole(&target, text, old).map_err(unwritable)
}

fn write_whole(target: &Path, text: &str, old: Option<Permissions>) -> io::Result<()> {
    let folder = match target.parent() {
        Some(folder) if !folder.as_os_str().is_empty() => folder,
        _ => Path::new("."),
    };
    let mut builder = Builder::new();
    builder.prefix(".midspan-").suffix(".part");
    let fresh = fresh_permissions();
    if let Some(permissions) = old.clone().or(fresh) {
        builder.permissions(permissions);
    }
    let mut file = builder.tempfile_in(folder)?;
    if let Some(permissions) = old {
        // Set again, as the creation mask may have taken some away.
        file.as_file().set_permissions(permissions)?;
    }
    file.write_all(text.as_bytes())?;
    file.as_file().sync_all()?;
    file.persist(target).map_err(|error| error.error)?;
    sync_folder(folder);
    Ok(())
}

/// The file a chain of links leads to, though it may not be there yet.
fn followed(path: &Path) -> io::Result<PathBuf> {
    let mut target = path.to_owned();
    // As many as the systems themselves follow.
    for _ in 0..40 {
        let Ok(next) = fs::read_link(&target) else { return Ok(target) };
        target = match target.parent() {
            Some(folder) => folder.join(next),
            None => next,
        };
    }
    Err(io::Error::new(io::ErrorKind::InvalidInput, "links lead in a circle"))
}

/// What a new file may have; the user's creation mask takes away from it.
#[cfg(unix)]
#[expect(clippy::unnecessary_wraps, reason = "other systems have none")]
fn fresh_permissions() -> Option<Permissions> {
    use std::os::unix::fs::PermissionsExt as _;
    Some(Permissions::from_mode(0o666))
}

#[cfg(not(unix))]
fn fresh_permissions() -> Option<Permissions> {
    None
}

/// Makes the rename itself last through a power cut, where the system can.
fn sync_folder(folder: &Path) {
    if cfg!(unix)
        && let Ok(folder) = File::open(folder)
    {
        // The job is saved either way; only a power cut in this moment would bring the old one back.
        let _ = folder.sync_all();
    }
}
