//! What the advice says of a job, without what is only "fine".

use midspan::advice::{Finding, Verdict, findings};
use midspan::job::Job;
use midspan::study::JobResult;

/// What is to be said beyond "fine".
pub fn remarks(job: &Job, result: &JobResult) -> Vec<Finding> {
    findings(job, result).into_iter().filter(|finding| finding.verdict > Verdict::Fine).collect()
}

/// The one remark there is.
pub fn only(job: &Job, result: &JobResult) -> Finding {
    let mut all = remarks(job, result);
    assert_eq!(all.len(), 1, "{all:#?}");
    all.remove(0)
}
