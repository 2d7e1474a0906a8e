//! Everything but the window, checked against textbooks, standards, plain second methods and properties.

mod checks;
mod close;
mod edits;
mod examples;
mod files;
mod quantity;
mod random_edits;
mod tolerances;
