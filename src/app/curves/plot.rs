//! One plot: axes with a gutter of one width, grid in the user's units, and the pointer's wishes handed back.
//!
//! The numbers at the left are painted here, not by the plot: its own axis grows with its numbers, and bench and plots
//! would shift against one another while something is dragged.

use std::ops::RangeInclusive;

use egui::epaint::TextShape;
use egui::{Align2, Color32, Rangef, Rect, Role, Sense, Ui, WidgetInfo, pos2, vec2};
use egui_plot::{
    AxisHints, FilledArea, GridInput, GridMark, HLine, Line, LineStyle, MarkerShape, Plot, PlotPoint, PlotPoints,
    Points, VLine, uniform_grid_spacer,
};

use super::super::comparing::Pinned;
use super::super::{Palette, View};
use super::broken::Broken;
use super::dashes::{self, Seen, dashes};
use super::drawn::{Band, BandKind, Drawn, LegendEntry, MarkKind, Sample, Stroke, Trace, height_at};
use super::range::{self, Limits};
use super::z_axis::{GRID_SPACING, Z_AXIS_THICKNESS, z_axis, z_steps};
use crate::job::Units;
use crate::job::pins::LETTERS;

/// Width of the numbers and the unit at the left of every plot: `-20000` has room.
const GUTTER: f32 = 70.0;
/// Numbers at the left are never nearer to one another than so many of their lines.
const LABEL_LINES: f32 = 1.3;
/// Points between the lines of a hatched band, and far more lines than fit any window.
const HATCH_SPACING: f64 = 7.0;
const MOST_HATCHES: f64 = 2000.0;
/// How much of its colour the ground of a hatched band keeps.
const TOLERANCE_FILL: f32 = 0.6;
/// Far more grid lines than fit any window.
const MOST_MARKS: usize = 200;
/// Points of wheel travel that zoom by a factor e, as on the bench.
const WHEEL_POINTS: f64 = 320.0;
/// The stretch of bed seen can be so short and so long, as on the bench.
const VIEW_LENGTH_MM: RangeInclusive<f64> = 2.0..=60_000.0;
/// What came of showing a plot.
pub struct Shown {
    /// Left and right edge of its frame, in points.
    pub frame_x: Rangef,
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
    with_z_axis: bool,
) -> Shown {
    let limits = limits_to_show(ui, title, drawn, units, view.play.is_playing());
    let small_font = egui::TextStyle::Small.resolve(ui.style());
    let left = ui.cursor().left();
    let plot_height = height - if with_z_axis { Z_AXIS_THICKNESS } else { 0.0 };
    let label_height = ui.text_style_height(&egui::TextStyle::Small);
    let silent = drawn.silence.is_some();
    // Two numbers at the least, where they fit at all.
    let label_spacing = (LABEL_LINES * label_height).min(0.5 * plot_height).max(label_height);
    let step = height_step(limits, plot_height, label_spacing);
    let step = finer_if_bare(limits, plot_height, label_height, step);
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
                .custom_y_axes(vec![AxisHints::new_y().formatter(|_, _| String::new()).min_thickness(GUTTER)])
                .custom_x_axes(if with_z_axis { vec![z_axis(units, small_font.clone(), palette)] } else { Vec::new() })
                .x_grid_spacer(uniform_grid_spacer(move |input: GridInput| z_steps(&input, units)))
                .y_grid_spacer(move |_: GridInput| if silent { Vec::new() } else { height_marks(limits, step) })
                .grid_spacing(GRID_SPACING)
                .grid_color(palette.ink_weak.gamma_multiply(0.32))
                .grid_fade(0.8)
                .show(ui, |plot_ui| {
                    plot_ui.set_plot_bounds_x(view.z_view_mm.clone());
                    plot_ui.set_plot_bounds_y(limits.0..=limits.1);
                    draw(plot_ui, drawn, view, &seen(view, limits, plot_height), palette);
                })
        })
        .inner;

    let frame = *response.transform.frame();
    let y_of = |height: f64| response.transform.position_from_point(&PlotPoint::new(0.0, height)).y;
    let gutter = Rect::from_x_y_ranges(left..=frame.left(), frame.y_range().expand(4.0));
    if !silent {
        let unit = if drawn.whole_unit { whole_unit(units) } else { small_unit(units) };
        heights_ui(ui, gutter, limits, step, unit, palette, y_of);
    }
    if let Some(why) = &drawn.silence {
        let font = egui::TextStyle::Body.resolve(ui.style());
        let why = ui.painter().layout(why.clone(), font, palette.ink_weak, (frame.width() - 24.0).max(40.0));
        let place = Align2::CENTER_CENTER.anchor_size(frame.center(), why.size());
        ui.painter_at(frame).galley(place.min, why, palette.ink_weak);
    }
    if with_z_axis {
        let unit = whole_unit(units);
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
    Shown { frame_x: frame.x_range(), hover_z_mm }
}

/// Wheel: up and down zooms about the pointer, sideways moves along the bed.
fn wheel(ui: &Ui, view: &mut View, about_z_mm: f64) {
    let (scroll, zoom) = ui.input(|input| (input.smooth_scroll_delta, input.zoom_delta()));
    let (start, end) = (*view.z_view_mm.start(), *view.z_view_mm.end());
    if scroll.y != 0.0 || zoom != 1.0 {
        let factor = f64::from(zoom) * (f64::from(scroll.y) / WHEEL_POINTS).exp();
        view.z_view_mm = zoomed(&view.z_view_mm, about_z_mm, factor);
    } else if scroll.x != 0.0 {
        let by_mm = f64::from(scroll.x) * (end - start) / plot_width(view);
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

fn limits_to_show(ui: &Ui, title: &str, drawn: &Drawn, units: Units, played: bool) -> Limits {
    let id = ui.scope_id().with((title, units == Units::Inch, "limits"));
    let shown: Option<Limits> = ui.data(|data| data.get_temp(id));
    let in_drag = played || ui.input(|input| input.pointer.any_down());
    // Two micrometres or a tenth of a thou: below that there is nothing to measure.
    let least_height = match (drawn.whole_unit, units) {
        (false, Units::Metric) => 2.0,
        (false, Units::Inch) => 0.1,
        (true, Units::Metric) => 0.1,
        (true, Units::Inch) => 0.005,
    };
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

/// Name of the unit of places.
fn whole_unit(units: Units) -> &'static str {
    match units {
        Units::Metric => "mm",
        Units::Inch => "in",
    }
}

/// The one step of a plot's numbers: round, and wide enough that they never crowd.
fn height_step(limits: Limits, plot_height: f32, least_spacing: f32) -> f64 {
    let n_most = f64::from((plot_height / least_spacing).max(1.0));
    range::round_step((limits.1 - limits.0) / n_most)
}

/// Figures are lower than the line of text they stand in. A number is seen whole where half of this is left above and
/// below it.
fn figure_height(label_height: f32) -> f32 {
    0.8 * label_height
}

/// The next smaller round step where the given one leaves a single number, and the numbers still have room.
fn finer_if_bare(limits: Limits, plot_height: f32, label_height: f32, step: f64) -> f64 {
    let per_point = (limits.1 - limits.0) / f64::from(plot_height.max(1.0));
    let figure = f64::from(figure_height(label_height)) * per_point;
    let n_seen = height_marks((limits.0 + 0.5 * figure, limits.1 - 0.5 * figure), step).len();
    let finer = range::round_step(0.39 * step);
    if n_seen < 2 && finer >= figure { finer } else { step }
}

/// A grid line at each multiple of the step inside the limits.
fn height_marks(limits: Limits, step: f64) -> Vec<GridMark> {
    let (first, last) = ((limits.0 / step).ceil(), (limits.1 / step).floor());
    let n_marks = ((last - first) as usize).min(MOST_MARKS);
    (0..=n_marks).map(|index| GridMark { value: (first + index as f64) * step, step_size: step }).collect()
}

/// The numbers at the left of the plot, with the same digits after the point on each, and their unit.
fn heights_ui(
    ui: &Ui,
    gutter: Rect,
    limits: Limits,
    step: f64,
    unit: &str,
    palette: &Palette,
    y_of: impl Fn(f64) -> f32,
) {
    let painter = ui.painter_at(gutter);
    let font = egui::TextStyle::Small.resolve(ui.style());
    let decimals = (-step.log10()).ceil().clamp(0.0, 4.0) as usize;
    let label_height = ui.text_style_height(&egui::TextStyle::Small);
    let seen = gutter.y_range().shrink(0.5 * figure_height(label_height));
    for mark in height_marks(limits, step) {
        let y = y_of(mark.value);
        // A number half outside would run into the next plot or under the z axis.
        if seen.contains(y) {
            let text = format!("{:.*}", decimals, mark.value + 0.0);
            let at = pos2(gutter.right() - 6.0, y);
            painter.text(at, Align2::RIGHT_CENTER, text, font.clone(), palette.ink_weak);
        }
    }
    let unit = painter.layout_no_wrap(unit.to_owned(), font, palette.ink_weak);
    let at = pos2(gutter.left(), gutter.center().y + 0.5 * unit.size().x);
    painter.add(TextShape::new(at, unit, palette.ink_weak).with_angle(-std::f32::consts::FRAC_PI_2));
}

/// Width of the plots on the screen in points.
fn plot_width(view: &View) -> f64 {
    view.plot_x_range.map_or(800.0, |range| f64::from(range.span().max(1.0)))
}

fn seen(view: &View, limits: Limits, plot_height: f32) -> Seen {
    let (from, to) = ([*view.z_view_mm.start(), limits.0], [*view.z_view_mm.end(), limits.1]);
    let points_per_unit = [plot_width(view) / (to[0] - from[0]), f64::from(plot_height) / (to[1] - from[1])];
    Seen { from, to, points_per_unit }
}

fn draw(plot_ui: &mut egui_plot::PlotUi<'_>, drawn: &Drawn, view: &View, seen: &Seen, palette: &Palette) {
    for band in &drawn.bands {
        if band.z_mm.len() > 1 {
            let is_tolerance = band.kind == BandKind::Tolerance;
            let fill = if is_tolerance { band.colour.gamma_multiply(TOLERANCE_FILL) } else { band.colour };
            plot_ui
                .add(FilledArea::new("band", &band.z_mm, &band.lower, &band.upper).fill_color(fill).allow_hover(false));
            if !is_tolerance {
                continue;
            }
            let colour = palette.ink_weak.gamma_multiply(0.5);
            // As many lines up and down as these would be drawn as one thick one.
            plot_ui.line(line("hatching", &hatching(band, view), colour, Stroke::Thin).allow_band(false));
            for edge in [&band.lower, &band.upper] {
                let points: Vec<[f64; 2]> = band.z_mm.iter().zip(edge).map(|(z_mm, height)| [*z_mm, *height]).collect();
                plot_ui.line(line("limit", &points, palette.ink_weak, Stroke::Dotted).width(1.0));
            }
        }
    }
    if drawn.silence.is_some() {
        return;
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
        let (pattern, width) = match stroke {
            Stroke::Dashed => (dashes::DASHED, 1.5),
            Stroke::Pin(letter) => (dashes::PINNED[*letter], 1.6),
            Stroke::PinFine(letter) => (dashes::PINNED[*letter], 1.0),
            _ => {
                plot_ui.line(line(name, points, *colour, *stroke));
                continue;
            }
        };
        plot_ui.add(Broken::new(name, dashes(points, seen, pattern), width, *colour));
    }
    letters(plot_ui, drawn, seen, palette);
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

/// The letter of every pinned line on it, each letter at its own place along what is seen; the finer line of two says
/// that it is the other one.
fn letters(plot_ui: &mut egui_plot::PlotUi<'_>, drawn: &Drawn, seen: &Seen, palette: &Palette) {
    for Trace { points, colour, stroke, .. } in &drawn.traces {
        let (letter, is_fine) = match stroke {
            Stroke::Pin(letter) => (*letter, false),
            Stroke::PinFine(letter) => (*letter, true),
            _ => continue,
        };
        let ends = (points.first(), points.last());
        let (Some(first), Some(last)) = ends else { continue };
        let (from, to) = (first[0].max(seen.from[0]), last[0].min(seen.to[0]));
        let share = (letter as f64 + if is_fine { 0.75 } else { 0.25 }) / LETTERS.len() as f64;
        let z_mm = from + share * (to - from);
        let Some(height) = height_at(points, z_mm).filter(|_| from < to) else { continue };
        let text = if is_fine { format!("{}'", LETTERS[letter]) } else { LETTERS[letter].to_owned() };
        let text = egui::RichText::new(text).small().color(*colour).background_color(palette.canvas);
        let at = PlotPoint::new(z_mm, height);
        plot_ui.text(egui_plot::Text::new("letter", at, text).color(*colour).allow_hover(false));
    }
}

/// Lines across a band at even distances on the screen, in one stroke that runs along its edges from one to the next.
fn hatching(band: &Band, view: &View) -> Vec<[f64; 2]> {
    let (Some(from_mm), Some(to_mm)) = (band.z_mm.first(), band.z_mm.last()) else { return Vec::new() };
    let seen_mm = view.z_view_mm.end() - view.z_view_mm.start();
    let step_mm = HATCH_SPACING * seen_mm / plot_width(view);
    let height_at = |heights: &[f64], z_mm: f64| {
        let after = band.z_mm.partition_point(|place_mm| *place_mm < z_mm).clamp(1, band.z_mm.len() - 1);
        let (before_mm, after_mm) = (band.z_mm[after - 1], band.z_mm[after]);
        let share = ((z_mm - before_mm) / (after_mm - before_mm).max(1e-9)).clamp(0.0, 1.0);
        heights[after - 1] + (heights[after] - heights[after - 1]) * share
    };
    // Counted from the jaw face, so that the lines stay where they are while the pass changes.
    let (first, last) = ((from_mm / step_mm).ceil(), (to_mm / step_mm).floor());
    let n_lines = (last - first + 1.0).clamp(0.0, MOST_HATCHES) as usize;
    (0..n_lines)
        .flat_map(|index| {
            let z_mm = (first + index as f64) * step_mm;
            let ends = [height_at(&band.lower, z_mm), height_at(&band.upper, z_mm)];
            let upwards = (first as i64 + index as i64) % 2 == 0;
            let [from, to] = if upwards { ends } else { [ends[1], ends[0]] };
            [[z_mm, from], [z_mm, to]]
        })
        .collect()
}

/// A line of a plot that is not broken.
fn line<'a>(name: &str, points: &[[f64; 2]], colour: Color32, stroke: Stroke) -> Line<'a> {
    let (width, style) = match stroke {
        Stroke::Thin => (1.0, LineStyle::Solid),
        Stroke::Solid | Stroke::Dashed | Stroke::Pin(_) | Stroke::PinFine(_) => (2.0, LineStyle::Solid),
        Stroke::Thick => (4.0, LineStyle::Solid),
        Stroke::Dotted => (1.6, LineStyle::Dotted { spacing: 4.5 }),
    };
    Line::new(name, PlotPoints::from(points.to_vec())).color(colour).width(width).style(style).allow_hover(false)
}

/// Width of the sample before its words.
const SAMPLE_WIDTH: f32 = 22.0;

/// Draws a short piece of the line of what is pinned under a letter.
pub fn pin_sample_ui(ui: &mut Ui, letter: usize, palette: &Palette) {
    let (rect, _) = ui.allocate_exact_size(vec2(2.0 * SAMPLE_WIDTH, 12.0), Sense::hover());
    let (from, to) = (pos2(rect.left(), rect.center().y), pos2(rect.right(), rect.center().y));
    paint_pin_sample(ui.painter(), from, to, letter, palette.pinned[letter]);
}

fn paint_pin_sample(painter: &egui::Painter, from: egui::Pos2, to: egui::Pos2, letter: usize, colour: Color32) {
    let whole = f64::from(to.x - from.x);
    let seen = Seen { from: [0.0, -1.0], to: [whole, 1.0], points_per_unit: [1.0, 1.0] };
    for dash in dashes(&[[0.0, 0.0], [whole, 0.0]], &seen, dashes::PINNED[letter]) {
        let ends = [dash[0], dash[dash.len() - 1]].map(|at| pos2(from.x + at[0] as f32, from.y));
        painter.line_segment(ends, egui::Stroke::new(1.6, colour));
    }
}

/// The line of a pinned arrangement, its letter, and as much of its name as has room.
pub fn pin_legend_ui(ui: &mut Ui, pinned: &Pinned, palette: &Palette) {
    let (rect, _) = ui.allocate_exact_size(vec2(SAMPLE_WIDTH, 12.0), Sense::hover());
    let (from, to) = (pos2(rect.left(), rect.center().y), pos2(rect.right(), rect.center().y));
    paint_pin_sample(ui.painter(), from, to, pinned.letter, palette.pinned[pinned.letter]);
    ui.label(egui::RichText::new(pinned.letter()).small().strong());
    let name = pinned.name.shown();
    if !name.is_empty() {
        ui.add(egui::Label::new(egui::RichText::new(name).small().color(palette.ink_weak)).truncate());
    }
}

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
    match entry.sample {
        Sample::Band(BandKind::Tolerance) => {
            let outline = egui::Stroke::new(1.0, palette.ink_weak);
            let fill = entry.colour.gamma_multiply(TOLERANCE_FILL);
            painter.rect(rect, 0.0, fill, outline, egui::StrokeKind::Inside);
            for part in [0.25, 0.5, 0.75] {
                painter.vline(egui::lerp(rect.x_range().min..=rect.x_range().max, part), rect.y_range(), outline);
            }
        }
        Sample::Band(BandKind::MayLie) => {
            painter.rect_filled(rect, 0.0, entry.colour);
        }
        Sample::Line(Stroke::Thin) => {
            painter.line_segment([from, to], stroke(1.0));
        }
        Sample::Line(Stroke::Solid | Stroke::Pin(_) | Stroke::PinFine(_)) => {
            painter.line_segment([from, to], stroke(2.0));
        }
        Sample::Line(Stroke::Thick) => {
            painter.line_segment([from, to], stroke(4.0));
            painter.circle_filled(rect.center(), 4.0, entry.colour);
        }
        Sample::Line(Stroke::Dashed) => {
            painter.extend(egui::Shape::dashed_line(&[from, to], stroke(1.5), 5.0, 3.0));
        }
        Sample::Line(Stroke::Dotted) => {
            painter.extend(egui::Shape::dotted_line(&[from, to], entry.colour, 4.0, 1.2));
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_numbers_of_a_plot_have_one_round_step_and_room_between_them() {
        for (limits, plot_height) in [((-20.0, 100.0), 118.0), ((-20.0, 110.0), 60.0), ((-0.4, 3.1), 300.0)] {
            let step = height_step(limits, plot_height, 24.0);
            let spacing = step / (limits.1 - limits.0) * f64::from(plot_height);
            assert!((24.0..=150.0).contains(&spacing), "{spacing} points between numbers at {limits:?}");
            let marks = height_marks(limits, step);
            assert!(marks.iter().any(|mark| mark.value == 0.0), "zero is numbered at {limits:?}");
            assert!(marks.iter().all(|mark| (limits.0..=limits.1).contains(&mark.value)));
        }
    }

    #[test]
    fn a_low_plot_has_more_than_one_number_where_there_is_room() {
        // 50 would stand at the very top, where it is cut off.
        let limits = (-10.0, 50.0);
        let step = height_step(limits, 58.0, 21.0);
        assert_eq!(step, 50.0);
        assert_eq!(finer_if_bare(limits, 58.0, 16.0, step), 20.0);
        assert_eq!(finer_if_bare(limits, 30.0, 16.0, step), 50.0, "no room");
        assert_eq!(finer_if_bare((-10.0, 70.0), 58.0, 16.0, 50.0), 50.0, "50 can be read");
    }

    #[test]
    fn zooming_keeps_the_place_under_the_pointer() {
        let seen = zoomed(&(0.0..=1000.0), 250.0, 2.0);
        assert!((seen.start() - 125.0).abs() < 1e-9 && (seen.end() - 625.0).abs() < 1e-9, "{seen:?}");
        let closest = zoomed(&(0.0..=4.0), 1.0, 100.0);
        assert!((closest.end() - closest.start() - 2.0).abs() < 1e-9, "no closer than 2 mm: {closest:?}");
    }
}
