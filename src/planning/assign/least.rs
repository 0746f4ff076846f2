//! The fewest players for given units: which players, and in which seats.

use super::bits::Bits;
use super::collide::Unit;
use super::limits::Count;
use super::seats::{self, Kind};
use super::why::Demand;

/// Units, the players for them, and what the units demand of the players.
pub(super) struct Least<'a> {
    pub(super) units: &'a [Unit],
    pub(super) against: &'a [Bits],
    pub(super) kinds: &'a [Kind],
    pub(super) demands: &'a [Demand],
}

impl Least<'_> {
    /// The fewest, a bound below, and a seating; none when there is no seating or a limit was met
    /// before one was found.
    pub(super) fn search(&self, at_least: usize, count: &mut Count) -> Option<(usize, usize, Vec<usize>)> {
        if let [kind] = self.kinds
            && kind.fits.len() == self.units.len()
            && self.units.iter().all(|unit| unit.plays.len() <= 1)
            && let Some((chains, chain)) = seats::chains(self.units, self.against)
        {
            let who = chain.iter().map(|&at| kind.players.get(at).copied());
            return Some((chains, chains, who.collect::<Option<_>>()?));
        }
        let there = self.kinds.iter().map(|kind| kind.players.len()).sum();
        let seated = seats::seat(self.against, self.kinds, there, count)?;
        let players = used(&seated);
        for most in at_least..players {
            match self.with(most, count) {
                Some(seated) => return Some((most, most, seated)),
                None if count.cut => return Some((players, most, seated)),
                None => {}
            }
        }
        Some((players, players, seated))
    }

    /// A seating with so many players.
    ///
    /// First who they are, by kind, then where they sit. Of the ways to choose them only those
    /// count that meet every demand, and in which nobody could be replaced by somebody left over
    /// who can take all that he or she can.
    fn with(&self, most: usize, count: &mut Count) -> Option<Vec<usize>> {
        if let [_] = self.kinds {
            return seats::seat(self.against, self.kinds, most, count);
        }
        self.choose(most, &mut Vec::new(), count)
    }

    fn choose(&self, left: usize, take: &mut Vec<usize>, count: &mut Count) -> Option<Vec<usize>> {
        let Some(kind) = self.kinds.get(take.len()) else {
            if left > 0 || !self.meets_demands(take) || self.is_outdone(take) {
                return None;
            }
            let chosen: Vec<Kind> = (self.kinds.iter().zip(take.iter()))
                .map(|(kind, &some)| Kind {
                    fits: kind.fits.clone(),
                    players: kind.players.iter().take(some).copied().collect(),
                })
                .collect();
            return seats::seat(self.against, &chosen, take.iter().sum(), count);
        };
        for some in (0..=kind.players.len().min(left)).rev() {
            if !count.step() {
                return None;
            }
            take.push(some);
            let found = self.choose(left - some, take, count);
            take.pop();
            if found.is_some() || count.cut {
                return found;
            }
        }
        None
    }

    fn meets_demands(&self, take: &[usize]) -> bool {
        self.demands.iter().all(|demand| {
            let there: usize = demand.kinds.iter().map(|kind| take[kind]).sum();
            there >= demand.units.len()
        })
    }

    fn is_outdone(&self, take: &[usize]) -> bool {
        let left_over = |kind: usize| take[kind] < self.kinds[kind].players.len();
        (0..take.len()).filter(|&used| take[used] > 0).any(|used| {
            (0..take.len()).any(|other| {
                let (mine, theirs) = (&self.kinds[used].fits, &self.kinds[other].fits);
                other != used && left_over(other) && mine.shared(theirs) == mine.len()
            })
        })
    }
}

/// How many players a seating uses.
pub(super) fn used(seated: &[usize]) -> usize {
    let mut who = seated.to_vec();
    who.sort_unstable();
    who.dedup();
    who.len()
}

/// One unit after another to the first player who can take it.
pub(super) fn first_fit(against: &[Bits], kinds: &[Kind]) -> Option<Vec<usize>> {
    let order: Vec<usize> = (0..against.len()).collect();
    seated_in_order(&order, against, kinds)
}

/// The same in another order of the units; for each unit its player.
pub(super) fn seated_in_order(order: &[usize], against: &[Bits], kinds: &[Kind]) -> Option<Vec<usize>> {
    let mut hands: Vec<(usize, &Bits, Bits)> = Vec::new();
    for kind in kinds {
        let empty = Bits::empty(against.len());
        hands.extend(
            kind.players
                .iter()
                .map(|&player| (player, &kind.fits, empty.clone())),
        );
    }
    let mut seated = vec![0; against.len()];
    for &unit in order {
        let collide = against.get(unit)?;
        let takes = |(_, fits, has): &&mut (usize, &Bits, Bits)| fits.has(unit) && has.apart(collide);
        let hand = hands.iter_mut().find(takes)?;
        hand.2.insert(unit);
        *seated.get_mut(unit)? = hand.0;
    }
    Some(seated)
}
