//! Everything but the window, checked against textbooks, standards, plain second methods and properties.

mod advice;
mod beam_case;
mod close;
mod dense;
mod pictures;
mod published_beams;
mod quantity;
mod quiet;
mod quiet_result;
