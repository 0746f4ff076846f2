//! A piece's sharing for programs.
//!
//! Parts and players are numbered from 0 in the order of `parts` and `players`. Times are tenths of a second
//! from the start of the piece; there are none where only measures, or only parts, are counted.

use serde::Serialize;

use super::winds;
use super::winds_json::{self, WindsLine};
use crate::catalogue::Snapshot;
use crate::cli::args::Assign;
use crate::planning::percussion::{
    Answer, Because, Count, Ground, Move, PartTold, Question, Setting, Sharing, Sounding, Turn, words,
};

/// What is known about a piece's percussion, and who plays what.
#[derive(Serialize)]
pub struct PieceLine<'q> {
    about: &'static str,
    piece: &'q str,
    movements: &'q [u32],
    bands: Vec<&'q str>,
    /// `tenths of a second`, `measures` or `parts`: what was counted.
    counted: &'static str,
    /// Whether all is as sure as the card can say it.
    certain: bool,
    notes: Vec<String>,
    handing_over: bool,
    parts: Vec<PartLine<'q>>,
    no_time: Vec<&'q str>,
    players: Vec<PlayerLine<'q>>,
    counts: Counts,
    lacking: Vec<LackingLine>,
    sharing: Option<SharingLine>,
    winds: Option<WindsLine>,
}

#[derive(Serialize)]
struct PartLine<'q> {
    part: usize,
    name: &'q str,
    movement: Option<u32>,
    instrument: &'q str,
    sticks: Option<&'q str>,
    page: Option<&'q str>,
    spare: Option<&'q str>,
    instead_of: &'q [usize],
    strong: bool,
    entrances: Vec<EntranceLine>,
}

#[derive(Serialize)]
struct EntranceLine {
    from: Option<u32>,
    to: Option<u32>,
    event: bool,
    start: Option<i64>,
    end: Option<i64>,
}

#[derive(Serialize)]
struct PlayerLine<'q> {
    player: usize,
    name: &'q str,
    plays: Vec<String>,
    absent: bool,
}

#[derive(Serialize)]
struct LackingLine {
    instrument: String,
    asked: usize,
    there: usize,
    at: Option<u32>,
    parts: Vec<usize>,
}

#[derive(Serialize)]
struct Counts {
    all: CountLine,
    without_spares: CountLine,
    at_once: CountLine,
    handing_over: CountLine,
    roster: Option<CountLine>,
    roster_handing_over: Option<CountLine>,
}

#[derive(Serialize)]
struct CountLine {
    players: Option<usize>,
    at_least: usize,
    proven: bool,
    because: String,
    parts: Vec<usize>,
    at: Option<EntranceLine>,
}

#[derive(Serialize)]
struct SharingLine {
    turns: Vec<TurnLine>,
    moves: Vec<MoveLine>,
    left_out: Vec<LeftLine>,
    because: Option<String>,
    instead: Vec<usize>,
    handed_over: Vec<usize>,
    free: Vec<String>,
    proven: bool,
}

#[derive(Serialize)]
struct TurnLine {
    player: usize,
    part: usize,
    whole: bool,
    measures: String,
    entrances: Vec<EntranceLine>,
}

#[derive(Serialize)]
struct MoveLine {
    player: usize,
    from: usize,
    to: usize,
    after: Option<u32>,
    before: Option<u32>,
    measures: usize,
    in_break: bool,
    there: Option<i64>,
    needed: Option<i64>,
    from_memory: bool,
    times: usize,
}

#[derive(Serialize)]
struct LeftLine {
    part: usize,
    vital: bool,
    nobody: bool,
}

/// The line of a piece.
pub fn piece_line<'q>(
    snapshot: &'q Snapshot,
    setting: &'q Setting,
    question: &'q Question,
    answer: &Answer,
    asked: &Assign,
) -> PieceLine<'q> {
    let entry = snapshot.entry(setting.piece);
    let piece = entry.and_then(|entry| entry.piece());
    let mut notes = piece.map_or(Vec::new(), |piece| words::coarse(question, piece));
    notes.extend(words::times(question, snapshot.instruments()));
    let count = |one: &Count| count_line(question, one);
    PieceLine {
        about: "piece",
        piece: entry.map_or("", |entry| entry.name.as_str()),
        movements: &setting.movements,
        bands: setting
            .bands
            .iter()
            .filter_map(|id| snapshot.entry(*id))
            .map(|entry| entry.name.as_str())
            .collect(),
        counted: match (question.all_at_once, question.clock.coarse) {
            (true, _) => "parts",
            (false, Some(_)) => "measures",
            (false, None) => "tenths of a second",
        },
        certain: question.clock.is_certain() && !question.all_at_once && question.no_time.is_empty(),
        notes,
        handing_over: asked.handing_over,
        parts: question
            .parts
            .iter()
            .enumerate()
            .map(|(at, part)| part_line(question, at, part))
            .collect(),
        no_time: question.no_time.iter().map(|part| part.name.as_str()).collect(),
        players: question
            .seats
            .iter()
            .enumerate()
            .map(|(player, seat)| PlayerLine {
                player,
                name: &seat.name,
                plays: seat.can.words(),
                absent: seat.absent,
            })
            .collect(),
        counts: Counts {
            all: count(&answer.all),
            without_spares: count(&answer.without_spares),
            at_once: count(&answer.at_once),
            handing_over: count(&answer.handing_over),
            roster: answer.of_these.as_ref().map(count),
            roster_handing_over: answer.of_these_handing_over.as_ref().map(count),
        },
        lacking: setting
            .lacking(snapshot, question)
            .into_iter()
            .map(|one| LackingLine {
                instrument: one.name,
                asked: one.asked,
                there: one.there,
                at: one.at.map(|at| at.measure),
                parts: one.parts,
            })
            .collect(),
        sharing: answer
            .sharing
            .as_ref()
            .map(|sharing| sharing_line(question, sharing)),
        winds: winds::sharing(snapshot, setting, &asked.without).map(|sharing| winds_json::line(&sharing)),
    }
}

fn part_line<'q>(question: &Question, at: usize, part: &'q PartTold) -> PartLine<'q> {
    PartLine {
        part: at,
        name: &part.name,
        movement: part.movement,
        instrument: &part.station.name,
        sticks: part.sticks.as_deref(),
        page: part.page.as_deref(),
        spare: part.spare.as_deref(),
        instead_of: &part.instead_of,
        strong: part.strong,
        entrances: part
            .entrances
            .iter()
            .map(|span| entrance(question, *span))
            .collect(),
    }
}

fn entrance(question: &Question, (first, last): (usize, usize)) -> EntranceLine {
    let measure = |at: usize| question.clock.measures.get(at).copied();
    between(question, measure(first), measure(last))
}

fn between(question: &Question, first: Option<Sounding>, last: Option<Sounding>) -> EntranceLine {
    let timed = question.clock.coarse.is_none() && !question.all_at_once;
    EntranceLine {
        from: first.map(|sounding| sounding.measure),
        to: last.map(|sounding| sounding.measure),
        event: first.is_some_and(|sounding| sounding.event),
        start: first.filter(|_| timed).map(|sounding| sounding.start),
        end: last.filter(|_| timed).map(|sounding| sounding.end),
    }
}

fn count_line(question: &Question, count: &Count) -> CountLine {
    let (parts, at) = match &count.because {
        Because::AtOnce(parts, first, last) | Because::TooFew(parts, Some((first, last)), _) => {
            (parts.clone(), Some(between(question, Some(*first), Some(*last))))
        }
        Because::TooClose(parts) | Because::TooFew(parts, None, _) => (parts.clone(), None),
        Because::Nobody(part) => (vec![*part], None),
        Because::Nothing | Because::Tried | Because::CutShort => (Vec::new(), None),
    };
    CountLine {
        players: count.players,
        at_least: count.at_least,
        proven: count.proven,
        because: words::because(question, &count.because),
        parts,
        at: at.filter(|_| !question.all_at_once),
    }
}

fn sharing_line(question: &Question, sharing: &Sharing) -> SharingLine {
    let turns = sharing.turns.iter().enumerate();
    SharingLine {
        turns: turns
            .flat_map(|(player, turns)| turns.iter().map(move |turn| turn_line(question, player, turn)))
            .collect(),
        moves: sharing.moves.iter().map(move_line).collect(),
        left_out: sharing
            .left
            .iter()
            .map(|left| LeftLine {
                part: left.part,
                vital: left.vital,
                nobody: left.nobody,
            })
            .collect(),
        because: sharing
            .because
            .as_ref()
            .map(|because| words::because(question, because)),
        instead: sharing.instead.clone(),
        handed_over: sharing.handed_over.clone(),
        free: words::free(question, sharing),
        proven: sharing.proven,
    }
}

fn turn_line(question: &Question, player: usize, turn: &Turn) -> TurnLine {
    let part = question.parts.get(turn.part);
    let spans = turn.entrances.iter().filter_map(|at| part?.entrances.get(*at));
    TurnLine {
        player,
        part: turn.part,
        whole: turn.whole,
        measures: words::measures(question, turn),
        entrances: spans.map(|span| entrance(question, *span)).collect(),
    }
}

fn move_line(way: &Move) -> MoveLine {
    MoveLine {
        player: way.player,
        from: way.from,
        to: way.to,
        after: way.after.map(|sounding| sounding.measure),
        before: way.before.map(|sounding| sounding.measure),
        measures: way.measures,
        in_break: way.in_break,
        there: way.there,
        needed: way.needed.map(|(needed, _)| needed),
        from_memory: way.needed.is_some_and(|(_, ground)| ground == Ground::Memory),
        times: way.times,
    }
}
