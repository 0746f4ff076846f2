//! The exact core of choosing: a set of things of the greatest value within limits. It knows no cards.
//!
//! For each number of things by itself, the limits are priced (a relaxation after Lagrange): whatever the
//! prices, the value of any set within the limits is at most what the relaxed problem gives. Prices are found
//! by subgradient steps and then rounded to whole numbers, so that every bound is exact. Things are tried in the
//! order of what they are worth at these prices, and a branch ends where its bound does not beat the best set
//! that is known. Steps are counted; no clock decides anything.

pub mod cover;
mod price;
mod search;
#[cfg(test)]
mod tests;

/// A limit on a sum of weights.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Row {
    /// The weight of each thing.
    pub weights: Vec<i64>,
    /// The least sum.
    pub low: Option<i64>,
    /// The greatest sum.
    pub high: Option<i64>,
}

/// Things by their kind, such as pieces by their style. A thing may have none, or several.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Kinds {
    /// The kinds of each thing.
    pub of: Vec<Vec<usize>>,
    /// How many things of one kind at most.
    pub most: Option<usize>,
    /// How many different kinds at least.
    pub least_different: usize,
    /// How many different kinds at most.
    pub most_different: Option<usize>,
}

/// What is asked.
pub struct Problem<'a> {
    /// What each thing is worth; not negative.
    pub values: Vec<i64>,
    /// How many things at least.
    pub fewest: usize,
    /// How many things at most.
    pub most: usize,
    /// Limits on sums.
    pub rows: Vec<Row>,
    /// Limits on kinds.
    pub kinds: Vec<Kinds>,
    /// Pairs that do not go together.
    pub apart: Vec<(usize, usize)>,
    /// Things that are in, whatever else is.
    pub pinned: Vec<usize>,
    /// A limit that once broken stays broken, however many things are added.
    pub holds: &'a dyn Fn(&[usize]) -> bool,
    /// What a whole set must meet beside all that.
    pub accepts: &'a dyn Fn(&[usize]) -> bool,
}

/// What was found.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Found {
    /// The best set, in the order of its numbers; none where none was found.
    pub chosen: Option<Vec<usize>>,
    /// What it is worth; 0 without a set.
    pub value: i64,
    /// No set is worth more than this; none where it is proven that there is no set at all.
    pub bound: Option<i64>,
    /// How many steps it took.
    pub steps: u64,
}

impl Found {
    /// Whether nothing better exists, or nothing at all.
    pub fn proven(&self) -> bool {
        match self.bound {
            None => true,
            Some(bound) => self.chosen.is_some() && bound <= self.value,
        }
    }
}

/// The best set, in at most so many steps. `any` ends the search with the first set that is found.
pub fn best(problem: &Problem<'_>, steps: u64, any: bool) -> Found {
    search::best(problem, steps, any)
}
