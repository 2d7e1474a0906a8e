//! What carries and cuts the work, as handles: steady rests, tailstock, tool, follower, and the chuck to be clicked.

use egui::{Role, Sense, WidgetInfo};

use super::bands;
use super::handle::{Handle, Handled, graspable};
use super::snap::Landmark;
use super::stage::Stage;
use crate::advice::words::{away_or_toward, up_or_down};
use crate::app::{Action, Selected};
use crate::job::quantity::{Kind, show};
use crate::job::{DriveKind, Edit, FollowerSide, Pass, Rest, TailEnd, TailKind};
use crate::picture::Part;
use crate::picture::carriage::follower_z_mm;
use crate::picture::tailstock::tail_places;
use crate::study::reach::RestReach;

/// All of them, in the order Tab meets them.
pub fn supports(stage: &mut Stage, landmarks: &[Landmark]) {
    chuck(stage);
    for index in 0..stage.setup.rests.len() {
        rest(stage, index, landmarks);
    }
    tailstock(stage);
    tool(stage);
    // Over the tool post, behind which it often stands.
    follower(stage);
}

fn chuck(stage: &mut Stage) {
    let sizes = stage.sizes;
    let r = sizes.chuck_radius_mm;
    let rect = stage.map.rect_of(sizes.chuck_back_mm, 0.0, -r, r).intersect(stage.map.rect);
    let response = stage.ui.interact(rect, stage.id("chuck"), Sense::click());
    let name = match stage.setup.drive.kind {
        DriveKind::ThreeJaw => "Three-jaw chuck",
        DriveKind::FourJaw => "Four-jaw chuck",
        DriveKind::Collet => "Collet",
        DriveKind::FacePlate => "Face plate",
        DriveKind::CentreAndDog => "Headstock centre and dog",
    };
    response.widget_info(|| WidgetInfo::labeled(Role::Button, true, name));
    if response.clicked() {
        stage.view.selected = Selected::Drive;
    }
    if response.hovered() {
        stage.hovered.push(Part::Drive);
    }
}

fn rest(stage: &mut Stage, index: usize, landmarks: &[Landmark]) {
    let setup = stage.setup;
    let rest = &setup.rests[index];
    let sizes = stage.sizes;
    let half = 0.16 * sizes.centre_height_mm;
    let frame = stage.map.rect_of(
        rest.z_mm - half,
        rest.z_mm + half,
        sizes.bed_top_mm,
        sizes.rest_outer_mm + 0.07 * sizes.centre_height_mm,
    );
    let end = setup.work_end_z_mm(&stage.job.shaft).max(rest.z_mm).max(1.0);
    let (units, number) = (stage.units(), index + 1);
    let reach = stage.results.reach(rest.id);
    let words = |z_mm: f64| format!("{} from the jaw face", show(z_mm, Kind::Length, units));
    let handled = stage.handle(
        &Handle {
            id: stage.id(("rest", rest.id.0)),
            grips: vec![graspable(frame)],
            name: format!("Steady rest {number}"),
            z_mm: rest.z_mm,
            range_mm: rest.z_mm.min(0.0)..=end,
            origin_mm: 0.0,
            landmarks,
            bands: reach.map_or(&[][..], |reach| &reach.allowed),
            words: &words,
            selected: stage.view.selected == Selected::Rest(rest.id),
        },
        Selected::Rest(rest.id),
        Some(Part::Rest(rest.id)),
    );
    told_of_bands(stage, rest, reach, &handled);
    if let Some(z_mm) = handled.moved_to_mm {
        stage.out.edits.push(Edit::SetRest { setup: setup.id, rest: Rest { z_mm, ..rest.clone() } });
    }
    handled.response.context_menu(|ui| {
        if ui.button(format!("Take steady rest {number} away")).clicked() {
            stage.out.edits.push(Edit::RemoveRest { setup: setup.id, rest: rest.id });
            ui.close();
        }
        if ui.button("Fit everything").clicked() {
            stage.out.actions.push(Action::Fit);
            ui.close();
        }
    });
}

/// Shows where the rest cannot stand while it is dragged, that it stopped at such a place, and that it stands in one.
fn told_of_bands(stage: &mut Stage, rest: &Rest, reach: Option<&RestReach>, handled: &Handled) {
    let Some(reach) = reach else { return };
    if handled.dragging {
        bands::hatch_under_the_shaft(stage, reach);
    }
    let Some((stop_mm, wanted_mm)) = handled.stopped_mm else {
        return bands::clash(stage, rest, reach);
    };
    let why = bands::why_it_stops(stage, reach, stop_mm, wanted_mm).unwrap_or_default();
    stage.out.said = Some(format!(
        "Steady rest stopped: {why}. To go past, drag on well beyond the edge or press the arrow key once more."
    ));
    if let Some(readout) = &mut stage.readout {
        readout.lines.push(format!("stops here: {why}"));
        readout.lines.push("drag on to go past".to_owned());
    }
}

fn tailstock(stage: &mut Stage) {
    let setup = stage.setup;
    let sizes = stage.sizes;
    let places = tail_places(stage.job, setup, &sizes);
    let h = sizes.centre_height_mm;
    let body = stage.map.rect_of(places.body_z_mm, places.base_end_z_mm, sizes.bed_top_mm, 0.45 * h);
    if setup.tail.kind == TailKind::Free {
        let rect = body.intersect(stage.map.rect);
        let response = stage.ui.interact(rect, stage.id("tailstock away"), Sense::click());
        response.widget_info(|| WidgetInfo::labeled(Role::Button, true, "Tailstock, not used"));
        if response.clicked() {
            stage.view.selected = Selected::Tail;
        }
        if response.hovered() {
            stage.hovered.push(Part::Tail);
        }
        return;
    }
    let face = places.quill_face_z_mm;
    let travel = stage.job.lathe.quill_travel_mm.value.max(setup.tail.quill_out_mm).max(0.0);
    let units = stage.units();
    let words = |z_mm: f64| format!("quill out {}", show(z_mm - face, Kind::Length, units));
    let quill = stage.map.rect_of(places.tip_z_mm, places.body_z_mm, -0.2 * h, 0.2 * h);
    let handled = stage.handle(
        &Handle {
            id: stage.id("tailstock"),
            grips: vec![graspable(body), quill],
            name: "Tailstock".to_owned(),
            z_mm: places.body_z_mm,
            range_mm: face..=face + travel,
            origin_mm: face,
            landmarks: &[],
            bands: &[],
            words: &words,
            selected: stage.view.selected == Selected::Tail,
        },
        Selected::Tail,
        Some(Part::Tail),
    );
    if let Some(z_mm) = handled.moved_to_mm {
        let tail = TailEnd { quill_out_mm: (z_mm - face).max(0.0), ..setup.tail.clone() };
        stage.out.edits.push(Edit::SetTail { setup: setup.id, tail });
    }
}

fn tool(stage: &mut Stage) {
    let Some(pass) = stage.view.pass.and_then(|id| stage.setup.pass(id)) else { return };
    let sizes = stage.sizes;
    let h = sizes.centre_height_mm;
    let (from, to) = pass.span_mm();
    let z = stage.view.tool_z_mm.clamp(from, to.max(from));
    let back = if pass.feeds_to_headstock() { 1.0 } else { -1.0 };
    let far = z + back * 0.42 * h;
    let post = stage.map.rect_of(z.min(far) - 0.03 * h, z.max(far), sizes.slide_top_mm, 0.2 * h);
    let apron = stage.map.rect_of(z - 0.5 * h, z + 0.5 * h, sizes.bed_bottom_mm, sizes.saddle_top_mm);
    let units = stage.units();
    let words = |z_mm: f64| format!("tool {} from the jaw face", show(z_mm, Kind::Length, units));
    let handled = stage.handle(
        &Handle {
            id: stage.id("tool"),
            grips: vec![graspable(post), apron],
            name: "Tool".to_owned(),
            z_mm: z,
            range_mm: from..=to,
            origin_mm: 0.0,
            landmarks: &[],
            bands: &[],
            words: &words,
            selected: stage.view.selected == Selected::Tool,
        },
        Selected::Tool,
        Some(Part::Tool),
    );
    if let (Some(readout), Some(cut)) = (&mut stage.readout, stage.bent.and_then(|shape| shape.cut.as_ref()))
        && handled.dragging
    {
        let (away, up) = (away_or_toward(cut.spring_x_mm, units), up_or_down(cut.spring_y_mm, units));
        readout.lines.push(format!("the work gives {away}, {up}"));
    }
    if let Some(z_mm) = handled.moved_to_mm {
        stage.view.tool_z_mm = z_mm;
        // The shape belongs to the tool's place: draw both anew in this very frame.
        stage.ui.ctx().request_discard("the tool moved");
    }
}

fn follower(stage: &mut Stage) {
    let setup = stage.setup;
    let Some(follower) = &setup.follower else { return };
    let to_headstock = stage.view.pass.and_then(|id| setup.pass(id)).is_none_or(Pass::feeds_to_headstock);
    let tool_z = stage.view.tool_z_mm;
    let z = follower_z_mm(follower, tool_z, to_headstock);
    let sizes = stage.sizes;
    let h = sizes.centre_height_mm;
    let top = (stage.now.radius_at(z) + 0.30 * h).min(0.8 * h);
    let frame = stage.map.rect_of(z - 0.1 * h, z + 0.1 * h, 0.0, top);
    let units = stage.units();
    let behind_sign = if to_headstock { 1.0 } else { -1.0 };
    let words = move |z_mm: f64| {
        let side = if (z_mm - tool_z) * behind_sign >= 0.0 { "behind" } else { "ahead of" };
        let distance = show((z_mm - tool_z).abs(), Kind::Length, units);
        format!("follower {distance} {side} the tool")
    };
    let reach = 400.0_f64.max(follower.distance_mm);
    let handled = stage.handle(
        &Handle {
            id: stage.id("follower"),
            grips: vec![graspable(frame)],
            name: "Follower rest".to_owned(),
            z_mm: z,
            range_mm: tool_z - reach..=tool_z + reach,
            origin_mm: tool_z,
            landmarks: &[],
            bands: &[],
            words: &words,
            selected: stage.view.selected == Selected::Follower,
        },
        Selected::Follower,
        Some(Part::Follower),
    );
    if let Some(z_mm) = handled.moved_to_mm {
        let side = if (z_mm - tool_z) * behind_sign >= 0.0 { FollowerSide::Behind } else { FollowerSide::Ahead };
        let moved = crate::job::Follower { distance_mm: (z_mm - tool_z).abs().max(1.0), side, ..follower.clone() };
        if moved != *follower {
            stage.out.edits.push(Edit::SetFollower { setup: setup.id, follower: Some(moved) });
        }
    }
}
