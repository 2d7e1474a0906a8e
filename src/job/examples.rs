//! Invented example jobs, embedded in the program.
use super::Job;
/// One.
pub struct Example {
    pub key: &'static str,
    pub title: &'static str,
}
/// All.
pub const EXAMPLES: &[Example] = &[Example { key: "x", title: "x" }];
/// Load.
pub fn load(_key: &str) -> Result<Job, String> {
    Err("no".into())
}
/// Opening.
pub fn opening() -> Job {
    crate::app::new_job::NewJobForm::new(super::Units::Metric).build().unwrap()
}
