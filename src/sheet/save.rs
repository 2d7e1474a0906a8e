//! The sheet as files: one PDF of all pages, or an SVG or PNG a page. The ending of the name says which.

use std::path::{Path, PathBuf};

use super::Sheet;
use crate::picture::pdf::PdfError;
use crate::picture::png::{PngError, png};
use crate::picture::svg::svg;

/// Dots to the inch of a PNG, unless asked otherwise.
pub const DOTS_PER_INCH: f64 = 200.0;

/// Why a sheet is not in a file.
#[derive(Debug, thiserror::Error)]
pub enum SaveError {
    #[error("{}: the sheet is saved as .pdf, .svg or .png", .0.display())]
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

/// Writes the sheet and tells the files that were written: `NAME.pdf`, or `NAME-1.svg`, `NAME-2.svg` and so on where
/// there are several pages.
///
/// # Errors
/// [`SaveError`]; pages written before the one that failed stay.
pub fn save(sheet: &Sheet, path: &Path, dots_per_inch: f64) -> Result<Vec<PathBuf>, SaveError> {
    let kind = path.extension().map(|ending| ending.to_string_lossy().to_lowercase());
    if sheet.pages.is_empty() {
        return Err(SaveError::NoPages);
    }
    match kind.as_deref() {
        Some("pdf") => write(path.to_owned(), &sheet.pdf()?).map(|path| vec![path]),
        Some("svg") => each(sheet, path, |page| Ok(svg(&sheet.pages[page].picture, &sheet.title).into_bytes())),
        Some("png") => each(sheet, path, |page| Ok(png(&sheet.pages[page].picture, dots_per_inch)?)),
        _ => Err(SaveError::NoSuchKind(path.to_owned())),
    }
}

fn each(
    sheet: &Sheet,
    path: &Path,
    bytes: impl Fn(usize) -> Result<Vec<u8>, SaveError>,
) -> Result<Vec<PathBuf>, SaveError> {
    (0..sheet.pages.len()).map(|page| write(page_path(path, page, sheet.pages.len()), &bytes(page)?)).collect()
}

/// Where a page goes, counted from 0.
fn page_path(path: &Path, page: usize, n_pages: usize) -> PathBuf {
    if n_pages == 1 {
        return path.to_owned();
    }
    let (stem, ending) = (path.file_stem().unwrap_or_default(), path.extension().unwrap_or_default());
    path.with_file_name(format!("{}-{}.{}", stem.to_string_lossy(), page + 1, ending.to_string_lossy()))
}

fn write(path: PathBuf, bytes: &[u8]) -> Result<PathBuf, SaveError> {
    match std::fs::write(&path, bytes) {
        Ok(()) => Ok(path),
        Err(error) => Err(SaveError::NotWritten(path, error)),
    }
}
