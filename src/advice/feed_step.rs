//! A feed that the feed box does not have.
//!
//! Only for passes that the carriage feeds along the bed: a drill is fed by hand, a thread by its pitch, and the cross
//! feed of facing and grooving has steps of its own. Source: common practice, no source.

use super::why::spindle::step;
use super::words;
use super::{Finding, Verdict};
use crate::job::quantity::{self, Kind};
use crate::job::{Edit, Job, Pass, PassKind, Setup, Subject};
use crate::study::JobResult;
use crate::study::machine::{has_feed, real_feed_mm_per_rev};
use crate::study::task::repeated;

/// At most one finding a set-up, with all its passes.
#[must_use]
pub fn findings(job: &Job, _result: &JobResult) -> Vec<Finding> {
    job.setups.iter().filter_map(|setup| finding_of(job, setup)).collect()
}

fn finding_of(job: &Job, setup: &Setup) -> Option<Finding> {
    // The feed of a thread is its pitch, and a spring pass has that of the pass it repeats.
    let fed_along = |pass: &&Pass| matches!(repeated(setup, pass).kind, PassKind::Turn | PassKind::Bore);
    let off: Vec<&Pass> =
        (setup.passes.iter().filter(fed_along)).filter(|pass| !has_feed(&job.lathe, pass.feed_mm_per_rev)).collect();
    let first = off.first()?;
    let show = |feed_mm: f64| quantity::show(feed_mm, Kind::Feed, job.units);
    let stepped =
        |pass: &Pass| Pass { feed_mm_per_rev: real_feed_mm_per_rev(&job.lathe, pass.feed_mm_per_rev), ..pass.clone() };
    let to = stepped(first).feed_mm_per_rev;
    let text = match off.len() {
        1 => format!(
            "{} feeds {}, which the feed box does not have; the nearest is {}",
            words::pass_name(job, setup, first),
            show(first.feed_mm_per_rev),
            show(to)
        ),
        n_off => words::capital(&format!(
            "{}{n_off} passes have feeds the feed box does not have",
            words::of_setup(job, setup)
        )),
    };
    let edits: Vec<Edit> = off.iter().map(|pass| Edit::SetPass { setup: setup.id, pass: stepped(pass) }).collect();
    let words = if off.len() == 1 { format!("Feed {}", show(to)) } else { "Take the nearest feeds".to_owned() };
    Some(Finding {
        rule: "feed_step",
        about: if off.len() == 1 { Subject::Pass(setup.id, first.id) } else { Subject::Setup(setup.id) },
        verdict: Verdict::Watch,
        text,
        why:
            "Force and finish are computed for the feed that is set. Where the lathe has other feeds, put them on its \
              page."
                .to_owned(),
        z_mm: None,
        remedy: Some((words, Edit::Together(edits))),
        behind: step(job, Kind::Feed, first.feed_mm_per_rev, to),
    })
}
