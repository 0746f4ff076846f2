//! A section divided into more parts than its players can fill.

use crate::catalogue::sections::{divisions, is_optional, part_rows, relates, shares};
use crate::findings::card::Card;
use crate::findings::finding::{Related, Saying};
use crate::findings::judging::{Judging, for_each_band};
use crate::findings::rule::{Notice, Noticed};
use crate::music::Instrument;
use crate::notation::row::{Relation, RowItem};
use crate::rule;
use crate::text::sentences::plural;

use super::cues::SAME_LINE;

rule! {
    /// A section divided into more parts than it has players, or into parts with fewer players than the
    /// handbook wants (`players at least 2 to a wind part`). Only divided sections are looked at: one oboe on
    /// the one oboe part is a fact of the band.
    ///
    /// # Why it matters
    ///
    /// A part is silent, or a young player is alone on it.
    ///
    /// # Draws it
    ///
    /// ```levare
    /// handbook
    ///   players         at least 2 to a wind part
    ///
    /// ensemble "Seventh Grade Band"
    ///   players         flute 7, horn 3
    ///
    /// piece "Overture for a Small Hall"
    ///   parts
    ///     flute 1-2
    ///     horn 1          A3-A4
    ///     horn 2          G3-E4
    ///     ^^^^^^
    /// ```
    ///
    /// # Does not
    ///
    /// ```levare
    /// handbook
    ///   players         at least 2 to a wind part
    ///
    /// ensemble "Seventh Grade Band"
    ///   players         flute 7, oboe 1, horn 3
    ///
    /// piece "Overture for a Small Hall"
    ///   parts
    ///     flute 1-2
    ///     oboe            C4-G5
    ///     horn 1          A3-A4
    ///     horn 2          same as horn 1
    /// ```
    ///
    /// # What to do
    ///
    /// Leave out the part that another doubles and write `optional` or `same as` after it, or ask players
    /// of another section to take it.
    PartShortOfPlayers: "part short of players", Coverage, Warning, reads Catalogue, looks at Parts
}

/// A divided section and its players.
pub struct ShortPart {
    part: String,
    instrument: String,
    parts: u32,
    players: u32,
    fewest: u32,
    band: String,
    related: Vec<Related>,
}

impl Notice for PartShortOfPlayers {
    type What = ShortPart;

    fn notice(card: &Card<'_>) -> Vec<Noticed<ShortPart>> {
        let Some(piece) = card.piece() else {
            return Vec::new();
        };
        let mut divided: Vec<&Instrument> = Vec::new();
        for name in part_rows(piece).flat_map(|row| &row.names) {
            let Some(instrument) = card.instrument(&name.text) else {
                continue;
            };
            if name.numbers.is_some() && !divided.iter().any(|known| known.name == instrument.name) {
                divided.push(instrument);
            }
        }
        for_each_band(card, |judging| {
            divided
                .iter()
                .filter_map(|instrument| short(card, judging, instrument))
                .collect()
        })
    }

    fn say(what: &ShortPart, _card: &Card<'_>) -> Saying {
        let players = match what.players {
            1 => format!("1 {}", what.instrument),
            players => format!("{players} {}", plural(&what.instrument)),
        };
        let wants = match what.players < what.parts {
            true => "so a part stays silent".to_owned(),
            false => format!(
                "so a part has fewer than the {} players that the handbook wants",
                what.fewest
            ),
        };
        Saying {
            place: what.part.clone(),
            says: format!(
                "The section is divided into {} parts and {} has {players}, {wants}.",
                what.parts, what.band
            ),
            why: "A part that nobody has is missed in the harmony, and a young player alone on one gets lost."
                .to_owned(),
            todo: "See which part another one doubles and leave it out, or ask players of another section to take it.".to_owned(),
        }
    }

    fn related(what: &ShortPart, _card: &Card<'_>) -> Vec<Related> {
        what.related.clone()
    }
}

fn short(card: &Card<'_>, judging: &Judging<'_>, instrument: &Instrument) -> Option<Noticed<ShortPart>> {
    let piece = card.piece()?;
    let sections = judging.sections(card);
    let players = sections.players(instrument).filter(|players| *players > 0)?;
    let needed = |row: &RowItem| {
        !is_optional(row) && !relates(row, &[Relation::InsteadOf]) && !relates(row, &SAME_LINE)
    };
    let parts = divisions(piece, card.instruments(), &instrument.name, needed);
    if parts < 2 {
        return None;
    }
    let fewest = card
        .snapshot
        .handbook()
        .and_then(|handbook| handbook.fewest_to_a_part())
        .unwrap_or(1)
        .max(1);
    let least = shares(players, parts).into_iter().min().unwrap_or(0);
    if least >= fewest {
        return None;
    }
    // The highest part is the one left over.
    let name = part_rows(piece)
        .filter(|row| needed(row))
        .flat_map(|row| &row.names)
        .filter(|name| {
            card.instrument(&name.text)
                .is_some_and(|found| found.name == instrument.name)
        })
        .filter(|name| name.numbers.is_some())
        .max_by_key(|name| name.numbers.map(|(first, last)| first.max(last)))?;
    let related = sections
        .named(&instrument.name)
        .next()
        .map(|section| judging.beside(card, section.band, section.span, "the players of the section"))
        .unwrap_or_default();
    let what = ShortPart {
        part: name.one_form(),
        instrument: instrument.name.to_string(),
        parts,
        players,
        fewest,
        band: judging.name(),
        related,
    };
    Some(Noticed::judged(name.span, judging.in_full(), what))
}
