//! Why the loads on what carries the work are what they are: force, pressure, drag, heat and air at the jaws.

use super::bar::supports_mm;
use super::sum::{Sum, number, times};
use super::{Asked, Sketch, Why};
use crate::advice::words;
use crate::job::quantity::{Kind, show};
use crate::job::{Job, Setup, Sleeve};
use crate::study::Support;
use crate::study::jaw_contact::{JawContact, of_shape};

const CARRIED: &str =
    "equilibrium of the bent work on supports that give, jaws that only push; checked against a second computation";

/// The load on one support.
pub fn load(asked: &Asked<'_>, support: Support) -> Option<Why> {
    let mut why = Why::new(
        "How hard this part presses on the work: now, with the tool where it stands, and the most in the whole pass.",
        CARRIED,
        "read; as sure as force and stiffness are, see the band",
    );
    why.more.push("This comes of the whole computation: which jaws touch, and how much each part gives, decides who carries what.".to_owned());
    let Some(cut) = asked.cut() else { return Some(why) };
    let place_mm = match support {
        Support::DriveX | Support::DriveY => Some(0.0),
        Support::TailX | Support::TailY => supports_mm(asked.job, asked.setup).last().copied(),
        Support::Jaw { rest, .. } => asked.setup.rest(rest).map(|rest| rest.z_mm),
        Support::FollowerJaw { .. } => None,
    };
    let Some(place_mm) = place_mm else { return Some(why) };
    let places_mm = supports_mm(asked.job, asked.setup);
    let before = places_mm.iter().copied().rev().find(|place| *place <= cut.z_mm);
    let after = places_mm.iter().copied().find(|place| *place > cut.z_mm);
    let whole_n = cut.fc_n.hypot(cut.fp_n);
    let (Some(from_mm), Some(to_mm)) = (before, after) else { return Some(why) };
    let other_mm = if place_mm == from_mm { to_mm } else { from_mm };
    if place_mm != from_mm && place_mm != to_mm {
        why.more.push("A plain lever would give it nothing: the tool stands between two other supports. What it carries comes of the work being one stiff piece, and of its weight.".to_owned());
        return Some(why);
    }
    let share_n = whole_n * (other_mm - cut.z_mm).abs() / (to_mm - from_mm);
    why.sums.push(Sum::estimate(
        "by the lever",
        "push of the cut, away and up together \u{d7} distance from the tool to the other support \u{f7} distance between the two",
        format!(
            "\u{221a}({}^2 + {}^2) \u{d7} {} \u{f7} {}",
            number(cut.fc_n),
            number(cut.fp_n),
            number((other_mm - cut.z_mm).abs()),
            number(to_mm - from_mm)
        ),
        words::force(share_n, asked.job.units),
    ));
    let now_n =
        asked.shape.and_then(|shape| shape.reactions.iter().find(|one| one.support == support)).map(|one| one.force_n);
    if let (Some(now_n), Support::Jaw { .. }) = (now_n, support)
        && let Some(times) = times(now_n, share_n)
    {
        why.more.push(format!("Now this jaw alone has {times} that: the jaws of a rest share it by their angles, and the work's weight comes on top."));
    }
    why.sketch =
        Some(Sketch::Bar { from_mm, to_mm: Some(to_mm), load_at_mm: cut.z_mm, diameter_mm: cut.old_diameter_mm });
    Some(why)
}

/// What of a jaw is asked about.
#[derive(Clone, Copy, PartialEq)]
pub enum Part {
    Pressure,
    Drag,
    Heat,
    Rubbing,
}

fn contact(asked: &Asked<'_>, support: Support) -> Option<JawContact> {
    let pass = asked.pass.map(|(pass, _)| pass);
    of_shape(asked.job, asked.setup, pass, asked.shape?).into_iter().find(|jaw| jaw.support == support)
}

/// Pressure, drag, heat or rubbing speed of one jaw.
pub fn felt(asked: &Asked<'_>, support: Support, part: Part) -> Option<Why> {
    let jaw = contact(asked, support)?;
    let shown = |value: f64, kind: Kind| show(value, kind, asked.job.units);
    let speed_rpm = asked.pass.map_or(0.0, |(pass, _)| pass.speed_rpm);
    let (rubbing, numbers) = (rubbing_numbers(&jaw, speed_rpm), drag_numbers(&jaw));
    let (friction_source, friction_trust) = (
        "plain-bearing practice (Mott, Neale)",
        "read; one figure for oiled tips, dry ones drag several times as much",
    );
    Some(match part {
        Part::Pressure => pressure(asked.job, asked.setup, &jaw, false),
        Part::Drag => {
            let mut why = Why::new("What the jaw holds against the turning work.", friction_source, friction_trust);
            why.sums.push(Sum::figure(
                "drag",
                "friction of an oiled tip \u{d7} force of the jaw",
                numbers,
                shown(jaw.friction_n, Kind::Force),
            ));
            why
        }
        Part::Heat => {
            let mut why = Why::new(
                "What the jaw turns into heat: the tip and the work get hot from it.",
                friction_source,
                friction_trust,
            );
            let numbers = format!("{numbers} \u{d7} {rubbing}");
            let heat = format!("{:.*} W", usize::from(jaw.heat_w < 9.95), jaw.heat_w);
            why.sums.push(Sum::figure("heat", "friction \u{d7} force of the jaw \u{d7} rubbing speed", numbers, heat));
            why
        }
        Part::Rubbing => {
            let mut why = Why::new("How fast the work runs under the jaws.", "geometry", "sure");
            let shown = shown(jaw.rubbing_m_per_s, Kind::SurfaceSpeed);
            why.sums.push(Sum::figure("rubbing", "\u{3c0} \u{d7} diameter \u{d7} turns a minute", rubbing, shown));
            why
        }
    })
}

/// Speed of the surface under a jaw, in m/s.
pub fn rubbing_numbers(jaw: &JawContact, speed_rpm: f64) -> String {
    format!("\u{3c0} \u{d7} {} \u{d7} {} \u{f7} 60000", number(jaw.diameter_mm), number(speed_rpm))
}

/// Drag of a jaw.
pub fn drag_numbers(jaw: &JawContact) -> String {
    format!("{} \u{d7} {}", number(jaw.tip.friction_ratio()), number(jaw.force_n))
}

/// Length of the tip that bears, along the work.
fn tip_length_mm(job: &Job, setup: &Setup, support: Support) -> f64 {
    let width_mm = job.lathe.rest_jaw_width_mm.value;
    let Support::Jaw { rest, .. } = support else { return width_mm };
    match setup.rest(rest).map(|rest| rest.sleeve) {
        Some(Sleeve::CatHead { width_mm: sleeve_mm, .. } | Sleeve::Bush { width_mm: sleeve_mm, .. }) => {
            width_mm.min(sleeve_mm)
        }
        _ => width_mm,
    }
}

/// How hard the tip of a jaw presses: its peak, or the mean of its pad where there is no peak or the mean is asked for.
pub fn pressure(job: &Job, setup: &Setup, jaw: &JawContact, mean: bool) -> Why {
    let mut why = Why::new(
        "How hard the tip presses on the work: the peak on the narrow line it bears on, or the mean where it lies round the work.",
        "Hertz's formula, as in Rao, Engineering Optimization; yield below the skin: Johnson, Contact Mechanics",
        "the formula: read; within a factor of two, through size and fit of the tip",
    );
    let [length, force] = [tip_length_mm(job, setup, jaw.support), jaw.force_n].map(number);
    let shown = |mpa: f64| show(mpa, Kind::Pressure, job.units);
    why.sketch = (jaw.force_n > 0.0).then_some(Sketch::Tip { diameter_mm: jaw.diameter_mm, force_n: jaw.force_n });
    match (jaw.half_width_mm, jaw.peak_mpa.filter(|_| !mean)) {
        (_, Some(peak_mpa)) if peak_mpa <= 0.0 => why.more.push("Nothing presses here just now.".to_owned()),
        (Some(half_width_mm), Some(peak_mpa)) => {
            why.more.push(format!(
                "The line is {} mm wide to either side, by the roundness of the work and how both give (after Hertz).",
                number(half_width_mm)
            ));
            why.sums.push(Sum::figure(
                "peak pressure",
                "2 \u{d7} force \u{f7} (\u{3c0} \u{d7} half the width of the line \u{d7} its length along the work)",
                format!("2 \u{d7} {force} \u{f7} (\u{3c0} \u{d7} {} \u{d7} {length})", number(half_width_mm)),
                shown(peak_mpa),
            ));
        }
        _ => {
            let around_mm = job.lathe.pad_length_mm.value.min(jaw.diameter_mm);
            why.sums.push(Sum::figure(
                "mean pressure",
                "force \u{f7} (length of the tip along the work \u{d7} its width round it)",
                format!("{force} \u{f7} ({length} \u{d7} {})", number(around_mm)),
                shown(jaw.mean_mpa),
            ));
        }
    }
    why
}

/// The most any jaw of a set-up feels.
pub fn most() -> Why {
    let mut why = Why::new(
        "The hardest any jaw presses in any pass of the set-up: hard pressed jaws mark, heat and wear the work.",
        CARRIED,
        "read; as sure as force and stiffness are, see the band",
    );
    why.more
        .push("The table of loads in the notes has every part by itself, each with its own explanation.".to_owned());
    why
}

/// The air at a jaw that has let go.
pub fn gap() -> Why {
    let mut why = Why::new(
        "The air between the jaw and the work: a jaw only pushes, so where the work springs away from it, it carries nothing.",
        CARRIED,
        "as sure as force and stiffness are",
    );
    why.more.push("It comes of the whole computation, place after place of the tool.".to_owned());
    why
}
