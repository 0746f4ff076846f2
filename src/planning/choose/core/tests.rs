//! The core against every set of small problems.

use proptest::prelude::*;

use super::*;

/// A problem with its own random limits.
#[derive(Debug, Clone)]
struct Small {
    values: Vec<i64>,
    weights: Vec<i64>,
    second: Vec<i64>,
    kinds: Vec<usize>,
    apart: Vec<(usize, usize)>,
    pinned: Vec<usize>,
    size: (usize, usize),
    low: i64,
    high: i64,
    limit: i64,
    most: usize,
    different: usize,
}

fn small() -> impl Strategy<Value = Small> {
    (3usize..11)
        .prop_flat_map(|count| {
            let of = |most: i64| prop::collection::vec(0..most, count);
            (
                (of(20), of(30), prop::collection::vec(-6i64..8, count)),
                prop::collection::vec(0usize..4, count),
                prop::collection::vec((0..count, 0..count), 0..4),
                prop::collection::vec(0..count, 0..2),
                (1usize..4, 0usize..4),
                (0i64..40, 0i64..60, -3i64..6),
                (1usize..4, 1usize..4),
            )
        })
        .prop_map(
            |((values, weights, second), kinds, apart, pinned, size, limits, of)| Small {
                values,
                weights,
                second,
                kinds,
                apart: apart.into_iter().filter(|(one, other)| one != other).collect(),
                pinned,
                size: (size.0, size.0 + size.1),
                low: limits.0,
                high: limits.0 + limits.1,
                limit: limits.2,
                most: of.0,
                different: of.1,
            },
        )
}

impl Small {
    fn is_within(&self, set: &[usize]) -> bool {
        let sum = |weights: &[i64]| set.iter().map(|at| weights[*at]).sum::<i64>();
        let time = sum(&self.weights);
        let mut counts = [0; 4];
        set.iter().for_each(|at| counts[self.kinds[*at]] += 1);
        (self.size.0..=self.size.1).contains(&set.len())
            && (self.low..=self.high).contains(&time)
            && sum(&self.second) <= self.limit
            && counts.iter().all(|count| *count <= self.most)
            && counts.iter().filter(|count| **count > 0).count() >= self.different
            && self.pinned.iter().all(|at| set.contains(at))
            && !self
                .apart
                .iter()
                .any(|(one, other)| set.contains(one) && set.contains(other))
    }

    fn every_set(&self) -> Option<i64> {
        let count = self.values.len();
        let sets =
            (0u32..1 << count).map(|bits| (0..count).filter(|at| bits >> at & 1 == 1).collect::<Vec<_>>());
        let within = sets.filter(|set| self.is_within(set));
        within
            .map(|set| set.iter().map(|at| self.values[*at]).sum())
            .max()
    }

    fn found(&self, steps: u64) -> Found {
        let mut pinned = self.pinned.clone();
        pinned.dedup();
        let problem = Problem {
            values: self.values.clone(),
            fewest: self.size.0,
            most: self.size.1,
            rows: vec![
                Row {
                    weights: self.weights.clone(),
                    low: Some(self.low),
                    high: Some(self.high),
                },
                Row {
                    weights: self.second.clone(),
                    low: None,
                    high: Some(self.limit),
                },
            ],
            kinds: vec![Kinds {
                of: self.kinds.iter().map(|kind| vec![*kind]).collect(),
                most: Some(self.most),
                least_different: self.different,
                most_different: None,
            }],
            apart: self.apart.clone(),
            pinned,
            holds: &|_| true,
            accepts: &|_| true,
        };
        best(&problem, steps, false)
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(600))]

    #[test]
    fn no_set_is_better(small in small()) {
        let found = small.found(u64::MAX);
        prop_assert!(found.proven());
        prop_assert_eq!(found.chosen.as_ref().map(|_| found.value), small.every_set());
        if let Some(chosen) = &found.chosen {
            prop_assert!(small.is_within(chosen));
            prop_assert_eq!(chosen.iter().map(|at| small.values[*at]).sum::<i64>(), found.value);
        }
    }

    #[test]
    fn a_search_cut_short_still_bounds(small in small(), steps in 0u64..12) {
        let found = small.found(steps);
        match (small.every_set(), found.bound) {
            (Some(best), Some(bound)) => prop_assert!(found.value <= best && best <= bound),
            (Some(best), None) => prop_assert!(false, "there is a set worth {best}"),
            (None, _) => prop_assert!(found.chosen.is_none()),
        }
    }
}

#[test]
fn what_cannot_grow_is_left_early() {
    let values = vec![5, 4, 3];
    let problem = Problem {
        fewest: 1,
        most: 3,
        rows: Vec::new(),
        kinds: Vec::new(),
        apart: Vec::new(),
        pinned: Vec::new(),
        holds: &|set| set.len() < 3 && set.iter().filter(|at| **at < 2).count() < 2,
        accepts: &|set| set.len() == 2,
        values,
    };
    let found = best(&problem, 1000, false);
    assert_eq!((found.chosen, found.value), (Some(vec![0, 2]), 8));
}
