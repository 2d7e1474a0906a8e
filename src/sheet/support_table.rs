//! The table of rests, for a file and for the cards on paper: what each is, where it stands, on what it runs and how it is set.

use super::distances::bare_length;
use super::table::{Cell, Column, Table};
use crate::advice::words;
use crate::job::{FeatureKind, Follower, FollowerSide, Job, Rest, SetTo, Setup, Sleeve, TipKind};

/// The table; no rows where there is no rest.
pub(super) fn table(job: &Job, setup: &Setup) -> Table {
    let columns = vec![
        Column::new("Rest, tips", 0.22),
        Column::new("From the datum", 0.17),
        Column::new("Runs on", 0.25),
        Column::new("Set to, gaps, oil", 0.36),
    ];
    let mut rows: Vec<Vec<Cell>> =
        setup.rests.iter().enumerate().map(|(index, rest)| rest_row(job, setup, index, rest)).collect();
    rows.extend(setup.follower.as_ref().map(|follower| follower_row(job, follower)));
    Table { heading: "Rests".to_owned(), columns, rows }
}

fn tip(kind: TipKind, bored_mm: Option<f64>, job: &Job) -> String {
    let name = match kind {
        TipKind::Bronze => "bronze tips",
        TipKind::Brass => "brass tips",
        TipKind::CastIron => "cast iron tips",
        TipKind::Plastic => "plastic tips",
        TipKind::Roller => "rollers",
    };
    match bored_mm {
        Some(mm) if kind != TipKind::Roller => format!("{name}, bored \u{d8} {}", words::diameter(mm, job.units)),
        _ => name.to_owned(),
    }
}

fn oil(kind: TipKind) -> &'static str {
    if kind == TipKind::Roller { "light oil" } else { "oil always" }
}

fn rest_row(job: &Job, setup: &Setup, index: usize, rest: &Rest) -> Vec<Cell> {
    let s_mm = setup.s_of_z_mm(&job.shaft, rest.z_mm);
    let (size, on) = match rest.sleeve {
        Sleeve::CatHead { diameter_mm, .. } => (Some(diameter_mm), "cat head"),
        Sleeve::Bush { diameter_mm, .. } => (Some(diameter_mm), "split bush"),
        Sleeve::None => {
            let is_spot = job.shaft.features.iter().any(|feature| {
                feature.kind == FeatureKind::TrueSpot && (feature.from_s_mm..=feature.to_s_mm).contains(&s_mm)
            });
            (job.dial_diameter_into_mm(setup.id, s_mm), if is_spot { "true spot" } else { "spot to be turned" })
        }
    };
    let size =
        size.map_or_else(|| "off the work".to_owned(), |mm| format!("on \u{d8} {}", words::diameter(mm, job.units)));
    let set = match rest.set_to {
        SetTo::Work => "to the work as it lies",
        SetTo::Axis => "to the spindle axis",
    };
    let gaps: Vec<String> = rest
        .jaws
        .iter()
        .enumerate()
        .map(|(jaw, one)| gap(words::jaw_side(rest.jaws[jaw].angle_rad), one.gap_mm, job))
        .collect();
    let tight: Vec<String> = gaps.into_iter().filter(|words| !words.is_empty()).collect();
    let gaps = if tight.is_empty() { "all jaws to touch".to_owned() } else { tight.join(", ") };
    vec![
        Cell::Two(format!("Steady {}", index + 1), tip(rest.tip, rest.tip_bored_mm, job)),
        Cell::Figure(bare_length(rest.z_mm, job)),
        Cell::Two(size, on.to_owned()),
        Cell::Words(format!("set {set}; {gaps}; {}", oil(rest.tip))),
    ]
}

fn gap(jaw: &str, gap_mm: f64, job: &Job) -> String {
    match gap_mm {
        mm if mm.abs() <= 5e-4 => String::new(),
        mm if mm > 0.0 => format!("{jaw} {} clear", words::amount(mm, job.units)),
        mm => format!("{jaw} {} pressed in", words::amount(mm, job.units)),
    }
}

fn follower_row(job: &Job, follower: &Follower) -> Vec<Cell> {
    let (side, on) = match follower.side {
        FollowerSide::Behind => ("behind the tool", "the fresh surface"),
        FollowerSide::Ahead => ("ahead of the tool", "the old surface"),
    };
    let gaps = [gap("rear", follower.jaws[0].gap_mm, job), gap("top", follower.jaws[1].gap_mm, job)];
    let tight: Vec<String> = gaps.into_iter().filter(|words| !words.is_empty()).collect();
    let gaps = if tight.is_empty() { "both jaws to touch".to_owned() } else { tight.join(", ") };
    vec![
        Cell::Two("Follower".to_owned(), tip(follower.tip, follower.tip_bored_mm, job)),
        Cell::Two(format!("{} {side}", words::length(follower.distance_mm, job.units)), String::new()),
        Cell::Words(format!("on {on}")),
        Cell::Words(format!("{gaps}; {}", oil(follower.tip))),
    ]
}
