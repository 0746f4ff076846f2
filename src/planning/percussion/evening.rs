//! Who has which hand in which piece of an evening.
//!
//! Each piece comes with its hands: what one player has in it. Hands go from player to player as long as that makes
//! the evening better. What counts, the first that differs decides: how far players are from an even share, in whole
//! half minutes weighed by how much a part asks; how often players have a kind of instrument again; how often somebody is idle in
//! two pieces running; how many are on one kind of instrument all evening.
//!
//! Three moves are repeated until none helps: all hands of a piece are given out anew, which is a cheapest matching
//! since the cost of a player depends on nobody else; two players exchange their hands in the best set of pieces, all
//! sets tried; and, when neither helps any more, a few hands go round by lot and the two are tried again.

use std::collections::BTreeMap;
use std::hash::{DefaultHasher, Hash, Hasher};

use crate::planning::assign::Limits;

/// A length of playing: tenths of a second times quarters of [`super::rotate::asks`].
pub(super) type Weighed = i64;

/// Who is less than half a minute from an even share has an even share: nobody counts single seconds.
const HALF_MINUTE: Weighed = 300 * 4;
/// Two players exchange hands in any set of at most so many pieces at a time.
const MOST_AT_ONCE: usize = 12;
/// How many exchanges may be tried for one evening in all.
const MOST_TRIED: u64 = 12_000_000;
/// An exchange is a small thing beside a step of the other searches: so many go for one.
const TRIED_A_STEP: u64 = 6;
/// After so many lots that brought nothing better the search ends.
const MOST_LOTS: usize = 1_500;

/// What one player has in one piece.
#[derive(Debug, Clone, Default, PartialEq, Eq, Hash)]
pub(super) struct Hand {
    /// How long it plays.
    pub(super) plays: Weighed,
    /// The kinds of instruments, each once, by number.
    pub(super) kinds: Vec<usize>,
}

/// A piece of the evening.
#[derive(Debug, Clone, Default, Hash)]
pub(super) struct Turn {
    /// The player in each seat, by number; none for one who is away.
    pub(super) who: Vec<Option<usize>>,
    /// As many hands as seats.
    pub(super) hands: Vec<Hand>,
    /// For each seat and each hand, whether that player may have it.
    pub(super) may: Vec<Vec<bool>>,
    /// Pairs of seats that may not have two hands which are near each other.
    pub(super) apart: Vec<(usize, usize)>,
    /// For each two hands, whether they are near each other.
    pub(super) near: Vec<Vec<bool>>,
}

/// What players bring from before: how long they played, and how often they had each kind.
#[derive(Debug, Clone, Default, PartialEq, Eq, Hash)]
pub(super) struct Before {
    /// How long.
    pub(super) plays: Weighed,
    /// For each kind, how often.
    pub(super) kinds: BTreeMap<usize, i64>,
}

/// What an evening costs, less is better; see [`cost`].
pub(super) type Cost = i128;

/// The hand of each seat, piece by piece.
pub(super) type Given = Vec<Vec<usize>>;

/// A digest of all that [`share`] rests on.
pub(super) fn digest(turns: &[Turn], before: &[Before]) -> u64 {
    let mut digest = DefaultHasher::new();
    (turns, before).hash(&mut digest);
    digest.finish()
}

/// Gives the hands out, from those that the seats have now: each the hand of its own number.
pub(super) fn share(turns: &[Turn], before: &[Before], limits: Limits<'_>) -> Given {
    let mut evening = Evening::new(turns, before);
    evening.most = limits.steps.saturating_mul(TRIED_A_STEP).min(MOST_TRIED);
    evening.settle();
    let mut best = (evening.cost(), evening.given.clone());
    let mut lot = Lot(0x2545_f491_4f6c_dd1d);
    let least = evening.least();
    let mut in_vain = 0;
    let mut here = best.clone();
    while in_vain < MOST_LOTS {
        if best.0 <= least || evening.tried >= evening.most || (limits.stop)() || !evening.shake(&mut lot) {
            break;
        }
        evening.settle();
        let cost = evening.cost();
        in_vain += 1;
        if cost < best.0 {
            in_vain = 0;
            best = (cost, evening.given.clone());
        }
        // The search goes on from an evening that is as good, and now and then from one that has an instrument more
        // again, so that it does not stay in one place; but nobody's hands change for that.
        let almost = here.0.saturating_add(packed([0, 2, 0, 0]));
        if cost <= here.0 || cost <= almost && lot.below(10) == 0 {
            here = (cost, evening.given.clone());
        } else {
            if in_vain % 100 == 0 {
                here.clone_from(&best);
            }
            evening.put(&here.1);
        }
    }
    best.1
}

/// How long each player would play if it were shared to the second: as long as all others of the band, or, who can play
/// too little for that, as long as may be. Nothing for who is not there.
pub(super) fn even(turns: &[Turn], before: &[Before]) -> Vec<Weighed> {
    let mut most: Vec<Option<Weighed>> = vec![None; before.len()];
    for turn in turns {
        for (who, may) in turn.who.iter().zip(&turn.may) {
            let Some(most) = who.and_then(|who| most.get_mut(who)) else {
                continue;
            };
            let hands = turn.hands.iter().zip(may).filter(|(_, may)| **may);
            let longest = hands.map(|(hand, _)| hand.plays).max().unwrap_or(0);
            *most = Some(most.unwrap_or(0).saturating_add(longest));
        }
    }
    let earlier = |player: usize| before.get(player).map_or(0, |before| before.plays);
    let mut even = vec![0; before.len()];
    for (players, pieces) in circles(turns, before.len()) {
        let now = pieces
            .iter()
            .filter_map(|piece| turns.get(*piece))
            .flat_map(|turn| &turn.hands);
        let all = players
            .iter()
            .map(|player| earlier(*player))
            .chain(now.map(|hand| hand.plays));
        let mut left = all.fold(0, Weighed::saturating_add);
        let mut order: Vec<(Weighed, usize)> = players
            .iter()
            .filter_map(|player| {
                let most = (*most.get(*player)?)?.saturating_add(earlier(*player));
                Some((most, *player))
            })
            .collect();
        // Who can play least is dealt with first: whatever is over is for the others.
        order.sort_unstable();
        for (nth, (most, player)) in order.iter().enumerate() {
            let others = Weighed::try_from(order.len() - nth).unwrap_or(1).max(1);
            let share = (*most).min(left / others);
            left = left.saturating_sub(share);
            if let Some(even) = even.get_mut(*player) {
                *even = share;
            }
        }
    }
    even
}

/// Players who share a piece, or share one with somebody who does, and their pieces: nobody takes over what is played
/// in another circle.
fn circles(turns: &[Turn], players: usize) -> Vec<(Vec<usize>, Vec<usize>)> {
    let mut of: Vec<usize> = (0..players).collect();
    for turn in turns {
        let all: Vec<usize> = turn
            .who
            .iter()
            .flatten()
            .filter_map(|who| of.get(*who).copied())
            .collect();
        if let Some(&first) = all.first() {
            of.iter_mut()
                .filter(|circle| all.contains(circle))
                .for_each(|circle| *circle = first);
        }
    }
    let mut circles: BTreeMap<usize, (Vec<usize>, Vec<usize>)> = BTreeMap::new();
    for (player, circle) in of.iter().enumerate() {
        circles.entry(*circle).or_default().0.push(player);
    }
    for (piece, turn) in turns.iter().enumerate() {
        let circle = turn.who.iter().flatten().find_map(|who| of.get(*who));
        if let Some(circle) = circle {
            circles.entry(*circle).or_default().1.push(piece);
        }
    }
    circles.into_values().collect()
}

/// What the evening costs as given.
#[cfg(test)]
pub(super) fn cost(turns: &[Turn], before: &[Before], given: &Given) -> [i64; 4] {
    let mut evening = Evening::new(turns, before);
    evening.put(given);
    let mut all = [0; 4];
    for player in 0..before.len() {
        let one = evening.parts_of(player);
        all.iter_mut().zip(one).for_each(|(all, one)| *all += one);
    }
    all
}

/// Numbers as if by lot, the same at each run.
struct Lot(u64);

impl Lot {
    fn below(&mut self, most: usize) -> usize {
        self.0 ^= self.0 << 13;
        self.0 ^= self.0 >> 7;
        self.0 ^= self.0 << 17;
        usize::try_from(self.0 % most.max(1) as u64).unwrap_or(0)
    }
}

struct Evening<'t> {
    turns: &'t [Turn],
    before: &'t [Before],
    /// The seat of each player in each piece.
    seat: Vec<Vec<Option<usize>>>,
    kinds: usize,
    /// How long each player would play if it were shared to the second.
    even: Vec<Weighed>,
    given: Given,
    /// Players whose hands changed since all moves with them were tried.
    stirred: Vec<bool>,
    /// Exchanges tried, and the most that may be.
    tried: u64,
    most: u64,
}

impl<'t> Evening<'t> {
    fn new(turns: &'t [Turn], before: &'t [Before]) -> Evening<'t> {
        let players = before.len();
        let mut seat = vec![vec![None; turns.len()]; players];
        for (at, turn) in turns.iter().enumerate() {
            for (place, who) in turn.who.iter().enumerate() {
                if let Some(mine) = who.and_then(|who| seat.get_mut(who)?.get_mut(at)) {
                    *mine = Some(place);
                }
            }
        }
        let all = turns
            .iter()
            .flat_map(|turn| &turn.hands)
            .flat_map(|hand| &hand.kinds);
        let earlier = before.iter().flat_map(|before| before.kinds.keys());
        let kinds = all.chain(earlier).max().map_or(0, |most| most + 1);
        Evening {
            even: even(turns, before),
            turns,
            before,
            seat,
            kinds,
            given: turns.iter().map(|turn| (0..turn.hands.len()).collect()).collect(),
            stirred: vec![true; before.len()],
            tried: 0,
            most: MOST_TRIED,
        }
    }

    fn even_of(&self, player: usize) -> Weighed {
        self.even.get(player).copied().unwrap_or(0)
    }

    fn put(&mut self, given: &Given) {
        self.given.clone_from(given);
    }

    fn hand(&self, player: usize, piece: usize) -> Option<&'t Hand> {
        let seat = (*self.seat.get(player)?.get(piece)?)?;
        let hand = *self.given.get(piece)?.get(seat)?;
        self.turns.get(piece)?.hands.get(hand)
    }

    fn cost(&self) -> Cost {
        (0..self.before.len()).map(|player| self.cost_of(player)).sum()
    }

    fn cost_of(&self, player: usize) -> Cost {
        packed(self.parts_of(player))
    }

    /// What one player adds to each of the four that count.
    fn parts_of(&self, player: usize) -> [i64; 4] {
        if !self
            .seat
            .get(player)
            .is_some_and(|seats| seats.iter().any(Option::is_some))
        {
            return [0; 4];
        }
        let mut sums = Sums::of(self.before.get(player), self.kinds, self.even_of(player));
        let hands: Vec<Option<&Hand>> = (0..self.turns.len())
            .map(|piece| self.hand(player, piece))
            .collect();
        hands.iter().flatten().for_each(|hand| sums.add(hand, 1));
        let (idle, always) = feelings(&hands);
        [sums.uneven(), sums.again, idle, always]
    }

    /// No evening with these hands costs less: nobody off an even share, and every kind spread over all players.
    fn least(&self) -> Cost {
        let there = self.seat.iter().filter(|seats| seats.iter().any(Option::is_some));
        let there = i64::try_from(there.count()).unwrap_or(1).max(1);
        let mut had = vec![0i64; self.kinds];
        let hands = self.turns.iter().flat_map(|turn| &turn.hands);
        let now = hands.flat_map(|hand| hand.kinds.iter().map(|kind| (*kind, 1)));
        let earlier = self
            .before
            .iter()
            .flat_map(|before| &before.kinds)
            .map(|(kind, times)| (*kind, *times));
        for (kind, times) in now.chain(earlier) {
            if let Some(had) = had.get_mut(kind) {
                *had = had.saturating_add(times);
            }
        }
        let again = had.iter().map(|had| {
            let (each, more) = (had / there, had % there);
            more * (each + 1) * each + (there - more) * each * (each - 1)
        });
        packed([0, again.sum(), 0, 0])
    }

    /// Until neither move helps.
    fn settle(&mut self) {
        while self.stirred.contains(&true) && self.tried < self.most {
            let stirred = std::mem::replace(&mut self.stirred, vec![false; self.before.len()]);
            let is_stirred = |player: usize| stirred.get(player) == Some(&true);
            for piece in 0..self.turns.len() {
                let seats = self.turns.get(piece).map_or(&[][..], |turn| &turn.who);
                if seats.iter().flatten().any(|player| is_stirred(*player)) {
                    self.deal(piece);
                }
            }
            for one in 0..self.before.len() {
                for other in one + 1..self.before.len() {
                    if is_stirred(one) || is_stirred(other) {
                        self.exchange(one, other);
                    }
                }
            }
        }
    }

    /// Puts the hands of a piece into the seats, and notes whose changed.
    fn set(&mut self, piece: usize, hands: &[usize]) {
        let (Some(given), Some(turn)) = (self.given.get_mut(piece), self.turns.get(piece)) else {
            return;
        };
        for ((now, then), who) in given.iter_mut().zip(hands).zip(&turn.who) {
            if now != then
                && let Some(stirred) = who.and_then(|who| self.stirred.get_mut(who))
            {
                *stirred = true;
            }
            *now = *then;
        }
    }

    fn swap(&mut self, piece: usize, first: usize, second: usize) {
        let Some(mut hands) = self.given.get(piece).cloned() else {
            return;
        };
        hands.swap(first, second);
        self.set(piece, &hands);
    }

    /// Gives the hands of a piece out anew, the cheapest way.
    fn deal(&mut self, piece: usize) -> bool {
        let Some(turn) = self.turns.get(piece) else {
            return false;
        };
        let size = turn.hands.len();
        let Some(now) = self.given.get(piece).cloned() else {
            return false;
        };
        let mut table: Vec<Vec<Option<Cost>>> = Vec::new();
        for (seat, who) in turn.who.iter().enumerate() {
            let mut row = Vec::new();
            for hand in 0..size {
                let may = turn.may.get(seat).and_then(|may| may.get(hand)) == Some(&true);
                let stays = now.get(seat) == Some(&hand);
                row.push(match who {
                    _ if !may && !stays => None,
                    // Nobody sits there, so it costs nothing; its hand is empty and stays.
                    None => stays.then_some(0),
                    Some(player) => {
                        if let Some(mine) = self.given.get_mut(piece).and_then(|given| given.get_mut(seat)) {
                            *mine = hand;
                        }
                        let cost = self.cost_of(*player);
                        if let Some(mine) = self.given.get_mut(piece).and_then(|given| given.get_mut(seat)) {
                            *mine = now.get(seat).copied().unwrap_or(hand);
                        }
                        Some(cost)
                    }
                });
            }
            table.push(row);
        }
        self.tried = self.tried.saturating_add((size * size) as u64);
        let Some(dealt) = super::matching::cheapest(&table) else {
            return false;
        };
        let sum = |given: &[usize]| -> Cost {
            let costs = given.iter().zip(&table);
            costs
                .filter_map(|(hand, row)| row.get(*hand).copied().flatten())
                .sum()
        };
        if sum(&dealt) >= sum(&now) || !keeps(turn, &dealt) {
            return false;
        }
        self.set(piece, &dealt);
        true
    }

    /// The pieces in which two players may exchange their hands, with their seats.
    fn common(&self, one: usize, other: usize) -> Vec<(usize, usize, usize)> {
        let seats = |player: usize, piece: usize| *self.seat.get(player)?.get(piece)?;
        let common = (0..self.turns.len()).filter_map(|piece| {
            let (first, second) = (seats(one, piece)?, seats(other, piece)?);
            let turn = self.turns.get(piece)?;
            let mut given = self.given.get(piece)?.clone();
            let (mine, yours) = (*given.get(first)?, *given.get(second)?);
            let may = |seat: usize, hand: usize| turn.may.get(seat)?.get(hand).copied();
            let able = may(first, yours)? && may(second, mine)?;
            let same = turn.hands.get(mine) == turn.hands.get(yours);
            given.swap(first, second);
            (able && !same && keeps(turn, &given)).then_some((piece, first, second))
        });
        common.collect()
    }

    /// Exchanges the hands of two players in the best set of pieces.
    fn exchange(&mut self, one: usize, other: usize) -> bool {
        let mut common = self.common(one, other);
        // Of a long program another stretch each time.
        if common.len() > MOST_AT_ONCE {
            let turned = usize::try_from(self.tried % common.len() as u64).unwrap_or(0);
            common.rotate_left(turned);
            common.truncate(MOST_AT_ONCE);
        }
        if common.is_empty() {
            return false;
        }
        let hands = |player: usize| -> Vec<Option<&'t Hand>> {
            (0..self.turns.len())
                .map(|piece| self.hand(player, piece))
                .collect()
        };
        let (mut mine, mut yours) = (hands(one), hands(other));
        let mut sums = [
            Sums::of(self.before.get(one), self.kinds, self.even_of(one)),
            Sums::of(self.before.get(other), self.kinds, self.even_of(other)),
        ];
        mine.iter().flatten().for_each(|hand| sums[0].add(hand, 1));
        yours.iter().flatten().for_each(|hand| sums[1].add(hand, 1));
        let whole = |sums: &[Sums; 2], mine: &[Option<&Hand>], yours: &[Option<&Hand>]| -> Cost {
            let (idle, always) = feelings(mine);
            let (also_idle, also_always) = feelings(yours);
            packed([
                sums[0].uneven() + sums[1].uneven(),
                sums[0].again + sums[1].again,
                idle + also_idle,
                always + also_always,
            ])
        };
        let mut best = (whole(&sums, &mine, &yours), 0u32);
        let mut set = 0u32;
        for step in 1..1u32 << common.len() {
            // Each set differs from the one before in one piece (Gray's order).
            let turned = step.trailing_zeros();
            set ^= 1 << turned;
            let Some(&(piece, ..)) = common.get(turned as usize) else {
                break;
            };
            let (Some(first), Some(second)) = (mine.get_mut(piece), yours.get_mut(piece)) else {
                break;
            };
            std::mem::swap(first, second);
            if let (Some(first), Some(second)) = (first, second) {
                sums[0].add(second, -1);
                sums[0].add(first, 1);
                sums[1].add(first, -1);
                sums[1].add(second, 1);
            }
            let counted = packed([
                sums[0].uneven() + sums[1].uneven(),
                sums[0].again + sums[1].again,
                0,
                0,
            ]);
            if counted < best.0 {
                let cost = whole(&sums, &mine, &yours);
                if cost < best.0 {
                    best = (cost, set);
                }
            }
        }
        self.tried = self.tried.saturating_add(1 << common.len());
        for (nth, (piece, first, second)) in common.into_iter().enumerate() {
            if best.1 >> nth & 1 == 1 {
                self.swap(piece, first, second);
            }
        }
        best.1 != 0
    }

    /// Lets the hands of three players go round in a piece, where they may.
    fn go_round(&mut self, one: usize, other: usize, third: usize, piece: usize) -> bool {
        let seat = |player: usize| *self.seat.get(player)?.get(piece)?;
        let (Some(a), Some(b), Some(c)) = (seat(one), seat(other), seat(third)) else {
            return false;
        };
        let (Some(turn), Some(given)) = (self.turns.get(piece), self.given.get(piece)) else {
            return false;
        };
        let mut turned = given.clone();
        turned.swap(a, b);
        turned.swap(b, c);
        let may = |seat: usize| {
            let hand = turned.get(seat)?;
            turn.may.get(seat)?.get(*hand).copied()
        };
        let able = a != b && b != c && a != c && [a, b, c].into_iter().all(|seat| may(seat) == Some(true));
        if able && keeps(turn, &turned) {
            self.set(piece, &turned);
            return true;
        }
        false
    }

    /// Lets a few hands go round; false where nobody could exchange anything.
    fn shake(&mut self, lot: &mut Lot) -> bool {
        let players = self.before.len();
        let mut shaken = 0;
        let wanted = 2 + lot.below(4);
        // Whoever costs something goes first in every second of the shakes.
        let costly: Vec<usize> = (0..players).filter(|player| self.cost_of(*player) > 0).collect();
        for _ in 0..40 {
            let one = match costly.get(lot.below(2 * costly.len())) {
                Some(player) => *player,
                None => lot.below(players),
            };
            let other = lot.below(players);
            if one == other {
                continue;
            }
            if lot.below(3) == 0 {
                shaken +=
                    usize::from(self.go_round(one, other, lot.below(players), lot.below(self.turns.len())));
            } else {
                let common = self.common(one, other);
                let Some(&(piece, first, second)) = common.get(lot.below(common.len())) else {
                    continue;
                };
                self.swap(piece, first, second);
                shaken += 1;
            }
            if shaken == wanted {
                break;
            }
        }
        shaken > 0
    }
}

/// Whether who is to be kept apart is.
fn keeps(turn: &Turn, given: &[usize]) -> bool {
    turn.apart.iter().all(|&(one, other)| {
        let near = given.get(one).zip(given.get(other));
        let near = near.and_then(|(one, other)| turn.near.get(*one)?.get(*other).copied());
        near != Some(true)
    })
}

fn packed([uneven, again, idle, always]: [i64; 4]) -> Cost {
    let fits = |number: i64| Cost::from(number.clamp(0, (1 << 24) - 1));
    Cost::from(uneven) << 72 | fits(again) << 48 | fits(idle) << 24 | fits(always)
}

/// How often somebody is idle in two pieces running, and whether they are on one kind of instrument all evening.
fn feelings(hands: &[Option<&Hand>]) -> (i64, i64) {
    let idle = |hand: &Option<&Hand>| hand.is_some_and(|hand| hand.kinds.is_empty());
    let twice = hands.windows(2).filter(|two| two.iter().all(idle)).count();
    let mut plays = hands.iter().flatten().filter(|hand| !hand.kinds.is_empty());
    let first = plays.next().map_or(&[][..], |hand| &hand.kinds);
    let (mut rest, mut pieces) = (first.to_vec(), 1);
    for hand in plays {
        rest.retain(|kind| hand.kinds.contains(kind));
        pieces += 1;
    }
    (twice as i64, i64::from(pieces > 2 && !rest.is_empty()))
}

/// One player's evening added up.
struct Sums {
    plays: Weighed,
    even: Weighed,
    had: Vec<i64>,
    /// For every kind, how often it comes again, counted for each time it came before.
    again: i64,
}

impl Sums {
    fn of(before: Option<&Before>, kinds: usize, even: Weighed) -> Sums {
        let mut sums = Sums {
            even,
            plays: before.map_or(0, |before| before.plays),
            had: vec![0; kinds],
            again: 0,
        };
        for (&kind, &times) in before.into_iter().flat_map(|before| &before.kinds) {
            sums.count(kind, times);
        }
        sums
    }

    fn count(&mut self, kind: usize, times: i64) {
        if let Some(had) = self.had.get_mut(kind) {
            self.again -= *had * (*had - 1);
            *had += times;
            self.again += *had * (*had - 1);
        }
    }

    fn add(&mut self, hand: &Hand, times: i64) {
        self.plays = self.plays.saturating_add(hand.plays.saturating_mul(times));
        for &kind in &hand.kinds {
            self.count(kind, times);
        }
    }

    /// The square of the whole half minutes that it is off an even share, so that two a little off are better than
    /// one far off.
    fn uneven(&self) -> i64 {
        let steps = self.plays.saturating_sub(self.even).saturating_abs() / HALF_MINUTE;
        steps.saturating_mul(steps).clamp(0, 1 << 40)
    }
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    /// Small evenings: pieces with as many hands as players, some of which some may not have.
    fn evenings() -> impl Strategy<Value = (Vec<Turn>, Vec<Before>)> {
        (2..4usize, 1..4usize).prop_flat_map(|(players, pieces)| {
            let hand = (0..4i64, proptest::collection::btree_set(0..3usize, 0..3));
            let hands = proptest::collection::vec(hand, players);
            let may = proptest::collection::vec(
                proptest::collection::vec(proptest::bool::weighted(0.8), players),
                players,
            );
            let turns = proptest::collection::vec((hands, may, any::<bool>()), pieces);
            let before = proptest::collection::vec((0..3i64, 0..2i64), players);
            (turns, before).prop_map(|(turns, earlier)| {
                let turn = |(hands, mut may, apart): (Vec<(i64, _)>, Vec<Vec<bool>>, bool)| {
                    // As the pieces by themselves have it, everybody may have the hand of that number.
                    (0..may.len()).for_each(|at| may[at][at] = true);
                    let hands: Vec<Hand> = hands
                        .into_iter()
                        .map(|(plays, kinds): (i64, std::collections::BTreeSet<usize>)| Hand {
                            plays: plays * HALF_MINUTE,
                            kinds: kinds.into_iter().collect(),
                        })
                        .collect();
                    let near = |one: &Hand| {
                        hands
                            .iter()
                            .map(|other| one.plays > 0 && other.plays > 3 * HALF_MINUTE)
                            .collect()
                    };
                    Turn {
                        who: (0..hands.len()).map(Some).collect(),
                        near: hands.iter().map(near).collect(),
                        apart: if apart { vec![(0, 1)] } else { Vec::new() },
                        may,
                        hands,
                    }
                };
                let before = |(plays, times): (i64, i64)| Before {
                    plays: plays * HALF_MINUTE,
                    kinds: if times > 0 {
                        BTreeMap::from([(0, times)])
                    } else {
                        BTreeMap::new()
                    },
                };
                (
                    turns.into_iter().map(turn).collect(),
                    earlier.into_iter().map(before).collect(),
                )
            })
        })
    }

    fn orders(size: usize) -> Vec<Vec<usize>> {
        match size {
            0 => vec![Vec::new()],
            _ => orders(size - 1)
                .into_iter()
                .flat_map(|order| {
                    (0..size).map(move |at| {
                        let mut order = order.clone();
                        order.insert(at, size - 1);
                        order
                    })
                })
                .collect(),
        }
    }

    /// The least cost of all ways to give the hands out.
    fn by_trying(turns: &[Turn], before: &[Before]) -> [i64; 4] {
        let mut all: Vec<Given> = vec![Vec::new()];
        for turn in turns {
            let fits = |order: &Vec<usize>| {
                let may = order.iter().zip(&turn.may).all(|(hand, may)| may[*hand]);
                may && keeps(turn, order)
            };
            let fit: Vec<Vec<usize>> = orders(turn.hands.len()).into_iter().filter(fits).collect();
            all = all
                .into_iter()
                .flat_map(|given| {
                    fit.iter()
                        .map(move |order| [given.clone(), vec![order.clone()]].concat())
                })
                .collect();
        }
        let costs = all.iter().map(|given| cost(turns, before, given));
        costs.min().unwrap_or_default()
    }

    proptest! {
        #![proptest_config(ProptestConfig::with_cases(40))]

        #[test]
        fn small_evenings_are_as_good_as_any((turns, before) in evenings()) {
            let kept = turns.iter().all(|turn| keeps(turn, &(0..turn.hands.len()).collect::<Vec<_>>()));
            prop_assume!(kept);
            let given = share(&turns, &before, Limits::USUAL);
            prop_assert_eq!(cost(&turns, &before, &given), by_trying(&turns, &before));
        }
    }
}
