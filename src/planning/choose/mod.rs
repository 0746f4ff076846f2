//! Building a concert: which pieces, and in which order.

pub mod core;
