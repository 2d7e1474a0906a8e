//! Everything but the window, checked against textbooks, standards, plain second methods and properties.

mod advice;
mod close;
mod quantity;
mod quiet;
mod quiet_result;
