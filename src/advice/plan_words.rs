//! A plan in a turner's words: what each step is, why it is done then, and why there is no plan.

use super::cover_words::along;
use super::not_cut::place_words;
use super::words::{self, amount, diameter, length, some};
use crate::job::quantity::{self, Kind};
use crate::job::{DriveKind, FeatureKind, Job, TailKind};
use crate::study::coverage::coverage;
use crate::study::plan::{ComesTo, NoPlan, Plan, Step, What, Why};

/// What a step is, as a heading: "Rough from 45 to 350 mm from end A, 4 passes".
#[must_use]
pub fn heading(job: &Job, plan: &Plan, step: &Step) -> String {
    // At the machine one measures from the jaws; the drawing has the other.
    let at = |s_mm: f64| {
        let setup = plan.setups().get(step.setup);
        let z_mm = setup.map_or(s_mm, |setup| setup.z_of_s_mm(&plan.job.shaft, s_mm));
        let is_between_centres = setup.is_some_and(|setup| setup.drive.kind == DriveKind::CentreAndDog);
        let from = if is_between_centres { "the headstock centre" } else { "the jaw face" };
        let (from_there, from_end_a) = (length(z_mm, job.units), length(s_mm, job.units));
        if from_there == from_end_a {
            return format!("{from_there} from {from} (end A)");
        }
        format!("{from_there} from {from} ({from_end_a} from end A)")
    };
    match step.what {
        What::FaceAndCentre { end_b, facing_mm, through_spindle } => {
            let end = if end_b { "end B" } else { "end A" };
            let inside = if through_spindle { ", most of the work in the spindle" } else { "" };
            if facing_mm > 0.0 {
                format!("Face {end} by {} and drill its centre{inside}", length(facing_mm, job.units))
            } else {
                format!("Drill the centre of {end}{inside}")
            }
        }
        What::Hold => holding(plan, step.setup),
        What::TurnEndForEnd => format!("Turn end for end: {}", uncapital(&holding(plan, step.setup))),
        What::Spot { s_mm, width_mm } => {
            format!("Turn a true spot {} wide at {}", length(width_mm, job.units), at(s_mm))
        }
        What::SetRest { s_mm } => format!("Set the steady rest at {}", at(s_mm)),
        What::MoveRest { s_mm } => format!("Move the steady rest to {}", at(s_mm)),
        What::FitFollower => "Bring on the follower rest, behind the tool".to_owned(),
        What::Rough { from_s_mm, to_s_mm, n_passes } => {
            format!("Rough {}, {}", along(job, from_s_mm, to_s_mm), passes(n_passes))
        }
        What::Finish { from_s_mm, to_s_mm, n_passes } => {
            format!("Finish {}, {}", along(job, from_s_mm, to_s_mm), passes(n_passes))
        }
        What::Groove { from_s_mm, to_s_mm } => format!("Cut the groove {}", along(job, from_s_mm, to_s_mm)),
        What::Thread { from_s_mm, to_s_mm, n_passes, .. } => {
            format!("Cut the thread {}, {}", along(job, from_s_mm, to_s_mm), passes(n_passes))
        }
    }
}

/// The same within a sentence.
fn uncapital(words: &str) -> String {
    let mut letters = words.chars();
    letters.next().map_or_else(String::new, |first| first.to_lowercase().chain(letters).collect())
}

fn passes(n_passes: usize) -> String {
    if n_passes == 1 { "one pass".to_owned() } else { format!("{n_passes} passes") }
}

/// "In the chuck by end A, live centre at end B".
fn holding(plan: &Plan, setup: usize) -> String {
    let Some(setup) = plan.setups().get(setup) else { return String::new() };
    let (head, tail) = if setup.end_for_end { ("end B", "end A") } else { ("end A", "end B") };
    if setup.drive.kind == DriveKind::CentreAndDog {
        return format!("Between centres, the dog on {head}");
    }
    let drive = format!("In the {} by {head}", words::drive_name(setup.drive.kind));
    match setup.tail.kind {
        TailKind::Free => format!("{drive}, {tail} free"),
        TailKind::BullNose => format!("{drive}, bull-nose centre in {tail}"),
        _ => format!("{drive}, centre in {tail}"),
    }
}

/// Why a step is done, and what the sweep makes of it, one sentence each.
#[must_use]
pub fn reasons(job: &Job, step: &Step) -> Vec<String> {
    step.why.iter().map(|why| reason(job, why)).chain(step.comes_to.map(|comes_to| computed(job, comes_to))).collect()
}

fn computed(job: &Job, comes_to: ComesTo) -> String {
    let size = |mm: f64| amount(mm, job.units);
    match comes_to {
        ComesTo::Left { over_mm } => format!("Computed: up to {} more is left than the dial says.", size(over_mm)),
        ComesTo::Size { outside_mm, .. } if outside_mm > 0.0 => {
            format!("Computed: up to {} outside the drawing.", size(outside_mm))
        }
        ComesTo::Size { worst_mm, .. } => {
            format!("Computed: within the drawing, up to {} from the middle of what it allows.", size(worst_mm))
        }
    }
}

/// The whole plan as plain text.
#[must_use]
pub fn text(job: &Job, plan: &Plan) -> String {
    let mut lines = Vec::new();
    let mut number = 0;
    for (index, setup) in plan.setups().iter().enumerate() {
        lines.push(format!("Set-up {}: {}", index + 1, setup.name));
        for step in plan.steps.iter().filter(|step| step.setup == index) {
            number += 1;
            lines.push(format!("  {number}. {}", heading(job, plan, step)));
            lines.extend(reasons(job, step).iter().map(|reason| format!("     {reason}")));
        }
    }
    lines.push(String::new());
    lines.extend(outcome(job, plan));
    lines.join("\n") + "\n"
}

fn reason(job: &Job, why: &Why) -> String {
    let units = job.units;
    match why {
        Why::CentreWanted => "The tailstock needs a centre there, and the work has none yet. The drawing must let it stay.",
        Why::StandsAlone { ratio } => {
            return format!("It stands out {ratio:.1} diameters only, so it needs no tailstock.");
        }
        Why::SteadyAtTheEnd => "With the tailstock away a steady carries the end.",
        Why::CatHead => {
            "Rough stock between bare jaws bounces and makes a three-cornered centre: it runs in a cat head, set true."
        }
        Why::HeldByStub => "What is held is not to be cut, so all of it is reached in one holding.",
        Why::HeldWhereCutLast => "It is held where it is cut last, so that jaws do not mark a finished length.",
        Why::SameCentres => "Both ends turn on the same two centres, so they come out in line.",
        Why::WasInTheJaws => "What was in the jaws or under the dog is cut now.",
        Why::HeldOnFinished => "It is held on a finished length: soft jaws, or copper under jaws or dog.",
        Why::LeftForFinishing { on_diameter_mm } => {
            return format!("It leaves {} on diameter for the finishing cut.", diameter(*on_diameter_mm, units));
        }
        Why::SpringPasses => {
            "Spring passes follow, the dial left alone: they take off what the work sprang away from."
        }
        Why::Stiffer { without_mm, with_mm } => {
            return format!(
                "By the figures the size is off by up to {} without it, {} with it.",
                amount(*without_mm, units),
                amount(*with_mm, units)
            );
        }
        Why::NothingStiffEnough => "Without it the work cannot be cut so far along.",
        Why::TrueBand => "Jaws copy what they run on: they need a band turned true first, with light cuts.",
        Why::Leapfrog => "The work is too springy to turn the real spot at once: a first one nearer the headstock, the rest on it, then the real one.",
        Why::AsItIs => "The bar has its finished size there, so the jaws run on it as it is. Try it with an indicator; else use a cat head.",
        Why::OnCutWork => "It runs on a length that is turned already. Put soft packing under the jaws.",
        Why::OneDiameter => "The diameter is one all along, so a follower can go with the tool.",
        Why::ToolCannotPass => {
            "The tool cannot pass a steady, so what lies beyond it is cut with the steady on the other side."
        }
        Why::NeckLast => "The neck comes last: cut early it would let the lands on both sides spring.",
        Why::HeavyBeforeThin => "Heavy diameters first, thin ones last: a neck cut early would make all the rest springy.",
        Why::RoughingFirst => "Nothing is finished before all is roughed: work moves when its skin comes off.",
        Why::SeamAtShoulder { s_mm } => {
            return format!("The cuts meet at the shoulder {} from end A, where no seam shows.", length(*s_mm, units));
        }
        Why::SeamOnLand { s_mm } => {
            return format!("There is no shoulder in reach: the cuts meet {} from end A, with a seam.", length(*s_mm, units));
        }
        Why::ToTheMiddle => "Each length goes to the middle of its tolerance, light cuts with a fine feed.",
        Why::AfterDiameters => "After the diameters: it weakens the work and catches jaws.",
    }
    .to_owned()
}

/// What the plan comes to: one sentence each, the doubtful ones last.
#[must_use]
pub fn outcome(job: &Job, plan: &Plan) -> Vec<String> {
    let mut all = Vec::new();
    let made = coverage(&plan.job, &plan.result);
    let mut not_made = made.features.iter().filter(|one| !one.gaps.is_empty()).peekable();
    if plan.left.is_empty() && not_made.peek().is_none() {
        all.push("All that the drawing wants cut is cut.".to_owned());
    }
    for one in not_made {
        let Some(feature) = job.shaft.features.get(one.feature) else { continue };
        let what = if matches!(feature.kind, FeatureKind::Thread { .. }) { "thread" } else { "groove" };
        let place = place_words(job, feature.from_s_mm, feature.to_s_mm);
        all.push(format!(
            "The {what} is not made: {place}; the tool does not get there, or a seam would fall into it."
        ));
    }
    for stretch in &plan.left {
        all.push(format!(
            "Not brought to size: {}; {} is left.",
            place_words(job, stretch.from_s_mm, stretch.to_s_mm),
            diameter(stretch.by_mm, job.units)
        ));
    }
    all.push(if plan.outside_mm > 0.0 {
        format!(
            "By the middle figures it comes out up to {} outside the drawing; no arrangement tried was better.",
            some(plan.outside_mm, job.units)
        )
    } else {
        "By the middle figures the sizes stay within the drawing.".to_owned()
    });
    for end in made.ends.iter().flatten().filter(|end| end.by.is_none()) {
        let (spare, place) = (length(end.spare_mm, job.units), length(end.s_mm, job.units));
        all.push(format!("{spare} of stock stays on beyond {place} from end A: face it or part it off at the last."));
    }
    if !job.readings.is_empty() {
        all.push("The readings typed so far belong to the old passes and go with them.".to_owned());
    }
    all
}

/// Why there is no plan.
#[must_use]
pub fn no_plan(job: &Job, why: &NoPlan) -> String {
    let mass = |kg: f64| quantity::show(kg, Kind::Mass, job.units);
    let size = |mm: f64| length(mm, job.units);
    match why {
        NoPlan::NothingToCut if job.shaft.wanted.is_empty() => {
            "Nothing is drawn yet: give the finished part its lengths first.".to_owned()
        }
        NoPlan::NothingToCut => "The drawing wants nothing off the stock.".to_owned(),
        NoPlan::TooLong { length_mm, most_mm } => {
            format!("The stock is {} long; this lathe takes {} at the most.", size(*length_mm), size(*most_mm))
        }
        NoPlan::TooHeavy { mass_kg, most_kg } => {
            format!("The stock weighs {}; this lathe carries {}.", mass(*mass_kg), mass(*most_kg))
        }
        NoPlan::TooLargeForBed { diameter_mm, most_mm } => {
            format!("The stock is {} across and does not clear the bed ({}).", size(*diameter_mm), size(*most_mm))
        }
        NoPlan::TooLargeForSlide { diameter_mm, most_mm } => {
            format!("The stock is {} across and does not clear the cross slide ({}).", size(*diameter_mm), size(*most_mm))
        }
        NoPlan::TooLargeForChuck { diameter_mm, most_mm } => format!(
            "The stock is {} across, more than the chuck takes ({}), and has no centre holes to run between.",
            size(*diameter_mm),
            size(*most_mm)
        ),
        NoPlan::NowhereToHold => {
            "There is no way to hold it that reaches every length to be cut: give the stock a stub to hold, or more length."
                .to_owned()
        }
        NoPlan::TooSpringy => {
            "However it is held it bends away under the cut: it wants more support than this lathe has, or thicker stock."
                .to_owned()
        }
        NoPlan::Problem(text) => format!("{text}."),
        NoPlan::Stopped => "It was stopped.".to_owned(),
    }
}
