//! Why it takes so many, and why it cannot be done.

use super::bits::Bits;
use super::clique;
use super::collide::Unit;
use super::limits::Count;
use super::seats::{Kind, can_take};
use super::Player;

/// A part, and the one entrance of it that matters where entrances are looked at singly.
pub type Place = (usize, Option<usize>);

/// Why no fewer will do.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Proof {
    /// Of these, no player can play two.
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
}

/// The place of a unit: its entrance when it is only one of its part's.
pub(super) fn place(unit: &Unit, single: bool) -> Place {
    let part = unit.parts.first().copied().unwrap_or(0);
    let entrance = unit.plays.first().filter(|_| single && unit.plays.len() == 1).map(|play| play.1);
    (part, entrance)
}

/// A simple reason why the units cannot be seated: a set of players, and more units that collide
/// and that nobody else can play than there are players in it.
///
/// The sets of players tried are those who can play a unit, and unions of such sets; there are few,
/// since abilities are few.
pub(super) fn too_few(
    against: &[Bits],
    kinds: &[Kind],
    count: &mut Count,
) -> Option<(Vec<usize>, Vec<usize>)> {
    let able = |unit: usize| {
        let mut set = Bits::empty(kinds.len());
        (0..kinds.len()).filter(|&kind| kinds[kind].fits.has(unit)).for_each(|kind| set.insert(kind));
        set
    };
    let able: Vec<Bits> = (0..against.len()).map(able).collect();
    for set in unions(&able) {
        let mut others = set.clone();
        let inside: Vec<usize> = (0..against.len())
            .filter(|&unit| {
                others.clone_from(&able[unit]);
                others.drop_all(&set);
                others.is_empty()
            })
            .collect();
        let players: Vec<usize> = set.iter().flat_map(|kind| kinds[kind].players.clone()).collect();
        if inside.len() <= players.len() {
            continue;
        }
        let within: Vec<Bits> = inside
            .iter()
            .map(|&unit| {
                let collide = |&at: &usize| against[unit].has(inside[at]);
                let members: Vec<usize> = (0..inside.len()).filter(collide).collect();
                Bits::of(inside.len(), &members)
            })
            .collect();
        let found = clique::largest(&within, count);
        if found.len() > players.len() {
            let mut players = players;
            players.sort_unstable();
            return Some((found.iter().map(|&at| inside[at]).collect(), players));
        }
    }
    None
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

/// The part that nobody who is there can play, if there is one.
pub(super) fn nobody(units: &[Unit], players: &[Player]) -> Option<usize> {
    let alone = |unit: &&Unit| {
        let takes = |(at, who): (usize, &Player)| can_take(at, who, unit);
        !players.iter().enumerate().any(takes)
    };
    units.iter().find(alone).and_then(|unit| unit.parts.first().copied())
}
