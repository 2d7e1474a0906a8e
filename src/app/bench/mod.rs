//! The bench: lathe, work and supports to scale.

use super::theme::Palette;
use super::{Commands, Results, View};
use crate::job::Job;

/// Draws the bench over the plots' x range and takes drags on it.
pub fn bench_ui(
    ui: &mut egui::Ui,
    job: &Job,
    view: &mut View,
    results: &Results,
    palette: &Palette,
    out: &mut Commands,
) {
    let _ = (job, view, results, palette, out);
    ui.allocate_space(ui.available_size());
}
