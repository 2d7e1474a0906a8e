//! The finished part as handles, while the shaft is selected: shoulders are moved along from under the work, diameters up
//! and down from over it. Whoever drags rests or tool has none of them in the way.
//!
//! A drag is made from the job as it was at the press, so that nothing is picked up on the way.

use std::sync::Arc;

use egui::{Id, Rect, Shape, Stroke, pos2, vec2};

use super::handle::{GRASP, Handle, Handled, Way};
use super::land_menu::land_menu;
use super::stage::{Readout, Stage};
use crate::app::Selected;
use crate::job::quantity::{Kind, show};
use crate::job::reshape::{LandEnds, SHORTEST_LAND_MM, shoulders_s_mm};
use crate::job::{DriveKind, Job, Land, Reshape};

/// Narrowest grip where shoulders stand close, in points.
const NARROWEST: f32 = 12.0;
/// A step of diameter takes at least so much of the hand's way, in points.
const STEP_POINTS: f64 = 4.0;
/// Longest part a drag can make, 100 m.
const LONGEST_MM: f64 = 1e5;

/// Shoulders and diameters of the finished part, while it is selected.
pub fn finished_part(stage: &mut Stage) {
    if !matches!(stage.view.selected, Selected::Shaft | Selected::WantedLand(_)) {
        return;
    }
    let shaft = &stage.job.shaft;
    let shoulders: Vec<f64> = shoulders_s_mm(shaft).iter().map(|s| stage.setup.z_of_s_mm(shaft, *s)).collect();
    outline(stage);
    for land in 0..shaft.wanted.len() {
        let wanted = &shaft.wanted[land].land;
        if wanted.start_diameter_mm.to_bits() == wanted.end_diameter_mm.to_bits() {
            diameter(stage, land, LandEnds::Both, &shoulders);
        } else {
            diameter(stage, land, LandEnds::Start, &shoulders);
            diameter(stage, land, LandEnds::End, &shoulders);
        }
    }
    for index in 0..shoulders.len() {
        shoulder(stage, index, &shoulders);
    }
}

/// From here on along the bed the work is seen.
fn seen_from_mm(stage: &Stage) -> f64 {
    match stage.setup.drive.kind {
        DriveKind::CentreAndDog => f64::NEG_INFINITY,
        _ => stage.sizes.chuck_front_mm,
    }
}

/// The finished part's lines, drawn stronger over and under the axis.
fn outline(stage: &mut Stage) {
    let (shaft, seen_from_mm) = (&stage.job.shaft, seen_from_mm(stage));
    let stroke = Stroke::new(1.6, stage.palette.selected);
    for (from_s, to_s, wanted) in shaft.wanted_spans() {
        let ends = [(from_s, wanted.land.start_diameter_mm), (to_s, wanted.land.end_diameter_mm)];
        let [a, b] = ends.map(|(s, diameter_mm)| (stage.setup.z_of_s_mm(shaft, s), diameter_mm / 2.0));
        if a.0.max(b.0) < seen_from_mm {
            continue;
        }
        let [a, b] = [a, b].map(|(z, radius)| (stage.map.x(z.max(seen_from_mm)), radius));
        let points = |side: f64| [a, b].map(|(x, radius)| pos2(x, stage.map.y(side * radius)));
        let (top, bottom) = (points(1.0), points(-1.0));
        for ends in [top, bottom, [top[0], bottom[0]], [top[1], bottom[1]]] {
            stage.marks.push(Shape::line_segment(ends, stroke));
        }
    }
}

/// How far to both sides a grip at one of these places may reach without its neighbours'.
fn half_width(stage: &Stage, index: usize, shoulders: &[f64]) -> f32 {
    let x = stage.map.x(shoulders[index]);
    let others = shoulders.iter().enumerate().filter(|(other, _)| *other != index);
    let nearest = others.map(|(_, z)| (stage.map.x(*z) - x).abs()).fold(f32::INFINITY, f32::min);
    (nearest / 2.0).clamp(NARROWEST / 2.0, GRASP / 2.0)
}

fn shoulder(stage: &mut Stage, index: usize, shoulders: &[f64]) {
    let (shaft, setup, units) = (&stage.job.shaft, stage.setup, stage.units());
    let (z, last) = (shoulders[index], shoulders.len() - 1);
    if z < seen_from_mm(stage) {
        return;
    }
    let radius = [index.checked_sub(1), Some(index)].into_iter().flatten().filter_map(|land| shaft.wanted.get(land));
    let radius =
        radius.map(|wanted| wanted.land.start_diameter_mm.max(wanted.land.end_diameter_mm)).fold(0.0, f64::max);
    let foot = pos2(stage.map.x(z), stage.map.y(-0.5 * radius));
    let half = half_width(stage, index, shoulders);
    let rect = Rect::from_min_max(foot - vec2(half, 4.0), foot + vec2(half, GRASP - 4.0));
    // What lies beside it, or the ends of the world.
    let beside = [index.checked_sub(1), Some(index + 1)].map(|at| at.and_then(|at| shoulders.get(at)).copied());
    let (mut low, mut high) = (z - LONGEST_MM, z + LONGEST_MM);
    for neighbour in beside.into_iter().flatten() {
        if neighbour < z {
            low = neighbour + SHORTEST_LAND_MM;
        } else {
            high = neighbour - SHORTEST_LAND_MM;
        }
    }
    let words = |z_mm: f64| {
        let place = show(z_mm, Kind::Length, units);
        let s_mm = setup.s_of_z_mm(shaft, z_mm);
        let mut at_s_mm = shoulders_s_mm(shaft);
        at_s_mm[index] = s_mm;
        let long = |land: usize| {
            let length = show(at_s_mm[land + 1] - at_s_mm[land], Kind::Length, units);
            format!("land {} {length}", land + 1)
        };
        let lands: Vec<String> =
            [index.checked_sub(1), (index < last).then_some(index)].into_iter().flatten().map(long).collect();
        format!("{place} from the jaw face, {}", lands.join(", "))
    };
    let name = match index {
        0 => "Beginning of the finished part".to_owned(),
        _ if index == last => "End of the finished part".to_owned(),
        _ => format!("Shoulder {index}"),
    };
    let handle = Handle {
        id: stage.id(("finished shoulder", index)),
        grips: vec![rect],
        name,
        z_mm: z,
        range_mm: low.min(z)..=high.max(z),
        origin_mm: 0.0,
        landmarks: &[],
        bands: &[],
        words: &words,
        selected: false,
    };
    let handled = stage.handle_way(&handle, Way::Along, Selected::WantedLand(index.min(last.saturating_sub(1))), None);
    let lit = is_lit(&handled);
    let x = foot.x;
    let tip = vec![pos2(x, foot.y + 2.0), pos2(x + 6.0, foot.y + 12.0), pos2(x - 6.0, foot.y + 12.0)];
    grip(stage, tip, lit);
    if lit {
        let line = Stroke::new(2.0, stage.palette.selected);
        stage.marks.push(Shape::vline(x, stage.map.y(0.5 * radius)..=foot.y, line));
    }
    let from = |job: &Job| shoulders_s_mm(&job.shaft).get(index).map_or(z, |s| setup.z_of_s_mm(&job.shaft, *s));
    let change =
        |job: &Job, z_mm: f64| Reshape::MoveShoulder { shoulder: index, to_s_mm: setup.s_of_z_mm(&job.shaft, z_mm) };
    moved(stage, &handled, Way::Along, &from, &change, &words);
    land_menu(stage, &handled.response, index.min(last.saturating_sub(1)));
}

fn diameter(stage: &mut Stage, land: usize, ends: LandEnds, shoulders: &[f64]) {
    let (shaft, units) = (&stage.job.shaft, stage.units());
    let (a, b) = (shoulders[land], shoulders[land + 1]);
    let (left, right) = (a.min(b).max(seen_from_mm(stage)), a.max(b));
    if right <= left {
        return;
    }
    // In the middle of what is in view of the land, so that a long one has its grip too.
    let (from_mm, to_mm) = (stage.map.z_mm(stage.map.rect.left()), stage.map.z_mm(stage.map.rect.right()));
    let in_view = (left.max(from_mm), right.min(to_mm));
    let (left, right) = if in_view.0 < in_view.1 { in_view } else { (left, right) };
    let size_mm = move |land: &Land| if ends == LandEnds::End { land.end_diameter_mm } else { land.start_diameter_mm };
    let diameter_mm = size_mm(&shaft.wanted[land].land);
    let end_z = if ends == LandEnds::End { b } else { a };
    let middle = f64::midpoint(left, right);
    let (z, room_mm) = match ends {
        LandEnds::Both => (middle, right - left),
        LandEnds::Start | LandEnds::End => (f64::midpoint(end_z.max(left), middle), 0.5 * (right - left)),
    };
    let top = pos2(stage.map.x(z), stage.map.y(0.5 * diameter_mm));
    let width = ((room_mm * stage.map.px_per_mm) as f32 - 2.0).clamp(NARROWEST, 2.0 * GRASP);
    let rect = Rect::from_min_max(top - vec2(width / 2.0, GRASP - 4.0), top + vec2(width / 2.0, 4.0));
    let number = land + 1;
    let (name, of) = match ends {
        LandEnds::Both => (format!("Land {number} diameter"), String::new()),
        LandEnds::Start => (format!("Land {number} diameter at its start"), " at its start".to_owned()),
        LandEnds::End => (format!("Land {number} diameter at its end"), " at its end".to_owned()),
    };
    let words = |mm: f64| format!("land {number} Ø {}{of}", show(mm, Kind::Diameter, units));
    let step_mm = super::snap::diameter_step_mm(units);
    let way = Way::Up { z_mm: z, points_per_mm: (0.5 * stage.map.px_per_mm).max(STEP_POINTS / step_mm) };
    let handle = Handle {
        id: stage.id(("finished diameter", land, ends)),
        grips: vec![rect],
        name,
        z_mm: diameter_mm,
        range_mm: step_mm.min(diameter_mm)..=stage.job.lathe.swing_over_bed_mm.value.max(diameter_mm),
        origin_mm: 0.0,
        landmarks: &[],
        bands: &[],
        words: &words,
        selected: false,
    };
    let handled = stage.handle_way(&handle, way, Selected::WantedLand(land), None);
    let tip = vec![top - vec2(0.0, 13.0), top + vec2(5.0, -7.5), top - vec2(0.0, 2.0), top - vec2(5.0, 7.5)];
    grip(stage, tip, is_lit(&handled));
    let from = |job: &Job| job.shaft.wanted.get(land).map_or(diameter_mm, |wanted| size_mm(&wanted.land));
    let change = |_: &Job, diameter_mm: f64| Reshape::SetDiameter { land, ends, diameter_mm };
    moved(stage, &handled, way, &from, &change, &words);
    land_menu(stage, &handled.response, land);
}

fn is_lit(handled: &Handled) -> bool {
    handled.response.hovered() || handled.dragging || handled.response.has_focus()
}

fn grip(stage: &mut Stage, outline: Vec<egui::Pos2>, lit: bool) {
    let (canvas, colour) = (stage.palette.canvas, stage.palette.selected);
    let (fill, width) = if lit { (colour, 2.0) } else { (canvas, 1.5) };
    stage.reserved.push(Rect::from_points(&outline));
    stage.marks.push(Shape::convex_polygon(outline, fill, Stroke::new(width, colour)));
}

/// Makes as much of a move as can be made, and says beside the hand why it is not all of it.
fn moved(
    stage: &mut Stage,
    handled: &Handled,
    way: Way,
    from: &dyn Fn(&Job) -> f64,
    change: &dyn Fn(&Job, f64) -> Reshape,
    words: &dyn Fn(f64) -> String,
) {
    let key = Id::unique("job before the shaft is dragged");
    let Some(to_mm) = handled.moved_to_mm else { return };
    // A frame may be drawn twice, and a drag given up leaves its job behind: the press tells which belongs to which.
    let press = stage.ui.input(|input| input.pointer.press_start_time());
    let kept: Option<(Option<f64>, Arc<Job>)> = stage.ui.data(|data| data.get_temp(key));
    let kept = kept.filter(|(of, _)| handled.dragging && *of == press).map(|(_, job)| job);
    let origin = kept.unwrap_or_else(|| Arc::new(stage.job.clone()));
    if handled.dragging {
        stage.ui.data_mut(|data| data.insert_temp(key, (press, Arc::clone(&origin))));
    }
    let step_mm = way.step_mm(stage.units());
    let reached = Reshape::furthest(&origin, (from(&origin), to_mm), step_mm, |mm| change(&origin, mm));
    stage.out.edits.extend(reached.edit);
    let mut lines = vec![words(reached.value_mm)];
    if let Some(stopped) = reached.stopped {
        lines.push(format!("stops here: {stopped}"));
        stage.out.said = Some(format!("Stopped. {stopped}."));
    }
    if handled.dragging {
        let z_mm = if let Way::Up { z_mm, .. } = way { z_mm } else { reached.value_mm };
        stage.readout = Some(Readout { z_mm, lines, landmark: None });
    }
}
