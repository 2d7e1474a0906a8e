//! What does not make sense in the job, as findings: the study cannot be trusted while one of these stands.

use super::{Finding, Verdict};
use crate::job::Job;
use crate::study::JobResult;

/// One finding for each problem of [`Job::check`].
#[must_use]
pub fn findings(job: &Job, _result: &JobResult) -> Vec<Finding> {
    job.check()
        .into_iter()
        .map(|problem| Finding {
            rule: "problems",
            about: problem.about,
            verdict: Verdict::Trouble,
            text: problem.text,
            why: "The figures below stand on numbers that cannot be; put this right first.".to_owned(),
            z_mm: None,
            remedy: None,
        })
        .collect()
}
