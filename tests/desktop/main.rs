//! The window's tests, driven as a person would: by label and role, with keys and pointer, without a display.

mod bands;
mod bench;
mod curves;
mod desk;
mod details;
mod entry;
mod fields;
mod files;
mod forms;
mod kinds;
mod lively;
#[path = "../engine/quiet.rs"]
mod quiet;
mod sheets;
mod standing;
mod turning;
mod undo;
mod window;
