//! What the rules about percussion share: the courses of a card, and how a place and its instruments are said.

use crate::catalogue::model::Piece;
use crate::catalogue::percussion::{AtOnce, Course, Part, Spare, courses};
use crate::findings::card::Card;
use crate::text::Span;
use crate::text::sentences::capital;
use crate::text::sentences::joined;

/// The most needed parts that play at once in a course, ready to be said.
pub(super) struct Sounding {
    /// `percussion, measures 41-56`.
    pub place: String,
    /// The instruments, as written.
    pub names: Vec<String>,
    /// The players they take.
    pub players: u32,
    /// Whether one player has several of them.
    pub shared: bool,
    /// The row that sounds least, which is the likeliest to give way.
    pub row: Span,
    /// What sounds there too and may be spared: `bells may be spared: same as flute 1`.
    pub spared: Vec<String>,
}

/// The courses of a card, with the handbook's one-player groups.
pub(crate) fn courses_of(card: &Card<'_>, piece: &Piece) -> Vec<Course> {
    let together = card
        .snapshot
        .handbook()
        .map(|handbook| handbook.covered_together())
        .unwrap_or_default();
    courses(piece, card.instruments(), &together)
}

/// Puts the most parts at once in words.
pub(super) fn sounding(piece: &Piece, course: &Course, most: &AtOnce) -> Option<Sounding> {
    let (first, parts) = most.places.first()?;
    let parts: Vec<&Part> = parts.iter().filter_map(|at| course.parts.get(*at)).collect();
    let row = parts.iter().rev().min_by_key(|part| part.length())?.span;
    let spared = course
        .parts
        .iter()
        .filter(|part| part.instead_of.is_empty() && part.sounds_at(first.first, most.events))
        .filter_map(|part| match part.spare.as_ref()? {
            Spare::Doubled(words) => Some(format!("{} may be left out: {words}", part.name())),
            Spare::Optional => Some(format!("{} may be left out", part.name())),
        })
        .collect();
    let others = most.places.len().saturating_sub(1);
    let more = match others {
        0 => String::new(),
        1 => " and in one other place".to_owned(),
        _ => format!(" and in {others} other places"),
    };
    let measures = match (first.first == first.last, most.events) {
        (true, false) => "measure",
        (false, false) => "measures",
        (true, true) => "event",
        (false, true) => "events",
    };
    Some(Sounding {
        place: format!("{}, {measures} {first}{more}", place_of(piece, course)),
        shared: parts.len() as u64 > u64::from(most.players),
        names: parts.iter().map(|part| part.name()).collect(),
        players: most.players,
        row,
        spared,
    })
}

/// `percussion`, or `movement 3, percussion`.
pub(super) fn place_of(piece: &Piece, course: &Course) -> String {
    match course.movement.and_then(|at| piece.movements.get(at)) {
        Some(movement) => format!("movement {}, percussion", movement.number),
        None => "percussion".to_owned(),
    }
}

impl Sounding {
    /// `Snare and bass drum play at once and take 2 players`.
    pub fn sentence(&self) -> String {
        let names = capital(&joined(&self.names));
        let players = match self.players {
            1 => "1 player".to_owned(),
            players => format!("{players} players"),
        };
        match (self.names.len(), self.shared) {
            (1, _) => format!("{names} takes {players}"),
            (_, true) => format!("{names} play at once and take {players}, with what one player covers"),
            (_, false) => format!("{names} play at once and take {players}"),
        }
    }

    /// A sentence about what may be spared, with a blank before it; empty where nothing may.
    pub fn spared_sentence(&self) -> String {
        match self.spared.is_empty() {
            true => String::new(),
            false => format!(" Not counted: {}.", self.spared.join("; ")),
        }
    }
}
