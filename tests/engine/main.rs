//! Everything but the window, checked against textbooks, standards, plain second methods and properties.

mod close;
mod dense;
