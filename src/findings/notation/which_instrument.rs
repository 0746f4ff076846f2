//! A name that several instruments go by.

use crate::findings::card::Card;
use crate::findings::finding::{Repair, Saying};
use crate::findings::rule::{Notice, Noticed};
use crate::rule;
use crate::text::sentences::either;
use crate::text::{Edit, Span};

use super::instruments::{Meant, meant};

rule! {
    /// A name or an abbreviation that may be more than one instrument.
    ///
    /// # Why it matters
    ///
    /// T.B. is chimes to one publisher and temple blocks to another. The wrong one is set out, and in the closet
    /// the other one is missing.
    ///
    /// # Draws it
    ///
    /// ```levare
    /// piece "Canyon Onions"
    ///   percussion
    ///     T.B.            9-16
    ///     ^^^^
    /// ```
    ///
    /// # Does not
    ///
    /// Where only one of them can be meant, it is.
    ///
    /// ```levare
    /// piece "Canyon Onions"
    ///   parts
    ///     Tbn.            Bb2-C4
    ///   percussion
    ///     B.D.            9-16
    /// ```
    ///
    /// # What to do
    ///
    /// Write the name out.
    WhichInstrument: "which instrument is meant", Notation, Warning, reads Catalogue, looks at Any
}

/// A name and the instruments it may stand for.
pub struct Several {
    field: &'static str,
    name: String,
    instruments: Vec<String>,
}

impl Notice for WhichInstrument {
    type What = Several;

    fn notice(card: &Card<'_>) -> Vec<Noticed<Several>> {
        let of = |named: &super::instruments::Named| match meant(card, named) {
            Meant::OneOf(instruments) => Some(Noticed::new(
                named.span,
                Several {
                    field: named.field,
                    name: named.name.clone(),
                    instruments,
                },
            )),
            _ => None,
        };
        // A closet with cymbals in it has all that the word means, and who plays cymbals plays all of them.
        let in_use = card
            .named_instruments()
            .iter()
            .filter(|named| !matches!(named.field, "owns" | "borrowed" | "percussionists"));
        // Before a word that nobody understood a name is only half a name, and that is told.
        let halved = |named: &super::instruments::Named| {
            let mut unheard = card.reading.unheard.iter().map(|unheard| unheard.span.start);
            unheard.any(|start| {
                start > named.span.end && card.words(Span::new(named.span.end, start)).trim().is_empty()
            })
        };
        in_use.filter(|named| !halved(named)).filter_map(of).collect()
    }

    fn say(what: &Several, _card: &Card<'_>) -> Saying {
        Saying {
            place: what.field.to_owned(),
            says: format!("\"{}\" may be {}.", what.name, either(&what.instruments)),
            why: "The wrong one would be set out, and your players are not matched with it.".to_owned(),
            todo: "Write the name out.".to_owned(),
        }
    }

    fn repairs(noticed: &Noticed<Several>, _card: &Card<'_>) -> Vec<Repair> {
        let instruments = noticed.what.instruments.iter();
        instruments
            .map(|name| {
                Repair::to_decide(
                    format!("Write {name}"),
                    vec![Edit::replace(noticed.span, name.clone())],
                )
            })
            .collect()
    }
}
