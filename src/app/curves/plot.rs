//! One plot: axes with a common gutter, grid in the user's units, and the pointer's wishes handed back.

use std::ops::RangeInclusive;

use egui::{Align2, Color32, FontId, Rangef, Role, Sense, Ui, WidgetInfo, pos2, vec2};
use egui_plot::{
    AxisHints, FilledArea, GridInput, GridMark, HLine, Line, LineStyle, MarkerShape, Plot, PlotPoints, Points, VLine,
    uniform_grid_spacer,
};

use super::super::{Palette, View};
use super::drawn::{Drawn, LegendEntry, MarkKind, Stroke, Trace};
use super::range::{self, Limits};
use crate::job::Units;

/// Width kept for the numbers at the left of every plot.
pub const LEAST_GUTTER: f32 = 58.0;
/// Points of wheel travel that zoom by a factor e, as on the bench.
const WHEEL_POINTS: f64 = 320.0;
/// The stretch of bed seen can be so short and so long, as on the bench.
const VIEW_LENGTH_MM: RangeInclusive<f64> = 2.0..=60_000.0;
/// Steps of the z grid in mm.
const METRIC_STEPS_MM: [f64; 12] = [0.1, 0.5, 1.0, 5.0, 10.0, 20.0, 100.0, 500.0, 1000.0, 5000.0, 10_000.0, 50_000.0];
/// Steps of the z grid in inches: sixteenths, quarters, inches.
const INCH_STEPS_IN: [f64; 9] = [1.0 / 64.0, 1.0 / 16.0, 0.25, 1.0, 5.0, 10.0, 50.0, 100.0, 500.0];

/// What came of showing a plot.
pub struct Shown {
    /// Left and right edge of its frame, in points.
    pub frame_x: Rangef,
    /// Width the left axis took.
    pub gutter: f32,
    /// Where the pointer is over it.
    pub hover_z_mm: Option<f64>,
}

/// Shows one plot and lets the wheel, a drag and a click over it act on the view.
#[expect(clippy::too_many_arguments, reason = "a frame of one plot; a struct would be built for this call only")]
pub fn plot_ui(
    ui: &mut Ui,
    title: &'static str,
    drawn: &Drawn,
    view: &mut View,
    palette: &Palette,
    units: Units,
    height: f32,
    gutter: f32,
    with_z_axis: bool,
) -> Shown {
    let limits = limits_to_show(ui, title, drawn, units);
    let small_font = egui::TextStyle::Small.resolve(ui.style());
    let left = ui.cursor().left();
    let response = ui
        .scope(|ui| {
            ui.visuals_mut().extreme_bg_color = palette.canvas;
            Plot::new(title)
                .height(height)
                .sense(Sense::click_and_drag())
                .allow_drag(false)
                .allow_zoom(false)
                .allow_scroll(false)
                .allow_boxed_zoom(false)
                .allow_axis_zoom_drag(false)
                .allow_double_click_reset(false)
                .show_crosshair(false)
                .label_formatter(|_| None)
                .custom_y_axes(vec![y_axis(units, limits, gutter, small_font.clone(), palette)])
                .custom_x_axes(if with_z_axis { vec![z_axis(units, small_font, palette)] } else { Vec::new() })
                .x_grid_spacer(uniform_grid_spacer(move |input: GridInput| z_steps(&input, units)))
                .y_grid_spacer(uniform_grid_spacer(|input: GridInput| height_steps(&input)))
                .grid_spacing(Rangef::new(14.0, 120.0))
                .grid_color(palette.ink_weak.gamma_multiply(0.32))
                .grid_fade(0.8)
                .show(ui, |plot_ui| {
                    plot_ui.set_plot_bounds_x(view.z_view_mm.clone());
                    plot_ui.set_plot_bounds_y(limits.0..=limits.1);
                    draw(plot_ui, drawn, view, palette);
                })
        })
        .inner;

    let frame = *response.transform.frame();
    if let Some(why) = &drawn.silence {
        let font = egui::TextStyle::Body.resolve(ui.style());
        ui.painter_at(frame).text(frame.center(), Align2::CENTER_CENTER, why, font, palette.ink_weak);
    }
    if with_z_axis {
        let unit = if units == Units::Inch { "in" } else { "mm" };
        let at = pos2(left + 2.0, frame.bottom() + 3.0);
        let font = egui::TextStyle::Small.resolve(ui.style());
        ui.painter().text(at, Align2::LEFT_TOP, unit, font, palette.ink_weak);
    }
    let hover = response.response.hover_pos().filter(|pos| frame.contains(*pos));
    let hover_z_mm = hover.map(|pos| response.transform.value_from_position(pos).x);
    if let Some(z_mm) = hover_z_mm {
        wheel(ui, view, z_mm);
    }
    if response.response.dragged() {
        let by_mm = f64::from(response.response.drag_delta().x) * response.transform.dvalue_dpos()[0];
        view.z_view_mm = view.z_view_mm.start() - by_mm..=view.z_view_mm.end() - by_mm;
    }
    if response.response.clicked()
        && let Some(z_mm) = hover_z_mm
    {
        view.tool_z_mm = z_mm;
    }
    if response.response.double_clicked() {
        view.fit = true;
    }
    let told = drawn.silence.as_ref().unwrap_or(&drawn.readout);
    response.response.widget_info(|| WidgetInfo::labeled(Role::Canvas, true, format!("Plot: {title}, {told}")));
    Shown { frame_x: frame.x_range(), gutter: frame.left() - left, hover_z_mm }
}

/// Wheel: up and down zooms about the pointer, sideways moves along the bed.
fn wheel(ui: &Ui, view: &mut View, about_z_mm: f64) {
    let (scroll, zoom) = ui.input(|input| (input.smooth_scroll_delta, input.zoom_delta()));
    let (start, end) = (*view.z_view_mm.start(), *view.z_view_mm.end());
    if scroll.y != 0.0 || zoom != 1.0 {
        let factor = f64::from(zoom) * (f64::from(scroll.y) / WHEEL_POINTS).exp();
        view.z_view_mm = zoomed(&view.z_view_mm, about_z_mm, factor);
    } else if scroll.x != 0.0 {
        let points = view.plot_x_range.map_or(800.0, |range| f64::from(range.span().max(1.0)));
        let by_mm = f64::from(scroll.x) * (end - start) / points;
        view.z_view_mm = start - by_mm..=end - by_mm;
    }
}

/// The stretch seen made `factor` times closer about a place that stays where it is.
fn zoomed(seen_mm: &RangeInclusive<f64>, about_z_mm: f64, factor: f64) -> RangeInclusive<f64> {
    let length_mm = seen_mm.end() - seen_mm.start();
    let new_length_mm = (length_mm / factor).clamp(*VIEW_LENGTH_MM.start(), *VIEW_LENGTH_MM.end());
    let ratio = new_length_mm / length_mm;
    if !ratio.is_finite() {
        return seen_mm.clone();
    }
    let start_mm = about_z_mm + (seen_mm.start() - about_z_mm) * ratio;
    start_mm..=start_mm + new_length_mm
}

fn limits_to_show(ui: &Ui, title: &str, drawn: &Drawn, units: Units) -> Limits {
    let id = ui.scope_id().with((title, units == Units::Inch, "limits"));
    let shown: Option<Limits> = ui.data(|data| data.get_temp(id));
    let in_drag = ui.input(|input| input.pointer.any_down());
    // Two micrometres or a tenth of a thou: below that there is nothing to measure.
    let least_height = if units == Units::Inch { 0.1 } else { 2.0 };
    let limits = range::settle(shown, drawn.must_see, least_height, in_drag);
    if shown != Some(limits) {
        ui.data_mut(|data| data.insert_temp(id, limits));
    }
    limits
}

/// Name of the unit of the heights.
fn small_unit(units: Units) -> &'static str {
    match units {
        Units::Metric => "\u{b5}m",
        Units::Inch => "thou",
    }
}

fn y_axis<'a>(units: Units, limits: Limits, gutter: f32, font: FontId, palette: &Palette) -> AxisHints<'a> {
    // The same number of digits on every mark of a plot.
    let step = range::round_step((limits.1 - limits.0) / 8.0);
    let decimals = (-step.log10()).ceil().clamp(0.0, 4.0) as usize;
    AxisHints::new_y()
        .label(egui::RichText::new(small_unit(units)).small().color(palette.ink_weak))
        .formatter(move |mark: GridMark, _: &RangeInclusive<f64>| format!("{:.*}", decimals, mark.value + 0.0))
        .min_thickness(gutter)
        .label_spacing(Rangef::new(15.0, 24.0))
        .tick_label_color(palette.ink_weak)
        .tick_label_font(font)
}

fn z_axis<'a>(units: Units, font: FontId, palette: &Palette) -> AxisHints<'a> {
    AxisHints::new_x()
        .formatter(move |mark: GridMark, _: &RangeInclusive<f64>| z_label(&mark, units))
        .min_thickness(20.0)
        .label_spacing(Rangef::new(34.0, 48.0))
        .tick_label_color(palette.ink_weak)
        .tick_label_font(font)
}

/// Three steps of the ladder of the user's unit, from the finest that can be seen.
fn z_steps(input: &GridInput, units: Units) -> [f64; 3] {
    let (ladder, unit_mm): (&[f64], f64) = match units {
        Units::Metric => (&METRIC_STEPS_MM, 1.0),
        Units::Inch => (&INCH_STEPS_IN, 25.4),
    };
    let first = ladder.iter().position(|step| step * unit_mm >= input.base_step_size).unwrap_or(ladder.len());
    let first = first.min(ladder.len() - 3);
    [ladder[first] * unit_mm, ladder[first + 1] * unit_mm, ladder[first + 2] * unit_mm]
}

/// Round steps of the heights: tens, fives or twos.
fn height_steps(input: &GridInput) -> [f64; 3] {
    let fine = range::round_step(input.base_step_size);
    let middle = range::round_step(fine * 1.9);
    [fine, middle, range::round_step(middle * 1.9)]
}

/// A place on the bed: whole millimetres, or inches with sixteenths as a fraction.
fn z_label(mark: &GridMark, units: Units) -> String {
    match units {
        Units::Metric => {
            let decimals = usize::from(mark.step_size < 0.999);
            format!("{:.*}", decimals, mark.value + 0.0)
        }
        Units::Inch => inch_label(mark.value / 25.4),
    }
}

fn inch_label(inches: f64) -> String {
    let parts = (inches * 64.0).round();
    let whole = (parts.abs() / 64.0).floor();
    let (mut top, mut bottom) = (parts.abs() - 64.0 * whole, 64.0);
    while top > 0.0 && top % 2.0 == 0.0 {
        top /= 2.0;
        bottom /= 2.0;
    }
    let sign = if parts < 0.0 { "-" } else { "" };
    if top == 0.0 {
        format!("{sign}{whole:.0}")
    } else if whole == 0.0 {
        format!("{sign}{top:.0}/{bottom:.0}")
    } else {
        format!("{sign}{whole:.0} {top:.0}/{bottom:.0}")
    }
}

fn draw(plot_ui: &mut egui_plot::PlotUi<'_>, drawn: &Drawn, view: &View, palette: &Palette) {
    for band in &drawn.bands {
        if band.z_mm.len() > 1 {
            plot_ui.add(
                FilledArea::new("tolerance", &band.z_mm, &band.lower, &band.upper)
                    .fill_color(palette.tolerance_band)
                    .allow_hover(false),
            );
            for edge in [&band.lower, &band.upper] {
                let points: Vec<[f64; 2]> = band.z_mm.iter().zip(edge).map(|(z_mm, height)| [*z_mm, *height]).collect();
                plot_ui.line(line("limit", &points, palette.ink_weak, Stroke::Dotted).width(1.0));
            }
        }
    }
    plot_ui.hline(HLine::new("to size", 0.0).color(palette.ink_weak).width(1.0).allow_hover(false));
    plot_ui.vline(
        VLine::new("tool", view.tool_z_mm)
            .color(palette.tool)
            .width(1.0)
            .style(LineStyle::Dashed { length: 6.0 })
            .allow_hover(false),
    );
    for Trace { name, points, colour, stroke } in &drawn.traces {
        plot_ui.line(line(name, points, *colour, *stroke));
    }
    for kind in [MarkKind::Support, MarkKind::Outside, MarkKind::Tool] {
        let at: Vec<[f64; 2]> = drawn.marks.iter().filter(|mark| mark.kind == kind).map(|mark| mark.at).collect();
        if at.is_empty() {
            continue;
        }
        let (shape, colour, radius) = match kind {
            MarkKind::Support => (MarkerShape::Up, palette.support, 6.0),
            MarkKind::Outside => (MarkerShape::Circle, palette.trouble, 4.0),
            MarkKind::Tool => (MarkerShape::Diamond, palette.tool, 5.0),
        };
        plot_ui
            .points(Points::new("marks", at).shape(shape).color(colour).radius(radius).filled(true).allow_hover(false));
    }
    if let Some(z_mm) = view.cursor_z_mm {
        plot_ui.vline(VLine::new("cursor", z_mm).color(palette.cursor).width(1.5).allow_hover(false));
    }
}

fn line<'a>(name: &str, points: &[[f64; 2]], colour: Color32, stroke: Stroke) -> Line<'a> {
    let (width, style) = match stroke {
        Stroke::Thin => (1.0, LineStyle::Solid),
        Stroke::Solid => (2.0, LineStyle::Solid),
        Stroke::Thick => (4.0, LineStyle::Solid),
        Stroke::Dashed => (1.5, LineStyle::Dashed { length: 7.0 }),
        Stroke::FineDashed => (1.2, LineStyle::Dashed { length: 3.5 }),
        Stroke::Dotted => (1.6, LineStyle::Dotted { spacing: 4.5 }),
    };
    Line::new(name, PlotPoints::from(points.to_vec())).color(colour).width(width).style(style).allow_hover(false)
}

/// Width of the sample before its words.
const SAMPLE_WIDTH: f32 = 22.0;

/// Room an entry of the legend takes.
pub fn legend_width(ui: &Ui, entry: &LegendEntry) -> f32 {
    let font = egui::TextStyle::Small.resolve(ui.style());
    let words = ui.painter().layout_no_wrap(entry.text.to_owned(), font, Color32::BLACK);
    words.size().x + SAMPLE_WIDTH + 2.0 * ui.spacing().item_spacing.x
}

/// A sample of a line or band and what it means.
pub fn legend_ui(ui: &mut Ui, entry: &LegendEntry, palette: &Palette) {
    // Drawn from the right: first the words, then the sample before them.
    ui.label(egui::RichText::new(entry.text).small().color(palette.ink_weak));
    let (rect, _) = ui.allocate_exact_size(vec2(SAMPLE_WIDTH, 12.0), Sense::hover());
    let (from, to) = (pos2(rect.left(), rect.center().y), pos2(rect.right(), rect.center().y));
    let painter = ui.painter();
    let stroke = |width: f32| egui::Stroke::new(width, entry.colour);
    match entry.stroke {
        None => {
            painter.rect(rect, 0.0, entry.colour, egui::Stroke::new(1.0, palette.ink_weak), egui::StrokeKind::Inside);
        }
        Some(Stroke::Thin) => {
            painter.line_segment([from, to], stroke(1.0));
        }
        Some(Stroke::Solid) => {
            painter.line_segment([from, to], stroke(2.0));
        }
        Some(Stroke::Thick) => {
            painter.line_segment([from, to], stroke(4.0));
            painter.circle_filled(rect.center(), 4.0, entry.colour);
        }
        Some(Stroke::Dashed | Stroke::FineDashed) => {
            painter.extend(egui::Shape::dashed_line(&[from, to], stroke(1.5), 5.0, 3.0));
        }
        Some(Stroke::Dotted) => {
            painter.extend(egui::Shape::dotted_line(&[from, to], entry.colour, 4.0, 1.2));
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn inches_are_labelled_in_fractions() {
        assert_eq!(inch_label(0.0), "0");
        assert_eq!(inch_label(12.25), "12 1/4");
        assert_eq!(inch_label(0.0625), "1/16");
        assert_eq!(inch_label(-1.5), "-1 1/2");
        assert_eq!(inch_label(3.999_999_9), "4");
    }

    #[test]
    fn zooming_keeps_the_place_under_the_pointer() {
        let seen = zoomed(&(0.0..=1000.0), 250.0, 2.0);
        assert!((seen.start() - 125.0).abs() < 1e-9 && (seen.end() - 625.0).abs() < 1e-9, "{seen:?}");
        let closest = zoomed(&(0.0..=4.0), 1.0, 100.0);
        assert!((closest.end() - closest.start() - 2.0).abs() < 1e-9, "no closer than 2 mm: {closest:?}");
    }
}
