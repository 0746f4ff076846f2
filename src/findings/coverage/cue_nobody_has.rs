//! A cue in a part that nobody plays, or in the part that it is meant to save.

use crate::catalogue::sections::part_rows;
use crate::findings::card::Card;
use crate::findings::finding::Saying;
use crate::findings::judging::for_each_band;
use crate::findings::rule::{Notice, Noticed};
use crate::music::Instrument;
use crate::notation::row::{Fact, Relation, RowItem, RowName};
use crate::rule;

use super::cues::{instruments_in, solo};

rule! {
    /// A part that is cued in an instrument nobody in the band plays, or in itself. A solo that rests on one
    /// player, and a part that nobody plays, are reported by their own rules, cue and all.
    ///
    /// # Why it matters
    ///
    /// You count on the cue for the day when somebody is ill, and then it is not there.
    ///
    /// # Draws it
    ///
    /// ```levare
    /// ensemble "Seventh Grade Band"
    ///   players         flute 7, clarinet 10, horn 2
    ///
    /// piece "Slow River, Low Sun"
    ///   parts
    ///     flute           F4-D6
    ///     horn            A3-C5, cued in tenor sax
    ///                            ^^^^^^^^^^^^^^^^^
    /// ```
    ///
    /// # Does not
    ///
    /// ```levare
    /// ensemble "Seventh Grade Band"
    ///   players         flute 7, clarinet 10, horn 2
    ///
    /// piece "Slow River, Low Sun"
    ///   parts
    ///     flute           F4-D6
    ///     horn            A3-C5, cued in clarinet 2
    /// ```
    ///
    /// # What to do
    ///
    /// Look in the score for a cue in a part that is played.
    CueNobodyHas: "cue nobody has", Coverage, Information, reads Catalogue, looks at Parts
}

/// A cue.
pub struct Cue {
    part: String,
    target: String,
    /// The band in which nobody plays it; none for a cue in the part itself.
    band: Option<String>,
}

impl Notice for CueNobodyHas {
    type What = Cue;

    fn notice(card: &Card<'_>) -> Vec<Noticed<Cue>> {
        let Some(piece) = card.piece() else {
            return Vec::new();
        };
        let rows = || part_rows(piece).filter_map(|row| Some((row, row.names.first()?)));
        if card.judges().is_empty() {
            return rows()
                .flat_map(|(row, name)| cues(card, row, name))
                .filter(|cue| cue.2)
                .map(|(span, target, _, part)| {
                    let band = None;
                    Noticed::new(span, Cue { part, target, band })
                })
                .collect();
        }
        for_each_band(card, |judging| {
            let sections = judging.sections(card);
            let mut found = Vec::new();
            if sections.is_empty() {
                return found;
            }
            for (row, name) in rows() {
                let players = card.instrument(&name.text).and_then(|own| sections.players(own));
                // Alone or absent: the rules about solos and about parts without players speak of the cue.
                if players == Some(0) || (players == Some(1) && solo(row).is_some()) {
                    continue;
                }
                for (span, target, own, part) in cues(card, row, name) {
                    let (there, others) = instruments_in(card, &target);
                    let nobody = !others
                        && there
                            .iter()
                            .all(|one| !one.family.is_percussion() && sections.players(one) == Some(0));
                    if own || nobody {
                        let band = (!own).then(|| judging.name());
                        let strong = own || judging.earnest();
                        found.push(Noticed::judged(span, strong, Cue { part, target, band }));
                    }
                }
            }
            found
        })
    }

    fn say(what: &Cue, _card: &Card<'_>) -> Saying {
        let says = match &what.band {
            Some(band) => format!(
                "The part is cued in {}, which nobody in {band} plays.",
                what.target
            ),
            None => format!("The part is cued in {}, which is the part itself.", what.target),
        };
        Saying {
            place: what.part.clone(),
            says,
            why: "You count on the cue for the day when somebody is ill, and it is not there.".to_owned(),
            todo: "Look in the score for a cue in another part that is played.".to_owned(),
        }
    }
}

/// The certain cues of a row: where, in what, whether that is the part itself, and whose they are.
fn cues(card: &Card<'_>, row: &RowItem, name: &RowName) -> Vec<(crate::text::Span, String, bool, String)> {
    let own: Option<&Instrument> = card.instrument(&name.text);
    row.facts
        .iter()
        .filter(|fact| fact.is_certain())
        .filter_map(|fact| match &fact.what {
            Fact::Relation {
                relation: Relation::CuedIn,
                target,
                ..
            } => {
                let (found, others) = instruments_in(card, target);
                // Another part of the same section is a cue for somebody.
                let numbered = name.numbers.is_some();
                let itself = !others
                    && !numbered
                    && !found.is_empty()
                    && found
                        .iter()
                        .all(|one| own.is_some_and(|own| own.name == one.name));
                (!found.is_empty()).then(|| (fact.span, target.clone(), itself, name.one_form()))
            }
            _ => None,
        })
        .collect()
}
