//! Why power, torque, gears and feed marks are what they are.

use super::sum::{Sum, number};
use super::{Asked, Sketch, Why};
use crate::advice::words;
use crate::job::quantity::{Kind, show};
use crate::job::{Job, Pass};
use crate::study::feed_marks::feed_marks;
use crate::study::machine::{SPINDLE_SHARE_RATIO, SpindleLoad, hardest_load};

const POWER_SOURCE: &str =
    "any text on turning; three quarters of the motor's power at the spindle: from memory, assumed";

fn load(asked: &Asked<'_>) -> Option<SpindleLoad> {
    let (pass, result) = asked.pass?;
    hardest_load(asked.job, asked.setup, pass, result)
}

/// Twice the radius at which the main force turns.
fn lever(load: &SpindleLoad) -> String {
    number(if load.main_n > 0.0 { 2.0 * load.cut_torque_nmm / load.main_n } else { 0.0 })
}

fn torque_numbers(load: &SpindleLoad) -> String {
    format!("{} \u{d7} {} \u{f7} 2 + {}", number(load.main_n), lever(load), number(load.friction_torque_nmm))
}

/// The power a pass asks for.
pub fn power(asked: &Asked<'_>) -> Option<Why> {
    Some(of_power(asked.job, asked.pass?.0, &load(asked)?))
}

/// The same of a pass and what it asks for.
pub fn of_power(job: &Job, pass: &Pass, load: &SpindleLoad) -> Why {
    let mut why = Why::new(
        "The power the pass asks of the spindle where it asks most, against what reaches it of the motor's.",
        POWER_SOURCE,
        "the formula: read; the share: from memory",
    );
    why.sums.push(Sum::step(
        "turning moment",
        "main force \u{d7} diameter \u{f7} 2 + drag of the jaws",
        torque_numbers(load),
        load.torque_nmm(),
        "N\u{b7}mm",
    ));
    why.sums.push(Sum::figure(
        "power",
        "turning moment \u{d7} turns a minute, in watts",
        format!(
            "{} \u{f7} 1000 \u{d7} {} \u{d7} 2 \u{d7} \u{3c0} \u{f7} 60",
            number(load.torque_nmm()),
            number(pass.speed_rpm)
        ),
        show(load.power_w / 1000.0, Kind::Power, job.units),
    ));
    why.sums.push(Sum::figure(
        "what there is",
        "the motor's power \u{d7} the share that reaches the spindle, in watts",
        format!("{} \u{d7} {} \u{d7} 1000", number(job.lathe.power_kw.value), number(SPINDLE_SHARE_RATIO.value)),
        show(load.given_power_w / 1000.0, Kind::Power, job.units),
    ));
    why
}

/// The turning moment a pass asks for.
pub fn torque(asked: &Asked<'_>) -> Option<Why> {
    let load = load(asked)?;
    let (pass, _) = asked.pass?;
    let mut why = Why::new(
        "The turning moment the pass asks of the spindle where it asks most, against what there is at this speed.",
        POWER_SOURCE,
        "the formula: read; the share: from memory",
    );
    let shown = |torque_nmm: f64| show(torque_nmm, Kind::Torque, asked.job.units);
    why.sums.push(Sum::figure(
        "torque",
        "main force \u{d7} diameter \u{f7} 2 + drag of the jaws",
        torque_numbers(&load),
        shown(load.torque_nmm()),
    ));
    why.sums.push(Sum::figure(
        "what there is",
        "power at the spindle in watts \u{f7} turns a minute",
        format!(
            "{} \u{f7} ({} \u{d7} 2 \u{d7} \u{3c0} \u{f7} 60) \u{d7} 1000",
            number(load.given_power_w),
            number(pass.speed_rpm)
        ),
        shown(load.given_torque_nmm),
    ));
    Some(why)
}

/// The steps of a gearbox: of speeds, or of feeds.
fn gearbox(job: &Job, kind: Kind) -> Why {
    let (steps, what) = if kind == Kind::Feed {
        (&job.lathe.feeds_mm_per_rev, "The feed of the feed box that is nearest to what the pass asks for.")
    } else {
        let what = "The step of the gearbox that is taken for the speed the pass asks for: the next lower one.";
        (&job.lathe.speeds_rpm, what)
    };
    let steps: Vec<String> = steps.iter().map(|step| show(*step, kind, job.units)).collect();
    Why::new(what, "the next lower step: note on stepped drives", "read")
        .and(format!("This lathe has {}.", steps.join(", ")))
}

/// A step of the gearbox.
pub fn gear(asked: &Asked<'_>, kind: Kind) -> Why {
    gearbox(asked.job, kind)
}

/// The step that is taken instead of what is asked for.
pub fn step(job: &Job, kind: Kind, asked: f64, taken: f64) -> Why {
    let percent = show((taken / asked - 1.0).abs(), Kind::Percent, job.units);
    let (large, small) = if taken > asked { (taken, asked) } else { (asked, taken) };
    let [large, small, asked] = [large, small, asked].map(number);
    gearbox(job, kind)
        .with(Sum::figure(
            "off by",
            "larger one \u{2212} smaller one of what is asked for and what there is \u{f7} what is asked for",
            format!("100 \u{d7} ({large} \u{2212} {small}) \u{f7} {asked}"),
            percent,
        ))
        .and("Two that are nearer than 6 %, a step of the finest common series, count as one.")
}

/// The marks of the nose.
pub fn marks(asked: &Asked<'_>, worn: bool) -> Option<Why> {
    let (pass, _) = asked.pass?;
    let found = feed_marks(asked.setup, pass)?;
    let mut why = Why::new(
        "How high the marks are that the nose leaves, one a turn: how smooth the work can be at best.",
        "all texts on metal cutting; worn edges after Brammertz (1961)",
        "from memory, and sure; in the shop 1.5 to 3 times as much is left (experience, no source)",
    );
    let units = asked.job.units;
    let (feed, nose) = (number(pass.feed_mm_per_rev), number(asked.setup.tool.nose_radius_mm));
    let height = format!("{feed}^2 \u{f7} (8 \u{d7} {nose})");
    if worn {
        why.sums.push(Sum::figure(
            "with a worn edge",
            "feed\u{b2} \u{f7} (8 \u{d7} nose radius) + half the least chip (0.005 mm) \u{d7} (1 + nose radius \u{d7} least chip \u{f7} feed\u{b2})",
            format!("{height} + 0.005 \u{f7} 2 \u{d7} (1 + {nose} \u{d7} 0.005 \u{f7} {feed}^2)"),
            words::roughness(found.worn_height_mm, units),
        ));
    } else {
        why.sums.push(Sum::figure(
            "feed marks",
            "feed\u{b2} \u{f7} (8 \u{d7} nose radius)",
            height,
            words::roughness(found.height_mm, units),
        ));
        why.sums.push(Sum::figure(
            "Ra",
            "their mean: feed\u{b2} \u{f7} (31.18 \u{d7} nose radius)",
            format!("{feed}^2 \u{f7} (18 \u{d7} \u{221a}(3) \u{d7} {nose})"),
            words::roughness(found.mean_mm, units),
        ));
    }
    why.sketch = Some(Sketch::Marks { feed_mm: pass.feed_mm_per_rev, nose_mm: asked.setup.tool.nose_radius_mm });
    Some(why)
}
