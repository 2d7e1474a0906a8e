//! The window: panels, canvas, undo, files. The only layer that knows egui.

pub mod bench;
pub mod curves;
pub mod end_view;
pub mod notes;
pub mod state;
pub mod theme;

pub use state::{Action, Commands, Exaggeration, Pinned, Results, Selected, View};
pub use theme::Palette;
