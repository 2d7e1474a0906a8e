//! What can be wrong with a job file: first what and where in the text, the path last.

use std::fmt;
use std::fs::FileType;
use std::io::{self, ErrorKind};
use std::path::{Path, PathBuf};

use ron::Error as RonError;
use ron::error::SpannedError;

use crate::job::EditError;

use super::{FORMAT, MAX_BYTES};

/// Why a job could not be read or written, with the file where there is one.
#[derive(Debug)]
pub struct FileError {
    pub trouble: FileTrouble,
    pub path: Option<PathBuf>,
}

/// What is wrong.
#[derive(Debug, thiserror::Error)]
pub enum FileTrouble {
    #[error("the file cannot be read: {}", why_not_read(.0))]
    Read(#[source] io::Error),
    #[error("the file cannot be written: {}", why_not_written(.0))]
    Write(#[source] io::Error),
    #[error("that is a folder, not a job file")]
    Folder,
    #[error("that is no ordinary file")]
    NotAFile,
    #[error("the file is write-protected; save the job under another name")]
    WriteProtected,
    #[error("the file is larger than any job ({} kB)", MAX_BYTES / 1000)]
    TooLarge,
    #[error("this is no job of Midspan: it is not text")]
    NotText,
    #[error("this is no job of Midspan")]
    Foreign,
    /// Line and column count from 1.
    #[error("the file cannot be read at line {line}, column {column}: {what}")]
    Text { line: usize, column: usize, what: String },
    #[error("the job is of format {format}, made by a newer Midspan; this one reads up to format {FORMAT}")]
    Newer { format: u32 },
    #[error("there is no job of format {format}; the first is 1")]
    NoSuchFormat { format: u32 },
    #[error("there is no example {0}")]
    NoExample(String),
    #[error("{n_pinned} arrangements are pinned; there is room for four")]
    TooManyPinned { n_pinned: usize },
    #[error("two arrangements are pinned as {letter}")]
    PinnedTwice { letter: &'static str },
    #[error("the job cannot be: {0}")]
    Impossible(#[source] EditError),
}

impl FileError {
    pub(super) fn at(path: &Path, trouble: FileTrouble) -> Self {
        Self { trouble, path: Some(path.to_owned()) }
    }
}

impl From<FileTrouble> for FileError {
    fn from(trouble: FileTrouble) -> Self {
        Self { trouble, path: None }
    }
}

impl fmt::Display for FileError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match &self.path {
            Some(path) => write!(f, "{} ({})", self.trouble, path.display()),
            None => write!(f, "{}", self.trouble),
        }
    }
}

impl std::error::Error for FileError {
    fn source(&self) -> Option<&(dyn std::error::Error + 'static)> {
        self.trouble.source()
    }
}

impl FileTrouble {
    /// What is wrong with a thing of that kind, where it holds no job.
    pub(super) fn of_kind(kind: FileType) -> Option<Self> {
        if kind.is_dir() { Some(Self::Folder) } else { (!kind.is_file()).then_some(Self::NotAFile) }
    }

    /// An error of the text, in words where there are better ones than the reader's.
    pub(super) fn in_text(error: &SpannedError, text: &str) -> Self {
        let (line, column) = (error.span.start.line, error.span.start.col);
        let what = if decimal_comma_before(text, line, column) {
            "a decimal comma? In the file the decimal mark is a point".to_owned()
        } else {
            match &error.code {
                RonError::MissingStructField { field: "format", .. } => {
                    "no format number: this is no job of Midspan".to_owned()
                }
                RonError::Eof => "the text ends too early".to_owned(),
                RonError::TrailingCharacters => "something stands behind the end of the job".to_owned(),
                RonError::ExceededRecursionLimit => "brackets stand too deep in each other".to_owned(),
                other => other.to_string(),
            }
        };
        Self::Text { line, column, what }
    }
}

/// Why the system gives no file to read, in a user's words where there are better ones than its own.
fn why_not_read(error: &io::Error) -> String {
    match error.kind() {
        ErrorKind::NotFound => "there is none of that name; was it moved, renamed or taken away?".to_owned(),
        ErrorKind::PermissionDenied => "you are not allowed to read it".to_owned(),
        _ => why_not(error),
    }
}

/// Why the system takes no file.
fn why_not_written(error: &io::Error) -> String {
    match error.kind() {
        ErrorKind::NotFound => "its folder is not there; was it moved, renamed or taken away?".to_owned(),
        ErrorKind::PermissionDenied => "you are not allowed to write there".to_owned(),
        ErrorKind::StorageFull => "the disk is full".to_owned(),
        ErrorKind::QuotaExceeded => "your share of the disk is used up".to_owned(),
        ErrorKind::ReadOnlyFilesystem => "the disk is write-protected".to_owned(),
        ErrorKind::ResourceBusy => "another program holds it".to_owned(),
        _ => why_not(error),
    }
}

fn why_not(error: &io::Error) -> String {
    match error.kind() {
        ErrorKind::NotADirectory => "a part of its path is no folder".to_owned(),
        ErrorKind::InvalidFilename => "its name or path is too long or has a sign that may not be in it".to_owned(),
        ErrorKind::HostUnreachable
        | ErrorKind::NetworkUnreachable
        | ErrorKind::NetworkDown
        | ErrorKind::NotConnected
        | ErrorKind::StaleNetworkFileHandle
        | ErrorKind::TimedOut => "its drive does not answer".to_owned(),
        _ => error.to_string(),
    }
}

/// Whether a comma between two figures stands just before or at a place of the text.
fn decimal_comma_before(text: &str, line: usize, column: usize) -> bool {
    let Some(line) = text.lines().nth(line.saturating_sub(1)) else { return false };
    let chars: Vec<char> = line.chars().collect();
    let from = column.saturating_sub(4);
    (from..column + 1).any(|at| match chars.get(at..at + 3) {
        Some([before, ',', after]) => before.is_ascii_digit() && after.is_ascii_digit(),
        _ => false,
    })
}
