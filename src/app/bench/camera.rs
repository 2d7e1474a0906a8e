//! What part of the bed is seen: wheel zooms about the pointer, drag on empty bed pans, one key fits it all.

use egui::{Pos2, Response, Ui, Vec2};

use super::map::Map;
use crate::app::View;
use crate::job::{Job, Setup, TailKind};
use crate::picture::proportions::Proportions;
use crate::picture::tailstock::tail_places;

/// Shortest and longest stretch of bed that can be seen.
const STRETCH_MM: (f64, f64) = (2.0, 60_000.0);
/// Room for words above the lathe, and for the row of distances below it, in points.
const ABOVE_POINTS: f64 = 42.0;
const BELOW_POINTS: f64 = 30.0;
/// Points of wheel travel that zoom by a factor e.
const WHEEL_POINTS: f32 = 320.0;

/// Takes wheel and drag on the canvas.
pub fn move_camera(ui: &Ui, canvas: &Response, map: &Map, view: &mut View) {
    if canvas.dragged() {
        pan(view, map, canvas.drag_delta());
    }
    if canvas.double_clicked() {
        view.fit = true;
    }
    let pointer = ui.input(|input| input.pointer.hover_pos()).filter(|pos| canvas.rect.contains(*pos));
    if let Some(pointer) = pointer
        && ui.rect_contains_pointer(canvas.rect)
    {
        let (scroll, pinch) = ui.input(|input| (input.smooth_scroll_delta(), input.zoom_delta()));
        if scroll.x != 0.0 {
            pan(view, map, Vec2::new(scroll.x, 0.0));
        }
        let factor = f64::from(pinch * (scroll.y / WHEEL_POINTS).exp());
        if (factor - 1.0).abs() > 1e-6 {
            zoom(view, map, pointer, factor);
        }
    }
}

fn pan(view: &mut View, map: &Map, by: Vec2) {
    let dz_mm = f64::from(by.x) / map.px_per_mm;
    view.z_view_mm = view.z_view_mm.start() - dz_mm..=view.z_view_mm.end() - dz_mm;
    view.y_centre_mm += f64::from(by.y) / map.px_per_mm;
}

fn zoom(view: &mut View, map: &Map, about: Pos2, factor: f64) {
    let (start, end) = (*view.z_view_mm.start(), *view.z_view_mm.end());
    let length = (end - start).max(1e-3);
    let new_length = (length / factor).clamp(STRETCH_MM.0, STRETCH_MM.1);
    let ratio = new_length / length;
    let (z_mm, up_mm) = (map.z_mm(about.x), map.up_mm(about.y));
    view.z_view_mm = z_mm - (z_mm - start) * ratio..=z_mm + (end - z_mm) * ratio;
    view.y_centre_mm = up_mm + (view.y_centre_mm - up_mm) * ratio;
}

/// From where to where the work, what holds it and the tailstock reach along the bed, and from bed to top.
#[must_use]
pub fn whole(job: &Job, setup: &Setup, sizes: &Proportions) -> ((f64, f64), (f64, f64)) {
    let h = sizes.centre_height_mm;
    let (start, end) = (setup.work_start_z_mm, setup.work_end_z_mm(&job.shaft));
    let left = start.min(sizes.headstock_right_mm - 0.35 * h) - 0.12 * h;
    let right = if setup.tail.kind == TailKind::Free {
        end + 0.5 * h
    } else {
        tail_places(job, setup, sizes).base_end_z_mm + 0.15 * h
    };
    let rests = if setup.rests.is_empty() { 0.0 } else { sizes.rest_outer_mm + 0.07 * h };
    ((left, right), (sizes.bed_bottom_mm, rests.max(sizes.headstock_top_mm)))
}

/// Shows the work, what holds it, and the tailstock, all in the canvas.
pub fn fit(view: &mut View, map: &Map, job: &Job, setup: &Setup, sizes: &Proportions) {
    let ((left, right), (bottom, top)) = whole(job, setup, sizes);
    let width_px = f64::from(map.x_range.span().max(1.0));
    let height_px = (f64::from(map.rect.height()) - ABOVE_POINTS - BELOW_POINTS).max(1.0);
    let scale = (width_px / (right - left).max(1.0)).min(height_px / (top - bottom).max(1.0));
    let length = (width_px / scale).clamp(STRETCH_MM.0, STRETCH_MM.1);
    let middle = f64::midpoint(left, right);
    view.z_view_mm = middle - 0.5 * length..=middle + 0.5 * length;
    view.y_centre_mm = f64::midpoint(top + ABOVE_POINTS / scale, bottom - BELOW_POINTS / scale);
}
