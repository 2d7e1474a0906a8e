//! Results as comma-separated tables, one a pass, for spreadsheets and for checking.
//!
//! Columns: set-up, pass, z_mm, wanted_diameter_mm, diameter_left_mm, error_mm, error_low_mm, error_high_mm (between
//! which the error may lie; empty without bands), spring_x_mm, spring_y_mm, real_depth_mm, fc_n, fp_n, ff_n, four columns
//! of what turns with the work, then one column a reaction in N, then the status. A pass that leaves no sizes along the
//! work (facing, drilling, parting) has one row of its own figures instead. A blank line parts two tables; each has its
//! own header, since each holding has its own supports. Numbers always have a point, never a comma.

use std::fmt::Write as _;

use super::band::{Curve, PassBand};
use super::{EndWork, JobResult, PassResult, Plunge, Status, Support};
use crate::job::{Job, Setup};

const COLUMNS: &str = "set-up,pass,z_mm,wanted_diameter_mm,diameter_left_mm,error_mm,error_low_mm,\
                       error_high_mm,spring_x_mm,spring_y_mm,real_depth_mm,fc_n,fp_n,ff_n,\
                       runout_before_mm,runout_left_mm,runout_free_mm,out_of_round_mm";

/// Columns of a facing or drilling pass; empty where there is no such figure.
const END_COLUMNS: &str = "set-up,pass,z_mm,slope_x_rad,slope_y_rad,off_x_mm,off_y_mm,dish_mm,pip_mm,status\n";

/// Columns of a parting pass.
const PLUNGE_COLUMNS: &str = "set-up,pass,z_mm,width_mm,fc_n,fp_n,spring_start_x_mm,spring_start_y_mm,\
                              spring_half_x_mm,spring_half_y_mm,status\n";

/// All passes of all set-ups as text, a table each. A pass without stations has one row that says why.
#[must_use]
pub fn csv(job: &Job, result: &JobResult) -> String {
    let mut tables = Vec::new();
    for (setup_index, setup) in job.setups.iter().enumerate() {
        for (pass_index, pass) in setup.passes.iter().enumerate() {
            if let Some(pass) = result.pass(pass.id) {
                tables.push(table(setup, setup_index + 1, pass_index + 1, pass, result.band(pass.pass)));
            }
        }
    }
    tables.join("\n")
}

fn table(setup: &Setup, setup_number: usize, pass_number: usize, pass: &PassResult, band: Option<&PassBand>) -> String {
    if pass.stations.is_empty() {
        let begin = format!("{setup_number},{pass_number}");
        let status = status_word(pass.status);
        if let Some(end) = &pass.end {
            return format!("{END_COLUMNS}{begin},{},{status}\n", end_row(end));
        }
        if let Some(plunge) = &pass.plunge {
            return format!("{PLUNGE_COLUMNS}{begin},{},{status}\n", plunge_row(plunge));
        }
    }
    let mut text = COLUMNS.to_owned();
    for support in &pass.supports {
        text.push(',');
        text.push_str(&column(setup, *support));
    }
    text.push_str(",status\n");
    let status = status_word(pass.status);
    if pass.stations.is_empty() {
        let empty = ",".repeat(16 + pass.supports.len());
        push(&mut text, format_args!("{setup_number},{pass_number}{empty},{status}\n"));
    }
    let edges_mm = band.map(|band| band.edges_mm(Curve::Error, pass));
    for (index, station) in pass.stations.iter().enumerate() {
        push(
            &mut text,
            format_args!(
                "{setup_number},{pass_number},{:.3},{:.6},{:.6},{:.6}",
                station.z_mm, station.wanted_diameter_mm, station.left_diameter_mm, station.error_mm,
            ),
        );
        match &edges_mm {
            Some(edges_mm) => push(&mut text, format_args!(",{:.6},{:.6}", edges_mm[index][0], edges_mm[index][1])),
            None => text.push_str(",,"),
        }
        push(
            &mut text,
            format_args!(
                ",{:.6},{:.6},{:.6},{:.3},{:.3},{:.3},{:.6},{:.6},{:.6},{:.6}",
                station.spring_x_mm,
                station.spring_y_mm,
                station.real_depth_mm,
                station.fc_n,
                station.fp_n,
                station.ff_n,
                station.turned.before_mm,
                station.turned.left_mm,
                station.turned.free_mm,
                station.turned.roundness_mm
            ),
        );
        for force_n in pass.forces_at(index) {
            push(&mut text, format_args!(",{force_n:.3}"));
        }
        push(&mut text, format_args!(",{status}\n"));
    }
    text
}

fn end_row(end: &EndWork) -> String {
    let some = |value_mm: Option<f64>| value_mm.map_or_else(String::new, |value_mm| format!("{value_mm:.6}"));
    format!(
        "{:.3},{:.9},{:.9},{:.6},{:.6},{},{}",
        end.z_mm,
        end.slope_x_rad,
        end.slope_y_rad,
        end.off_x_mm,
        end.off_y_mm,
        some(end.dish_mm),
        some(end.pip_mm)
    )
}

fn plunge_row(plunge: &Plunge) -> String {
    let ([start_x_mm, start_y_mm], [half_x_mm, half_y_mm]) = (plunge.spring_at_start_mm, plunge.spring_at_bottom_mm);
    format!(
        "{:.3},{:.3},{:.3},{:.3},{start_x_mm:.6},{start_y_mm:.6},{half_x_mm:.6},{half_y_mm:.6}",
        plunge.z_mm, plunge.width_mm, plunge.fc_n, plunge.fp_n
    )
}

fn push(text: &mut String, what: std::fmt::Arguments<'_>) {
    text.write_fmt(what).expect("writing to a String cannot fail");
}

/// The header of a reaction's column.
fn column(setup: &Setup, support: Support) -> String {
    match support {
        Support::DriveX => "drive_x_n".to_owned(),
        Support::DriveY => "drive_y_n".to_owned(),
        Support::TailX => "tail_x_n".to_owned(),
        Support::TailY => "tail_y_n".to_owned(),
        Support::Jaw { rest, jaw } => {
            let number = setup.rests.iter().position(|known| known.id == rest).map_or(0, |index| index + 1);
            format!("steady_{number}_jaw_{}_n", jaw + 1)
        }
        Support::FollowerJaw { jaw: 0 } => "follower_rear_n".to_owned(),
        Support::FollowerJaw { .. } => "follower_top_n".to_owned(),
    }
}

/// The status in one word.
#[must_use]
pub fn status_word(status: Status) -> &'static str {
    match status {
        Status::Solved => "solved",
        Status::StoppedEarly => "stopped-early",
        Status::NotHeld => "not-held",
        Status::NothingToCut => "nothing-to-cut",
    }
}
