//! Wind players to parts.

use std::collections::BTreeMap;

use super::flow::Flow;

/// A wind part that wants players.
#[derive(Clone, Debug, Default)]
pub struct WindPart {
    /// Fewer players than this leave the part short.
    pub least: usize,
    /// The section it belongs to and its place there, 0 the highest: flute 1 and flute 2 are one
    /// section. Sections are kept even, the lower parts getting the extra players.
    pub section: Section,
}

/// A part's section and its place in it.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Section {
    /// Equal numbers are one section.
    pub number: usize,
    /// 0 for the highest part.
    pub place: usize,
}

/// A wind player.
#[derive(Clone, Debug, Default)]
pub struct WindPlayer {
    /// The parts this player can play, each with 0 for the player's own instrument, more for one
    /// he or she would have to switch to.
    pub can: Vec<(usize, u32)>,
}

/// Where the wind players sit.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Seat {
    /// The part of every player; none for who can play nothing.
    pub part_of: Vec<Option<usize>>,
    /// How many players each part lacks to its least.
    pub lacks: Vec<usize>,
    /// For parts that lack: parts that together want more players than there are who can play any
    /// of them, and how many those are. Empty when nothing lacks.
    pub short: (Vec<usize>, usize),
    /// What the switches cost together.
    pub switches: u64,
}

/// A cost above this stands for this.
const DEAREST: i64 = 1_000;

/// Gives every player a part. What counts, the first that differs decides: parts that nobody has,
/// players that parts are short of, most players seated, the least switching, sections even with the extra players
/// on the lower parts (balance from below; common practice, no source for the exact split).
pub fn seat_winds(players: &[WindPlayer], parts: &[WindPart]) -> Seat {
    let (count, size) = (players.len(), parts.len());
    let kinds = kinds(players);
    let (source, sink) = (kinds.len() + size, kinds.len() + size + 1);
    let mut flow = Flow::new(kinds.len() + size + 2);
    // One unit of a grade outweighs all that can come below it.
    let deepest = parts
        .iter()
        .map(|part| part.section.place.min(size))
        .max()
        .unwrap_or(0)
        + 1;
    let even = (count as i64 + 1).saturating_mul(deepest as i64 + 1);
    let switch = even.saturating_mul(count as i64 + 1);
    let lack = switch
        .saturating_mul(DEAREST + 1)
        .saturating_mul(count as i64 + 1);
    // A part that nobody has is worse than any number of parts that are short.
    let empty = lack.saturating_mul(count as i64 + 1);
    let mut ways = Vec::new();
    for (kind, alike) in kinds.iter().enumerate() {
        let many = alike.len() as i64;
        flow.arc(source, kind, many, 0);
        let can = alike
            .first()
            .and_then(|who| players.get(*who))
            .map_or(&[][..], |who| &who.can);
        for &(part, cost) in can.iter().filter(|(part, _)| *part < size) {
            let price = i64::from(cost).min(DEAREST) * switch;
            ways.push((kind, part, flow.arc(kind, kinds.len() + part, many, price), cost));
        }
    }
    for (at, part) in parts.iter().enumerate() {
        let able = players
            .iter()
            .filter(|who| who.can.iter().any(|(can, _)| *can == at))
            .count();
        let from_below = deepest - 1 - part.section.place.min(deepest - 1);
        for seat in 0..able {
            // The first seat of every part costs less than any second seat, and among equal seats
            // the lower part's costs less.
            let fair = seat as i64 * (deepest as i64 + 1) + from_below as i64;
            let first = if seat == 0 { empty } else { 0 };
            let needed = if seat < part.least {
                lack.saturating_add(first)
            } else {
                0
            };
            flow.arc(kinds.len() + at, sink, 1, fair - needed);
        }
    }
    flow.send(source, sink);
    let mut part_of = vec![None; count];
    let mut lacks: Vec<usize> = parts.iter().map(|part| part.least).collect();
    let mut switches = 0;
    let mut waiting: Vec<_> = kinds.iter().map(|alike| alike.iter().copied()).collect();
    for (kind, part, arc, cost) in ways {
        let seats = usize::try_from(flow.carried(arc)).unwrap_or(0);
        for player in waiting[kind].by_ref().take(seats) {
            part_of[player] = Some(part);
            lacks[part] = lacks[part].saturating_sub(1);
            switches += u64::from(cost);
        }
    }
    let short = short(players, parts, &part_of, &lacks);
    Seat {
        part_of,
        lacks,
        short,
        switches,
    }
}

/// The players who can play the same at the same price, by their places; the flow need not tell them apart.
fn kinds(players: &[WindPlayer]) -> Vec<Vec<usize>> {
    let mut by_can: BTreeMap<&[(usize, u32)], usize> = BTreeMap::new();
    let mut kinds: Vec<Vec<usize>> = Vec::new();
    for (at, who) in players.iter().enumerate() {
        let next = kinds.len();
        let kind = *by_can.entry(&who.can).or_insert(next);
        match kinds.get_mut(kind) {
            Some(alike) => alike.push(at),
            None => kinds.push(vec![at]),
        }
    }
    kinds
}

/// From the parts that lack players: all parts whose players could move there, step by step. They
/// want more than all who can play any of them (Hall's condition fails there).
fn short(
    players: &[WindPlayer],
    parts: &[WindPart],
    part_of: &[Option<usize>],
    lacks: &[usize],
) -> (Vec<usize>, usize) {
    let mut in_it: Vec<bool> = lacks.iter().map(|lack| *lack > 0).collect();
    loop {
        let mut more = false;
        for (who, seat) in players.iter().zip(part_of) {
            let could = who.can.iter().any(|(part, _)| in_it.get(*part) == Some(&true));
            if let Some(seat) = seat.filter(|_| could)
                && !in_it[seat]
            {
                in_it[seat] = true;
                more = true;
            }
        }
        if !more {
            break;
        }
    }
    let able = |who: &&WindPlayer| who.can.iter().any(|(part, _)| in_it.get(*part) == Some(&true));
    let able = players.iter().filter(able).count();
    let set: Vec<usize> = (0..parts.len()).filter(|&at| in_it[at]).collect();
    match set.is_empty() {
        true => (set, 0),
        false => (set, able),
    }
}
