//! What the jaws of the selected rest feel with the work as it is drawn: pressure on the line they bear on, rubbing,
//! drag and heat.
//!
//! All for smooth, oiled tips ([`crate::study::jaw_contact`]); estimates.

use egui::{Grid, RichText, Ui, vec2};

use crate::advice::why::Figure;
use crate::advice::words;
use crate::app::why_panel::why_mark;
use crate::app::{Commands, Results, Selected};
use crate::job::quantity::{self, Kind};
use crate::job::{Job, Pass, Setup};
use crate::study::Support;
use crate::study::jaw_contact::{JawContact, of_shape};

/// A table where a rest or the follower is selected and a jaw of it touches.
pub fn contact_ui(
    ui: &mut Ui,
    job: &Job,
    setup: &Setup,
    results: &Results,
    pass: Option<&Pass>,
    selected: Selected,
    out: &mut Commands,
) {
    let is_looked_at = |support: Support| match (support, selected) {
        (Support::Jaw { rest, .. }, Selected::Rest(id)) => rest == id,
        (Support::FollowerJaw { .. }, Selected::Follower) => true,
        _ => false,
    };
    let Some(shape) = &results.shape else { return };
    let jaws: Vec<JawContact> = of_shape(job, setup, pass, shape)
        .into_iter()
        .filter(|jaw| is_looked_at(jaw.support) && jaw.force_n > 0.0)
        .collect();
    let Some(first) = jaws.first() else { return };
    ui.add_space(6.0);
    let show = |value: f64, kind: Kind| quantity::show(value, kind, job.units);
    let part = words::capital(&words::support_parts(setup, first.support, job.units).0);
    let rubbing = match first.rubbing_m_per_s > 0.0 {
        true => format!(", rubbing at {}", show(first.rubbing_m_per_s, Kind::SurfaceSpeed)),
        false => ", standing still".to_owned(),
    };
    ui.horizontal_wrapped(|ui| {
        ui.label(RichText::new(format!("{part}{rubbing}")).small()).on_hover_text(
            "Smooth, oiled tips in line with the work. The pressure is the peak on the line a tip bears on, or the mean \
             where the tip lies round the work.",
        );
        if first.rubbing_m_per_s > 0.0 {
            why_mark(ui, Figure::Rubbing(first.support), "rubbing speed", out);
        }
    });
    let turns = first.rubbing_m_per_s > 0.0;
    let small = |ui: &mut Ui, text: String| ui.label(RichText::new(text).small());
    let heads: &[&str] =
        if turns { &["jaw", "force", "pressure", "drag", "heat"] } else { &["jaw", "force", "pressure"] };
    Grid::new("jaw contact").num_columns(5).striped(true).spacing(vec2(9.0, 2.0)).show(ui, |ui| {
        for head in heads {
            ui.label(RichText::new(*head).small().weak());
        }
        ui.end_row();
        for jaw in &jaws {
            let name = words::support_parts(setup, jaw.support, job.units).1.unwrap_or_default();
            small(ui, name.trim_end_matches(" jaw").to_owned());
            small(ui, show(jaw.force_n, Kind::Force));
            small(ui, pressure(jaw, job));
            if turns {
                small(ui, show(jaw.friction_n, Kind::Force));
                small(ui, format!("{:.*} W", usize::from(jaw.heat_w < 9.95), jaw.heat_w));
            }
            ui.end_row();
        }
    });
    // The heads have no room for the marks; they explain the jaw that is pressed most.
    let hardest = jaws.iter().max_by(|a, b| a.force_n.total_cmp(&b.force_n)).map_or(first.support, |jaw| jaw.support);
    ui.horizontal_wrapped(|ui| {
        for head in heads {
            let figure = match *head {
                "force" => Figure::Load(hardest),
                "pressure" => Figure::Pressure(hardest),
                "drag" => Figure::Drag(hardest),
                "heat" => Figure::Heat(hardest),
                _ => continue,
            };
            ui.label(RichText::new(*head).small().weak());
            why_mark(ui, figure, &format!("{head} of the jaw pressed most"), out);
        }
    });
}

/// The peak on the line, or the mean of a tip that lies round the work.
fn pressure(jaw: &JawContact, job: &Job) -> String {
    match jaw.peak_mpa {
        Some(peak_mpa) => quantity::show(peak_mpa, Kind::Pressure, job.units),
        None => format!("{} mean", quantity::show(jaw.mean_mpa, Kind::Pressure, job.units)),
    }
}
