//! The line that is measured on the print, which is the scale bar of the drawing too: a print that was made to fit is
//! found out with a ruler.

use super::piece::line;
use super::scale::Scale;
use crate::job::quantity::{Kind, show};
use crate::job::{Job, Units};
use crate::picture::lettering::Lettering;
use crate::picture::{Align, Fill, Item, Line, Path, Role, at};

/// Height of both.
pub(super) const HEIGHT_MM: f64 = 8.8;

/// Length of the line on paper: 100 mm or 4 in.
pub(super) fn line_length_mm(units: Units) -> f64 {
    match units {
        Units::Metric => 100.0,
        Units::Inch => 101.6,
    }
}

/// The line, black and white by quarters, with its words under it, hanging from `top_mm` and beginning at `left_mm`.
pub(super) fn items(job: &Job, scale: Scale, left_mm: f64, top_mm: f64) -> Vec<Item> {
    let up = top_mm - 2.3;
    let length_mm = line_length_mm(job.units);
    let name = match job.units {
        Units::Metric => "100 mm",
        Units::Inch => "4 in",
    };
    let end_mm = left_mm + length_mm;
    let mut items: Vec<Item> =
        vec![Path::segment(at(left_mm, up), at(end_mm, up), Role::Dimension).lined(Line::Thin).into()];
    for quarter in 0..4 {
        let [from, to] = [quarter, quarter + 1].map(|step| left_mm + length_mm * f64::from(step) / 4.0);
        let bar = Path::rect(at(from, up), at(to, up + 1.3), Role::Dimension).lined(Line::Thin);
        items.push(bar.filled(if quarter % 2 == 0 { Fill::Solid } else { Fill::None }).into());
    }
    for z in [left_mm, end_mm] {
        items.push(Path::segment(at(z, up - 1.4), at(z, up + 2.2), Role::Dimension).lined(Line::Thin).into());
    }
    let on_lathe = show(length_mm / scale.ratio(), Kind::Length, job.units);
    let words = format!("This line measures {name} on paper, {on_lathe} at {scale}. If not, print at 100 %.");
    let kinds = [Lettering::Fine, Lettering::CloseFine];
    let kind = kinds.into_iter().find(|kind| kind.width_mm(&words) <= length_mm).unwrap_or(Lettering::CloseFine);
    let words = kind.cut(&words, length_mm);
    items.push(line(left_mm, up - 2.0, Align::Left, kind, Role::Text, &words).into());
    items
}
