//! The search: for each number of things by itself, the best things first, a branch left where it cannot win.

use super::price::{Goal, Prices, SCALE};
use super::{Found, Problem, Row};

/// Rounds of finding prices before a search.
const ROUNDS: usize = 160;
/// Rounds of finding them anew one thing deeper.
const ROUNDS_DEEPER: usize = 25;
/// The most kinds of one system that are priced; the limit itself is kept in any case.
const MOST_PRICED: usize = 100;
/// So many things must be open for new prices to be worth their while.
const WORTH_PRICING: usize = 10;

/// The best set.
pub fn best(problem: &Problem<'_>, steps: u64, any: bool) -> Found {
    let mut search = Search {
        problem,
        rows: Vec::new(),
        apart: apart(problem),
        widest: problem.kinds.iter().map(widest).collect(),
        best: None,
        value: -1,
        any,
        left: steps,
        cut: false,
        open: i64::MIN,
        reach: Vec::new(),
    };
    let pinned = &problem.pinned;
    let most = problem.most.min(problem.values.len());
    let fewest = problem.fewest.max(pinned.len());
    // The number of things that promises most comes first, so that the others end early.
    let mut sizes: Vec<(i64, usize)> = (fewest..=most)
        .filter_map(|size| Some((search.bound_of(size)?, size)))
        .collect();
    sizes.sort_by_key(|(bound, size)| (-bound, *size));
    for (bound, size) in sizes {
        if search.left == 0 {
            // What is not looked at may still be so good.
            search.cut = true;
            search.open = search.open.max(bound.saturating_mul(SCALE));
            continue;
        }
        search.size(size);
        if search.is_done() {
            break;
        }
    }
    let value = search.value.max(0);
    let bound = match (search.cut, &search.best) {
        (false, None) => None,
        (false, Some(_)) => Some(value),
        (true, _) => Some(value.max(search.open.div_euclid(SCALE))),
    };
    let mut chosen = search.best;
    if let Some(chosen) = &mut chosen {
        chosen.sort_unstable();
    }
    Found {
        chosen,
        value,
        bound,
        steps: steps.saturating_sub(search.left),
    }
}

/// How many kinds a thing has at most.
fn widest(kinds: &super::Kinds) -> usize {
    kinds.of.iter().map(Vec::len).max().unwrap_or(0)
}

/// For each thing those it does not go with.
fn apart(problem: &Problem<'_>) -> Vec<Vec<usize>> {
    let mut apart = vec![Vec::new(); problem.values.len()];
    for (one, other) in &problem.apart {
        if let Some(list) = apart.get_mut(*one) {
            list.push(*other);
        }
        if let Some(list) = apart.get_mut(*other) {
            list.push(*one);
        }
    }
    apart
}

struct Search<'p, 'a> {
    problem: &'p Problem<'a>,
    /// The rows of the problem, then a row for each kind of which there may be too many.
    rows: Vec<Row>,
    apart: Vec<Vec<usize>>,
    /// For each system of kinds how many kinds a thing has at most.
    widest: Vec<usize>,
    best: Option<Vec<usize>>,
    /// What the best is worth; -1 before there is one.
    value: i64,
    any: bool,
    left: u64,
    cut: bool,
    /// The greatest bound of what was not looked at.
    open: i64,
    /// For each row and number of things, the least and the greatest sum that so many open things can have.
    reach: Vec<Vec<(i64, i64)>>,
}

/// What has been taken so far.
#[derive(Clone)]
struct Taken {
    things: Vec<usize>,
    value: i64,
    sums: Vec<i64>,
    /// For each system of kinds how many things of each.
    kinds: Vec<Vec<usize>>,
}

/// Where in the search a set of open things is tried.
#[derive(Clone, Copy)]
struct At<'s> {
    /// How many more things are wanted.
    wanted: usize,
    /// How many there are to be in all.
    size: usize,
    /// What those taken are worth at the prices, with what the limits give.
    base: i64,
    /// What each thing is worth at the prices.
    worth: &'s [i64],
    prices: &'s Prices,
    /// How many things have been taken since the search began.
    depth: usize,
}

impl Search<'_, '_> {
    fn is_done(&self) -> bool {
        self.any && self.best.is_some()
    }

    /// The things that may be picked beside the pinned ones.
    fn free(&self) -> Vec<usize> {
        let pinned = &self.problem.pinned;
        let all = 0..self.problem.values.len();
        all.filter(|at| {
            !pinned.contains(at)
                && self
                    .apart
                    .get(*at)
                    .is_none_or(|apart| !apart.iter().any(|other| pinned.contains(other)))
        })
        .collect()
    }

    /// The rows for sets of a size.
    fn rows_for(&self, size: usize) -> Vec<Row> {
        let mut rows = self.problem.rows.clone();
        for kinds in &self.problem.kinds {
            let Some(most) = Search::most_of(kinds, widest(kinds), size) else {
                continue;
            };
            let count = kinds.of.iter().flatten().max().map_or(0, |most| most + 1);
            // Where there are very many kinds, few things share one, and their price is next to nothing.
            if count > MOST_PRICED {
                continue;
            }
            for kind in 0..count {
                let weights: Vec<i64> = kinds.of.iter().map(|of| i64::from(of.contains(&kind))).collect();
                if weights.iter().sum::<i64>() > most as i64 {
                    rows.push(Row {
                        weights,
                        low: None,
                        high: Some(most as i64),
                    });
                }
            }
        }
        rows
    }

    /// How many of one kind there may be in a set of a size: each further one is no further kind.
    fn most_of(kinds: &super::Kinds, widest: usize, size: usize) -> Option<usize> {
        let single = widest <= 1;
        let spare =
            (kinds.least_different > 1 && single).then(|| (size + 1).saturating_sub(kinds.least_different));
        match (kinds.most, spare) {
            (Some(most), Some(spare)) => Some(most.min(spare)),
            (most, spare) => most.or(spare),
        }
    }

    /// A first bound for sets of a size; none where there can be no such set.
    fn bound_of(&self, size: usize) -> Option<i64> {
        let free = self.free();
        let wanted = size.checked_sub(self.problem.pinned.len())?;
        (wanted <= free.len()).then_some(())?;
        let mut values: Vec<i64> = free
            .iter()
            .filter_map(|at| self.problem.values.get(*at).copied())
            .collect();
        values.sort_unstable_by_key(|value| -value);
        let pinned: i64 = self
            .problem
            .pinned
            .iter()
            .filter_map(|at| self.problem.values.get(*at))
            .sum();
        Some(pinned + values.iter().take(wanted).sum::<i64>())
    }

    fn size(&mut self, size: usize) {
        self.rows = self.rows_for(size);
        let mut open = self.free();
        let Some(wanted) = size.checked_sub(self.problem.pinned.len()) else {
            return;
        };
        self.reach = self.reaches(&open, wanted);
        let mut taken = Taken {
            things: Vec::new(),
            value: 0,
            sums: vec![0; self.rows.len()],
            kinds: self
                .problem
                .kinds
                .iter()
                .map(|kinds| vec![0; kinds.of.iter().flatten().max().map_or(0, |most| most + 1)])
                .collect(),
        };
        for (at, thing) in self.problem.pinned.iter().enumerate() {
            let more = size - at - 1;
            let apart = self.apart.get(*thing);
            let clashes = apart.is_some_and(|apart| taken.things.iter().any(|other| apart.contains(other)));
            self.take(&mut taken, *thing);
            // What is pinned is judged when all of it is in.
            if clashes || more == wanted && !self.may_lead_on(&taken, wanted, size) {
                return;
            }
        }
        if !self.problem.pinned.is_empty() && !(self.problem.holds)(&taken.things) {
            return;
        }
        if wanted == 0 {
            self.leaf(&taken);
            return;
        }
        open.retain(|thing| self.fits(&taken, *thing, wanted, size));
        let goal = Goal {
            taken: &taken.things,
            open: &open,
            wanted,
            target: self.value + 1,
        };
        let prices = Prices::none(&self.rows).found(&self.problem.values, &self.rows, goal, ROUNDS);
        self.node(&taken, open, wanted, size, &prices, 0);
    }

    /// For each row and number the least and the greatest sum of so many open things.
    fn reaches(&self, open: &[usize], wanted: usize) -> Vec<Vec<(i64, i64)>> {
        let of = |row: &Row| {
            let mut weights: Vec<i64> = open
                .iter()
                .map(|at| row.weights.get(*at).copied().unwrap_or(0))
                .collect();
            weights.sort_unstable();
            let mut sums = vec![(0, 0)];
            let (mut least, mut greatest) = (0i64, 0i64);
            for (low, high) in weights.iter().zip(weights.iter().rev()).take(wanted) {
                least = least.saturating_add(*low);
                greatest = greatest.saturating_add(*high);
                sums.push((least, greatest));
            }
            sums
        };
        self.rows.iter().map(of).collect()
    }

    fn take(&self, taken: &mut Taken, thing: usize) {
        taken.things.push(thing);
        taken.value += self.problem.values.get(thing).copied().unwrap_or(0);
        for (sum, row) in taken.sums.iter_mut().zip(&self.rows) {
            *sum += row.weights.get(thing).copied().unwrap_or(0);
        }
        for (counts, kinds) in taken.kinds.iter_mut().zip(&self.problem.kinds) {
            for kind in kinds.of.get(thing).into_iter().flatten() {
                if let Some(count) = counts.get_mut(*kind) {
                    *count += 1;
                }
            }
        }
    }

    fn put_back(&self, taken: &mut Taken) {
        let Some(thing) = taken.things.pop() else { return };
        taken.value -= self.problem.values.get(thing).copied().unwrap_or(0);
        for (sum, row) in taken.sums.iter_mut().zip(&self.rows) {
            *sum -= row.weights.get(thing).copied().unwrap_or(0);
        }
        for (counts, kinds) in taken.kinds.iter_mut().zip(&self.problem.kinds) {
            for kind in kinds.of.get(thing).into_iter().flatten() {
                if let Some(count) = counts.get_mut(*kind) {
                    *count -= 1;
                }
            }
        }
    }

    /// Whether so many more things may still bring all sums and kinds within their limits.
    fn may_lead_on(&self, taken: &Taken, more: usize, size: usize) -> bool {
        let sums = self
            .rows
            .iter()
            .zip(&taken.sums)
            .zip(&self.reach)
            .all(|((row, sum), reach)| {
                let Some((least, greatest)) = reach.get(more) else {
                    return false;
                };
                row.high.is_none_or(|high| sum.saturating_add(*least) <= high)
                    && row.low.is_none_or(|low| sum.saturating_add(*greatest) >= low)
            });
        sums && self.problem.kinds.iter().zip(&taken.kinds).zip(&self.widest).all(
            |((kinds, counts), widest)| {
                let different = counts.iter().filter(|count| **count > 0).count();
                let most = Search::most_of(kinds, *widest, size);
                different.saturating_add(more.saturating_mul(*widest)) >= kinds.least_different
                    && kinds.most_different.is_none_or(|most| different <= most)
                    && most.is_none_or(|most| counts.iter().all(|count| *count <= most))
            },
        )
    }

    /// Whether a thing may be added where so many more are wanted.
    fn fits(&self, taken: &Taken, thing: usize, more: usize, size: usize) -> bool {
        let after = more.saturating_sub(1);
        let sums = self
            .rows
            .iter()
            .zip(&taken.sums)
            .zip(&self.reach)
            .all(|((row, sum), reach)| {
                let Some((least, greatest)) = reach.get(after) else {
                    return false;
                };
                let sum = sum.saturating_add(row.weights.get(thing).copied().unwrap_or(0));
                row.high.is_none_or(|high| sum.saturating_add(*least) <= high)
                    && row.low.is_none_or(|low| sum.saturating_add(*greatest) >= low)
            });
        sums && self.problem.kinds.iter().zip(&taken.kinds).zip(&self.widest).all(
            |((kinds, counts), widest)| {
                let own = kinds.of.get(thing).map_or(&[][..], Vec::as_slice);
                let has = |kind: &usize| counts.get(*kind).copied().unwrap_or(0);
                let new = own.iter().filter(|kind| has(kind) == 0).count();
                let counted = kinds.least_different > 0 || kinds.most_different.is_some();
                let different = match counted {
                    true => counts.iter().filter(|count| **count > 0).count() + new,
                    false => 0,
                };
                let most = Search::most_of(kinds, *widest, size);
                different.saturating_add(after.saturating_mul(*widest)) >= kinds.least_different
                    && kinds.most_different.is_none_or(|most| different <= most)
                    && most.is_none_or(|most| own.iter().all(|kind| has(kind) < most))
            },
        )
    }

    fn step(&mut self) -> bool {
        match self.left.checked_sub(1) {
            Some(left) => {
                self.left = left;
                true
            }
            None => {
                self.cut = true;
                false
            }
        }
    }

    /// What a bound must reach to be looked into, in parts of a point.
    fn bar(&self) -> i64 {
        (self.value + 1).saturating_mul(SCALE)
    }

    fn leaf(&mut self, taken: &Taken) {
        let rows = self.rows.iter().zip(&taken.sums).all(|(row, sum)| {
            row.high.is_none_or(|high| *sum <= high) && row.low.is_none_or(|low| *sum >= low)
        });
        let kinds = self
            .problem
            .kinds
            .iter()
            .zip(&taken.kinds)
            .all(|(kinds, counts)| {
                counts.iter().filter(|count| **count > 0).count() >= kinds.least_different
            });
        if rows && kinds && taken.value > self.value && (self.problem.accepts)(&taken.things) {
            self.value = taken.value;
            self.best = Some(taken.things.clone());
        }
    }

    fn node(
        &mut self,
        taken: &Taken,
        mut open: Vec<usize>,
        wanted: usize,
        size: usize,
        prices: &Prices,
        depth: usize,
    ) {
        let priced = prices.apply(&self.problem.values, &self.rows);
        let worth = |thing: &usize| priced.worth.get(*thing).copied().unwrap_or(0);
        open.sort_by_key(|thing| (-worth(thing), *thing));
        let base = taken
            .things
            .iter()
            .map(worth)
            .sum::<i64>()
            .saturating_add(priced.fixed);
        let here = At {
            wanted,
            size,
            base,
            worth: &priced.worth,
            prices,
            depth,
        };
        self.spread(&mut taken.clone(), &open, here);
    }

    /// Tries every open thing in turn as the one that comes first in their order.
    fn spread(&mut self, taken: &mut Taken, open: &[usize], here: At<'_>) {
        let At {
            wanted,
            size,
            base,
            worth,
            depth,
            ..
        } = here;
        if open.len() < wanted {
            return;
        }
        let worth_of = |at: usize| {
            open.get(at)
                .and_then(|thing| worth.get(*thing))
                .copied()
                .unwrap_or(0)
        };
        let mut window: i64 = (0..wanted).map(worth_of).sum();
        for at in 0..=open.len() - wanted {
            if at > 0 {
                window = window - worth_of(at - 1) + worth_of(at + wanted - 1);
            }
            let bound = base.saturating_add(window);
            // What follows is worth no more.
            if bound < self.bar() || self.any && self.best.is_some() {
                return;
            }
            if !self.step() {
                self.open = self.open.max(bound);
                return;
            }
            let Some(thing) = open.get(at).copied() else {
                return;
            };
            if !self.fits(taken, thing, wanted, size) {
                continue;
            }
            self.take(taken, thing);
            if !(self.problem.holds)(&taken.things) {
                self.put_back(taken);
                continue;
            }
            if wanted == 1 {
                self.leaf(taken);
                self.put_back(taken);
                continue;
            }
            let apart = self.apart.get(thing);
            let base = base.saturating_add(worth_of(at));
            // Beside the best that could still come with it, a thing farther down is worth too little.
            let beside: i64 = (at + 1..at + wanted - 1).map(worth_of).sum();
            let bar = self.bar().saturating_sub(base).saturating_sub(beside);
            let after = open.get(at + 1..).unwrap_or_default().iter().copied();
            let rest: Vec<usize> = after
                .take_while(|other| worth.get(*other).copied().unwrap_or(0) >= bar)
                .filter(|other| {
                    apart.is_none_or(|apart| !apart.contains(other))
                        && self.fits(taken, *other, wanted - 1, size)
                })
                .collect();
            // Looking through many things is work as well.
            self.left = self.left.saturating_sub(rest.len() as u64 / 64);
            if depth < 2 && rest.len() >= WORTH_PRICING && wanted > 2 {
                // The bound at the prices there are may do.
                let first: i64 = rest
                    .iter()
                    .take(wanted - 1)
                    .map(|thing| worth.get(*thing).copied().unwrap_or(0))
                    .sum();
                if rest.len() + 1 >= wanted && base.saturating_add(first) >= self.bar() {
                    let goal = Goal {
                        taken: &taken.things,
                        open: &rest,
                        wanted: wanted - 1,
                        target: self.value + 1,
                    };
                    self.left = self.left.saturating_sub(rest.len() as u64);
                    let better = here
                        .prices
                        .found(&self.problem.values, &self.rows, goal, ROUNDS_DEEPER);
                    let now = taken.clone();
                    self.node(&now, rest, wanted - 1, size, &better, depth + 1);
                }
            } else {
                let deeper = At {
                    wanted: wanted - 1,
                    base,
                    depth: depth + 1,
                    ..here
                };
                self.spread(taken, &rest, deeper);
            }
            self.put_back(taken);
        }
    }
}
