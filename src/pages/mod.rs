//! Printable pages: plain data in, a self-contained page out. No page runs anything or fetches anything.

#[cfg(test)]
mod checked;
pub mod door;
pub mod letters;
pub mod paper;
mod signs;
pub mod timeline;
