//! What changed between two writings of a catalogue, and how two people's writings go together.
//!
//! An [`outline`] has a card's lines with what each says, taken from the one reading of the notation; everything
//! here compares what is said, never how it is laid out.

mod keys;
pub mod merge;
mod outline;
mod pairs;
