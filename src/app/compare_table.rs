//! The table of arrangements in a window of its own over the bench: the present one and those pinned, a row a figure, the
//! best of a row marked; each can be named, changed places with and let go, and the table saved as CSV.

use std::path::{Path, PathBuf};

use egui::{Align, Button, Context, Grid, Id, Label, Layout, RichText, ScrollArea, Ui, WidgetInfo, vec2};

use super::comparing::{ComparedAll, Name};
use super::curves::pin_sample_ui;
use super::entry::Named;
use super::fields::words_ui;
use super::figure::{Words, words_ui as figure_ui};
use super::files::{self, Purpose};
use super::questions::Question;
use super::sheets::PathFrom;
use super::window::MidspanApp;
use super::{Action, Commands, Palette, theme};
use crate::advice::compared::Cell;
use crate::job::pins::LETTERS;
use crate::job::{Job, Pinning};
use crate::sheet::comparison::csv;
use crate::sheet::save::FileKind;

/// Width of the field of a name.
const NAME_WIDTH: f32 = 138.0;
/// Width of the first column, and of the others.
const ROW_NAME_WIDTH: f32 = 190.0;
const CELL_WIDTH: f32 = 194.0;
/// The buttons at the foot need so much.
const LEAST_WIDTH: f32 = 470.0;
/// Said before a file is written over.
const IS_THERE: &str = "There is a file of that name. Press Save again to replace it.";

/// Shows the table, if it is open.
pub fn compare_table_ui(ctx: &Context, job: &Job, all: &ComparedAll, can_save: bool, out: &mut Commands) {
    let mut open = true;
    let room = ctx.content_rect();
    let width = (ROW_NAME_WIDTH + 40.0 + (all.pinned.len() + 1) as f32 * (CELL_WIDTH + 14.0)).max(LEAST_WIDTH);
    let width = width.min(room.width() - 40.0);
    egui::Window::new("Table of arrangements")
        .id(Id::unique("arrangements compared"))
        .frame(theme::question_frame(ctx))
        .collapsible(false)
        .resizable(false)
        .constrain(true)
        .title_bar(false)
        .default_pos(room.left_bottom() + vec2(300.0, -480.0))
        .min_width(width)
        .max_width(width)
        .show(ctx, |ui| {
            ui.heading("Arrangements compared");
            ScrollArea::horizontal().show(ui, |ui| table_ui(ui, all, out));
            foot_ui(ui, job, all, can_save, out, &mut open);
        });
    if !open {
        out.actions.push(Action::Compare);
    }
}

fn table_ui(ui: &mut Ui, all: &ComparedAll, out: &mut Commands) {
    let palette = Palette::for_ui(ui);
    Grid::new("arrangements").num_columns(all.pinned.len() + 2).striped(true).spacing(vec2(14.0, 4.0)).show(ui, |ui| {
        ui.label("");
        ui.strong("Present");
        for pinned in &all.pinned {
            ui.horizontal(|ui| {
                ui.strong(pinned.letter());
                pin_sample_ui(ui, pinned.letter, &palette);
            });
        }
        ui.end_row();
        ui.weak("Name");
        name_ui(ui, None, &all.present_name, out);
        for pinned in &all.pinned {
            name_ui(ui, Some(pinned.letter), &pinned.name, out);
        }
        ui.end_row();
        for row in &all.rows {
            match row.figure {
                Some(figure) => {
                    let name = Words::new(0.0..=ROW_NAME_WIDTH, RichText::new(row.name).weak()).signed();
                    figure_ui(ui, ROW_NAME_WIDTH, (figure, row.name), "", &[name], out);
                }
                None => drop(ui.weak(row.name)),
            }
            for cell in &row.cells {
                cell_ui(ui, cell);
            }
            ui.end_row();
        }
        ui.label("");
        ui.label("");
        for pinned in &all.pinned {
            let letter = pinned.letter();
            ui.horizontal(|ui| {
                let words = format!("Change places with {letter}");
                let button = ui.button("Change places").on_hover_text(
                    "This becomes the present arrangement, and the present one is pinned in its place. Undo takes it back.",
                );
                button.widget_info(|| WidgetInfo::labeled(egui::Role::Button, true, &words));
                if button.clicked() {
                    out.pinning.push(Pinning::Swap(pinned.letter));
                }
                let button = ui.button("Unpin");
                let words = format!("Unpin {letter}");
                button.widget_info(|| WidgetInfo::labeled(egui::Role::Button, true, &words));
                if button.clicked() {
                    out.pinning.push(Pinning::LetGo(pinned.letter));
                }
            });
        }
        ui.end_row();
    });
}

fn name_ui(ui: &mut Ui, letter: Option<usize>, name: &Name, out: &mut Commands) {
    let label =
        letter.map_or("Name of the present arrangement".to_owned(), |letter| format!("Name of {}", LETTERS[letter]));
    let id = Id::unique(("name of an arrangement", letter));
    ui.vertical(|ui| {
        if let Some(new) = words_ui(ui, id, &name.given, NAME_WIDTH, "give it a name", &Named::As(&label)) {
            out.pinning.push(Pinning::Rename(letter, new.trim().to_owned()));
        }
    });
}

fn cell_ui(ui: &mut Ui, cell: &Cell) {
    ui.vertical(|ui| {
        ui.spacing_mut().item_spacing.y = 0.0;
        ui.set_width(CELL_WIDTH);
        let text = RichText::new(&cell.text);
        if cell.is_best {
            ui.add(Label::new(text.strong()).wrap());
            ui.label(RichText::new("\u{2022} best").small().strong());
        } else {
            ui.add(Label::new(text).wrap());
        }
        if !cell.between.is_empty() {
            ui.label(RichText::new(&cell.between).small().weak());
        }
    });
}

fn foot_ui(ui: &mut Ui, job: &Job, all: &ComparedAll, can_save: bool, out: &mut Commands, open: &mut bool) {
    let words = if all.is_stale {
        "Being worked out\u{2026}"
    } else if all.pinned.is_empty() {
        "Nothing is pinned yet: pin this arrangement, change it, and compare."
    } else if job.setups.len() > 1 {
        "Of the set-up looked at; what is found is of the whole job. Each arrangement holds the shaft as it is drawn now."
    } else {
        "Each arrangement holds the shaft as it is drawn now. Estimates; where ranges overlap, neither is surely better."
    };
    ui.add(Label::new(RichText::new(words).small().weak()).wrap());
    ui.horizontal(|ui| {
        let free = all.pinned.len() < LETTERS.len();
        if ui.add_enabled(free, Button::new("Pin this arrangement")).clicked() {
            out.pinning.push(Pinning::Pin);
        }
        let can_save = can_save && !all.is_stale;
        if ui.add_enabled(can_save, Button::new("Save as CSV\u{2026}")).clicked() {
            out.actions.push(Action::SaveComparison);
        }
        ui.with_layout(Layout::right_to_left(Align::Center), |ui| *open = !ui.button("Close the table").clicked());
    });
}

impl MidspanApp {
    /// Asks where the table is to be saved.
    pub(super) fn ask_to_save_comparison(&mut self, ctx: &Context) {
        self.ask_for_file(ctx, Purpose::Comparison);
    }

    /// Saves the table, or asks again where that cannot be done yet.
    pub(super) fn save_comparison(&mut self, path: PathBuf, from: PathFrom) {
        let path = files::with_ending(path, FileKind::Csv.ending());
        let is_asked = match from {
            PathFrom::Dialog => true,
            PathFrom::Typed { replace } => replace,
        };
        let ask = |path: &Path, sentence: String, replace: bool| Question::Path {
            purpose: Purpose::Comparison,
            text: path.display().to_string(),
            sentence,
            replace,
            then: None,
        };
        if !is_asked && path.exists() {
            self.question = Some(ask(&path, IS_THERE.to_owned(), true));
            return;
        }
        let (job, results, _) = self.desk.parts();
        let all = &results.compared;
        let present = format!("Present: {}", all.present_name.shown());
        let pinned = all.pinned.iter().map(|pinned| format!("{}: {}", pinned.letter(), pinned.name.shown()));
        let names: Vec<String> = std::iter::once(present).chain(pinned).collect();
        let text = csv(&job.title, &names, &all.rows);
        match (std::fs::write(&path, text), from) {
            (Ok(()), _) => self.desk.say(format!("Saved to {}", path.display())),
            (Err(error), PathFrom::Dialog) => self.desk.warn(format!("{}: {error}", path.display())),
            (Err(error), PathFrom::Typed { .. }) => {
                self.question = Some(ask(&path, format!("{}: {error}", path.display()), false));
            }
        }
    }
}
