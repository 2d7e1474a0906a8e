//! The best places of the rests in words: figures by each measure, what the next rest buys, and the table printed without
//! a window.

use super::standing::from_to;
use super::words;
use crate::job::quantity::{Kind, show};
use crate::job::{Job, Setup, Units};
use crate::study::placement::{Answer, Deepest, Measure, Placing};

/// A rest that leaves more than this share of the figure bought next to nothing.
const NEXT_TO_NOTHING_RATIO: f64 = 0.92;

/// From so many tolerances on they are counted, not told in hundredths.
const TIMES_FROM: f64 = 2.0;

/// What a measure is called.
#[must_use]
pub fn measure_name(measure: Measure) -> &'static str {
    match measure {
        Measure::Size => "largest size error",
        Measure::Springiness => "largest spring under the tool",
        Measure::Chatter => "depth before chatter",
    }
}

/// A figure by a measure: "43 % of the tolerance", "80 µm", "gives 1 µm for 12 N", "from 0.80 mm on ø".
#[must_use]
pub fn figure(measure: Measure, has_limits: bool, value: f64, units: Units) -> String {
    match measure {
        _ if !value.is_finite() => "not held".to_owned(),
        Measure::Size if has_limits && value >= TIMES_FROM => format!("{value:.1} times the tolerance"),
        Measure::Size if has_limits => format!("{:.0} % of the tolerance", 100.0 * value),
        Measure::Size => words::amount(value, units),
        Measure::Springiness if value <= 0.0 => "no spring".to_owned(),
        Measure::Springiness => show(1.0 / value, Kind::Stiffness, units),
        Measure::Chatter if value <= 0.0 => "not to be expected".to_owned(),
        Measure::Chatter => format!("from {} on \u{d8}", words::depth(1.0 / value, units)),
    }
}

/// Between what a figure lies, or nothing where that is not known: "30 to 55 % of the tolerance".
#[must_use]
pub fn figures_between(measure: Measure, has_limits: bool, between: [f64; 2], units: Units) -> Option<String> {
    if between[0] >= between[1] {
        return None;
    }
    let [least, most] = between.map(|value| figure(measure, has_limits, value, units));
    if least == most {
        return None;
    }
    // The unit is said once.
    let unit = most.split_once(' ').map_or("", |(_, unit)| unit);
    let least = least.strip_suffix(unit).map_or(least.as_str(), str::trim_end);
    Some(format!("{least} to {most}"))
}

/// The figure of a placement with between what it lies: "80 µm (55 to 110 µm)".
#[must_use]
pub fn told_figure(measure: Measure, has_limits: bool, placing: &Placing, units: Units) -> String {
    let value = figure(measure, has_limits, placing.value, units);
    match figures_between(measure, has_limits, placing.between, units) {
        // What the figure itself already said is not said again.
        Some(between) => {
            let unit = value.split_once(' ').map_or("", |(_, unit)| unit);
            format!("{value} ({})", between.strip_suffix(unit).map_or(between.as_str(), str::trim_end))
        }
        None => value,
    }
}

/// "310 mm and 560 mm".
#[must_use]
pub fn places(placing: &Placing, units: Units) -> String {
    if placing.places_mm.is_empty() {
        return "no rest".to_owned();
    }
    listed(placing.places_mm.iter().map(|z_mm| words::length(*z_mm, units)))
}

/// "anywhere from 310 to 360 mm" for every rest; "there only" where a rest cannot be moved.
#[must_use]
pub fn as_good(placing: &Placing, units: Units) -> String {
    listed(placing.as_good.iter().map(|stretch| from_to(stretch, units)))
}

/// "a, b and c".
pub(super) fn listed(all: impl Iterator<Item = String>) -> String {
    let all: Vec<String> = all.collect();
    match &all[..] {
        [] => String::new(),
        [one] => one.clone(),
        [before @ .., last] => format!("{} and {last}", before.join(", ")),
    }
}

/// What the last rest of an answer bought: "A second rest brings 73 µm down to 40 µm." Nothing for the first answer.
#[must_use]
pub fn bought(measure: Measure, before: &Answer, after: &Answer, units: Units) -> Option<String> {
    let number = match after.n_rests {
        1 => "One rest",
        2 => "A second rest",
        3 => "A third rest",
        _ => "One more rest",
    };
    let (Some(old), Some(new)) = (before.told.first(), after.told.first()) else {
        return Some(match (before.told.is_empty(), after.told.is_empty()) {
            (_, true) => format!("{number} finds no place."),
            (true, false) => format!("{number} makes it possible at all."),
            _ => return None,
        });
    };
    let [from, to] =
        [(before, old), (after, new)].map(|(answer, one)| figure(measure, answer.has_limits, one.value, units));
    let clear = new.never_reached_mm.map_or_else(String::new, |clear_mm| {
        let clear = words::amount(clear_mm, units);
        // Not always those of the last rest.
        format!(
            " Jaws that stand {clear} clear are never reached by the work: set them closer to see what they can do."
        )
    });
    Some(if from == to {
        format!("{number} buys next to nothing: {from} either way.{clear}")
    } else if new.value * NEXT_TO_NOTHING_RATIO > old.value {
        format!("{number} makes it worse: {from} becomes {to}.")
    } else if new.value > NEXT_TO_NOTHING_RATIO * old.value {
        format!("{number} buys next to nothing: {from} before, {to} with it.{clear}")
    } else {
        match measure {
            Measure::Size => format!("{number} brings {from} down to {to}."),
            Measure::Springiness => format!("{number} brings {from} up to {to}."),
            Measure::Chatter => format!("{number} moves chatter {from} to {to}."),
        }
    })
}

/// "no rest", "one rest", "two rests".
#[must_use]
pub fn number_of_rests(n_rests: usize) -> String {
    match n_rests {
        0 => "no rest".to_owned(),
        1 => "one rest".to_owned(),
        2 => "two rests".to_owned(),
        3 => "three rests".to_owned(),
        n => format!("{n} rests"),
    }
}

/// How deep one cut may be.
#[must_use]
pub fn deepest_words(deepest: &Deepest, units: Units) -> String {
    let Deepest { on_diameter_mm, allowed_mm } = *deepest;
    let depth = words::depth(on_diameter_mm, units);
    format!("One cut up to {depth} deep on \u{d8} stays within {} either way.", words::amount(allowed_mm, units))
}

/// How far the figures are to be trusted.
pub const HOW_FAR: &str = "Estimates by the whole computation; in brackets between what they lie in seven cases of the \
    stated spreads of force and stiffness. A stretch is as good as the place in it as far as these cases can tell.";

/// The fewest rests that hold the drawing's tolerance in every case tried; nothing where the drawing states none.
#[must_use]
pub fn fewest_words(answers: &[Answer]) -> Option<String> {
    if !answers.iter().any(|answer| answer.has_limits) {
        return None;
    }
    let most = answers.iter().map(|answer| answer.n_rests).max().unwrap_or(0);
    Some(match answers.iter().find(|answer| answer.holds_tolerance()) {
        Some(answer) => {
            let n_rests = match answer.n_rests {
                0 => "The tolerance is held without a rest".to_owned(),
                1 => "One rest holds the tolerance".to_owned(),
                n => format!("{n} rests hold the tolerance, and no fewer"),
            };
            format!("{n_rests}, in all cases of force and stiffness that were tried.")
        }
        None => format!("No arrangement with up to {most} rests holds the tolerance in all cases that were tried."),
    })
}

/// All answers as a table, with what each rest bought and the fewest that hold the tolerance. `now` is the figure of the
/// set-up as it stands.
#[must_use]
pub fn table(job: &Job, setup: &Setup, measure: Measure, answers: &[Answer], now: Option<f64>) -> String {
    let units = job.units;
    let has_limits = answers.iter().any(|answer| answer.has_limits);
    let mut rows = vec![[
        "Rests".to_owned(),
        "From the jaw face".to_owned(),
        "As good anywhere from".to_owned(),
        words::capital(measure_name(measure)),
        "Worst place".to_owned(),
    ]];
    for answer in answers {
        for (number, placing) in answer.told.iter().enumerate() {
            let worst = placing.worst_error.map_or_else(String::new, |(error_mm, z_mm)| {
                format!("{} at {}", words::big_or_small(error_mm, units), words::place(z_mm, units))
            });
            rows.push([
                if number == 0 { answer.n_rests.to_string() } else { "or".to_owned() },
                if answer.n_rests == 0 { "-".to_owned() } else { places(placing, units) },
                as_good(placing, units),
                told_figure(measure, answer.has_limits, placing, units),
                worst,
            ]);
        }
        if answer.told.is_empty() {
            let mut row = [const { String::new() }; 5];
            row[0] = answer.n_rests.to_string();
            row[1] = if answer.n_rests == 0 { "nothing holds the work" } else { "no place for it" }.to_owned();
            rows.push(row);
        }
    }
    let width = |column: usize| rows.iter().map(|row| row[column].chars().count()).max().unwrap_or(0);
    let widths: Vec<usize> = (0..5).map(width).collect();
    let line = |row: &[String; 5]| {
        let cells: Vec<String> = row.iter().zip(&widths).map(|(cell, width)| format!("{cell:<width$}")).collect();
        cells.join("   ").trim_end().to_owned()
    };
    let mut lines =
        vec![words::capital(&format!("{}where the steady rests should stand", words::of_setup(job, setup)))];
    lines.extend(rows.iter().map(line));
    lines.push(String::new());
    lines.extend(answers.windows(2).filter_map(|pair| bought(measure, &pair[0], &pair[1], units)));
    lines.extend(fewest_words(answers));
    lines.extend(now.map(|now| format!("As it stands: {}.", figure(measure, has_limits, now, units))));
    let deepest = answers.iter().filter_map(|answer| Some((answer.n_rests, answer.deepest?)));
    lines.extend(deepest.map(|(n_rests, deepest)| {
        format!("{}: {}", words::capital(&number_of_rests(n_rests)), deepest_words(&deepest, units))
    }));
    lines.push(HOW_FAR.to_owned());
    lines.join("\n") + "\n"
}
