//! The kinds of entry a catalogue holds.

use std::fmt;

/// What an entry is: the word at the left margin.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Kind {
    /// What holds for the whole catalogue; the only kind without a name.
    Handbook,
    /// A band: its players, its percussionists, what it owns and has been taught.
    Ensemble,
    /// A piece on the shelf, or one that is wanted.
    Piece,
    /// An evening, its program and what it calls for.
    Concert,
    /// Conditions under a name, such as a director's own grades.
    Criteria,
    /// Pieces sold together.
    Bundle,
    /// A list of pieces published by somebody, with its grades.
    List,
    /// Something to be taught.
    Skill,
    /// An instrument that Levare does not know, or knows differently.
    Instrument,
}

impl Kind {
    /// All kinds, in the order in which the manual explains them.
    pub const ALL: [Kind; 9] = [
        Kind::Handbook,
        Kind::Ensemble,
        Kind::Piece,
        Kind::Concert,
        Kind::Criteria,
        Kind::Bundle,
        Kind::List,
        Kind::Skill,
        Kind::Instrument,
    ];

    /// The word as it is written at the margin.
    pub fn word(self) -> &'static str {
        match self {
            Kind::Handbook => "handbook",
            Kind::Ensemble => "ensemble",
            Kind::Piece => "piece",
            Kind::Concert => "concert",
            Kind::Criteria => "criteria",
            Kind::Bundle => "bundle",
            Kind::List => "list",
            Kind::Skill => "skill",
            Kind::Instrument => "instrument",
        }
    }

    /// The kind that a word names, whatever its capitals.
    pub fn of_word(word: &str) -> Option<Kind> {
        Kind::ALL
            .into_iter()
            .find(|kind| kind.word().eq_ignore_ascii_case(word))
    }

    /// Whether entries of this kind carry a quoted name.
    pub fn is_named(self) -> bool {
        self != Kind::Handbook
    }
}

impl fmt::Display for Kind {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self.word())
    }
}
