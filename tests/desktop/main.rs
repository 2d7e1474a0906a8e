//! The window's tests: panels, drags, undo, files through the window, without a display.

mod curves;
#[path = "../engine/quiet.rs"]
mod quiet;
