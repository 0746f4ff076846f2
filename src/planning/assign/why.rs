//! Why it takes so many, and why it cannot be done.

use super::bits::Bits;
use super::clique;
use super::collide::{Unit, units};
use super::limits::Count;
use super::seats::{Kind, can_take};
use super::{Music, Player};

/// A part, and the one entrance of it that matters where entrances are looked at singly.
pub type Place = (usize, Option<usize>);

/// Why no fewer will do.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Proof {
    /// Of these, no player can play two. Where one of them is played in place of another, as many others
    /// collide when that one is.
    Collide(Vec<Place>),
    /// Every way with fewer was tried, in so many steps.
    Tried {
        /// Steps of the whole search.
        steps: u64,
    },
    /// Nothing is proven: a limit cut the search short.
    CutShort,
}

/// Why something cannot be played.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Why {
    /// No player who is there can do what this part needs, or it was given to somebody who cannot
    /// or is not there, or to two.
    Nobody(usize),
    /// Of these no player can play two, and fewer players than that can play any of them.
    TooFew {
        /// What collides.
        places: Vec<Place>,
        /// All who can play any of it.
        able: Vec<usize>,
    },
    /// Every way was tried, in so many steps; there is no simpler reason.
    Tried {
        /// Steps of the whole search.
        steps: u64,
    },
    /// Not proven: a limit cut the search short.
    CutShort,
    /// More parts or entrances than can be looked at, so none were.
    TooMany {
        /// How many there are.
        units: usize,
    },
}

/// The place of a unit: its entrance when it is only one of its part's.
pub(super) fn place(unit: &Unit, single: bool) -> Place {
    let part = unit.parts.first().copied().unwrap_or(0);
    let entrance = unit
        .plays
        .first()
        .filter(|_| single && unit.plays.len() == 1)
        .map(|play| play.1);
    (part, entrance)
}

/// Some players, by kind, and the largest set of colliding units that nobody else can play: so many
/// of these players are needed.
pub(super) struct Demand {
    pub(super) kinds: Bits,
    pub(super) units: Vec<usize>,
}

/// What the units demand of the players.
///
/// The sets of players looked at are those who can play a unit, and unions of such sets; there are
/// few, since abilities are few.
pub(super) fn demands(against: &[Bits], kinds: &[Kind], count: &mut Count) -> Vec<Demand> {
    let able = |unit: usize| {
        let fit: Vec<usize> = (0..kinds.len())
            .filter(|&kind| kinds[kind].fits.has(unit))
            .collect();
        Bits::of(kinds.len(), &fit)
    };
    let able: Vec<Bits> = (0..against.len()).map(able).collect();
    let demand = |set: Bits, count: &mut Count| {
        let inside = (0..against.len()).filter(|&unit| able[unit].shared(&set) == able[unit].len());
        let inside: Vec<usize> = inside.collect();
        let within = |&unit: &usize| {
            let collide = |&at: &usize| against[unit].has(inside[at]);
            let members: Vec<usize> = (0..inside.len()).filter(collide).collect();
            Bits::of(inside.len(), &members)
        };
        let within: Vec<Bits> = inside.iter().map(within).collect();
        let found = clique::largest(&within, count);
        Demand {
            kinds: set,
            units: found.into_iter().map(|at| inside[at]).collect(),
        }
    };
    unions(&able).into_iter().map(|set| demand(set, count)).collect()
}

/// A simple reason why the units cannot be seated: units that collide, and all players who can
/// play any of them, who are fewer.
pub(super) fn too_few(demands: &[Demand], kinds: &[Kind]) -> Option<(Vec<usize>, Vec<usize>)> {
    demands.iter().find_map(|demand| {
        let mut able: Vec<usize> = demand
            .kinds
            .iter()
            .flat_map(|kind| kinds[kind].players.clone())
            .collect();
        able.sort_unstable();
        (demand.units.len() > able.len()).then(|| (demand.units.clone(), able))
    })
}

/// The distinct sets and their unions, the small ones first; at most a few hundred.
fn unions(sets: &[Bits]) -> Vec<Bits> {
    const MOST: usize = 256;
    let mut all: Vec<Bits> = Vec::new();
    for set in sets {
        if all.contains(set) {
            continue;
        }
        let joined = all.iter().map(|other| {
            let mut both = other.clone();
            both.add(set);
            both
        });
        let new: Vec<Bits> = std::iter::once(set.clone()).chain(joined).collect();
        for set in new {
            if all.len() < MOST && !all.contains(&set) {
                all.push(set);
            }
        }
    }
    all.sort_by_key(Bits::len);
    all
}

/// The part that nobody who is there can play, if there is one; or the first of parts bound
/// together that nobody can play all of.
pub(super) fn nobody(music: &Music, units: &[Unit], players: &[Player]) -> Option<usize> {
    let alone = |unit: &&Unit| {
        let takes = |(at, who): (usize, &Player)| can_take(at, who, unit);
        !players.iter().enumerate().any(takes)
    };
    let parts = &units.iter().find(alone)?.parts;
    let lost = parts
        .iter()
        .copied()
        .find(|&part| is_hopeless(music, part, players));
    lost.or(parts.first().copied())
}

/// Whether nobody who is there can play the part, even with nothing else to play.
pub(super) fn is_hopeless(music: &Music, part: usize, players: &[Player]) -> bool {
    let own = units(music, &[part], &|_| false);
    let takes = |(at, who): (usize, &Player)| own.iter().all(|unit| can_take(at, who, unit));
    !players.iter().enumerate().any(takes)
}
