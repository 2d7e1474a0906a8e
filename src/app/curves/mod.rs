//! The curves under the bench: size error along the work, spring at the tool, the shape of the work, run-out, and
//! the depth before chatter is to be expected.
//!
//! The plots stand over one another on the bench's z axis: the stretch seen is `View::z_view_mm`, the pixels of the
//! plots' frame go into `View::plot_x_range`, and the cursor is shared through `View::cursor_z_mm`. The plots are not
//! moved by themselves: a wheel or a drag over one moves the common view.

mod broken;
mod dashes;
mod depths;
mod drawn;
mod plot;
mod range;
mod shape;
mod size;
mod spring;
mod turning;
mod z_axis;

use egui::{Align, Layout, Rect, RichText, Sense, Ui, UiBuilder, vec2};

use self::drawn::{Drawn, Look};
pub(super) use self::plot::pin_sample_ui;
pub(super) use self::range::round_step;
use super::comparing::Pinned;
use super::figure::mark_ui;
use super::state::{DEPTHS, N_CURVES};
use super::{Commands, Palette, Results, View, theme};
use crate::advice::why::Figure;
use crate::job::Job;

/// Room that the line over each plot takes. Its switch and its mark are higher than that: they reach so far into the edges
/// of the plots above and below, for what these lose would be a fifth of them.
const HEADING_HEIGHT: f32 = 24.0;
const REACH: f32 = (theme::TARGET - HEADING_HEIGHT) / 2.0;
/// With the names of pinned arrangements it has two lines.
const PINNED_HEIGHT: f32 = theme::TARGET;
/// Room for the numbers under the lowest plot.
const Z_AXIS_HEIGHT: f32 = 24.0;
/// Room of a mark that has only words behind it.
const MARK_WIDTH: f32 = 16.0;
/// A plot lower than this cannot be read.
const LEAST_PLOT_HEIGHT: f32 = 32.0;
/// Shares of the height: the size error is what the work is for.
const SHARES: [f32; N_CURVES] = [1.3, 1.0, 1.0, 1.0, 1.0];
/// What the curves are called.
pub const TITLES: [&str; N_CURVES] =
    ["Size error", "Spring at the tool", "Shape of the work", "Run-out", "Depth before chatter"];

/// What is explained beside each.
const FIGURES: [Figure; N_CURVES] = [Figure::Error, Figure::Spring, Figure::Shape, Figure::RunOut, Figure::Chatter];

/// What the depth before chatter is.
const DEPTHS_HINT: &str = "An estimate at the worst speed, on the damping stated under How sure. Slow cutting is steadier than this says, and nothing below it is promised to be quiet.";

/// The switch for the bands round the curves.
pub const BANDS: &str = "Bands";
/// What a band is.
pub const BANDS_HINT: &str = "Between what each curve may lie: force, push and every stiffness that is assumed are not known better. In nine cases of ten, as far as the stated spreads go.";

/// Shows the plots, each under a line with its name (a click hides it) and its values at the cursor; the names of the
/// hidden ones stand together in one last line.
///
/// Writes `view.plot_x_range`, and on hover and wheel `view.cursor_z_mm` and `view.z_view_mm`; a click puts the tool
/// at that place.
pub fn curves_ui(ui: &mut Ui, job: &Job, view: &mut View, results: &Results, palette: &Palette, out: &mut Commands) {
    let margin = egui::Margin { left: 6, right: 10, top: 2, bottom: 0 };
    egui::Frame::new().inner_margin(margin).show(ui, |ui| stack_ui(ui, job, view, results, palette, out));
}

fn stack_ui(ui: &mut Ui, job: &Job, view: &mut View, results: &Results, palette: &Palette, out: &mut Commands) {
    ui.spacing_mut().item_spacing.y = 0.0;
    let Some(look) = Look::of(job, view, results, palette) else {
        ui.weak("This set-up is no longer there.");
        return;
    };
    let draw = [size::drawn, spring::drawn, shape::drawn, turning::drawn, depths::drawn];

    // The first heading reaches up into room of its own.
    ui.add_space(REACH);
    let heading_height = if results.compared.pinned.is_empty() { HEADING_HEIGHT } else { PINNED_HEIGHT };
    let least = heading_height + LEAST_PLOT_HEIGHT;
    let room = ui.available_height() - Z_AXIS_HEIGHT;
    // Where all are shown there is no last line with the names of hidden ones.
    let all_fit = room >= N_CURVES as f32 * least;
    let n_fitting = if all_fit { N_CURVES } else { ((room - HEADING_HEIGHT) / least).max(1.0) as usize };
    let mut n_left = n_fitting;
    // Of those that are wanted the first ones that have room.
    let shown = view.curves_shown.map(|wanted| {
        let shown = wanted && n_left > 0;
        n_left -= usize::from(shown);
        shown
    });
    let n_shown = shown.iter().filter(|shown| **shown).count();
    let last_shown = shown.iter().rposition(|shown| *shown);
    let hidden_height = if n_shown < N_CURVES { HEADING_HEIGHT } else { 0.0 };
    let spare = ui.available_height() - heading_height * n_shown as f32 - hidden_height - Z_AXIS_HEIGHT;
    let all_shares: f32 = SHARES.iter().zip(shown).filter(|(_, shown)| *shown).map(|(share, _)| share).sum();

    let mut cursor = None;
    let mut is_first = true;
    let drawn: Vec<(usize, Drawn)> =
        draw.iter().enumerate().filter(|(index, _)| shown[*index]).map(|(index, draw)| (index, draw(&look))).collect();
    for (index, drawn) in drawn {
        let (heading, _) = ui.allocate_exact_size(vec2(ui.available_width(), heading_height), Sense::hover());
        let is_last = last_shown == Some(index);
        let height = (spare * SHARES[index] / all_shares).max(LEAST_PLOT_HEIGHT);
        let height = height + if is_last { Z_AXIS_HEIGHT } else { 0.0 };
        let shown_plot = plot::plot_ui(ui, TITLES[index], &drawn, view, palette, job.units, height, is_last);
        // After its plot, over whose edge it is pressed.
        let line = heading.expand2(vec2(0.0, (theme::TARGET - heading_height) / 2.0));
        heading_ui(ui, line, (index, is_first), &drawn, &results.compared.pinned, view, palette, out);
        cursor = cursor.or(shown_plot.hover_z_mm);
        if is_first {
            let moved = view.plot_x_range.is_none_or(|range| {
                (range.min - shown_plot.frame_x.min).abs() > 0.1 || (range.max - shown_plot.frame_x.max).abs() > 0.1
            });
            if moved {
                // The bench above was drawn for the plots as they lay before: draw this frame once more.
                ui.ctx().request_discard("the plots' frame moved");
            }
            view.plot_x_range = Some(shown_plot.frame_x);
            is_first = false;
        }
    }
    if n_shown < N_CURVES {
        hidden_ui(ui, shown, view);
    }
    if n_shown == 0 {
        ui.weak("All curves are hidden; click a name to show one.");
    }
    share_cursor(ui, view, cursor);
}

/// The pointer over a plot sets the common cursor; leaving the plots takes it away once, so that the bench may set it.
fn share_cursor(ui: &Ui, view: &mut View, cursor_z_mm: Option<f64>) {
    let id = ui.scope_id().with("cursor_is_ours");
    let was_ours: bool = ui.data(|data| data.get_temp(id)).unwrap_or(false);
    if cursor_z_mm.is_some() {
        view.cursor_z_mm = cursor_z_mm;
    } else if was_ours {
        view.cursor_z_mm = None;
    }
    if was_ours != cursor_z_mm.is_some() {
        ui.data_mut(|data| data.insert_temp(id, cursor_z_mm.is_some()));
    }
}

/// One line with the names of all that is hidden.
fn hidden_ui(ui: &mut Ui, shown: [bool; N_CURVES], view: &mut View) {
    let (line, _) = ui.allocate_exact_size(vec2(ui.available_width(), HEADING_HEIGHT), Sense::hover());
    // Under the numbers of the last plot, which nobody presses.
    line_ui(ui, line.with_min_y(line.bottom() - theme::TARGET), |ui| {
        for index in (0..N_CURVES).filter(|index| !shown[*index]) {
            ui.checkbox(&mut view.curves_shown[index], TITLES[index]);
        }
    });
}

/// What stands beside one another in a line as high as a target.
fn line_ui(ui: &mut Ui, line: Rect, contents: impl FnOnce(&mut Ui)) {
    let mut ui = ui.new_child(UiBuilder::new().max_rect(line).layout(Layout::left_to_right(Align::Center)));
    ui.spacing_mut().interact_size.y = theme::TARGET;
    ui.spacing_mut().button_padding.y = 1.0;
    contents(&mut ui);
}

/// One line: the plot's name as a switch, the values at the cursor, and what each line means; under these, where
/// arrangements are pinned, their letters and names.
#[expect(clippy::too_many_arguments, reason = "a line of one plot; a struct would be built for this call only")]
fn heading_ui(
    ui: &mut Ui,
    line: Rect,
    (index, is_first): (usize, bool),
    drawn: &Drawn,
    pinned: &[Pinned],
    view: &mut View,
    palette: &Palette,
    out: &mut Commands,
) {
    line_ui(ui, line, |ui| {
        let spacing = std::mem::replace(&mut ui.spacing_mut().item_spacing.x, 0.0);
        let name = ui.checkbox(&mut view.curves_shown[index], RichText::new(TITLES[index]).strong());
        if index == DEPTHS {
            name.on_hover_text(DEPTHS_HINT);
        }
        // The values behind it are not pressed, another switch is.
        let width = if is_first { theme::TARGET } else { MARK_WIDTH };
        mark_ui(ui, width, (FIGURES[index], TITLES[index]), out);
        if is_first {
            ui.checkbox(&mut view.bands_shown, BANDS).on_hover_text(BANDS_HINT);
            ui.add_space(spacing);
        }
        ui.spacing_mut().item_spacing.x = spacing;
        let room = line.with_min_x(ui.cursor().left());
        let are_pinned: Vec<&Pinned> = pinned.iter().filter(|pinned| drawn.has_pinned(pinned.letter)).collect();
        if are_pinned.is_empty() {
            values_ui(ui, room, drawn, palette);
            return;
        }
        let (upper, lower) = room.split_top_bottom_at_fraction(0.5);
        values_ui(ui, upper, drawn, palette);
        pins_ui(ui, lower, &are_pinned, palette);
    });
}

/// The values at the cursor, and what each line and band of the present arrangement means.
fn values_ui(ui: &mut Ui, room: Rect, drawn: &Drawn, palette: &Palette) {
    let font = egui::TextStyle::Small.resolve(ui.style());
    let n_fitting = |readout: &str| {
        let words = ui.painter().layout_no_wrap(readout.to_owned(), font.clone(), palette.ink);
        let mut left = room.width() - words.size().x - 12.0;
        let fits = |entry: &&drawn::LegendEntry| {
            left -= plot::legend_width(ui, entry);
            left >= 0.0
        };
        drawn.legend.iter().take_while(fits).count()
    };
    let mut readout = drawn.readout.as_str();
    let mut n_legend = n_fitting(readout);
    // Words never push out what a line means.
    let bare = drawn.shorter_readouts.last().and_then(|last| Some(last.split_once(": ")?.1));
    for shorter in drawn.shorter_readouts.iter().map(String::as_str).chain(bare) {
        let n_with_shorter = n_fitting(shorter);
        if n_with_shorter > n_legend {
            (readout, n_legend) = (shorter, n_with_shorter);
        }
    }
    let readout = RichText::new(readout).small();
    let fitting = &drawn.legend[..n_legend];
    let from_right = UiBuilder::new().max_rect(room).layout(Layout::right_to_left(Align::Center));
    ui.scope_builder(from_right, |ui| {
        ui.spacing_mut().interact_size.y = 0.0;
        for entry in fitting.iter().rev() {
            plot::legend_ui(ui, entry, palette);
        }
        ui.with_layout(Layout::left_to_right(Align::Center), |ui| {
            ui.add(egui::Label::new(readout).truncate().selectable(false));
        });
    });
}

/// The line, letter and name of every pinned arrangement that is drawn. Each has an equal share of the room; a name that
/// is longer ends in dots and is told whole at the pointer.
fn pins_ui(ui: &mut Ui, room: Rect, pinned: &[&Pinned], palette: &Palette) {
    let share = room.width() / pinned.len() as f32;
    for (number, pinned) in pinned.iter().enumerate() {
        let left = room.left() + number as f32 * share;
        let room = Rect::from_x_y_ranges(left..=left + share, room.y_range());
        ui.scope_builder(UiBuilder::new().max_rect(room).layout(Layout::left_to_right(Align::Center)), |ui| {
            ui.spacing_mut().interact_size.y = 0.0;
            ui.spacing_mut().item_spacing.x = 4.0;
            plot::pin_legend_ui(ui, pinned, palette);
        });
    }
}
