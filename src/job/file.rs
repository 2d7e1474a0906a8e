//! The job file: RON, one job a file, versioned types of its own.
use super::Job;
/// Read.
pub fn read(path: &std::path::Path) -> Result<Job, String> {
    Err(format!("{}", path.display()))
}
/// Write.
pub fn write(_job: &Job, path: &std::path::Path) -> Result<(), String> {
    Err(format!("{}", path.display()))
}
