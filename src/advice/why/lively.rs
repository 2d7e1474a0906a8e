//! Why the swings, the whip speed, the margin to bowing out and the depth before chatter are what they are.

use std::f64::consts::PI;

use super::bar::{stiffness_step, supports_mm};
use super::sum::{Sum, number};
use super::{Asked, Why};
use crate::advice::words;
use crate::job::quantity::{Kind, show};
use crate::job::{Job, Setup};
use crate::study::along::along;
use crate::study::lively::lively;

const SOURCE: &str = "Friswell and others, Dynamics of Rotating Machines; Altintas, Manufacturing Automation";

/// The longest stretch between two supports and the work's thickness in its middle, both of the work as it comes in.
fn longest_span(asked: &Asked<'_>) -> Option<(f64, f64)> {
    let places_mm = supports_mm(asked.job, asked.setup);
    let longest = places_mm.windows(2).max_by(|a, b| (a[1] - a[0]).total_cmp(&(b[1] - b[0])))?;
    let s_mm = asked.setup.s_of_z_mm(&asked.job.shaft, f64::midpoint(longest[0], longest[1]));
    let diameter_mm = asked.job.shaft.stock_diameter_mm(s_mm)?;
    (longest[1] > longest[0]).then_some((longest[1] - longest[0], diameter_mm))
}

/// How fast the work swings by itself, beside the textbook's bar.
pub fn swings(asked: &Asked<'_>) -> Option<Why> {
    let mut why = Why::new(
        "How fast the held work swings by itself when it is struck, as it is now and with the jaws that touch.",
        SOURCE,
        "the formulas: read; some 20 %, through the stiffness of chuck and tailstock",
    );
    why.more.push("This comes of the whole computation.".to_owned());
    let material = asked.job.material();
    if let Some((length_mm, diameter_mm)) = longest_span(asked) {
        let (e_mpa, density) = (material.e_mpa.value, material.density_kg_per_m3.value);
        let hz = PI / (2.0 * length_mm * length_mm) * diameter_mm / 4.0 * (e_mpa / (density * 1e-12)).sqrt();
        why.sums.push(Sum::estimate(
            "textbook bar",
            "\u{3c0} \u{f7} (2 \u{d7} longest free stretch\u{b2}) \u{d7} diameter \u{f7} 4 \u{d7} \u{221a}(stiffness of the material \u{f7} its weight by volume)",
            format!(
                "\u{3c0} \u{f7} (2 \u{d7} {}^2) \u{d7} {} \u{f7} 4 \u{d7} \u{221a}({} \u{f7} {} \u{d7} 10^12)",
                number(length_mm),
                number(diameter_mm),
                number(e_mpa),
                number(density)
            ),
            format!("{hz:.*} Hz", usize::from(hz < 9.95)),
        ));
        why.more.push("The textbook's bar lies loose on two stiff supports and is plain. A chuck that holds fast makes it up to half as fast again, supports that give make it slower.".to_owned());
    }
    Some(why)
}

/// The whip speed.
pub fn whip(asked: &Asked<'_>) -> Option<Why> {
    let found = lively(
        asked.job,
        asked.result,
        asked.setup.id,
        asked.pass.map(|(pass, _)| pass.id),
        asked.pass.map(|_| asked.tool_z_mm),
        asked.job.spread.damping_ratio.value,
    )?;
    let mut why = Why::new(
        "The speed at which the work turns once for each of its slowest swings: it then bows out and whips.",
        SOURCE,
        "some 20 %; never run near it, and no speed is safe because it is below",
    );
    let shown = show(words::three_figures(found.first_whip_rpm), Kind::SpindleSpeed, asked.job.units);
    why.sums.push(Sum::figure(
        "whip speed",
        "60 \u{d7} slowest swing, in Hz",
        format!("60 \u{d7} {}", number(found.first_whip_rpm / 60.0)),
        shown,
    ));
    Some(why)
}

/// The margin to bowing out.
pub fn buckling(asked: &Asked<'_>) -> Option<Why> {
    let mut why = Why::new(
        "How many times as hard the work could be pressed along its length before it bows out.",
        "Euler's column in any text; Timoshenko and Gere (from memory)",
        "the formula: sure; some 20 %, through what holds the ends",
    );
    why.more.push("This comes of the whole computation, with the jaws that touch staying on the work.".to_owned());
    let pressed_n = along(asked.job, asked.result, asked.setup.id, asked.pass.map(|(pass, _)| pass.id))
        .map(|along| along.axial.front_n.max(along.axial.back_n))
        .filter(|pressed_n| *pressed_n > 0.0);
    if let (Some((length_mm, diameter_mm)), Some(pressed_n)) = (longest_span(asked), pressed_n) {
        let (i_mm4, section) = stiffness_step(diameter_mm);
        let e_mpa = asked.job.material().e_mpa.value;
        let times = PI * PI * e_mpa * i_mm4 / (length_mm * length_mm) / pressed_n;
        why.sums.push(section);
        why.sums.push(Sum::estimate(
            "Euler's column",
            "\u{3c0}\u{b2} \u{d7} stiffness of the material \u{d7} section \u{f7} longest free stretch\u{b2} \u{f7} what presses it",
            format!("\u{3c0}^2 \u{d7} {} \u{d7} {} \u{f7} {}^2 \u{f7} {}", number(e_mpa), number(i_mm4), number(length_mm), number(pressed_n)),
            format!("{times:.1} times"),
        ));
    }
    Some(why)
}

/// The bar behind the headstock.
pub fn bar_tail(job: &Job, setup: &Setup) -> Option<Why> {
    let found = crate::study::lively::bar_tail(job, setup)?;
    let mut why = Why::new(
        "How far the end of the bar that stands out behind the headstock hangs down standing still.",
        "any text on strength of materials",
        "sure, where the spindle holds it as told",
    );
    why.more.push(
        "Turning, it is thrown outwards and can bend at once: support and guard it along its whole length.".to_owned(),
    );
    let material = job.material();
    let s_mm = setup.s_of_z_mm(&job.shaft, setup.work_start_z_mm + 0.5 * found.length_mm);
    if let Some(diameter_mm) = job.shaft.stock_diameter_mm(s_mm) {
        // w L⁴ / (8 E I) with w = density g π D²/4 and I = π D⁴/64.
        let (density, e_mpa) = (material.density_kg_per_m3.value, material.e_mpa.value);
        let sag_mm = 2.0 * density * 9.80665e-9 * found.length_mm.powi(4) / (e_mpa * diameter_mm * diameter_mm);
        why.sums.push(Sum::estimate(
            "plain solid bar",
            "2 \u{d7} weight by volume \u{d7} length\u{2074} \u{f7} (stiffness of the material \u{d7} diameter\u{b2})",
            format!(
                "2 \u{d7} {} \u{d7} 9.80665 \u{f7} 10^9 \u{d7} {}^4 \u{f7} ({} \u{d7} {}^2)",
                number(density),
                number(found.length_mm),
                number(e_mpa),
                number(diameter_mm)
            ),
            words::amount(sag_mm, job.units),
        ));
    }
    Some(why)
}

/// The depth from which chatter is to be expected.
pub fn chatter(asked: &Asked<'_>) -> Option<Why> {
    let mut why = Why::new(
        "The depth on diameter from which a wave left by one turn feeds the next: chatter is to be expected from there on, at the worst speed.",
        "Altintas, Manufacturing Automation, after Tobias and Tlusty (from memory); damping: common practice, no source",
        "an order of magnitude, through the damping; never a promise of quiet",
    );
    let damping = show(asked.job.spread.damping_ratio.value, Kind::Percent, asked.job.units);
    why.more.push(format!(
        "Width of chip = 1 \u{f7} (2 \u{d7} force for each mm\u{b2} of chip \u{d7} how far the work swings against one newton at its worst pitch, across the edge). The \
         swing comes of the whole computation, with damping of {damping}."
    ));
    if let Some((cut, (pass, _))) = asked
        .cut()
        .zip(asked.pass)
        .filter(|(cut, (pass, _))| cut.real_depth_mm > 0.0 && cut.fc_n > 0.0 && pass.feed_mm_per_rev > 0.0)
    {
        let area_mm2 = cut.real_depth_mm / 2.0 * pass.feed_mm_per_rev;
        why.sums.push(Sum::step(
            "force for each mm\u{b2}, in this cut",
            "main force \u{f7} (depth \u{d7} feed)",
            format!(
                "{} \u{f7} ({} \u{d7} {})",
                number(cut.fc_n),
                number(cut.real_depth_mm / 2.0),
                number(pass.feed_mm_per_rev)
            ),
            cut.fc_n / area_mm2,
            "N/mm\u{b2}",
        ));
    }
    Some(why)
}
