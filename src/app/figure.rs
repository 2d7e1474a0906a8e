//! A figure that tells why it is what it is: name, value and a small question mark are one target, as wide as its panel and
//! high enough for a finger. It looks like text; its ground changes only under the pointer.

use egui::epaint::Galley;
use egui::layers::ShapeIdx;
use egui::{
    Align, Align2, CursorIcon, FontSelection, Label, Layout, Rangef, Rect, Response, RichText, Role, Sense, Shape,
    TextStyle, TextWrapMode, Ui, UiBuilder, WidgetInfo, WidgetText, pos2, vec2,
};
use std::sync::Arc;

use super::{Action, Commands, Explained, theme};
use crate::advice::why::Figure;

/// What is explained, and what it is called.
pub type Asked<'a> = (Figure, &'a str);

/// So much of a row is for its name.
const NAME_RATIO: f32 = 0.53;
/// Between a name and its sign, and the room that sign takes.
const SIGN_OFF: f32 = 4.0;
const SIGN_WIDTH: f32 = 8.0;
/// Above and below words that are higher than a target.
const MARGIN: f32 = 1.0;
/// Room the ring round what has the keyboard wants.
const RING: f32 = 3.0;
/// Between two figures beside one another.
const BESIDE: f32 = 8.0;

/// Words of a row: where they stand across, counted from its left edge, and whether the sign stands behind them.
pub struct Words {
    across: Rangef,
    text: RichText,
    signed: bool,
}

impl Words {
    /// Words between two places across.
    pub fn new(across: impl Into<Rangef>, text: RichText) -> Self {
        Self { across: across.into(), text, signed: false }
    }

    /// Where they begin.
    pub fn left(&self) -> f32 {
        self.across.min
    }

    /// With the sign behind them.
    pub fn signed(self) -> Self {
        Self { signed: true, ..self }
    }

    fn galley(&self, ui: &Ui) -> Arc<Galley> {
        let room = self.across.span() - if self.signed { SIGN_OFF + SIGN_WIDTH } else { 0.0 };
        let text = WidgetText::from(self.text.clone());
        text.into_galley(ui, Some(TextWrapMode::Wrap), room.max(20.0), FontSelection::Style(TextStyle::Body))
    }
}

/// Room across that can be seen: a wide table over it may have stretched the panel beyond its edge.
pub fn width(ui: &Ui) -> f32 {
    ui.available_width().min(ui.clip_rect().right() - ui.cursor().left())
}

/// A line of the notes: its name and its value.
pub fn row_ui(ui: &mut Ui, asked: Asked<'_>, value: &str, out: &mut Commands) -> Response {
    let width = self::width(ui);
    let words = [name_words(asked.1, width), value_words(RichText::new(value), width)];
    words_ui(ui, width, asked, value, &words, out)
}

/// The name of a line `width` wide.
pub fn name_words(name: &str, width: f32) -> Words {
    Words::new(0.0..=NAME_RATIO * width - BESIDE, RichText::new(name).weak()).signed()
}

/// The value of a line `width` wide.
pub fn value_words(value: RichText, width: f32) -> Words {
    Words::new(NAME_RATIO * width..=width, value)
}

/// A sentence with a figure in it.
pub fn sentence_ui(ui: &mut Ui, asked: Asked<'_>, sentence: RichText, out: &mut Commands) -> Response {
    let width = self::width(ui);
    let value = sentence.text().to_owned();
    words_ui(ui, width, asked, &value, &[Words::new(0.0..=width, sentence).signed()], out)
}

/// Short figures, two beside one another, the name of each over its value.
pub fn pairs_ui(ui: &mut Ui, figures: &[(Figure, &str, &str, String)], out: &mut Commands) {
    let spacing = std::mem::replace(&mut ui.spacing_mut().item_spacing.y, 2.0);
    let width = (self::width(ui) - BESIDE) / 2.0;
    for pair in figures.chunks(2) {
        ui.horizontal_top(|ui| {
            ui.spacing_mut().item_spacing.x = BESIDE;
            for (figure, name, shown, value) in pair {
                over_ui(ui, width, (*figure, name), shown, value, out);
            }
        });
    }
    ui.spacing_mut().item_spacing.y = spacing;
}

/// A name, shown in so many words, over its value.
fn over_ui(ui: &mut Ui, width: f32, asked: Asked<'_>, shown: &str, value: &str, out: &mut Commands) {
    let behind = ui.painter().add(Shape::Noop);
    let words = [
        Words::new(0.0..=width, RichText::new(shown).small().weak()).signed(),
        Words::new(0.0..=width, RichText::new(value)),
    ];
    let heights = [0, 1].map(|line| words[line].galley(ui).size().y);
    let height = (heights[0] + heights[1]).max(theme::TARGET);
    let (rect, _) = ui.allocate_exact_size(vec2(width, height), Sense::hover());
    let split = rect.top() + heights[0];
    put(ui, rect.with_max_y(split), &words[0]);
    put(ui, rect.with_min_y(split), &words[1]);
    press(ui, rect, behind, asked, value, out);
}

/// One target with words side by side, each in the middle of its height.
pub fn words_ui(
    ui: &mut Ui,
    width: f32,
    asked: Asked<'_>,
    value: &str,
    words: &[Words],
    out: &mut Commands,
) -> Response {
    let behind = ui.painter().add(Shape::Noop);
    let highest = words.iter().map(|words| words.galley(ui).size().y).fold(0.0, f32::max);
    let height = (highest + 2.0 * MARGIN).max(theme::TARGET);
    let (rect, _) = ui.allocate_exact_size(vec2(width, height), Sense::hover());
    for words in words {
        put(ui, rect, words);
    }
    press(ui, rect, behind, asked, value, out)
}

/// Puts words into the rectangle of their line.
pub fn put(ui: &mut Ui, line: Rect, words: &Words) {
    let galley = words.galley(ui);
    let room = Rect::from_x_y_ranges(line.left() + words.across.min..=line.left() + words.across.max, line.y_range());
    let at = Rect::from_min_size(pos2(room.left(), room.center().y - 0.5 * galley.size().y), galley.size());
    let layout = Layout::left_to_right(Align::Center);
    // It has its place already, and takes none of its own.
    let mut inside = ui.new_child(UiBuilder::new().max_rect(at).layout(layout));
    inside.add(Label::new(Arc::clone(&galley)).selectable(false));
    if words.signed {
        // Behind the last of the lines.
        let end = galley.rows.last().map_or(galley.rect, |row| row.rect());
        sign(ui, at.min + vec2(end.right() + SIGN_OFF + 0.5 * SIGN_WIDTH, end.center().y));
    }
}

/// The question mark. Nobody needs to be read it: the target says "Why".
fn sign(ui: &Ui, at: egui::Pos2) {
    let font = TextStyle::Small.resolve(ui.style());
    ui.painter().text(at, Align2::CENTER_CENTER, "?", font, ui.visuals().weak_text_color());
}

/// A word with the sign behind it, where a larger rectangle round it is pressed.
pub fn head_ui(ui: &mut Ui, text: RichText) -> Rect {
    ui.spacing_mut().item_spacing.x = 2.0;
    let word = ui.add(Label::new(text.weak()).selectable(false)).rect;
    let (rect, _) = ui.allocate_exact_size(vec2(SIGN_WIDTH, word.height()), Sense::hover());
    sign(ui, rect.center());
    word.union(rect)
}

/// A column of a table, pressed from its head to its foot; nothing else is pressed there.
pub fn column_ui(ui: &mut Ui, column: Rect, behind: ShapeIdx, asked: Asked<'_>, out: &mut Commands) {
    // Narrow ones reach to the right, where the next begins later; at the edge of the panel to the left.
    let size = column.size().max(vec2(theme::TARGET, theme::TARGET));
    let wide = Rect::from_min_size(column.min, size).expand2(vec2(2.0, 0.0));
    let over = (wide.right() + RING - ui.max_rect().right().min(ui.clip_rect().right())).max(0.0);
    let column = wide.translate(vec2(-over, 0.0)).union(column);
    press(ui, column, behind, asked, "", out);
}

/// The sign by itself, in a target of its own.
///
/// It takes room `width` wide: where that is less than a target, words that nobody presses follow it.
pub fn mark_ui(ui: &mut Ui, width: f32, asked: Asked<'_>, out: &mut Commands) {
    let behind = ui.painter().add(Shape::Noop);
    let (room, _) = ui.allocate_exact_size(vec2(width, theme::TARGET), Sense::hover());
    sign(ui, room.center());
    let target = Rect::from_min_size(room.min, vec2(theme::TARGET, theme::TARGET));
    press(ui, target, behind, asked, "", out);
}

/// The sign at a place in a rectangle that is pressed.
pub fn mark_at(ui: &mut Ui, rect: Rect, at: egui::Pos2, asked: Asked<'_>, out: &mut Commands) {
    let behind = ui.painter().add(Shape::Noop);
    sign(ui, at);
    press(ui, rect, behind, asked, "", out);
}

/// Makes a rectangle ask why. `behind` is a place in the painter under what stands in it.
pub fn press(
    ui: &mut Ui,
    rect: Rect,
    behind: ShapeIdx,
    (figure, name): Asked<'_>,
    value: &str,
    out: &mut Commands,
) -> Response {
    let id = ui.next_auto_id();
    ui.skip_ahead_auto_ids(1);
    let target = ui.interact(rect, id, Sense::click()).on_hover_cursor(CursorIcon::PointingHand);
    target.widget_info(|| {
        let mut info = WidgetInfo::labeled(Role::Button, true, format!("Why: {}", name.to_lowercase()));
        info.current_text_value = (!value.is_empty()).then(|| value.to_owned());
        info
    });
    let widgets = &ui.visuals().widgets;
    let fill = if target.is_pointer_button_down_on() {
        Some(widgets.active.weak_bg_fill)
    } else {
        target.hovered().then_some(widgets.hovered.weak_bg_fill)
    };
    if let Some(fill) = fill {
        ui.painter().set(behind, Shape::rect_filled(rect, 3.0, fill));
    }
    if target.clicked() {
        out.actions.push(Action::Why(Some(Explained::Figure(figure))));
    }
    target
}
