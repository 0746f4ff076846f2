//! More clarinets asked over the break than can cross it.

use crate::catalogue::sections::{
    desks, is_optional, part_numbers, part_rows, players_asked, players_up_to_part, relates,
};
use crate::findings::card::Card;
use crate::findings::finding::{Related, Saying};
use crate::findings::judging::{Judging, for_each_band};
use crate::findings::rule::{Notice, Noticed};
use crate::music::instruments::is_over_the_break;
use crate::music::{Clef, Family, Instrument};
use crate::notation::row::{Fact, Relation, RowItem};
use crate::rule;
use crate::text::Span;
use crate::text::sentences::joined;

use super::beyond_what_they_play::BeyondWhatTheyPlay;
use super::written::ranges;

rule! {
    /// A clarinet part with notes over the break, B4 and higher, for more players than the band's card says
    /// can play them. The strongest are taken to sit on the first part.
    ///
    /// # Why it matters
    ///
    /// A player who has not crossed the break yet cannot play the part, however easy the rest of it is.
    ///
    /// # Draws it
    ///
    /// ```levare
    /// ensemble "Seventh Grade Band"
    ///   players         clarinet 10, 5 over the break
    ///
    /// piece "Snow on the Signal House"
    ///   parts
    ///     clarinet 1      G3-D5, over the break at 33-64
    ///     clarinet 2      A3-D5, over the break at 49-56
    ///                            ^^^^^^^^^^^^^^^^^^^^^^^
    /// ```
    ///
    /// # Does not
    ///
    /// Only for a band whose card says how many can cross.
    ///
    /// ```levare
    /// ensemble "Seventh Grade Band"
    ///   players         clarinet 10, 5 over the break
    ///
    /// piece "Snow on the Signal House"
    ///   parts
    ///     clarinet 1      G3-D5, over the break
    ///     clarinet 2      A3-Bb4
    /// ```
    ///
    /// # What to do
    ///
    /// Teach the crossing first, ask the publisher whether the notes may go down an octave, or choose a piece
    /// that keeps this part below the break.
    OverTheBreak: "over the break", Ranges, Warning, reads Catalogue, looks at Piece
}

/// A part over the break, how many would have to cross, and how many can.
pub struct Over {
    part: String,
    why: String,
    wanted: u32,
    able: u32,
    band: String,
    related: Vec<Related>,
}

impl Notice for OverTheBreak {
    type What = Over;

    fn notice(card: &Card<'_>) -> Vec<Noticed<Over>> {
        let Some(piece) = card.piece() else {
            return Vec::new();
        };
        let clarinets = card
            .instruments()
            .all()
            .iter()
            .filter(|found| found.family == Family::Clarinets && found.clef == Clef::Treble);
        let clarinets: Vec<&Instrument> = clarinets
            .filter(|clarinet| {
                part_rows(piece).any(|row| row.names.iter().any(|name| is(card, &name.text, clarinet)))
            })
            .collect();
        let crossing = for_each_band(card, |judging| {
            let mut found: Vec<Noticed<Over>> = Vec::new();
            for clarinet in &clarinets {
                for noticed in in_section(card, judging, clarinet) {
                    if !found.iter().any(|other| other.span == noticed.span) {
                        found.push(noticed);
                    }
                }
            }
            found
        });
        if crossing.is_empty() {
            return crossing;
        }
        // A range too high for the band altogether is told as that, and once.
        let beyond = BeyondWhatTheyPlay::notice(card);
        crossing
            .into_iter()
            .filter(|over| !beyond.iter().any(|beyond| beyond.span == over.span))
            .collect()
    }

    fn say(what: &Over, _card: &Card<'_>) -> Saying {
        let can = match what.able {
            0 => "nobody can yet".to_owned(),
            1 => "1 can".to_owned(),
            able => format!("{able} can"),
        };
        let players = match what.wanted {
            1 => "1 player".to_owned(),
            wanted => format!("{wanted} players"),
        };
        Saying {
            place: what.part.clone(),
            says: format!(
                "{}: counted from the first chair, {players} would have to cross, and in {} {can}.",
                what.why, what.band
            ),
            why: "A player who has not crossed the break yet cannot play the part, however easy the rest is.".to_owned(),
            todo: "Teach the crossing first, choose a piece that stays below, or ask the publisher whether those notes may go down an octave."
                .to_owned(),
        }
    }

    fn related(what: &Over, _card: &Card<'_>) -> Vec<Related> {
        what.related.clone()
    }
}

/// A part that crosses, where its row says so.
struct Crossing<'r> {
    numbers: (u32, u32),
    row: &'r RowItem,
    span: Span,
    part: String,
    why: String,
}

fn is(card: &Card<'_>, name: &str, clarinet: &Instrument) -> bool {
    card.instrument(name)
        .is_some_and(|found| found.name == clarinet.name)
}

fn in_section(card: &Card<'_>, judging: &Judging<'_>, clarinet: &Instrument) -> Vec<Noticed<Over>> {
    let sections = judging.sections(card);
    let own: Vec<_> = sections.named(&clarinet.name).collect();
    // Only where every band says how many can cross is there anything to compare.
    let able = own.iter().try_fold(0u32, |sum, section| {
        Some(sum.saturating_add(section.over_the_break?))
    });
    let (Some(first), Some(able), Some(players), Some(piece)) =
        (own.first(), able, sections.players(clarinet), card.piece())
    else {
        return Vec::new();
    };
    let counts = |row: &RowItem| !is_optional(row) && !relates(row, &[Relation::InsteadOf]);
    let parts = desks(piece, card.instruments(), &clarinet.name, counts);
    let mut crossing: Vec<Crossing<'_>> = Vec::new();
    for row in part_rows(piece).filter(|row| counts(row)) {
        for name in row.names.iter().filter(|name| is(card, &name.text, clarinet)) {
            if let Some((span, why)) = crosses(row, clarinet) {
                crossing.push(Crossing {
                    numbers: part_numbers(name, parts),
                    row,
                    span,
                    part: name.one_form(),
                    why,
                });
            }
        }
    }
    crossing.sort_by_key(|part| part.numbers);
    let mut told: Vec<Span> = Vec::new();
    let mut found = Vec::new();
    for Crossing {
        numbers: (_, last),
        row,
        span,
        part,
        why,
    } in crossing
    {
        let reading = players_up_to_part(players, parts, last).max(1);
        let wanted = players_asked(row).map_or(reading, |asked| reading.min(asked));
        if wanted > able && !told.contains(&row.span) {
            told.push(row.span);
            let what = Over {
                part,
                why,
                wanted,
                able,
                band: judging.name(),
                related: judging.beside(card, first.band, first.span, "who can cross"),
            };
            found.push(Noticed::judged(span, judging.in_full(), what));
        }
    }
    found
}

/// Where a row says that its part crosses, and what is said of it. The words tell more than the range.
fn crosses(row: &RowItem, clarinet: &Instrument) -> Option<(Span, String)> {
    let words = row.facts.iter().find_map(|fact| match &fact.what {
        Fact::OverTheBreak(place) if fact.is_certain() => Some((fact.span, place.as_ref())),
        _ => None,
    });
    let range = ranges(row, clarinet).find(|(_, range)| is_over_the_break(range.high));
    let top = range.map(|(_, range)| format!("it goes up to {}", range.high));
    let place = words.and_then(|(_, place)| place);
    let says: Vec<String> = top
        .into_iter()
        .chain(place.map(|place| format!("it crosses {place}")))
        .collect();
    let span = words.map(|(span, _)| span).or(range.map(|(span, _)| span))?;
    let why = match says.is_empty() {
        true => "This part goes over the break".to_owned(),
        false => format!("This part goes over the break ({})", joined(&says)),
    };
    Some((span, why))
}
