//! charts
