//! Names and facts of instruments.
