//! What changed between two writings of a catalogue, and how two people's writings go together.
//!
//! An [`outline`] has a card's lines with what each says, taken from the one reading of the notation; everything
//! here compares what is said, never how it is laid out.

mod cards;
mod changes;
mod keys;
pub mod merge;
mod news;
mod outline;
mod pairs;
mod said;
mod words;

pub use cards::{CardChange, Compared, Named, compare, of_card};
pub use changes::{Became, Change};
pub use news::{News, Told, news};
pub use said::What;
pub use words::{itself, sentence, sentences};

#[cfg(test)]
mod tests;
