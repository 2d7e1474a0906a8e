//! More windows of the program, each a process of its own: with its own job, its own drafts and its own undo, so that
//! nothing one does can hurt the other.

use std::process::{Command, Stdio};

/// Opens windows.
pub trait Windows: Send + Sync {
    /// Opens one more.
    ///
    /// # Errors
    /// A sentence for the user.
    fn open(&self) -> Result<(), String>;
}

/// This very program, started once more.
#[derive(Clone, Debug, Default)]
pub struct OwnProgram {
    /// Started with these; nothing opens a window as usual.
    pub arguments: Vec<String>,
}

impl Windows for OwnProgram {
    fn open(&self) -> Result<(), String> {
        let failed = |error: std::io::Error| format!("No other window can be opened: {error}");
        let program = std::env::current_exe().map_err(failed)?;
        let mut started = Command::new(program)
            .args(&self.arguments)
            .stdin(Stdio::null())
            .stdout(Stdio::null())
            .stderr(Stdio::null())
            .spawn()
            .map_err(failed)?;
        // The system keeps what has ended until somebody asks how.
        let waited = std::thread::Builder::new().name("other window".to_owned()).spawn(move || started.wait());
        waited.map(drop).map_err(failed)
    }
}
