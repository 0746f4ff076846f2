//! Everything one player could be given: sets of units that do not collide.

use super::bits::Bits;
use super::collide::Unit;
use super::limits::Count;
use super::seats::can_take;
use super::{Music, Player, Tenths};

/// A set of units for one player.
#[derive(Clone, Debug)]
pub(super) struct Hand {
    pub(super) units: Bits,
    /// The players who can take it.
    pub(super) fits: Vec<usize>,
    pub(super) walks: usize,
    pub(super) lasts: Tenths,
}

/// For every part the parts in one place with it: going from place to place is a walk.
pub(super) fn places(music: &Music) -> Vec<Bits> {
    let size = music.parts.len();
    let near = |part: usize| {
        let all: Vec<usize> = (0..size)
            .filter(|&other| same_station(music, part, other))
            .collect();
        Bits::of(size, &all)
    };
    let mut places: Vec<Bits> = (0..size).map(near).collect();
    for &(a, b) in music.mounted.iter().filter(|(a, b)| *a < size && *b < size) {
        places[a].insert(b);
        places[b].insert(a);
    }
    places
}

fn same_station(music: &Music, one: usize, other: usize) -> bool {
    music.parts[one].station == music.parts[other].station
}

/// The walks of one player with these units.
pub(super) fn walks(units: &[&Unit], places: &[Bits]) -> usize {
    let mut plays: Vec<_> = units.iter().flat_map(|unit| &unit.plays).collect();
    plays.sort_by_key(|&&(part, at, entrance)| (entrance, part, at));
    plays
        .windows(2)
        .filter(|pair| !places[pair[0].0].has(pair[1].0))
        .count()
}

/// All hands, none empty; none at all when there are more than `most` or the count is cut.
pub(super) fn all(
    music: &Music,
    units: &[Unit],
    against: &[Bits],
    players: &[Player],
    most: usize,
    count: &mut Count,
) -> Option<Vec<Hand>> {
    let places = places(music);
    let mut found = Vec::new();
    let start = Open {
        next: 0,
        has: Vec::new(),
        able: (0..players.len()).collect(),
        blocked: Bits::empty(units.len()),
    };
    let mut stack = vec![start];
    while let Some(open) = stack.pop() {
        for at in open.next..units.len() {
            if open.blocked.has(at) {
                continue;
            }
            let able: Vec<usize> = open
                .able
                .iter()
                .copied()
                .filter(|&player| can_take(player, &players[player], &units[at]))
                .collect();
            if able.is_empty() {
                continue;
            }
            if found.len() >= most || !count.step() {
                return None;
            }
            let mut has = open.has.clone();
            has.push(at);
            let all: Vec<&Unit> = has.iter().map(|&unit| &units[unit]).collect();
            let lasts = all
                .iter()
                .map(|unit| unit.lasts())
                .fold(0, Tenths::saturating_add);
            found.push(Hand {
                units: Bits::of(units.len(), &has),
                fits: able.clone(),
                walks: walks(&all, &places),
                lasts,
            });
            let mut blocked = open.blocked.clone();
            blocked.add(&against[at]);
            stack.push(Open {
                next: at + 1,
                has,
                able,
                blocked,
            });
        }
    }
    Some(found)
}

struct Open {
    next: usize,
    has: Vec<usize>,
    able: Vec<usize>,
    blocked: Bits,
}
