//! Why the cutting forces are what they are: Kienzle's main force with its corrections, and the thrust across the chord
//! of the engaged edge.

use super::sum::{Sum, number};
use super::{Asked, Sketch, Why};
use crate::advice::words;
use crate::job::material::Trust;
use crate::job::{Force, PassKind};
use crate::mechanics::cutting::chord_angle_rad;
use crate::study::Station;
use crate::study::force::{ChipTerms, Engagement, ForceModel};
use crate::study::task::repeated;

const SOURCE: &str =
    "Kienzle and Victor (1957); across the chord of the edge after Colwell (1954); corrections after Tsch\u{e4}tsch";

/// To either side of a step.
const STEP_MM: f64 = 1e-3;

/// One of the three parts of the force.
#[derive(Clone, Copy, PartialEq)]
pub enum Part {
    Main,
    Push,
    Feed,
}

/// The force of the cut where the tool stands.
pub fn force(asked: &Asked<'_>, part: Part) -> Option<Why> {
    let cut = asked.cut()?;
    let (pass, _) = asked.pass?;
    let material = asked.job.material();
    let what = match part {
        Part::Main => {
            "The force with which the chip pushes the work up and the tool down, along the cutting speed: the spindle's load."
        }
        Part::Push => "The part of the force that pushes the work away from the tool: it makes the size error.",
        Part::Feed => "The part of the force along the work, against the feed.",
    };
    let trust = match material.kc11_mpa.trust {
        Trust::Read => "read; tables differ by some 20 % for the main force, 40 % for the push",
        Trust::Own => "your own figure for the material",
        _ => "from memory; tables differ by some 20 % for the main force, 40 % for the push",
    };
    let mut why = Why::new(what, SOURCE, trust);
    if let Force::Typed { .. } = pass.force {
        why.more.push("You typed this push with the pass; nothing is worked out.".to_owned());
        (why.source, why.trust) = ("your own figure".to_owned(), "as you know it");
        return Some(why);
    }
    match chip(asked, cut) {
        Some(terms) => {
            why.sums.extend(sums(asked, cut, &terms, part));
            why.sketch = Some(Sketch::Chip {
                depth_mm: cut.real_depth_mm / 2.0,
                feed_mm: pass.feed_mm_per_rev,
                nose_mm: asked.setup.tool.nose_radius_mm,
                entering_rad: asked.setup.tool.entering_angle_rad,
            });
        }
        None if repeated(asked.setup, pass).kind == PassKind::Thread => why.more.push(
            "A pointed tool fed straight in takes a chip off both flanks at once: its area grows with every cut, its thickness is half of what the tool goes \
             in. The flanks push against each other along the work; the push away is counted as half the main force (from memory)."
                .to_owned(),
        ),
        None => why.more.push(
            "A broad edge fed straight in: the chip is as thick as the feed and as wide as the tool, and pushes 1.3 times as hard as in turning along the work."
                .to_owned(),
        ),
    }
    Some(why)
}

fn chip(asked: &Asked<'_>, cut: &Station) -> Option<ChipTerms> {
    let (pass, _) = asked.pass?;
    let engagement = match repeated(asked.setup, pass).kind {
        PassKind::Turn | PassKind::Spring => Engagement::Along,
        PassKind::Bore => Engagement::Bore,
        _ => return None,
    };
    let material = asked.job.material();
    let model = ForceModel::engaged(&material, &asked.setup.tool, pass, 0.0, engagement);
    Some(model.terms(old_dial_mm(asked, cut, engagement))).filter(|_| cut.fc_n > 0.0)
}

/// The size the dial found where the tool stands: the speed of the cut is counted at it, not at what was really left.
fn old_dial_mm(asked: &Asked<'_>, cut: &Station, engagement: Engagement) -> f64 {
    let (Some((pass, _)), Engagement::Along) = (asked.pass, engagement) else { return cut.old_diameter_mm };
    let s_mm = asked.setup.s_of_z_mm(&asked.job.shaft, cut.z_mm);
    // On a step there is a size to either side; the tool is at one of them.
    let sides = [s_mm - STEP_MM, s_mm, s_mm + STEP_MM];
    let found = sides.into_iter().filter_map(|s_mm| asked.job.dial_diameter_mm(asked.setup.id, Some(pass.id), s_mm));
    let off_mm = |dial_mm: &f64| (dial_mm - cut.old_diameter_mm).abs();
    found.min_by(|a, b| off_mm(a).total_cmp(&off_mm(b))).unwrap_or(cut.old_diameter_mm)
}

fn sums(asked: &Asked<'_>, cut: &Station, terms: &ChipTerms, part: Part) -> Vec<Sum> {
    let Some((pass, _)) = asked.pass else { return Vec::new() };
    let (tool, feed_mm, depth_mm) = (&asked.setup.tool, pass.feed_mm_per_rev, cut.real_depth_mm / 2.0);
    let shown = |force_n: f64| words::force(force_n, asked.job.units);
    let [kc, thickness, m, depth, feed] = [terms.kc11_mpa, terms.thickness_mm, terms.mc, depth_mm, feed_mm].map(number);
    let main = Sum::figure(
        "main force",
        "what the material takes (for a chip of 1 mm by 1 mm) \u{d7} more for a thinner chip \u{d7} depth \u{d7} feed \u{d7} corrections for rake and wear, \
         and for speed and edge",
        format!(
            "{kc} \u{d7} {thickness}^(\u{2212}{m}) \u{d7} {depth} \u{d7} {feed} \u{d7} {} \u{d7} {}",
            number(terms.rake_and_wear_ratio),
            number(terms.edge_ratio)
        ),
        shown(cut.fc_n),
    );
    if part == Part::Main {
        return vec![main];
    }
    let chord_rad = chord_angle_rad(depth_mm, feed_mm, tool.nose_radius_mm, tool.entering_angle_rad);
    let degrees = number(chord_rad.to_degrees());
    let (gives, words, turned, force_n) = match part {
        Part::Push => {
            ("push away", "main force \u{d7} thrust against it \u{d7} cosine of the chord of the edge", "cos", cut.fp_n)
        }
        _ => {
            ("feed force", "main force \u{d7} thrust against it \u{d7} sine of the chord of the edge", "sin", cut.ff_n)
        }
    };
    let numbers = format!("{} \u{d7} {} \u{d7} {turned}({degrees})", number(cut.fc_n), number(terms.thrust_ratio));
    vec![Sum { purpose: super::Purpose::Step, ..main }, Sum::figure(gives, words, numbers, shown(force_n))]
}
