//! The predicted error under the drawing, on its scale along the bed, with its band and the limits of the drawing.

use super::hand::Hand;
use super::piece::line;
use super::sizes::{Predicted, runs};
use crate::job::{Job, Units};
use crate::picture::lettering::Lettering;
use crate::picture::shapes::words;
use crate::picture::{Align, Fill, Item, Line, Path, Role, Stand, TextSize, at};

/// Where the plot lies on the page.
#[derive(Clone, Copy, Debug)]
pub(super) struct PlotAt {
    pub left_mm: f64,
    pub right_mm: f64,
    /// Room of its heading and legend.
    pub words_mm: (f64, f64),
    pub top_mm: f64,
    pub zero_mm: f64,
    pub ratio: f64,
}

/// The plot under its heading, and how high both are.
pub(super) fn plot(job: &Job, all: &[Predicted], here: PlotAt, hand: Hand) -> (Vec<Item>, f64) {
    let heading = hand.heading;
    let (left_mm, right_mm) = here.words_mm;
    let width_mm = right_mm - left_mm;
    if all.is_empty() {
        let text = heading.cut("No size along the outside is predicted in this set-up", width_mm);
        return (vec![line(left_mm, here.top_mm, Align::Left, heading, Role::Text, &text).into()], heading.line_mm());
    }
    // The least height that is worth showing comes with them.
    let (unit_mm, unit, least) = match job.units {
        Units::Metric => (0.001, "\u{b5}m", 4.0),
        Units::Inch => (0.0254, "thou", 0.4),
    };
    let title = format!("Predicted error on diameter off the dial, {unit}");
    let mut items: Vec<Item> = vec![line(left_mm, here.top_mm, Align::Left, heading, Role::Text, &title).into()];
    let legend = "thick: predicted; grey: may lie between; hatched: allowed";
    let room_mm = width_mm - heading.width_mm(&title) - 4.0;
    let beside = Lettering::Fine.width_mm(legend) <= room_mm;
    let mut top_mm = here.top_mm - heading.line_mm() - 0.2;
    if beside {
        let up_mm = here.top_mm + Lettering::Fine.drop_mm() - heading.drop_mm();
        items.push(line(right_mm, up_mm, Align::Right, Lettering::Fine, Role::Text, legend).into());
    } else {
        let legend = Lettering::Fine.cut(legend, width_mm);
        items.push(line(left_mm, top_mm, Align::Left, Lettering::Fine, Role::Text, &legend).into());
        top_mm -= Lettering::Fine.line_mm();
    }

    // The highest figure stands half above the plot.
    top_mm -= Lettering::Fine.line_mm() / 2.0;
    let seen = all.iter().flat_map(|place| [place.error_mm, place.edges_mm[0], place.edges_mm[1]]);
    let (low, high) = seen.fold((0.0_f64, 0.0_f64), |(low, high), mm| (low.min(mm), high.max(mm)));
    let step = round_step(((high - low) / unit_mm).max(least) / 4.0);
    let (bottom_at, top_at) = ((low / unit_mm / step).floor() * step, (high / unit_mm / step).ceil().max(1.0) * step);
    let up = |mm: f64| {
        let share = ((mm / unit_mm).clamp(bottom_at, top_at) - bottom_at) / (top_at - bottom_at);
        top_mm - hand.plot_mm + hand.plot_mm * share
    };
    let across = |z_mm: f64| here.zero_mm + here.ratio * z_mm;
    let n_steps = ((top_at - bottom_at) / step).round() as i32;
    for index in 0..=n_steps {
        let value = bottom_at + step * f64::from(index);
        let level = up(value * unit_mm);
        let role = if value.abs() < 1e-9 { Role::Text } else { Role::Grid };
        let from_mm = here.left_mm + 11.5;
        items.push(Path::segment(at(from_mm, level), at(here.right_mm, level), role).lined(Line::Thin).into());
        // Neighbouring figures must not touch.
        if f64::from(n_steps) * Lettering::Fine.line_mm() <= hand.plot_mm || index % 2 == 0 {
            let figure = words(
                at(here.left_mm + 10.5, level),
                Align::Right,
                Stand::Middle,
                TextSize::Paper(Lettering::Fine),
                Role::Text,
                signed(value),
            );
            items.push(figure.into());
        }
    }
    for run in runs(all) {
        for limited in run.chunk_by(|a, b| a.limits_mm == b.limits_mm) {
            let Some((lower_mm, upper_mm)) = limited[0].limits_mm else { continue };
            let (from, to) = (across(limited[0].z_mm), across(limited[limited.len() - 1].z_mm));
            items.push(
                Path::rect(at(from, up(lower_mm)), at(to, up(upper_mm)), Role::Allowed).filled(Fill::Hatch).into(),
            );
        }
    }
    for run in runs(all) {
        let edge = |side: usize| run.iter().map(move |place| at(across(place.z_mm), up(place.edges_mm[side])));
        let band = Path::outline(edge(0).chain(edge(1).rev()), Role::MayLie).lined(None).filled(Fill::Soft);
        items.push(band.into());
        for side in [0, 1] {
            items.push(Path::through(edge(side), Role::MayLie).lined(Line::Thin).into());
        }
    }
    for run in runs(all) {
        let curve = run.iter().map(|place| at(across(place.z_mm), up(place.error_mm)));
        items.push(Path::through(curve, Role::Curve).lined(Line::Thick).into());
    }
    (items, here.top_mm - top_mm + hand.plot_mm + Lettering::Fine.line_mm() / 2.0)
}

fn signed(value: f64) -> String {
    let digits = if value.abs() < 1e-9 || value.fract().abs() < 1e-9 { 0 } else { 1 };
    if value > 1e-9 { format!("+{value:.digits$}") } else { format!("{value:.digits$}").replace('-', "\u{2212}") }
}

/// The next step of 1, 2 or 5 times a power of ten that is not smaller.
fn round_step(least: f64) -> f64 {
    let decade = 10f64.powf(least.log10().floor());
    [1.0, 2.0, 5.0, 10.0].map(|step| step * decade).into_iter().find(|step| *step >= least * 0.999_999).unwrap_or(least)
}
