//! A person's or a publisher's name that is spelled another way on other cards.

use std::sync::Arc;

use crate::catalogue::Entry;
use crate::catalogue::model::Facts;
use crate::catalogue::names::Spellings;
use crate::findings::card::Card;
use crate::findings::finding::{Related, Repair, Saying};
use crate::findings::rule::{Notice, Noticed};
use crate::rule;
use crate::text::sentences::counted;
use crate::text::{Edit, Span};

rule! {
    /// Somebody under `by`, or a publisher under `publisher` or a bundle's `from`, whose name is one letter
    /// away from a name on other cards. It is reported at the rarer spelling; of two that are equally rare, on
    /// the later card.
    ///
    /// # Why it matters
    ///
    /// A search for the name finds half of the pieces, and a second card for a piece is not noticed.
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
    /// ```levare
    /// piece "Harbor Parade"
    ///   publisher       Rivermark Editions, 2019
    /// bundle "Starter pack"
    ///   from            Rivermark Edition
    ///                   ^^^^^^^^^^^^^^^^^
    ///   holds           "Harbor Parade"
    /// ```
    ///
    /// # Does not
    ///
    /// ```levare
    /// piece "Harbor Parade"
    ///   by              Odile Marchetti
    ///   publisher       Rivermark Editions
    /// piece "Drum Hill"
    ///   by              O. Marchetti
    ///   publisher       Rivermark
    /// piece "Evening Air"
    ///   by              Ida Hale
    /// piece "Morning Air"
    ///   by              Ira Hale
    /// ```
    ///
    /// # What to do
    ///
    /// Look at the score and write the name one way. If they are two people, let it stand.
    NameSpelledTwoWays: "name spelled two ways", Names, Information, reads Catalogue, looks at Any
}

/// The two spellings, and a card with the other one.
pub struct TwoWays {
    name: String,
    other: String,
    cards: u32,
    entry: Arc<Entry>,
    place: &'static str,
}

impl Notice for NameSpelledTwoWays {
    type What = TwoWays;

    fn notice(card: &Card<'_>) -> Vec<Noticed<TwoWays>> {
        let names = card.snapshot.names();
        let mut found = Vec::new();
        if let Some((piece, by)) = card.piece().and_then(|piece| Some((piece, piece.by_span?))) {
            found.extend(piece.by.iter().filter_map(|person| {
                let at = card.words(by).find(&person.name)?;
                let span = Span::long(by.start + at as u32, person.name.len() as u32);
                two_ways(card, names.people(), "by", &person.name, span)
            }));
        }
        let house = match card.facts {
            Facts::Piece(piece) => piece.house().map(|said| ("publisher", said)),
            Facts::Bundle(bundle) => bundle.from.as_ref().map(|said| ("from", said)),
            _ => None,
        };
        found.extend(
            house.and_then(|(place, said)| two_ways(card, names.houses(), place, &said.value, said.span)),
        );
        found
    }

    fn say(what: &TwoWays, _card: &Card<'_>) -> Saying {
        Saying {
            place: what.place.to_owned(),
            says: format!(
                "\"{}\" is one letter away from \"{}\" on {}.",
                what.name,
                what.other,
                match what.cards {
                    1 => "another card".to_owned(),
                    cards => counted(cards as usize, "card"),
                }
            ),
            why: "A search for the name finds half of the pieces, and a second card for a piece is not noticed."
                .to_owned(),
            todo: "Look at the score and write the name one way. If they are two people, let it stand."
                .to_owned(),
        }
    }

    fn related(what: &TwoWays, card: &Card<'_>) -> Vec<Related> {
        let span = match what.entry.facts() {
            Facts::Piece(piece) if what.place == "by" => piece.by_span,
            Facts::Piece(piece) => piece.house().map(|said| said.span),
            Facts::Bundle(bundle) => bundle.from.as_ref().map(|said| said.span),
            _ => None,
        };
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

/// The commoner spelling of a name that stands on this card in the rarer one.
fn two_ways(
    card: &Card<'_>,
    names: &Spellings,
    place: &'static str,
    name: &str,
    span: Span,
) -> Option<Noticed<TwoWays>> {
    let own = names.own(name)?;
    let other = names.others(name).into_iter().next()?;
    let rarer = own.cards < other.cards || (own.cards == other.cards && other.first < own.first);
    if !rarer || other.first == card.id {
        return None;
    }
    let what = TwoWays {
        name: name.to_owned(),
        other: other.name,
        cards: other.cards,
        entry: Arc::clone(card.snapshot.entry(other.first)?),
        place,
    };
    Some(Noticed::new(span, what))
}
