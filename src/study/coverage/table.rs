//! Coverage as one comma-separated table: set-up (`all` for the shaft as it leaves the last one), what, from, to, and
//! how much on diameter. Places are along the shaft from end A; numbers always have a point, never a comma.

use std::fmt::Write as _;

use super::{Cover, Coverage, RunKind};
use crate::job::{FeatureKind, Job, SetupId};

/// The whole coverage as text.
#[must_use]
pub fn csv(job: &Job, coverage: &Coverage) -> String {
    let mut text = "set-up,what,from_s_mm,to_s_mm,on_diameter_mm\n".to_owned();
    let mut row = |of: &str, what: &str, from_mm: f64, to_mm: f64, on_diameter_mm: Option<f64>| {
        let size = on_diameter_mm.map_or_else(String::new, |size_mm| format!("{size_mm:.6}"));
        writeln!(text, "{of},{what},{from_mm:.3},{to_mm:.3},{size}").expect("writing to a String cannot fail");
    };
    let number = |id: SetupId| job.setup_index(id).map_or_else(String::new, |index| format!("{}", index + 1));
    for setup in &coverage.setups {
        let of = number(setup.setup);
        if let Some((from_mm, to_mm)) = setup.held {
            row(&of, "in-the-jaws", from_mm, to_mm, None);
        }
        for (_, from_mm, to_mm) in &setup.under {
            row(&of, "under-a-rest", *from_mm, *to_mm, None);
        }
        for run in &setup.cut {
            row(&of, run_word(run.kind), run.from_s_mm, run.to_s_mm, None);
        }
    }
    for stretch in &coverage.stretches {
        row("all", cover_word(stretch.cover), stretch.from_s_mm, stretch.to_s_mm, Some(stretch.by_mm));
    }
    for seam in &coverage.seams {
        row("all", "seam", seam.s_mm, seam.s_mm, Some(seam.step_mm));
    }
    for feature in &coverage.features {
        let thread =
            job.shaft.features.get(feature.feature).is_some_and(|f| matches!(f.kind, FeatureKind::Thread { .. }));
        for (from_mm, to_mm) in &feature.gaps {
            row("all", if thread { "thread-not-cut" } else { "groove-not-cut" }, *from_mm, *to_mm, None);
        }
    }
    for end in coverage.ends.iter().flatten() {
        row("all", if end.by.is_some() { "end-made" } else { "end-left" }, end.s_mm, end.s_mm, None);
    }
    text
}

fn run_word(kind: RunKind) -> &'static str {
    match kind {
        RunKind::Outside => "cut",
        RunKind::Thread => "threaded",
        RunKind::Bore => "holed",
    }
}

fn cover_word(cover: Cover) -> &'static str {
    match cover {
        Cover::NotDrawn => "not-drawn",
        Cover::AsStock => "as-stock",
        Cover::ToSize => "to-size",
        Cover::Uncut => "not-cut",
        Cover::Heavy => "left-heavy",
        Cover::Undersize => "undersize",
    }
}
