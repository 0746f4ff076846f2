//! Printable pages and pictures: plain data in, a self-contained page out. No page runs anything or fetches anything.

pub mod answer;
pub mod cards;
#[cfg(test)]
mod checked;
pub mod count;
pub mod counting;
pub mod door;
pub mod letters;
pub mod paper;
pub mod seating;
mod signs;
