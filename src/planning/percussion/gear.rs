//! Whether the instruments are there: owned or borrowed, one of each unless the card says more.

use crate::catalogue::cupboard::{self, holds};
use crate::catalogue::{EntryId, Snapshot, instrument_named};
use crate::notation::values::Equipment;

use super::ask::Question;
use super::clock::Sounding;
use super::part_told::PartTold;
use super::setting::ensembles;

/// An instrument of which there are too few.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Lacking {
    /// Its name.
    pub name: String,
    /// How many sound at once at most.
    pub asked: usize,
    /// How many are owned or borrowed.
    pub there: usize,
    /// Where as many as asked sound at once first; none where only parts are counted.
    pub at: Option<Sounding>,
    /// The parts that ask for it, by their places in the question.
    pub parts: Vec<usize>,
}

/// What bands own, and what they and a concert borrow; none where no card says what is owned.
pub fn things<'s>(
    snapshot: &'s Snapshot,
    bands: &[EntryId],
    concert: Option<EntryId>,
) -> Option<Vec<&'s Equipment>> {
    let cards = ensembles(snapshot, bands);
    let concert = concert.and_then(|id| snapshot.entry(id)?.concert());
    cupboard::things(snapshot.handbook(), &cards, concert)
}

/// The instruments of a piece of which there are too few. What the card calls by a word nobody knows is taken
/// as there, and so is what may be spared or is only played in place of another.
pub fn lacking(snapshot: &Snapshot, question: &Question, things: &[&Equipment]) -> Vec<Lacking> {
    let mut found: Vec<Lacking> = Vec::new();
    for station in &question.stations {
        let Some(instrument) = instrument_named(snapshot.instruments(), &station.name) else {
            continue;
        };
        let counts = |part: &&(usize, &PartTold)| {
            part.1.station == *station && part.1.spare.is_none() && part.1.instead_of.is_empty()
        };
        let parts: Vec<(usize, &PartTold)> = question.parts.iter().enumerate().collect();
        let parts: Vec<&(usize, &PartTold)> = parts.iter().filter(counts).collect();
        let mut holding = things
            .iter()
            .filter(|thing| holds(thing, instrument, snapshot.instruments()))
            .peekable();
        let none = holding.peek().is_none();
        // A family's name or a plural in the cupboard may stand for any number.
        let many = |thing: &&&Equipment| {
            let named = instrument_named(snapshot.instruments(), &thing.name);
            named.is_none_or(|named| named.name != instrument.name) || !thing.sizes.is_empty()
        };
        let mut there: usize = 0;
        let mut any_number = false;
        for thing in holding {
            any_number |= many(&thing);
            there = there.saturating_add(usize::try_from(thing.count).unwrap_or(usize::MAX));
        }
        let (asked, at) = at_once(&parts);
        if asked == 0 || (!none && (any_number || asked <= there || !is_single(question, &parts))) {
            continue;
        }
        found.push(Lacking {
            name: station.name.clone(),
            asked,
            there,
            at: question
                .clock
                .measures
                .get(at)
                .copied()
                .filter(|_| !question.all_at_once),
            parts: parts.iter().map(|part| part.0).collect(),
        });
    }
    found
}

/// Whether one player fills the instrument: two share the bars of a mallet instrument.
fn is_single(question: &Question, parts: &[&(usize, &PartTold)]) -> bool {
    use crate::music::Family;
    !question.all_at_once
        && parts
            .iter()
            .all(|part| matches!(part.1.station.family, Some(Family::Battery)))
}

/// The most of these parts that sound at once, and the first of the clock's measures where they do.
fn at_once(parts: &[&(usize, &PartTold)]) -> (usize, usize) {
    let mut changes: Vec<(usize, bool)> = Vec::new();
    for (first, last) in parts.iter().flat_map(|part| &part.1.entrances) {
        changes.push((*first, true));
        changes.push((last.saturating_add(1), false));
    }
    // What ends goes before what begins in the same measure.
    changes.sort_unstable();
    let (mut now, mut best) = (0usize, (0, 0));
    for (at, begins) in changes {
        now = match begins {
            true => now.saturating_add(1),
            false => now.saturating_sub(1),
        };
        if now > best.0 {
            best = (now, at);
        }
    }
    best
}
