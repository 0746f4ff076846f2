//! What one player does in one piece, in the words that stand on a page.

use crate::music::Family;
use crate::planning::assign::Tenths;

use super::answer::Sharing;
use super::ask::Question;
use super::change::Ground;
use super::told::{Move, Turn};
use super::words;

/// One part, or some entrances of it, in one player's hands.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Duty {
    /// The part, by its place in the piece's question.
    pub part: usize,
    /// The instruments as the card names them.
    pub name: String,
    /// The instrument where it stands.
    pub station: String,
    /// The station's family, where it is known.
    pub family: Option<Family>,
    /// The sticks or mallets, where they are known.
    pub sticks: Option<String>,
    /// The same one by one, as they lie in a stick bag.
    pub bag: Vec<String>,
    /// The printed page.
    pub page: Option<String>,
    /// The movement.
    pub movement: Option<u32>,
    /// The measures: `5-20, 49-80`, `events 3-4`; empty where they are not known.
    pub measures: String,
    /// The first measure, or event, played; none where it is not known.
    pub first: Option<u32>,
    /// Whether `first` is an event and no measure.
    pub event: bool,
    /// How long it plays, in tenths of a second; none where only measures are counted.
    pub lasts: Option<Tenths>,
    /// Whether it is only some of the part's entrances.
    pub handed_over: bool,
}

/// A way from one instrument to another within a piece.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Way {
    /// The part that is left, as the card names it.
    pub from: String,
    /// The part that comes.
    pub to: String,
    /// The measure, or event, after which the way begins.
    pub after: Option<u32>,
    /// The measure, or event, at which the player is awaited.
    pub before: Option<u32>,
    /// Measures of rest there are.
    pub measures: usize,
    /// Whether it lies between two movements with a break between them.
    pub in_break: bool,
    /// The time there is, in tenths of a second; none where only measures are counted.
    pub there: Option<Tenths>,
    /// The time needed.
    pub needed: Option<Tenths>,
    /// Whether the time needed is a figure from memory.
    pub from_memory: bool,
    /// How often, counting the passes of a repeat.
    pub times: usize,
    /// All of it in words: `after 20 to triangle: 4 measures, 7.5 s there, 5 s needed`.
    pub words: String,
}

/// For every seat, what is played and the ways between.
pub fn duties(question: &Question, sharing: &Sharing) -> Vec<(Vec<Duty>, Vec<Way>)> {
    let turns = sharing.turns.iter().enumerate();
    turns
        .map(|(seat, turns)| {
            let duties = turns.iter().filter_map(|turn| duty(question, turn)).collect();
            let ways = sharing.moves.iter().filter(|way| way.player == seat);
            (duties, ways.map(|one| way(question, one)).collect())
        })
        .collect()
}

fn duty(question: &Question, turn: &Turn) -> Option<Duty> {
    let part = question.parts.get(turn.part)?;
    let spans: Vec<(usize, usize)> = turn
        .entrances
        .iter()
        .filter_map(|at| part.entrances.get(*at).copied())
        .collect();
    let measures = &question.clock.measures;
    let first = spans.iter().min().and_then(|span| measures.get(span.0));
    let first = first.filter(|_| !question.all_at_once);
    let timed = !question.all_at_once && question.clock.coarse.is_none();
    let lasts = spans.iter().filter_map(|span| {
        let (first, last) = (measures.get(span.0)?, measures.get(span.1)?);
        Some(last.end.saturating_sub(first.start))
    });
    Some(Duty {
        part: turn.part,
        name: part.name.clone(),
        station: part.station.name.clone(),
        family: part.station.family,
        sticks: part.held(),
        bag: part
            .sticks
            .iter()
            .chain(part.sticks_in.iter().map(|(_, words)| words))
            .cloned()
            .collect(),
        page: part.page.clone(),
        movement: part.movement,
        measures: words::measures(question, turn),
        first: first.map(|sounding| sounding.measure),
        event: part.events,
        lasts: timed.then(|| lasts.fold(0, Tenths::saturating_add)),
        handed_over: !turn.whole,
    })
}

fn way(question: &Question, one: &Move) -> Way {
    let name = |at: usize| {
        question
            .parts
            .get(at)
            .map_or_else(String::new, |part| part.name.clone())
    };
    Way {
        from: name(one.from),
        to: name(one.to),
        after: one.after.map(|sounding| sounding.measure),
        before: one.before.map(|sounding| sounding.measure),
        measures: one.measures,
        in_break: one.in_break,
        there: one.there,
        needed: one.needed.map(|(needed, _)| needed),
        from_memory: one.needed.is_some_and(|(_, ground)| ground == Ground::Memory),
        times: one.times,
        words: words::way(question, one),
    }
}
