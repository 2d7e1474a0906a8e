//! What the steady rest looked at would come to if it stood anywhere else: blue where it is best, orange where it is
//! worse, and a small curve that says the same without colour. Hatched where it cannot stand.
//!
//! The curve is drawn from the least figure there is up to four times that; what is worse than this lies along the top.

use egui::{Id, Mesh, Pos2, Role, Sense, Shape, Stroke, Ui, WidgetInfo, pos2};

use super::Row;
use crate::advice::places::{figure, measure_name};
use crate::advice::standing::from_to;
use crate::advice::words;
use crate::app::Results;
use crate::app::bench::paint::hatched;
use crate::study::placement::{Measure, Strip};
use crate::study::reach::{RestReach, Standing};

/// Height of the row, in points.
pub const HEIGHT: f32 = 18.0;
/// Figures so many times the least lie at the top of the row.
const TOP_TIMES: f64 = 4.0;
/// The row is at least so high, in shares of the least figure: what differs less is flat.
const FLAT_RATIO: f64 = 0.2;
/// Room above and below the curve, in points.
const MARGIN: f32 = 3.5;

/// Height of the row of these results: none where nothing is to be said.
pub fn height(results: &Results) -> f32 {
    let promise = results.promise.as_ref();
    promise.filter(|promise| promise.strip.is_some() || promise.is_awaited).map_or(0.0, |_| HEIGHT)
}

/// Draws the row and tells the figures at the pointer.
pub fn show(ui: &mut Ui, row: &Row<'_>, strip: &Strip, reach: Option<&RestReach>) {
    row.name(ui, name(strip.measure));
    let painter = ui.painter_at(row.map.rect);
    for (stretch, what) in reach.map(RestReach::stretches).unwrap_or_default() {
        let rect = row.rect_of(&stretch);
        if matches!(what, Standing::No(_)) && rect.is_positive() {
            painter.extend(hatched(rect, row.map.rect, row.palette.ink_weak.gamma_multiply(0.7)));
        }
    }
    if let Some(scale) = Scale::of(strip) {
        curve(row, strip, &scale, &painter);
    }
    told(ui, row, strip);
}

/// Draws the row where nothing has come yet.
pub fn show_awaited(ui: &Ui, row: &Row<'_>, measure: Measure) {
    row.name(ui, name(measure));
    row.words_in(ui, row.map.rect.with_min_x(row.map.x_range.min), &["working it out"]);
}

/// What the row is called.
fn name(measure: Measure) -> &'static str {
    match measure {
        Measure::Size => "Size",
        Measure::Springiness => "Spring",
        Measure::Chatter => "Chatter",
    }
}

/// How figures become heights and colours.
struct Scale {
    least: f64,
    span: f64,
}

impl Scale {
    fn of(strip: &Strip) -> Option<Self> {
        let (_, least) = strip.best?;
        let most = strip.values.iter().copied().filter(|value| value.is_finite()).fold(least, f64::max);
        let span = (most - least).min((TOP_TIMES - 1.0) * least).max(FLAT_RATIO * least).max(f64::MIN_POSITIVE);
        Some(Self { least, span })
    }

    /// 0 for the best there is, 1 for what lies at the top of the row or beyond.
    fn share(&self, value: f64) -> f32 {
        ((value - self.least) / self.span).clamp(0.0, 1.0) as f32
    }
}

fn curve(row: &Row<'_>, strip: &Strip, scale: &Scale, painter: &egui::Painter) {
    let (palette, map) = (row.palette, &row.map);
    let clip = map.rect.intersect(egui::Rect::from_x_y_ranges(map.x_range, map.rect.y_range()));
    let painter = painter.with_clip_rect(clip);
    let (top, bottom) = (map.rect.top() + MARGIN, map.rect.bottom() - MARGIN);
    let at = |z_mm: f64, value: f64| pos2(map.x(z_mm), bottom - scale.share(value) * (bottom - top));
    for run in strip.runs() {
        let mut mesh = Mesh::default();
        let mut points: Vec<Pos2> = Vec::new();
        for index in run {
            let (z_mm, value) = (strip.z_mm[index], strip.values[index]);
            let colour = palette.fine.lerp_to_gamma(palette.spring_x, scale.share(value)).gamma_multiply(0.55);
            let last = mesh.vertices.len() as u32;
            let point = at(z_mm, value);
            mesh.colored_vertex(pos2(point.x, top - 1.0), colour);
            mesh.colored_vertex(pos2(point.x, bottom + 1.0), colour);
            if last > 0 {
                mesh.add_triangle(last - 2, last - 1, last);
                mesh.add_triangle(last - 1, last, last + 1);
            }
            points.push(point);
        }
        painter.add(mesh);
        painter.add(Shape::line(points, Stroke::new(1.6, palette.ink)));
    }
    if strip.has_limits && (scale.least..scale.least + scale.span).contains(&1.0) {
        let y = at(0.0, 1.0).y;
        let ends = [pos2(map.x_range.min, y), pos2(map.x_range.max, y)];
        painter.extend(Shape::dashed_line(&ends, Stroke::new(1.0, palette.ink_weak), 4.0, 4.0));
    }
    if let Some((stretch, (best_mm, value))) = strip.as_good().zip(strip.best) {
        // Where it is as good, a bar under the curve; a dot where it is best.
        let y = map.rect.bottom() - 2.0;
        painter.line_segment([pos2(map.x(stretch.from_mm), y), pos2(map.x(stretch.to_mm), y)], (2.5, palette.ink));
        painter.circle(at(best_mm, value), 3.5, palette.canvas, Stroke::new(1.5, palette.ink));
    }
    if let Some(rest) = row.setup.rest(strip.rest) {
        painter.vline(map.x(rest.z_mm), map.rect.y_range(), Stroke::new(1.5, palette.selected));
    }
}

/// The words at the pointer and for assistive technology.
fn told(ui: &Ui, row: &Row<'_>, strip: &Strip) {
    let units = row.job.units;
    let number = row.setup.rests.iter().position(|rest| rest.id == strip.rest).map_or(0, |index| index + 1);
    let said = |value: f64| figure(strip.measure, strip.has_limits, value, units);
    let mut lines = vec![format!(
        "{} if steady rest {number} stood there, all else as it is.",
        words::capital(measure_name(strip.measure))
    )];
    if let Some(((best_mm, best), stretch)) = strip.best.zip(strip.as_good()) {
        lines.push(format!("Best at {}: {}.", words::place(best_mm, units), said(best)));
        if stretch.from_mm < stretch.to_mm {
            lines.push(format!("As good anywhere from {}.", from_to(&stretch, units)));
        }
    } else {
        lines.push("There is no place for it.".to_owned());
    }
    if let Some(rest) = row.setup.rest(strip.rest)
        && let Some(now) = strip.value_at(rest.z_mm)
    {
        lines.push(format!("Where it stands, {}: {}.", words::length(rest.z_mm, units), said(now)));
    }
    let response = ui.interact(row.map.rect, Id::unique("what a rest would come to"), Sense::hover());
    response.widget_info(|| WidgetInfo::labeled(Role::Label, true, format!("Promise. {}", lines.join(" "))));
    let Some(pos) = response.hover_pos() else { return };
    let z_mm = row.map.z_mm(pos.x);
    response.on_hover_ui_at_pointer(|ui| {
        if row.map.x_range.contains(pos.x)
            && let Some(value) = strip.value_at(z_mm)
        {
            ui.strong(format!("At {}: {}", words::place(z_mm, units), said(value)));
        }
        lines.iter().for_each(|line| {
            ui.label(line);
        });
    });
}
