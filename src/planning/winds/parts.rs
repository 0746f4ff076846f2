//! The wind parts of a piece, one by one, from the rows of its card.

use crate::catalogue::instrument_named;
use crate::catalogue::model::Piece;
use crate::catalogue::sections::meant_by;
use crate::music::groups::Group;
use crate::music::instruments::{OVER_THE_BREAK, key};
use crate::music::{Clef, Family, Instrument, Instruments, PitchRange};
use crate::notation::names::cut_number;
use crate::notation::row::{Fact, Relation, RowFact, RowItem, RowName};

use super::told::Spare;

/// The most parts that are looked at; no piece has so many.
pub const MOST_PARTS: usize = 160;
/// The most parts of one section.
const MOST_OF_ONE: u32 = 24;

/// A part as the card has it.
#[derive(Debug, Clone)]
pub struct Written<'p> {
    /// The name in the one form.
    pub name: String,
    /// The instrument's name in the one form, or the flexible part's word.
    pub own: String,
    /// The number.
    pub number: Option<u32>,
    /// The instruments it is for by the card: its own, or those a flexible part names, or a group's.
    pub instruments: Vec<String>,
    /// Instruments that may also play it, by the card.
    pub also_for: Vec<String>,
    /// The group whose instruments play it where they have no part of their own.
    pub group: Option<Group>,
    /// What all its rows say.
    pub facts: Vec<&'p RowFact>,
}

impl Written<'_> {
    /// The words of its relations of these kinds, with where they hold.
    pub fn targets(&self, kinds: &[Relation]) -> impl Iterator<Item = (Relation, &str, Option<String>)> {
        self.facts.iter().filter_map(move |fact| match &fact.what {
            Fact::Relation {
                relation,
                target,
                place,
                ..
            } if kinds.contains(relation) => Some((
                *relation,
                target.as_str(),
                place.as_ref().map(ToString::to_string),
            )),
            _ => None,
        })
    }

    /// Whether one instrument plays it, by number or not.
    pub fn is_flexible(&self) -> bool {
        self.group.is_none() && self.instruments.len() != 1
    }

    /// Whether its row is an alternative to another.
    pub fn is_instead(&self) -> bool {
        self.targets(&[Relation::InsteadOf]).next().is_some()
    }

    /// Whether it is silent all through.
    pub fn is_silent(&self) -> bool {
        self.facts.iter().any(|fact| fact.what == Fact::Tacet(None))
    }

    /// Whether the card says that it may be left out.
    pub fn is_optional(&self) -> bool {
        self.facts.iter().any(|fact| fact.what == Fact::Optional)
    }

    /// The certain ranges it is given, joined, in the written pitch of its instrument.
    pub fn range(&self, instrument: Option<&Instrument>) -> Option<PitchRange> {
        let certain = self.facts.iter().filter(|fact| fact.is_certain());
        let ranges = certain.filter_map(|fact| match &fact.what {
            Fact::Range {
                range,
                concert: false,
                ..
            } => Some(range.upright()),
            Fact::Range { range, .. } => {
                let range = range.upright();
                let transposition = instrument?.transposition;
                Some(PitchRange::new(
                    transposition.written(range.low)?,
                    transposition.written(range.high)?,
                ))
            }
            Fact::Bound { note, .. } => {
                let pitch = note.pitch()?;
                Some(PitchRange::new(pitch, pitch))
            }
            _ => None,
        });
        ranges.reduce(PitchRange::joined)
    }

    /// Whether it goes over the clarinets' break.
    pub fn over_the_break(&self, instrument: Option<&Instrument>) -> bool {
        let clarinet =
            instrument.is_some_and(|one| one.family == Family::Clarinets && one.clef == Clef::Treble);
        let certain = || self.facts.iter().filter(|fact| fact.is_certain());
        if !clarinet || certain().any(|fact| fact.what == Fact::BelowTheBreak) {
            return false;
        }
        certain().any(|fact| matches!(fact.what, Fact::OverTheBreak(_)))
            || self
                .range(instrument)
                .is_some_and(|range| range.high.midi() >= OVER_THE_BREAK.midi())
    }

    /// Whether the card says anything of its notes.
    pub fn says_notes(&self) -> bool {
        let of_notes = |fact: &&RowFact| {
            matches!(
                fact.what,
                Fact::Range { .. } | Fact::OverTheBreak(_) | Fact::BelowTheBreak
            )
        };
        self.facts.iter().any(of_notes)
    }

    /// Why it may be left out, by its own rows.
    pub fn spare(&self) -> Option<Spare> {
        if self.group.is_some() {
            return Some(Spare::Group);
        }
        if self.is_optional() {
            return Some(Spare::Optional);
        }
        let (relation, target, _) = self.targets(&SAME_LINE).next()?;
        Some(Spare::Doubled(format!("{} {target}", relation.words())))
    }
}

/// Relations by which another part has the same line.
pub const SAME_LINE: [Relation; 3] = [Relation::SameAs, Relation::With, Relation::Doubles];

/// The parts of a piece, alternatives among them; and whether there are more than are looked at. `usual` has the
/// handbook's usual parts.
pub fn written<'p>(
    piece: &'p Piece,
    movements: &[u32],
    usual: &'p [RowItem],
    instruments: &Instruments,
) -> (Vec<Written<'p>>, bool) {
    let played = piece
        .movements
        .iter()
        .filter(|movement| movements.is_empty() || movements.contains(&movement.number));
    let rows: Vec<&RowItem> = piece
        .parts
        .iter()
        .chain(played.flat_map(|movement| &movement.piece.parts))
        .collect();
    let mut parts: Vec<Written<'p>> = Vec::new();
    let mut cut = false;
    for row in rows {
        for name in row.names.iter().flat_map(|name| meant_by(row, name, usual)) {
            for number in numbers(name, &mut cut) {
                if parts.len() >= MOST_PARTS {
                    return (with_whole_sections(parts), true);
                }
                add(&mut parts, row, name, number, instruments);
            }
        }
    }
    (with_whole_sections(parts), cut)
}

fn numbers(name: &RowName, cut: &mut bool) -> Vec<Option<u32>> {
    let Some((first, last)) = name.numbers else {
        return vec![None];
    };
    let (first, last) = (first.min(last), first.max(last));
    let end = last.min(first.saturating_add(MOST_OF_ONE - 1));
    *cut |= end < last;
    (first..=end).map(Some).collect()
}

fn add<'p>(
    parts: &mut Vec<Written<'p>>,
    row: &'p RowItem,
    name: &RowName,
    number: Option<u32>,
    instruments: &Instruments,
) {
    let found = instrument_named(instruments, &name.text);
    // Percussion among the parts is assigned with the percussion; singers and players of a track read no part.
    let elsewhere =
        |family: Family| family.is_percussion() || matches!(family, Family::Voice | Family::Electronics);
    if found.is_some_and(|instrument| elsewhere(instrument.family)) {
        return;
    }
    // `easy clarinet` is a part of its own beside `clarinet`.
    let own = name.text.clone();
    let full = match number {
        Some(number) => format!("{own} {number}"),
        None => own.clone(),
    };
    let facts = row.facts.iter();
    if let Some(known) = parts.iter_mut().find(|part| key(&part.name) == key(&full)) {
        known.facts.extend(facts);
        return;
    }
    let group = match found {
        Some(_) => None,
        None => Group::read(&name.text),
    };
    let mut part = Written {
        name: full,
        own,
        number,
        instruments: found
            .iter()
            .map(|instrument| instrument.name.to_string())
            .collect(),
        also_for: Vec::new(),
        group,
        facts: facts.collect(),
    };
    let named: Vec<String> = part
        .targets(&[Relation::For, Relation::Or])
        .flat_map(|(_, target, _)| named_in(target, instruments))
        .collect();
    match found {
        Some(_) => part.also_for = named,
        None => part.instruments = named,
    }
    parts.push(part);
}

/// The instruments that words name: `flute, oboe or clarinet 1`.
pub fn named_in(words: &str, instruments: &Instruments) -> Vec<String> {
    let pieces = words
        .split(',')
        .flat_map(|piece| piece.split(" and "))
        .flat_map(|piece| piece.split(" or "));
    let mut found: Vec<String> = Vec::new();
    for piece in pieces {
        let piece = piece.trim();
        let piece = ["or ", "and ", "the "]
            .iter()
            .find_map(|lead| piece.strip_prefix(lead))
            .unwrap_or(piece);
        let one = instrument_named(instruments, piece)
            .or_else(|| instrument_named(instruments, cut_number(piece, true).words));
        if let Some(one) = one.map(|one| one.name.to_string())
            && !found.contains(&one)
        {
            found.push(one);
        }
    }
    found
}

/// What is said of a whole section holds for each of its numbered parts: `clarinet` beside `clarinet 1`.
fn with_whole_sections(parts: Vec<Written<'_>>) -> Vec<Written<'_>> {
    let numbered = |own: &str| {
        parts
            .iter()
            .any(|part| part.number.is_some() && key(&part.own) == key(own))
    };
    let whole: Vec<(String, Vec<&RowFact>)> = parts
        .iter()
        .filter(|part| part.number.is_none() && numbered(&part.own))
        .map(|part| (key(&part.own), part.facts.clone()))
        .collect();
    let mut kept = parts;
    kept.retain(|part| part.number.is_some() || !whole.iter().any(|(own, _)| *own == key(&part.own)));
    for part in &mut kept {
        for (_, facts) in whole.iter().filter(|(own, _)| *own == key(&part.own)) {
            part.facts.extend(facts.iter().copied());
        }
    }
    kept
}
