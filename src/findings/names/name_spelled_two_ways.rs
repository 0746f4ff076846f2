//! A writer whose name is spelled another way on other cards.

use std::sync::Arc;

use crate::catalogue::Entry;
use crate::findings::card::Card;
use crate::findings::finding::{Related, Repair, Saying};
use crate::findings::rule::{Notice, Noticed};
use crate::rule;
use crate::text::sentences::counted;
use crate::text::{Edit, Span};

rule! {
    /// Somebody under `by` whose name is one letter away from a name on other cards. It is told where the rarer
    /// spelling stands; of two that are as rare, on the later card.
    ///
    /// # Why it matters
    ///
    /// A search for the composer finds half of the pieces, and a second card for a piece is not noticed.
    ///
    /// # Draws it
    ///
    /// ```levare
    /// piece "Harbor Parade"
    ///   by              Odile Marchetti
    /// piece "Drum Hill"
    ///   by              Odile Marcheti, arr. Corwin Hale
    ///                   ^^^^^^^^^^^^^^
    /// ```
    ///
    /// # Does not
    ///
    /// ```levare
    /// piece "Harbor Parade"
    ///   by              Odile Marchetti
    /// piece "Drum Hill"
    ///   by              O. Marchetti
    /// piece "Evening Air"
    ///   by              Ida Hale
    /// piece "Morning Air"
    ///   by              Ira Hale
    /// ```
    ///
    /// # What to do
    ///
    /// Look at the score and write the name one way. Two people of such like names may stand.
    NameSpelledTwoWays: "name spelled two ways", Names, Information, reads Catalogue
}

/// The two spellings, and a card with the other one.
pub struct TwoWays {
    name: String,
    other: String,
    cards: u32,
    entry: Arc<Entry>,
}

impl Notice for NameSpelledTwoWays {
    type What = TwoWays;

    fn notice(card: &Card<'_>) -> Vec<Noticed<TwoWays>> {
        let Some((piece, by)) = card.piece().and_then(|piece| Some((piece, piece.by_span?))) else {
            return Vec::new();
        };
        let names = card.snapshot.names();
        piece
            .by
            .iter()
            .filter_map(|person| {
                let own = names.person(&person.name)?;
                let other = names.spellings(&person.name).into_iter().next()?;
                let rarer = own.cards < other.cards || (own.cards == other.cards && other.first < own.first);
                if !rarer || other.first == card.id {
                    return None;
                }
                let at = card.words(by).find(&person.name)?;
                let span = Span::long(by.start + at as u32, person.name.len() as u32);
                let what = TwoWays {
                    name: person.name.clone(),
                    other: other.name,
                    cards: other.cards,
                    entry: Arc::clone(card.snapshot.entry(other.first)?),
                };
                Some(Noticed::new(span, what))
            })
            .collect()
    }

    fn say(what: &TwoWays, _card: &Card<'_>) -> Saying {
        Saying {
            place: "by".to_owned(),
            says: format!(
                "\"{}\" is one letter away from \"{}\" on {}.",
                what.name,
                what.other,
                match what.cards {
                    1 => "another card".to_owned(),
                    cards => counted(cards as usize, "card"),
                }
            ),
            why: "A search for the composer finds half of the pieces, and a second card for a piece is not noticed."
                .to_owned(),
            todo: "Look at the score and write the name one way; two people of such like names may stand."
                .to_owned(),
        }
    }

    fn related(what: &TwoWays, card: &Card<'_>) -> Vec<Related> {
        let span = what.entry.piece().and_then(|piece| piece.by_span);
        span.map(|span| card.beside(&what.entry, span, "the other spelling"))
            .into_iter()
            .collect()
    }

    fn repairs(noticed: &Noticed<TwoWays>, _card: &Card<'_>) -> Vec<Repair> {
        let other = &noticed.what.other;
        vec![Repair::to_decide(
            format!("Write {other}"),
            vec![Edit::replace(noticed.span, other.clone())],
        )]
    }
}
