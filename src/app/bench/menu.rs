//! The menu of the empty bed: a rest here, how large the spring is drawn, fit.

use egui::{Id, Response};

use super::snap::snapped;
use super::stage::Stage;
use crate::app::{Action, Exaggeration};
use crate::job::{Edit, Rest, RestId, Sleeve, Spot};

/// Factors offered for the spring.
const TIMES: [f64; 5] = [1.0, 20.0, 100.0, 500.0, 2000.0];

/// Opens on a secondary click beside all handles.
pub fn bed_menu(canvas: &Response, stage: &mut Stage) {
    let key = Id::unique("bench menu place");
    if canvas.secondary_clicked()
        && let Some(pos) = canvas.interact_pointer_pos()
    {
        stage.ui.data_mut(|data| data.insert_temp(key, stage.map.z_mm(pos.x)));
    }
    let opened_at: Option<f64> = stage.ui.data(|data| data.get_temp(key));
    canvas.context_menu(|ui| {
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
