//! Words on a picture: each at a fixed size, kept inside the canvas, moved off other words with a leader, and left
//! out where there is no room.

use std::sync::Arc;

use egui::{Align2, FontId, Galley, Painter, Pos2, Rect, Stroke, Vec2, pos2, vec2};

use super::ink::{ink, text_points};
use super::map::Map;
use crate::app::Palette;
use crate::picture::{Align, Stand, Text};

/// How many lines a label may move before it is left out.
const MOST_STEPS: i32 = 4;

/// Paints the texts in order; those that stay put take their places first.
pub fn paint_texts(painter: &Painter, map: &Map, texts: &[&Text], palette: &Palette, reserved: &[Rect]) {
    let mut taken: Vec<Rect> = reserved.to_vec();
    let (fixed, yielding): (Vec<&Text>, Vec<&Text>) = texts.iter().copied().partition(|text| !text.gives_way);
    for text in fixed.into_iter().chain(yielding) {
        let clip = painter.clip_rect();
        let (anchor, room) = seen_anchor(map, text, clip);
        if !anchor.is_finite() || !clip.expand(60.0).contains(anchor) {
            continue;
        }
        let colour = ink(text.role, palette).line;
        let lay = |words: &str| {
            painter.layout_no_wrap(words.to_owned(), FontId::proportional(text_points(text.size)), colour)
        };
        let mut galley = lay(&text.text);
        let mut wanted = placed(anchor, galley.size(), text);
        let stays = |wanted: Rect| {
            (wanted.width() <= room && free_place(wanted, &taken, clip, text.stand) == Some(wanted)).then_some(wanted)
        };
        let rect = if !text.gives_way {
            Some(kept_inside(wanted, clip))
        } else if let Some(short) = &text.short {
            // What has a short form belongs to its place: it says less rather than move.
            stays(wanted).or_else(|| {
                galley = lay(short);
                wanted = placed(anchor, galley.size(), text);
                stays(wanted)
            })
        } else {
            free_place(wanted, &taken, clip, text.stand)
        };
        let Some(rect) = rect else { continue };
        if (rect.center() - wanted.center()).length() > 0.8 * rect.height() {
            leader(painter, anchor, rect, palette);
        }
        taken.push(rect.expand2(vec2(3.0, 0.0)));
        paint_word(painter, rect, galley, palette);
    }
}

/// Where a text stands and how wide it may be: words that have a room of their own stand in the middle of what is
/// seen of it.
fn seen_anchor(map: &Map, text: &Text, clip: Rect) -> (Pos2, f32) {
    let anchor = map.pos(text.anchor);
    let Some(room_mm) = text.room_mm else { return (anchor, f32::INFINITY) };
    let half = (0.5 * room_mm * map.px_per_mm) as f32;
    let (left, right) = ((anchor.x - half).max(clip.left()), (anchor.x + half).min(clip.right()));
    (pos2(f32::midpoint(left, right), anchor.y), (right - left).max(0.0))
}

/// A word with a thin halo of the canvas, so that lines behind do not cut it.
fn paint_word(painter: &Painter, rect: Rect, galley: Arc<Galley>, palette: &Palette) {
    painter.rect_filled(rect.expand2(vec2(2.0, -1.0)), 2.0, palette.canvas.gamma_multiply(0.72));
    painter.galley(rect.min, galley, palette.ink);
}

fn leader(painter: &Painter, anchor: Pos2, rect: Rect, palette: &Palette) {
    let from = rect.clamp(anchor);
    painter.line_segment([anchor, from], Stroke::new(0.8, palette.ink_weak));
}

fn placed(anchor: Pos2, size: Vec2, text: &Text) -> Rect {
    let horizontal = match text.align {
        Align::Left => egui::Align::Min,
        Align::Centre => egui::Align::Center,
        Align::Right => egui::Align::Max,
    };
    let vertical = match text.stand {
        Stand::Above => egui::Align::Max,
        Stand::Middle => egui::Align::Center,
        Stand::Below => egui::Align::Min,
    };
    Align2([horizontal, vertical]).anchor_size(anchor, size)
}

fn kept_inside(rect: Rect, clip: Rect) -> Rect {
    let room = clip.shrink(2.0);
    let right = (room.right() - rect.right()).min(0.0);
    let left = (room.left() - rect.left()).max(0.0);
    let down = (room.top() - rect.top()).max(0.0);
    let up = (room.bottom() - rect.bottom()).min(0.0);
    rect.translate(vec2(right + left, down + up))
}

/// The nearest free place above or below, kept inside the canvas.
fn free_place(wanted: Rect, taken: &[Rect], clip: Rect, stand: Stand) -> Option<Rect> {
    let line = wanted.height() + 1.0;
    let first = if stand == Stand::Below { 1.0 } else { -1.0 };
    (0..=MOST_STEPS)
        .flat_map(|step| {
            let by = step as f32 * line;
            if step == 0 { vec![0.0] } else { vec![first * by, -first * by] }
        })
        .map(|by| kept_inside(wanted.translate(vec2(0.0, by)), clip))
        .find(|rect| taken.iter().all(|other| !other.intersects(*rect)))
}
