//! How lively the held work is, opened by a click: natural frequencies, whip speed, margin to buckling, the bar behind the
//! headstock, and the depth from which chatter is to be expected over the lathe's speeds.
//!
//! Worked out only while it is open. Every figure is an estimate on a damping that is stated; none is a promise of quiet,
//! and no speed is safe because it is below a whip speed.

use egui::{CollapsingHeader, Label, RichText, Ui};
use egui_plot::{HLine, Line, LineStyle, MarkerShape, Plot, PlotPoints, Points, VLine, uniform_grid_spacer};

use crate::advice::why::{Figure, title};
use crate::advice::words;
use crate::app::curves::round_step;
use crate::app::figure;
use crate::app::{Commands, Palette, Results, View, theme};
use crate::job::quantity::{self, Kind};
use crate::job::{Job, Pass, Setup, Units};
use crate::study::lively::{Lively, Lobes, Swing, bar_tail, lively, lobes};

/// A swing that moves so much more one way than the other has one direction.
const ONE_WAY_RATIO: f64 = 3.0;
/// A margin above this is ample, whatever it is.
const AMPLE_FACTOR: f64 = 20.0;
/// At least and at most so many times the least depth are shown over the speeds.
const SHOWN_TIMES: [f64; 2] = [1.6, 4.0];
const PLOT_HEIGHT: f32 = 130.0;

/// The section, closed until it is asked for.
pub fn lively_ui(
    ui: &mut Ui,
    job: &Job,
    pass: Option<&Pass>,
    view: &View,
    results: &Results,
    palette: &Palette,
    out: &mut Commands,
) {
    let Some(setup) = job.setup(view.setup) else { return };
    let line = std::mem::replace(&mut ui.spacing_mut().interact_size.y, theme::TARGET);
    CollapsingHeader::new("How lively it is, estimated").id_salt("lively").show(ui, |ui| {
        ui.spacing_mut().interact_size.y = line;
        let damping = &job.spread.damping_ratio;
        let tool_z_mm = pass.map(|_| view.tool_z_mm);
        let pass_id = pass.map(|pass| pass.id);
        let found = lively(job, &results.result, setup.id, pass_id, tool_z_mm, damping.value);
        let tail = tail_words(job, setup);
        let Some(found) = found else {
            ui.add(Label::new("Nothing holds the work, or it could not be worked out.").wrap());
            if let Some(words) = tail {
                sentence_ui(ui, Figure::BarTail, words, out);
            }
            return;
        };
        let swings = ["Swings with one bend at", "With two bends at"].into_iter().zip(1..);
        let swings = swings
            .filter_map(|(words, bend)| Some((Figure::Swings, format!("{words} {}.", swing_words(&found, bend)?))));
        let whip = quantity::show(words::three_figures(found.first_whip_rpm), Kind::SpindleSpeed, job.units);
        let whip = format!("Whips at about {whip}; never run near it.");
        let margin = found.buckling_factor.map(|factor| (Figure::Buckling, buckling_words(setup, factor)));
        let tail = tail.map(|words| (Figure::BarTail, words));
        for (figure, words) in swings.chain([(Figure::Whip, whip)]).chain(margin).chain(tail) {
            sentence_ui(ui, figure, words, out);
        }
        if let Some(pass) = pass
            && let Some(lobes) = lobes(job, &results.result, setup.id, pass.id, view.tool_z_mm, damping.value)
        {
            speeds_ui(ui, job, pass, &lobes, palette, out);
        }
        let assumed = if damping.assumed { " (assumed)" } else { "" };
        let damping = quantity::show(damping.value, Kind::Percent, job.units);
        let words = format!(
            "With damping of {damping}{assumed}. Estimates: no promise of quiet, and no speed is safe by them."
        );
        ui.add(Label::new(RichText::new(words).small().weak()).wrap());
    });
}

/// A sentence with a figure in it.
fn sentence_ui(ui: &mut Ui, figure: Figure, words: impl Into<String>, out: &mut Commands) {
    figure::sentence_ui(ui, (figure, title(figure)), RichText::new(words), out);
}

/// The frequencies of one number of bends: "84 Hz sideways and 85 Hz up and down", "85 Hz either way".
fn swing_words(found: &Lively, bend: usize) -> Option<String> {
    let of_bend: Vec<&Swing> = found.swings.iter().filter(|swing| swing.bend == bend).collect();
    let words: Vec<String> =
        of_bend.iter().map(|swing| format!("{} {}", hertz(swing.frequency_hz), way(swing))).collect();
    match &of_bend[..] {
        [] => None,
        [one, other] if hertz(one.frequency_hz) == hertz(other.frequency_hz) => {
            Some(format!("{} either way", hertz(one.frequency_hz)))
        }
        _ => Some(words.join(" and ")),
    }
}

fn hertz(frequency_hz: f64) -> String {
    format!("{frequency_hz:.*} Hz", usize::from(frequency_hz < 9.95))
}

/// Which way a swing goes.
fn way(swing: &Swing) -> &'static str {
    let sum = |shares: &[f64]| shares.iter().map(|share| share * share).sum::<f64>();
    let (away, up) = (sum(&swing.x_ratio), sum(&swing.y_ratio));
    if away > ONE_WAY_RATIO * up {
        "sideways"
    } else if up > ONE_WAY_RATIO * away {
        "up and down"
    } else {
        "aslant"
    }
}

/// The margin is the one with the jaws that touch: without them it would be less.
fn buckling_words(setup: &Setup, factor: f64) -> String {
    if factor <= 1.0 {
        return "The thrust is more than the work can bear: it bows out.".to_owned();
    }
    let times = if factor > AMPLE_FACTOR {
        format!("more than {AMPLE_FACTOR:.0}")
    } else {
        format!("{factor:.*}", usize::from(factor < 9.95))
    };
    let jaws =
        if setup.rests.is_empty() && setup.follower.is_none() { "" } else { ", the jaws that touch staying on it" };
    format!("Thrust could be {times} times as much before the work bows out{jaws}.")
}

/// The bar behind the headstock, in one sentence.
fn tail_words(job: &Job, setup: &Setup) -> Option<String> {
    let tail = bar_tail(job, setup)?;
    Some(format!(
        "Behind the headstock {} of bar stands out and hangs {} at its end: support it.",
        words::length(tail.length_mm, job.units),
        words::amount(tail.sag_mm, job.units)
    ))
}

/// One round step for a whole grid: all its lines weigh alike.
fn steps(least: f64) -> [f64; 3] {
    [round_step(least), 10.0 * round_step(least), 100.0 * round_step(least)]
}

/// The depth from which chatter is to be expected over the speeds of the lathe, tool where it stands.
fn speeds_ui(ui: &mut Ui, job: &Job, pass: &Pass, lobes: &Lobes, palette: &Palette, out: &mut Commands) {
    let unit_mm = if job.units == Units::Inch { 25.4 } else { 1.0 };
    let worst = lobes.worst.limit_on_diameter_mm;
    ui.add_space(4.0);
    let words = format!(
        "Tool at {}: chatter is to be expected from about {} on \u{d8} at the worst speed",
        words::place(lobes.worst.z_mm, job.units),
        words::depth(worst, job.units)
    );
    sentence_ui(ui, Figure::Chatter, words.clone(), out);
    let highest = lobes.speeds.iter().map(|limit| limit.limit_on_diameter_mm).fold(0.0, f64::max);
    let top = (1.15 * highest).clamp(SHOWN_TIMES[0] * worst, SHOWN_TIMES[1] * worst) / unit_mm;
    let mut runs: Vec<Vec<[f64; 2]>> = Vec::new();
    let mut last_rpm = f64::NAN;
    let step_ratio = lobes.speeds.windows(2).map(|pair| pair[1].speed_rpm / pair[0].speed_rpm).fold(f64::MAX, f64::min);
    for limit in &lobes.speeds {
        let goes_on = limit.speed_rpm <= last_rpm * step_ratio * 1.001;
        let point = [limit.speed_rpm, limit.limit_on_diameter_mm / unit_mm];
        match runs.last_mut().filter(|_| goes_on) {
            Some(run) => run.push(point),
            None => runs.push(vec![point]),
        }
        last_rpm = limit.speed_rpm;
    }
    let (Some(first), Some(end)) = (lobes.speeds.first(), lobes.speeds.last()) else { return };
    let (low, high) = (first.speed_rpm.min(pass.speed_rpm), end.speed_rpm.max(pass.speed_rpm));
    let unit = if job.units == Units::Inch { "in" } else { "mm" };
    let n_decimals = (-steps(top / 4.0)[0].log10()).ceil().clamp(0.0, 4.0) as usize;
    let plot = ui
        .scope(|ui| {
            ui.visuals_mut().extreme_bg_color = palette.canvas;
            Plot::new("depth over speeds")
                .height(PLOT_HEIGHT)
                .allow_drag(false)
                .allow_zoom(false)
                .allow_scroll(false)
                .allow_boxed_zoom(false)
                .allow_double_click_reset(false)
                .show_crosshair(false)
                .label_formatter(|_| None)
                .grid_spacing(egui::Rangef::new(6.0, 20.0))
                .grid_color(palette.ink_weak.gamma_multiply(0.32))
                .y_axis_formatter(move |mark, _| format!("{:.n_decimals$}", mark.value + 0.0))
                .x_grid_spacer(uniform_grid_spacer(move |_| steps((high - low) / 3.0)))
                .y_grid_spacer(uniform_grid_spacer(move |_| steps(top / 4.0)))
                .show(ui, |plot_ui| {
                    plot_ui.set_plot_bounds_x(low..=high);
                    plot_ui.set_plot_bounds_y(0.0..=top);
                    plot_ui.hline(
                        HLine::new("worst", worst / unit_mm)
                            .color(palette.ink_weak)
                            .style(LineStyle::Dashed { length: 5.0 })
                            .allow_hover(false),
                    );
                    for run in runs {
                        plot_ui.line(
                            Line::new("limit", PlotPoints::from(run))
                                .color(palette.watch)
                                .width(2.0)
                                .allow_hover(false),
                        );
                    }
                    plot_ui.vline(
                        VLine::new("this pass", pass.speed_rpm).color(palette.tool).width(1.5).allow_hover(false),
                    );
                    let steps: Vec<[f64; 2]> = job.lathe.speeds_rpm.iter().map(|rpm| [*rpm, 0.03 * top]).collect();
                    plot_ui.points(
                        Points::new("speeds there are", steps)
                            .shape(MarkerShape::Up)
                            .radius(4.0)
                            .color(palette.support)
                            .allow_hover(false),
                    );
                })
        })
        .inner;
    let told = format!("Depth over the speeds: {words}");
    plot.response.widget_info(|| egui::WidgetInfo::labeled(egui::Role::Canvas, true, &told));
    let words = format!(
        "{unit} on \u{d8} over rpm; the line is this pass, the marks are the speeds there are. Between two dips more may go."
    );
    ui.add(Label::new(RichText::new(words).small().weak()).wrap());
}
