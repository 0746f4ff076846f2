//! The house rules, held by reading the sources: walls between rooms, file lengths, docs, words for users.

#[path = "tidy/invented.rs"]
mod invented;
#[path = "tidy/links.rs"]
mod links;
#[path = "tidy/sayings.rs"]
mod sayings;
#[path = "tidy/source.rs"]
mod source;
#[path = "tidy/voice.rs"]
mod voice;
#[path = "tidy/walls.rs"]
mod walls;
#[path = "tidy/words.rs"]
mod words;

pub use source::{Source, sources};
