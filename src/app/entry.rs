//! The number field: text is typed in any unit, nothing of it reaches the job before it is entered.
//!
//! Enter, Tab and leaving the field enter the text; Esc puts the old value back; up and down arrows step the value.
//! A text that cannot be read, or that the job refuses, stays as it was typed with the reason beneath it. The field
//! never changes a value by itself.

use egui::{Context, EventFilter, Id, Key, Modifiers, Response, RichText, TextEdit, Ui, vec2};

use crate::job::Units;
use crate::job::quantity::{self, Kind};

/// Height of a field in points: large enough for a finger.
pub const FIELD_HEIGHT: f32 = super::theme::TARGET;

/// What a number field is called for a screen reader (and a test).
#[derive(Clone, Debug)]
pub enum Named<'a> {
    /// By the label drawn beside it.
    By(Id),
    /// By words that are not drawn, as in the cells of a table.
    As(&'a str),
}

/// A number field to be drawn.
#[derive(Clone, Debug)]
pub struct Entry<'a> {
    pub id: Id,
    pub named: Named<'a>,
    pub value: f64,
    pub kind: Kind,
    pub units: Units,
    pub width: f32,
    /// The value is a default: entering it unchanged also counts.
    pub assumed: bool,
}

#[derive(Clone, Debug, Default)]
struct Typed {
    text: String,
    /// The value the text belongs to.
    for_value: f64,
    /// The text was changed and not yet entered.
    pending: bool,
    /// Entered in the last frame; the job may have refused it.
    awaiting: bool,
    error: Option<String>,
    /// The click that gave the field the keyboard is still under way.
    fresh_focus: bool,
}

impl Typed {
    fn of(entry: &Entry<'_>) -> Self {
        Self {
            text: quantity::show_for_entry(entry.value, entry.kind, entry.units),
            for_value: entry.value,
            ..Self::default()
        }
    }
}

/// What became of a number field in this frame.
#[derive(Debug)]
pub struct Entered {
    /// The value entered, in inside units.
    pub value: Option<f64>,
    /// Why what stands in the field is not the value.
    pub error: Option<String>,
    pub response: Response,
}

impl Entry<'_> {
    /// Draws the field and takes what is typed. The error is not drawn; see [`error_ui`].
    pub fn show(&self, ui: &mut Ui) -> Entered {
        let id = self.id;
        let mut typed: Typed = ui.data(|data| data.get_temp(id)).unwrap_or_else(|| Typed::of(self));
        self.catch_up(ui.ctx(), &mut typed);

        let mut value = None;
        if ui.memory(|memory| memory.has_focus(id))
            && let Some(n_steps) = steps_pressed(ui)
        {
            let from = if typed.pending {
                quantity::parse(&typed.text, self.kind, self.units).unwrap_or(self.value)
            } else {
                self.value
            };
            value = Some(from + n_steps * step(self.kind, self.units));
            typed.pending = false;
            typed.awaiting = true;
            typed.for_value = self.value;
        }

        let shown_before = typed.text.clone();
        let text_colour = typed.error.is_some().then(|| ui.visuals().error_fg_color);
        let output = TextEdit::singleline(&mut typed.text)
            .id(id)
            .desired_width(self.width)
            .min_size(vec2(self.width, ui.spacing().interact_size.y.max(FIELD_HEIGHT)))
            .align(egui::Align2::LEFT_CENTER)
            .text_color_opt(text_colour)
            .event_filter(EventFilter { horizontal_arrows: true, vertical_arrows: true, ..EventFilter::default() })
            .char_limit(40)
            .show(ui);
        let mut state = output.state;
        let response = output.response.response;
        let response = match self.named {
            Named::By(label) => response.labelled_by(label),
            Named::As(name) => response.accessible_name(name),
        };

        if response.gained_focus() {
            typed.fresh_focus = true;
        }
        if typed.fresh_focus && !ui.input(|input| input.pointer.any_down()) {
            typed.fresh_focus = false;
            state.cursor.set_char_range(Some(egui::text::CCursorRange::select_all(&output.galley)));
            state.store(ui.ctx(), id);
        }
        if response.changed() || typed.text != shown_before {
            typed.error = None;
            typed.pending = typed.text != quantity::show_for_entry(self.value, self.kind, self.units);
        }

        let left = response.lost_focus();
        let (escaped, entered) = ui.input(|input| (input.key_pressed(Key::Escape), input.key_pressed(Key::Enter)));
        if left && escaped {
            typed = Typed::of(self);
        } else if !ui.memory(|memory| memory.has_focus(id)) {
            if typed.pending {
                typed.pending = false;
                typed.for_value = self.value;
                match quantity::parse(&typed.text, self.kind, self.units) {
                    Ok(number) => {
                        value = Some(number);
                        typed.awaiting = true;
                    }
                    Err(error) => typed.error = Some(error.to_string()),
                }
            } else if left && entered && self.assumed && typed.error.is_none() && !typed.awaiting {
                value = Some(self.value);
            }
        }
        if typed.pending {
            mark_typing(ui.ctx());
        }
        let error = typed.error.clone();
        if error.is_some() {
            count_refused(ui.ctx());
        }
        ui.data_mut(|data| data.insert_temp(id, typed));
        Entered { value, error, response }
    }

    /// Brings the text up to date with the value, unless it is the user's own.
    fn catch_up(&self, ctx: &Context, typed: &mut Typed) {
        let moved = typed.for_value.to_bits() != self.value.to_bits();
        if typed.awaiting {
            typed.awaiting = false;
            match refusal(ctx) {
                Some(reason) if !moved => typed.error = Some(reason),
                _ => *typed = Typed::of(self),
            }
        } else if typed.error.is_some() {
            if moved {
                *typed = Typed::of(self);
            }
        } else if !typed.pending {
            let fresh_focus = typed.fresh_focus;
            *typed = Typed { fresh_focus, ..Typed::of(self) };
        }
    }
}

/// Says beneath a field why its text was not taken.
pub fn error_ui(ui: &mut Ui, error: Option<&str>) {
    if let Some(error) = error {
        ui.label(RichText::new(error).color(ui.visuals().error_fg_color).small());
    }
}

/// Presses of the up and down arrows in this frame, down negative, ten times as many with Shift.
fn steps_pressed(ui: &mut Ui) -> Option<f64> {
    let (up, down, shift) = ui.input_mut(|input| {
        let shift = input.modifiers.shift;
        let up = input.count_and_consume_key(Modifiers::NONE, Key::ArrowUp);
        let down = input.count_and_consume_key(Modifiers::NONE, Key::ArrowDown);
        (up, down, shift)
    });
    if up == down {
        return None;
    }
    let presses = f64::from(u32::try_from(up).unwrap_or(1)) - f64::from(u32::try_from(down).unwrap_or(1));
    Some(if shift { presses * 10.0 } else { presses })
}

/// One step of the arrow keys, in inside units.
fn step(kind: Kind, units: Units) -> f64 {
    const IN: f64 = 25.4;
    const LBF: f64 = 4.448_221_615_260_5;
    match (kind, units) {
        (Kind::Length, Units::Metric) => 1.0,
        (Kind::Length, Units::Inch) => IN / 16.0,
        (Kind::Diameter, Units::Metric) => 0.1,
        (Kind::Diameter, Units::Inch) => 0.005 * IN,
        (Kind::Error, Units::Metric) => 0.01,
        (Kind::Error, Units::Inch) => 0.0005 * IN,
        (Kind::Force, Units::Metric) => 10.0,
        (Kind::Force, Units::Inch) => 2.0 * LBF,
        (Kind::Stiffness, Units::Metric) => 1000.0,
        (Kind::Stiffness, Units::Inch) => 10.0 * LBF / (0.001 * IN),
        (Kind::RotationStiffness, Units::Metric) => 1e7,
        (Kind::RotationStiffness, Units::Inch) => 1e5 * LBF * IN,
        (Kind::Angle, _) => 5f64.to_radians(),
        (Kind::Feed, Units::Metric) => 0.01,
        (Kind::Feed, Units::Inch) => 0.001 * IN,
        (Kind::SpindleSpeed, _) => 10.0,
        (Kind::Power, _) => 0.1,
        (Kind::Mass | Kind::Count, _) | (Kind::TemperatureRise, Units::Metric) => 1.0,
        // A degree Fahrenheit.
        (Kind::TemperatureRise, Units::Inch) => 5.0 / 9.0,
        (Kind::Ratio, _) => 0.05,
        (Kind::Percent, _) => 0.01,
        (Kind::Pressure, _) => 1000.0,
        (Kind::SurfaceSpeed, _) => 0.1,
        (Kind::Torque, _) => 1000.0,
    }
}

fn typing_id() -> Id {
    Id::unique("entry still being typed")
}

fn refusal_id() -> Id {
    Id::unique("why the last edit was refused")
}

pub(super) fn mark_typing(ctx: &Context) {
    let frame = ctx.cumulative_frame_nr();
    ctx.data_mut(|data| data.insert_temp(typing_id(), frame));
}

/// True where, in this frame or the last, a field held text not yet entered.
#[must_use]
pub fn is_typing(ctx: &Context) -> bool {
    let now = ctx.cumulative_frame_nr();
    ctx.data(|data| data.get_temp::<u64>(typing_id())).is_some_and(|frame| now <= frame + 1)
}

fn n_refused_id() -> Id {
    Id::unique("fields whose text was not taken")
}

/// Counts a field of this frame whose text was not taken.
pub(super) fn count_refused(ctx: &Context) {
    let so_far = n_refused(ctx);
    let frame = ctx.cumulative_pass_nr();
    ctx.data_mut(|data| data.insert_temp(n_refused_id(), (frame, so_far + 1)));
}

/// How many fields drawn so far in this frame hold a text that was not taken.
#[must_use]
pub fn n_refused(ctx: &Context) -> usize {
    let now = ctx.cumulative_pass_nr();
    let counted = ctx.data(|data| data.get_temp::<(u64, usize)>(n_refused_id()));
    counted.filter(|(frame, _)| *frame == now).map_or(0, |(_, n_refused)| n_refused)
}

/// Leaves word for the field whose number was refused (`None`: nothing was).
pub fn leave_refusal(ctx: &Context, reason: Option<String>) {
    ctx.data_mut(|data| data.insert_temp(refusal_id(), reason));
}

fn refusal(ctx: &Context) -> Option<String> {
    ctx.data(|data| data.get_temp::<Option<String>>(refusal_id())).flatten()
}
