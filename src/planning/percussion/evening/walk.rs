//! A long walk through the ways to give an evening's hands out.
//!
//! Two players exchange their hands in one piece, or three pass them on, again and again. What makes the evening better
//! is always taken, what makes it worse the more seldom the longer the walk has gone on (annealing: Kirkpatrick,
//! Gelatt and Vecchi 1983). So exchanges are found of which each by itself is worse and all together are better. What
//! counts here are evenness and repeats alone; whoever walks looks after the rest.

use super::{Evening, Lot, Sums, keeps};

/// The exchanges tried in one walk, for each hand of the evening.
const TRIED_A_HAND: u64 = 1_500;
/// What an exchange brings is counted in such parts of a repeat.
const FINE: i64 = 64;

impl Evening<'_> {
    /// Walks from the hands as they are given; a step off an even share weighs as much as `weight` repeats.
    pub(super) fn walk(&mut self, weight: i64, lot: &mut Lot) {
        let players = 0..self.before.len();
        let mut sums: Vec<Sums> = players.clone().map(|player| self.sums_of(player)).collect();
        let hands: usize = self.turns.iter().map(|turn| turn.hands.len()).sum();
        let steps = (hands as u64 * TRIED_A_HAND).min(self.most.saturating_sub(self.tried));
        self.tried += steps;
        for step in 0..steps {
            let piece = lot.below(self.turns.len());
            let seats = self.turns.get(piece).map_or(0, |turn| turn.who.len());
            let (one, other, third) = (lot.below(seats), lot.below(seats), lot.below(seats));
            let passed = [(one, other), (other, third)];
            // Three seats that are three players pass their hands on in every fourth step.
            let swaps = match lot.below(4) == 0 && third != one {
                true => &passed[..],
                false => &passed[..1],
            };
            let (mut worse, mut done) = (0, 0);
            for &(one, other) in swaps {
                let Some(cost) = self.pass(&mut sums, piece, one, other, weight) else {
                    break;
                };
                (worse, done) = (worse + cost, done + 1);
            }
            // At the start as much is borne as a step off an even share, at the end a third of a repeat.
            let left = (steps - step) as i64 * FINE / steps as i64;
            let bears = lot.patience() * (weight * left * left / FINE).max(FINE / 3) / FINE;
            let turn = self.turns.get(piece).zip(self.given.get(piece));
            let able = done == swaps.len() && turn.is_some_and(|(turn, given)| keeps(turn, given));
            // What is too much worse is taken back, the last exchange first.
            if !able || worse > bears {
                for &(one, other) in swaps.get(..done).into_iter().flatten().rev() {
                    self.pass(&mut sums, piece, one, other, weight);
                }
            }
        }
        self.stirred.iter_mut().for_each(|stirred| *stirred = true);
    }

    /// Two seats exchange their hands; what that costs, and nothing where one of them may not.
    fn pass(
        &mut self,
        sums: &mut [Sums],
        piece: usize,
        one: usize,
        other: usize,
        weight: i64,
    ) -> Option<i64> {
        let turn = self.turns.get(piece)?;
        let given = self.given.get_mut(piece)?;
        let (mine, yours) = (*given.get(one)?, *given.get(other)?);
        let may = |seat: usize, hand: usize| turn.may.get(seat)?.get(hand).copied();
        if one == other || !may(one, yours)? || !may(other, mine)? {
            return None;
        }
        let (first, second) = ((*turn.who.get(one)?)?, (*turn.who.get(other)?)?);
        let (from, to) = (turn.hands.get(mine)?, turn.hands.get(yours)?);
        given.swap(one, other);
        let mut cost = 0;
        for (player, had, has) in [(first, from, to), (second, to, from)] {
            let sums = sums.get_mut(player)?;
            cost -= sums.uneven().min(1 << 30) * weight + sums.again;
            sums.add(had, -1);
            sums.add(has, 1);
            cost += sums.uneven().min(1 << 30) * weight + sums.again;
        }
        Some(cost * FINE)
    }
}
