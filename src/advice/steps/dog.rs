//! The work on the headstock centre, turned by a dog.

use super::{Holding, Step};
use crate::job::DogKind;

pub(super) fn steps(here: &Holding<'_>) -> Vec<Step> {
    if !here.on_centre() {
        return Vec::new();
    }
    let drive = &here.setup.drive;
    let mut steps = vec![Step::new(
        "centre holes",
        "Clean both centre holes and the headstock centre; see that it runs true.",
        "What sits on dirt or on a burr turns out of true. Common practice, no source.",
    )];
    steps.push(match drive.dog.kind {
        DogKind::OneTail => Step::new(
            "dog",
            "Clamp the dog (copper under its screw on finished work), its tail clear of the bottom of the slot.",
            "A tail that touches the bottom pushes the work off its centre. Common practice, no source.",
        ),
        DogKind::TwoTails => Step::new(
            "dog",
            "Clamp the dog, both tails bearing alike on the drive plate.",
            "Two tails that pull alike turn the work and do not push it sideways. Common practice, no source.",
        ),
    });
    if !here.has_tail() {
        steps.push(if drive.hold_back {
            Step::new(
                "hold-back",
                "Tie the work back on the headstock centre: lacing drawn tight, or a clamp across the dog. Try it by hand.",
                "With the outer end in a rest nothing else keeps the work on the centre. Textbooks on the steady rest.",
            )
        } else {
            Step::new(
                "hold-back",
                "Nothing holds this work on the headstock centre. Do not start before it is tied back (tight lacing, or a clamp \
                 across the dog) or has a centre in the tailstock.",
                "Work that leaves its centre is thrown. Textbooks on the steady rest.",
            )
        });
    }
    steps
}
