//! Invented example jobs, embedded in the program.
