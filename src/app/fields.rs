//! Rows of a form: a label, a field, a unit. Panels clone what they show, let the rows change the clone and push it as
//! an edit where [`Fields::changed`] says so.

use egui::{Align, Align2, CollapsingHeader, ComboBox, Id, Layout, Response, RichText, TextEdit, Ui, vec2};

use super::entry::{self, Entry, FIELD_HEIGHT, Named};
use crate::job::quantity::{self, Kind};
use crate::job::{Stated, Stiffness, Units};

const ENTRY_WIDTH: f32 = 82.0;
/// A list of choices this high stands there whole; a longer one is scrolled.
const LIST_HEIGHT: f32 = 340.0;
const ASSUMED_HINT: &str = "A default of the program, not your lathe's own figure. Type a value, or press Enter in the field to accept this one.";

/// Rows being drawn.
pub struct Fields<'u> {
    pub ui: &'u mut Ui,
    pub units: Units,
    /// Some row changed its value.
    pub changed: bool,
}

impl<'u> Fields<'u> {
    /// Rows in `ui`, numbers in `units`.
    pub fn new(ui: &'u mut Ui, units: Units) -> Self {
        Self { ui, units, changed: false }
    }

    /// Rows set apart by a heading.
    pub fn heading(&mut self, text: &str) {
        self.ui.add_space(6.0);
        self.ui.label(RichText::new(text).strong());
    }

    /// A quiet sentence.
    pub fn hint(&mut self, text: &str) {
        self.ui.label(RichText::new(text).weak().small());
    }

    /// Rows that must not be confused with rows of the same name elsewhere in the form.
    pub fn part<R>(
        &mut self,
        salt: impl std::hash::Hash + std::fmt::Debug,
        rows: impl FnOnce(&mut Fields<'_>) -> R,
    ) -> R {
        let units = self.units;
        let (result, changed) = self
            .ui
            .push_id(salt, |ui| {
                let mut fields = Fields::new(ui, units);
                let result = rows(&mut fields);
                (result, fields.changed)
            })
            .inner;
        self.changed |= changed;
        result
    }

    /// Rows seldom needed, folded away under a title until they are asked for. `salt` tells one fold of a form from
    /// another; the title may say what is in it and change.
    pub fn fold(&mut self, salt: &str, title: &str, rows: impl FnOnce(&mut Fields<'_>)) {
        let units = self.units;
        let title = RichText::new(title).strong();
        let folded = CollapsingHeader::new(title).id_salt(salt).show_unindented(self.ui, |ui| {
            let mut fields = Fields::new(ui, units);
            rows(&mut fields);
            fields.changed
        });
        self.changed |= folded.body_returned.unwrap_or(false);
    }

    /// A number.
    pub fn number(&mut self, label: &str, value: &mut f64, kind: Kind) -> bool {
        let entered = self.number_row(label, *value, kind, false);
        if let Some(new) = entered {
            *value = new;
            self.changed = true;
        }
        entered.is_some()
    }

    /// A number of things. What is no count of this world is left to the job to refuse.
    pub fn count(&mut self, label: &str, count: &mut u32) -> bool {
        let entered = self.number_row(label, f64::from(*count), Kind::Count, false);
        if let Some(new) = entered {
            // Too many and less than none become the largest and none, which no job takes.
            *count = new as u32;
            self.changed = true;
        }
        entered.is_some()
    }

    /// Towards which side of the work something lies; shown (and true) only where its size is not 0.
    pub fn side(&mut self, label: &str, size_mm: f64, angle_rad: &mut f64) -> bool {
        if size_mm == 0.0 {
            return false;
        }
        self.number(label, angle_rad, Kind::Angle);
        true
    }

    /// A number that may be a default; entering it makes it the user's.
    pub fn stated(&mut self, label: &str, stated: &mut Stated, kind: Kind) -> bool {
        let entered = self.number_row(label, stated.value, kind, stated.assumed);
        if let Some(new) = entered {
            *stated = Stated::given(new);
            self.changed = true;
        }
        entered.is_some()
    }

    /// A spring or nothing that gives. `usual` is the spring put in where "rigid" is taken back.
    pub fn stiffness(&mut self, label: &str, stiffness: &mut Stiffness, kind: Kind, usual: f64) {
        let mut rigid = *stiffness == Stiffness::Rigid;
        let remembered = self.ui.make_persistent_id((label, "spring before rigid"));
        let name = format!("{label}: rigid");
        if self.check(&name, &mut rigid) {
            let before: Option<Stated> = self.ui.data(|data| data.get_temp(remembered));
            match *stiffness {
                Stiffness::Spring(stated) => {
                    self.ui.data_mut(|data| data.insert_temp(remembered, stated));
                    *stiffness = Stiffness::Rigid;
                }
                Stiffness::Rigid => *stiffness = before.map_or(Stiffness::assumed(usual), Stiffness::Spring),
            }
        }
        if let Stiffness::Spring(stated) = stiffness {
            self.stated(label, stated, kind);
        }
    }

    /// A distance with its direction in words: the sign is never typed.
    pub fn direction(&mut self, label: &str, value: &mut f64, minus: &str, plus: &str) -> bool {
        let side_id = self.ui.make_persistent_id((label, "side"));
        let remembered: bool = self.ui.data(|data| data.get_temp(side_id)).unwrap_or(true);
        let mut is_plus = if *value == 0.0 { remembered } else { *value > 0.0 };
        let mut changed = false;
        if let Some(size) = self.number_row(label, value.abs(), Kind::Error, false) {
            *value = if is_plus { size } else { -size };
            changed = true;
        }
        self.ui.horizontal(|ui| {
            ui.add_space(label_width(ui));
            for (word, side) in [(minus, false), (plus, true)] {
                if ui.selectable_label(is_plus == side, word).clicked() && is_plus != side {
                    is_plus = side;
                    changed |= *value != 0.0;
                    *value = -*value;
                }
            }
        });
        self.ui.data_mut(|data| data.insert_temp(side_id, is_plus));
        self.changed |= changed;
        changed
    }

    /// One of several.
    pub fn choice<T: Copy + PartialEq>(&mut self, label: &str, value: &mut T, options: &[(T, &str)]) -> bool {
        let before = *value;
        let shown = options.iter().find(|(option, _)| option == value).map_or("", |(_, words)| *words);
        row(self.ui, label, |ui, label_id| {
            let width = ui.available_width();
            let response = ComboBox::from_id_salt((label, "choice"))
                .width(width)
                .height(LIST_HEIGHT)
                .truncate()
                .selected_text(shown)
                .show_ui(ui, |ui| {
                    for (option, words) in options {
                        ui.selectable_value(value, *option, *words);
                    }
                })
                .response;
            response.labelled_by(label_id);
        });
        self.changed |= *value != before;
        *value != before
    }

    /// Yes or no.
    pub fn check(&mut self, label: &str, value: &mut bool) -> bool {
        let changed = self.ui.checkbox(value, label).changed();
        self.changed |= changed;
        changed
    }

    /// Free words of some length under their label, entered on leaving the field; they wrap.
    pub fn long_words(&mut self, label: &str, value: &mut String, n_rows: usize) -> bool {
        let id = self.ui.make_persistent_id((label, "long words"));
        let label_id = self.ui.label(label).id;
        let width = self.ui.available_width();
        let entered = entered_words(self.ui, id, value, |ui, text| {
            let edit = TextEdit::multiline(text).id(id).desired_rows(n_rows).desired_width(width).return_key(None);
            edit.show(ui).response.response.labelled_by(label_id)
        });
        let changed = entered.is_some();
        if let Some(text) = entered {
            *value = text;
            self.changed = true;
        }
        changed
    }

    /// Free words, entered on leaving the field.
    pub fn words(&mut self, label: &str, value: &mut String) -> bool {
        let id = self.ui.make_persistent_id((label, "words"));
        let entered = row(self.ui, label, |ui, label_id| {
            let width = ui.available_width();
            words_ui(ui, id, value, width, "", &Named::By(label_id))
        });
        if let Some(text) = entered {
            *value = text;
            self.changed = true;
            return true;
        }
        false
    }

    fn number_row(&mut self, label: &str, value: f64, kind: Kind, assumed: bool) -> Option<f64> {
        let id = self.ui.make_persistent_id((label, "number"));
        let units = self.units;
        let entered = row(self.ui, label, |ui, label_id| {
            let entered =
                Entry { id, named: Named::By(label_id), value, kind, units, width: ENTRY_WIDTH, assumed }.show(ui);
            let unit = RichText::new(quantity::unit_name(kind, units)).weak();
            if assumed {
                ui.vertical(|ui| {
                    ui.spacing_mut().item_spacing.y = 0.0;
                    ui.label(unit.small());
                    assumed_ui(ui);
                });
            } else {
                ui.label(unit);
            }
            entered
        });
        entry::error_ui(self.ui, entered.error.as_deref());
        entered.value
    }
}

/// The tag beside a default.
pub fn assumed_ui(ui: &mut Ui) -> Response {
    ui.label(RichText::new("assumed").small().italics().color(ui.visuals().warn_fg_color)).on_hover_text(ASSUMED_HINT)
}

/// A text field that gives its text back when it is left; Esc puts the old text back.
pub fn words_ui(ui: &mut Ui, id: Id, value: &str, width: f32, hint: &'static str, named: &Named<'_>) -> Option<String> {
    entered_words(ui, id, value, |ui, text| {
        let height = ui.spacing().interact_size.y.max(FIELD_HEIGHT);
        let edit = TextEdit::singleline(text).id(id).hint_text(hint).desired_width(width);
        let response = edit.min_size(vec2(24.0, height)).align(Align2::LEFT_CENTER).show(ui).response.response;
        match *named {
            Named::By(label) => response.labelled_by(label),
            Named::As(name) => response.accessible_name(name),
        }
    })
}

/// Keeps what is being typed in the field `edit` shows, and gives it back when the field is left otherwise than by Esc.
fn entered_words(
    ui: &mut Ui,
    id: Id,
    value: &str,
    edit: impl FnOnce(&mut Ui, &mut String) -> Response,
) -> Option<String> {
    let mut text: String = ui.data(|data| data.get_temp(id)).unwrap_or_else(|| value.to_owned());
    let response = edit(ui, &mut text);
    let escaped = response.lost_focus() && ui.input(|input| input.key_pressed(egui::Key::Escape));
    let focused = ui.memory(|memory| memory.has_focus(id));
    let mut entered = None;
    if focused {
        if text != value {
            entry::mark_typing(ui.ctx());
        }
        ui.data_mut(|data| data.insert_temp(id, text));
    } else {
        if text != value && !escaped {
            entered = Some(text);
        }
        ui.data_mut(|data| data.remove_temp::<String>(id));
    }
    entered
}

fn label_width(ui: &Ui) -> f32 {
    (ui.available_width() * 0.4).clamp(96.0, 190.0)
}

/// A label at the left, whatever `field` draws at the right.
fn row<R>(ui: &mut Ui, label: &str, field: impl FnOnce(&mut Ui, Id) -> R) -> R {
    ui.horizontal(|ui| {
        let width = label_width(ui);
        let label_id = ui
            .allocate_ui_with_layout(vec2(width, FIELD_HEIGHT), Layout::left_to_right(Align::Center), |ui| {
                ui.set_min_width(width);
                ui.set_max_width(width);
                ui.add(egui::Label::new(label).wrap()).id
            })
            .inner;
        field(ui, label_id)
    })
    .inner
}
