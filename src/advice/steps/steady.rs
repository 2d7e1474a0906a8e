//! Setting steady rests: with a centre while the work lies true on it, without one near the chuck first.

use super::{Holding, Step};
use crate::advice::outcome::off_words;
use crate::advice::words;
use crate::job::{Rest, SetTo, Sleeve, TipKind};

pub(super) fn steps(here: &Holding<'_>) -> Vec<Step> {
    let mut steps = Vec::new();
    let rests = here.rests();
    for (index, (number, rest)) in rests.iter().enumerate() {
        place(here, *number, rest, &mut steps);
        let like = rests[..index].iter().find(|(_, before)| before.set_to == rest.set_to).map(|(number, _)| *number);
        set(here, *number, rest, like, &mut steps);
    }
    if !here.setup.rests.is_empty() {
        steps.push(Step::new(
            "latch",
            "Every steady: latch shut and pinned, foot clamped, jaws locked. Turn by hand: no drag, no knock.",
            "A top arm that opens lets the work go. Common practice, no source.",
        ));
        steps.push(oil(here));
    }
    steps
}

fn place(here: &Holding<'_>, number: usize, rest: &Rest, steps: &mut Vec<Step>) {
    let at = here.length(rest.z_mm);
    let sleeve = match rest.sleeve {
        Sleeve::None => None,
        Sleeve::CatHead { diameter_mm, width_mm } => Some((
            format!(
                "Steady {number}: put the cat head (\u{d8} {}, {} wide) on at {at} and set it true with its screws to within {}.",
                here.diameter(diameter_mm),
                here.length(width_mm),
                here.feeler()
            ),
            "The jaws run on the cat head where the work itself cannot run true. Textbooks on the steady rest.",
        )),
        Sleeve::Bush { diameter_mm, width_mm } => Some((
            format!(
                "Steady {number}: clamp the split bush (\u{d8} {}, {} wide) on at {at} and read its run-out.",
                here.diameter(diameter_mm),
                here.length(width_mm)
            ),
            "Jaws must not run on a thread or spline. Common practice, no source.",
        )),
    };
    if let Some((text, why)) = sleeve {
        steps.push(Step::new("sleeve", text, why));
    }
    steps.push(Step::new(
        "place",
        format!("Steady {number}: clamp it, its middle {at} from the {}.", datum(here)),
        "All distances on this sheet are from this one place.",
    ));
}

/// What distances are measured from.
fn datum(here: &Holding<'_>) -> &'static str {
    if here.on_centre() { "headstock centre's point" } else { "jaw face" }
}

/// How its jaws are set; in few words where those of one before, named by its number, were set in the same way.
fn set(here: &Holding<'_>, number: usize, rest: &Rest, like: Option<usize>, steps: &mut Vec<Step>) {
    let feeler = here.feeler();
    match (rest.set_to, here.has_tail(), like) {
        (SetTo::Work, true, Some(like)) => steps.push(Step::new(
            "jaws",
            format!("Steady {number}: set its jaws like those of steady {like}, the indicator beside it."),
            "Each rest by itself, from the headstock to the tailstock: a jaw that pushes moves the work in the others. Common \
             practice, no source.",
        )),
        (SetTo::Work, true, None) => steps.push(Step::new(
            "jaws",
            format!(
                "Steady {number}: with the centre carrying the work and an indicator on it, lower jaws to touch, not lift; shut the \
                 top, its jaw down; {feeler} of feeler or an oil film at each. Lock: the needle must stay."
            ),
            "A jaw that pushes bends the work, and the bend is cut into it. Touch, not push: makers' manuals; the feeler: \
             common practice, no printed source.",
        )),
        (SetTo::Work, false, _) => steps.push(Step::new(
            "jaws",
            format!(
                "Steady {number}, no centre: set the jaws close to the chuck, where the work runs true, {feeler} of feeler or \
                 an oil film at each; lock, slide the rest to its place, do not turn it round."
            ),
            "Where the rest stands to the axis does not change as it slides along the ways. Makers' lathe manuals.",
        )),
        (SetTo::Axis, ..) => steps.push(Step::new(
            "jaws",
            format!(
                "Steady {number}: set the jaws about the spindle axis on a turned slug or test bar of the spot's size, {feeler} \
                 of feeler or an oil film at each; lock."
            ),
            "Set on the axis the rest lifts the work's own sag out of it. Common practice, no source.",
        )),
    }
    let gaps: Vec<String> = rest
        .jaws
        .iter()
        .enumerate()
        .filter(|(_, jaw)| jaw.gap_mm.abs() > 5e-4)
        .map(|(index, jaw)| {
            let how = if jaw.gap_mm > 0.0 { "clear" } else { "pressed in" };
            format!("{} {} {how}", words::jaw_name(rest, index), words::amount(jaw.gap_mm, here.job.units))
        })
        .collect();
    if !gaps.is_empty() {
        steps.push(Step::new(
            "gaps",
            format!("Steady {number}: worked out with {}.", gaps.join(", ")),
            "The predicted sizes hold for these gaps only.",
        ));
    }
    if let Some(off) = off_words([rest.offset_x_mm, rest.offset_y_mm], here.job.units) {
        steps.push(Step::new(
            "offset",
            format!("Steady {number}: worked out {off} of its true place."),
            "The predicted sizes hold for this place only.",
        ));
    }
}

fn oil(here: &Holding<'_>) -> Step {
    let rollers = here.setup.rests.iter().all(|rest| rest.tip == TipKind::Roller);
    if rollers {
        Step::new(
            "oil",
            "Oil the rollers; keep chips off them with a shield of felt or card.",
            "A chip rolled in marks the work. Common practice, no source.",
        )
    } else {
        Step::new(
            "oil",
            "Oil every jaw and keep a film on it. Film gone or jaw warm: stop, let it cool, set the jaws again.",
            "A dry jaw heats, grows and presses harder still. Textbooks and makers' manuals on the steady rest.",
        )
    }
}
