//! Whole concerts.
