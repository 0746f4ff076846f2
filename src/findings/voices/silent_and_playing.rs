//! A part that is silent and plays.

use crate::catalogue::model::Piece;
use crate::findings::card::Card;
use crate::findings::finding::{Related, Saying};
use crate::findings::pieces::{levels, place};
use crate::findings::rule::{Notice, Noticed};
use crate::notation::row::{Fact, RowFact, RowItem, RowName};
use crate::notation::values::{Place, Stretch};
use crate::rule;
use crate::text::Span;

rule! {
    /// A part that is `tacet` in the measures of its own solo, or `tacet` in the whole piece with measures in
    /// which it plays.
    ///
    /// # Why it matters
    ///
    /// A player is sent home for the piece, and the solo stays out.
    ///
    /// # Draws it
    ///
    /// ```levare
    /// piece "Two Lamps"
    ///   parts
    ///     flute           D5-C6
    ///     oboe            tacet 33-48, solo 41-44
    ///                     ^^^^^^^^^^^
    ///   percussion
    ///     triangle        tacet, 9-16
    ///                     ^^^^^
    /// ```
    ///
    /// # Does not
    ///
    /// ```levare
    /// piece "Two Lamps"
    ///   parts
    ///     flute           D5-C6
    ///     oboe            tacet in movement 2, solo 41-44, cued in flute
    ///     bassoon         tacet first time, solo 9-16
    ///     horn            tacet 33-48, solo 49-52
    /// ```
    ///
    /// # What to do
    ///
    /// Look in the score which of the two is right.
    SilentAndPlaying: "silent and playing", Voices, Warning, reads Card, looks at Parts | Percussion
}

/// A part, where it is silent, and where it plays all the same.
pub struct Both {
    place: String,
    part: String,
    silent: String,
    plays: String,
    plays_span: Span,
}

impl Notice for SilentAndPlaying {
    type What = Both;

    fn notice(card: &Card<'_>) -> Vec<Noticed<Both>> {
        let Some(piece) = card.piece() else {
            return Vec::new();
        };
        let mut found = Vec::new();
        for (movement, level) in levels(piece) {
            for (table, rows) in [("parts", &level.parts), ("percussion", &level.percussion)] {
                for row in rows.iter() {
                    let Some((silent, plays)) = both(card, level, row) else {
                        continue;
                    };
                    let what = Both {
                        place: place(movement, table),
                        part: row
                            .names
                            .iter()
                            .map(RowName::one_form)
                            .collect::<Vec<_>>()
                            .join(", "),
                        silent: card.words(silent).to_owned(),
                        plays: card.words(plays).to_owned(),
                        plays_span: plays,
                    };
                    found.push(Noticed::new(silent, what));
                }
            }
        }
        found
    }

    fn say(what: &Both, _card: &Card<'_>) -> Saying {
        Saying {
            place: what.place.clone(),
            says: format!(
                "{} is silent by one word and plays by another: {} and {}.",
                what.part, what.silent, what.plays
            ),
            why: "Somebody is told to sit out, and an entrance stays empty.".to_owned(),
            todo: "Look in the score which of the two is right, and take the other out.".to_owned(),
        }
    }

    fn related(what: &Both, card: &Card<'_>) -> Vec<Related> {
        vec![card.beside(card.entry, what.plays_span, "here it plays")]
    }
}

/// Where a row says that the part is silent, and where it says that it plays there.
fn both(card: &Card<'_>, level: &Piece, row: &RowItem) -> Option<(Span, Span)> {
    let certain = || row.facts.iter().filter(|fact| fact.is_certain());
    certain().find_map(|silent| {
        let Fact::Tacet(at) = &silent.what else {
            return None;
        };
        // `tacet first time` and `tacet until 33` hold for a while only.
        if !ends_there(card, row, silent) {
            return None;
        }
        let silent_at = match at {
            None => None,
            Some(at @ (Place::Between(..) | Place::At(_))) => Some(level.stretch_of(at)?),
            Some(_) => return None,
        };
        let plays = certain().find(|fact| match &fact.what {
            Fact::Solo(Some(place)) => meets(silent_at, level.stretch_of(place)),
            Fact::Solo(None) => silent_at.is_none(),
            // An entrance that runs backward is a slip of another kind.
            Fact::Plays(place, _) => {
                silent_at.is_none() && level.stretch_of(place).is_none_or(|at| at.first <= at.last)
            }
            _ => false,
        })?;
        Some((silent.span, plays.span))
    })
}

/// Whether the solo lies wholly in the measures of silence; none stands for the whole piece.
fn meets(silent: Option<Stretch>, solo: Option<Stretch>) -> bool {
    match (silent, solo) {
        (None, _) => true,
        (Some(silent), Some(solo)) => silent.first <= solo.first && solo.last <= silent.last,
        (Some(_), None) => false,
    }
}

/// Whether a comma, the line's end or a fact of its own follows the fact.
fn ends_there(card: &Card<'_>, row: &RowItem, fact: &RowFact) -> bool {
    let behind = card.text().get(fact.span.end as usize..).unwrap_or("");
    let rest = behind.trim_start_matches([' ', '\t']);
    let next = fact.span.end as usize + (behind.len() - rest.len());
    let is_own = |other: &RowFact| {
        // `first time` names no measures: it says when the part is silent.
        let plays = match &other.what {
            Fact::Solo(_) => true,
            Fact::Plays(place, _) => *place != Place::Throughout,
            _ => false,
        };
        other.span.start as usize == next && plays
    };
    rest.is_empty() || rest.starts_with([',', '\n', '\r', '(']) || row.facts.iter().any(is_own)
}
