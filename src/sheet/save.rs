//! The sheet as files: one PDF of all pages, an SVG or PNG a page, or its tables as CSV. The ending of the name says
//! which.

use std::path::{Path, PathBuf};

use super::Sheet;
use crate::picture::pdf::PdfError;
use crate::picture::png::{PngError, png};
use crate::picture::svg::svg;

/// Dots to the inch of a PNG, unless asked otherwise.
pub const DOTS_PER_INCH: f64 = 200.0;

/// What a sheet is saved as.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum FileKind {
    Pdf,
    Svg,
    Png,
    /// The tables alone.
    Csv,
}

impl FileKind {
    /// All of them.
    pub const ALL: [Self; 4] = [Self::Pdf, Self::Svg, Self::Png, Self::Csv];

    /// The ending of its files.
    #[must_use]
    pub const fn ending(self) -> &'static str {
        match self {
            Self::Pdf => "pdf",
            Self::Svg => "svg",
            Self::Png => "png",
            Self::Csv => "csv",
        }
    }

    /// The kind that a path's ending names.
    #[must_use]
    pub fn of(path: &Path) -> Option<Self> {
        let ending = path.extension()?.to_string_lossy().to_lowercase();
        Self::ALL.into_iter().find(|kind| kind.ending() == ending)
    }
}

/// Why a sheet is not in a file.
#[derive(Debug, thiserror::Error)]
pub enum SaveError {
    #[error("{}: the sheet is saved as .pdf, .svg, .png or .csv", .0.display())]
    NoSuchKind(PathBuf),
    #[error("there are no pages to save")]
    NoPages,
    #[error(transparent)]
    Pdf(#[from] PdfError),
    #[error(transparent)]
    Png(#[from] PngError),
    #[error("{}: {}", .0.display(), .1)]
    NotWritten(PathBuf, std::io::Error),
}

/// The files a sheet would be written to: `NAME.pdf`, or `NAME-1.svg`, `NAME-2.svg` and so on where there are several
/// pages.
#[must_use]
pub fn paths(sheet: &Sheet, path: &Path) -> Vec<PathBuf> {
    let n_pages = sheet.pages.len();
    if n_pages == 1 || !matches!(FileKind::of(path), Some(FileKind::Svg | FileKind::Png)) {
        return vec![path.to_owned()];
    }
    let (stem, ending) = (path.file_stem().unwrap_or_default(), path.extension().unwrap_or_default());
    let name = |page| format!("{}-{page}.{}", stem.to_string_lossy(), ending.to_string_lossy());
    (1..=n_pages).map(|page| path.with_file_name(name(page))).collect()
}

/// Writes the sheet and tells the files that were written, see [`paths`].
///
/// # Errors
/// [`SaveError`]; pages written before the one that failed stay.
pub fn save(sheet: &Sheet, path: &Path, dots_per_inch: f64) -> Result<Vec<PathBuf>, SaveError> {
    if sheet.pages.is_empty() {
        return Err(SaveError::NoPages);
    }
    let kind = FileKind::of(path).ok_or_else(|| SaveError::NoSuchKind(path.to_owned()))?;
    let paths = paths(sheet, path);
    for (index, path) in paths.iter().enumerate() {
        let picture = &sheet.pages[index].picture;
        let bytes = match kind {
            FileKind::Pdf => sheet.pdf()?,
            FileKind::Svg => svg(picture, &sheet.title).into_bytes(),
            FileKind::Png => png(picture, dots_per_inch)?,
            FileKind::Csv => sheet.csv().into_bytes(),
        };
        std::fs::write(path, bytes).map_err(|error| SaveError::NotWritten(path.clone(), error))?;
    }
    Ok(paths)
}
