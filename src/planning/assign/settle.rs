//! A good sharing, quickly: from any seating, single moves and swaps as long as one helps.
//!
//! It gives the exact search its first best, and stands in for it where there is too much to try.

use super::bits::Bits;
use super::collide::Unit;
use super::hands::{places, walks};
use super::plan::Worth;
use super::seats::can_take;
use super::share::{Shared, had};
use super::{Music, Player, Tenths};

/// What a seating is worth.
pub(super) fn worth(music: &Music, units: &[Unit], players: &[Player], seated: &[usize]) -> Worth {
    let places = places(music);
    let mut worth = Worth { walks: 0, most: 0, least: 0, had: 0 };
    let mut least = Tenths::MAX;
    for (player, who) in players.iter().enumerate().filter(|(_, who)| !who.absent) {
        let mine: Vec<usize> = (0..units.len()).filter(|&at| seated[at] == player).collect();
        let all: Vec<&Unit> = mine.iter().map(|&at| &units[at]).collect();
        let lasts = all.iter().map(|unit| unit.lasts()).fold(0, Tenths::saturating_add);
        worth.walks += walks(&all, &places);
        worth.most = worth.most.max(lasts);
        least = least.min(lasts);
        worth.had += had(music, units, &Bits::of(units.len(), &mine), who).max(0) as u64;
    }
    worth.least = if least == Tenths::MAX { 0 } else { -least };
    worth
}

/// Improves a seating by moving one unit or swapping two, at most `rounds` times.
pub(super) fn settle(
    music: &Music,
    units: &[Unit],
    against: &[Bits],
    players: &[Player],
    seated: Vec<usize>,
    rounds: usize,
) -> Shared {
    let mut best = (worth(music, units, players, &seated), seated);
    for _ in 0..rounds {
        let mut better: Option<Shared> = None;
        let mut consider = |changed: Vec<usize>| {
            let new = worth(music, units, players, &changed);
            let than = better.as_ref().map_or(best.0, |better| better.0);
            if new < than {
                better = Some((new, changed));
            }
        };
        let fits = |unit: usize, player: usize, seated: &[usize]| {
            can_take(player, &players[player], &units[unit])
                && against[unit].iter().all(|other| seated[other] != player)
        };
        for unit in 0..units.len() {
            for player in 0..players.len() {
                if player != best.1[unit] && fits(unit, player, &best.1) {
                    let mut changed = best.1.clone();
                    changed[unit] = player;
                    consider(changed);
                }
            }
            for other in unit + 1..units.len() {
                let mut changed = best.1.clone();
                changed.swap(unit, other);
                if best.1[unit] != best.1[other]
                    && fits(unit, changed[unit], &changed)
                    && fits(other, changed[other], &changed)
                {
                    consider(changed);
                }
            }
        }
        match better {
            Some(better) => best = better,
            None => break,
        }
    }
    best
}
