//! The list of keys and of what the mouse does, over the window. The keys come from the table they are taken from.

use egui::{Context, Grid, Id, Modal, RichText, ScrollArea, Ui};

use super::commands::SHORTCUTS;
use super::{Action, theme};

/// Keys that belong to a place on the window, not to an action.
const PLACE_KEYS: &[(&str, &str)] = &[
    ("Tab, Shift+Tab", "to the next thing, or back to the last"),
    ("Left, Right", "move what is selected, with Shift by ten"),
    ("Up, Down", "step the number or the diameter one is at"),
    ("Shift+F10", "the menu of the land one is at"),
    ("Ctrl+C, Ctrl+V", "copy and paste the table of lands"),
    ("Enter", "enters what was typed, or presses"),
    ("Esc", "puts back, gives up, goes back"),
];

/// What the mouse does.
const GESTURES: &[(&str, &str)] = &[
    ("Drag on the bench", "moves rests, tool, tailstock, the shaft's grips, ends of passes"),
    ("there, with Alt or Shift", "lets it stand anywhere"),
    ("there, well past an edge", "takes a rest where its row is hatched"),
    ("Click a thing or its row", "shows its values at the left"),
    ("Click the work", "gives its shoulders and sizes grips"),
    ("Right click on the work", "splits, joins, puts a thread there"),
    ("Click a curve", "puts the tool there"),
    ("Right click on the bed", "adds a steady rest there, and more"),
    ("Wheel", "zooms about the pointer"),
    ("Drag the bed or a curve", "moves along the bed"),
    ("Double click there", "fits everything in view"),
    ("Drop a job file", "opens it"),
];

/// Width of the keys, in points.
const KEYS_WIDTH: f32 = 160.0;

/// Every action with its keys, as they are printed on this desktop, and what it does.
#[must_use]
pub fn keys_told(ctx: &Context) -> Vec<(String, &'static str)> {
    let mut rows: Vec<(Action, String, &'static str)> = Vec::new();
    for (keys, action, does) in SHORTCUTS {
        let keys = ctx.format_shortcut(keys);
        match rows.iter_mut().find(|row| row.0 == *action) {
            Some(row) => row.1 = format!("{}, {keys}", row.1),
            None => rows.push((*action, keys, does)),
        }
    }
    rows.into_iter().map(|(_, keys, does)| (keys, does)).collect()
}

/// Shows the list; true once it is to be closed.
pub fn key_list_ui(ctx: &Context) -> bool {
    let modal = Modal::new(Id::unique("keys and mouse")).frame(theme::question_frame(ctx)).show(ctx, |ui| {
        let room = ui.ctx().content_rect();
        ui.set_width(900.0_f32.min(room.width() - 60.0));
        ui.heading("Keys and mouse");
        let height = room.height() - 130.0;
        ScrollArea::vertical().max_height(height).min_scrolled_height(height).show(ui, |ui| {
            ui.columns(2, |sides| {
                table_ui(&mut sides[0], "Keys", keys_told(ctx).iter().map(|(keys, does)| (keys.as_str(), *does)));
                table_ui(&mut sides[1], "Mouse", GESTURES.iter().copied());
                let places = PLACE_KEYS.iter().copied();
                table_ui(&mut sides[1], "Keys on the bench, in fields and questions", places);
            });
        });
        ui.add_space(6.0);
        let close = ui.button("Close");
        if ui.memory(|memory| memory.focused().is_none()) {
            close.request_focus();
        }
        close.clicked() || ui.input(|input| input.key_pressed(egui::Key::F1))
    });
    modal.should_close() || modal.inner
}

fn table_ui<'a>(ui: &mut Ui, title: &str, rows: impl Iterator<Item = (&'a str, &'a str)>) {
    ui.add_space(4.0);
    ui.label(RichText::new(title).strong());
    Grid::new(title).num_columns(2).spacing([14.0, 3.0]).min_col_width(KEYS_WIDTH).min_row_height(0.0).show(ui, |ui| {
        for (keys, does) in rows {
            ui.label(keys);
            ui.add(egui::Label::new(RichText::new(does).weak()).wrap());
            ui.end_row();
        }
    });
}
