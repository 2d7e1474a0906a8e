//! A speed that the gearbox does not have.
//!
//! Source: where the exact speed is not there the next lower step is taken (a note on stepped drives, read).

use super::why::spindle::step;
use super::words;
use super::{Finding, Verdict};
use crate::job::quantity::{self, Kind};
use crate::job::{Edit, Job, Pass, Setup, Subject};
use crate::study::JobResult;
use crate::study::machine::{has_speed, real_speed_rpm};

/// At most one finding a set-up, with all its passes.
#[must_use]
pub fn findings(job: &Job, _result: &JobResult) -> Vec<Finding> {
    job.setups.iter().filter_map(|setup| finding_of(job, setup)).collect()
}

fn finding_of(job: &Job, setup: &Setup) -> Option<Finding> {
    let off: Vec<&Pass> = setup.passes.iter().filter(|pass| !has_speed(&job.lathe, pass.speed_rpm)).collect();
    let first = off.first()?;
    let show = |speed_rpm: f64| quantity::show(speed_rpm, Kind::SpindleSpeed, job.units);
    let stepped = |pass: &Pass| Pass { speed_rpm: real_speed_rpm(&job.lathe, pass.speed_rpm), ..pass.clone() };
    let to = stepped(first).speed_rpm;
    let text = match off.len() {
        1 => format!(
            "{} turns at {}, which the gearbox does not have; the step to take is {}",
            words::pass_name(job, setup, first),
            show(first.speed_rpm),
            show(to)
        ),
        n_off => words::capital(&format!(
            "{}{n_off} passes turn at speeds the gearbox does not have",
            words::of_setup(job, setup)
        )),
    };
    let edits: Vec<Edit> = off.iter().map(|pass| Edit::SetPass { setup: setup.id, pass: stepped(pass) }).collect();
    let words = if off.len() == 1 { format!("Turn at {}", show(to)) } else { "Take the steps there are".to_owned() };
    Some(Finding {
        rule: "speed_step",
        about: if off.len() == 1 { Subject::Pass(setup.id, first.id) } else { Subject::Setup(setup.id) },
        verdict: Verdict::Watch,
        text,
        why: "What is computed holds for the speed that is set. Between two steps the lower one is the usual choice; \
              where the lathe has other speeds, put them on its page."
            .to_owned(),
        z_mm: None,
        remedy: Some((words, Edit::Together(edits))),
        behind: step(job, Kind::SpindleSpeed, first.speed_rpm, to),
    })
}
