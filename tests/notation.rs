//! The notation from end to end: how cards are read, and how they are recopied.

#[path = "notation/cards.rs"]
mod cards;
#[path = "notation/manual.rs"]
mod manual;
#[path = "notation/properties.rs"]
mod properties;
#[path = "notation/reads.rs"]
mod reads;
#[path = "notation/recopied.rs"]
mod recopied;
