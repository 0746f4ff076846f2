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

/// Of places in a new order, which ones can be said to have stayed: the longest row of them that rises.
pub fn stays(places: &[usize]) -> Vec<bool> {
    // For each length, where a rising row of that length ends lowest.
    let mut ends: Vec<usize> = Vec::new();
    let mut before: Vec<Option<usize>> = Vec::with_capacity(places.len());
    for (at, place) in places.iter().enumerate() {
        let lower = |end: &usize| places.get(*end).is_some_and(|end| end < place);
        let length = ends.partition_point(lower);
        before.push(
            length
                .checked_sub(1)
                .and_then(|shorter| ends.get(shorter).copied()),
        );
        match ends.get_mut(length) {
            Some(end) => *end = at,
            None => ends.push(at),
        }
    }
    let mut stays = vec![false; places.len()];
    let mut at = ends.last().copied();
    while let Some(here) = at {
        if let Some(stays) = stays.get_mut(here) {
            *stays = true;
        }
        at = before.get(here).copied().flatten();
    }
    stays
}

/// One thing in up to three writings: which of each it is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
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
    let new_ours = fresh(&to_ours, ours.len());
    let new_theirs = fresh(&to_theirs, theirs.len());
    let twins = twins((ours, &new_ours), (theirs, &new_theirs));
    let taken: HashSet<usize> = twins.values().copied().collect();
    all.extend(new_ours.into_iter().map(|at| Slot {
        base: None,
        ours: Some(at),
        theirs: twins.get(&at).copied(),
    }));
    let alone = new_theirs.into_iter().filter(|at| !taken.contains(at));
    all.extend(alone.map(|at| Slot {
        base: None,
        ours: None,
        theirs: Some(at),
    }));
    in_order(&all, (ours, theirs), ordered)
}

/// Those that nothing before became.
fn fresh(pairs: &[Option<usize>], count: usize) -> Vec<usize> {
    let known: HashSet<usize> = pairs.iter().flatten().copied().collect();
    (0..count).filter(|at| !known.contains(at)).collect()
}

/// Of what we added, what the other side added too.
fn twins<T: Sibling>(
    (ours, new_ours): (&[T], &[usize]),
    (theirs, new_theirs): (&[T], &[usize]),
) -> HashMap<usize, usize> {
    let mut waiting: HashMap<String, Vec<usize>> = HashMap::new();
    for at in new_theirs {
        if let Some(one) = theirs.get(*at) {
            waiting.entry(one.key()).or_default().push(*at);
        }
    }
    let mut twins = HashMap::new();
    for at in new_ours {
        let Some(one) = ours.get(*at) else { continue };
        let Some(others) = waiting.get_mut(&one.key()).filter(|others| !others.is_empty()) else {
            continue;
        };
        let says = one.says();
        let same = others
            .iter()
            .position(|other| theirs.get(*other).is_some_and(|other| other.says() == says));
        if let Some(found) = same.or((!one.repeats()).then_some(0)) {
            twins.insert(*at, others.remove(found));
        }
    }
    twins
}

fn in_order<T: Sibling>(
    all: &[Slot],
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
    let side = |place: &dyn Fn(&Slot) -> Option<usize>| {
        let mut slots: Vec<Slot> = all.iter().filter(|slot| place(slot).is_some()).copied().collect();
        slots.sort_by_key(place);
        slots
    };
    let leading = side(&lead);
    let places: HashMap<Slot, usize> = leading.iter().enumerate().map(|(at, slot)| (*slot, at)).collect();
    let stage = |slot: &Slot| {
        let one = slot.ours.and_then(|at| ours.get(at));
        one.or_else(|| slot.theirs.and_then(|at| theirs.get(at)))?.stage()
    };
    // How many of the leading side stand before what is put in between, and what that is.
    let mut between: Vec<(usize, Slot)> = Vec::new();
    let mut at = 0;
    for slot in side(&follow) {
        if let Some(there) = places.get(&slot) {
            at = there + 1;
            continue;
        }
        // What the leading side added at the same place stands first.
        while let Some(next) = leading
            .get(at)
            .filter(|next| next.base.is_none() && follow(next).is_none())
        {
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
        between.push((at, slot));
    }
    between.sort_by_key(|(at, _)| *at);
    let mut rest = between.into_iter().peekable();
    let mut out = Vec::with_capacity(all.len());
    for (at, slot) in leading.into_iter().enumerate() {
        while let Some((_, put)) = rest.next_if(|(before, _)| *before <= at) {
            out.push(put);
        }
        out.push(slot);
    }
    out.extend(rest.map(|(_, slot)| slot));
    Ok(out)
}
