//! The window's tests, driven as a person would: by label and role, with keys and pointer, without a display.

mod bands;
mod bench;
mod comparing;
mod coverage;
mod curves;
mod desk;
mod details;
mod drafts;
mod ease;
mod entry;
mod fields;
mod files;
mod finished_part;
mod forms;
mod gallery;
mod hands;
#[path = "../engine/jargon_words.rs"]
mod jargon_words;
mod key_list;
mod kinds;
mod labels;
mod lively;
#[path = "../engine/lot.rs"]
mod lot;
mod pins_kept;
mod places;
mod plan;
mod play;
#[path = "../engine/quiet.rs"]
mod quiet;
mod random_events;
#[expect(dead_code, reason = "some of it is for the engine's tests only")]
#[path = "../engine/random_job.rs"]
mod random_job;
mod sheets;
mod standing;
mod turning;
mod undo;
mod why;
mod window;
