//! The little picture beside an explanation: a bar under a push, a nose in the work, the marks it leaves. Not to scale:
//! what matters is drawn large.

use super::shapes::{arrow, words};
use super::{Align, Fill, Item, Line, Path, Picture, Point, Role, Stand, TextSize, at};
use std::f64::consts::TAU;

use crate::advice::why::Sketch;
use crate::job::Units;
use crate::job::quantity::{Kind, show};
use crate::mechanics::ring::{Load, Ring};

/// Length of what is drawn, in mm of the picture.
const WIDTH_MM: f64 = 100.0;

/// The picture of a sketch, some 100 mm wide, lengths in the units of the job.
#[must_use]
pub fn why_sketch(sketch: &Sketch, units: Units) -> Picture {
    Picture::of(match sketch {
        &Sketch::Bar { from_mm, to_mm, load_at_mm, diameter_mm } => bar(from_mm, to_mm, load_at_mm, diameter_mm, units),
        &Sketch::Chip { depth_mm, feed_mm, nose_mm, entering_rad } => {
            chip(depth_mm, feed_mm, nose_mm, entering_rad, units)
        }
        &Sketch::Marks { feed_mm, nose_mm } => marks(feed_mm, nose_mm, units),
        Sketch::Ring { ring, loads } => pressed_ring(ring, loads, units),
        &Sketch::Tip { diameter_mm, force_n } => tip(diameter_mm, force_n, units),
        Sketch::Lengths(all) => lengths(all, units),
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

/// A ring 26 mm wide in the picture, seen along the work, its give drawn 3 mm.
fn pressed_ring(ring: &Ring, loads: &[Load], units: Units) -> Vec<Item> {
    const RADIUS_MM: f64 = 13.0;
    let round = (0..=72).map(|step| TAU * f64::from(step) / 72.0);
    let most_mm = round.clone().map(|angle| ring.in_mm(loads, angle).abs()).fold(1e-12, f64::max);
    let on = |angle: f64, radius: f64| at(50.0 + radius * angle.cos(), radius * angle.sin());
    let bent = round.map(|angle| on(angle, RADIUS_MM - 3.0 * ring.in_mm(loads, angle) / most_mm));
    let mut items: Vec<Item> = vec![
        Path::circle(at(50.0, 0.0), RADIUS_MM, Role::CentreLine).lined(Line::Chain).into(),
        Path::through(bent, Role::SpringAway).lined(Line::Thick).into(),
    ];
    for load in loads.iter().filter(|load| load.force_n > 0.0) {
        let [tail, head] = [24.0, RADIUS_MM + 0.5].map(|radius| on(load.angle_rad, radius));
        items.extend(arrow(tail, head, 3.0, Role::Force));
    }
    let wall = format!("wall {}", show(ring.wall_mm, Kind::Diameter, units));
    items.push(label(at(116.0, 4.0), Stand::Above, Role::Text, wall));
    let mean = format!("mean \u{d8} {}", show(2.0 * ring.mean_radius_mm, Kind::Diameter, units));
    items.push(label(at(116.0, -4.0), Stand::Below, Role::Text, mean));
    items
}

/// A tip that presses on the work from above, seen along the work.
fn tip(diameter_mm: f64, force_n: f64, units: Units) -> Vec<Item> {
    let arc = (0..=24).map(|step| 0.3 + (TAU / 2.0 - 0.6) * f64::from(step) / 24.0);
    let work: Vec<Point> = arc.map(|angle| at(50.0 + 24.0 * angle.cos(), 24.0 * angle.sin() - 24.0)).collect();
    let mut items: Vec<Item> = vec![
        Path::through(work, Role::Steel).lined(Line::Thick).into(),
        Path::rect(at(44.0, 0.0), at(56.0, 7.0), Role::RestJaw).filled(Fill::Hatch).into(),
    ];
    items.extend(arrow(at(50.0, 18.0), at(50.0, 7.5), 3.0, Role::Force));
    items.push(label(at(72.0, 9.0), Stand::Above, Role::Force, show(force_n, Kind::Force, units)));
    let size = format!("\u{d8} {}", show(diameter_mm, Kind::Diameter, units));
    items.push(label(at(50.0, -13.0), Stand::Below, Role::Text, size));
    items
}

/// Lengths along the work, one below the other, to one scale.
fn lengths(all: &[(f64, f64, &'static str)], units: Units) -> Vec<Item> {
    let low_mm = all.iter().map(|(from_mm, to_mm, _)| from_mm.min(*to_mm)).fold(f64::INFINITY, f64::min);
    let high_mm = all.iter().map(|(from_mm, to_mm, _)| from_mm.max(*to_mm)).fold(f64::NEG_INFINITY, f64::max);
    let across = |mm: f64| WIDTH_MM * (mm - low_mm) / (high_mm - low_mm).max(1e-6);
    let mut items = Vec::new();
    for (row, (from_mm, to_mm, name)) in all.iter().enumerate() {
        let up = -9.0 * row as f64;
        let [left, right] = [across(from_mm.min(*to_mm)), across(from_mm.max(*to_mm))];
        items.push(Path::segment(at(left, up), at(right, up), Role::Dimension).lined(Line::Thick).into());
        for end in [left, right] {
            items.push(Path::segment(at(end, up - 1.5), at(end, up + 1.5), Role::Dimension).into());
        }
        let told = format!("{name}: {} to {}", length(from_mm.min(*to_mm), units), length(from_mm.max(*to_mm), units));
        let middle = f64::midpoint(left, right).clamp(0.28 * WIDTH_MM, 0.72 * WIDTH_MM);
        items.push(label(at(middle, up + 1.5), Stand::Above, Role::Text, told));
    }
    items
}
