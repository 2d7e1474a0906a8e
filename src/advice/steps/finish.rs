//! Measuring, writing down, letting go.

use super::{Holding, Step};

pub(super) fn steps(here: &Holding<'_>) -> Vec<Step> {
    let mut steps = vec![Step::new(
        "measure",
        "Stop, draw the tool back by the carriage, cross slide untouched; measure where the table says, fill its boxes, tick \
         what was warm.",
        "Typed back in, the readings tell tailstock, spring and drift apart. Common practice, no source.",
    )];
    if here.has_tail() || here.has_rest() {
        steps.push(Step::new(
            "let go",
            "To let go: block or hang heavy work first, ease the centre, open the rests, read the run-out again.",
            "Movement when let go is strain that was held in. Blocking: common practice.",
        ));
    }
    steps
}
