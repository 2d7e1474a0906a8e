//! The job file: RON, one job a file with what is pinned beside it, versioned types of its own.
//!
//! The format number is read first, alone: a newer format gets a clear refusal, an older one is always readable.
//! Saving writes a temporary file in the same folder, syncs it and renames it over the old one, so that a job is never
//! half written. Known limit: after a rename a hard link to the old file keeps the old job.

mod error;
mod save;
mod v1;
mod v1_read;
mod v1_to_v2;
mod v2;
mod v2_read;
mod v2_to_v3;
mod v2_usual;
mod v2_write;
mod v3;
mod v3_read;
mod v3_write;
mod words;

use std::fs::File;
use std::io::Read as _;
use std::path::Path;

use ron::Options;
use ron::extensions::Extensions;
use ron::ser::PrettyConfig;
use serde::Deserialize;

pub use error::{FileError, FileTrouble};
pub use save::{write, write_text};

use super::Document;

/// The newest format this program knows, and the one it writes.
pub const FORMAT: u32 = 3;

/// Larger files are no jobs and are not read at all.
pub const MAX_BYTES: u64 = 40_000_000;

/// What is read first; everything else is left for the second reading.
#[derive(Deserialize)]
struct Header {
    format: u32,
}

fn options() -> Options {
    Options::default().with_default_extension(Extensions::IMPLICIT_SOME)
}

/// Reads a job from a file.
///
/// # Errors
/// [`FileError`] with the path, and line and column where the text is at fault.
pub fn read(path: &Path) -> Result<Document, FileError> {
    let unreadable = |error| FileError::at(path, FileTrouble::Read(error));
    // A pipe or a device might never end.
    let about = std::fs::metadata(path).map_err(unreadable)?;
    if let Some(trouble) = FileTrouble::of_kind(about.file_type()) {
        return Err(FileError::at(path, trouble));
    }
    let mut bytes = Vec::new();
    let file = File::open(path).map_err(unreadable)?;
    file.take(MAX_BYTES + 1).read_to_end(&mut bytes).map_err(unreadable)?;
    if bytes.len() as u64 > MAX_BYTES {
        return Err(FileError::at(path, FileTrouble::TooLarge));
    }
    let text = String::from_utf8(bytes).map_err(|_| FileError::at(path, FileTrouble::NotText))?;
    from_text(&text).map_err(|error| FileError::at(path, error.trouble))
}

/// Reads a job from the text of a file.
///
/// # Errors
/// [`FileError`] without a path.
pub fn from_text(text: &str) -> Result<Document, FileError> {
    if text.len() as u64 > MAX_BYTES {
        return Err(FileTrouble::TooLarge.into());
    }
    // Some editors put a mark before the text.
    let text = text.strip_prefix('\u{feff}').unwrap_or(text);
    if text.trim_start().starts_with(|first| !"(/#".contains(first)) {
        return Err(FileTrouble::Foreign.into());
    }
    let header: Header = options().from_str(text).map_err(|error| FileTrouble::in_text(&error, text))?;
    let in_text = |error| FileTrouble::in_text(&error, text);
    let job: v3::Job = match header.format {
        1 => v2::Job::from(options().from_str::<v1::Job>(text).map_err(in_text)?).into(),
        2 => options().from_str::<v2::Job>(text).map_err(in_text)?.into(),
        3 => options().from_str(text).map_err(in_text)?,
        format if format > FORMAT => return Err(FileTrouble::Newer { format }.into()),
        format => return Err(FileTrouble::NoSuchFormat { format }.into()),
    };
    let document = Document::try_from(job)?;
    document.validate().map_err(FileTrouble::Impossible)?;
    Ok(document)
}

/// The text of a job's file.
#[must_use]
pub fn to_text(document: &Document) -> String {
    let layout = PrettyConfig::new().struct_names(false).indentor("  ").new_line("\n").depth_limit(4);
    let mut text = options()
        .to_string_pretty(&v3::Job::from(document), layout)
        .expect("a job is numbers, words and lists, and all of them have a text");
    text.push('\n');
    text
}
