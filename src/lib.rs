//! Levare: a notation for a band director's catalogue, and a proofreader for it.
pub mod desk;
pub mod music;
pub mod text;
