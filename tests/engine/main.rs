//! Everything but the window, checked against textbooks, standards, plain second methods and properties.

mod advice;
mod beam_case;
mod checks;
mod close;
mod dense;
mod edits;
mod examples;
mod files;
mod published_beams;
mod quantity;
mod quiet;
mod quiet_result;
mod random_edits;
mod tolerances;
