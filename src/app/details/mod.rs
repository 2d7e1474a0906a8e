//! Details: every field of what is selected, to be typed.
//!
//! Each panel clones what it shows, lets the rows change the clone and pushes one edit where something was entered.

mod ends;
mod follower;
mod jaws;
mod lands;
mod lathe;
mod pass;
mod pass_kind;
mod rest;
mod setup;
mod shaft;
mod standing;
mod sureness;
mod tool;

use egui::{RichText, Ui};

use super::fields::Fields;
use super::{Commands, Results, Selected, View};
use crate::job::Job;

/// Shows the details of what is selected.
pub fn details_ui(ui: &mut Ui, job: &Job, view: &mut View, results: &Results, out: &mut Commands) {
    let Some(setup) = job.setup(view.setup) else {
        ui.label("Nothing is selected.");
        return;
    };
    ui.push_id((setup.id, panel(view.selected)), |ui| {
        ui.label(RichText::new(title(job, view)).heading());
        let mut fields = Fields::new(ui, job.units);
        match view.selected {
            Selected::Shaft | Selected::StockLand(_) | Selected::WantedLand(_) => {
                shaft::shaft_ui(&mut fields, job, view, out);
            }
            Selected::Lathe => lathe::lathe_ui(&mut fields, job, out),
            Selected::Sureness => sureness::sureness_ui(&mut fields, job, out),
            Selected::Drive => ends::drive_ui(&mut fields, job, setup, out),
            Selected::Tail => ends::tail_ui(&mut fields, setup, out),
            Selected::Tool => tool::tool_ui(&mut fields, setup, view, out),
            Selected::Follower => follower::follower_ui(&mut fields, job, setup, view, results, out),
            Selected::Rest(rest) => {
                if let Some(rest) = setup.rest(rest) {
                    rest::rest_ui(&mut fields, job, setup, rest, results, out);
                }
            }
            Selected::Pass(pass) => {
                if let Some(pass) = setup.pass(pass) {
                    pass::pass_ui(&mut fields, setup, pass, results, out);
                }
            }
            Selected::Setup => setup::setup_ui(&mut fields, job, setup, out),
        }
    });
}

fn title(job: &Job, view: &View) -> String {
    let setup = job.setup(view.setup);
    match view.selected {
        Selected::Shaft => "Shaft".to_owned(),
        Selected::StockLand(land) => format!("Shaft, stock land {}", land + 1),
        Selected::WantedLand(land) => format!("Shaft, wanted land {}", land + 1),
        Selected::Lathe => "Lathe".to_owned(),
        Selected::Sureness => "How sure".to_owned(),
        Selected::Drive => "Headstock end".to_owned(),
        Selected::Tail => "Tailstock end".to_owned(),
        Selected::Tool => "Tool".to_owned(),
        Selected::Follower => "Follower rest".to_owned(),
        Selected::Rest(id) => {
            let index = setup.and_then(|setup| setup.rests.iter().position(|rest| rest.id == id)).unwrap_or(0);
            format!("Steady rest {}", index + 1)
        }
        Selected::Pass(id) => {
            let index = setup.and_then(|setup| setup.passes.iter().position(|pass| pass.id == id)).unwrap_or(0);
            format!("Pass {}", index + 1)
        }
        Selected::Setup => format!("Set-up {}", job.setup_index(view.setup).unwrap_or(0) + 1),
    }
}

/// Lands are rows of the shaft's panel, not panels of their own.
fn panel(selected: Selected) -> Selected {
    match selected {
        Selected::StockLand(_) | Selected::WantedLand(_) => Selected::Shaft,
        other => other,
    }
}
