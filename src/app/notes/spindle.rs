//! Rows of the notes about the lathe: power and torque a pass asks for where it asks most, against what there is, the
//! speed and feed its gears really give, and the marks that feed and nose leave.

use egui::Ui;

use crate::advice::why::Figure;
use crate::advice::words;
use crate::app::Commands;
use crate::app::figure::{pairs_ui, row_ui};
use crate::job::quantity::{self, Kind};
use crate::job::{Job, Pass, Setup};
use crate::study::PassResult;
use crate::study::feed_marks::feed_marks;
use crate::study::machine::{hardest_load, real_cut};

/// Speeds and feeds nearer than this are the same on any dial.
const SAME_RATIO: f64 = 1e-3;

/// What a pass asks of the lathe.
pub fn spindle_ui(ui: &mut Ui, job: &Job, setup: &Setup, pass: &Pass, result: &PassResult, out: &mut Commands) {
    let show = |value: f64, kind: Kind| quantity::show(value, kind, job.units);
    let mut pair: Vec<(Figure, &str, &str, String)> = Vec::new();
    let mut rows: Vec<((Figure, &str), String)> = Vec::new();
    if let Some(load) = hardest_load(job, setup, pass, result) {
        let of = |asked: f64, given: f64, kind: Kind| {
            let asked = show(asked, kind);
            format!("{} of {}", asked.split(' ').next().unwrap_or(&asked), show(given, kind))
        };
        let power = of(load.power_w / 1000.0, load.given_power_w / 1000.0, Kind::Power);
        let torque = of(load.torque_nmm(), load.given_torque_nmm, Kind::Torque);
        pair.push((Figure::Power, "Power, at most", "Power, at most", power));
        pair.push((Figure::Torque, "torque", "Torque, at most", torque));
    }
    let real = real_cut(job, setup, pass);
    let differs = |real: f64, asked: f64| (real - asked).abs() > SAME_RATIO * asked.abs();
    if differs(real.speed_rpm, pass.speed_rpm) {
        rows.push(((Figure::GearSpeed, "the gearbox gives"), show(real.speed_rpm, Kind::SpindleSpeed)));
    }
    if differs(real.feed_mm_per_rev, pass.feed_mm_per_rev) {
        rows.push(((Figure::GearFeed, "the feed box gives"), show(real.feed_mm_per_rev, Kind::Feed)));
    }
    if let Some(marks) = feed_marks(setup, pass) {
        let rough = |height_mm: f64| words::roughness(height_mm, job.units);
        // Past the nose the trailing edge takes the tops off.
        let most = if marks.past_the_nose { "up to " } else { "" };
        rows.push((
            (Figure::Marks, "Feed marks"),
            format!("{most}{}, Ra {}", rough(marks.height_mm), rough(marks.mean_mm)),
        ));
        rows.push(((Figure::WornMarks, "with a worn edge"), rough(marks.worn_height_mm)));
    }
    if pair.is_empty() && rows.is_empty() {
        return;
    }
    ui.add_space(6.0);
    ui.scope(|ui| {
        ui.spacing_mut().item_spacing.y = 0.0;
        pairs_ui(ui, &pair, out);
        for (name, value) in rows {
            row_ui(ui, name, &value, out);
        }
    });
}
