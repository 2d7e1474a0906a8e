//! Before the work goes into the lathe: ways, bases, the spots, the place of everything.

use super::{Holding, Step};
use crate::job::{FeatureKind, Sleeve};

pub(super) fn steps(here: &Holding<'_>) -> Vec<Step> {
    let mut steps = Vec::new();
    let bases = match (here.setup.rests.is_empty(), here.has_tail()) {
        (false, true) => "Clean the ways, the feet of the rests and the base of the tailstock",
        (false, false) => "Clean the ways and the feet of the rests",
        (true, true) => "Clean the ways and the base of the tailstock",
        (true, false) => "Clean the ways where the carriage runs",
    };
    steps.push(Step::new(
        "clean",
        format!("{bases}; oil them thinly. A board over the ways for heavy or rough work."),
        "A chip under a foot puts it off the axis, and dropped work dents the ways. Common practice, no source.",
    ));
    if here.setup.end_for_end {
        steps.push(Step::new(
            "end for end",
            "The shaft is turned end for end: end A is at the tailstock.",
            "Distances on this sheet are from the jaw face of this set-up, not from the end of the part.",
        ));
    }
    for (number, rest) in here.rests() {
        if rest.sleeve != Sleeve::None || has_spot(here, rest.z_mm) {
            continue;
        }
        let width_mm = here.job.lathe.rest_jaw_width_mm.value;
        let s_mm = here.setup.s_of_z_mm(&here.job.shaft, rest.z_mm);
        let size = here
            .job
            .dial_diameter_into_mm(here.setup.id, s_mm)
            .map_or_else(String::new, |mm| format!(", on \u{d8} {}", here.diameter(mm)));
        steps.push(Step::new(
            "spot",
            format!(
                "Steady {number}: turn a true spot at {}, {} wide{size}; light cuts, sharp tool, the ends carrying the work. \
                 Polish it, take the burrs off.",
                here.length(rest.z_mm),
                here.length((1.25 * width_mm).max(width_mm + 2.0)),
            ),
            "Every lobe and burr of the spot is copied into the work. A little wider than the jaws: textbooks on the \
             steady rest. Where it is too weak there, spot nearer to a support first and move the rest on.",
        ));
    }
    steps
}

/// A true spot or seat was marked on the drawing under this place.
fn has_spot(here: &Holding<'_>, z_mm: f64) -> bool {
    let s_mm = here.setup.s_of_z_mm(&here.job.shaft, z_mm);
    here.job
        .shaft
        .features
        .iter()
        .any(|feature| feature.kind == FeatureKind::TrueSpot && feature.from_s_mm <= s_mm && s_mm <= feature.to_s_mm)
}
