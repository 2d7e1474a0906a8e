//! Rows of the notes about what acts along the work: growth and thrust of warm work, and the force on either side of the
//! tool that presses it together or pulls it straight.

use egui::Ui;

use crate::advice::why::Figure;
use crate::advice::words;
use crate::app::figure::row_ui;
use crate::app::{Commands, Results};
use crate::job::quantity::{self, Kind};
use crate::job::{DriveKind, Job, Pass, Setup, TailKind};
use crate::study::along::{Along, along};

/// A force that rounds to nothing.
const NOTHING_N: f64 = 0.5;

/// Says nothing where nothing acts along the work.
pub fn along_ui(ui: &mut Ui, job: &Job, setup: &Setup, results: &Results, pass: Option<&Pass>, out: &mut Commands) {
    let Some(along) = along(job, &results.result, setup.id, pass.map(|pass| pass.id)) else { return };
    let mut rows: Vec<(Figure, (String, String))> =
        warmth_rows(job, setup, &along).into_iter().map(|row| (Figure::Warmth, row)).collect();
    let pressed = |row| (Figure::Pressed, row);
    rows.extend(
        force_rows(job, setup, &along, results.shape.as_ref().is_some_and(|shape| shape.cut.is_some()))
            .into_iter()
            .map(pressed),
    );
    if rows.is_empty() {
        return;
    }
    ui.add_space(4.0);
    ui.scope(|ui| {
        ui.spacing_mut().item_spacing.y = 0.0;
        for (figure, (name, value)) in rows {
            row_ui(ui, (figure, &name), &value, out);
        }
    });
}

fn warmth_rows(job: &Job, setup: &Setup, along: &Along) -> Vec<(String, String)> {
    if setup.warmer_by_k == 0.0 {
        return Vec::new();
    }
    let warmth = &along.warmth;
    let by = quantity::show(setup.warmer_by_k.abs(), Kind::TemperatureRise, job.units);
    let (name, change) = if setup.warmer_by_k > 0.0 { ("Warmer by", "grows by") } else { ("Colder by", "shrinks by") };
    let thrust = match setup.tail.kind {
        TailKind::Free => "its end is free".to_owned(),
        _ if warmth.thrust_n <= 0.0 => "the centre is slack".to_owned(),
        _ => format!("thrust {}", quantity::show(warmth.thrust_n, Kind::Force, job.units)),
    };
    vec![(format!("{name} {by}"), format!("{change} {}, {thrust}", words::amount(warmth.growth_mm, job.units)))]
}

fn force_rows(job: &Job, setup: &Setup, along: &Along, in_cut: bool) -> Vec<(String, String)> {
    let words = |force_n: f64| {
        let force = quantity::show(force_n.abs(), Kind::Force, job.units);
        if force_n > 0.0 {
            format!("pressed together with {force}")
        } else {
            format!("pulled with {force}, which keeps it straight")
        }
    };
    let drive = match setup.drive.kind {
        DriveKind::CentreAndDog => "headstock",
        DriveKind::Collet => "collet",
        DriveKind::FacePlate => "face plate",
        DriveKind::ThreeJaw | DriveKind::FourJaw => "chuck",
    };
    let sides = if in_cut {
        vec![(format!("{drive} to tool"), along.axial.front_n), ("tool to tailstock".to_owned(), along.axial.back_n)]
    } else {
        vec![("Along the work".to_owned(), along.warmth.thrust_n)]
    };
    sides
        .into_iter()
        .filter(|(_, force_n)| force_n.abs() >= NOTHING_N)
        .map(|(name, force_n)| (name, words(force_n)))
        .collect()
}
