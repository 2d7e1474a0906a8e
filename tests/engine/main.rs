//! The engine's tests: everything that works without a window, in one binary.

mod advice;
mod beam_case;
mod close;
mod dense;
mod headless;
mod pictures;
mod published_beams;
mod quantity;
mod quiet;
mod quiet_result;
