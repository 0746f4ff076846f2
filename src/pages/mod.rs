//! Printable pages and pictures: plain data in, a self-contained page out. No page runs or fetches anything.

pub mod draw;
pub mod seating;
