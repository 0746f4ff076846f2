//! Typed entries: what a card says, compact, each fact with its place in the card's own text.

mod band;
mod changes;
mod concert;
mod handbook;
mod others;
mod piece;
mod said;
mod unread;

pub use band::{Ensemble, Percussionist, PlayerRow, Plays};
pub(super) use concert::pins;
pub use concert::{Concert, ProgramPiece};
pub use handbook::{Handbook, SeverityWish};
pub use others::{Bundle, Criteria, InstrumentCard, ListCard, SkillCard};
pub use piece::{Library, Movement, Piece};
pub use said::{Said, Stage, StetSaid};
pub use unread::{Unread, is_unread};

use crate::notation::{Kind, Reading};

/// What a card says, by its kind.
#[derive(Debug, Clone, PartialEq)]
pub enum Facts {
    /// The handbook.
    Handbook(Box<Handbook>),
    /// An ensemble.
    Ensemble(Box<Ensemble>),
    /// A piece.
    Piece(Box<Piece>),
    /// A concert.
    Concert(Box<Concert>),
    /// Criteria.
    Criteria(Criteria),
    /// A bundle.
    Bundle(Bundle),
    /// A list.
    List(ListCard),
    /// A skill.
    Skill(SkillCard),
    /// An instrument.
    Instrument(InstrumentCard),
    /// Lines above the first card of a file.
    Nothing,
}

impl Facts {
    /// The piece's, if it is a piece.
    pub fn piece(&self) -> Option<&Piece> {
        match self {
            Facts::Piece(piece) => Some(piece),
            _ => None,
        }
    }

    /// The findings that the card lets stand.
    pub fn stets(&self) -> &[StetSaid] {
        match self {
            Facts::Handbook(card) => &card.stets,
            Facts::Ensemble(card) => &card.stets,
            Facts::Piece(card) => &card.stets,
            Facts::Concert(card) => &card.stets,
            Facts::Criteria(card) => &card.stets,
            Facts::Bundle(card) => &card.stets,
            Facts::List(card) => &card.stets,
            Facts::Skill(card) => &card.stets,
            Facts::Instrument(card) => &card.stets,
            Facts::Nothing => &[],
        }
    }

    /// Takes the facts out of a card as it was read.
    pub fn of(reading: &Reading, text: &str) -> Facts {
        let fields = &reading.fields;
        match reading.tree.kind() {
            None => Facts::Nothing,
            Some(Kind::Handbook) => Facts::Handbook(Box::new(Handbook::of(fields, text))),
            Some(Kind::Ensemble) => Facts::Ensemble(Box::new(Ensemble::of(fields, text))),
            Some(Kind::Piece) => Facts::Piece(Box::new(Piece::of(fields, text))),
            Some(Kind::Concert) => Facts::Concert(Box::new(Concert::of(fields, text))),
            Some(Kind::Criteria) => Facts::Criteria(Criteria::of(fields)),
            Some(Kind::Bundle) => Facts::Bundle(Bundle::of(fields)),
            Some(Kind::List) => Facts::List(ListCard::of(fields)),
            Some(Kind::Skill) => Facts::Skill(SkillCard::of(fields)),
            Some(Kind::Instrument) => Facts::Instrument(InstrumentCard::of(fields)),
        }
    }
}
