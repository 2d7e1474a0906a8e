//! The window's tests, driven as a person would: by label and role, with keys and pointer, without a display.

mod desk;
mod entry;
mod files;
mod forms;
mod undo;
mod window;
