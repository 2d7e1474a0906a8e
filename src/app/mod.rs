//! The window: panels, canvas, undo, files. The only layer that knows egui.

pub mod state;

pub use state::{Action, Commands, Exaggeration, Pinned, Results, Selected, View};
