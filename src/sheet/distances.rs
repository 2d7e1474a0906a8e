//! The row of distances under the drawing, all from one datum: the face of the chuck jaws, or the headstock centre's
//! point. Figures are 4 mm high where there is room, smaller where there are many, and what still finds no room is named
//! as left to the tables.

use super::piece::line;
use super::view::{CutSpan, cut_span};
use crate::job::quantity::{Kind, show, unit_name};
use crate::job::{DriveKind, Job, Setup, Units};
use crate::picture::lettering::Lettering;
use crate::picture::{Align, Item, Line, Path, Role, at};

/// A place along the bed.
#[derive(Clone, Debug, PartialEq)]
struct Place {
    z_mm: f64,
    figure: String,
    caption: String,
    /// The first to go where room is short has the largest.
    rank: u8,
}

/// Between neighbouring figures.
const GAP_MM: f64 = 2.6;
/// From the drawing down to the figures, where leaders find their way.
const LEADER_MM: f64 = 5.2;

/// What distances are measured from.
fn datum(setup: &Setup) -> &'static str {
    match setup.drive.kind {
        DriveKind::CentreAndDog => "datum: centre's point",
        DriveKind::FacePlate => "datum: face of the clamps",
        DriveKind::Collet => "datum: collet's face",
        DriveKind::ThreeJaw | DriveKind::FourJaw => "datum: jaw face",
    }
}

/// A value without its unit, as it stands where the unit is named once for all.
pub(super) fn bare(value: f64, kind: Kind, units: Units) -> String {
    let text = show(value, kind, units);
    text.strip_suffix(unit_name(kind, units)).map_or(text.clone(), |bare| bare.trim_end().to_owned())
}

/// A length without its unit.
pub(super) fn bare_length(mm: f64, job: &Job) -> String {
    bare(mm, Kind::Length, job.units)
}

fn places(job: &Job, setup: &Setup) -> Vec<Place> {
    let place = |z_mm: f64, caption: String, rank| Place { z_mm, figure: bare_length(z_mm, job), caption, rank };
    let from = format!("{} ({})", datum(setup), unit_name(Kind::Length, job.units));
    let mut places = vec![place(0.0, from, 0)];
    for (index, rest) in setup.rests.iter().enumerate() {
        places.push(place(rest.z_mm, format!("steady {}", index + 1), 1));
    }
    if let Some(CutSpan { from_z_mm, to_z_mm }) = cut_span(setup) {
        places.push(place(from_z_mm, "cut begins".to_owned(), 2));
        places.push(place(to_z_mm, "cut ends".to_owned(), 2));
    }
    places.push(place(setup.work_end_z_mm(&job.shaft), "work ends".to_owned(), 3));
    if setup.work_start_z_mm.abs() > 0.05 {
        places.push(place(setup.work_start_z_mm, "work begins".to_owned(), 4));
    }
    places.sort_by(|a, b| a.z_mm.total_cmp(&b.z_mm));
    // What stands at one place shares one figure.
    let mut joined: Vec<Place> = Vec::new();
    for next in places {
        match joined.last_mut().filter(|last| next.z_mm - last.z_mm < 0.05 && last.caption.len() < 32) {
            Some(last) => {
                last.caption = format!("{}, {}", last.caption, next.caption);
                last.rank = last.rank.min(next.rank);
            }
            None => joined.push(next),
        }
    }
    joined
}

/// Middles of labels as near to the wanted places as their widths let them, within the row; nothing where they do not
/// fit.
fn spread(wanted_mm: &[f64], widths_mm: &[f64], (left_mm, right_mm): (f64, f64)) -> Option<Vec<f64>> {
    let all_mm: f64 = widths_mm.iter().sum::<f64>() + GAP_MM * widths_mm.len().saturating_sub(1) as f64;
    if all_mm > right_mm - left_mm {
        return None;
    }
    // Pushed to the right only, and to the left only; half way between both nothing overlaps either.
    let n = wanted_mm.len();
    let gap = |index: usize| (widths_mm[index] + widths_mm[index + 1]) / 2.0 + GAP_MM;
    let push_right = |middles: &mut [f64]| {
        for index in 0..n {
            let least = if index == 0 { left_mm + widths_mm[0] / 2.0 } else { middles[index - 1] + gap(index - 1) };
            middles[index] = middles[index].max(least);
        }
    };
    let push_left = |middles: &mut [f64]| {
        for index in (0..n).rev() {
            let most = if index + 1 == n { right_mm - widths_mm[index] / 2.0 } else { middles[index + 1] - gap(index) };
            middles[index] = middles[index].min(most);
        }
    };
    let (mut rightward, mut leftward) = (wanted_mm.to_vec(), wanted_mm.to_vec());
    push_right(&mut rightward);
    push_left(&mut rightward);
    push_left(&mut leftward);
    push_right(&mut leftward);
    let middles = rightward.iter().zip(&leftward).map(|(a, b)| f64::midpoint(*a, *b)).collect();
    Some(middles)
}

/// Where the row lies on the page.
#[derive(Clone, Copy, Debug)]
pub(super) struct RowAt {
    pub left_mm: f64,
    pub right_mm: f64,
    /// The foot of the drawing.
    pub top_mm: f64,
    /// Where z = 0 is on paper.
    pub zero_mm: f64,
    pub ratio: f64,
}

/// The row, and how high it is.
pub(super) fn row(job: &Job, setup: &Setup, at_row: RowAt) -> (Vec<Item>, f64) {
    let mut places = places(job, setup);
    let mut n_left_out = 0;
    let (kind, middles) = loop {
        let wanted: Vec<f64> = places.iter().map(|place| at_row.zero_mm + at_row.ratio * place.z_mm).collect();
        let laid = [Lettering::Figure, Lettering::Strong].into_iter().find_map(|kind| {
            let width = |place: &Place| kind.width_mm(&place.figure).max(Lettering::Fine.width_mm(&place.caption));
            let widths: Vec<f64> = places.iter().map(width).collect();
            Some((kind, spread(&wanted, &widths, (at_row.left_mm, at_row.right_mm))?))
        });
        match laid {
            Some(laid) => break laid,
            None => {
                let Some(worst) = (0..places.len()).max_by_key(|index| places[*index].rank) else {
                    return (Vec::new(), 0.0);
                };
                places.remove(worst);
                n_left_out += 1;
            }
        }
    };
    let mut items: Vec<Item> = Vec::new();
    let top = at_row.top_mm;
    for (place, middle) in places.iter().zip(&middles) {
        let z = at_row.zero_mm + at_row.ratio * place.z_mm;
        let leader =
            [at(z, top + 1.5), at(z, top - 1.5), at(*middle, top - LEADER_MM + 1.5), at(*middle, top - LEADER_MM)];
        items.push(Path::through(leader, Role::Dimension).lined(Line::Thin).into());
        if place.z_mm == 0.0 {
            items.push(Path::circle(at(z, top), 1.2, Role::Dimension).lined(Line::Thin).into());
        }
        let under = top - LEADER_MM - 0.2;
        items.push(line(*middle, under, Align::Centre, kind, Role::Text, &place.figure).into());
        let under = under - kind.line_mm();
        items.push(line(*middle, under, Align::Centre, Lettering::Fine, Role::Text, &place.caption).into());
    }
    let mut under = top - LEADER_MM - 0.2 - kind.line_mm() - Lettering::Fine.line_mm();
    if n_left_out > 0 {
        let words = format!("{n_left_out} more distances are in the tables.");
        let words = Lettering::Fine.cut(&words, at_row.right_mm - at_row.left_mm);
        items.push(line(at_row.left_mm, under, Align::Left, Lettering::Fine, Role::Faint, &words).into());
        under -= Lettering::Fine.line_mm();
    }
    (items, top - under)
}
