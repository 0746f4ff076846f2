//! The endings of a road, read together: which of them follow one another, and what is wrong with them.

use crate::catalogue::course::Course;
use crate::notation::values::RoadStep;

/// How many measures may lie between two endings that were still meant to follow one another.
const NEAR: u32 = 4;

/// What is wrong with the endings of a road; each fault is told by one rule.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Fault {
    /// An ending that begins some measures after the one before it has ended.
    Gap {
        /// The step of the ending before.
        before: usize,
        /// Its last measure.
        ended: u32,
        /// The step of the ending that comes too late.
        ending: usize,
        /// Its first measure.
        begins: u32,
    },
    /// A first ending with no second.
    NoSecond {
        /// The step.
        ending: usize,
        /// Its last measure.
        last: u32,
    },
    /// A later ending with no first.
    NoFirst {
        /// The step.
        ending: usize,
        /// Its first measure.
        first: u32,
    },
}

/// One ending of the card.
struct One {
    index: usize,
    least: u32,
    most: u32,
    first: u32,
    last: u32,
}

/// The faults of a course's endings. Nothing where an ending is uncertain, leads into measures that several
/// share, or where the road holds words that are no step.
pub(super) fn faults(course: &Course<'_>) -> Vec<Fault> {
    let road = &course.piece.road;
    let mut all: Vec<One> = Vec::new();
    for (index, said) in road.iter().enumerate().take(200) {
        let RoadStep::Ending {
            passes,
            stretch,
            into,
        } = &said.value
        else {
            continue;
        };
        let (Some(least), Some(most)) = (passes.iter().copied().min(), passes.iter().copied().max()) else {
            return Vec::new();
        };
        if !said.is_certain() || into.is_some() || stretch.last < stretch.first {
            return Vec::new();
        }
        all.push(One {
            index,
            least,
            most,
            first: stretch.first,
            last: stretch.last,
        });
    }
    if course.piece.road_in_words {
        return Vec::new();
    }
    all.sort_by_key(|one| one.first);
    let mut faults = Vec::new();
    let mut rest = all.as_slice();
    while let Some((head, others)) = rest.split_first() {
        let (mut most, mut last, mut index, mut taken) = (head.most, head.last, head.index, 0);
        let mut gap = false;
        for next in others {
            let apart = next.first.saturating_sub(last.saturating_add(1));
            if next.least <= most || apart > NEAR {
                break;
            }
            if apart > 0 {
                gap = true;
                faults.push(Fault::Gap {
                    before: index,
                    ended: last,
                    ending: next.index,
                    begins: next.first,
                });
            }
            (most, last, index) = (next.most, next.last.max(last), next.index);
            taken += 1;
        }
        // An ending that belongs to no repeat is told by its own rule.
        let stray = course.road.strays.contains(&head.index);
        if !gap && !stray && head.least > 1 {
            faults.push(Fault::NoFirst {
                ending: head.index,
                first: head.first,
            });
        } else if taken == 0 && !stray && head.least == 1 {
            faults.push(Fault::NoSecond {
                ending: head.index,
                last: head.last,
            });
        }
        rest = others.get(taken..).unwrap_or_default();
    }
    faults
}
