//! Everything but the window, checked against textbooks, standards, plain second methods and properties.

mod advice;
mod band;
mod beam_case;
mod checks;
mod close;
mod contact;
mod cutting;
mod dense;
mod edits;
mod examples;
mod files;
mod headless;
mod lying_work;
mod pictures;
mod properties;
mod published_beams;
mod quantity;
mod quiet;
mod quiet_result;
mod random_edits;
mod random_job;
mod second_method;
mod sweep;
mod tolerances;
mod worked_jobs;
