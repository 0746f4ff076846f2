//! The copies of a set against the players of a band.

use crate::music::Instrument;
use crate::music::instruments::split_part;
use crate::notation::values::Copies;
use crate::text::Span;

use super::model::{Piece, Said};
use super::sections::{Sections, desks, same_chair};
use super::{Snapshot, instrument_named};

/// The copies for an instrument, and who needs them.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Counted {
    /// The instrument.
    pub instrument: String,
    /// The copies of all its parts.
    pub copies: u32,
    /// Its players.
    pub players: u32,
    /// The stands that they need; two who share a stand need one copy.
    pub stands: u32,
    /// Where the last of the copies stands on the card.
    pub span: Span,
}

impl Counted {
    /// How many copies are short.
    pub fn short(&self) -> u32 {
        self.stands.saturating_sub(self.copies)
    }
}

/// How many copies there are of each part that is not counted by itself, where that is said for certain.
fn others(piece: &Piece) -> Option<&Said<Copies>> {
    let mut copies = piece.library.copies.iter();
    copies.find(|said| said.value.is_of_the_others() && said.is_certain())
}

/// The wind instruments whose copies a card counts, but those of which it says that copies are short.
pub fn counted<'s>(snapshot: &'s Snapshot, piece: &Piece) -> Vec<&'s Instrument> {
    let known = |name: &str| instrument_named(snapshot.instruments(), name);
    let mut instruments: Vec<&Instrument> = Vec::new();
    let mut add = |instrument: &'s Instrument| {
        let twice = instruments
            .iter()
            .any(|known| same_chair(&known.name, &instrument.name));
        if !instrument.family.is_percussion() && !twice {
            instruments.push(instrument);
        }
    };
    for said in &piece.library.copies {
        // What the card says is short is known.
        let name = |copies: &Copies| known(split_part(&copies.part).0).map(|found| &found.name);
        let own = name(&said.value);
        let short = piece
            .library
            .short
            .iter()
            .any(|short| own.is_some() && name(&short.value) == own);
        if !short && let Some(instrument) = known(split_part(&said.value.part).0) {
            add(instrument);
        }
    }
    // `2 other parts` counts every part that is not counted by itself.
    if others(piece).is_some() {
        for name in snapshot.part_names(piece) {
            if let Some(instrument) = known(&name.text) {
                add(instrument);
            }
        }
    }
    instruments
}

/// The copies of all parts of an instrument against its players; none where not all of them are counted, or nobody
/// knows how many players there are.
pub fn of(
    snapshot: &Snapshot,
    piece: &Piece,
    instrument: &Instrument,
    sections: &Sections,
) -> Option<Counted> {
    let of_it: Vec<(&Said<Copies>, Option<u8>)> = piece
        .library
        .copies
        .iter()
        .filter_map(|said| {
            let (name, number) = split_part(&said.value.part);
            let found = instrument_named(snapshot.instruments(), name)?;
            same_chair(&found.name, &instrument.name).then_some((said, number))
        })
        .collect();
    let mut copies: u32 = 0;
    for (said, _) in &of_it {
        copies = copies.saturating_add(said.value.count.filter(|_| said.is_certain())?);
    }
    let parts = desks(piece, snapshot.instruments(), &instrument.name, |_| true);
    let covers = |part: u32| {
        of_it
            .iter()
            .any(|(_, number)| number.is_none_or(|number| u32::from(number) == part))
    };
    let uncounted = (1..=parts).filter(|part| !covers(*part)).count() as u32;
    let others = others(piece).filter(|_| uncounted > 0);
    if uncounted > 0 {
        let each = others?.value.count?;
        copies = copies.saturating_add(each.saturating_mul(uncounted));
    }
    let last = others.or(of_it.last().map(|(said, _)| *said))?;
    Some(Counted {
        instrument: instrument.name.to_string(),
        copies,
        players: sections.players(instrument)?,
        stands: sections.stands(instrument)?,
        span: last.span,
    })
}
