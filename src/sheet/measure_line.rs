//! The line that is measured on the print, and the scale bar of the drawing: a print that was made to fit is found out
//! with a ruler.

use super::piece::line;
use super::scale::Scale;
use crate::job::quantity::{Kind, show};
use crate::job::{Job, Units};
use crate::picture::lettering::Lettering;
use crate::picture::{Align, Fill, Item, Line, Path, Role, at};

/// Height of the row.
pub(super) const HEIGHT_MM: f64 = 9.5;

/// Length of the line on paper: 100 mm or 4 in.
pub(super) fn line_length_mm(units: Units) -> f64 {
    match units {
        Units::Metric => 100.0,
        Units::Inch => 101.6,
    }
}

/// Both, hanging from `top_mm` between left and right.
pub(super) fn row(job: &Job, scale: Scale, (left_mm, right_mm): (f64, f64), top_mm: f64) -> Vec<Item> {
    let up = top_mm - 2.0;
    let length_mm = line_length_mm(job.units);
    let name = match job.units {
        Units::Metric => "100 mm",
        Units::Inch => "4 in",
    };
    let tick = |z: f64, half: f64| -> Item {
        Path::segment(at(z, up - half), at(z, up + half), Role::Dimension).lined(Line::Thin).into()
    };
    let end_mm = left_mm + length_mm;
    let mut items: Vec<Item> =
        vec![Path::segment(at(left_mm, up), at(end_mm, up), Role::Dimension).lined(Line::Thin).into()];
    items.extend((0..=4).map(|quarter| {
        let half = if quarter % 4 == 0 { 1.6 } else { 0.8 };
        tick(left_mm + length_mm * f64::from(quarter) / 4.0, half)
    }));
    let words = format!("This line measures {name} on paper. If not: print at 100 %, no fitting.");
    let words = Lettering::Fine.cut(&words, length_mm);
    items.push(line(left_mm, up - 2.0, Align::Left, Lettering::Fine, Role::Text, &words).into());

    let room_mm = (right_mm - end_mm - 12.0).min(80.0);
    if let Some(bar_mm) = bar_length_mm(job.units, room_mm / scale.ratio()) {
        let width = bar_mm * scale.ratio();
        let from = right_mm - width;
        for half in 0..2 {
            let (a, b) = (from + width * f64::from(half) / 2.0, from + width * f64::from(half + 1) / 2.0);
            let bar = Path::rect(at(a, up - 0.7), at(b, up + 0.7), Role::Dimension).lined(Line::Thin);
            items.push(bar.filled(if half == 0 { Fill::Solid } else { Fill::None }).into());
        }
        let words = format!("{} at {scale}", show(bar_mm, Kind::Length, job.units));
        items.push(line(right_mm, up - 2.0, Align::Right, Lettering::Fine, Role::Text, &words).into());
    }
    items
}

/// The longest round length of the lathe not longer than the room.
fn bar_length_mm(units: Units, room_mm: f64) -> Option<f64> {
    let unit_mm = match units {
        Units::Metric => 1.0,
        Units::Inch => 25.4,
    };
    let rounds = (-2..6).flat_map(|power| [1.0, 2.0, 5.0].map(|step| step * 10f64.powi(power) * unit_mm));
    rounds.filter(|length_mm| *length_mm <= room_mm).reduce(f64::max)
}
