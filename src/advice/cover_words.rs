//! The bars of what is cut where, in words.

use super::standing::from_to;
use super::words;
use crate::job::{Job, Setup, SetupId};
use crate::study::coverage::{Cover, RunKind, Seam, Stretch};
use crate::study::reach;

/// Said inside a bar: the first that has room.
#[must_use]
pub fn brief(job: &Job, stretch: &Stretch) -> Vec<String> {
    let words = |all: &[&str]| all.iter().map(|&one| one.to_owned()).collect();
    match (stretch.cover, stretch.last) {
        (Cover::NotDrawn, None) => Vec::new(),
        (Cover::NotDrawn | Cover::ToSize, Some(setup)) => {
            vec![number(job, setup), job.setup_index(setup).map_or_else(String::new, |index| format!("{}", index + 1))]
        }
        (Cover::ToSize, None) => words(&["to size"]),
        (Cover::AsStock, _) => words(&["as stock", "stock"]),
        (Cover::Uncut, _) => words(&["not cut", "uncut", "!"]),
        (Cover::Heavy, _) => words(&["left heavy", "heavy", "!"]),
        (Cover::Undersize, _) => words(&["undersize", "!"]),
    }
}

/// "set-up 2".
#[must_use]
pub fn number(job: &Job, setup: SetupId) -> String {
    job.setup_index(setup).map_or_else(String::new, |index| format!("set-up {}", index + 1))
}

/// "40 to 85 mm from end A: to size, cut last in set-up 2".
#[must_use]
pub fn line(job: &Job, stretch: &Stretch) -> String {
    let off = words::diameter(stretch.by_mm, job.units);
    let state = match stretch.cover {
        Cover::NotDrawn => "nothing drawn".to_owned(),
        Cover::AsStock => "left as the stock is".to_owned(),
        Cover::ToSize => "to size".to_owned(),
        Cover::Uncut if stretch.by_mm > 0.0 => format!("not cut in any set-up, {off} to come off"),
        Cover::Uncut => "not cut in any set-up, the stock has the size".to_owned(),
        Cover::Heavy => format!("left heavy, up to {off} to come off"),
        Cover::Undersize => format!("{off} below the drawing by the dial"),
    };
    let last = stretch.last.map_or_else(String::new, |setup| format!(", cut last in {}", number(job, setup)));
    format!("{}: {state}{last}", along(job, stretch.from_s_mm, stretch.to_s_mm))
}

/// "40 to 85 mm from end A".
#[must_use]
pub fn along(job: &Job, from_s_mm: f64, to_s_mm: f64) -> String {
    format!("{} from end A", from_to(&reach::Stretch::new(from_s_mm, to_s_mm), job.units))
}

/// "12 to 57 mm from the jaw face": the same stretch as it lies in a set-up.
#[must_use]
pub fn here(job: &Job, setup: &Setup, from_s_mm: f64, to_s_mm: f64) -> String {
    let ends = [from_s_mm, to_s_mm].map(|s_mm| setup.z_of_s_mm(&job.shaft, s_mm));
    format!(
        "here {} from the jaw face",
        from_to(&reach::Stretch::new(ends[0].min(ends[1]), ends[0].max(ends[1])), job.units)
    )
}

/// What a set-up does to a stretch.
#[must_use]
pub fn run(kind: RunKind) -> &'static str {
    match kind {
        RunKind::Outside => "cut here",
        RunKind::Thread => "threaded here",
        RunKind::Bore => "a hole made here",
    }
}

/// "Set-ups 1 and 2 meet 105 mm from end A".
#[must_use]
pub fn seam(job: &Job, seam: &Seam) -> String {
    let [one, other] = seam.setups.map(|id| job.setup_index(id).map_or(0, |index| index + 1));
    let shoulder = if seam.land.is_none() { ", at a shoulder" } else { "" };
    format!(
        "Set-ups {} and {} meet {} from end A{shoulder}",
        one.min(other),
        one.max(other),
        words::length(seam.s_mm, job.units)
    )
}
