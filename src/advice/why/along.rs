//! Why warm work grows and presses, and what presses it together in a cut.

use super::sum::{Sum, number};
use super::{Asked, Why};
use crate::advice::words;
use crate::job::{Job, Setup, TailKind};
use crate::study::along::{Along, along};
use crate::study::heat::Warmth;
use crate::study::holding::bending_span_mm;

fn found(asked: &Asked<'_>) -> Option<Along> {
    along(asked.job, asked.result, asked.setup.id, asked.pass.map(|(pass, _)| pass.id))
}

/// Growth with heat, and the thrust it makes.
pub fn warmth(asked: &Asked<'_>) -> Option<Why> {
    Some(of_warmth(asked.job, asked.setup, &found(asked)?.warmth))
}

/// The same of a set-up.
pub fn of_warmth(job: &Job, setup: &Setup, warmth: &Warmth) -> Why {
    let (from_mm, to_mm) = bending_span_mm(job, setup);
    let mut why = Why::new(
        "How much longer the work gets between its ends as it warms, and how hard that presses on the centre.",
        "any text on heat in bars held at both ends; growth figures from tables of materials",
        "the formula: read; how warm the work gets is yours to say",
    );
    let growth_per_k = job.material().growth_per_k.value;
    why.sums.push(Sum::figure(
        if setup.warmer_by_k < 0.0 { "shrinks by" } else { "grows by" },
        "growth for each mm and kelvin \u{d7} length between the ends \u{d7} kelvin",
        format!(
            "{} \u{d7} {} \u{d7} {}",
            number(growth_per_k),
            number(to_mm - from_mm),
            number(setup.warmer_by_k.abs())
        ),
        words::amount(warmth.growth_mm, job.units),
    ));
    if setup.tail.kind != TailKind::Free && warmth.thrust_n > 0.0 {
        let sign = if warmth.growth_mm < 0.0 { "\u{2212}" } else { "+" };
        why.sums.push(Sum::figure(
            "thrust",
            "thrust the centre was set with, and the growth \u{f7} (give of the tailstock + give of the work, along its length, for each newton)",
            format!(
                "{} {sign} {} \u{f7} ({} + {})",
                number(setup.tail.thrust_n),
                number(warmth.growth_mm.abs()),
                number(warmth.tail_give_mm_per_n),
                number(warmth.work_give_mm_per_n)
            ),
            words::force(warmth.thrust_n, job.units),
        ));
    }
    why
}

/// What presses the work together, or pulls it straight, on either side of the tool.
pub fn pressed(asked: &Asked<'_>) -> Option<Why> {
    let found = found(asked)?;
    let mut why = Why::new(
        "What presses the work together along its length, or pulls it straight: pressed, slender work bows more easily.",
        "equilibrium along the work; the drive's end takes the feed force",
        "sure, where the thrust is as stated",
    );
    let (thrust_n, front_n, back_n) = (found.warmth.thrust_n, found.axial.front_n, found.axial.back_n);
    let feed_n = front_n - thrust_n;
    let shown = |force_n: f64| words::force(force_n.abs(), asked.job.units);
    if back_n == thrust_n && feed_n != 0.0 && front_n > 0.0 {
        let (sign, words) = if feed_n > 0.0 {
            ("+", "thrust of the centre + mean feed force: the feed runs to the headstock")
        } else {
            ("\u{2212}", "thrust of the centre \u{2212} mean feed force: the feed runs to the tailstock")
        };
        let numbers = format!("{} {sign} {}", number(thrust_n), number(feed_n.abs()));
        why.sums.push(Sum::figure("headstock to tool", words, numbers, shown(front_n)));
    } else if back_n == thrust_n && front_n < 0.0 {
        let numbers = format!("{} \u{2212} {}", number(-feed_n), number(thrust_n));
        why.sums.push(Sum::figure(
            "headstock to tool, pulled",
            "mean feed force \u{2212} thrust of the centre: the feed runs to the tailstock",
            numbers,
            shown(front_n),
        ));
    }
    why.more.push(format!(
        "Between tool and tailstock it is {}, the thrust of the centre unless the work leaves the headstock's.",
        shown(back_n)
    ));
    Some(why)
}
