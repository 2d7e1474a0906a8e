//! Rails: rows between bench and curves, over the same stretch of bed, each telling one thing along the work.
//!
//! A row is a file with a [`Row`] in it and a place in [`ROWS`]; it says how high it is now (0: not shown) and draws
//! itself where the map puts each place. Its name stands in the gutter, where the curves have their numbers.

mod coverage;
mod reach;

use egui::{Align2, FontId, Rect, Ui};

use super::bench::follow_pointer;
use super::bench::map::Map;
use super::{Commands, Palette, Results, View};
use crate::job::{Job, Setup};

/// Height of a row of one line, in points.
const ROW_HEIGHT: f32 = 22.0;
/// Size of its words.
const SMALL: f32 = 12.0;

/// What a row reads, and draws with.
pub struct Rail<'a> {
    pub job: &'a Job,
    pub setup: &'a Setup,
    pub view: &'a mut View,
    pub results: &'a Results,
    pub palette: &'a Palette,
    pub out: &'a mut Commands,
    /// Its own rectangle, and where each place of the bed lies across it.
    pub map: Map,
}

/// One row.
struct Row {
    /// How high it is now; 0 where it has nothing to show.
    height: fn(&Job, &Setup, &View) -> f32,
    show: fn(&mut Ui, &mut Rail<'_>),
}

/// Every row, from the top.
const ROWS: [Row; 3] = [reach::ROW, coverage::SETUP_ROW, coverage::JOB_ROW];

/// Height of all rows, in points.
#[must_use]
pub fn height(job: &Job, view: &View) -> f32 {
    job.setup(view.setup).map_or(0.0, |setup| ROWS.iter().map(|row| (row.height)(job, setup, view)).sum())
}

/// Shows the rows that have something to show.
pub fn rails_ui(
    ui: &mut Ui,
    job: &Job,
    view: &mut View,
    results: &Results,
    palette: &Palette,
    out: &mut Commands,
) {
    let Some(setup) = job.setup(view.setup) else { return };
    let room = ui.available_rect_before_wrap();
    ui.painter().rect_filled(room, 0.0, palette.canvas);
    let mut top = room.top();
    for row in &ROWS {
        let height = (row.height)(job, setup, view);
        if height > 0.0 {
            let rect = Rect::from_x_y_ranges(room.x_range(), top..=top + height);
            let map = Map::of(rect, view.plot_x_range, &view.z_view_mm, 0.0);
            (row.show)(ui, &mut Rail { job, setup, view, results, palette, out, map });
            top += height;
        }
    }
    let whole = Map::of(room, view.plot_x_range, &view.z_view_mm, 0.0);
    follow_pointer(ui, &whole, view, "rails cursor");
    if let Some(z_mm) = view.cursor_z_mm
        && whole.x_range.contains(whole.x(z_mm))
    {
        ui.painter_at(room).vline(whole.x(z_mm), room.y_range(), (1.0, palette.cursor.gamma_multiply(0.55)));
    }
}

impl Rail<'_> {
    /// Writes the row's name in the gutter.
    fn name(&self, ui: &Ui, name: &str) {
        let gutter = Rect::from_x_y_ranges(self.map.rect.left()..=self.map.x_range.min, self.map.rect.y_range());
        let at = gutter.left_center() + egui::vec2(6.0, 0.0);
        ui.painter_at(gutter).text(at, Align2::LEFT_CENTER, name, FontId::proportional(SMALL), self.palette.ink);
    }

    /// What is seen of a stretch of the bed, `shrink` points inside the row above and below.
    fn rect_of(&self, from_mm: f64, to_mm: f64, shrink: f32) -> Rect {
        let (left, right) = (self.map.x(from_mm), self.map.x(to_mm));
        let seen = left.max(self.map.x_range.min)..=right.min(self.map.x_range.max);
        Rect::from_x_y_ranges(seen, self.map.rect.y_range().shrink(shrink))
    }

    /// Words in the middle of a rectangle, where they have room there.
    fn words_in(&self, ui: &Ui, rect: Rect, words: &str) {
        let font = FontId::proportional(SMALL);
        let galley = ui.painter().layout_no_wrap(words.to_owned(), font, self.palette.ink);
        let place = Align2::CENTER_CENTER.anchor_size(rect.center(), galley.size());
        if place.width() + 6.0 <= rect.width() {
            let painter = ui.painter_at(self.map.rect);
            painter.rect_filled(place.expand2(egui::vec2(2.0, -1.0)), 2.0, self.palette.canvas.gamma_multiply(0.85));
            painter.galley(place.min, galley, self.palette.ink);
        }
    }
}
