//! What the window remembers from one day to the next: light or dark, type size, panels, files opened before. Kept in
//! the desktop's settings folder; never in a job.

use std::path::PathBuf;

use egui::ThemePreference;
use serde::{Deserialize, Serialize};

const KEY: &str = "midspan settings";

/// Type can be made this small and this large.
pub const ZOOM_RANGE: std::ops::RangeInclusive<f32> = 0.7..=2.0;

/// The settings of the window.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(default)]
pub struct Settings {
    pub theme: ThemePreference,
    /// Size of everything, 1 as designed.
    pub zoom: f32,
    /// Less movement: nothing glides from one state to the next.
    pub calm: bool,
    pub details_open: bool,
    pub notes_open: bool,
    pub recent: Vec<PathBuf>,
    /// Something on the bench was dragged: nobody needs to be told any more that it can be.
    pub has_dragged: bool,
}

impl Default for Settings {
    fn default() -> Self {
        Self {
            theme: ThemePreference::System,
            zoom: 1.0,
            calm: false,
            details_open: true,
            notes_open: true,
            recent: Vec::new(),
            has_dragged: false,
        }
    }
}

impl Settings {
    /// What was stored, or the defaults where nothing was or it cannot be read.
    #[must_use]
    pub fn load(storage: Option<&dyn eframe::Storage>) -> Self {
        let mut settings: Self = storage.and_then(|storage| eframe::get_value(storage, KEY)).unwrap_or_default();
        if !settings.zoom.is_finite() {
            settings.zoom = 1.0;
        }
        settings.zoom = settings.zoom.clamp(*ZOOM_RANGE.start(), *ZOOM_RANGE.end());
        settings
    }

    /// Stores them.
    pub fn store(&self, storage: &mut dyn eframe::Storage) {
        eframe::set_value(storage, KEY, self);
    }
}
