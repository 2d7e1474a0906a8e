//! The job file: RON, one job a file, versioned types of its own.
