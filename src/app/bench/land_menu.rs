//! The menu of a land of the finished part: split and join it, make it a taper, put a feature on it or take one away.
//! Opened by a secondary click, by Shift+F10, or as assistive technology asks for it.

use egui::accesskit::Action as Asked;
use egui::{Id, Key, Modifiers, Popup, Response, Ui};

use super::snap::snapped;
use super::stage::Stage;
use crate::app::Selected;
use crate::job::feature_kinds::FEATURES;
use crate::job::quantity::{Kind, show};
use crate::job::reshape::LandEnds;
use crate::job::{CentreHole, Edit, Feature, Land, Reshape, Shaft, Tolerance, WantedLand};

/// A cylinder is made a taper so much thinner at its end, to begin with. Common practice, no source.
const TAPER: f64 = 0.9;

/// A menu on what can have the keyboard; `items` is told whether the pointer opened it.
pub fn menu_of(response: &Response, items: impl FnOnce(&mut Ui, bool)) {
    let ctx = &response.ctx;
    let focused = response.has_focus();
    let by_key = ctx.input_mut(|input| {
        (focused && input.consume_key(Modifiers::SHIFT, Key::F10))
            || input.num_accesskit_action_requests(response.id, Asked::ShowContextMenu) > 0
    });
    let key = response.id.with("opened without the pointer");
    if by_key {
        Popup::open_id(ctx, Popup::default_response_id(response));
    }
    if by_key || response.secondary_clicked() {
        ctx.data_mut(|data| data.insert_temp(key, by_key));
    }
    let mut popup = Popup::context_menu(response);
    let by_pointer = !ctx.data(|data| data.get_temp(key)).unwrap_or(false);
    if !by_pointer {
        popup = popup.at_position(response.rect.center_bottom());
    }
    popup.show(|ui| {
        items(ui, by_pointer);
        if by_key {
            ui.memory_mut(|memory| memory.move_focus(egui::FocusDirection::Next));
        }
    });
    ctx.accesskit_node_builder(response.id, |node| node.add_action(Asked::ShowContextMenu));
}

/// The menu of a land on one of its handles: about where the pointer opened it, or else about its middle.
pub fn land_menu(stage: &mut Stage, response: &Response, land: usize) {
    let key = Id::unique("land menu place");
    if response.secondary_clicked()
        && let Some(pos) = response.interact_pointer_pos()
    {
        let z_mm = snapped(stage.map.z_mm(pos.x), 0.0, stage.units(), &[], stage.map.px_per_mm, false).z_mm;
        let s_mm = stage.setup.s_of_z_mm(&stage.job.shaft, z_mm);
        stage.ui.data_mut(|data| data.insert_temp(key, s_mm));
    }
    let pointed: Option<f64> = stage.ui.data(|data| data.get_temp(key));
    menu_of(response, |ui, by_pointer| items_ui(ui, stage, land, pointed.filter(|_| by_pointer)));
}

/// What can be done to a land at a place, as rows of a menu.
pub fn items_ui(ui: &mut Ui, stage: &mut Stage, land: usize, at_s_mm: Option<f64>) {
    let shaft = &stage.job.shaft;
    let Some((from_s, to_s, wanted)) = shaft.wanted_spans().nth(land) else {
        if shaft.wanted.is_empty() && ui.button("Begin the finished part").clicked() {
            stage.out.edits.push(Edit::SetShaft(begun(shaft)));
            stage.view.selected = Selected::WantedLand(0);
            ui.close();
        }
        return;
    };
    let title = if wanted.name.is_empty() {
        format!("Land {}", land + 1)
    } else {
        format!("Land {}, {}", land + 1, wanted.name)
    };
    ui.weak(title);
    let at_s_mm = at_s_mm.filter(|s| (from_s..=to_s).contains(s)).unwrap_or(f64::midpoint(from_s, to_s));
    let mut edits: Vec<Edit> = Vec::new();
    let place = show(stage.setup.z_of_s_mm(shaft, at_s_mm), Kind::Length, stage.job.units);
    if ui.button(format!("Split it here ({place})")).clicked() {
        edits.push(Edit::Reshape(Reshape::Split { land, at_s_mm }));
    }
    for (other, there) in [(land.wrapping_sub(1), land > 0), (land + 1, land + 1 < shaft.wanted.len())] {
        if there && ui.button(format!("Take land {} into it", other + 1)).clicked() {
            edits.push(Edit::Reshape(Reshape::Join { land: other, keeps: land }));
        }
    }
    if wanted.land.start_diameter_mm.to_bits() == wanted.land.end_diameter_mm.to_bits() {
        if ui.button("Make it a taper").clicked() {
            let diameter_mm = TAPER * wanted.land.end_diameter_mm;
            edits.push(Edit::Reshape(Reshape::SetDiameter { land, ends: LandEnds::End, diameter_mm }));
        }
    } else if ui.button("Make it a cylinder").clicked() {
        let diameter_mm = wanted.land.start_diameter_mm;
        edits.push(Edit::Reshape(Reshape::SetDiameter { land, ends: LandEnds::Both, diameter_mm }));
    }
    ui.menu_button("Put on it", |ui| {
        for (name, kind) in FEATURES {
            if ui.button(*name).clicked()
                && let Some(feature) = Feature::usual_on(shaft, land, *kind, at_s_mm)
            {
                let mut shaft = shaft.clone();
                shaft.features.push(feature);
                edits.push(Edit::SetShaft(shaft));
            }
        }
    });
    for (index, feature) in shaft.features.iter().enumerate() {
        let on_it = feature.to_s_mm.min(to_s) - feature.from_s_mm.max(from_s) > 1e-6;
        if on_it && ui.button(format!("Take the {} away", feature.kind.name())).clicked() {
            let mut shaft = shaft.clone();
            shaft.features.remove(index);
            edits.push(Edit::SetShaft(shaft));
        }
    }
    centre_holes_ui(ui, shaft, land, &mut edits);
    if !edits.is_empty() {
        stage.out.edits.append(&mut edits);
        stage.view.selected = Selected::WantedLand(land);
        ui.close();
    }
}

/// The centre hole of the end a land lies at.
fn centre_holes_ui(ui: &mut Ui, shaft: &Shaft, land: usize, edits: &mut Vec<Edit>) {
    for (end, is_there, hole) in
        [("A", land == 0, shaft.centre_hole_a), ("B", land + 1 == shaft.wanted.len(), shaft.centre_hole_b)]
    {
        let words = if hole.is_some() { "Take the centre hole away from" } else { "Put a centre hole in" };
        if !is_there || !ui.button(format!("{words} end {end}")).clicked() {
            continue;
        }
        let land = &shaft.wanted[land].land;
        let diameter_mm = land.start_diameter_mm.min(land.end_diameter_mm);
        let new = CentreHole::in_the_middle(CentreHole::usual_pilot_mm(diameter_mm));
        let mut changed = shaft.clone();
        let place = if end == "A" { &mut changed.centre_hole_a } else { &mut changed.centre_hole_b };
        *place = if hole.is_some() { None } else { Some(new) };
        edits.push(Edit::SetShaft(changed));
    }
}

/// The shaft with a finished part as large as the stock allows, to be drawn from there.
fn begun(shaft: &Shaft) -> Shaft {
    let sizes = shaft.stock.iter().map(|land| land.start_diameter_mm.min(land.end_diameter_mm));
    let land = Land::cylinder(shaft.length_mm(), sizes.fold(f64::INFINITY, f64::min));
    let wanted = WantedLand { land, tolerance: Tolerance::Free, name: String::new() };
    Shaft { wanted_start_s_mm: 0.0, wanted: vec![wanted], ..shaft.clone() }
}
