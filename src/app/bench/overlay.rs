//! What lies over the picture at a fixed size: the legend of the spring, the cursor with its readout, the readout of a
//! dragged thing, and the ring around what has the keyboard.

use std::sync::Arc;

use egui::{FontId, Galley, Painter, Rect, Shape, Stroke, StrokeKind, pos2, vec2};

use super::stage::{Readout, Stage};
use crate::advice::words::place;
use crate::app::Palette;
use crate::job::quantity::{Kind, show};

const SMALL: f32 = 12.5;
/// Room for the sample of a line.
const SAMPLE: f32 = 34.0;
/// Between the pieces of a row.
const GAP: f32 = 14.0;

/// The words that say how the spring is drawn, in one row along the top, or in rows where the canvas is narrow.
pub struct Legend {
    rect: Rect,
    title: Arc<Galley>,
    rows: [Arc<Galley>; 2],
    in_one_row: bool,
}

impl Legend {
    /// Laid out in the upper left corner.
    #[must_use]
    pub fn laid_out(painter: &Painter, palette: &Palette, times: f64) -> Self {
        let lay = |text: &str, colour| painter.layout_no_wrap(text.to_owned(), FontId::proportional(SMALL), colour);
        let times = grouped(times);
        let forms = [
            (format!("Spring drawn {times} times larger"), ["away from you (up), toward you (down)", "up, down"]),
            (format!("Spring {times} times larger"), ["away (up), toward you", "up, down"]),
            (format!("Spring {times} times larger"), ["away (up)", "up"]),
        ];
        let room = painter.clip_rect().shrink2(vec2(8.0, 3.0));
        let width = |title: &Arc<Galley>, rows: &[Arc<Galley>; 2]| {
            title.size().x + rows.iter().map(|row| row.size().x + SAMPLE + GAP).sum::<f32>()
        };
        let laid = forms.map(|(title, rows)| (lay(&title, palette.ink), rows.map(|text| lay(text, palette.ink_weak))));
        // The longest that has room in one row; the shortest in rows where none has.
        let [_, _, shortest] = laid.clone();
        let (title, rows) =
            laid.into_iter().find(|(title, rows)| width(title, rows) <= room.width()).unwrap_or(shortest);
        let one_row = width(&title, &rows);
        let in_one_row = one_row <= room.width();
        let size = if in_one_row {
            vec2(one_row, title.size().y)
        } else {
            let width = rows.iter().map(|row| row.size().x + SAMPLE).fold(title.size().x, f32::max);
            vec2(width, 3.0 * (title.size().y + 1.0))
        };
        Self { rect: Rect::from_min_size(room.min, size), title, rows, in_one_row }
    }

    /// The room it takes.
    #[must_use]
    pub fn rect(&self) -> Rect {
        self.rect
    }

    /// Paints it.
    pub fn paint(self, painter: &Painter, palette: &Palette) {
        painter.rect_filled(self.rect.expand(3.0), 3.0, palette.canvas.gamma_multiply(0.8));
        let line = self.title.size().y + 1.0;
        let mut at = self.rect.min;
        let step = if self.in_one_row { vec2(self.title.size().x + GAP, 0.0) } else { vec2(0.0, line) };
        painter.galley(at, self.title, palette.ink);
        at += step;
        for (row, (colour, full)) in self.rows.into_iter().zip([(palette.spring_x, true), (palette.spring_y, false)]) {
            let middle = at.y + 0.5 * row.size().y;
            let ends = [pos2(at.x, middle), pos2(at.x + SAMPLE - 8.0, middle)];
            if full {
                painter.line_segment(ends, Stroke::new(1.8, colour));
            } else {
                painter.extend(Shape::dashed_line(&ends, Stroke::new(1.3, colour), 5.5, 3.5));
            }
            let width = row.size().x;
            painter.galley(pos2(at.x + SAMPLE, at.y), row, palette.ink_weak);
            at += if self.in_one_row { vec2(SAMPLE + width + GAP, 0.0) } else { vec2(0.0, line) };
        }
    }
}

/// A number without decimals where it has none, in groups of three digits.
fn grouped(times: f64) -> String {
    if times < 10.0 {
        return format!("{times}");
    }
    let digits = format!("{times:.0}");
    let mut text = String::new();
    for (index, digit) in digits.chars().enumerate() {
        if index > 0 && (digits.len() - index) % 3 == 0 {
            text.push('\u{a0}');
        }
        text.push(digit);
    }
    text
}

/// The cursor line; its place and the diameter there stand in the lower left corner, under the headstock.
pub fn cursor(painter: &Painter, stage: &Stage) {
    let Some(z_mm) = stage.view.cursor_z_mm else { return };
    let rect = stage.map.rect;
    let x = stage.map.x(z_mm);
    if !rect.x_range().contains(x) {
        return;
    }
    let palette = stage.palette;
    let x = (x * painter.pixels_per_point()).floor() / painter.pixels_per_point() + 0.5 / painter.pixels_per_point();
    painter.vline(x, rect.y_range(), Stroke::new(1.0, palette.cursor.gamma_multiply(0.55)));
    if stage.readout.is_some() {
        return;
    }
    let radius = stage.now.radius_at(z_mm);
    let mut text = place(z_mm, stage.job.units);
    if radius > 0.0 {
        text = format!("{text}  Ø {}", show(2.0 * radius, Kind::Diameter, stage.job.units));
    }
    let galley = painter.layout_no_wrap(text, FontId::proportional(SMALL), palette.ink_weak);
    let at = pos2(readout_room(rect).left(), rect.bottom() - 4.0 - galley.size().y);
    painter.rect_filled(Rect::from_min_size(at, galley.size()).expand(3.0), 2.0, palette.canvas.gamma_multiply(0.85));
    painter.galley(at, galley, palette.ink_weak);
}

/// The room of the cursor's readout; other words keep off it, so that none comes and goes with the pointer.
pub fn readout_room(canvas: Rect) -> Rect {
    Rect::from_min_max(pos2(canvas.left() + 8.0, canvas.bottom() - 22.0), pos2(canvas.left() + 168.0, canvas.bottom()))
}

/// The words beside a dragged thing, above the work, never cut off.
pub fn readout(painter: &Painter, stage: &Stage, readout: &Readout) {
    let palette = stage.palette;
    let x = stage.map.x(readout.z_mm);
    let mut lines = readout.lines.clone();
    if let Some(landmark) = readout.landmark {
        lines.push(landmark.name.to_owned());
        painter.vline(x, stage.map.rect.y_range(), Stroke::new(1.5, palette.selected));
    }
    let pointer_y = stage.ui.input(|input| input.pointer.latest_pos()).map_or(stage.map.rect.center().y, |pos| pos.y);
    boxed(painter, stage, pos2(x + 22.0, pointer_y - 44.0), &lines, palette.ink);
}

fn boxed(painter: &Painter, stage: &Stage, at: egui::Pos2, lines: &[String], colour: egui::Color32) {
    let galley = painter.layout_no_wrap(lines.join("\n"), FontId::proportional(14.0), colour);
    let room = painter.clip_rect().shrink(3.0);
    let size = galley.size() + vec2(12.0, 6.0);
    let left = at.x.clamp(room.left(), (room.right() - size.x).max(room.left()));
    let top = at.y.clamp(room.top(), (room.bottom() - size.y).max(room.top()));
    let rect = Rect::from_min_size(pos2(left, top), size);
    painter.rect(
        rect,
        4.0,
        stage.palette.canvas.gamma_multiply(0.94),
        Stroke::new(1.0, stage.palette.grid),
        StrokeKind::Inside,
    );
    painter.galley(rect.min + vec2(6.0, 3.0), galley, colour);
}
