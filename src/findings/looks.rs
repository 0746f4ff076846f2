//! What kinds of facts a rule looks at, so that cards without them are passed over.

use crate::catalogue::Entry;
use crate::catalogue::model::{Facts, Piece};
use crate::notation::Kind;

/// A set of kinds of cards and of things that a piece may say. A rule looks at any of its set; a card has some.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Looks(u32);

#[allow(non_upper_case_globals)] // They are words of `rule!`.
#[allow(missing_docs)]
impl Looks {
    pub const NONE: Looks = Looks(0);
    pub const Any: Looks = Looks(u32::MAX);

    pub const Handbook: Looks = Looks(1);
    pub const Ensemble: Looks = Looks(1 << 1);
    pub const Piece: Looks = Looks(1 << 2);
    pub const Concert: Looks = Looks(1 << 3);
    pub const Criteria: Looks = Looks(1 << 4);
    pub const Bundle: Looks = Looks(1 << 5);
    pub const List: Looks = Looks(1 << 6);
    pub const Skill: Looks = Looks(1 << 7);
    pub const Instrument: Looks = Looks(1 << 8);
    /// Lines above the first card of a file.
    pub const Loose: Looks = Looks(1 << 9);

    /// Rows under `parts`, of the piece or of a movement; so are those that follow.
    pub const Parts: Looks = Looks(1 << 10);
    pub const Percussion: Looks = Looks(1 << 11);
    pub const Road: Looks = Looks(1 << 12);
    pub const Marks: Looks = Looks(1 << 13);
    pub const Tempos: Looks = Looks(1 << 14);
    pub const Signatures: Looks = Looks(1 << 15);
    pub const Centers: Looks = Looks(1 << 16);
    pub const Grades: Looks = Looks(1 << 17);
    pub const Movements: Looks = Looks(1 << 18);
}

impl Looks {
    /// Both sets together.
    pub const fn or(self, other: Looks) -> Looks {
        Looks(self.0 | other.0)
    }

    /// Whether something stands in both.
    pub const fn meets(self, other: Looks) -> bool {
        self.0 & other.0 != 0
    }

    /// What a card has.
    pub fn of(entry: &Entry, facts: &Facts) -> Looks {
        let kind = match entry.kind {
            Some(Kind::Handbook) => Looks::Handbook,
            Some(Kind::Ensemble) => Looks::Ensemble,
            Some(Kind::Piece) => Looks::Piece,
            Some(Kind::Concert) => Looks::Concert,
            Some(Kind::Criteria) => Looks::Criteria,
            Some(Kind::Bundle) => Looks::Bundle,
            Some(Kind::List) => Looks::List,
            Some(Kind::Skill) => Looks::Skill,
            Some(Kind::Instrument) => Looks::Instrument,
            None => Looks::Loose,
        };
        facts
            .piece()
            .map_or(kind, |piece| kind.or(Looks::of_piece(piece)))
    }

    fn of_piece(piece: &Piece) -> Looks {
        let movements = piece.movements.iter().map(|movement| &movement.piece);
        let levels = std::iter::once(piece).chain(movements);
        let mut has = Looks::NONE;
        for level in levels {
            for (there, what) in [
                (!level.parts.is_empty(), Looks::Parts),
                (!level.percussion.is_empty(), Looks::Percussion),
                (!level.road.is_empty() || level.road_in_words, Looks::Road),
                (!level.marks.is_empty(), Looks::Marks),
                (!level.tempos.is_empty(), Looks::Tempos),
                (!level.signatures.is_empty(), Looks::Signatures),
                (!level.centers.is_empty(), Looks::Centers),
                (!level.grades.is_empty(), Looks::Grades),
                (!level.movements.is_empty(), Looks::Movements),
            ] {
                if there {
                    has = has.or(what);
                }
            }
        }
        has
    }
}
