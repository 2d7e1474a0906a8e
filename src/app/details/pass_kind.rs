//! What the fields of a pass are called for its kind, what a pass begins with when its kind is changed, and the usual
//! passes of a thread.

use crate::job::quantity::Units;
use crate::job::{Cut, Edit, FeatureKind, Job, Pass, PassKind, Setup};
use crate::study::thread::{full_depth_mm, usual_infeeds_mm};

/// Kinds as they are called in the list.
pub const KINDS: &[(PassKind, &str)] = &[
    (PassKind::Turn, "turn"),
    (PassKind::Spring, "spring pass"),
    (PassKind::Thread, "thread"),
    (PassKind::Face, "face"),
    (PassKind::Drill, "drill"),
    (PassKind::Bore, "bore"),
    (PassKind::Groove, "groove"),
    (PassKind::Part, "part off"),
];

/// What a dial set to each of the three ways is called: so much, to a diameter, along the drawing; first in the list,
/// then at its number. `None` where that way cuts nothing for this kind.
pub struct CutNames {
    pub depth: Option<(&'static str, &'static str)>,
    pub to_diameter: (&'static str, &'static str),
    pub to_drawing: Option<(&'static str, &'static str)>,
}

/// The names for a kind; `None` where the dial has nothing to say.
#[must_use]
pub fn cut_names(kind: PassKind) -> Option<CutNames> {
    Some(match kind {
        PassKind::Spring | PassKind::Part => return None,
        PassKind::Turn => CutNames {
            depth: Some(("so much off", "Off the diameter")),
            to_diameter: ("to one diameter", "To diameter"),
            to_drawing: Some(("along the drawing", "Leaving, on diameter")),
        },
        PassKind::Groove => CutNames {
            depth: Some(("so deep", "Depth, on diameter")),
            to_diameter: ("to the floor's diameter", "Diameter of the floor"),
            to_drawing: Some(("along the drawing", "Leaving, on diameter")),
        },
        PassKind::Thread => CutNames {
            depth: Some(("so much deeper", "Deeper, on diameter")),
            to_diameter: ("to one root diameter", "To root diameter"),
            to_drawing: Some(("to the full depth", "Leaving, on diameter")),
        },
        PassKind::Face => CutNames {
            depth: Some(("the whole face", "Off the face")),
            to_diameter: ("down to one diameter", "Down to diameter"),
            to_drawing: None,
        },
        PassKind::Drill => CutNames { depth: None, to_diameter: ("drill", "Drill diameter"), to_drawing: None },
        PassKind::Bore => CutNames {
            depth: Some(("so much wider", "Wider, on diameter")),
            to_diameter: ("to one bore", "To bore diameter"),
            to_drawing: None,
        },
    })
}

/// A sentence on what the program takes a pass of this kind to be, where that is not plain.
#[must_use]
pub fn hint(kind: PassKind) -> Option<&'static str> {
    match kind {
        PassKind::Turn | PassKind::Spring => None,
        PassKind::Thread => Some(
            "Fed straight in on the bottom of the thread; crests stay. Sizes and errors are those of the root. A spring \
             pass after it repeats it.",
        ),
        PassKind::Face => Some("Faced where the pass ends. The length of the work stays as it is."),
        PassKind::Drill => Some("Along the tailstock's axis, which may be set off the spindle's."),
        PassKind::Bore => {
            Some("In the hole that is there. The bar's own give is not known here: a slender bar leaves more.")
        }
        PassKind::Groove => Some("The tool is as wide as the stretch and goes straight in. A spring pass is a dwell."),
        PassKind::Part => Some("The tool is as wide as the stretch; to the middle or the bore."),
    }
}

/// A pass whose kind was just changed to `pass.kind`: what makes no sense for it is set to what usually does.
pub fn begin(job: &Job, setup: &Setup, pass: &mut Pass) {
    match pass.kind {
        PassKind::Thread => {
            pass.feed_mm_per_rev = drawn_pitch_mm(job, setup, pass).unwrap_or(match job.units {
                Units::Metric => 2.0,
                Units::Inch => 25.4 / 12.0,
            });
            pass.cut = Cut::Depth { on_diameter_mm: 2.0 * usual_infeeds_mm(pass.feed_mm_per_rev)[0] };
        }
        PassKind::Face => {
            pass.cut = Cut::Depth { on_diameter_mm: 0.5 };
            let end_mm = pass.span_mm().1;
            (pass.from_z_mm, pass.to_z_mm) = (end_mm, end_mm);
        }
        PassKind::Drill => pass.cut = Cut::ToDiameter { diameter_mm: hole_mm(job) },
        PassKind::Bore => pass.cut = Cut::Depth { on_diameter_mm: 1.0 },
        _ => {}
    }
    if matches!(pass.kind, PassKind::Groove | PassKind::Part) {
        // A tool of the usual width at the headstock end of the stretch.
        let (low_mm, high_mm) = pass.span_mm();
        let wide_mm = (high_mm - low_mm).clamp(0.0, 3.0);
        (pass.from_z_mm, pass.to_z_mm) = (low_mm + wide_mm, low_mm);
    }
}

/// Pitch of a thread that the shaft has somewhere along the pass.
fn drawn_pitch_mm(job: &Job, setup: &Setup, pass: &Pass) -> Option<f64> {
    let (from_z_mm, to_z_mm) = pass.span_mm();
    let (a, b) = (setup.s_of_z_mm(&job.shaft, from_z_mm), setup.s_of_z_mm(&job.shaft, to_z_mm));
    job.shaft.features.iter().find_map(|feature| match feature.kind {
        FeatureKind::Thread { pitch_mm } if feature.from_s_mm < a.max(b) && feature.to_s_mm > a.min(b) => {
            Some(pitch_mm)
        }
        _ => None,
    })
}

/// A modest hole: a quarter of the work, in whole millimetres.
fn hole_mm(job: &Job) -> f64 {
    (0.25 * job.shaft.max_diameter_mm()).round().max(1.0)
}

/// This thread pass as the first of the usual ones, the others after it; the last goes to the full depth.
#[must_use]
pub fn usual_passes(setup: &Setup, pass: &Pass) -> Option<Edit> {
    let at = setup.passes.iter().position(|other| other.id == pass.id)?;
    let infeeds_mm = usual_infeeds_mm(pass.feed_mm_per_rev);
    let (first_mm, rest_mm) = infeeds_mm.split_first()?;
    let deeper = |infeed_mm: f64| Pass { cut: Cut::Depth { on_diameter_mm: 2.0 * infeed_mm }, ..pass.clone() };
    let mut edits = vec![Edit::SetPass { setup: setup.id, pass: deeper(*first_mm) }];
    for (index, infeed_mm) in rest_mm.iter().enumerate() {
        edits.push(Edit::AddPass { setup: setup.id, at: at + 1 + index, pass: deeper(*infeed_mm) });
    }
    if let Some(Edit::AddPass { pass: last, .. }) = edits.last_mut() {
        last.cut = Cut::ToDrawing { leave_on_diameter_mm: 0.0 };
    }
    Some(Edit::Together(edits))
}

/// What the button for them says.
#[must_use]
pub fn usual_passes_words(pitch_mm: f64, units: Units) -> String {
    let depth = crate::advice::words::diameter(full_depth_mm(pitch_mm), units);
    format!("Cut it in {} usual passes, {depth} deep", usual_infeeds_mm(pitch_mm).len())
}
