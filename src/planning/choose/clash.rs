//! The smallest set of demands that cannot hold together.

use super::model::{Also, Model};

/// Steps for one try.
const STEPS: u64 = 60_000;

/// Sets of so many demands are all tried; larger ones are made smaller one demand at a time.
const TRIED: usize = 3;

/// The demands that cannot hold together.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Clash {
    /// The demands, by their numbers.
    pub demands: Vec<usize>,
    /// Whether no smaller set clashes; otherwise only none of these can be left out.
    pub smallest: bool,
}

/// Why there is no program at all; none where that was not proven.
pub fn clash(model: &Model<'_>, also: Also<'_>) -> Option<Clash> {
    let all: Vec<usize> = (0..model.demands.len()).collect();
    let impossible = |active: &[usize]| {
        let any = Also { any: true, ..also };
        let found = model.within(active, any, STEPS);
        found.chosen.is_none() && found.proven()
    };
    if !impossible(&all) {
        return None;
    }
    for size in 0..=TRIED.min(all.len()) {
        let mut found = None;
        subsets(&all, size, &mut Vec::new(), &mut |set| {
            let clashes = impossible(set);
            if clashes {
                found = Some(set.to_vec());
            }
            clashes
        });
        if let Some(demands) = found {
            return Some(Clash {
                demands,
                smallest: true,
            });
        }
    }
    let mut left = all;
    let mut at = 0;
    while at < left.len() {
        let mut without = left.clone();
        without.remove(at);
        match impossible(&without) {
            true => left = without,
            false => at += 1,
        }
    }
    Some(Clash {
        smallest: left.len() <= TRIED + 1,
        demands: left,
    })
}

/// Hands over every set of a size, until one is enough.
fn subsets(
    all: &[usize],
    size: usize,
    set: &mut Vec<usize>,
    tried: &mut dyn FnMut(&[usize]) -> bool,
) -> bool {
    if size == 0 {
        return tried(set);
    }
    for (at, one) in all.iter().enumerate() {
        set.push(*one);
        let enough = subsets(all.get(at + 1..).unwrap_or_default(), size - 1, set, tried);
        set.pop();
        if enough {
            return true;
        }
    }
    false
}
