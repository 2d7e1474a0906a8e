//! Shoulders of the stock while that is selected, and the ends of the selected pass, as handles on the work.

use egui::{Rect, Shape, Stroke, pos2, vec2};

use super::handle::{GRASP, Handle, graspable};
use super::snap::Landmark;
use super::stage::Stage;
use crate::app::Selected;
use crate::job::quantity::{Kind, show};
use crate::job::{Edit, Pass};

/// Shortest land and shortest pass that a drag can leave.
const SHORTEST_MM: f64 = 1.0;

/// The shoulders between the lands of the stock while it is selected, where chuck and headstock do not hide them.
pub fn shoulders(stage: &mut Stage) {
    if !matches!(stage.view.selected, Selected::StockLand(_)) {
        return;
    }
    let shaft = &stage.job.shaft;
    let setup = stage.setup;
    let spans: Vec<(f64, f64)> = shaft.stock_spans().map(|(from, to, _)| (from, to)).collect();
    for (index, pair) in spans.windows(2).enumerate() {
        let ((before_s, shoulder_s), (_, after_s)) = (pair[0], pair[1]);
        let z = setup.z_of_s_mm(shaft, shoulder_s);
        if z < stage.sizes.chuck_front_mm {
            continue;
        }
        let radius = stage.now.radius_at(z).max(stage.now.max_radius_mm() * 0.5);
        let x = stage.map.x(z);
        let half_height = (stage.map.px_per_mm * radius) as f32;
        let y = stage.map.y(0.0);
        let rect = graspable(Rect::from_min_max(pos2(x, y - half_height), pos2(x, y + half_height)));
        let ends = [before_s + SHORTEST_MM, after_s - SHORTEST_MM].map(|s| setup.z_of_s_mm(shaft, s));
        let (low, high) = (ends[0].min(ends[1]), ends[0].max(ends[1]));
        if low > high {
            continue;
        }
        let units = stage.units();
        let words = |z_mm: f64| format!("shoulder {} from the jaw face", show(z_mm, Kind::Length, units));
        let handled = stage.handle(
            &Handle {
                id: stage.id(("shoulder", index)),
                grips: vec![rect],
                name: format!("Stock shoulder {}", index + 1),
                z_mm: z,
                range_mm: low..=high,
                origin_mm: 0.0,
                landmarks: &[],
                bands: &[],
                words: &words,
                // Arrow keys move a shoulder only when it has the keyboard: a land has two of them.
                selected: false,
            },
            Selected::StockLand(index),
            None,
        );
        if handled.response.hovered() || handled.dragging || handled.response.has_focus() {
            let colour = stage.palette.selected;
            stage.marks.push(Shape::vline(x, y - half_height - 5.0..=y + half_height + 5.0, Stroke::new(2.0, colour)));
        }
        if let Some(z_mm) = handled.moved_to_mm {
            let s_mm = setup.s_of_z_mm(shaft, z_mm);
            let mut changed = shaft.clone();
            changed.stock[index].length_mm = s_mm - before_s;
            changed.stock[index + 1].length_mm = after_s - s_mm;
            stage.out.edits.push(Edit::SetShaft(changed));
        }
    }
}

/// Flags at the beginning and the end of the selected pass.
pub fn pass_ends(stage: &mut Stage, landmarks: &[Landmark]) {
    let Selected::Pass(id) = stage.view.selected else { return };
    let setup = stage.setup;
    let Some(pass) = setup.pass(id) else { return };
    let to_headstock = pass.feeds_to_headstock();
    let (start, end) = (setup.work_start_z_mm, setup.work_end_z_mm(&stage.job.shaft) + 20.0);
    for is_start in [true, false] {
        let (z, other) = if is_start { (pass.from_z_mm, pass.to_z_mm) } else { (pass.to_z_mm, pass.from_z_mm) };
        let is_right = is_start == to_headstock;
        let range_mm = if is_right {
            other + SHORTEST_MM..=end.max(z).max(other + SHORTEST_MM)
        } else {
            start.min(z).min(other - SHORTEST_MM)..=other - SHORTEST_MM
        };
        let x = stage.map.x(z);
        let work_top = stage.map.y(stage.now.radius_at(z).max(1.0));
        let flag_top = work_top - 34.0;
        let rect = Rect::from_min_size(pos2(x - GRASP / 2.0, flag_top - 8.0), vec2(GRASP, 34.0));
        let units = stage.units();
        let words = |z_mm: f64| {
            let what = if is_start { "starts" } else { "ends" };
            format!("cut {what} {} from the jaw face", show(z_mm, Kind::Length, units))
        };
        let handled = stage.handle(
            &Handle {
                id: stage.id(("pass end", id.0, is_start)),
                grips: vec![rect],
                name: if is_start { "Start of the cut".to_owned() } else { "End of the cut".to_owned() },
                z_mm: z,
                range_mm,
                origin_mm: 0.0,
                landmarks,
                bands: &[],
                words: &words,
                selected: false,
            },
            Selected::Pass(id),
            None,
        );
        flag(stage, x, flag_top, work_top, is_right, handled.response.hovered() || handled.dragging);
        if let Some(z_mm) = handled.moved_to_mm {
            let moved = if is_start {
                Pass { from_z_mm: z_mm, ..pass.clone() }
            } else {
                Pass { to_z_mm: z_mm, ..pass.clone() }
            };
            stage.out.edits.push(Edit::SetPass { setup: setup.id, pass: moved });
        }
    }
}

/// A little flag whose cloth points into the cut.
fn flag(stage: &mut Stage, x: f32, top: f32, foot: f32, cloth_to_left: bool, lit: bool) {
    let colour = if lit { stage.palette.selected } else { stage.palette.tool };
    let stroke = Stroke::new(if lit { 2.0 } else { 1.3 }, colour);
    stage.marks.push(Shape::vline(x, top..=foot, stroke));
    let side = if cloth_to_left { -1.0 } else { 1.0 };
    let cloth = vec![pos2(x, top), pos2(x + side * 13.0, top + 5.5), pos2(x, top + 11.0)];
    stage.marks.push(Shape::convex_polygon(cloth, colour, Stroke::NONE));
}
