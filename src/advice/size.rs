//! Is the size within its tolerance after the last pass that cuts it, and if not, what to change.
//!
//! A pass is judged where its dial stands within the tolerance of the drawing; a place that a later pass cuts to the
//! drawing again is judged there. Error and allowance are counted from the middle of the tolerance: outside is trouble,
//! more than half the way from the middle to a limit is to be watched. Where the result brings bands, a place that
//! keeps its tolerance but whose band does not is to be watched too: the band never makes trouble by itself, and never
//! takes it away.

use super::why::Why;
use super::why::size::of_error;
use super::why::sum::{Sum, size};
use super::words;
use super::{Finding, Verdict};
use crate::job::{Cut, Edit, Job, Pass, PassId, PassKind, Setup, Subject};
pub use crate::study::allowed::{Allowed, allowed_at};
use crate::study::band::Curve;
use crate::study::{JobResult, Measured, Station, Status};

/// Dial and drawing closer than this are the same size.
const SAME_SIZE_MM: f64 = 1e-6;
/// Nobody measures half a micrometre in the shop: so little outside is on the limit, not beyond it.
const ON_THE_LIMIT_MM: f64 = 0.0005;

/// The closest tolerance, as a whole width on diameter, where a pass goes to the drawing at these stations.
#[must_use]
pub fn closest_tolerance_mm<'a>(job: &Job, setup: &Setup, stations: impl Iterator<Item = &'a Station>) -> Option<f64> {
    let limits_mm = stations.filter_map(|station| allowed_at(job, setup, station)?.limits_mm);
    limits_mm.map(|(lower_mm, upper_mm)| upper_mm - lower_mm).reduce(f64::min)
}

/// One station of a pass that is the last to cut its place to the drawing.
#[derive(Clone, Copy, Debug)]
struct Judged<'a> {
    station: &'a Station,
    allowed: Allowed,
    /// Between what the error may lie; the error itself twice where there is no band.
    edges_mm: [f64; 2],
}

impl Judged<'_> {
    /// 1 at the limit, 0 in the middle; nothing where no tolerance is stated.
    fn used_ratio(&self) -> Option<f64> {
        let (lower_mm, upper_mm) = self.allowed.limits_mm?;
        let half_mm = ((upper_mm - lower_mm) / 2.0).max(SAME_SIZE_MM);
        Some((self.station.error_mm - f64::midpoint(lower_mm, upper_mm)).abs() / half_mm)
    }

    /// How far it is outside: positive above the upper limit, negative below the lower one.
    fn outside_mm(&self) -> f64 {
        let Some((lower_mm, upper_mm)) = self.allowed.limits_mm else { return 0.0 };
        (self.station.error_mm - upper_mm).max(0.0) + (self.station.error_mm - lower_mm).min(0.0)
    }

    /// How far the band reaches outside, at its worse edge.
    fn band_outside_mm(&self) -> f64 {
        let Some((lower_mm, upper_mm)) = self.allowed.limits_mm else { return 0.0 };
        let [low_mm, high_mm] = self.edges_mm;
        (high_mm - upper_mm).max(lower_mm - low_mm).max(0.0)
    }
}

/// The stretch along the shaft that a pass takes to the drawing on one land.
struct Covered {
    order: usize,
    land: usize,
    from_s_mm: f64,
    to_s_mm: f64,
}

/// A pass and its stations that are judged.
struct JudgedPass<'a> {
    setup: &'a Setup,
    pass: &'a Pass,
    stations: Vec<Judged<'a>>,
}

fn judged_passes<'a>(job: &'a Job, result: &'a JobResult) -> Vec<JudgedPass<'a>> {
    let mut covered: Vec<Covered> = Vec::new();
    let mut passes: Vec<(usize, JudgedPass<'a>)> = Vec::new();
    let solved = words::computed_passes(job, result)
        .filter(|computed| computed.result.measured == Measured::Outside)
        .filter(|computed| matches!(computed.result.status, Status::Solved | Status::StoppedEarly));
    for (order, computed) in solved.enumerate() {
        let mut stations = Vec::new();
        let band = result.band(computed.pass.id);
        let edges_mm = band.map(|band| band.edges_mm(Curve::Error, computed.result)).unwrap_or_default();
        for (index, station) in computed.result.stations.iter().enumerate() {
            let Some(allowed) = allowed_at(job, computed.setup, station) else { continue };
            let s_mm = computed.setup.s_of_z_mm(&job.shaft, station.z_mm);
            match covered.last_mut().filter(|last| last.order == order && last.land == allowed.land) {
                Some(last) => {
                    last.from_s_mm = last.from_s_mm.min(s_mm);
                    last.to_s_mm = last.to_s_mm.max(s_mm);
                }
                None => covered.push(Covered { order, land: allowed.land, from_s_mm: s_mm, to_s_mm: s_mm }),
            }
            let edges_mm = edges_mm.get(index).copied().unwrap_or([station.error_mm; 2]);
            stations.push(Judged { station, allowed, edges_mm });
        }
        passes.push((order, JudgedPass { setup: computed.setup, pass: computed.pass, stations }));
    }
    for (order, judged) in &mut passes {
        let setup = judged.setup;
        judged.stations.retain(|one| {
            let s_mm = setup.s_of_z_mm(&job.shaft, one.station.z_mm);
            !covered.iter().any(|later| {
                later.order > *order
                    && later.land == one.allowed.land
                    && s_mm >= later.from_s_mm - SAME_SIZE_MM
                    && s_mm <= later.to_s_mm + SAME_SIZE_MM
            })
        });
    }
    passes.into_iter().map(|(_, judged)| judged).filter(|judged| !judged.stations.is_empty()).collect()
}

impl Judged<'_> {
    /// The verdict on this station; nothing where no tolerance is stated.
    fn verdict(&self) -> Option<Verdict> {
        let used_ratio = self.used_ratio()?;
        Some(if self.outside_mm().abs() > ON_THE_LIMIT_MM {
            Verdict::Trouble
        } else if used_ratio > 0.5 || self.band_outside_mm() > ON_THE_LIMIT_MM {
            Verdict::Watch
        } else {
            Verdict::Fine
        })
    }
}

/// The worst verdict of the places this pass is the last to cut to the drawing; nothing where there is none with a
/// stated tolerance.
#[must_use]
pub fn verdict_of_pass(job: &Job, result: &JobResult, pass: PassId) -> Option<Verdict> {
    let passes = judged_passes(job, result);
    let judged = passes.iter().find(|judged| judged.pass.id == pass)?;
    judged.stations.iter().filter_map(Judged::verdict).max()
}

/// The worst verdict of a whole set-up, as for [`verdict_of_pass`], and the largest error of the places judged.
#[must_use]
pub fn worst_of_setup(job: &Job, result: &JobResult, setup: &Setup) -> Option<(Verdict, f64)> {
    let passes = judged_passes(job, result);
    let stations = || passes.iter().filter(|judged| judged.setup.id == setup.id).flat_map(|judged| &judged.stations);
    let verdict = stations().filter_map(Judged::verdict).max()?;
    let error_mm = stations().map(|one| one.station.error_mm).max_by(|a, b| a.abs().total_cmp(&b.abs()))?;
    Some((verdict, error_mm))
}

/// One finding for each pass that takes something to the drawing: its worst place.
#[must_use]
pub fn findings(job: &Job, result: &JobResult) -> Vec<Finding> {
    judged_passes(job, result).iter().filter_map(|judged| finding_of(job, result, judged)).collect()
}

fn finding_of(job: &Job, result: &JobResult, judged: &JudgedPass<'_>) -> Option<Finding> {
    let units = job.units;
    let name = words::pass_name(job, judged.setup, judged.pass);
    let worst =
        judged.stations.iter().filter_map(|one| Some((one.used_ratio()?, one))).max_by(|a, b| a.0.total_cmp(&b.0));
    let reaching = (judged.stations.iter())
        .max_by(|a, b| a.band_outside_mm().total_cmp(&b.band_outside_mm()))
        .filter(|one| one.band_outside_mm() > ON_THE_LIMIT_MM);
    let (verdict, one) = match (worst, reaching) {
        (Some((_, one)), _) if one.verdict() == Some(Verdict::Trouble) => (Verdict::Trouble, one),
        (_, Some(reaching)) => return Some(only_by_the_middle_figures(job, judged, &name, reaching)),
        (Some((_, one)), None) => (one.verdict().unwrap_or(Verdict::Fine), one),
        (None, None) => {
            let largest =
                |a: &&Judged<'_>, b: &&Judged<'_>| a.station.error_mm.abs().total_cmp(&b.station.error_mm.abs());
            (Verdict::Fine, judged.stations.iter().max_by(largest)?)
        }
    };
    let land = land_name(job, one.allowed.land);
    let place = words::place(one.station.z_mm, units);
    let size = words::big_or_small(one.station.error_mm, units);
    let text = match verdict {
        _ if one.allowed.limits_mm.is_none() => {
            format!("{name}: {land} is at most {size}, at {place}; no tolerance is stated")
        }
        Verdict::Fine if size == words::TO_SIZE => format!("{name}: {land} is to size all along"),
        Verdict::Fine => format!("{name}: {land} keeps well within its tolerance; at most {size}, at {place}"),
        Verdict::Watch => format!("{name}: {land} is {size} at {place}, near the limit of its tolerance"),
        Verdict::Trouble => format!(
            "{name}: {land} is {size} at {place}, {} outside its tolerance",
            words::some(one.outside_mm(), units)
        ),
    };
    let why = if one.station.error_mm >= 0.0 {
        "The work springs away from the tool and comes out big; what is left can be cut by a spring pass, or kept from \
         springing by a rest, a lighter cut or a shorter overhang."
    } else {
        "The work stands nearer the tool here than the dial believes, so the tool takes too much. Look for a rest or a \
         tailstock off the axis."
    };
    Some(Finding {
        rule: "size",
        about: Subject::Pass(judged.setup.id, judged.pass.id),
        verdict,
        text,
        why: why.to_owned(),
        z_mm: Some(one.station.z_mm),
        remedy: match verdict {
            Verdict::Fine => None,
            Verdict::Watch => dial_to_the_middle(job, judged),
            Verdict::Trouble => dial_to_the_middle(job, judged).or_else(|| spring_pass_remedy(result, judged)),
        },
        behind: behind(job, judged.setup, one, one.station.error_mm, "error"),
    })
}

/// A pass that keeps its tolerance as far as the figures as they stand go, but not all along its band.
fn only_by_the_middle_figures(job: &Job, judged: &JudgedPass<'_>, name: &str, one: &Judged<'_>) -> Finding {
    let land = land_name(job, one.allowed.land);
    let place = words::place(one.station.z_mm, job.units);
    let outside = words::some(one.band_outside_mm(), job.units);
    Finding {
        rule: "size",
        about: Subject::Pass(judged.setup.id, judged.pass.id),
        verdict: Verdict::Watch,
        text: format!(
            "{name}: {land} is within its tolerance by the middle figures; at {place} the band reaches {outside} outside"
        ),
        why:
            "Force and stiffness are not known better than the band is wide. Measure after the pass before this one; a \
              stiffer holding or a lighter cut makes the band narrower, and so does every stiffness you state yourself."
                .to_owned(),
        z_mm: Some(one.station.z_mm),
        remedy: dial_remedy(job, judged, |one| one.edges_mm),
        behind: {
            let [low_mm, high_mm] = one.edges_mm;
            let (lower_mm, upper_mm) = one.allowed.limits_mm.unwrap_or_default();
            let edge_mm = if high_mm - upper_mm >= lower_mm - low_mm { high_mm } else { low_mm };
            behind(job, judged.setup, one, edge_mm, "edge of the band")
        },
    }
}

/// The error, and how `off_mm` (it, or an edge of its band) lies in what the drawing allows.
fn behind(job: &Job, setup: &Setup, one: &Judged<'_>, off_mm: f64, what: &str) -> Why {
    let why = of_error(job, setup, one.station, Measured::Outside);
    let Some((lower_mm, upper_mm)) = one.allowed.limits_mm else { return why };
    let half_mm = f64::midpoint(lower_mm, upper_mm);
    let (side, words, far_mm, near_mm) = if off_mm >= half_mm {
        ("big", format!("{what} \u{2212} what may be left on"), off_mm, upper_mm)
    } else {
        ("small", format!("what may be missing \u{2212} {what}"), lower_mm, off_mm)
    };
    let outside_mm = far_mm - near_mm;
    let (gives, far_mm, near_mm) =
        if outside_mm >= 0.0 { ("outside", far_mm, near_mm) } else { ("room left", near_mm, far_mm) };
    let words =
        if outside_mm >= 0.0 { words } else { format!("what the drawing allows \u{2212} {what}, on the {side} side") };
    let numbers = format!("{} \u{2212} {}", size(far_mm), size(near_mm));
    why.with(Sum::figure(gives, &words, numbers, words::amount(outside_mm, job.units)))
}

fn land_name(job: &Job, land: usize) -> String {
    match job.shaft.wanted.get(land) {
        Some(wanted) if !wanted.name.is_empty() => format!("the {}", wanted.name),
        Some(wanted) => {
            let larger_mm = wanted.land.start_diameter_mm.max(wanted.land.end_diameter_mm);
            format!("the \u{d8} {}", words::diameter(larger_mm, job.units))
        }
        None => "the work".to_owned(),
    }
}

/// The dial that keeps the whole band, else the one that keeps the curve.
fn dial_to_the_middle(job: &Job, judged: &JudgedPass<'_>) -> Option<(String, Edit)> {
    dial_remedy(job, judged, |one| one.edges_mm).or_else(|| dial_remedy(job, judged, |one| [one.station.error_mm; 2]))
}

/// A dial that puts all places about the middle of what is allowed, where there is one.
fn dial_remedy(
    job: &Job,
    judged: &JudgedPass<'_>,
    edges_mm: impl Fn(&Judged<'_>) -> [f64; 2],
) -> Option<(String, Edit)> {
    let mut least_mm = f64::NEG_INFINITY;
    let mut most_mm = f64::INFINITY;
    for one in &judged.stations {
        let Some((lower_mm, upper_mm)) = one.allowed.limits_mm else { continue };
        let [low_mm, high_mm] = edges_mm(one);
        least_mm = least_mm.max(lower_mm - low_mm);
        most_mm = most_mm.min(upper_mm - high_mm);
    }
    if !(least_mm.is_finite() && most_mm.is_finite() && least_mm < most_mm) {
        return None;
    }
    // Whole micrometres: nobody sets a dial finer.
    let shift_mm = (f64::midpoint(least_mm, most_mm) * 1000.0).round() / 1000.0;
    if shift_mm == 0.0 {
        return None;
    }
    // A spring pass has the dial of the pass before it.
    let index = judged.setup.passes.iter().position(|pass| pass.id == judged.pass.id)?;
    let dial_pass = judged.setup.passes[..=index].iter().rev().find(|pass| pass.kind != PassKind::Spring)?;
    let cut = match dial_pass.cut {
        Cut::ToDrawing { leave_on_diameter_mm } => {
            Cut::ToDrawing { leave_on_diameter_mm: leave_on_diameter_mm + shift_mm }
        }
        Cut::ToDiameter { diameter_mm } => Cut::ToDiameter { diameter_mm: diameter_mm + shift_mm },
        Cut::Depth { .. } => return None,
    };
    let words = format!(
        "Set the dial {} {}",
        words::amount(shift_mm, job.units),
        if shift_mm < 0.0 { "smaller" } else { "larger" }
    );
    Some((words, Edit::SetPass { setup: judged.setup.id, pass: Pass { cut, ..dial_pass.clone() } }))
}

/// Another spring pass, where spring is what is wrong.
fn spring_pass_remedy(result: &JobResult, judged: &JudgedPass<'_>) -> Option<(String, Edit)> {
    let index = judged.setup.passes.iter().position(|pass| pass.id == judged.pass.id)?;
    let worst = judged.stations.iter().max_by(|a, b| a.outside_mm().total_cmp(&b.outside_mm()))?;
    if worst.outside_mm() <= 0.0 || spring_pass_was_no_help(result, judged, index, worst.station) {
        return None;
    }
    let spring_pass = Pass { kind: PassKind::Spring, ..judged.pass.clone() };
    Some(("Add a spring pass".to_owned(), Edit::AddPass { setup: judged.setup.id, at: index + 1, pass: spring_pass }))
}

/// The pass is already a spring pass, and hardly mended what the one before left: the error is not spring.
fn spring_pass_was_no_help(result: &JobResult, judged: &JudgedPass<'_>, index: usize, worst: &Station) -> bool {
    if judged.pass.kind != PassKind::Spring {
        return false;
    }
    let before = index.checked_sub(1).and_then(|before| result.pass(judged.setup.passes[before].id));
    let Some(before) = before else { return false };
    let same_place =
        before.stations.iter().min_by(|a, b| (a.z_mm - worst.z_mm).abs().total_cmp(&(b.z_mm - worst.z_mm).abs()));
    same_place.is_some_and(|station| worst.error_mm > 0.8 * station.error_mm)
}
