//! How findings name things: places, amounts, rests and passes as the user sees them on screen.

use crate::job::quantity::{self, Kind};
use crate::job::{DriveKind, FollowerSide, Job, Pass, PassKind, Rest, Setup, Tool, Units};
use crate::study::{JobResult, PassResult, Support};

/// A pass with its holding and what was computed of it.
#[derive(Clone, Copy, Debug)]
pub struct Computed<'a> {
    pub setup: &'a Setup,
    pub pass: &'a Pass,
    pub result: &'a PassResult,
}

/// Every pass that has a result, in the order of work.
pub fn computed_passes<'a>(job: &'a Job, result: &'a JobResult) -> impl Iterator<Item = Computed<'a>> {
    job.setups.iter().flat_map(move |setup| {
        setup.passes.iter().filter_map(move |pass| Some(Computed { setup, pass, result: result.pass(pass.id)? }))
    })
}

/// A length along the bed, without a sign of its own making.
#[must_use]
pub fn length(value_mm: f64, units: Units) -> String {
    quantity::show(value_mm, Kind::Length, units)
}

/// A place that was worked out, no finer than a tape tells it: to 0.1 mm or a 64th of an inch.
#[must_use]
pub fn place(z_mm: f64, units: Units) -> String {
    let step_mm = 25.4 / 64.0;
    match units {
        Units::Metric => length(z_mm, units),
        Units::Inch => length((z_mm / step_mm).round() * step_mm, units),
    }
}

/// A size on diameter.
#[must_use]
pub fn diameter(value_mm: f64, units: Units) -> String {
    quantity::show(value_mm, Kind::Diameter, units)
}

/// A depth of cut on diameter, as roughly as an estimate is: two figures.
#[must_use]
pub fn depth(on_diameter_mm: f64, units: Units) -> String {
    let (value, unit) = match units {
        Units::Metric => (on_diameter_mm, "mm"),
        Units::Inch => (on_diameter_mm / 25.4, "in"),
    };
    let n_decimals = (1.0 - value.abs().max(1e-3).log10().floor()).clamp(0.0, 4.0) as usize;
    format!("{value:.n_decimals$} {unit}")
}

/// A roughness: "0.8 \u{b5}m", "31 \u{b5}in".
#[must_use]
pub fn roughness(value_mm: f64, units: Units) -> String {
    match units {
        Units::Metric => format!("{:.1} \u{b5}m", value_mm * 1e3),
        Units::Inch => format!("{:.0} \u{b5}in", value_mm / 25.4 * 1e6),
    }
}

/// A small difference with its sign.
#[must_use]
pub fn error(value_mm: f64, units: Units) -> String {
    quantity::show(value_mm, Kind::Error, units)
}

/// How large a small difference is, without sign.
#[must_use]
pub fn amount(value_mm: f64, units: Units) -> String {
    quantity::show(value_mm.abs(), Kind::Error, units).trim_start_matches('+').to_owned()
}

/// How large a difference is that is there, however small: never nothing, but "less than 0.1 thou".
#[must_use]
pub fn some(value_mm: f64, units: Units) -> String {
    let shown = amount(value_mm, units);
    if value_mm == 0.0 || has_size(&shown) {
        return shown;
    }
    format!("less than {}", amount(error_step_mm(units), units))
}

/// Whether figures say more than nothing.
#[must_use]
pub fn has_size(shown: &str) -> bool {
    shown.contains(|letter: char| ('1'..='9').contains(&letter))
}

/// What an error that rounds to nothing is called.
pub const TO_SIZE: &str = "to size";

/// "8 \u{b5}m big", "3 \u{b5}m small", [`TO_SIZE`].
#[must_use]
pub fn big_or_small(error_mm: f64, units: Units) -> String {
    let amount = amount(error_mm, units);
    // What rounds to nothing is neither big nor small.
    if !has_size(&amount) {
        TO_SIZE.to_owned()
    } else if error_mm > 0.0 {
        format!("{amount} big")
    } else {
        format!("{amount} small")
    }
}

/// A sideways place of the work: "4 µm away", "4 µm toward you".
#[must_use]
pub fn away_or_toward(x_mm: f64, units: Units) -> String {
    format!("{} {}", amount(x_mm, units), if x_mm < 0.0 { "toward you" } else { "away" })
}

/// A height of the work: "1 µm up", "1 µm down".
#[must_use]
pub fn up_or_down(y_mm: f64, units: Units) -> String {
    format!("{} {}", amount(y_mm, units), if y_mm < 0.0 { "down" } else { "up" })
}

/// Between what a size may lie, in figures no finer than the width is worth: "50 and 130 \u{b5}m big",
/// "5 \u{b5}m small and 30 \u{b5}m big".
#[must_use]
pub fn sizes_between(edges_mm: [f64; 2], units: Units) -> String {
    between(rounded_to_width(edges_mm, error_step_mm(units)).map(|edge_mm| big_or_small(edge_mm, units)))
}

/// The same where it stands by itself: "50 to 130 \u{b5}m big".
#[must_use]
pub fn size_range(edges_mm: [f64; 2], units: Units) -> String {
    joined(rounded_to_width(edges_mm, error_step_mm(units)).map(|edge_mm| big_or_small(edge_mm, units)), " to ")
}

/// A small difference with between what it may lie: "80 \u{b5}m big (55 to 105)". `say` puts a difference in words.
#[must_use]
pub fn with_range(value_mm: f64, edges_mm: [f64; 2], units: Units, say: impl Fn(f64, Units) -> String) -> String {
    let said = say(value_mm, units);
    let edges = rounded_to_width(edges_mm, error_step_mm(units)).map(|edge_mm| say(edge_mm, units));
    if said == TO_SIZE && edges.iter().all(|edge| *edge == said) {
        return said;
    }
    // What the figure itself already said is not said again, unless one edge says the opposite.
    let tail = said.split_once(' ').map_or("", |(_, tail)| tail);
    let is_said = edges.iter().all(|edge| edge.ends_with(tail));
    let range = joined(edges, " to ");
    let range = range.strip_suffix(tail).filter(|_| is_said).map_or(range.as_str(), str::trim_end);
    format!("{said} ({range})")
}

/// As roughly as an estimate is known: three figures.
#[must_use]
pub fn three_figures(value: f64) -> f64 {
    let step = 10f64.powf(value.abs().max(1.0).log10().floor() - 2.0);
    (value / step).round() * step
}

/// A force.
#[must_use]
pub fn force(force_n: f64, units: Units) -> String {
    quantity::show(force_n, Kind::Force, units)
}

/// Between what a force may lie: "120 and 310 N".
#[must_use]
pub fn forces_between(edges_n: [f64; 2], units: Units) -> String {
    between(rounded_forces(edges_n, units))
}

/// The same where it stands by itself: "120 to 310 N".
#[must_use]
pub fn force_range(edges_n: [f64; 2], units: Units) -> String {
    joined(rounded_forces(edges_n, units), " to ")
}

fn rounded_forces(edges_n: [f64; 2], units: Units) -> [String; 2] {
    let step_n = match units {
        Units::Metric => 1.0,
        Units::Inch => 4.448_221_615_260_5,
    };
    rounded_to_width(edges_n, step_n).map(|edge_n| quantity::show(edge_n, Kind::Force, units))
}

/// The least step of errors on screen: 1 \u{b5}m or 0.1 thou.
fn error_step_mm(units: Units) -> f64 {
    match units {
        Units::Metric => 0.001,
        Units::Inch => 0.002_54,
    }
}

/// Both edges in steps of 1, 2 or 5 tens of the least step, some twenty to the width.
fn rounded_to_width(edges: [f64; 2], least_step: f64) -> [f64; 2] {
    let wanted = ((edges[1] - edges[0]).abs() / 20.0 / least_step).max(1.0);
    let decade = 10f64.powf(wanted.log10().floor());
    let steps = [1.0, 2.0, 5.0, 10.0].map(|step| step * decade);
    let step = steps.into_iter().find(|step| *step >= 0.999_999 * wanted).unwrap_or(decade) * least_step;
    edges.map(|edge| (edge / step).round() * step)
}

/// Two edges with "and" between.
fn between(edges: [String; 2]) -> String {
    joined(edges, " and ")
}

/// "50 and 130 \u{b5}m big": what both have in common is said once, the smaller number first.
fn joined([low, high]: [String; 2], joint: &str) -> String {
    match (low.split_once(' '), high.split_once(' ')) {
        (Some((low, unit)), Some((high, same))) if unit == same => {
            let is_falling = low.parse::<f64>().ok() > high.parse::<f64>().ok();
            let (first, second) = if is_falling { (high, low) } else { (low, high) };
            if first == second { format!("{first} {unit}") } else { format!("{first}{joint}{second} {unit}") }
        }
        _ => format!("{low}{joint}{high}"),
    }
}

/// "set-up 2, " where the job has several set-ups, else nothing.
#[must_use]
pub fn of_setup(job: &Job, setup: &Setup) -> String {
    match job.setup_index(setup.id) {
        Some(index) if job.setups.len() > 1 => format!("set-up {}, ", index + 1),
        _ => String::new(),
    }
}

/// "Set-up 2, pass 1 (spring pass)".
#[must_use]
pub fn pass_name(job: &Job, setup: &Setup, pass: &Pass) -> String {
    let number = setup.passes.iter().position(|other| other.id == pass.id).map_or(0, |index| index + 1);
    let kind = match pass.kind {
        PassKind::Turn => String::new(),
        other => format!(" ({})", kind_name(other)),
    };
    capital(&format!("{}pass {number}{kind}", of_setup(job, setup)))
}

/// The trade's word for a kind of pass.
#[must_use]
pub fn kind_name(kind: PassKind) -> &'static str {
    match kind {
        PassKind::Turn => "turning",
        PassKind::Spring => "spring pass",
        PassKind::Thread => "threading",
        PassKind::Face => "facing",
        PassKind::Drill => "drilling",
        PassKind::Bore => "boring",
        PassKind::Groove => "grooving",
        PassKind::Part => "parting",
    }
}

/// "the steady rest at 310 mm".
#[must_use]
pub fn rest_name(rest: &Rest, units: Units) -> String {
    format!("the steady rest at {}", length(rest.z_mm, units))
}

/// "Set-up 2, the steady rest at 310 mm", as the beginning of a sentence.
#[must_use]
pub fn rest_heading(job: &Job, setup: &Setup, rest: &Rest) -> String {
    capital(&format!("{}{}", of_setup(job, setup), rest_name(rest, job.units)))
}

/// A support as a line of a table: the part, and the jaw of it where it has jaws ("steady at 310 mm", "top jaw").
#[must_use]
pub fn support_parts(setup: &Setup, support: Support, units: Units) -> (String, Option<String>) {
    match support {
        Support::DriveX | Support::DriveY => (drive_name(setup.drive.kind).to_owned(), None),
        Support::TailX | Support::TailY => ("tailstock centre".to_owned(), None),
        Support::Jaw { rest, jaw } => match setup.rest(rest) {
            Some(found) => (format!("steady at {}", length(found.z_mm, units)), Some(jaw_name(found, jaw))),
            None => ("steady rest".to_owned(), Some(format!("jaw {}", jaw + 1))),
        },
        Support::FollowerJaw { jaw } => ("follower".to_owned(), Some(follower_jaw_name(jaw).to_owned())),
    }
}

/// A support in a sentence: "the top jaw of the steady at 310 mm".
#[must_use]
pub fn support_name(setup: &Setup, support: Support, units: Units) -> String {
    match support_parts(setup, support, units) {
        (part, Some(jaw)) => format!("the {jaw} of the {part}"),
        (part, None) => format!("the {part}"),
    }
}

/// What turns the work, in the trade's word.
#[must_use]
pub fn drive_name(kind: DriveKind) -> &'static str {
    match kind {
        DriveKind::ThreeJaw | DriveKind::FourJaw => "chuck",
        DriveKind::Collet => "collet",
        DriveKind::FacePlate => "face plate",
        DriveKind::CentreAndDog => "headstock centre",
    }
}

/// A jaw of a steady rest by where it stands: "top jaw", "lower front jaw".
#[must_use]
pub fn jaw_name(rest: &Rest, jaw: usize) -> String {
    match rest.jaws.get(jaw) {
        Some(found) => format!("{} jaw", jaw_side(found.angle_rad)),
        None => format!("jaw {}", jaw + 1),
    }
}

/// A jaw of the follower rest.
#[must_use]
pub fn follower_jaw_name(jaw: usize) -> &'static str {
    if jaw == 0 { "rear jaw" } else { "top jaw" }
}

/// Where an angle of the end view stands on the lathe.
#[must_use]
pub fn jaw_side(angle_rad: f64) -> &'static str {
    const NAMES: [&str; 8] =
        ["rear", "upper rear", "top", "upper front", "front", "lower front", "bottom", "lower rear"];
    let eighth = std::f64::consts::FRAC_PI_4;
    // 0 to 7 by construction: rem_euclid gives less than a full turn, and half an eighth is added before flooring.
    let index = ((angle_rad + eighth / 2.0).rem_euclid(8.0 * eighth) / eighth).floor() as usize;
    NAMES[index.min(7)]
}

/// Where the follower's jaws stand with the tool at `tool_z_mm`.
#[must_use]
pub fn follower_z_mm(setup: &Setup, pass: Option<&Pass>, tool_z_mm: f64) -> Option<f64> {
    let follower = setup.follower.as_ref()?;
    let to_headstock = pass.is_none_or(Pass::feeds_to_headstock);
    // Behind the tool is where it comes from.
    let towards_tailstock = (follower.side == FollowerSide::Behind) == to_headstock;
    Some(if towards_tailstock { tool_z_mm + follower.distance_mm } else { tool_z_mm - follower.distance_mm })
}

/// "a 0.800 mm nose": a radius, in the digits of a size.
#[must_use]
pub fn nose(tool: &Tool, units: Units) -> String {
    format!("a {} nose", diameter(tool.nose_radius_mm, units))
}

/// The text with a capital first letter.
#[must_use]
pub fn capital(text: &str) -> String {
    let mut letters = text.chars();
    letters.next().map_or_else(String::new, |first| first.to_uppercase().chain(letters).collect())
}
