//! A divided part for a section of one.

use crate::catalogue::sections::{is_optional, part_rows, relates};
use crate::findings::card::Card;
use crate::findings::finding::{Related, Saying};
use crate::findings::judging::{Judging, for_each_band};
use crate::findings::rule::{Notice, Noticed};
use crate::notation::row::{Fact, Relation, RowItem};
use crate::rule;

rule! {
    /// A part written `divisi` for an instrument of which the band has a single player.
    ///
    /// # Why it matters
    ///
    /// One of the two notes stays out, and nobody has said which one matters.
    ///
    /// # Draws it
    ///
    /// ```levare
    /// ensemble "Seventh Grade Band"
    ///   players         flute 9, trombone 4, tuba 1
    ///
    /// piece "Ravine"
    ///   parts
    ///     flute           D5-C6
    ///     tuba            Ab1-F3, divisi at 57
    ///                             ^^^^^^^^^^^^
    /// ```
    ///
    /// # Does not
    ///
    /// ```levare
    /// ensemble "Seventh Grade Band"
    ///   players         flute 9, trombone 4, tuba 1
    ///
    /// piece "Ravine"
    ///   parts
    ///     trombone        F2-D4, divisi at 57
    ///     tuba            Ab1-F3, optional divisi at 57
    /// ```
    ///
    /// # What to do
    ///
    /// Choose the note to play and write it into the part, or give the other to another instrument.
    OnePlayerCannotDivide: "one player cannot divide", Voices, Warning, reads Catalogue, looks at Parts
}

/// A divided part and its only player.
pub struct Divided {
    part: String,
    instrument: String,
    band: String,
    related: Vec<Related>,
}

impl Notice for OnePlayerCannotDivide {
    type What = Divided;

    fn notice(card: &Card<'_>) -> Vec<Noticed<Divided>> {
        let Some(piece) = card.piece() else {
            return Vec::new();
        };
        for_each_band(card, |judging| {
            part_rows(piece)
                .flat_map(|row| divided(card, judging, row))
                .collect()
        })
    }

    fn say(what: &Divided, _card: &Card<'_>) -> Saying {
        Saying {
            place: what.part.clone(),
            says: format!(
                "The part divides, and {} has one {} only.",
                what.band, what.instrument
            ),
            why: "One of the two notes stays out, and nobody has said which one matters.".to_owned(),
            todo: "Choose the note to play and write it into the part, or give the other one to another instrument.".to_owned(),
        }
    }

    fn related(what: &Divided, _card: &Card<'_>) -> Vec<Related> {
        what.related.clone()
    }
}

fn divided(card: &Card<'_>, judging: &Judging<'_>, row: &RowItem) -> Option<Noticed<Divided>> {
    let [name] = row.names.as_slice() else { return None };
    // A numbered part is one of several, and too few players for those is another finding.
    if name.numbers.is_some() || is_optional(row) || relates(row, &[Relation::InsteadOf]) {
        return None;
    }
    let instrument = card.instrument(&name.text)?;
    let span = row.facts.iter().find_map(|fact| match &fact.what {
        Fact::Divided(_) | Fact::DividedAtTimes if fact.is_certain() => Some(fact.span),
        _ => None,
    })?;
    let sections = judging.sections(card);
    if sections.players(instrument) != Some(1) {
        return None;
    }
    let section = sections.named(&instrument.name).next();
    let what = Divided {
        part: name.one_form(),
        instrument: instrument.name.to_string(),
        band: judging.name(),
        related: section
            .map(|section| judging.beside(card, section.band, section.span, "the only player"))
            .unwrap_or_default(),
    };
    Some(Noticed::judged(span, judging.in_full(), what))
}
