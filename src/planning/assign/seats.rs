//! The search all questions run through: units to players, so that none collide with one player.

use super::bits::Bits;
use super::collide::Unit;
use super::limits::Count;
use super::{Player, flow};

/// Players who can take the same units, and so need not be told apart.
#[derive(Clone, Debug)]
pub(super) struct Kind {
    /// The units they can take.
    pub(super) fits: Bits,
    /// Who they are.
    pub(super) players: Vec<usize>,
}

/// As many players as units who can do everything.
pub(super) fn anybody(units: usize) -> Vec<Kind> {
    vec![Kind {
        fits: Bits::full(units),
        players: (0..units).collect(),
    }]
}

/// Whether a player can take a unit.
pub(super) fn can_take(player: usize, who: &Player, unit: &Unit) -> bool {
    !who.absent
        && who.can.cover(unit.needs)
        && unit.given_to.iter().all(|&to| to == player)
        && !unit.not_for.contains(&player)
}

/// The players by what they can take; who can take nothing is in no kind.
pub(super) fn kinds(units: &[Unit], players: &[Player]) -> Vec<Kind> {
    let mut kinds: Vec<Kind> = Vec::new();
    for (player, who) in players.iter().enumerate() {
        let mut fits = Bits::empty(units.len());
        for (at, unit) in units.iter().enumerate() {
            if can_take(player, who, unit) {
                fits.insert(at);
            }
        }
        match kinds.iter_mut().find(|kind| kind.fits == fits) {
            Some(kind) => kind.players.push(player),
            None if fits.is_empty() => {}
            None => kinds.push(Kind {
                fits,
                players: vec![player],
            }),
        }
    }
    kinds
}

/// So many steps before a search starts again with what it has learned; twice as many at each start.
const FIRST_PATIENCE: u64 = 400;

/// Seats every unit with at most `most` players: for each unit its player.
///
/// None when it cannot be done, or when the count was cut (it says so). The unit with the fewest
/// places left goes first. Of players who are alike and have nothing yet only one is tried:
/// without that, the same seating comes back in every order of players.
///
/// A search that made an unlucky choice early would try everything below it. So it starts again now and then, and
/// units that were left without a place go sooner the oftener that happened (Boussemart, Hemery, Lecoutre and Sais,
/// "Boosting systematic search by weighting constraints", 2004). Every start may go on twice as long, so the last one
/// ends by itself.
pub(super) fn seat(against: &[Bits], kinds: &[Kind], most: usize, count: &mut Count) -> Option<Vec<usize>> {
    let mut weights = vec![1; against.len()];
    let mut patience = FIRST_PATIENCE;
    let search = loop {
        let mut search = Search {
            against,
            kinds,
            most,
            open: Vec::new(),
            left: kinds.iter().map(|kind| kind.players.len()).collect(),
            rest: Bits::full(against.len()),
            weights,
            patience,
        };
        if search.run(count) {
            break search;
        }
        if count.cut || search.patience > 0 {
            return None;
        }
        weights = search.weights;
        patience = patience.saturating_mul(2);
    };
    let mut seated = vec![0; against.len()];
    let mut next = vec![0; kinds.len()];
    for (kind, has) in &search.open {
        let player = kinds[*kind].players[next[*kind]];
        next[*kind] += 1;
        has.iter().for_each(|unit| seated[unit] = player);
    }
    Some(seated)
}

struct Search<'a> {
    against: &'a [Bits],
    kinds: &'a [Kind],
    most: usize,
    /// Players with something to play: their kind and their units.
    open: Vec<(usize, Bits)>,
    /// How many of each kind have nothing yet.
    left: Vec<usize>,
    rest: Bits,
    /// For every unit one more than the times it was left without a place.
    weights: Vec<u64>,
    /// How many steps this search may still take; at none it gives up.
    patience: u64,
}

impl Search<'_> {
    fn has_place(&self, unit: usize, at: usize) -> bool {
        let (kind, has) = &self.open[at];
        self.kinds[*kind].fits.has(unit) && has.apart(&self.against[unit])
    }

    fn can_open(&self, unit: usize, kind: usize) -> bool {
        self.open.len() < self.most && self.left[kind] > 0 && self.kinds[kind].fits.has(unit)
    }

    /// The unit with the fewest places for its weight, then the most collisions with the rest.
    fn tightest(&self) -> Option<usize> {
        let places = |unit: usize| {
            let open = (0..self.open.len()).filter(|&at| self.has_place(unit, at));
            let new = (0..self.kinds.len()).filter(|&kind| self.can_open(unit, kind));
            open.count() + new.count()
        };
        let key = |&unit: &usize| {
            let collide = self.against[unit].shared(&self.rest);
            let places = (places(unit) as u64) << 20;
            (places / self.weights[unit], usize::MAX - collide)
        };
        self.rest.iter().min_by_key(key)
    }

    /// Takes a step; false when there is none left.
    fn step(&mut self, count: &mut Count) -> bool {
        self.patience = self.patience.saturating_sub(1);
        self.patience > 0 && count.step_among(self.against.len())
    }

    fn run(&mut self, count: &mut Count) -> bool {
        let Some(unit) = self.tightest() else {
            return true;
        };
        self.rest.remove(unit);
        let mut places = false;
        for at in 0..self.open.len() {
            if self.has_place(unit, at) {
                if !self.step(count) {
                    return false;
                }
                places = true;
                self.open[at].1.insert(unit);
                if self.run(count) {
                    return true;
                }
                self.open[at].1.remove(unit);
            }
        }
        for kind in 0..self.kinds.len() {
            if self.can_open(unit, kind) {
                if !self.step(count) {
                    return false;
                }
                places = true;
                self.left[kind] -= 1;
                self.open.push((kind, Bits::of(self.against.len(), &[unit])));
                if self.run(count) {
                    return true;
                }
                self.open.pop();
                self.left[kind] += 1;
            }
        }
        if !places {
            self.weights[unit] = self.weights[unit].saturating_add(1);
        }
        self.rest.insert(unit);
        false
    }
}

/// The fewest players when what is compatible can be strung into chains: then no search is needed.
///
/// None where it is not so: where a before b and b before c does not make c playable after a.
pub(super) fn chains(units: &[Unit], against: &[Bits]) -> Option<(usize, Vec<usize>)> {
    let size = units.len();
    let mut order: Vec<usize> = (0..size).collect();
    order.sort_by_key(|&at| units[at].plays.first().map(|play| (play.2, play.0)));
    let mut after: Vec<Bits> = vec![Bits::empty(size); size];
    for (place, &at) in order.iter().enumerate() {
        for &later in &order[place + 1..] {
            if !against[at].has(later) {
                after[at].insert(later);
            }
        }
    }
    for set in &after {
        let mut reached = Bits::empty(size);
        set.iter().for_each(|next| reached.add(&after[next]));
        reached.drop_all(set);
        if !reached.is_empty() {
            return None;
        }
    }
    let follows: Vec<Vec<usize>> = after.iter().map(|set| set.iter().collect()).collect();
    Some(flow::fewest_chains(&follows))
}
