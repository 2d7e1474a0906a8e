//! The textbook's bar beside the whole computation: plain round work that lies on the two supports next to the tool, or
//! stands out from the last one, under the push of the tool.
//!
//! `F a² b² / (3 E I L)` between two supports, `F a³ / (3 E I)` standing out. Source: any text on strength of materials;
//! both are checked in the tests of beams. Nothing gives but the bar, it does not go on past its supports, and it is as
//! thick everywhere as before the cut at the tool.

use std::f64::consts::PI;

use super::Sketch;
use super::sum::{Sum, number, times};
use crate::advice::words;
use crate::job::{Job, Setup, TailKind, Units};
use crate::study::Station;

/// The bar and what it gives.
pub struct PlainBar {
    /// The supports next to the tool, the headstock's first; the second one is missing where the work stands out.
    pub from_mm: f64,
    pub to_mm: Option<f64>,
    pub diameter_mm: f64,
    pub give_mm: f64,
    pub sums: Vec<Sum>,
}

/// Where the work is carried, from the headstock's end on.
pub fn supports_mm(job: &Job, setup: &Setup) -> Vec<f64> {
    let tail = (setup.tail.kind != TailKind::Free).then(|| setup.work_end_z_mm(&job.shaft));
    let mut places_mm: Vec<f64> =
        std::iter::once(0.0).chain(setup.rests.iter().map(|rest| rest.z_mm)).chain(tail).collect();
    places_mm.sort_by(f64::total_cmp);
    places_mm
}

/// The second moment of a solid round bar, as a step.
pub fn stiffness_step(diameter_mm: f64) -> (f64, Sum) {
    let i_mm4 = PI / 64.0 * diameter_mm.powi(4);
    let numbers = format!("\u{3c0} \u{d7} {}^4 \u{f7} 64", number(diameter_mm));
    let words = "how stiff its round section is: \u{3c0} \u{d7} diameter to the fourth \u{f7} 64";
    (i_mm4, Sum::step("section", words, numbers, i_mm4, "mm\u{2074}"))
}

/// The bar under the push of the tool; nothing without a push or right on a support.
pub fn plain_bar(job: &Job, setup: &Setup, cut: &Station) -> Option<PlainBar> {
    let (z_mm, push_n) = (cut.z_mm, cut.fp_n);
    let places_mm = supports_mm(job, setup);
    let from_mm = places_mm.iter().copied().rev().find(|place_mm| *place_mm <= z_mm)?;
    let to_mm = places_mm.iter().copied().find(|place_mm| *place_mm > z_mm);
    let e_mpa = job.material().e_mpa.value;
    let a_mm = z_mm - from_mm;
    let (i_mm4, section) = stiffness_step(cut.old_diameter_mm);
    let [push, e, i, a] = [push_n, e_mpa, i_mm4, a_mm].map(number);
    let (give_mm, words, numbers) = match to_mm {
        Some(to_mm) => {
            let (b_mm, length_mm) = (to_mm - z_mm, to_mm - from_mm);
            let [b, length] = [b_mm, length_mm].map(number);
            (
                push_n * a_mm.powi(2) * b_mm.powi(2) / (3.0 * e_mpa * i_mm4 * length_mm),
                "push \u{d7} (distance to the one support)\u{b2} \u{d7} (to the other)\u{b2} \u{f7} (3 \u{d7} stiffness of the steel \u{d7} section \
                 \u{d7} distance between them)",
                format!("{push} \u{d7} {a}^2 \u{d7} {b}^2 \u{f7} (3 \u{d7} {e} \u{d7} {i} \u{d7} {length})"),
            )
        }
        None => (
            push_n * a_mm.powi(3) / (3.0 * e_mpa * i_mm4),
            "push \u{d7} (length standing out)\u{b3} \u{f7} (3 \u{d7} stiffness of the steel \u{d7} section)",
            format!("{push} \u{d7} {a}^3 \u{f7} (3 \u{d7} {e} \u{d7} {i})"),
        ),
    };
    if !(give_mm > 0.0 && give_mm.is_finite()) {
        return None;
    }
    let shown = words::amount(give_mm, job.units);
    let sums = vec![section, Sum::estimate("textbook bar", words, numbers, shown)];
    Some(PlainBar { from_mm, to_mm, diameter_mm: cut.old_diameter_mm, give_mm, sums })
}

impl PlainBar {
    /// In which bar this is, and how the whole computation differs from it.
    pub fn told(&self, units: Units, spring_mm: f64) -> Vec<String> {
        let on = match self.to_mm {
            Some(to_mm) => {
                format!(
                    "lying loose on supports at {} and {}",
                    words::length(self.from_mm, units),
                    words::length(to_mm, units)
                )
            }
            None => format!("standing out from {}, held fast there", words::length(self.from_mm, units)),
        };
        let bar = format!("The textbook's bar is round and {} thick, {on}.", words::diameter(self.diameter_mm, units));
        let differs = times(spring_mm.abs(), self.give_mm).map(|times| {
            format!(
                "The whole computation comes to {times} that: in it chuck, centre, rests and jaws give as well, the work goes \
                 on past its supports and has its own steps and weight, and the cut falls off as the work gives way."
            )
        });
        std::iter::once(bar).chain(differs).collect()
    }

    /// Its picture.
    pub fn sketch(&self, z_mm: f64) -> Sketch {
        Sketch::Bar { from_mm: self.from_mm, to_mm: self.to_mm, load_at_mm: z_mm, diameter_mm: self.diameter_mm }
    }
}
