//! The best way to share out units that can all be played: fewest walks, then a fair share of the
//! playing, then variety.

use super::bits::Bits;
use super::collide::Unit;
use super::flow::{self, Flow};
use super::hands::Hand;
use super::limits::Count;
use super::plan::Worth;
use super::prices::{FINE, Price, prices};
use super::{Music, Player, Tenths};

/// A sharing: what it is worth, and the player of every unit.
pub(super) type Shared = (Worth, Vec<usize>);

/// The best sharing, starting from one, when it is better than `beat`; and the fewest walks any can
/// have, as far as it matters beside `beat`.
///
/// Branch and bound over hands, not players: the unit with the fewest hands comes next, every hand
/// that holds it is tried, and players are found for the hands by a matching. So players who are
/// alike are never told apart. The bound is that of [`super::prices`].
pub(super) fn best(
    music: &Music,
    units: &[Unit],
    players: &[Player],
    hands: &[Hand],
    (start, beat): (Shared, Option<Worth>),
    count: &mut Count,
) -> (Option<Shared>, usize) {
    let mut of: Vec<Vec<usize>> = vec![Vec::new(); units.len()];
    for (at, hand) in hands.iter().enumerate() {
        hand.units.iter().for_each(|unit| of[unit].push(at));
    }
    let mut order: Vec<usize> = (0..units.len()).collect();
    order.sort_by_key(|&unit| of[unit].len());
    let prices = prices(units, hands, players);
    for hands_of in &mut of {
        hands_of.sort_by_cached_key(|&at| {
            let hand: &Hand = &hands[at];
            let paid = |price: &Price| hand.walks as i64 * FINE - price.taken(hand);
            (prices.first().map_or(0, paid), hand.walks, hand.lasts)
        });
    }
    let best = match beat {
        Some(beat) if beat <= start.0 => (beat, None),
        _ => (start.0, Some(start.1)),
    };
    let mut search = Search {
        music,
        units,
        players,
        hands,
        of,
        order,
        there: players.iter().filter(|player| !player.absent).count(),
        total: units.iter().map(Unit::lasts).fold(0, Tenths::saturating_add),
        left: prices.iter().map(Price::whole).collect(),
        prices,
        had_before: players.iter().any(|player| player.had.iter().any(|&had| had > 0)),
        chosen: Vec::new(),
        taken: vec![None; players.len()],
        rest: Bits::full(units.len()),
        best,
    };
    let at_least = search.walks_at_least(0);
    search.run(0, 0, 0, count);
    let (worth, seated) = search.best;
    let at_least = if count.cut {
        at_least.min(worth.walks)
    } else {
        worth.walks
    };
    (seated.map(|seated| (worth, seated)), at_least)
}

struct Search<'a> {
    music: &'a Music,
    units: &'a [Unit],
    players: &'a [Player],
    hands: &'a [Hand],
    /// The hands of each unit, the promising ones first.
    of: Vec<Vec<usize>>,
    order: Vec<usize>,
    there: usize,
    total: Tenths,
    prices: Vec<Price>,
    /// For every price what the rest costs at least.
    left: Vec<i64>,
    had_before: bool,
    chosen: Vec<usize>,
    /// For every player the place of a chosen hand.
    taken: Vec<Option<usize>>,
    rest: Bits,
    /// The best so far; its seating, when it is a sharing of these units.
    best: (Worth, Option<Vec<usize>>),
}

impl Search<'_> {
    /// The fewest walks that can still come about.
    fn walks_at_least(&self, walks: usize) -> usize {
        let more = self
            .left
            .iter()
            .map(|&left| (left + FINE - 1).div_euclid(FINE).max(0));
        walks.saturating_add(more.max().unwrap_or(0) as usize)
    }

    /// Whether nothing better than the best can still come about.
    fn is_hopeless(&self, walks: usize, most: Tenths) -> bool {
        let best = &self.best.0;
        // Most sharings fail by their walks alone.
        if self.walks_at_least(walks) > best.walks {
            return true;
        }
        let free = self.there - self.chosen.len().min(self.there);
        let done = self.chosen.iter().map(|&at| self.hands[at].lasts);
        let left = self
            .total
            .saturating_sub(done.clone().fold(0, Tenths::saturating_add));
        let fair = |among: usize| left / among.max(1) as Tenths;
        let uneven = Tenths::from(fair(free) * free as Tenths != left);
        let bound = Worth {
            walks: self.walks_at_least(walks),
            most: most.max(fair(free).saturating_add(uneven)),
            least: -done.min().unwrap_or(Tenths::MAX).min(fair(free).max(0)),
            had: 0,
        };
        let bound = match free {
            0 => Worth {
                least: -self.least(),
                ..bound
            },
            _ => bound,
        };
        bound >= *best || (!self.had_before && same_but_had(&bound, best))
    }

    fn least(&self) -> Tenths {
        if self.chosen.len() < self.there {
            return 0;
        }
        self.chosen
            .iter()
            .map(|&at| self.hands[at].lasts)
            .min()
            .unwrap_or(0)
    }

    fn run(&mut self, from: usize, walks: usize, most: Tenths, count: &mut Count) {
        if self.is_hopeless(walks, most) {
            return;
        }
        let next = (from..self.order.len()).find(|&at| self.rest.has(self.order[at]));
        let Some(next) = next else {
            return self.finish(walks, most);
        };
        if self.chosen.len() >= self.there {
            return;
        }
        let unit = self.order[next];
        for place in 0..self.of[unit].len() {
            let at = self.of[unit][place];
            let hand = &self.hands[at];
            if hand.units.shared(&self.rest) < hand.units.len() {
                continue;
            }
            if !count.step() {
                return;
            }
            self.chosen.push(at);
            let before = self.taken.clone();
            if self.find_player() {
                self.rest.drop_all(&hand.units);
                self.pay(at, -1);
                self.run(next + 1, walks + hand.walks, most.max(hand.lasts), count);
                self.pay(at, 1);
                self.rest.add(&self.hands[at].units);
            }
            self.taken = before;
            self.chosen.pop();
        }
    }

    fn pay(&mut self, hand: usize, sign: i64) {
        for (price, left) in self.prices.iter().zip(&mut self.left) {
            *left += sign * price.taken(&self.hands[hand]);
        }
    }

    /// Finds a player for the hand chosen last.
    fn find_player(&mut self) -> bool {
        let left: Vec<&[usize]> = self.chosen.iter().map(|&at| &self.hands[at].fits[..]).collect();
        let mut seen = vec![false; self.players.len()];
        flow::find_partner(left.len() - 1, &left, &mut self.taken, &mut seen)
    }

    fn finish(&mut self, walks: usize, most: Tenths) {
        let mut worth = Worth {
            walks,
            most,
            least: -self.least(),
            had: 0,
        };
        let mut who: Vec<usize> = vec![0; self.chosen.len()];
        for (player, hand) in self.taken.iter().enumerate() {
            if let Some(hand) = hand {
                who[*hand] = player;
            }
        }
        if self.had_before {
            (worth.had, who) = self.most_new();
        }
        if worth < self.best.0 {
            let mut seated = vec![0; self.units.len()];
            for (&at, &player) in self.chosen.iter().zip(&who) {
                self.hands[at].units.iter().for_each(|unit| seated[unit] = player);
            }
            self.best = (worth, Some(seated));
        }
    }

    /// The chosen hands to the players who had their stations least.
    fn most_new(&self) -> (u64, Vec<usize>) {
        let (hands, players) = (self.chosen.len(), self.players.len());
        let mut flow = Flow::new(hands + players + 2);
        let (source, sink) = (hands + players, hands + players + 1);
        let mut arcs = Vec::new();
        for (place, &at) in self.chosen.iter().enumerate() {
            flow.arc(source, place, 1, 0);
            for &player in &self.hands[at].fits {
                let had = had(
                    self.music,
                    self.units,
                    &self.hands[at].units,
                    &self.players[player],
                );
                arcs.push((place, player, flow.arc(place, hands + player, 1, had.into())));
            }
        }
        (0..players).for_each(|player| {
            flow.arc(hands + player, sink, 1, 0);
        });
        let (_, cost) = flow.send(source, sink);
        let mut who = vec![0; hands];
        for (place, player, arc) in arcs {
            if flow.carried(arc) > 0 {
                who[place] = player;
            }
        }
        (cost.max(0) as u64, who)
    }
}

fn same_but_had(a: &Worth, b: &Worth) -> bool {
    (a.walks, a.most, a.least) == (b.walks, b.most, b.least)
}

/// How often a player had the stations of these units before, each part counted once.
pub(super) fn had(music: &Music, units: &[Unit], set: &Bits, player: &Player) -> i64 {
    let mut parts: Vec<usize> = set.iter().flat_map(|at| units[at].parts.clone()).collect();
    parts.sort_unstable();
    parts.dedup();
    let had = |part: usize| {
        let had = player.had.get(music.parts[part].station);
        i64::from(had.copied().unwrap_or(0))
    };
    parts.into_iter().map(had).sum()
}
