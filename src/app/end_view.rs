//! Placeholder of the panel of the same name, until it is merged.

use super::{Commands, Palette, Results, View};
use crate::job::Job;

/// Shows the panel.
pub fn end_view_ui(
    ui: &mut egui::Ui,
    job: &Job,
    view: &mut View,
    results: &Results,
    palette: &Palette,
    out: &mut Commands,
) {
    let _ = (ui, job, view, results, palette, out);
}
