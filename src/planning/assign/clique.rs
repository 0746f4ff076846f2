//! The largest set of units that collide all with all: nobody can play two of them.

use super::bits::Bits;
use super::limits::Count;

/// The largest such set, rising. When a limit cuts the search it is the largest seen.
///
/// Branch and bound: what is left is colored greedily, and a set can gain at most one of a color.
pub(super) fn largest(against: &[Bits], count: &mut Count) -> Vec<usize> {
    let mut best = Vec::new();
    grow(
        against,
        &mut Vec::new(),
        Bits::full(against.len()),
        &mut best,
        count,
    );
    best.sort_unstable();
    best
}

fn grow(against: &[Bits], set: &mut Vec<usize>, mut left: Bits, best: &mut Vec<usize>, count: &mut Count) {
    if set.len() > best.len() {
        best.clone_from(set);
    }
    let order = color_order(against, &left);
    for &(unit, bound) in order.iter().rev() {
        if set.len() + bound <= best.len() || !count.step_among(against.len()) {
            return;
        }
        let mut next = left.clone();
        next.keep(&against[unit]);
        set.push(unit);
        grow(against, set, next, best, count);
        set.pop();
        left.remove(unit);
    }
}

/// The units left, each with the number of colors used up to it, rising.
fn color_order(against: &[Bits], left: &Bits) -> Vec<(usize, usize)> {
    let mut order = Vec::new();
    let mut rest = left.clone();
    let mut color = 0;
    while !rest.is_empty() {
        color += 1;
        let mut open = rest.clone();
        while let Some(unit) = open.first() {
            open.remove(unit);
            open.drop_all(&against[unit]);
            rest.remove(unit);
            order.push((unit, color));
        }
    }
    order
}
