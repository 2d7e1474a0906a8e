//! The bench: lathe, work and supports to scale, over the same stretch of bed as the curves; things on it are grasped
//! and moved.

mod bands;
pub mod camera;
mod ease;
mod fill;
mod finished_part;
mod first_hint;
mod handle;
pub mod ink;
mod labels;
mod land_menu;
pub mod map;
mod menu;
mod overlay;
pub mod paint;
mod shoulders;
mod snap;
mod stage;
mod supports;

use egui::{Id, Role, Sense, WidgetInfo};

use super::theme::Palette;
use super::{Commands, Exaggeration, Results, Selected, View};
use crate::job::Job;
use crate::picture::bench::{GhostScene, Scene, bench};
use crate::picture::spans::Row;
use crate::picture::spring::{largest_spring_mm, room_mm, round_exaggeration};
pub use handle::is_on_bench;
use map::Map;
use overlay::Legend;
pub use snap::step_mm;
use stage::Stage;

/// Height at which a spring is well seen, in points.
const SEEN_POINTS: f64 = 42.0;

/// Draws the bench over the plots' x range and takes drags on it.
pub fn bench_ui(
    ui: &mut egui::Ui,
    job: &Job,
    view: &mut View,
    results: &Results,
    palette: &Palette,
    out: &mut Commands,
) {
    let rect = ui.available_rect_before_wrap();
    ui.allocate_rect(rect, Sense::hover());
    let Some(setup) = job.setup(view.setup) else { return };
    if !rect.is_positive() {
        return;
    }
    let painter = ui.painter_at(rect);
    painter.rect_filled(rect, 0.0, palette.canvas);
    let canvas = ui.interact(rect, Id::unique("bench canvas"), Sense::CLICK | Sense::DRAG);
    canvas.widget_info(|| WidgetInfo::labeled(Role::Canvas, true, "Bench: the lathe and the work from the front"));

    let map_now = |view: &View| Map::of(rect, view.plot_x_range, &view.z_view_mm, view.y_centre_mm);
    camera::move_camera(ui, &canvas, &map_now(view), view);
    let Some(scene) = Scene::of(job, &results.result, view.setup, view.pass, view.tool_z_mm, results.shape.as_ref())
    else {
        return;
    };
    let sizes = scene.sizes();
    if view.fit {
        camera::fit(view, &map_now(view), job, setup, &sizes);
        view.fit = false;
    }
    let map = map_now(view);
    follow_pointer(ui, &map, view, "bench cursor");

    let state = scene.work_state();
    let mut stage = Stage {
        ui,
        map,
        job,
        setup,
        sizes,
        now: &state.now,
        bent: results.shape.as_ref(),
        results,
        palette,
        view,
        out,
        hovered: Vec::new(),
        remarks: Vec::new(),
        marks: Vec::new(),
        reserved: Vec::new(),
        readout: None,
    };
    menu::bed_menu(&canvas, &mut stage);
    let over = canvas.hover_pos().filter(|_| canvas.hovered()).and_then(|pos| under(&stage, pos));
    if over.is_some_and(Selected::is_of_shaft) {
        ui.set_cursor_icon(egui::CursorIcon::PointingHand);
    }
    if canvas.clicked() {
        select_under_pointer(&canvas, &mut stage);
    }
    // Handles first, since what is grasped shows in the picture; their own marks lie over it.
    let landmarks = snap::land_middles(&job.shaft, setup);
    shoulders::shoulders(&mut stage);
    supports::supports(&mut stage, &landmarks);
    shoulders::pass_ends(&mut stage, &landmarks);
    finished_part::finished_part(&mut stage);
    first_hint::first_hint(&mut stage);

    let times = exaggeration(&stage, &scene);
    let pinned = &results.compared.pinned;
    let ghosts: Vec<GhostScene<'_>> = (pinned.iter())
        .filter_map(|one| {
            // One bent line beside the present one can be told apart, more cannot: the curves have them all.
            let shape = one.shape.as_ref().filter(|_| pinned.len() == 1);
            Some(GhostScene { letter: one.letter(), setup: one.setup()?, shape })
        })
        .collect();
    let row = Row { up_mm: map.up_mm(rect.bottom() - 21.0), mark_mm: 5.0 / map.px_per_mm };
    let shape = scene.shape;
    let on_its_way =
        shape.and_then(|shape| ease::on_its_way(stage.ui, stage.view, shape, times, stage.out.gesture_open));
    let scene = Scene { shape: on_its_way.as_ref().or(shape), ..scene };
    let picture = bench(&Scene { exaggeration_times: times, spans_row: Some(row), ghosts: &ghosts, ..scene });
    let legend = scene.shape.map(|_| Legend::laid_out(&painter, palette, times));
    stage.reserved.extend(legend.as_ref().map(Legend::rect));
    stage.reserved.push(overlay::readout_room(rect));
    let over = (std::mem::take(&mut stage.marks), std::mem::take(&mut stage.remarks));
    let emphasis = |part| stage.emphasis(part);
    paint::paint_with_marks(&painter, &stage.map, &picture, palette, &stage.reserved, over, &emphasis);
    if let Some(legend) = legend {
        legend.paint(&painter, palette);
    }
    overlay::cursor(&painter, &stage);
    if let Some(readout) = &stage.readout {
        overlay::readout(&painter, &stage, readout);
    }
}

/// By how much the spring is drawn larger. It stays while something is dragged or the cut is played, so that the eye can compare, unless
/// the spring would leave the picture or vanish.
fn exaggeration(stage: &Stage, scene: &Scene) -> f64 {
    let chosen = match stage.view.exaggeration {
        Exaggeration::Times(times) if times.is_finite() && times > 0.0 => return times,
        Exaggeration::Times(_) | Exaggeration::Auto => scene.shape.map_or(0.0, largest_spring_mm),
    };
    let room = room_mm(2.0 * stage.now.max_radius_mm()).max(SEEN_POINTS / stage.map.px_per_mm);
    let key = Id::unique("bench exaggeration");
    let last: Option<f64> = stage.ui.data(|data| data.get_temp(key));
    let height = last.map_or(0.0, |times| times * chosen);
    if let Some(times) = last
        && (stage.out.gesture_open || stage.view.play.is_playing())
        && (0.1 * room..=2.5 * room).contains(&height)
    {
        return times;
    }
    let times = round_exaggeration(chosen, room);
    stage.ui.data_mut(|data| data.insert_temp(key, times));
    times
}

/// The cursor follows the pointer over the map, and goes when the pointer leaves it; `whose` tells one map from another.
pub(super) fn follow_pointer(ui: &egui::Ui, map: &Map, view: &mut View, whose: &'static str) {
    let key = Id::unique(whose);
    let was_here = ui.data(|data| data.get_temp(key).unwrap_or(false));
    let pointer = ui.input(|input| input.pointer.hover_pos()).filter(|_| ui.rect_contains_pointer(map.rect));
    match pointer {
        Some(pos) => view.cursor_z_mm = Some(map.z_mm(pos.x)),
        None if was_here => view.cursor_z_mm = None,
        None => {}
    }
    ui.data_mut(|data| data.insert_temp(key, pointer.is_some()));
}

/// A click beside all handles chooses the land of the finished part (of the stock, where that is chosen or there is
/// none), the lathe, or the set-up as a whole.
fn select_under_pointer(canvas: &egui::Response, stage: &mut Stage) {
    let Some(pos) = canvas.interact_pointer_pos() else { return };
    stage.view.selected = under(stage, pos).unwrap_or(Selected::Setup);
    if let Selected::WantedLand(_) = stage.view.selected {
        stage.out.said = Some(
            "Drag its shoulders and sizes. Right click: split, join, thread and more. Click again: its stock."
                .to_owned(),
        );
    }
}

/// What a click beside all handles would choose, but for the set-up.
fn under(stage: &Stage, pos: egui::Pos2) -> Option<Selected> {
    let (z_mm, up_mm) = (stage.map.z_mm(pos.x), stage.map.up_mm(pos.y));
    let slack_mm = 4.0 / stage.map.px_per_mm;
    let shaft = &stage.job.shaft;
    let on_work = up_mm.abs() <= stage.now.radius_at(z_mm) + slack_mm && stage.now.radius_at(z_mm) > 0.0;
    if on_work {
        let s_mm = stage.setup.s_of_z_mm(shaft, z_mm);
        let wanted =
            shaft.wanted_spans().position(|(from, to, _)| (from..=to).contains(&s_mm)).map(Selected::WantedLand);
        let stock =
            || shaft.stock_spans().position(|(from, to, _)| (from..=to).contains(&s_mm)).map(Selected::StockLand);
        wanted.filter(|land| *land != stage.view.selected).or_else(stock).or(Some(Selected::Shaft))
    } else {
        let on_lathe = z_mm < stage.sizes.headstock_right_mm && up_mm < stage.sizes.headstock_top_mm;
        on_lathe.then_some(Selected::Lathe)
    }
}
