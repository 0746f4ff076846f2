//! A plan in the order it is played: each player's turns, and the moves between them.

use crate::planning::assign::{Plan, Tenths};

use super::ask::Question;
use super::change::Ground;
use super::clock::Sounding;

/// What one player has of one part.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Turn {
    /// The part, by its place in the question.
    pub part: usize,
    /// Its entrances, by their places in the part.
    pub entrances: Vec<usize>,
    /// Whether these are all the entrances the part has.
    pub whole: bool,
}

/// A player's way from one instrument to another.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Move {
    /// Who, by the place among the seats.
    pub player: usize,
    /// The part that is left.
    pub from: usize,
    /// The part that comes.
    pub to: usize,
    /// The measure after which the way begins.
    pub after: Option<Sounding>,
    /// The measure at which the player is awaited.
    pub before: Option<Sounding>,
    /// How many measures there are between.
    pub measures: usize,
    /// Whether it lies between two movements with a break between them.
    pub in_break: bool,
    /// The time there is, in tenths of a second; none where only measures are counted, and in a break.
    pub there: Option<Tenths>,
    /// The time needed, and whether the handbook says so.
    pub needed: Option<(Tenths, Ground)>,
    /// How often this way is gone, counting passes of a repeat.
    pub times: usize,
}

/// Each player's turns in the order of their first entrance.
pub(super) fn turns(question: &Question, plan: &Plan) -> Vec<Vec<Turn>> {
    let mut all: Vec<Vec<Turn>> = vec![Vec::new(); question.seats.len()];
    for play in &plan.plays {
        let Some(turns) = all.get_mut(play.player) else {
            continue;
        };
        match turns.iter_mut().find(|turn| turn.part == play.part) {
            Some(turn) => turn.entrances.push(play.entrance),
            None => turns.push(Turn {
                part: play.part,
                entrances: vec![play.entrance],
                whole: false,
            }),
        }
    }
    let first = |turn: &Turn| {
        let part = question.parts.get(turn.part)?;
        part.entrances.get(*turn.entrances.first()?).copied()
    };
    for turns in &mut all {
        for turn in turns.iter_mut() {
            let entrances = question
                .parts
                .get(turn.part)
                .map_or(0, |part| part.entrances.len());
            turn.whole = turn.entrances.len() == entrances;
        }
        turns.sort_by_key(|turn| (first(turn), turn.part));
    }
    all
}

/// Every way from one instrument to another, in the order they are gone, the same way in another pass of a
/// repeat counted and not told again.
pub(super) fn moves(question: &Question, plan: &Plan, instruments: &crate::music::Instruments) -> Vec<Move> {
    let mut moves: Vec<Move> = Vec::new();
    for player in 0..question.seats.len() {
        let mut plays: Vec<((usize, usize), usize, usize)> = plan
            .plays
            .iter()
            .filter(|play| play.player == player)
            .filter_map(|play| {
                let part = question.parts.get(play.part)?;
                Some((*part.entrances.get(play.entrance)?, play.part, play.entrance))
            })
            .collect();
        plays.sort_unstable();
        for pair in plays.windows(2) {
            let [one @ (_, from, _), other @ (_, to, _)] = pair else {
                continue;
            };
            let Some(way) = way(question, *one, *other, instruments) else {
                continue;
            };
            let measure = |sounding: Option<Sounding>| sounding.map(|s| (s.course, s.measure, s.event));
            let same = moves.iter_mut().find(|known| {
                known.player == player
                    && (known.from, known.to) == (*from, *to)
                    && measure(known.after) == measure(way.after)
                    && measure(known.before) == measure(way.before)
            });
            match same {
                Some(known) => {
                    known.times = known.times.saturating_add(1);
                    known.there = known.there.min(way.there);
                    known.measures = known.measures.min(way.measures);
                }
                None => moves.push(Move { player, ..way }),
            }
        }
    }
    moves
}

/// The way between two entrances; none where both are played at one place, or where nothing is known of when.
fn way(
    question: &Question,
    (early, from, nth): ((usize, usize), usize, usize),
    (late, to, later): ((usize, usize), usize, usize),
    instruments: &crate::music::Instruments,
) -> Option<Move> {
    let (one, other) = (question.parts.get(from)?, question.parts.get(to)?);
    let mounted = question.music.mounted.contains(&(from.min(to), from.max(to)));
    if one.station == other.station || mounted || question.all_at_once {
        return None;
    }
    let measures = &question.clock.measures;
    let (after, before) = (measures.get(early.1).copied(), measures.get(late.0).copied());
    let there = after
        .zip(before)
        .map(|(after, before)| before.start.saturating_sub(after.end));
    let in_break = after
        .zip(before)
        .is_some_and(|(after, before)| question.clock.breaks_between(after, before));
    let there = there.filter(|_| !in_break);
    let sticks = question.other_sticks((from, nth), (to, later));
    let seconds = question.clock.coarse.is_none();
    Some(Move {
        player: 0,
        from,
        to,
        after,
        before,
        measures: late.0.saturating_sub(early.1).saturating_sub(1),
        in_break,
        there: there.filter(|_| seconds),
        needed: seconds.then(|| {
            let way = question
                .times
                .time(&one.station, &other.station, sticks, instruments);
            (way.0.saturating_add(question.ready_before(to, later)), way.1)
        }),
        times: 1,
    })
}
