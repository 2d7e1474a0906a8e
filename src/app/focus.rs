//! What has the keyboard wears a ring, one for everything, and is brought into sight where it is scrolled away.

use egui::{Context, Id, Memory, Painter, Rect, Stroke, StrokeKind, Ui};

use super::Palette;

/// How far the ring stands off its thing, and how thick it is, in points.
const OFF: f32 = 2.0;
const WIDTH: f32 = 2.0;

/// Brings what has just got the keyboard into sight; called last inside what scrolls.
pub fn bring_into_sight(ui: &Ui) {
    let Some(id) = ui.memory(Memory::focused) else { return };
    let key = Id::unique("brought into sight");
    let Some(response) = ui.ctx().read_response(id).filter(|_| ui.data(|data| data.get_temp(key)) != Some(id)) else {
        return;
    };
    if response.layer_id == ui.layer_id() && ui.min_rect().contains(response.rect.center()) {
        ui.data_mut(|data| data.insert_temp(key, id));
        if !ui.clip_rect().contains_rect(response.rect) {
            ui.scroll_to_rect_animation(response.rect, None, egui::style::ScrollAnimation::none());
        }
    }
}

/// Draws the ring where something has the keyboard and can be seen.
pub fn ring(ctx: &Context) {
    let Some(response) = ctx.memory(Memory::focused).and_then(|id| ctx.read_response(id)) else { return };
    let seen: Rect = response.interact_rect;
    if !seen.is_positive() {
        return;
    }
    let palette = Palette::of(ctx.global_style().visuals.dark_mode);
    let painter = Painter::new(ctx.clone(), response.layer_id, ctx.content_rect());
    let ring = seen.expand(OFF).intersect(ctx.content_rect().shrink(1.0));
    painter.rect_stroke(ring, 4.0, Stroke::new(WIDTH + 2.0, palette.canvas), StrokeKind::Middle);
    painter.rect_stroke(ring, 4.0, Stroke::new(WIDTH, palette.selected), StrokeKind::Middle);
}
