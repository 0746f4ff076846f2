//! A solo that rests on one player.

use crate::catalogue::sections::{Sections, may_be_spared, part_rows, relates};
use crate::findings::card::Card;
use crate::findings::finding::{Related, Saying};
use crate::findings::judging::{Judging, for_each_band};
use crate::findings::rule::{Notice, Noticed};
use crate::music::Instrument;
use crate::notation::row::{Relation, RowItem, RowName};
use crate::rule;

use super::cues::{SAME_LINE, instruments_in, is_had_by_another, is_there, rows_of, solo, targets};

rule! {
    /// A solo for an instrument with a single player, cued in no other part.
    ///
    /// # Why it matters
    ///
    /// One fever on the day of the concert, and the solo is gone.
    ///
    /// # Draws it
    ///
    /// ```levare
    /// ensemble "Seventh Grade Band"
    ///   players         flute 7, oboe 1
    ///
    /// piece "Slow River, Low Sun"
    ///   parts
    ///     flute           F4-D6
    ///     oboe            D4-G5, solo 17-24
    ///                            ^^^^^^^^^^
    /// ```
    ///
    /// # Does not
    ///
    /// ```levare
    /// ensemble "Seventh Grade Band"
    ///   players         flute 7, oboe 1, clarinet 10
    ///
    /// piece "Slow River, Low Sun"
    ///   parts
    ///     flute           F4-D6
    ///     oboe            D4-G5, solo 17-24, cued in flute
    ///     clarinet        G3-C5, solo 33-40
    /// ```
    ///
    /// # What to do
    ///
    /// Look in the score for a cue and write it down (`cued in flute`), or let a second player learn the
    /// solo.
    SoloWithoutACue: "solo without a cue", Coverage, Warning, reads Catalogue, looks at Parts
}

/// A solo and what is wrong with its cue.
pub struct Alone {
    part: String,
    place: Option<String>,
    instrument: String,
    band: String,
    cue: Cue,
    related: Vec<Related>,
}

/// What the card says of a cue.
enum Cue {
    /// Nothing.
    None,
    /// It stands in the part that has the solo.
    InItself,
    /// It stands in parts that nobody plays.
    NobodyThere(String),
}

impl Notice for SoloWithoutACue {
    type What = Alone;

    fn notice(card: &Card<'_>) -> Vec<Noticed<Alone>> {
        let Some(piece) = card.piece() else {
            return Vec::new();
        };
        for_each_band(card, |judging| {
            let sections = judging.sections(card);
            part_rows(piece)
                .flat_map(|row| row.names.first().map(|name| (row, name)))
                .filter_map(|(row, name)| {
                    let instrument = card.instrument(&name.text)?;
                    alone(card, judging, sections, row, name, instrument)
                })
                .collect()
        })
    }

    fn say(what: &Alone, _card: &Card<'_>) -> Saying {
        let cue = match &what.cue {
            Cue::None => "it is cued nowhere".to_owned(),
            Cue::InItself => "its cue is in the part that has the solo".to_owned(),
            Cue::NobodyThere(target) => format!("its cue is in {target}, which nobody plays"),
        };
        let place = match &what.place {
            Some(place) => format!("The solo {place}"),
            None => "The solo".to_owned(),
        };
        Saying {
            place: what.part.clone(),
            says: format!(
                "{place} rests on the only {} of {}, and {cue}.",
                what.instrument, what.band
            ),
            why: "If that player is ill on the day, nobody else has the notes.".to_owned(),
            todo: "Look in the score for a cue in another part and write it down, or let a second player learn the solo.".to_owned(),
        }
    }

    fn related(what: &Alone, _card: &Card<'_>) -> Vec<Related> {
        what.related.clone()
    }
}

fn alone(
    card: &Card<'_>,
    judging: &Judging<'_>,
    sections: &Sections,
    row: &RowItem,
    name: &RowName,
    instrument: &Instrument,
) -> Option<Noticed<Alone>> {
    let (span, place) = solo(row)?;
    // No player at all is another finding, and the missing cue belongs to it.
    let alone = instrument.full_range.is_some() && sections.players(instrument) == Some(1);
    if !alone || may_be_spared(row) || relates(row, &[Relation::InsteadOf]) {
        return None;
    }
    let own = rows_of(card, &instrument.name);
    let elsewhere = |target: &&str| {
        let (found, others) = instruments_in(card, target);
        others || found.iter().any(|found| found.name != instrument.name)
    };
    let same_line = own
        .iter()
        .any(|row| targets(row, &SAME_LINE).any(|target| is_there(card, sections, target)));
    let cues: Vec<&str> = own
        .iter()
        .flat_map(|row| targets(row, &[Relation::CuedIn]))
        .collect();
    let cued = cues
        .iter()
        .filter(|target| elsewhere(target))
        .any(|target| is_there(card, sections, target));
    if same_line || cued || is_had_by_another(card, sections, instrument) {
        return None;
    }
    let cue = match cues.iter().find(|target| elsewhere(target)) {
        Some(target) => Cue::NobodyThere((*target).to_owned()),
        None if cues.is_empty() => Cue::None,
        None => Cue::InItself,
    };
    let related = sections
        .named(&instrument.name)
        .next()
        .map(|section| judging.beside(card, section.band, section.span, "the only player"))
        .unwrap_or_default();
    let what = Alone {
        part: name.one_form(),
        place,
        instrument: instrument.name.to_string(),
        band: judging.name(),
        cue,
        related,
    };
    Some(Noticed::judged(span, judging.in_full(), what))
}
