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

/// Units, players, and what collides.
pub(super) struct Settle<'a> {
    pub(super) music: &'a Music,
    pub(super) units: &'a [Unit],
    pub(super) against: &'a [Bits],
    pub(super) players: &'a [Player],
}

/// What one player does: walks, playing, and turns had before.
type Load = (usize, Tenths, u64);

impl Settle<'_> {
    fn load(&self, places: &[Bits], player: usize, seated: &[usize]) -> Load {
        let mine: Vec<usize> = (0..self.units.len()).filter(|&at| seated[at] == player).collect();
        let all: Vec<&Unit> = mine.iter().map(|&at| &self.units[at]).collect();
        let lasts = all
            .iter()
            .map(|unit| unit.lasts())
            .fold(0, Tenths::saturating_add);
        let set = Bits::of(self.units.len(), &mine);
        let had = had(self.music, self.units, &set, &self.players[player]);
        (walks(&all, places), lasts, had.max(0) as u64)
    }

    fn sum(&self, loads: &[Load]) -> Worth {
        let there = || loads.iter().zip(self.players).filter(|(_, who)| !who.absent);
        let lasts = || there().map(|(load, _)| load.1);
        Worth {
            walks: there().map(|(load, _)| load.0).sum(),
            most: lasts().max().unwrap_or(0),
            least: -lasts().min().unwrap_or(0),
            had: there().map(|(load, _)| load.2).sum(),
        }
    }

    /// What a seating is worth.
    pub(super) fn worth(&self, seated: &[usize]) -> Worth {
        let places = places(self.music);
        let loads: Vec<Load> = (0..self.players.len())
            .map(|player| self.load(&places, player, seated))
            .collect();
        self.sum(&loads)
    }

    fn fits(&self, unit: usize, player: usize, seated: &[usize]) -> bool {
        can_take(player, &self.players[player], &self.units[unit])
            && self.against[unit].iter().all(|other| seated[other] != player)
    }

    /// Improves a seating by moving one unit or swapping two, at most `rounds` times.
    pub(super) fn improve(&self, seated: Vec<usize>, rounds: usize) -> Shared {
        let places = places(self.music);
        let mut best = (self.worth(&seated), seated);
        for _ in 0..rounds {
            let loads: Vec<Load> = (0..self.players.len())
                .map(|player| self.load(&places, player, &best.1))
                .collect();
            let mut better: Option<Shared> = None;
            let mut consider = |changed: Vec<usize>, one: usize, other: usize| {
                let mut new = loads.clone();
                new[one] = self.load(&places, one, &changed);
                new[other] = self.load(&places, other, &changed);
                let worth = self.sum(&new);
                if worth < better.as_ref().map_or(best.0, |better| better.0) {
                    better = Some((worth, changed));
                }
            };
            for unit in 0..self.units.len() {
                let from = best.1[unit];
                for player in 0..self.players.len() {
                    if player != from && self.fits(unit, player, &best.1) {
                        let mut changed = best.1.clone();
                        changed[unit] = player;
                        consider(changed, from, player);
                    }
                }
                for other in unit + 1..self.units.len() {
                    let to = best.1[other];
                    let mut changed = best.1.clone();
                    changed.swap(unit, other);
                    if from != to && self.fits(unit, to, &changed) && self.fits(other, from, &changed) {
                        consider(changed, from, to);
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
}
