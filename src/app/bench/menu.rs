//! The menu of bed and work: what can be done to the land there, a rest here, how large the spring is drawn, fit.

use egui::{Id, Response};

use super::land_menu;
use super::snap::snapped;
use super::stage::Stage;
use crate::app::{Action, Exaggeration};
use crate::job::{Edit, Rest, RestId, Sleeve, Spot};

/// Factors offered for the spring.
const TIMES: [f64; 5] = [1.0, 20.0, 100.0, 500.0, 2000.0];

/// Opens on a secondary click beside all handles.
pub fn bed_menu(canvas: &Response, stage: &mut Stage) {
    let (key, on_work_key) = (Id::unique("bench menu place"), Id::unique("bench menu on the work"));
    if canvas.secondary_clicked()
        && let Some(pos) = canvas.interact_pointer_pos()
    {
        let (z_mm, up_mm) = (stage.map.z_mm(pos.x), stage.map.up_mm(pos.y));
        let on_work = up_mm.abs() <= stage.now.radius_at(z_mm) + 4.0 / stage.map.px_per_mm;
        stage.ui.data_mut(|data| data.insert_temp(key, z_mm));
        stage.ui.data_mut(|data| data.insert_temp(on_work_key, on_work));
    }
    let opened_at: Option<f64> = stage.ui.data(|data| data.get_temp(key));
    let opened_on_work = stage.ui.data(|data| data.get_temp(on_work_key)).unwrap_or(false);
    land_menu::menu_of(canvas, |ui, _| {
        if opened_on_work && let Some(z_mm) = opened_at {
            let shaft = &stage.job.shaft;
            let s_mm = stage.setup.s_of_z_mm(shaft, snapped(z_mm, 0.0, stage.units(), &[], 1.0, false).z_mm);
            let land = shaft.wanted_spans().position(|(from, to, _)| (from..=to).contains(&s_mm));
            land_menu::items_ui(ui, stage, land.unwrap_or(usize::MAX), Some(s_mm));
            ui.separator();
        }
        if let Some(z_mm) = opened_at {
            let place = snapped(z_mm, 0.0, stage.units(), &[], stage.map.px_per_mm, false).z_mm;
            let on_work = place > 0.0 && place < stage.setup.work_end_z_mm(&stage.job.shaft);
            let text = format!("Add a steady rest here ({})", stage.length(place));
            if ui.add_enabled(on_work, egui::Button::new(text)).clicked() {
                stage.out.edits.push(Edit::AddRest { setup: stage.setup.id, rest: new_rest(stage, place) });
                ui.close();
            }
        }
        ui.menu_button("Draw the spring larger", |ui| {
            if ui.radio(stage.view.exaggeration == Exaggeration::Auto, "As it shows well").clicked() {
                stage.view.exaggeration = Exaggeration::Auto;
                ui.close();
            }
            for times in TIMES {
                let text = format!("{times} times");
                if ui.radio(stage.view.exaggeration == Exaggeration::Times(times), text).clicked() {
                    stage.view.exaggeration = Exaggeration::Times(times);
                    ui.close();
                }
            }
        });
        if ui.button("Fit everything").clicked() {
            stage.out.actions.push(Action::Fit);
            ui.close();
        }
    });
}

/// A rest like the set-up's first but for what belongs to that place, or the usual one with three jaws.
fn new_rest(stage: &Stage, z_mm: f64) -> Rest {
    if let Some(first) = stage.setup.rests.first() {
        return Rest {
            z_mm,
            offset_x_mm: 0.0,
            offset_y_mm: 0.0,
            sleeve: Sleeve::None,
            spot: Spot::round(),
            tip_bored_mm: None,
            ..first.clone()
        };
    }
    Rest::three_jaw(RestId(0), z_mm)
}
