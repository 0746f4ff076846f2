//! Titles and other names.

pub mod idle_stet;
