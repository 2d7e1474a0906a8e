//! Why a rest has no room somewhere: the lengths of the lathe and of the work, put together.

use super::sum::{Sum, number};
use super::{Sketch, Why};
use crate::advice::words;
use crate::job::{Job, Rest, Sleeve};
use crate::study::reach::Why as Reason;

const MEASURES: &str = "measures of the lathe, and geometry; common practice, no source, for what a jaw may run on";
const TRUST: &str = "as sure as the measures are: those nobody stated are assumed";

/// An explanation that puts measures together.
pub fn measured(what: &str) -> Why {
    Why::new(what, MEASURES, TRUST)
}

/// "beginning − end" or any other two lengths along the bed, with what comes out.
pub fn apart(job: &Job, gives: &str, words: &str, far_mm: f64, near_mm: f64) -> Sum {
    let numbers = format!("{} \u{2212} {}", number(far_mm), number(near_mm));
    Sum::figure(gives, words, numbers, words::length(far_mm - near_mm, job.units))
}

/// How near the carriage brings the tool to the jaws of a rest, on either side of it.
pub fn approach(job: &Job, rest: &Rest, closed_mm: (f64, f64), pass_mm: (f64, f64)) -> Why {
    let lathe = &job.lathe;
    let (half, half_mm, parts_mm) = if lathe.wings_pass_rest {
        let parts_mm = [lathe.holder_left_mm.value, lathe.holder_right_mm.value];
        ("half the width of its jaws + tool holder beyond the tool", lathe.rest_jaw_width_mm.value, parts_mm)
    } else {
        let parts_mm = [lathe.carriage_left_mm.value, lathe.carriage_right_mm.value];
        ("half the base of the rest + wing of the carriage", lathe.rest_base_mm.value, parts_mm)
    };
    let beyond = [closed_mm.1 - rest.z_mm, rest.z_mm - closed_mm.0];
    let mut why = measured("How near the tool comes to the jaws of the rest before rest and carriage meet.");
    for ((gives, part_mm), beyond_mm) in
        ["on the tailstock side", "on the headstock side"].into_iter().zip(parts_mm).zip(beyond)
    {
        let numbers = format!("{} \u{f7} 2 + {}", number(half_mm), number(part_mm));
        why = why.with(Sum::figure(gives, half, numbers, words::length(beyond_mm, job.units)));
    }
    let closed = (closed_mm.0, closed_mm.1, "closed by the rest");
    why.drawn(Sketch::Lengths(vec![(pass_mm.0, pass_mm.1, "pass"), closed]))
}

/// The arithmetic behind a reason against a place; nothing where it only names what is there.
pub fn of_reason(job: &Job, rest: Option<&Rest>, reason: &Reason) -> Option<Sum> {
    let length = |mm: f64| words::length(mm, job.units);
    let circle = |circle_mm: f64| {
        let Some(Sleeve::CatHead { diameter_mm, .. }) = rest.map(|rest| rest.sleeve) else { return None };
        Some(Sum::figure(
            "its screws swing",
            "diameter of the cat head + heads of its screws on both sides",
            format!("{} + {}", number(diameter_mm), number(circle_mm - diameter_mm)),
            length(circle_mm),
        ))
    };
    let half_base = |half_mm: f64| {
        let numbers = format!("{} \u{f7} 2", number(2.0 * half_mm));
        Sum::figure("to either side of its jaws", "its base along the bed \u{f7} 2", numbers, length(half_mm))
    };
    match *reason {
        Reason::Tailstock { half_base_mm, .. } | Reason::BedEnd { half_base_mm, .. } => Some(half_base(half_base_mm)),
        Reason::SleeveInFrame { circle_mm, .. }
        | Reason::SleeveOnBed { circle_mm, .. }
        | Reason::SleeveOnSlide { circle_mm, .. } => circle(circle_mm),
        Reason::Taper { change_mm } => Some(Sum::figure(
            "taper",
            "change of the diameter under the jaws",
            number(change_mm.abs()),
            words::amount(change_mm, job.units),
        )),
        _ => None,
    }
}

/// By how much a rest at `z_mm` is in the way of a reason that has a place of its own.
pub fn overlap(job: &Job, z_mm: f64, reason: &Reason) -> Option<(Sum, Sketch)> {
    let (limit_mm, half_mm, gives, words, name) = match *reason {
        Reason::Tailstock { face_mm, half_base_mm, .. } => {
            (face_mm, half_base_mm, "under the tailstock", "front of the tailstock", "to the tailstock")
        }
        Reason::BedEnd { bed_end_mm, half_base_mm } => {
            (bed_end_mm, half_base_mm, "over the end", "end of the bed", "bed")
        }
        _ => return None,
    };
    let sum = Sum::figure(
        gives,
        &format!("place of the rest + half its base \u{2212} {words}, all from the jaw face"),
        format!("{} + {} \u{2212} {}", number(z_mm), number(half_mm), number(limit_mm)),
        words::length(z_mm + half_mm - limit_mm, job.units),
    );
    Some((sum, Sketch::Lengths(vec![(z_mm - half_mm, z_mm + half_mm, "base of the rest"), (0.0, limit_mm, name)])))
}
