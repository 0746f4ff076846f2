//! Wind players to parts.

use std::collections::BTreeMap;

use super::flow::{Cost, Flow};

/// A wind part that wants players.
#[derive(Clone, Debug, Default)]
pub struct WindPart {
    /// Fewer players than this leave the part short.
    pub least: usize,
    /// The section it belongs to and its place there: flute 1 and flute 2 are one section.
    pub section: Section,
}

/// A part's section and its place in it.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Section {
    /// Equal numbers are one section.
    pub number: usize,
    /// 0 for the part that gets extra players last.
    pub place: usize,
    /// 0 for the first part, which is filled before the others and by the ablest.
    pub rank: usize,
}

/// A wind player.
#[derive(Clone, Debug, Default)]
pub struct WindPlayer {
    /// The parts this player can play, each with 0 for the player's own instrument, more for one
    /// he or she would have to switch to.
    pub can: Vec<(usize, u32)>,
    /// The parts that ask more than this player is said to have.
    pub lacks: Vec<usize>,
    /// 0 for the ablest; the abler sit on the upper parts where nothing else decides.
    pub ability: usize,
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
const DEAREST: u32 = 1_000;

/// Gives every player a part. What counts, the first that differs decides: parts that nobody has,
/// players that parts are short of, most players seated, the least switching, first parts filled before the others,
/// sections even with the extra players where the section's places say (balance from below; common practice, no
/// source for the exact split), those who lack what a part asks on the lower parts, the abler on the upper parts.
pub fn seat_winds(players: &[WindPlayer], parts: &[WindPart]) -> Seat {
    let (count, size) = (players.len(), parts.len());
    let kinds = kinds(players);
    let (source, sink) = (kinds.len() + size, kinds.len() + size + 1);
    let mut flow = Flow::new(kinds.len() + size + 2);
    // One unit of a grade outweighs all that can come below it.
    let deepest = |of: fn(&Section) -> usize| -> usize {
        let all = parts.iter().map(|part| of(&part.section).min(size));
        all.max().unwrap_or(0) + 1
    };
    let (places, ranks) = (deepest(|section| section.place), deepest(|section| section.rank));
    let many = count as Cost + 1;
    let level = ranks.max(places) as Cost + 1;
    let least_able = players
        .iter()
        .map(|who| who.ability.min(count))
        .max()
        .unwrap_or(0);
    let lacks = (least_able as Cost + 1) * level * many;
    let fair = lacks * level * many;
    let switch = fair * many * many * level;
    let lack = switch * (Cost::from(DEAREST) + 1) * many;
    // A part that nobody has is worse than any number of parts that are short.
    let empty = lack * many;
    let mut ways = Vec::new();
    for (kind, alike) in kinds.iter().enumerate() {
        let many = alike.len() as i64;
        flow.arc(source, kind, many, 0);
        let Some(who) = alike.first().and_then(|who| players.get(*who)) else {
            continue;
        };
        for &(part, cost) in who.can.iter().filter(|(part, _)| *part < size) {
            let above = match who.lacks.contains(&part) {
                true => ranks - parts[part].section.rank.min(ranks - 1),
                false => 0,
            };
            let below =
                parts[part].section.rank.min(ranks - 1) * (least_able + 1 - who.ability.min(least_able));
            let price = Cost::from(cost.min(DEAREST)) * switch + above as Cost * lacks + below as Cost;
            ways.push((kind, part, flow.arc(kind, kinds.len() + part, many, price), cost));
        }
    }
    for (at, part) in parts.iter().enumerate() {
        let able = players
            .iter()
            .filter(|who| who.can.iter().any(|(can, _)| *can == at))
            .count();
        let from_below = places - 1 - part.section.place.min(places - 1);
        let from_above = part.section.rank.min(ranks - 1);
        for seat in 0..able {
            // The first seat of every part costs less than any second seat. Among seats that a part needs the first
            // part's costs least, among the others the one that gets extra players first.
            let order = if seat < part.least { from_above } else { from_below };
            let even = (seat as Cost * level + order as Cost) * fair;
            let first = if seat == 0 { empty } else { 0 };
            let needed = if seat < part.least { lack + first } else { 0 };
            flow.arc(kinds.len() + at, sink, 1, even - needed);
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
    /// What a player can play, lacks, and how able he or she is.
    type Alike<'p> = (&'p [(usize, u32)], &'p [usize], usize);
    let mut by_can: BTreeMap<Alike<'_>, usize> = BTreeMap::new();
    let mut kinds: Vec<Vec<usize>> = Vec::new();
    for (at, who) in players.iter().enumerate() {
        let next = kinds.len();
        let kind = *by_can.entry((&who.can, &who.lacks, who.ability)).or_insert(next);
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
