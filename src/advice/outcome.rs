//! What a pass comes to where a curve of sizes does not say it: threads, grooves, parting, faces, holes and bores.
//!
//! Words only; the figures are the study's.

use super::words;
use crate::job::{Job, Pass, PassKind, Units};
use crate::study::{EndWork, Measured, PassResult, Plunge, Status};

/// An error on diameter, in the words of what is measured: "8 µm big", "root 8 µm big", "bore 8 µm small".
#[must_use]
pub fn error_words(measured: Measured, error_mm: f64, units: Units) -> String {
    let size = words::big_or_small(error_mm, units);
    match measured {
        Measured::ThreadRoot => format!("root {size}"),
        Measured::Bore => format!("bore {size}"),
        Measured::Outside | Measured::Nothing => size,
    }
}

/// What the root's error makes of a thread: "too shallow", "too deep", "of full depth".
#[must_use]
pub fn depth_words(error_mm: f64, units: Units) -> &'static str {
    match (words::big_or_small(error_mm, units).as_str(), error_mm > 0.0) {
        (words::TO_SIZE, _) => "as deep as the dial",
        (_, true) => "too shallow",
        (_, false) => "too deep",
    }
}

/// "12 µm hollow", "12 µm domed", "flat".
#[must_use]
pub fn hollow_or_domed(dish_mm: f64, units: Units) -> String {
    either(dish_mm, "hollow", "domed", "flat", units)
}

/// "15 µm larger at the mouth over 75 mm": how a bore's diameter changes along it.
#[must_use]
pub fn bore_words(result: &PassResult, units: Units) -> Option<String> {
    let (deep, mouth) = (result.stations.first()?, result.stations.last()?);
    let growth_mm = mouth.left_diameter_mm - deep.left_diameter_mm;
    let change = either(growth_mm, "larger at the mouth", "tighter at the mouth", "straight", units);
    Some(format!("{change} over {}", words::length(mouth.z_mm - deep.z_mm, units)))
}

/// "4 µm away and 1 µm up", "on the axis".
#[must_use]
pub fn place_words(off_mm: [f64; 2], units: Units) -> String {
    off_words(off_mm, units).unwrap_or_else(|| "on the axis".to_owned())
}

/// "4 µm away and 1 µm up"; nothing where it is too little to be told.
#[must_use]
pub fn off_words(off_mm: [f64; 2], units: Units) -> Option<String> {
    let told = [words::away_or_toward(off_mm[0], units), words::up_or_down(off_mm[1], units)];
    let told: Vec<&str> = told.iter().map(String::as_str).filter(|text| words::has_size(text)).collect();
    (!told.is_empty()).then(|| told.join(" and "))
}

/// The name and value of each figure that belongs to this kind of pass, besides its largest error.
#[must_use]
pub fn lines(job: &Job, pass: &Pass, result: &PassResult) -> Vec<(&'static str, String)> {
    let mut lines = Vec::new();
    if let Some(worst) = result.worst().filter(|_| result.measured == Measured::ThreadRoot) {
        lines.push(("the thread is", depth_words(worst.error_mm, job.units).to_owned()));
    }
    if let Some(plunge) = &result.plunge {
        lines.extend(plunge_lines(plunge, job.units));
    }
    if let Some(end) = &result.end {
        lines.extend(end_lines(pass.kind, end, result, job.units));
    }
    lines
}

/// One sentence for a plot that has no curve to show, where the pass was worked out.
#[must_use]
pub fn sentence(job: &Job, pass: &Pass, result: &PassResult) -> Option<String> {
    let units = job.units;
    if !matches!(result.status, Status::Solved | Status::StoppedEarly) || result.measured != Measured::Nothing {
        return None;
    }
    if let Some(plunge) = &result.plunge {
        return Some(format!(
            "Parting leaves no diameter. The work gives way {} when the tool begins and {} half way through the wall.",
            words::amount(size_mm(plunge.spring_at_start_mm), units),
            words::amount(size_mm(plunge.spring_at_bottom_mm), units),
        ));
    }
    let end = result.end.as_ref()?;
    let off = place_words([end.off_x_mm, end.off_y_mm], units);
    if pass.kind == PassKind::Drill {
        return Some(match off.as_str() {
            "on the axis" => "The drill meets the work in its middle.".to_owned(),
            _ => format!("The middle of the work lies {off} from the drill's axis where the hole begins."),
        });
    }
    let face = hollow_or_domed(end.dish_mm?, units);
    let pip = match end.pip_mm.map(|pip_mm| words::amount(pip_mm, units)).filter(|pip| words::has_size(pip)) {
        Some(pip) => format!(", with a pip of {pip} in its middle"),
        None => String::new(),
    };
    Some(format!("The face comes out {face}{pip}."))
}

fn plunge_lines(plunge: &Plunge, units: Units) -> Vec<(&'static str, String)> {
    let spring = |mm: [f64; 2]| format!("{}, {}", words::away_or_toward(mm[0], units), words::up_or_down(mm[1], units));
    let bottom = if plunge.dwell_error_mm.is_some() { "at the bottom" } else { "half way through" };
    let mut lines =
        vec![("Spring, to begin", spring(plunge.spring_at_start_mm)), (bottom, spring(plunge.spring_at_bottom_mm))];
    if let Some(error_mm) = plunge.fed_out_error_mm {
        lines.push(("drawn out at once", words::big_or_small(error_mm, units)));
    }
    if let Some(error_mm) = plunge.dwell_error_mm {
        lines.push(("after a dwell", words::big_or_small(error_mm, units)));
    }
    lines
}

fn end_lines(kind: PassKind, end: &EndWork, result: &PassResult, units: Units) -> Vec<(&'static str, String)> {
    let off = place_words([end.off_x_mm, end.off_y_mm], units);
    let mut lines = Vec::new();
    if let Some(dish_mm) = end.dish_mm {
        lines.push(("Face", hollow_or_domed(dish_mm, units)));
    }
    if let Some(pip_mm) = end.pip_mm {
        lines.push(("pip in its middle", words::amount(pip_mm, units)));
    }
    if end.bore_taper_mm_per_100mm.is_some()
        && let Some(bore) = bore_words(result, units)
    {
        lines.push(("Bore", bore));
    }
    lines.push(if kind == PassKind::Drill { ("Work off the drill", off) } else { ("Work lies there", off) });
    lines
}

/// An amount with one of two words, or a third where it rounds to nothing.
fn either(value_mm: f64, above: &str, below: &str, nothing: &str, units: Units) -> String {
    let amount = words::amount(value_mm, units);
    match (words::has_size(&amount), value_mm > 0.0) {
        (false, _) => nothing.to_owned(),
        (true, true) => format!("{amount} {above}"),
        (true, false) => format!("{amount} {below}"),
    }
}

fn size_mm(off_mm: [f64; 2]) -> f64 {
    off_mm[0].hypot(off_mm[1])
}
