//! Somebody who is absent from a concert and whose part nobody else can play.

use jiff::civil::Date;

use crate::catalogue::model::{Concert, Ensemble, Percussionist};
use crate::catalogue::percussion::fewest_at_once;
use crate::findings::card::Card;
use crate::findings::coverage::cues::is_silent;
use crate::findings::finding::Saying;
use crate::findings::percussion::sounding::courses_of;
use crate::findings::rule::{Notice, Noticed};
use crate::music::Instrument;
use crate::notation::values::Absent;
use crate::planning::percussion::Players;
use crate::rule;
use crate::text::Span;
use crate::text::sentences::joined;

use super::who::{Played, played};

rule! {
    /// A player under `absent` without whom a part of the program stays silent: nobody else who is there plays
    /// the instrument, or more percussion plays at once than players are left. What is short with everybody
    /// there is reported elsewhere.
    ///
    /// # Why it matters
    ///
    /// On the night it is too late to teach the part to somebody else.
    ///
    /// # Draws it
    ///
    /// ```levare
    /// ensemble "Seventh Grade Band"
    ///   players         flute 7, clarinet 10, tuba 1
    /// piece "Harbor Parade"
    ///   parts           flute, clarinet, tuba
    /// concert "Winter evening"
    ///   on              2026-12-10
    ///   program
    ///     "Harbor Parade"
    ///   absent          1 tuba
    ///                   ^^^^^^
    /// ```
    ///
    /// ```levare
    /// ensemble "Seventh Grade Band"
    ///   percussionists
    ///     P1              mallets, snare
    ///     P2              snare, bass drum
    /// piece "Harbor Parade"
    ///   percussion
    ///     snare           1-88
    ///     bass drum       1-88
    /// concert "Winter evening"
    ///   on              2026-12-10
    ///   program
    ///     "Harbor Parade"
    ///   absent          P1
    ///                   ^^
    /// ```
    ///
    /// # Does not
    ///
    /// ```levare
    /// ensemble "Seventh Grade Band"
    ///   players         flute 7, clarinet 10, tuba 2
    ///   percussionists
    ///     P1              mallets, snare
    ///     P2              snare, bass drum, cymbals
    /// piece "Harbor Parade"
    ///   parts           flute, clarinet, tuba
    ///   percussion
    ///     snare           1-88
    /// concert "Winter evening"
    ///   on              2026-12-10
    ///   program
    ///     "Harbor Parade"
    ///   absent          P2, 1 tuba
    /// ```
    ///
    /// # What to do
    ///
    /// Teach the part to somebody who is there, ask a player of another section, or write `optional` after what
    /// may be left out.
    AbsentPlayer: "absent player leaves a part silent", Concert, Warning, reads Catalogue, looks at Concert
}

/// Who is absent, and what stays silent.
pub struct Silent {
    who: String,
    what: Vec<String>,
}

impl Notice for AbsentPlayer {
    type What = Silent;

    fn notice(card: &Card<'_>) -> Vec<Noticed<Silent>> {
        let Some(concert) = card.entry.concert().filter(|_| !card.is_over()) else {
            return Vec::new();
        };
        if concert.absent.is_empty() {
            return Vec::new();
        }
        let program = played(card.snapshot, card.id, concert);
        let mut found: Vec<Noticed<Silent>> = seats(card, concert, &program).into_iter().collect();
        let mut told: Vec<String> = Vec::new();
        for said in concert.absent.iter().filter(|said| said.is_certain()) {
            let Absent::Players { instrument, .. } = &said.value else {
                continue;
            };
            let Some(instrument) = card.instrument(instrument) else {
                continue;
            };
            let name = instrument.name.to_string();
            if told.contains(&name) {
                continue;
            }
            told.push(name);
            found.extend(winds(card, concert, &program, instrument, said.span));
        }
        found
    }

    fn say(what: &Silent, _card: &Card<'_>) -> Saying {
        Saying {
            place: "absent".to_owned(),
            says: format!("Without {}, {}.", what.who, joined(&what.what)),
            why: "On the night it is too late to teach the part to somebody else.".to_owned(),
            todo: "Teach the part to somebody who is there, ask a player of another section, or write \"optional\" after what may be left out."
                .to_owned(),
        }
    }
}

/// How many pieces are named; more would be a list and no sentence.
const MOST_NAMED: usize = 3;

fn ensembles<'c>(card: &'c Card<'_>, row: &Played<'_>) -> Vec<&'c Ensemble> {
    let bands = row.bands.iter();
    bands
        .filter_map(|id| card.snapshot.entry(*id)?.ensemble())
        .collect()
}

/// What the absent percussionists leave silent, all of them together.
fn seats(card: &Card<'_>, concert: &Concert, program: &[Played<'_>]) -> Option<Noticed<Silent>> {
    let certain = concert.absent.iter().filter(|said| said.is_certain());
    let away: Vec<(&String, Span)> = certain
        .filter_map(|said| match &said.value {
            Absent::Seats(seats) => Some(seats.iter().map(|seat| (seat, said.span))),
            _ => None,
        })
        .flatten()
        .collect();
    let (_, span) = away.first()?;
    let what: Vec<String> = program
        .iter()
        .filter_map(|row| without_seats(card, row, concert.day(), &away))
        .take(MOST_NAMED)
        .collect();
    let who: Vec<String> = away.iter().map(|(seat, _)| (*seat).clone()).collect();
    let who = joined(&who);
    (!what.is_empty()).then(|| Noticed::new(*span, Silent { who, what }))
}

fn without_seats(
    card: &Card<'_>,
    row: &Played<'_>,
    day: Option<Date>,
    away: &[(&String, Span)],
) -> Option<String> {
    let bands = ensembles(card, row);
    // A band that only counts its percussionists does not say who plays what.
    if bands.iter().any(|band| band.percussionists.is_empty()) {
        return None;
    }
    let all: Vec<&Percussionist> = bands
        .iter()
        .flat_map(|band| band.percussionists_on(day))
        .collect();
    let left: Vec<&Percussionist> = all
        .iter()
        .copied()
        .filter(|player| away.iter().all(|(seat, _)| **seat != player.seat))
        .collect();
    let title = &row.listed.title.value.name;
    let who = Players::of(card.snapshot);
    let plays = |players: &[&Percussionist], name: &str| {
        let mut players = players.iter();
        players.any(|player| who.can_play(&player.can, name))
    };
    let movements = &row.listed.movements;
    for course in courses_of(card, row.subject.piece) {
        let number = course
            .movement
            .and_then(|at| row.subject.piece.movements.get(at))
            .map(|movement| movement.number);
        if number.is_some_and(|number| !movements.is_empty() && !movements.contains(&number)) {
            continue;
        }
        let mut names = course
            .parts
            .iter()
            .filter(|part| part.is_needed())
            .flat_map(|part| &part.names);
        if let Some(name) = names.find(|name| plays(&all, name) && !plays(&left, name)) {
            return Some(format!("nobody plays the {name} in \"{title}\""));
        }
        let Some(most) = fewest_at_once(&course) else {
            continue;
        };
        let (all, left) = (all.len() as u32, left.len() as u32);
        if most.players <= all && most.players > left {
            return Some(format!(
                "\"{title}\" takes {} percussionists and {left} are left",
                most.players
            ));
        }
    }
    None
}

/// What the absent players of an instrument leave silent.
fn winds(
    card: &Card<'_>,
    concert: &Concert,
    program: &[Played<'_>],
    instrument: &Instrument,
    span: Span,
) -> Option<Noticed<Silent>> {
    let counts = concert.absent.iter().filter_map(|said| match &said.value {
        Absent::Players {
            count,
            instrument: own,
        } => (card.instrument(own)?.name == instrument.name).then_some(*count),
        _ => None,
    });
    let away = counts.fold(0u32, u32::saturating_add);
    let what: Vec<String> = program
        .iter()
        .filter(|row| {
            let mut sections = (*card.snapshot.sections(&row.bands, concert.day())).clone();
            let all = sections.players(instrument);
            if !all.is_some_and(|all| all > 0 && all <= away) {
                return false;
            }
            sections.take_away(instrument);
            is_silent(card, row.subject.piece, &sections, instrument)
        })
        .map(|row| format!("\"{}\"", row.listed.title.value.name))
        .take(MOST_NAMED)
        .collect();
    (!what.is_empty()).then(|| {
        let name = &instrument.name;
        let silent = Silent {
            who: match away {
                1 => format!("the {name}"),
                _ => crate::text::sentences::counted(away as usize, name),
            },
            what: vec![format!("nobody plays the {name} part in {}", joined(&what))],
        };
        Noticed::new(span, silent)
    })
}
