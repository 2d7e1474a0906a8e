//! The window's tests, driven as a person would: by label and role, with keys and pointer, without a display.

mod bands;
mod bench;
mod coverage;
mod curves;
mod desk;
mod details;
mod drafts;
mod ease;
mod entry;
mod fields;
mod files;
mod forms;
mod gallery;
mod hands;
mod key_list;
mod kinds;
mod labels;
mod lively;
mod places;
mod plan;
mod play;
#[path = "../engine/quiet.rs"]
mod quiet;
#[expect(dead_code, reason = "some of it is for the engine's tests only")]
#[path = "../engine/random_job.rs"]
mod random_job;
mod sheets;
mod standing;
mod turning;
mod undo;
mod window;
