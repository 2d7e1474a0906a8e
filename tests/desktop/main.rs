//! The window's tests, driven as a person would: by label and role, with keys and pointer, without a display.

mod bench;
mod curves;
mod desk;
mod entry;
mod files;
mod forms;
mod kinds;
#[path = "../engine/quiet.rs"]
mod quiet;
mod undo;
mod window;
