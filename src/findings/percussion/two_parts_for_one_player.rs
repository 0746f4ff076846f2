//! One player who is to have two parts that sound at once.

use crate::catalogue::model::Piece;
use crate::findings::card::Card;
use crate::findings::finding::{Related, Saying};
use crate::findings::judging::{Judging, for_each_band};
use crate::findings::rule::{Notice, Noticed};
use crate::planning::percussion::{Asked, Pace, PartTold, Pins, Players, Question, Whose, seats};
use crate::rule;
use crate::text::Span;

rule! {
    /// Two percussion parts that play at once and that you gave to one and the same player, on this card or on
    /// others. What the handbook or the card gives to one player together is left alone.
    ///
    /// # Why it matters
    ///
    /// Your word goes before all else, so one of the two stays silent, whoever else is free.
    ///
    /// # Draws it
    ///
    /// ```levare
    /// ensemble "Seventh Grade Band"
    ///   percussionists
    ///     P1 P2 P3        anything
    ///
    /// piece "Hayloft Dance"
    ///   measures        32
    ///   percussion
    ///     snare           1-32, for P3
    ///     bass drum       1-16
    ///     ^^^^^^^^^
    ///   assigned        P3 on bass drum
    /// ```
    ///
    /// # Does not
    ///
    /// The two never play at once.
    ///
    /// ```levare
    /// ensemble "Seventh Grade Band"
    ///   percussionists
    ///     P1 P2 P3        anything
    ///
    /// piece "Hayloft Dance"
    ///   measures        32
    ///   percussion
    ///     snare           17-32, for P3
    ///     bass drum       1-16
    ///   assigned        P3 on bass drum
    /// ```
    ///
    /// # What to do
    ///
    /// Take one of the two away from the player.
    TwoPartsForOnePlayer: "two parts for one player", Percussion, Warning, reads Catalogue, looks at Percussion
}

/// The player, both parts, and where the word about each stands.
pub struct Both {
    player: String,
    one: String,
    other: String,
    by: (Whose, Whose),
    first: Span,
}

impl Notice for TwoPartsForOnePlayer {
    type What = Both;

    fn notice(card: &Card<'_>) -> Vec<Noticed<Both>> {
        let Some(piece) = card.piece() else {
            return Vec::new();
        };
        for_each_band(card, |judging| both(card, piece, judging).into_iter().collect())
    }

    fn say(what: &Both, _card: &Card<'_>) -> Saying {
        let by = match what.by {
            (one, other) if one == other => format!("both by {}", one.words()),
            (one, other) => format!("the one by {}, the other by {}", one.words(), other.words()),
        };
        Saying {
            place: "percussion".to_owned(),
            says: format!(
                "{} is to have {} and {}, {by}, and they play at once.",
                what.player, what.one, what.other
            ),
            why: "Your word goes before all else, so one of the two stays silent, whoever else is free."
                .to_owned(),
            todo: format!("Give {} or {} to somebody else.", what.one, what.other),
        }
    }

    fn related(what: &Both, card: &Card<'_>) -> Vec<Related> {
        vec![card.beside(card.entry, what.first, format!("the {}", what.one))]
    }
}

fn both(card: &Card<'_>, piece: &Piece, judging: &Judging<'_>) -> Option<Noticed<Both>> {
    let bands = judging.ensembles();
    let pins = Pins::of(
        (&card.entry.name, piece),
        judging.concert,
        &bands,
        card.snapshot.handbook(),
    );
    let in_rows = card.rows_of_percussion().iter();
    let in_rows = in_rows
        .flat_map(|course| &course.parts)
        .any(|part| !part.assigned.is_empty());
    if pins.is_empty() && !in_rows {
        return None;
    }
    let seats = seats(&bands)?;
    let question = Question::of(&Asked {
        piece,
        movements: &judging.movements,
        seats: Some(&seats),
        handbook: card.snapshot.handbook(),
        instruments: card.instruments(),
        who: Players::of(card.snapshot),
        pins,
        pace: Pace::Fastest,
        memory: true,
    });
    if question.all_at_once || question.cut {
        return None;
    }
    let alone = |at: usize| {
        let (only, whose) = question.decided.get(at)?.only.as_ref()?;
        match only.as_slice() {
            [one] => Some((*one, *whose)),
            _ => None,
        }
    };
    let apart = |at: usize, other: usize| {
        let of_a_group = |group: &Vec<usize>| group.contains(&at) && group.contains(&other);
        !question.music.mounted.contains(&(at.min(other), at.max(other)))
            && !question.music.one_player.iter().any(of_a_group)
    };
    let parts = question.parts.iter().enumerate().take(MOST_PARTS);
    let mut pairs = parts.flat_map(|(at, part)| {
        question
            .parts
            .iter()
            .enumerate()
            .take(at)
            .map(move |(before, other)| ((before, other), (at, part)))
    });
    pairs.find_map(|((before, other), (at, part))| {
        let (one, two) = (alone(before)?, alone(at)?);
        let clash = one.0 == two.0 && apart(before, at) && meet(other, part) && part.instead_of.is_empty();
        clash.then_some(())?;
        let player = question.seats.get(one.0)?.name.clone();
        let what = Both {
            player,
            one: other.name.clone(),
            other: part.name.clone(),
            by: (one.1, two.1),
            first: other.name_span,
        };
        Some(Noticed::judged(part.name_span, judging.in_full(), what))
    })
}

/// No piece has more percussion parts than this that matter here.
const MOST_PARTS: usize = 60;

/// Whether two parts sound in a measure together.
fn meet(one: &PartTold, other: &PartTold) -> bool {
    let spans = one.entrances.iter();
    spans.into_iter().any(|(first, last)| {
        let mut others = other.entrances.iter();
        others.any(|(from, to)| first <= to && from <= last)
    })
}
