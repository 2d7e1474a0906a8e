//! The window: panels, canvas, undo, files. The only layer that knows egui.
//!
//! [`MidspanApp`] lays out the panels and drains what they ask for into a [`Desk`], which holds the job and works
//! without a window.

pub mod bench;
pub mod commands;
pub mod compare_table;
pub mod comparing;
pub mod curves;
pub mod depth_limits;
pub mod desk;
pub mod details;
pub mod drafts;
pub mod dropped;
pub mod end_view;
pub mod entry;
pub mod fields;
pub mod figure;
pub mod files;
pub mod focus;
pub mod gallery;
pub mod history;
pub mod key_list;
pub mod land_table;
pub mod menu;
pub mod new_job;
pub mod notes;
pub mod places;
pub mod plan;
pub mod play;
pub mod preview;
pub mod printing;
pub mod promised;
pub mod questions;
pub mod rails;
pub mod recovery;
pub mod settings;
pub mod sheets;
pub mod state;
pub mod strip;
pub mod sureness;
pub mod theme;
pub mod why_panel;
pub mod window;
pub mod windows;
pub mod worker;

pub use depth_limits::Depths;
pub use desk::Desk;
pub use settings::Settings;
pub use state::{Action, Commands, Exaggeration, Explained, Results, Selected, View};
pub use theme::Palette;
pub use window::MidspanApp;
