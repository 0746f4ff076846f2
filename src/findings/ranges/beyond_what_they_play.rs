//! A range outside what the band's section plays.

use crate::catalogue::model::Said;
use crate::catalogue::sections::{
    Section, Sections, desks, is_optional, part_numbers, part_rows, players_asked, players_up_to_part,
    relates,
};
use crate::findings::card::Card;
use crate::findings::finding::{Related, Saying};
use crate::findings::judging::{Judging, for_each_band};
use crate::findings::rule::{Notice, Noticed};
use crate::music::charts;
use crate::music::{Instrument, Pitch, PitchRange};
use crate::notation::names::cut_number;
use crate::notation::row::{Relation, RowItem, RowName};
use crate::notation::values::{Ends, NamedRange};
use crate::rule;
use crate::text::sentences;

use super::off_the_instrument::off;
use super::register::is_beside;
use super::written::ranges;

rule! {
    /// A part that goes beyond the range the band's card gives for the instrument. Players of whom the card
    /// says that they reach further count for as many of the section as they are. For a section whose range
    /// no band's card gives, the published chart counts that the handbook follows, at the grade it names; each
    /// chart's source is in the manual.
    ///
    /// # Why it matters
    ///
    /// The notes are on the instrument, but not yet on these players.
    ///
    /// # Draws it
    ///
    /// ```levare
    /// ensemble "Seventh Grade Band"
    ///   players         trumpet 8, 2 up to G5
    ///   ranges          trumpet Bb3-D5
    ///
    /// piece "Overture for a Small Hall"
    ///   parts
    ///     trumpet 1       C4-F5
    ///                     ^^^^^
    ///     trumpet 2       Bb3-D5
    /// ```
    ///
    /// ```levare
    /// handbook
    ///   follows         contest bands, grade 1
    ///
    /// ensemble "Seventh Grade Band"
    ///   players         trumpet 8
    ///
    /// piece "Overture for a Small Hall"
    ///   parts
    ///     trumpet         C4-F5
    ///                     ^^^^^
    /// ```
    ///
    /// ```levare
    /// ensemble "Seventh Grade Band"
    ///   players         trumpet 8
    ///   ranges          trumpet no higher than D5
    ///
    /// piece "Overture for a Small Hall"
    ///   parts
    ///     trumpet         G3-F5
    ///                     ^^^^^
    /// ```
    ///
    /// # Does not
    ///
    /// With three parts, two players are enough for the first.
    ///
    /// ```levare
    /// ensemble "Seventh Grade Band"
    ///   players         trumpet 8, 2 up to G5
    ///   ranges          trumpet Bb3-D5
    ///
    /// piece "Overture for a Small Hall"
    ///   parts
    ///     trumpet 1       C4-F5
    ///     trumpet 2       C4-D5
    ///     trumpet 3       Bb3-C5
    /// ```
    ///
    /// # What to do
    ///
    /// Give the part to players who have the notes, choose another piece, or ask the publisher whether they may
    /// move an octave. Write on the band's card who reaches further: `2 up to G5`.
    BeyondWhatTheyPlay: "beyond what they play", Ranges, Warning, reads Catalogue, looks at Parts
}

/// A note that the section does not play.
pub struct Beyond {
    part: String,
    note: Pitch,
    high: bool,
    usual: String,
    /// Who plays the usual range: a band, or the grade of a chart.
    who: String,
    /// How many reach the note, and how many would have to; none where nobody is said to reach further.
    reach: Option<(u32, u32)>,
    related: Vec<Related>,
}

impl Notice for BeyondWhatTheyPlay {
    type What = Beyond;

    fn notice(card: &Card<'_>) -> Vec<Noticed<Beyond>> {
        let Some(piece) = card.piece() else {
            return Vec::new();
        };
        for_each_band(card, |judging| {
            let sections = judging.sections(card);
            let mut found: Vec<Noticed<Beyond>> = Vec::new();
            for row in part_rows(piece) {
                if is_optional(row) || relates(row, &[Relation::InsteadOf]) {
                    continue;
                }
                for name in &row.names {
                    let Some(instrument) = card.instrument(&name.text) else {
                        continue;
                    };
                    for beyond in beyond(card, judging, sections, row, name, instrument) {
                        if !found.iter().any(|noticed| noticed.span == beyond.span) {
                            found.push(beyond);
                        }
                    }
                }
            }
            found
        })
    }

    fn say(what: &Beyond, _card: &Card<'_>) -> Saying {
        let way = if what.high { "up to" } else { "down to" };
        let reach = match what.reach {
            None | Some((0, _)) => String::new(),
            Some((1, wanted)) => format!("; 1 of the {wanted} who would need it reaches it"),
            Some((can, wanted)) => format!("; {can} of the {wanted} who would need it reach it"),
        };
        Saying {
            place: what.part.clone(),
            says: format!(
                "The part goes {way} {}, and {} plays {} here{reach}.",
                what.note, what.who, what.usual
            ),
            why: "The instrument has the note, but these players do not have it yet.".to_owned(),
            todo: "Seat those who have it on this part, teach it first, or ask the publisher whether the note may move an octave."
                .to_owned(),
        }
    }

    fn related(what: &Beyond, _card: &Card<'_>) -> Vec<Related> {
        what.related.clone()
    }
}

fn beyond(
    card: &Card<'_>,
    judging: &Judging<'_>,
    sections: &Sections,
    row: &RowItem,
    name: &RowName,
    instrument: &Instrument,
) -> Vec<Noticed<Beyond>> {
    let Some(usual) = usual(card, judging, name, instrument) else {
        return Vec::new();
    };
    let mut found = Vec::new();
    for (span, range) in ranges(row, instrument) {
        let limit = usual.range.upright();
        let high = range.high.midi() > limit.high.midi();
        let low = range.low.midi() < limit.low.midi();
        // A note that no instrument has, or a range in the wrong octave, is said as such, and only once.
        let told = off(card, row, instrument, span).is_some() || is_beside(card, row, name, instrument, span);
        if (!high && !low) || told {
            continue;
        }
        let (note, reach) = match high {
            true => (
                range.high,
                reach(card, sections, row, name, instrument, (range.high, true)),
            ),
            false => (
                range.low,
                reach(card, sections, row, name, instrument, (range.low, false)),
            ),
        };
        if reach.is_some_and(|(can, wanted)| can >= wanted) {
            continue;
        }
        let what = Beyond {
            part: name.one_form(),
            note,
            high,
            usual: usual.ends.words(limit),
            who: usual.who.clone(),
            reach,
            related: usual.related.clone(),
        };
        found.push(Noticed::judged(span, judging.in_full(), what));
    }
    found
}

/// A usual range, and who plays it.
struct Usual {
    range: PitchRange,
    ends: Ends,
    who: String,
    related: Vec<Related>,
}

/// What a band's card gives for the part, else for the instrument; else what the handbook's chart gives. None
/// where a card gives a range for it that is not understood or stands backwards.
fn usual(card: &Card<'_>, judging: &Judging<'_>, name: &RowName, instrument: &Instrument) -> Option<Usual> {
    let mut whole = None;
    let unread = judging.unread_ranges(card);
    for ((at, (_, band)), unread) in judging.bands.iter().enumerate().zip(unread) {
        if unread.may_be(instrument, card.instruments()) {
            return None;
        }
        for said in band.ranges.iter().filter(|said| said.is_certain()) {
            let cut = cut_number(&said.value.name, true);
            let same = card
                .instrument(cut.words)
                .is_some_and(|found| found.name == instrument.name);
            match cut.numbers {
                _ if !same => {}
                _ if said.value.range.is_upside_down() => return None,
                None => whole = whole.or(Some((at, said))),
                Some((first, last)) if name.numbers.is_some_and(|(a, b)| first <= a && b <= last) => {
                    return Some(of_band(card, judging, at, said));
                }
                Some(_) => {}
            }
        }
    }
    match whole {
        Some((at, said)) => Some(of_band(card, judging, at, said)),
        None => of_chart(card, name, instrument),
    }
}

fn of_band(card: &Card<'_>, judging: &Judging<'_>, at: usize, said: &Said<NamedRange>) -> Usual {
    let band = judging.bands.get(at);
    Usual {
        range: said.value.range,
        ends: said.value.ends,
        who: band
            .map(|(entry, _)| sentences::the(&entry.name))
            .unwrap_or_default(),
        related: judging.beside(card, at, said.span, "what the section plays"),
    }
}

fn of_chart(card: &Card<'_>, name: &RowName, instrument: &Instrument) -> Option<Usual> {
    let (entry, handbook) = card
        .snapshot
        .handbook_card()
        .and_then(|(_, entry)| Some((entry, entry.handbook()?)))?;
    let (chart, tenths) = handbook.chart()?;
    let part = name.numbers.and_then(|(first, _)| u8::try_from(first).ok());
    let comfort = charts::by_chart(chart, &instrument.name, part, tenths)?;
    let grade = f64::from(comfort.grade_tenths) / 10.0;
    let follows = handbook.follows.as_ref()?.span;
    Some(Usual {
        range: comfort.range()?,
        ends: Ends::Both,
        who: format!("grade {grade} of the chart the handbook follows"),
        related: vec![card.beside(entry, follows, chart.told())],
    })
}

/// How many players reach a note, and how many the parts from the first to this one take, when the ablest
/// sit first. None where nobody is said to reach further.
fn reach(
    card: &Card<'_>,
    sections: &Sections,
    row: &RowItem,
    name: &RowName,
    instrument: &Instrument,
    (note, high): (Pitch, bool),
) -> Option<(u32, u32)> {
    let piece = card.piece()?;
    let of = |section: &Section| {
        let able = if high { &section.up_to } else { &section.down_to };
        let best = able.iter().filter(|(_, pitch)| match high {
            true => pitch.midi() >= note.midi(),
            false => pitch.midi() <= note.midi(),
        });
        best.map(|(count, _)| count.or(section.players).unwrap_or(0))
            .fold(0u32, u32::saturating_add)
    };
    let said = sections
        .named(&instrument.name)
        .any(|section| !section.up_to.is_empty() || !section.down_to.is_empty());
    let can = sections
        .named(&instrument.name)
        .map(of)
        .fold(0u32, u32::saturating_add);
    let players = sections.players(instrument)?;
    let parts = desks(piece, card.instruments(), &instrument.name, |row| {
        !is_optional(row) && !relates(row, &[Relation::InsteadOf])
    });
    let (_, last) = part_numbers(name, parts);
    let reading = players_up_to_part(players, parts, last).max(1);
    let wanted = players_asked(row).map_or(reading, |asked| reading.min(asked));
    said.then_some((can, wanted))
}
