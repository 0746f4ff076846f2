//! Which parts or entrances one player cannot play both.

use super::bits::Bits;
use super::{Abilities, Entrance, Music, Tenths};

/// What is given to one player whole: a part, parts bound together, or a single entrance.
#[derive(Clone, Debug)]
pub(super) struct Unit {
    /// Its parts, rising.
    pub(super) parts: Vec<usize>,
    /// Its entrances as part, place among the part's entrances, and time.
    pub(super) plays: Vec<(usize, usize, Entrance)>,
    /// What its player must be able to do.
    pub(super) needs: Abilities,
    /// The players the director has given its parts to: more than one is a contradiction.
    pub(super) given_to: Vec<usize>,
    /// The players who may not have one of its parts.
    pub(super) not_for: Vec<usize>,
}

impl Unit {
    fn of(music: &Music, parts: Vec<usize>, plays: Vec<(usize, usize, Entrance)>) -> Unit {
        let all = || parts.iter().filter_map(|&part| music.parts.get(part));
        let mut given_to: Vec<usize> = all().filter_map(|part| part.given_to).collect();
        given_to.sort_unstable();
        given_to.dedup();
        let not_for = all().flat_map(|part| part.not_for.iter().copied()).collect();
        let needs = Abilities(all().fold(0, |needs, part| needs | part.needs.0));
        Unit {
            needs,
            given_to,
            not_for,
            plays,
            parts,
        }
    }

    /// How long it plays.
    pub(super) fn lasts(&self) -> Tenths {
        let lasts = self.plays.iter().map(|(_, _, entrance)| entrance.lasts());
        lasts.fold(0, Tenths::saturating_add)
    }
}

/// The units of the parts played. A part for which `split` holds falls apart into its entrances,
/// unless it is bound to another.
pub(super) fn units(music: &Music, played: &[usize], split: &dyn Fn(usize) -> bool) -> Vec<Unit> {
    let mut bound: Vec<Vec<usize>> = Vec::new();
    for &part in played {
        let with = |group: &&Vec<usize>| group.contains(&part);
        let mut whole = vec![part];
        for group in music.one_player.iter().filter(with) {
            whole.extend(group.iter().filter(|other| played.contains(other)));
        }
        // Groups that share a part are one group.
        bound.retain(|group| {
            let joins = group.iter().any(|other| whole.contains(other));
            if joins {
                whole.extend(group);
            }
            !joins
        });
        whole.sort_unstable();
        whole.dedup();
        bound.push(whole);
    }
    bound.sort();
    let mut units = Vec::new();
    for parts in bound {
        let mut plays = Vec::new();
        for &part in &parts {
            let entrances = music.parts.get(part).map_or(&[][..], |part| &part.entrances);
            plays.extend(
                entrances
                    .iter()
                    .enumerate()
                    .map(|(at, &entrance)| (part, at, entrance)),
            );
        }
        plays.sort_by_key(|&(part, at, entrance)| (entrance, part, at));
        if parts.len() == 1 && plays.len() > 1 && split(parts[0]) {
            let soon = |early: Entrance, late: Entrance| {
                late.start().saturating_sub(early.end()) < music.handing_rest
            };
            let kept = plays.chunk_by(|early, late| soon(early.2, late.2));
            units.extend(kept.map(|plays| Unit::of(music, parts.clone(), plays.to_vec())));
        } else {
            units.push(Unit::of(music, parts, plays));
        }
    }
    units
}

/// Whether one player cannot play both entrances.
fn clash(music: &Music, a: (usize, usize, Entrance), b: (usize, usize, Entrance)) -> bool {
    let ((first, nth, early), (second, later, late)) = if a.2 <= b.2 { (a, b) } else { (b, a) };
    let (Some(from), Some(to)) = (music.parts.get(first), music.parts.get(second)) else {
        return false;
    };
    let needed = music.changes.time(
        (from.station, from.sticks_in(nth).1),
        (to.station, to.sticks_in(later).0),
    );
    let needed = match from.station == to.station {
        true => needed,
        false => needed.saturating_add(to.ready_before(later)),
    };
    late.start().saturating_sub(early.end()) < needed
}

/// For every unit the units that collide with it.
pub(super) fn collisions(music: &Music, units: &[Unit]) -> Vec<Bits> {
    let free = pairs_that_never_clash(music);
    let mut against = vec![Bits::empty(units.len()); units.len()];
    for (at, unit) in units.iter().enumerate() {
        for (other_at, other) in units.iter().enumerate().skip(at + 1) {
            if collide(music, &free, unit, other) {
                against[at].insert(other_at);
                against[other_at].insert(at);
            }
        }
    }
    against
}

/// With how many of the others the last unit collides.
pub(super) fn collisions_with_last(music: &Music, units: &[Unit]) -> usize {
    let free = pairs_that_never_clash(music);
    let Some((last, others)) = units.split_last() else {
        return 0;
    };
    others
        .iter()
        .filter(|other| collide(music, &free, last, other))
        .count()
}

fn collide(music: &Music, free: &[Bits], unit: &Unit, other: &Unit) -> bool {
    unit.plays.iter().any(|&one| {
        other
            .plays
            .iter()
            .any(|&second| one.0 != second.0 && clash(music, one, second) && !free[one.0].has(second.0))
    })
}

fn pairs_that_never_clash(music: &Music) -> Vec<Bits> {
    let size = music.parts.len();
    let mut free = vec![Bits::empty(size); size];
    for &(a, b) in music.mounted.iter().filter(|(a, b)| *a < size && *b < size) {
        free[a].insert(b);
        free[b].insert(a);
    }
    free
}
