//! Which of two writings' neighbors are the same ones, and the order of what three writings hold together.

use std::collections::{HashMap, HashSet, VecDeque};

/// Something that stands among others of its kind: cards in a file, lines on a card, parts of a line.
pub trait Sibling {
    /// What it is found again by; several may share it.
    fn key(&self) -> String;
    /// All that it says, however it is laid out.
    fn says(&self) -> String;
    /// Whether the other, which has another key and stands alone in the same place, may be this one changed.
    fn may_become(&self, other: &Self) -> bool;
    /// Whether two people may each have added one of this key, saying different things, without a clash.
    fn repeats(&self) -> bool;
    /// For a stage of a value that changes on the way, the measure from which it holds, where it says one.
    fn stage(&self) -> Option<Option<u32>>;
}

/// For each one of `before`, which of `after` it is now; none where it is gone.
pub fn pair<T: Sibling>(before: &[T], after: &[T]) -> Vec<Option<usize>> {
    let told =
        |all: &[T]| -> Vec<(String, String)> { all.iter().map(|one| (one.key(), one.says())).collect() };
    let (old, new) = (told(before), told(after));
    let mut pairs: Vec<Option<usize>> = vec![None; before.len()];
    let mut taken = vec![false; after.len()];
    let mut take = |pairs: &mut Vec<Option<usize>>, same: &dyn Fn(&(String, String)) -> String| {
        let mut waiting: HashMap<String, VecDeque<usize>> = HashMap::new();
        for (at, one) in new.iter().enumerate() {
            if taken.get(at) == Some(&false) {
                waiting.entry(same(one)).or_default().push_back(at);
            }
        }
        for (one, pair) in old.iter().zip(pairs.iter_mut()) {
            if pair.is_none()
                && let Some(at) = waiting.get_mut(&same(one)).and_then(VecDeque::pop_front)
            {
                *pair = Some(at);
                if let Some(taken) = taken.get_mut(at) {
                    *taken = true;
                }
            }
        }
    };
    take(&mut pairs, &|(key, says)| format!("{key}\u{0}{says}"));
    take(&mut pairs, &|(key, _)| key.clone());
    changed(before, after, &mut pairs);
    pairs
}

/// Where as many stand between two that stayed as stood there before, each may be the same one with another key.
fn changed<T: Sibling>(before: &[T], after: &[T], pairs: &mut [Option<usize>]) {
    let taken: HashSet<usize> = pairs.iter().flatten().copied().collect();
    let mut at = 0;
    while at < pairs.len() {
        let run = pairs.iter().skip(at).take_while(|pair| pair.is_none()).count();
        if run == 0 {
            at += 1;
            continue;
        }
        let above = at
            .checked_sub(1)
            .and_then(|above| pairs.get(above).copied().flatten());
        let below = pairs.get(at + run).copied().flatten();
        let start = above.map_or(0, |above| above + 1);
        let free: Vec<usize> = (start..below.unwrap_or(after.len()))
            .filter(|at| !taken.contains(at))
            .collect();
        if free.len() == run {
            let old = before.iter().skip(at);
            for ((pair, old), new) in pairs.iter_mut().skip(at).zip(old).zip(free) {
                *pair = Some(new).filter(|new| after.get(*new).is_some_and(|new| old.may_become(new)));
            }
        }
        at += run;
    }
}

/// One thing in up to three writings: which of each it is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Slot {
    /// Before.
    pub base: Option<usize>,
    /// In our writing.
    pub ours: Option<usize>,
    /// In their writing.
    pub theirs: Option<usize>,
}

/// Both sides put the same things in different orders, or something at the same place, where the order counts.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct OrderClash;

/// All that three writings hold, each thing once, in the order that they have together.
///
/// # Errors
/// When the order counts and the two sides want different ones.
pub fn slots<T: Sibling>(
    base: &[T],
    ours: &[T],
    theirs: &[T],
    ordered: bool,
) -> Result<Vec<Slot>, OrderClash> {
    let (to_ours, to_theirs) = (pair(base, ours), pair(base, theirs));
    let mut all: Vec<Slot> = to_ours
        .iter()
        .zip(&to_theirs)
        .enumerate()
        .map(|(at, (ours, theirs))| Slot {
            base: Some(at),
            ours: *ours,
            theirs: *theirs,
        })
        .collect();
    let fresh = |pairs: &[Option<usize>], count: usize| -> Vec<usize> {
        (0..count).filter(|at| !pairs.contains(&Some(*at))).collect()
    };
    let mut new_theirs = fresh(&to_theirs, theirs.len());
    for at in fresh(&to_ours, ours.len()) {
        let twin = ours.get(at).and_then(|one| twin(one, theirs, &new_theirs));
        new_theirs.retain(|other| Some(*other) != twin);
        all.push(Slot {
            base: None,
            ours: Some(at),
            theirs: twin,
        });
    }
    all.extend(new_theirs.into_iter().map(|at| Slot {
        base: None,
        ours: None,
        theirs: Some(at),
    }));
    in_order(all, (ours, theirs), ordered)
}

/// The one that the other side added too.
fn twin<T: Sibling>(one: &T, others: &[T], new: &[usize]) -> Option<usize> {
    let (key, says) = (one.key(), one.says());
    let of_key = || {
        new.iter()
            .filter(|at| others.get(**at).is_some_and(|other| other.key() == key))
    };
    let same = of_key().find(|at| others.get(**at).is_some_and(|other| other.says() == says));
    let other = same.or_else(|| of_key().next().filter(|_| !one.repeats()));
    other.copied()
}

fn in_order<T: Sibling>(
    all: Vec<Slot>,
    (ours, theirs): (&[T], &[T]),
    ordered: bool,
) -> Result<Vec<Slot>, OrderClash> {
    let shared: Vec<Slot> = all
        .iter()
        .filter(|slot| slot.base.is_some() && slot.ours.is_some() && slot.theirs.is_some())
        .copied()
        .collect();
    let order = |place: fn(&Slot) -> Option<usize>| {
        let mut slots = shared.clone();
        slots.sort_by_key(place);
        slots
    };
    let (was, mine, other) = (order(|s| s.base), order(|s| s.ours), order(|s| s.theirs));
    let we_moved = mine != was;
    let they_moved = other != was;
    if ordered && we_moved && they_moved && mine != other {
        return Err(OrderClash);
    }
    // Whoever moved things leads, and the other's additions follow what they followed there.
    let they_lead = they_moved && !we_moved;
    let lead = |slot: &Slot| if they_lead { slot.theirs } else { slot.ours };
    let follow = |slot: &Slot| if they_lead { slot.ours } else { slot.theirs };
    let mut out: Vec<Slot> = all.iter().filter(|slot| lead(slot).is_some()).copied().collect();
    out.sort_by_key(lead);
    let mut rest: Vec<Slot> = all
        .iter()
        .filter(|slot| follow(slot).is_some())
        .copied()
        .collect();
    rest.sort_by_key(follow);
    let mut at = 0;
    for slot in rest {
        if let Some(there) = out.iter().position(|other| *other == slot) {
            at = there + 1;
            continue;
        }
        // What the leading side added at the same place stands first.
        while let Some(next) = out
            .get(at)
            .filter(|next| next.base.is_none() && follow(next).is_none())
        {
            let stage = |slot: &Slot| {
                let one = slot.ours.and_then(|at| ours.get(at));
                one.or_else(|| slot.theirs.and_then(|at| theirs.get(at)))?.stage()
            };
            if slot.base.is_none()
                && let (Some(one), Some(other)) = (stage(next), stage(&slot))
            {
                match (one, other) {
                    (Some(one), Some(other)) if one > other => break,
                    (Some(one), Some(other)) if one < other => {}
                    // Nothing says which of the two comes first.
                    _ => return Err(OrderClash),
                }
            }
            at += 1;
        }
        out.insert(at.min(out.len()), slot);
        at += 1;
    }
    Ok(out)
}
