//! Handing a PDF to the desktop: its viewer, from which a person prints, or else the printing command. What was done is
//! said in one sentence, also where nothing could be.

use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};
use std::time::{Duration, Instant};

/// A viewer that still runs after this has opened the file.
const SETTLED: Duration = Duration::from_secs(3);

/// Shows or prints a PDF. Called on a thread of its own.
pub trait Printer: Send + Sync {
    /// Hands the file over and says what was done.
    ///
    /// # Errors
    /// A sentence that says what was tried.
    fn hand_over(&self, pdf: &Path) -> Result<String, String>;
}

/// PrintCommands that are tried one after another, the path of the file behind their arguments.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct PrintCommands {
    /// Each with its arguments and what it does.
    pub tried: Vec<(&'static str, Vec<&'static str>, &'static str)>,
}

impl PrintCommands {
    /// Those of this desktop.
    #[must_use]
    pub fn of_desktop() -> Self {
        const SHOWS: &str = "shown by the desktop's viewer";
        const PRINTS: &str = "sent to the default printer";
        let tried = if cfg!(target_os = "windows") {
            vec![("cmd", vec!["/C", "start", ""], SHOWS)]
        } else {
            let viewer = if cfg!(target_os = "macos") { "open" } else { "xdg-open" };
            vec![(viewer, vec![], SHOWS), ("lp", vec!["-o", "print-scaling=none"], PRINTS)]
        };
        Self { tried }
    }
}

impl Printer for PrintCommands {
    fn hand_over(&self, pdf: &Path) -> Result<String, String> {
        for (command, arguments, does) in &self.tried {
            if runs(command, arguments, pdf) {
                return Ok(format!("{}: {does} ({command}). Print it at 100 %.", pdf.display()));
            }
        }
        let names: Vec<&str> = self.tried.iter().map(|(command, ..)| *command).collect();
        let names = names.join(" nor ");
        Err(format!("Neither {names} would take the sheet. It is in {}: print it from there at 100 %.", pdf.display()))
    }
}

/// True where the command ended well, or goes on.
fn runs(command: &str, arguments: &[&str], pdf: &Path) -> bool {
    let quiet = || Stdio::null();
    let started = Command::new(command).args(arguments).arg(pdf).stdin(quiet()).stdout(quiet()).stderr(quiet()).spawn();
    let Ok(mut child) = started else { return false };
    let since = Instant::now();
    while since.elapsed() < SETTLED {
        match child.try_wait() {
            Ok(Some(status)) => return status.success(),
            Ok(None) => std::thread::sleep(Duration::from_millis(30)),
            Err(_) => return false,
        }
    }
    true
}

/// Writes the PDF where a viewer finds it, and it stays.
///
/// # Errors
/// A sentence where it cannot be written.
pub fn laid_aside(pdf: &[u8]) -> Result<PathBuf, String> {
    let write = || -> std::io::Result<PathBuf> {
        let mut file = tempfile::Builder::new().prefix("midspan-sheet-").suffix(".pdf").tempfile()?;
        std::io::Write::write_all(&mut file, pdf)?;
        Ok(file.keep()?.1)
    };
    write().map_err(|error| format!("The sheet cannot be written to be printed: {error}"))
}
