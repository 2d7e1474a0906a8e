//! The two tables of the shaft: the lands of the stock and those of the finished part.

use egui::{Grid, RichText, Ui};

use crate::app::entry::{Entry, Named, error_ui};
use crate::app::fields::Fields;
use crate::app::land_table::{LandTable, TableChange};
use crate::app::{Selected, View};
use crate::job::land_row::LandRow;
use crate::job::quantity::Kind;
use crate::job::{Edit, Land, Reshape, Shaft, Tolerance, Units, WantedLand};

const CELL: f32 = 76.0;

/// A number in a cell of a table, entered on leaving it. Any reason against it is put into `errors`.
fn cell(ui: &mut Ui, units: Units, name: &str, value: f64, kind: Kind, errors: &mut Vec<String>) -> Option<f64> {
    let id = ui.make_persistent_id((name, "cell"));
    let entered = Entry { id, named: Named::As(name), value, kind, units, width: CELL, assumed: false }.show(ui);
    if let Some(error) = entered.error {
        errors.push(format!("{name}: {error}"));
    }
    entered.value
}

/// The number of a land, pressed to select it.
fn number_ui(ui: &mut Ui, view: &mut View, selected: Selected, index: usize, what: &str) {
    let name = format!("{}", index + 1);
    let response = ui.selectable_label(view.selected == selected, name);
    if response.on_hover_text(format!("{what} land {}", index + 1)).clicked() {
        view.selected = selected;
    }
}

fn header_ui(ui: &mut Ui, words: &[&str]) {
    for word in words {
        ui.label(RichText::new(*word).weak().small());
    }
    ui.end_row();
}

/// What is done to the land selected.
enum Change {
    Add,
    Split,
    Remove,
}

fn buttons_ui(ui: &mut Ui, may_remove: bool, what: &str) -> Option<Change> {
    ui.horizontal(|ui| {
        let add = ui.button("Add").on_hover_text("A land after the one selected, or at end B");
        if add.accessible_name(format!("Add a {what} land")).clicked() {
            return Some(Change::Add);
        }
        let split = ui.button("Split").on_hover_text("Divide the land selected in two");
        if split.accessible_name(format!("Split a {what} land")).clicked() {
            return Some(Change::Split);
        }
        let remove = ui.add_enabled(may_remove, egui::Button::new("Remove")).on_hover_text("The land selected");
        remove.accessible_name(format!("Remove a {what} land")).clicked().then_some(Change::Remove)
    })
    .inner
}

/// The lands of the stock.
pub fn stock_ui(fields: &mut Fields<'_>, shaft: &mut Shaft, view: &mut View) {
    let (units, mut changed, mut errors) = (fields.units, false, Vec::new());
    Grid::new("stock lands").num_columns(4).min_col_width(0.0).spacing([6.0, 4.0]).show(fields.ui, |ui| {
        header_ui(ui, &["", "length", "diameter", "at its end"]);
        for (index, land) in shaft.stock.iter_mut().enumerate() {
            number_ui(ui, view, Selected::StockLand(index), index, "Stock");
            changed |= land_cells(ui, units, &format!("Stock land {}", index + 1), land, &mut errors);
            ui.end_row();
        }
    });
    error_ui(fields.ui, errors.first().map(String::as_str));
    let chosen = match view.selected {
        Selected::StockLand(index) if index < shaft.stock.len() => index,
        _ => shaft.stock.len().saturating_sub(1),
    };
    let change = fields.ui.push_id("stock buttons", |ui| buttons_ui(ui, shaft.stock.len() > 1, "stock")).inner;
    if let (Some(change), Some(land)) = (change, shaft.stock.get(chosen).copied()) {
        changed = true;
        match change {
            Change::Add => shaft
                .stock
                .insert(chosen + 1, Land { length_mm: 50.0, start_diameter_mm: land.end_diameter_mm, ..land }),
            Change::Split => {
                let (first, second) = halves(land);
                shaft.stock[chosen] = first;
                shaft.stock.insert(chosen + 1, second);
            }
            Change::Remove => {
                shaft.stock.remove(chosen);
            }
        }
    }
    fields.changed |= changed;
}

/// Length and both diameters; a cylinder stays one while only its first diameter is typed.
fn land_cells(ui: &mut Ui, units: Units, name: &str, land: &mut Land, errors: &mut Vec<String>) -> bool {
    let mut changed = false;
    if let Some(new) = cell(ui, units, &format!("{name} length"), land.length_mm, Kind::Length, errors) {
        land.length_mm = new;
        changed = true;
    }
    let cylinder = land.start_diameter_mm.to_bits() == land.end_diameter_mm.to_bits();
    if let Some(new) = cell(ui, units, &format!("{name} diameter"), land.start_diameter_mm, Kind::Diameter, errors) {
        land.start_diameter_mm = new;
        if cylinder {
            land.end_diameter_mm = new;
        }
        changed = true;
    }
    let end = format!("{name} diameter at its end");
    if let Some(new) = cell(ui, units, &end, land.end_diameter_mm, Kind::Diameter, errors) {
        land.end_diameter_mm = new;
        changed = true;
    }
    changed
}

fn halves(land: Land) -> (Land, Land) {
    let middle_mm = 0.5 * (land.start_diameter_mm + land.end_diameter_mm);
    let half_mm = 0.5 * land.length_mm;
    (
        Land { length_mm: half_mm, start_diameter_mm: land.start_diameter_mm, end_diameter_mm: middle_mm },
        Land { length_mm: half_mm, start_diameter_mm: middle_mm, end_diameter_mm: land.end_diameter_mm },
    )
}

/// The lands of the finished part. Gives back the change of them as an edit of its own: what hangs on them goes along.
pub fn wanted_ui(fields: &mut Fields<'_>, shaft: &Shaft, view: &mut View) -> Option<Edit> {
    let rows = LandRow::of_shaft(shaft);
    let selected = if let Selected::WantedLand(land) = view.selected { Some(land) } else { None };
    let table = LandTable { units: fields.units, land: "Wanted land", wide: false, selected, fault: &|_| None };
    let change = table.show(fields.ui, &rows);
    fields.hint("Tolerance: h7, js6, +0.02 -0.01, or nothing.");
    match change? {
        TableChange::Select(land) => {
            view.selected = Selected::WantedLand(land);
            None
        }
        TableChange::Typed(rows) | TableChange::Pasted(rows) => Some(Edit::Reshape(Reshape::Rows(rows))),
        TableChange::Add(chosen) => {
            let mut shaft = shaft.clone();
            add_wanted(&mut shaft, chosen);
            Some(Edit::SetShaft(shaft))
        }
        TableChange::Split(land) => {
            let (from_s_mm, to_s_mm, _) = shaft.wanted_spans().nth(land)?;
            Some(Edit::Reshape(Reshape::Split { land, at_s_mm: f64::midpoint(from_s_mm, to_s_mm) }))
        }
        TableChange::Remove(land) => {
            let mut shaft = shaft.clone();
            shaft.wanted.remove(land);
            Some(Edit::SetShaft(shaft))
        }
    }
}

fn add_wanted(shaft: &mut Shaft, chosen: usize) {
    let Some(wanted) = shaft.wanted.get(chosen).cloned() else {
        let land = Land::cylinder(shaft.length_mm(), 0.9 * shaft.max_diameter_mm());
        shaft.wanted.push(WantedLand { land, tolerance: Tolerance::Free, name: String::new() });
        return;
    };
    let land = Land { length_mm: 50.0, start_diameter_mm: wanted.land.end_diameter_mm, ..wanted.land };
    shaft.wanted.insert(chosen + 1, WantedLand { land, name: String::new(), ..wanted });
}
