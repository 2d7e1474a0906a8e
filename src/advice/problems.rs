//! What does not make sense in the job, as findings: the study cannot be trusted while one of these stands.

use super::why::Why;
use super::{Finding, Verdict, chuck_speed, endways};
use crate::job::{Job, Problem, Subject};
use crate::study::JobResult;

/// One finding for each problem of [`Job::check`], but for what a rule with a remedy tells as well.
#[must_use]
pub fn findings(job: &Job, _result: &JobResult) -> Vec<Finding> {
    job.check()
        .into_iter()
        .filter(|problem| !told_by_endways(job, problem) && !told_by_chuck_speed(job, problem))
        .map(|problem| Finding {
            rule: "problems",
            about: problem.about,
            verdict: Verdict::Trouble,
            text: problem.text,
            why: "The figures below stand on numbers that cannot be; put this right first.".to_owned(),
            z_mm: None,
            remedy: None,
            behind: Why::new(
                "A check of what is stated: figures that cannot be together. Nothing is worked out.",
                "geometry, and the measures of the lathe",
                "as sure as what is stated",
            ),
        })
        .collect()
}

/// The missing hold-back is told by [`endways`], which can mend it.
fn told_by_endways(job: &Job, problem: &Problem) -> bool {
    let Subject::Drive(id) = problem.about else { return false };
    problem.text.contains("hold-back") && job.setup(id).is_some_and(endways::can_leave_its_centre)
}

/// A speed above the chuck's mark is told by [`chuck_speed`].
fn told_by_chuck_speed(job: &Job, problem: &Problem) -> bool {
    let Subject::Pass(setup, pass) = problem.about else { return false };
    let told = || {
        let setup = job.setup(setup)?;
        Some(chuck_speed::is_above_the_mark(job, setup, setup.pass(pass)?))
    };
    problem.text.contains("the chuck is stamped") && told() == Some(true)
}
