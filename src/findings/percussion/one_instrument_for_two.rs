//! Two parts on one drum.

use crate::catalogue::percussion::Part;
use crate::findings::card::Card;
use crate::findings::finding::{Related, Saying};
use crate::findings::judging::{Judging, for_each_band};
use crate::findings::rule::{Notice, Noticed};
use crate::music::Instrument;
use crate::music::instruments::{Family, key, split_part};
use crate::rule;
use crate::text::Span;

use super::row_written_twice::meeting;
use super::sounding::place_of;

rule! {
    /// Two parts for one drum, pair of cymbals or accessory such as a triangle that play at once, where the band owns and borrows a single
    /// one. Only in a coming program, and only for a band that lists what it owns. Two players can share the
    /// bars of a mallet instrument, so those are left alone.
    ///
    /// # Why it matters
    ///
    /// Two players come to one drum, and the part is heard half as loud as it was meant.
    ///
    /// # Draws it
    ///
    /// ```levare
    /// ensemble "Seventh Grade Band"
    ///   percussionists  6
    ///   owns            snare, bass drum, bells
    ///
    /// piece "Quarry Dances"
    ///   percussion
    ///     snare 1         1-32
    ///     snare 2         17-32
    ///     ^^^^^^^
    /// concert "Winter evening"
    ///   program
    ///     "Quarry Dances"
    /// ```
    ///
    /// # Does not
    ///
    /// ```levare
    /// ensemble "Seventh Grade Band"
    ///   percussionists  6
    ///   owns            2 snares, bass drum, bells
    ///
    /// piece "Quarry Dances"
    ///   percussion
    ///     snare 1         1-32
    ///     snare 2         17-32
    ///     bass drum 1     1-16
    ///     bass drum 2     17-32
    ///     bells 1         1-32
    ///     bells 2         1-32
    /// concert "Winter evening"
    ///   program
    ///     "Quarry Dances"
    /// ```
    ///
    /// # What to do
    ///
    /// Borrow a second one, write how many there are (`owns  2 snares`), or leave the second part out.
    OneInstrumentForTwo: "one instrument for two", Percussion, Information, reads Catalogue,
        looks at Percussion
}

/// Two parts and the instrument.
pub struct Shared {
    place: String,
    parts: (String, String),
    instrument: String,
    at: u32,
    before: Span,
    band: String,
}

impl Notice for OneInstrumentForTwo {
    type What = Shared;

    fn notice(card: &Card<'_>) -> Vec<Noticed<Shared>> {
        let Some(piece) = card.piece() else {
            return Vec::new();
        };
        let courses = card.percussion();
        for_each_band(card, |judging| {
            if !judging.earnest() {
                return Vec::new();
            }
            let mut found = Vec::new();
            for course in courses {
                let movement = course.movement.and_then(|at| piece.movements.get(at));
                if movement.is_some_and(|movement| !judging.plays(movement.number)) {
                    continue;
                }
                let needed: Vec<&Part> = course
                    .parts
                    .iter()
                    .filter(|part| part.is_needed())
                    .take(200)
                    .collect();
                for (at, part) in needed.iter().enumerate() {
                    let Some(instrument) = single(card, judging, part) else {
                        continue;
                    };
                    let before = needed.iter().take(at).find_map(|before| {
                        let other = only(card, before)?;
                        // One row written twice is another finding.
                        let same = other.name == instrument.name && key(&before.name()) != key(&part.name());
                        Some((*before, meeting(before, part).filter(|_| same)?))
                    });
                    if let Some((before, measure)) = before {
                        let what = Shared {
                            place: place_of(piece, course),
                            parts: (before.name(), part.name()),
                            instrument: instrument.name.to_string(),
                            at: measure,
                            before: before.name_span,
                            band: judging.name(),
                        };
                        found.push(Noticed::judged(part.name_span, true, what));
                    }
                }
            }
            found
        })
    }

    fn say(what: &Shared, _card: &Card<'_>) -> Saying {
        Saying {
            place: format!("{}, measure {}", what.place, what.at),
            says: format!(
                "{} and {} play at once, and {} has one {}.",
                what.parts.0, what.parts.1, what.band, what.instrument
            ),
            why: "Two players come to one instrument, and a part is not heard as it was meant.".to_owned(),
            todo: "Borrow a second one, write on the band's card how many there are, or leave the second part out.".to_owned(),
        }
    }

    fn related(what: &Shared, card: &Card<'_>) -> Vec<Related> {
        vec![card.beside(card.entry, what.before, "the other part")]
    }
}

/// The drum or pair of cymbals of a part, where it has one instrument.
fn only<'s>(card: &Card<'s>, part: &Part) -> Option<&'s Instrument> {
    let [name] = part.names.as_slice() else {
        return None;
    };
    card.instrument(split_part(name).0).filter(|found| {
        let many = ["tom-toms", "drum set", "hand claps", "police whistle", "siren"];
        matches!(found.family, Family::Battery | Family::Accessories) && !many.contains(&found.name.as_ref())
    })
}

/// The instrument of a part, where the bands have exactly one of it.
fn single<'s>(card: &Card<'s>, judging: &Judging<'_>, part: &Part) -> Option<&'s Instrument> {
    let instrument = only(card, part)?;
    let bands = judging.ensembles();
    let things = crate::catalogue::cupboard::things(card.snapshot.handbook(), &bands, judging.concert)?;
    // A grouping, or a set that holds it, may well be more than one.
    let holding = things
        .iter()
        .filter(|thing| crate::catalogue::cupboard::holds(thing, instrument, card.instruments()));
    let mut count: u32 = 0;
    for thing in holding {
        let named = card
            .instrument(&thing.name)
            .is_some_and(|found| found.name == instrument.name);
        if !named || thing.name.ends_with('s') && !instrument.name.ends_with('s') && thing.count == 1 {
            return None;
        }
        count = count.saturating_add(thing.count);
    }
    (count == 1).then_some(instrument)
}
