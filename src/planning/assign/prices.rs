//! What every unit costs in walks at least: a bound for sharing.
//!
//! Let each unit have a share and each player a price, so that no hand's shares come to more than
//! its walks and the price of any player it fits. Then all units together cost at least the sum of
//! their shares, less the prices of the players there are. The best such figures are the dual of the linear program that
//! covers the units with hands. Whatever figures come out of its rounding, the price is then set
//! exactly, so the bound holds even if the program is stopped half way.

use super::collide::Unit;
use super::hands::Hand;
use super::{Player, seats};

/// Shares and prices are kept in millionths of a walk.
pub(super) const FINE: i64 = 1_000_000;

/// The most rows of the program for which players of different abilities have their own price.
const MOST_ROWS: usize = 4000;

/// What every player costs, and what each unit costs at least beside that.
#[derive(Clone, Debug)]
pub(super) struct Price {
    player: Vec<i64>,
    share: Vec<i64>,
}

impl Price {
    /// The bound before anything is given out.
    pub(super) fn whole(&self) -> i64 {
        self.share.iter().sum::<i64>() - self.player.iter().sum::<i64>()
    }

    /// How much less is bound when a hand is given out: its shares, and the cheapest player.
    pub(super) fn taken(&self, hand: &Hand) -> i64 {
        let cheapest = hand.fits.iter().map(|&player| self.player[player]).min();
        hand.units.iter().map(|unit| self.share[unit]).sum::<i64>() - cheapest.unwrap_or(0)
    }
}

/// The figures that bound best, then those that see best when players run out.
pub(super) fn prices(units: &[Unit], hands: &[Hand], players: &[Player]) -> Vec<Price> {
    let mut groups: Vec<Vec<usize>> = seats::kinds(units, players)
        .into_iter()
        .map(|kind| kind.players)
        .collect();
    let rows = |groups: &[Vec<usize>]| -> Vec<(usize, usize)> {
        let has = |hand: &Hand, group: &[usize]| group.iter().any(|who| hand.fits.contains(who));
        let with = |(at, hand): (usize, &Hand)| {
            let fit = (0..groups.len()).filter(|&group| has(hand, &groups[group]));
            fit.map(|group| (at, group)).collect::<Vec<_>>()
        };
        hands.iter().enumerate().flat_map(with).collect()
    };
    let mut of = rows(&groups);
    if of.len() > MOST_ROWS {
        groups = vec![groups.concat()];
        of = rows(&groups);
    }
    let best = exact(
        &dual(units.len(), hands, &groups, &of),
        hands,
        &groups,
        &of,
        players.len(),
    );
    // As dear as a player can be, a unit's share is its part of the largest hand it is in.
    let dear = 1000 * FINE;
    let mut share = vec![dear; units.len()];
    for hand in hands {
        let part = (hand.walks as i64 * FINE + dear) / hand.units.len().max(1) as i64;
        hand.units
            .iter()
            .for_each(|unit| share[unit] = share[unit].min(part));
    }
    let there = |who: &Player| if who.absent { 0 } else { dear };
    let player = players.iter().map(there).collect();
    vec![best, Price { player, share }]
}

/// The least price of every group of players at which the shares hold for all hands.
fn exact(
    shares: &[f64],
    hands: &[Hand],
    groups: &[Vec<usize>],
    rows: &[(usize, usize)],
    players: usize,
) -> Price {
    let fine = |share: &f64| (share.clamp(0.0, 1e6) * FINE as f64) as i64;
    let share: Vec<i64> = shares.iter().map(fine).collect();
    let mut player = vec![0; players];
    for &(at, group) in rows {
        let hand = &hands[at];
        let shares: i64 = hand.units.iter().map(|unit| share[unit]).sum();
        let over = shares - hand.walks as i64 * FINE;
        groups[group]
            .iter()
            .for_each(|&who| player[who] = over.max(player[who]));
    }
    Price { player, share }
}

/// Solves the dual by the simplex method: the most for the sum of the shares less the prices of all
/// players, one row for a hand and a group of players that fits it. Doing nothing is allowed to
/// begin with, since no hand has negative walks. Shares are not negative: what may be covered twice
/// costs no more, as a part of a hand never has more walks than all of it.
fn dual(units: usize, hands: &[Hand], groups: &[Vec<usize>], of: &[(usize, usize)]) -> Vec<f64> {
    const TINY: f64 = 1e-9;
    let (rows, columns) = (of.len(), units + groups.len());
    let width = columns + 1;
    // What is basic in a row is `last - sum of the others`; the row after all is what is gained.
    let mut table = vec![0.0; (rows + 1) * width];
    for (row, &(at, group)) in of.iter().enumerate() {
        let hand = &hands[at];
        hand.units.iter().for_each(|unit| table[row * width + unit] = 1.0);
        table[row * width + units + group] = -1.0;
        // A hair more in each row keeps the method from turning in circles; it is undone by
        // setting the prices exactly.
        table[row * width + columns] = hand.walks as f64 + (row % 97) as f64 * 1e-7;
    }
    let gain = rows * width;
    (0..units).for_each(|unit| table[gain + unit] = 1.0);
    for (group, members) in groups.iter().enumerate() {
        table[gain + units + group] = -(members.len() as f64);
    }
    let mut outside: Vec<usize> = (0..columns).collect();
    let mut inside: Vec<usize> = (columns..columns + rows).collect();
    for _ in 0..20 * columns {
        let promising = (0..columns).filter(|&column| table[gain + column] > TINY);
        let Some(column) = promising.max_by(|&a, &b| table[gain + a].total_cmp(&table[gain + b])) else {
            break;
        };
        let room = |row: usize| table[row * width + columns] / table[row * width + column];
        let tight = (0..rows).filter(|&row| table[row * width + column] > TINY);
        let Some(row) = tight.min_by(|&a, &b| room(a).total_cmp(&room(b))) else {
            break;
        };
        pivot(&mut table, width, row, column);
        std::mem::swap(&mut outside[column], &mut inside[row]);
    }
    let mut shares = vec![0.0; units];
    for (row, &what) in inside.iter().enumerate() {
        if let Some(share) = shares.get_mut(what) {
            *share = table[row * width + columns];
        }
    }
    shares
}

/// Exchanges what a row and a column stand for.
fn pivot(table: &mut [f64], width: usize, row: usize, column: usize) {
    let by = table[row * width + column];
    let mut own: Vec<f64> = table[row * width..(row + 1) * width]
        .iter()
        .map(|at| at / by)
        .collect();
    own[column] = 1.0 / by;
    for (at, line) in table.chunks_exact_mut(width).enumerate() {
        let times = line[column];
        if at == row {
            line.copy_from_slice(&own);
        } else if times != 0.0 {
            line[column] = 0.0;
            line.iter_mut()
                .zip(&own)
                .for_each(|(here, own)| *here -= times * own);
        }
    }
}
