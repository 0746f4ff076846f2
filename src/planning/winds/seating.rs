//! Players put to parts: the question for the flow, and its answer read back.

use std::collections::BTreeMap;

use crate::catalogue::sections::same_chair;
use crate::music::Instruments;
use crate::music::groups::Group;
use crate::music::instruments::key;
use crate::planning::assign::{Seat, Section, WindPart, WindPlayer, seat_winds};

use super::parts::Written;
use super::reach::Reach;
use super::told::{Balance, Part, Players, Short};

/// A player on a part that asks more than the card says he or she has. It weighs more than an even section
/// and less than a change of instrument.
const UNABLE: u32 = 1;
/// A player on a neighboring instrument's part while a part of the player's very own is there.
const NEIGHBOR: u32 = 2;
/// A player whom the part's card allows, from another section.
const ALLOWED: u32 = 60;
/// A player who changes to another instrument.
const SWITCH: u32 = 100;

/// What is known of a piece and a band before anybody sits.
pub struct Table<'a, 'p> {
    /// The parts as written.
    pub written: &'a [Written<'p>],
    /// The same parts, to be filled.
    pub parts: &'a mut [Part],
    /// The players.
    pub players: &'a [Players],
    /// What players reach.
    pub reach: Reach<'a>,
    /// Who gets the extra players.
    pub balance: Balance,
}

/// What each player's seat at a part costs; none where he or she cannot sit there.
fn price(
    players: &Players,
    at: usize,
    written: &[Written<'_>],
    parts: &[Part],
    instruments: &Instruments,
) -> Option<u32> {
    let (part, told) = (written.get(at)?, parts.get(at)?);
    let own = |part: &Written<'_>| {
        part.instruments.contains(&players.instrument) || key(&part.own) == key(&players.instrument)
    };
    let chair = |part: &Written<'_>| {
        part.instruments
            .iter()
            .any(|one| same_chair(one, &players.instrument))
    };
    if let Some(group) = part.group {
        let lost = !written
            .iter()
            .any(|other| other.group.is_none() && (own(other) || chair(other)));
        let member = instruments
            .find(&players.instrument)
            .exact()
            .is_some_and(|instrument| group.holds(instrument))
            || Group::read(&players.instrument) == Some(group);
        return (lost && member).then_some(0);
    }
    // Who reads treble clef takes the part in treble clef, if there is one, and nobody else does.
    let twin = |clef: &str| {
        written.iter().any(|other| {
            let named = format!("{} {clef}", players.instrument);
            other.instruments.contains(&named)
        })
    };
    let treble = part.instruments.iter().any(|one| one.ends_with("T.C."));
    if treble && !players.instrument.ends_with("T.C.") && !players.treble_clef && chair(part) {
        return None;
    }
    if !treble && players.treble_clef && chair(part) && twin("T.C.") {
        return None;
    }
    if own(part) {
        return Some(0);
    }
    if chair(part) {
        let elsewhere = written.iter().any(own);
        return Some(if elsewhere && !treble { NEIGHBOR } else { 0 });
    }
    if let Some(group) = Group::read(&players.instrument) {
        let mut held = told
            .instruments
            .iter()
            .filter_map(|one| instruments.find(one).exact());
        return held.any(|one| group.holds(one)).then_some(0);
    }
    let reads = |name: &String| part.instruments.iter().any(|one| same_chair(one, name));
    if part
        .also_for
        .iter()
        .any(|one| same_chair(one, &players.instrument))
    {
        return Some(ALLOWED);
    }
    players.switch_to.iter().any(reads).then_some(SWITCH)
}

/// Whether players who sit at a part have changed their instrument for it.
pub fn is_switch(players: &Players, part: &Part, instruments: &Instruments) -> bool {
    let chair = part
        .instruments
        .iter()
        .any(|one| same_chair(one, &players.instrument));
    let grouped = Group::read(&players.instrument).is_some();
    let known = instruments.find(&players.instrument).exact().is_some();
    known
        && !chair
        && !grouped
        && players
            .switch_to
            .iter()
            .any(|other| part.instruments.iter().any(|one| same_chair(one, other)))
}

/// Fills the parts, and tells where there are too few players.
pub fn seat(table: Table<'_, '_>) -> Vec<Short> {
    let instruments = table.reach.instruments;
    let lacks = |players: &Players, at: usize| {
        let number = table.written.get(at).and_then(|part| part.number);
        table
            .parts
            .get(at)
            .is_some_and(|part| table.reach.lacks(players, part, number))
    };
    // What each group of players could play.
    let mut can: Vec<Vec<(usize, u32)>> = table
        .players
        .iter()
        .map(|players| {
            (0..table.written.len())
                .filter_map(|at| {
                    let price = price(players, at, table.written, table.parts, instruments)?;
                    Some((at, price))
                })
                .collect()
        })
        .collect();
    for at in 0..table.written.len() {
        let at_home = |can: &[(usize, u32)]| can.iter().any(|(part, price)| *part == at && *price < ALLOWED);
        let somebody = table
            .players
            .iter()
            .zip(&can)
            .any(|(players, can)| at_home(can) && !lacks(players, at));
        // Where nobody has what the part asks, it is all the same who sits there.
        if !somebody {
            continue;
        }
        for (players, can) in table.players.iter().zip(&mut can) {
            if lacks(players, at) {
                can.iter_mut()
                    .filter(|(part, _)| *part == at)
                    .for_each(|(_, price)| *price += UNABLE);
            }
        }
    }
    let unable: Vec<Vec<usize>> = table
        .players
        .iter()
        .map(|players| {
            (0..table.written.len())
                .filter(|at| lacks(players, *at))
                .collect()
        })
        .collect();
    let sections = sections(table.written, table.balance);
    let wanted: Vec<WindPart> = table
        .parts
        .iter()
        .zip(&sections)
        .map(|(part, section)| WindPart {
            least: part.least,
            section: *section,
        })
        .collect();
    let one_by_one: Vec<(usize, WindPlayer)> = table
        .players
        .iter()
        .zip(can.iter().zip(&unable))
        .enumerate()
        .flat_map(|(at, (players, (can, lacks)))| {
            let player = move |_| WindPlayer {
                can: can.clone(),
                lacks: lacks.clone(),
                // Players who are alike come in the order of what they have, the ablest first.
                ability: at,
            };
            (0..players.count).map(move |number| (at, player(number)))
        })
        .collect();
    let asked: Vec<WindPlayer> = one_by_one.iter().map(|(_, player)| player.clone()).collect();
    let seat = seat_winds(&asked, &wanted);
    for ((players, _), part) in one_by_one.iter().zip(&seat.part_of) {
        let Some(at) = *part else { continue };
        let short = table
            .players
            .get(*players)
            .is_some_and(|who| lacks_now(&table, who, at));
        if let Some(part) = table.parts.get_mut(at) {
            match part.seated.iter_mut().find(|(who, _)| who == players) {
                Some((_, count)) => *count += 1,
                None => part.seated.push((*players, 1)),
            }
            part.unable += usize::from(short);
        }
    }
    too_few(&seat, &asked, table.parts)
}

fn lacks_now(table: &Table<'_, '_>, players: &Players, at: usize) -> bool {
    let number = table.written.get(at).and_then(|part| part.number);
    table
        .parts
        .get(at)
        .is_some_and(|part| table.reach.lacks(players, part, number))
}

/// The section of every part, and its places there.
fn sections(written: &[Written<'_>], balance: Balance) -> Vec<Section> {
    let mut numbers: BTreeMap<String, usize> = BTreeMap::new();
    let section = |part: &Written<'_>, numbers: &mut BTreeMap<String, usize>| {
        let next = numbers.len();
        *numbers.entry(key(&part.own)).or_insert(next)
    };
    let of: Vec<usize> = written.iter().map(|part| section(part, &mut numbers)).collect();
    written
        .iter()
        .zip(&of)
        .map(|(part, number)| {
            let same = written.iter().zip(&of).filter(|(_, other)| *other == number);
            let before = |other: &Written<'_>| match balance {
                Balance::Lower => other.number < part.number,
                Balance::Upper => other.number > part.number,
            };
            Section {
                number: *number,
                place: same.clone().filter(|(other, _)| before(other)).count(),
                rank: same.filter(|(other, _)| other.number < part.number).count(),
            }
        })
        .collect()
}

/// The parts that lack players, with those whose players could help, apart by who could play them.
fn too_few(seat: &Seat, players: &[WindPlayer], parts: &[Part]) -> Vec<Short> {
    let mut left: Vec<usize> = seat.short.0.clone();
    let mut found = Vec::new();
    while let Some(first) = left.pop() {
        let mut set = vec![first];
        let mut at = 0;
        while let Some(part) = set.get(at).copied() {
            let reads = |who: &&WindPlayer, part: usize| who.can.iter().any(|(can, _)| *can == part);
            let joined: Vec<usize> = left
                .iter()
                .copied()
                .filter(|other| players.iter().any(|who| reads(&who, part) && reads(&who, *other)))
                .collect();
            left.retain(|other| !joined.contains(other));
            set.extend(joined);
            at += 1;
        }
        set.sort_unstable();
        let able = players
            .iter()
            .filter(|who| who.can.iter().any(|(part, _)| set.contains(part)))
            .count();
        let want = set
            .iter()
            .filter_map(|at| parts.get(*at))
            .map(|part| part.least)
            .sum();
        found.push(Short {
            parts: set,
            want,
            able,
        });
    }
    found.sort_by(|a, b| a.parts.cmp(&b.parts));
    found
}
