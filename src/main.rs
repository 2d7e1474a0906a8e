//! The program: opens the window, or runs a headless command.
fn main() {}
