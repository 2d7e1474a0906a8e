//! Measuring, writing down, letting go.

use super::{Holding, Step};

pub(super) fn steps(here: &Holding<'_>) -> Vec<Step> {
    let mut steps = vec![Step::new(
        "measure",
        "Stop the spindle, draw the tool back by the carriage and leave the cross slide where it is; measure at the places \
         of the table and write the sizes into its boxes, with a tick for warm or cold.",
        "Typed back in, the readings tell tailstock, spring and drift apart. Common practice, no source.",
    )];
    if here.has_tail() || here.has_rest() {
        steps.push(Step::new(
            "let go",
            "To let go: block heavy work or hang it up first, then ease the centre, open the rests, and read the run-out again \
             on the free work.",
            "Movement when let go is strain that was held in. Blocking: common practice.",
        ));
    }
    steps
}
