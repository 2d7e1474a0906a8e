//! Why the sizes and springs are what they are: the figures the pass leaves, and those at the tool.

use super::bar::plain_bar;
use super::sum::{Sum, number, size};
use super::{Asked, Why};
use crate::advice::places::figure;
use crate::advice::words;
use crate::job::quantity::{Kind, show};
use crate::job::{Job, Setup};
use crate::study::allowed::allowed_at;
use crate::study::placement::{Measure, WorstSize};
use crate::study::{Measured, Station};

const METHOD: &str = "Bending with shear after Timoshenko and Cowper (1966), jaws that only push, and Kienzle's cutting force on \
                      the depth really taken; checked against printed answers and a second computation.";
const TRUSTED: &str = "read; as sure as force and stiffness are, see the band";

fn dial_words(measured: Measured) -> &'static str {
    match measured {
        Measured::ThreadRoot => "size of the root that the dial stands at",
        Measured::Bore => "size of the hole that the dial stands at",
        Measured::Outside | Measured::Nothing => "size the dial stands at",
    }
}

fn worst<'a>(asked: &Asked<'a>) -> Option<(&'a Station, Measured)> {
    let (_, result) = asked.pass?;
    Some((result.worst()?, result.measured))
}

/// The largest error of the pass.
pub fn error(asked: &Asked<'_>) -> Option<Why> {
    let (at, measured) = worst(asked)?;
    Some(of_error(asked.job, asked.setup, at, measured))
}

/// The error at a place.
pub fn of_error(job: &Job, setup: &Setup, at: &Station, measured: Measured) -> Why {
    let mut why = Why::new(
        "How far the size this pass leaves is from the size its dial stands at, at its worst place. Big is left too thick, or a hole too wide.",
        METHOD,
        TRUSTED,
    );
    let (left, dial) = (size(at.left_diameter_mm), size(at.wanted_diameter_mm));
    let dial_name = dial_words(measured);
    let (words, numbers) = if at.error_mm >= 0.0 {
        (format!("size left \u{2212} {dial_name}"), format!("{left} \u{2212} {dial}"))
    } else {
        (format!("{dial_name} \u{2212} size left"), format!("{dial} \u{2212} {left}"))
    };
    why.sums.push(Sum::figure("error", &words, numbers, words::amount(at.error_mm, job.units)));
    why.more.push("The size left comes of the whole computation: the work gives way, so the tool takes off less, place after place, and the next pass finds what the last one left.".to_owned());
    why.sums.push(Sum::estimate(
        "of that, the work's own give",
        "2 \u{d7} how far the work stands away from the tool, since both sides of the diameter count",
        format!("2 \u{d7} {}", number(at.spring_x_mm.abs())),
        words::amount(2.0 * at.spring_x_mm, job.units),
    ));
    if let Some(bar) = plain_bar(job, setup, at) {
        why.sketch = Some(bar.sketch(at.z_mm));
    }
    why
}

/// The largest error of the set-up where places are cut last.
pub fn of_setup(asked: &Asked<'_>) -> Option<Why> {
    let computed = asked.result.setup(asked.setup.id)?;
    let worst = WorstSize::of(asked.job, asked.setup, computed)?;
    let at = computed.passes.get(worst.pass)?.stations.get(worst.station).filter(|_| worst.value.is_finite())?;
    let mut why = Why::new(
        "The largest error that the passes of this set-up leave where a place is cut last; where the drawing states limits, as a share of half of what it allows.",
        METHOD,
        TRUSTED,
    );
    let shown = figure(Measure::Size, worst.has_limits, worst.value, asked.job.units);
    let error = number(at.error_mm.abs());
    match allowed_at(asked.job, asked.setup, at).and_then(|allowed| allowed.limits_mm).filter(|_| worst.has_limits) {
        Some((lower_mm, upper_mm)) => {
            let percent = if shown.contains('%') { " \u{d7} 100" } else { "" };
            why.sums.push(Sum::figure(
                "of the tolerance",
                "error \u{f7} half of what the drawing allows",
                format!("{error} \u{f7} ({} \u{f7} 2){percent}", number(upper_mm - lower_mm)),
                shown,
            ));
        }
        None => why.sums.push(Sum::figure(
            "largest error",
            "size left \u{2212} size on the dial, without its sign",
            error,
            shown,
        )),
    }
    why.more.push(format!("It is found at {}.", words::place(at.z_mm, asked.job.units)));
    Some(why)
}

/// The size left where the error is largest.
pub fn left(asked: &Asked<'_>) -> Option<Why> {
    let (at, measured) = worst(asked)?;
    let mut why = Why::new("The diameter left where the error is largest.", METHOD, TRUSTED);
    let (sign, words) = if at.error_mm < 0.0 {
        ("\u{2212}", "\u{2212} what it comes out small")
    } else {
        ("+", "+ what it comes out big")
    };
    why.sums.push(Sum::figure(
        "size left",
        &format!("{} {words}", dial_words(measured)),
        format!("{} {sign} {}", size(at.wanted_diameter_mm), size(at.error_mm.abs())),
        words::diameter(at.left_diameter_mm, asked.job.units),
    ));
    Some(why)
}

/// Where the error is largest.
pub fn found_at(asked: &Asked<'_>) -> Option<Why> {
    let (at, _) = worst(asked)?;
    let mut why = Why::new(
        "Where along the work, from the jaw face, the error is largest: the place to measure first.",
        METHOD,
        TRUSTED,
    );
    why.more.push(format!(
        "Every place the tool passes is worked out, {} of them in this pass; this is the worst.",
        asked.pass.map_or(0, |(_, result)| result.stations.len())
    ));
    why.more.push(format!("The dial stands at {} there.", words::diameter(at.wanted_diameter_mm, asked.job.units)));
    Some(why)
}

/// Between what the largest error may lie.
pub fn between(asked: &Asked<'_>) -> Option<Why> {
    worst(asked)?;
    let spread = &asked.job.spread;
    let mut why = Why::new(
        "Between these the error lies in nine cases of ten, as far as force and stiffness are uncertain.",
        "The spreads of printed tables of cutting force, and measured stiffness of machine parts.",
        "the spreads: read; that yours are no wider: not known",
    );
    let percent = |ratio: f64| show(ratio, Kind::Percent, asked.job.units);
    why.more.push(format!(
        "The job is worked out again and again with the main force up to {} more or less, the push away up to {}, and every stiffness that is only \
         assumed up to {} times as much or as little; the twentieth at either end is left off.",
        percent(spread.main_ratio),
        percent(spread.radial_ratio),
        number(spread.stiffness_factor)
    ));
    why.more.push(
        "State what you know of your lathe, and the band narrows. What else is wrong with a set-up is not in it."
            .to_owned(),
    );
    Some(why)
}

/// What the tool really takes off.
pub fn depth(asked: &Asked<'_>) -> Option<Why> {
    let cut = asked.cut()?;
    let mut why = Why::new(
        "What the tool really takes off the diameter where it stands: less than the dial says by as much as work and tool give way.",
        METHOD,
        TRUSTED,
    );
    let (words, large, small) = if cut.left_diameter_mm > cut.old_diameter_mm {
        ("diameter left \u{2212} diameter before", cut.left_diameter_mm, cut.old_diameter_mm)
    } else {
        ("diameter before \u{2212} diameter left", cut.old_diameter_mm, cut.left_diameter_mm)
    };
    why.sums.push(Sum::figure(
        "taken off",
        words,
        format!("{} \u{2212} {}", size(large), size(small)),
        words::diameter(cut.real_depth_mm, asked.job.units),
    ));
    Some(why)
}

/// The spring at the tool, beside the textbook's.
pub fn spring(asked: &Asked<'_>) -> Option<Why> {
    let mut why = Why::new(
        "How far the middle of the work stands off the spindle's axis at the tool, sideways and up, with the tool cutting there.",
        METHOD,
        TRUSTED,
    );
    why.more.push("This comes of the whole computation; no one formula gives it.".to_owned());
    if let Some(cut) = asked.cut()
        && let Some(bar) = plain_bar(asked.job, asked.setup, cut)
    {
        why.more.extend(bar.told(asked.job.units, cut.spring_x_mm));
        why.sketch = Some(bar.sketch(cut.z_mm));
        why.sums.extend(bar.sums);
        why.more.push(format!("It stands {} here.", words::away_or_toward(cut.spring_x_mm, asked.job.units)));
    }
    Some(why)
}

/// The whole bent line.
pub fn shape(asked: &Asked<'_>) -> Option<Why> {
    let mut why = spring(asked)?;
    why.what =
        "Where the middle of the work lies along its whole length, with the tool where it stands now.".to_owned();
    Some(why)
}

/// How stiff an arrangement is under the tool.
pub fn stiffness(_: &Asked<'_>) -> Option<Why> {
    let mut why = Why::new(
        "How many newtons more push it takes to move the work by one unit more at the tool, where it gives most.",
        METHOD,
        TRUSTED,
    );
    why.more.push("A little push is added at every place of the pass with the jaws that touch there, and the place that moves most is told.".to_owned());
    Some(why)
}
