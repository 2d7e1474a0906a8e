//! The engine's tests: everything that works without a window, in one binary.

mod advice;
mod close;
mod pictures;
mod quantity;
mod quiet;
mod quiet_result;
