//! What covers a part besides its own players: cues, doublings, alternatives.

use crate::catalogue::model::Piece;
use crate::catalogue::sections::{Sections, may_be_spared, part_rows, relates};
use crate::findings::card::Card;
use crate::music::Instrument;
use crate::music::groups::Group;
use crate::music::instruments::split_part;
use crate::notation::row::{Fact, Relation, RowFact, RowItem};

/// Relations by which another part has the same line.
pub(super) const SAME_LINE: [Relation; 3] = [Relation::SameAs, Relation::With, Relation::Doubles];

/// The words of a row's relations of these kinds.
pub(super) fn targets<'r>(row: &'r RowItem, kinds: &'r [Relation]) -> impl Iterator<Item = &'r str> {
    row.facts.iter().filter_map(move |fact| match &fact.what {
        Fact::Relation { relation, target, .. } if kinds.contains(relation) => Some(target.as_str()),
        _ => None,
    })
}

/// The instruments that words name: `flute, oboe or clarinet`, `clarinet 1`. Words that are no instrument
/// are left out; the second answer says whether there were any.
pub(super) fn instruments_in<'s>(card: &Card<'s>, words: &str) -> (Vec<&'s Instrument>, bool) {
    let mut found = Vec::new();
    let mut others = false;
    let pieces = words
        .split(',')
        .flat_map(|piece| piece.split(" and "))
        .flat_map(|piece| piece.split(" or "));
    for piece in pieces {
        let piece = piece.trim();
        let piece = piece
            .strip_prefix("or ")
            .or_else(|| piece.strip_prefix("and "))
            .unwrap_or(piece);
        let piece = piece.trim_start_matches("the ");
        match card
            .instrument(piece)
            .or_else(|| card.instrument(split_part(piece).0))
        {
            Some(instrument) => found.push(instrument),
            None => others = true,
        }
    }
    (found, others)
}

/// Whether words name somebody in the band: an instrument that has players, a grouping, or anything the
/// table of instruments does not know, which gets the benefit of the doubt.
pub(super) fn is_there(card: &Card<'_>, sections: &Sections, words: &str) -> bool {
    let (found, others) = instruments_in(card, words);
    others
        || Group::read(words).is_some()
        || found
            .iter()
            .any(|instrument| instrument.family.is_percussion() || sections.has(instrument))
}

/// Whether the row of another part says that it has this instrument's line, or stands in for it.
pub(super) fn is_had_by_another(card: &Card<'_>, sections: &Sections, instrument: &Instrument) -> bool {
    let piece = card.piece();
    piece.is_some_and(|piece| is_had_in(card, piece, sections, instrument))
}

fn is_had_in(card: &Card<'_>, piece: &Piece, sections: &Sections, instrument: &Instrument) -> bool {
    let kinds = [
        Relation::SameAs,
        Relation::With,
        Relation::Doubles,
        Relation::InsteadOf,
    ];
    part_rows(piece).any(|row| {
        let names_it = targets(row, &kinds).any(|target| {
            instruments_in(card, target)
                .0
                .iter()
                .any(|found| found.name == instrument.name)
        });
        names_it
            && row
                .names
                .iter()
                .any(|name| card.instrument(&name.text).is_none_or(|own| sections.has(own)))
    })
}

/// The rows of a piece that speak of this instrument.
pub(super) fn rows_of<'s>(card: &Card<'s>, instrument: &str) -> Vec<&'s RowItem> {
    let piece = card.piece();
    piece.map_or(Vec::new(), |piece| rows_in(card, piece, instrument))
}

fn rows_in<'p>(card: &Card<'_>, piece: &'p Piece, instrument: &str) -> Vec<&'p RowItem> {
    part_rows(piece)
        .filter(|row| {
            row.names.iter().any(|name| {
                card.instrument(&name.text)
                    .is_some_and(|found| found.name == instrument)
            })
        })
        .collect()
}

/// Whether a piece has a part for an instrument that nobody of these sections plays, that may not be left out,
/// and that nobody else has.
pub(crate) fn is_silent(
    card: &Card<'_>,
    piece: &Piece,
    sections: &Sections,
    instrument: &Instrument,
) -> bool {
    let rows = rows_in(card, piece, &instrument.name);
    let spared = |row: &&RowItem| may_be_spared(row) || relates(row, &[Relation::InsteadOf]);
    let others = [
        Relation::SameAs,
        Relation::With,
        Relation::Doubles,
        Relation::CuedIn,
        Relation::For,
        Relation::Or,
    ];
    let covered = |row: &&RowItem| targets(row, &others).any(|target| is_there(card, sections, target));
    !rows.is_empty()
        && !sections.has(instrument)
        && !rows.iter().any(|row| spared(row) || covered(row))
        && !is_had_in(card, piece, sections, instrument)
}

/// The certain solo of a row, in the words of the card: where it stands, and its measures. An improvised solo
/// has no notes that could stand in another part.
pub(super) fn solo(row: &RowItem) -> Option<(crate::text::Span, Option<String>)> {
    let improvised =
        |fact: &RowFact| matches!(&fact.what, Fact::Saying(saying, _) if saying.0 == "improvised");
    if row.facts.iter().any(improvised) {
        return None;
    }
    row.facts.iter().find_map(|fact| match &fact.what {
        Fact::Solo(place) if fact.is_certain() => Some((fact.span, place.as_ref().map(ToString::to_string))),
        _ => None,
    })
}
