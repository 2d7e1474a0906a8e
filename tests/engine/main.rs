//! The engine's tests: everything that works without a window, in one binary.

mod advice;
mod quiet;
