//! Files dragged over the window and dropped on it: one job file is opened, anything else is told why not.

use std::path::PathBuf;

use egui::{Align2, Context, FontId, Id, LayerId, Order, Stroke, StrokeKind};

use super::Palette;
use super::questions::Next;
use super::window::MidspanApp;

impl MidspanApp {
    /// Says what a drop would do, and does it.
    pub(super) fn take_dropped(&mut self, ctx: &Context) {
        let (n_over, dropped) = ctx.input(|input| {
            let dropped = input.raw.dropped_files.iter().map(|file| file.path().to_owned());
            (input.raw.hovered_files.len(), dropped.collect::<Vec<PathBuf>>())
        });
        let is_busy = self.is_asking() || self.files.is_waiting();
        if n_over > 0 {
            paint_over(ctx, if is_busy { BUSY } else { promise(n_over) });
        }
        match &dropped[..] {
            [] => {}
            _ if is_busy => self.desk.warn(BUSY),
            [path] => self.go(ctx, Next::OpenFile(path.clone())),
            several => self.desk.warn(promise(several.len())),
        }
    }
}

const BUSY: &str = "A question is open: answer it, then drop the file again.";

/// What dropping so many files does.
fn promise(n_files: usize) -> &'static str {
    if n_files == 1 { "Drop the job file to open it." } else { "The window holds one job: drop one file." }
}

fn paint_over(ctx: &Context, words: &str) {
    let palette = Palette::of(ctx.global_style().visuals.dark_mode);
    let painter = ctx.layer_painter(LayerId::new(Order::Foreground, Id::unique("drop here")));
    let rect = ctx.content_rect();
    painter.rect_filled(rect, 0.0, palette.canvas.gamma_multiply(0.8));
    painter.rect_stroke(rect.shrink(8.0), 6.0, Stroke::new(2.0, palette.ink), StrokeKind::Inside);
    let _ = painter.text(rect.center(), Align2::CENTER_CENTER, words, FontId::proportional(20.0), palette.ink);
}
