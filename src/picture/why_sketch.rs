//! The little picture beside an explanation: a bar under a push, a nose in the work, the marks it leaves. Not to scale:
//! what matters is drawn large.

use super::shapes::{arrow, words};
use super::{Align, Fill, Item, Line, Path, Picture, Point, Role, Stand, TextSize, at};
use crate::advice::why::Sketch;
use crate::job::Units;
use crate::job::quantity::{Kind, show};

/// Length of what is drawn, in mm of the picture.
const WIDTH_MM: f64 = 100.0;

/// The picture of a sketch, some 100 mm wide, lengths in the units of the job.
#[must_use]
pub fn why_sketch(sketch: &Sketch, units: Units) -> Picture {
    Picture::of(match *sketch {
        Sketch::Bar { from_mm, to_mm, load_at_mm, diameter_mm } => bar(from_mm, to_mm, load_at_mm, diameter_mm, units),
        Sketch::Chip { depth_mm, feed_mm, nose_mm, entering_rad } => {
            chip(depth_mm, feed_mm, nose_mm, entering_rad, units)
        }
        Sketch::Marks { feed_mm, nose_mm } => marks(feed_mm, nose_mm, units),
    })
}

fn label(place: Point, stand: Stand, role: Role, text: String) -> Item {
    words(place, Align::Centre, stand, TextSize::Small, role, text).into()
}

fn length(mm: f64, units: Units) -> String {
    show(mm, Kind::Length, units)
}

fn bar(from_mm: f64, to_mm: Option<f64>, load_at_mm: f64, diameter_mm: f64, units: Units) -> Vec<Item> {
    let long_mm = to_mm.map_or(load_at_mm - from_mm, |to_mm| to_mm - from_mm).max(1e-6);
    let share = ((load_at_mm - from_mm) / long_mm).clamp(0.0, 1.0);
    let load = share * WIDTH_MM;
    // The bent line of the very bar, its give drawn 9 mm.
    let give = |x: f64| match to_mm {
        Some(_) => {
            let (a, b, x) = if x <= share { (share, 1.0 - share, x) } else { (1.0 - share, share, 1.0 - x) };
            b * x * (1.0 - b * b - x * x) / (2.0 * a * a * b * b).max(1e-9)
        }
        None => x * x * (3.0 - x) / 2.0,
    };
    let places = (0..=40).map(|step| f64::from(step) / 40.0);
    let most = places.clone().map(give).fold(1e-9, f64::max);
    let bent: Vec<Point> = places.map(|x| at(x * WIDTH_MM, -9.0 * give(x) / most)).collect();
    let mut items: Vec<Item> = vec![
        Path::segment(at(0.0, 0.0), at(WIDTH_MM, 0.0), Role::CentreLine).lined(Line::Chain).into(),
        Path::through(bent, Role::SpringAway).lined(Line::Thick).into(),
    ];
    if to_mm.is_some() {
        for place in [0.0, WIDTH_MM] {
            let foot = [at(place, 0.0), at(place - 3.0, -6.0), at(place + 3.0, -6.0)];
            items.push(Path::outline(foot, Role::Rest).filled(Fill::Soft).into());
        }
    } else {
        items.push(Path::rect(at(-5.0, -7.0), at(0.0, 7.0), Role::Rest).filled(Fill::Hatch).into());
    }
    items.extend(arrow(at(load, 13.0), at(load, 1.0), 3.0, Role::Force));
    items.push(label(at(load, 13.5), Stand::Above, Role::Force, "push".to_owned()));
    items.push(label(
        at(0.5 * WIDTH_MM, -13.0),
        Stand::Below,
        Role::Text,
        format!("\u{d8} {}", show(diameter_mm, Kind::Diameter, units)),
    ));
    if load > 0.22 * WIDTH_MM {
        items.push(label(at(0.5 * load, 1.5), Stand::Above, Role::Dimension, length(load_at_mm - from_mm, units)));
    }
    if let Some(to_mm) = to_mm.filter(|_| load < 0.78 * WIDTH_MM) {
        items.push(label(
            at(0.5 * (load + WIDTH_MM), 1.5),
            Stand::Above,
            Role::Dimension,
            length(to_mm - load_at_mm, units),
        ));
    }
    items
}

/// The engaged edge seen from above, work at the top: the push is across its chord.
fn chip(depth_mm: f64, feed_mm: f64, nose_mm: f64, entering_rad: f64, units: Units) -> Vec<Item> {
    let nose_mm = nose_mm.max(1e-3);
    let nose_depth_mm = nose_mm * (1.0 - entering_rad.cos());
    // From the deepest place of the nose round to where the edge leaves the work.
    let turned =
        if depth_mm < nose_depth_mm { (1.0 - depth_mm / nose_mm).clamp(-1.0, 1.0).acos() } else { entering_rad };
    let mut edge: Vec<Point> = (0..=16)
        .map(|step| turned * f64::from(step) / 16.0)
        .map(|angle| at(-nose_mm * angle.sin(), nose_mm * (angle.cos() - 1.0)))
        .collect();
    if depth_mm > nose_depth_mm {
        let run_mm = (depth_mm - nose_depth_mm) / entering_rad.tan().max(1e-3);
        edge.push(at(-nose_mm * entering_rad.sin() - run_mm, -depth_mm));
    }
    let end = edge[edge.len() - 1];
    let start = at(0.5 * feed_mm, 0.0);
    let scale = 40.0 / depth_mm.max(start.right_mm - end.right_mm).max(1e-6);
    let drawn = |point: Point| at(scale * point.right_mm, scale * point.up_mm);
    let (first, last) = (drawn(start), drawn(end));
    let middle = at(f64::midpoint(first.right_mm, last.right_mm), f64::midpoint(first.up_mm, last.up_mm));
    let (right, up) = (first.right_mm - last.right_mm, first.up_mm - last.up_mm);
    let long = right.hypot(up).max(1e-6);
    let across = |by: f64| at(middle.right_mm - by * up / long, middle.up_mm + by * right / long);
    let mut items: Vec<Item> = vec![
        Path::through(edge.into_iter().map(drawn), Role::Tool).lined(Line::Thick).into(),
        Path::segment(last, first, Role::Dimension).lined(Line::Dashed).into(),
    ];
    items.extend(arrow(middle, across(22.0), 3.0, Role::Force));
    items.push(label(across(23.0), Stand::Above, Role::Force, "thrust, across the chord of the edge".to_owned()));
    let told =
        format!("depth {}, nose {}", show(depth_mm, Kind::Diameter, units), show(nose_mm, Kind::Diameter, units));
    items.push(label(at(middle.right_mm, last.up_mm - 3.0), Stand::Below, Role::Text, told));
    items
}

fn marks(feed_mm: f64, nose_mm: f64, units: Units) -> Vec<Item> {
    let tooth = WIDTH_MM / 3.0;
    let mut items: Vec<Item> = Vec::new();
    for turn in 0..3 {
        let left = f64::from(turn) * tooth;
        let arc =
            (0..=16).map(|step| f64::from(step) / 8.0 - 1.0).map(|x| at(left + tooth * (0.5 + 0.5 * x), 12.0 * x * x));
        items.push(Path::through(arc, Role::Steel).lined(Line::Thick).into());
    }
    items.push(label(
        at(1.5 * tooth, 13.0),
        Stand::Above,
        Role::Dimension,
        format!("feed {}", show(feed_mm, Kind::Feed, units)),
    ));
    let nose = format!("nose radius {}", show(nose_mm, Kind::Diameter, units));
    items.push(label(at(1.5 * tooth, -2.0), Stand::Below, Role::Tool, nose));
    items
}
