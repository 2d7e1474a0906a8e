//! Findings: what a turner should know of a computed job, one rule a file, each with its evidence.

use crate::job::{Edit, Job, Subject};
use crate::study::JobResult;

/// How bad it is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Verdict {
    Fine,
    Watch,
    Trouble,
}

/// One thing to know, in a turner's words.
#[derive(Clone, Debug, PartialEq)]
pub struct Finding {
    pub about: Subject,
    pub verdict: Verdict,
    /// One short sentence with the numbers in it, in the job's units.
    pub text: String,
    /// Why it matters, one or two sentences.
    pub why: String,
    /// The place on the work it is about.
    pub z_mm: Option<f64>,
    /// An edit that mends it, with the words on its button.
    pub remedy: Option<(String, Edit)>,
}

/// All findings, worst first.
#[must_use]
pub fn findings(job: &Job, result: &JobResult) -> Vec<Finding> {
    let _ = (job, result);
    Vec::new()
}
