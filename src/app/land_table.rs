//! The table of the finished part's lands, as details and the form of a new job show it: every land a row to be typed
//! in, or a few narrow lines; copied to and pasted from a spreadsheet as tab-separated text.

use egui::text::{CCursor, CCursorRange};
use egui::text_edit::TextEditState;
use egui::{Event, Id, RichText, Ui, ViewportCommand, vec2};

use super::entry::{Entry, FIELD_HEIGHT, Named, count_refused, error_ui};
use super::fields::words_ui;
use crate::job::Units;
use crate::job::land_row::LandRow;
use crate::job::land_text::{self, Column};

/// Width of a cell in details, and in the form.
const NARROW: f32 = 78.0;
const WIDE: f32 = 88.0;
/// Width of the land's number.
const NUMBER: f32 = 24.0;
/// Between cells.
const GAP: f32 = 4.0;
/// So many of what is wrong with a pasted table are told.
const MOST_TOLD: usize = 4;

/// The lines of a land where there is no room for one.
const LINES: [&[Column]; 3] = [
    &[Column::Length, Column::Diameter, Column::AtItsEnd],
    &[Column::Tolerance, Column::Use],
    &[Column::Bore, Column::Thread, Column::Keyway],
];

/// A table to be drawn.
pub struct LandTable<'a> {
    pub units: Units,
    /// What a land is called for a screen reader: "Wanted land".
    pub land: &'a str,
    /// All cells of a land in one row.
    pub wide: bool,
    pub selected: Option<usize>,
    /// What is wrong with a land besides what is typed in its cells.
    pub fault: &'a dyn Fn(usize) -> Option<String>,
}

/// What was done in a table.
#[derive(Clone, Debug, PartialEq)]
pub enum TableChange {
    /// Another land is looked at.
    Select(usize),
    /// A cell was typed in.
    Typed(Vec<LandRow>),
    /// The table was pasted over.
    Pasted(Vec<LandRow>),
    Add(usize),
    Split(usize),
    Remove(usize),
}

impl LandTable<'_> {
    /// Draws the rows and the buttons under them. Copy and paste by key hold while no field has the keyboard.
    pub fn show(&self, ui: &mut Ui, rows: &[LandRow]) -> Option<TableChange> {
        ui.scope(|ui| {
            ui.spacing_mut().item_spacing.x = GAP;
            self.table_ui(ui, rows)
        })
        .inner
    }

    fn table_ui(&self, ui: &mut Ui, rows: &[LandRow]) -> Option<TableChange> {
        let mut change = self.pasted(ui, rows);
        if self.wide {
            let heads = land_text::COLUMNS.map(Column::name);
            ui.horizontal(|ui| {
                ui.add_space(NUMBER + GAP);
                for head in heads {
                    head_ui(ui, head, self.cell_width());
                }
            });
        } else if !rows.is_empty() {
            ui.horizontal(|ui| {
                ui.add_space(NUMBER + GAP);
                for column in LINES[0] {
                    head_ui(ui, column.name(), self.cell_width());
                }
            });
        }
        for (index, row) in rows.iter().enumerate() {
            let mut typed = row.clone();
            let (selected, errors) = self.row_ui(ui, index, &mut typed);
            for error in errors.iter().chain(&(self.fault)(index)) {
                error_ui(ui, Some(error));
            }
            if typed != *row {
                let mut rows = rows.to_vec();
                rows[index] = typed;
                change = Some(TableChange::Typed(rows));
            } else if selected {
                change = Some(TableChange::Select(index));
            }
        }
        let pressed = self.buttons_ui(ui, rows);
        change.or(pressed)
    }

    fn cell_width(&self) -> f32 {
        if self.wide { WIDE } else { NARROW }
    }

    /// The cells of a land. Gives back whether its number was pressed, and what is wrong in its cells.
    fn row_ui(&self, ui: &mut Ui, index: usize, row: &mut LandRow) -> (bool, Vec<String>) {
        let is_selected = self.selected == Some(index);
        let has_more = row.bore_mm.is_some() || row.thread_mm.is_some() || row.keyway.is_some();
        let lines: &[&[Column]] = match (self.wide, is_selected || has_more) {
            (true, _) => &[&land_text::COLUMNS],
            (false, true) => &LINES,
            (false, false) => &LINES[..2],
        };
        let (mut pressed, mut errors) = (false, Vec::new());
        for (line, columns) in lines.iter().enumerate() {
            ui.horizontal(|ui| {
                if line == 0 {
                    let number = egui::Button::selectable(is_selected, format!("{}", index + 1));
                    let place = ui.scope(|ui| {
                        ui.spacing_mut().button_padding.x = 1.0;
                        ui.add_sized(vec2(NUMBER, FIELD_HEIGHT), number)
                    });
                    let response = place.inner;
                    pressed = response.on_hover_text(format!("{} {}", self.land, index + 1)).clicked();
                } else {
                    ui.add_space(NUMBER + GAP);
                }
                for column in *columns {
                    let name = format!("{} {} {}", self.land, index + 1, spoken(*column));
                    let error = match column.kind() {
                        Some(_) if *column != Column::Bore => self.number_ui(ui, &name, *column, row),
                        _ => self.text_ui(ui, &name, *column, row),
                    };
                    errors.extend(error.map(|error| format!("{name}: {error}")));
                }
            });
        }
        (pressed, errors)
    }

    /// A size, stepped by arrow keys as every number is.
    fn number_ui(&self, ui: &mut Ui, name: &str, column: Column, row: &mut LandRow) -> Option<String> {
        let (kind, land) = (column.kind()?, &mut row.wanted.land);
        let is_cylinder = land.start_diameter_mm.to_bits() == land.end_diameter_mm.to_bits();
        let value_mm = match column {
            Column::Length => land.length_mm,
            Column::AtItsEnd => land.end_diameter_mm,
            _ => land.start_diameter_mm,
        };
        let id = ui.make_persistent_id((name, "cell"));
        let (units, width) = (self.units, self.cell_width());
        let entered =
            Entry { id, named: Named::As(name), value: value_mm, kind, units, width, assumed: false }.show(ui);
        if let Some(new_mm) = entered.value {
            match column {
                Column::Length => land.length_mm = new_mm,
                Column::AtItsEnd => land.end_diameter_mm = new_mm,
                _ => land.start_diameter_mm = new_mm,
            }
            if column == Column::Diameter && is_cylinder {
                land.end_diameter_mm = new_mm;
            }
        }
        entered.error
    }

    /// A cell of words; a text that cannot be taken stays as it was typed.
    fn text_ui(&self, ui: &mut Ui, name: &str, column: Column, row: &mut LandRow) -> Option<String> {
        let id = ui.make_persistent_id((name, "words"));
        let refused_id = id.with("refused");
        let refused: Option<String> = ui.data(|data| data.get_temp(refused_id));
        let shown = refused.clone().unwrap_or_else(|| column.shown(row, self.units));
        let width = if column == Column::Use && !self.wide { 2.0 * NARROW + GAP } else { self.cell_width() };
        let typed = words_ui(ui, id, &shown, width, column.name(), &Named::As(name));
        if ui.ctx().read_response(id).is_some_and(|field| field.gained_focus())
            && !ui.input(|input| input.pointer.any_down())
        {
            // Reached by Tab, it is typed over, as a number is.
            let mut state = TextEditState::load(ui.ctx(), id).unwrap_or_default();
            let all = CCursorRange::two(CCursor::new(0), CCursor::new(shown.chars().count()));
            state.cursor.set_char_range(Some(all));
            state.store(ui.ctx(), id);
        }
        let text = typed.or(refused)?;
        match column.take(&text, row, self.units) {
            Ok(()) => {
                ui.data_mut(|data| data.remove_temp::<String>(refused_id));
                None
            }
            Err(error) => {
                count_refused(ui.ctx());
                ui.data_mut(|data| data.insert_temp(refused_id, text));
                Some(error.to_string())
            }
        }
    }

    fn buttons_ui(&self, ui: &mut Ui, rows: &[LandRow]) -> Option<TableChange> {
        let chosen = self.selected.filter(|land| *land < rows.len()).unwrap_or(rows.len().saturating_sub(1));
        let mut change = None;
        let name = |what: &str| format!("{what} a {}", self.land.to_lowercase());
        ui.horizontal_wrapped(|ui| {
            let add = ui.button("Add").on_hover_text("A land behind the one selected, or at the end");
            if add.accessible_name(name("Add")).clicked() {
                change = Some(TableChange::Add(chosen));
            }
            let any = !rows.is_empty();
            let split =
                ui.add_enabled(any, egui::Button::new("Split")).on_hover_text("Divide the land selected in two");
            if split.accessible_name(name("Split")).clicked() {
                change = Some(TableChange::Split(chosen));
            }
            let may_remove = if self.wide { rows.len() > 1 } else { any };
            let remove = ui.add_enabled(may_remove, egui::Button::new("Remove")).on_hover_text("The land selected");
            if remove.accessible_name(name("Remove")).clicked() {
                change = Some(TableChange::Remove(chosen));
            }
            let copy = ui.add_enabled(any, egui::Button::new("Copy table"));
            let by_key = !ui.ctx().text_edit_focused() && ui.input(|input| input.events.contains(&Event::Copy));
            if copy.on_hover_text("All lands, for a spreadsheet (Ctrl+C)").clicked() || (by_key && any) {
                ui.ctx().copy_text(land_text::written(rows, self.units));
            }
            let paste = ui.button("Paste table");
            let hint = "Lands from a spreadsheet, with or without its header, over this table (Ctrl+V)";
            if paste.on_hover_text(hint).clicked() {
                ui.ctx().send_viewport_cmd(ViewportCommand::RequestPaste);
            }
        });
        let told: Vec<String> = ui.data(|data| data.get_temp(wrong_id(self.land))).unwrap_or_default();
        for sentence in told.iter().take(MOST_TOLD) {
            error_ui(ui, Some(sentence));
        }
        if told.len() > MOST_TOLD {
            error_ui(ui, Some(&format!("and {} more. Nothing was changed.", told.len() - MOST_TOLD)));
        } else if !told.is_empty() {
            error_ui(ui, Some("Nothing was changed."));
        }
        if change.is_some() {
            ui.data_mut(|data| data.remove_temp::<Vec<String>>(wrong_id(self.land)));
        }
        change
    }

    /// A table that came from the clipboard, whole and right; what is wrong is kept to be told. A single cell belongs to
    /// the field that has the keyboard.
    fn pasted(&self, ui: &Ui, rows: &[LandRow]) -> Option<TableChange> {
        let in_text = ui.ctx().text_edit_focused();
        let text = ui.input_mut(|input| {
            let is_table =
                |event: &Event| matches!(event, Event::Paste(text) if !in_text || text.trim().contains(['\t', '\n']));
            let at = input.events.iter().position(is_table)?;
            if let Event::Paste(text) = input.events.remove(at) { Some(text) } else { None }
        })?;
        let read = land_text::read(&text, self.units);
        let (pasted, wrong) = match read {
            Ok(new) if new == rows => (None, Vec::new()),
            Ok(new) => (Some(TableChange::Pasted(new)), Vec::new()),
            Err(wrong) => (None, wrong),
        };
        ui.data_mut(|data| data.insert_temp(wrong_id(self.land), wrong));
        pasted
    }
}

fn head_ui(ui: &mut Ui, words: &str, width: f32) {
    let (rect, _) = ui.allocate_exact_size(vec2(width, 16.0), egui::Sense::hover());
    let label = egui::Label::new(RichText::new(words).weak().small()).halign(egui::Align::Min).truncate();
    ui.put(rect, label);
}

/// What a cell is called after its land.
fn spoken(column: Column) -> &'static str {
    match column {
        Column::AtItsEnd => "diameter at its end",
        Column::Use => "is for",
        other => other.name(),
    }
}

fn wrong_id(land: &str) -> Id {
    Id::unique("what is wrong with the pasted table").with(land)
}
