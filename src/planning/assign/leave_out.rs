//! The smallest set of parts to leave out, so that the players there are can play the rest.

use super::bits::Bits;
use super::collide::{Unit, collisions, collisions_with_last};
use super::fewest::{split, to_compare, too_many};
use super::limits::{Count, Limits};
use super::piece::choices;
use super::seats::{self, kinds};
use super::sets::Sets;
use super::why::{self, Why};
use super::{Music, Player, Tenths, greedy};

/// Parts that are not played.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct LeftOut {
    /// Parts the music needs that nobody can take, the fewest.
    pub vital: Vec<usize>,
    /// Spare parts left out, the fewest after that.
    pub spare: Vec<usize>,
    /// Parts not played because another is played instead.
    pub instead: Vec<usize>,
    /// Why not all can be played; none when all can.
    pub why: Option<Why>,
    /// Whether fewer was ruled out.
    pub proven: bool,
}

/// The smallest set of parts to leave out: the fewest vital ones, then the fewest spare ones, then
/// the least playing lost. Of alternatives the way that leaves out least, the preferred one first.
pub fn leave_out(music: &Music, players: &[Player], hand_over: bool, limits: Limits) -> LeftOut {
    search(music, players, hand_over, &mut Count::new(limits)).0
}

type Lost = (usize, usize, Tenths);

/// What to leave out, and the parts then played.
pub(super) fn search(
    music: &Music,
    players: &[Player],
    hand_over: bool,
    count: &mut Count,
) -> (LeftOut, Vec<usize>) {
    if let Some(units) = too_many(music, hand_over) {
        let all = 0..music.parts.len();
        let (spare, vital) = all.partition(|&part| music.parts[part].spare);
        let why = Some(Why::TooMany { units });
        count.cut = true;
        return (
            LeftOut {
                vital,
                spare,
                why,
                ..LeftOut::default()
            },
            Vec::new(),
        );
    }
    let mut best: Option<(Lost, LeftOut, Vec<usize>)> = None;
    for played in choices(music) {
        let ask = Ask {
            music,
            players,
            hand_over,
            played: &played,
        };
        let (out, why) = ask.smallest(count);
        let kept: Vec<usize> = played
            .iter()
            .copied()
            .filter(|part| !out.contains(part))
            .collect();
        let (spare, vital): (Vec<usize>, Vec<usize>) =
            out.into_iter().partition(|&part| music.parts[part].spare);
        let lost = (
            vital.len(),
            spare.len(),
            ask.lost(&vital).saturating_add(ask.lost(&spare)),
        );
        if best.as_ref().is_none_or(|best| lost < best.0) {
            let instead = (0..music.parts.len())
                .filter(|part| !played.contains(part))
                .collect();
            let out = LeftOut {
                vital,
                spare,
                instead,
                why,
                proven: true,
            };
            best = Some((lost, out, kept));
        }
        let nothing_lost = best.as_ref().is_some_and(|best| best.0.0 + best.0.1 == 0);
        if nothing_lost || count.cut {
            break;
        }
    }
    let (lost, mut out, kept) = best.unwrap_or_default();
    out.proven = !count.cut || lost.0 + lost.1 == 0;
    (out, kept)
}

struct Ask<'a> {
    music: &'a Music,
    players: &'a [Player],
    hand_over: bool,
    played: &'a [usize],
}

/// What has been learned about what cannot be played.
#[derive(Default)]
struct Known {
    /// Parts of which no more than so many can be played at once.
    reasons: Vec<(Bits, usize)>,
    /// The first reason, as it is told.
    first: Option<(Vec<why::Place>, Vec<usize>)>,
}

impl Ask<'_> {
    fn lost(&self, parts: &[usize]) -> Tenths {
        let plays = parts.iter().map(|&part| self.music.parts[part].plays());
        plays.fold(0, Tenths::saturating_add)
    }

    fn units(&self, out: &[usize]) -> Vec<Unit> {
        let kept: Vec<usize> = self
            .played
            .iter()
            .copied()
            .filter(|part| !out.contains(part))
            .collect();
        split(self.music, &kept, self.hand_over)
    }

    /// Whether the rest can be played; none when a limit cut the search. A simple reason why not is
    /// remembered, since it rules out other sets unseen.
    fn works(&self, out: &[usize], known: &mut Known, count: &mut Count) -> Option<bool> {
        let gone = self.with_bound(out);
        let fails = |(parts, most): &(Bits, usize)| parts.len() - parts.shared(&gone) > *most;
        if known.reasons.iter().any(fails) {
            return Some(false);
        }
        if !count.spend(to_compare(self.music)) {
            return None;
        }
        let units = self.units(out);
        let against = collisions(self.music, &units);
        let kinds = kinds(&units, self.players);
        let demands = why::demands(&against, &kinds, count);
        if let Some((set, able)) = why::too_few(&demands, &kinds) {
            let places: Vec<why::Place> = set
                .iter()
                .map(|&at| why::place(&units[at], self.hand_over))
                .collect();
            let set: Vec<&Unit> = set.iter().map(|&at| &units[at]).collect();
            known.reasons.push((self.widened(&set, &able), able.len()));
            known.first.get_or_insert((places, able));
            return Some(false);
        }
        let found = seats::seat(&against, &kinds, self.players.len(), count).is_some();
        (found || !count.cut).then_some(found)
    }

    /// The parts of units that collide, and as many more as collide with all of them and can be
    /// played by nobody else: so that one reason stands for many.
    fn widened(&self, set: &[&Unit], able: &[usize]) -> Bits {
        let mut wide: Vec<Unit> = set.iter().map(|&unit| unit.clone()).collect();
        for unit in self.units(&[]) {
            let known = wide
                .iter()
                .any(|other| other.parts.iter().any(|part| unit.parts.contains(part)));
            let others = |&player: &usize| {
                !able.contains(&player) && seats::can_take(player, &self.players[player], &unit)
            };
            if !known && !(0..self.players.len()).any(|player| others(&player)) {
                wide.push(unit);
                let last = wide.len() - 1;
                if collisions_with_last(self.music, &wide) < last {
                    wide.truncate(last);
                }
            }
        }
        let parts: Vec<usize> = wide
            .iter()
            .filter_map(|unit| unit.parts.first().copied())
            .collect();
        Bits::of(self.music.parts.len(), &parts)
    }

    /// The smallest set, rising, and why it is needed.
    fn smallest(&self, count: &mut Count) -> (Vec<usize>, Option<Why>) {
        let mut known = Known::default();
        if self.works(&[], &mut known, count) == Some(true) {
            return (Vec::new(), None);
        }
        // A part that nobody can play goes in any case; what is left decides about the rest.
        let hopeless = |part: &usize| why::is_hopeless(self.music, *part, self.players);
        let hopeless: Vec<usize> = self.played.iter().copied().filter(hopeless).collect();
        let why = match (hopeless.first(), &known.first) {
            (Some(&part), _) => Why::Nobody(part),
            (None, Some((places, able))) => Why::TooFew {
                places: places.clone(),
                able: able.clone(),
            },
            (None, None) if count.cut => Why::CutShort,
            (None, None) => Why::Tried { steps: count.steps },
        };
        match self.by_size(&hopeless, &mut known, count) {
            Some(mut out) => {
                out.sort_unstable();
                (out, Some(why))
            }
            None => (greedy::greedy(self.music, self.players, self.played), Some(why)),
        }
    }

    /// Sets in rising size until one works; none when a limit was met.
    fn by_size(&self, hopeless: &[usize], known: &mut Known, count: &mut Count) -> Option<Vec<usize>> {
        let open = self
            .played
            .iter()
            .copied()
            .filter(|part| !hopeless.contains(part));
        let (spare, vital): (Vec<usize>, Vec<usize>) = open.partition(|&part| self.music.parts[part].spare);
        for most_vital in 0..=vital.len() {
            // Which sets of vital parts suffice when every spare part goes too?
            let mut open: Vec<Vec<usize>> = Vec::new();
            for set in Sets::new(vital.len(), most_vital) {
                let mut out = hopeless.to_vec();
                out.extend(set.iter().map(|&at| vital[at]));
                let base = out.len();
                out.extend(&spare);
                if !count.step() {
                    return None;
                }
                if self.works(&out, known, count)? {
                    out.truncate(base);
                    open.push(out);
                }
            }
            if open.is_empty() {
                continue;
            }
            for most_spare in 0..=spare.len() {
                let mut best: Option<(Tenths, Vec<usize>)> = None;
                for base in &open {
                    for set in Sets::new(spare.len(), most_spare) {
                        let mut out = base.clone();
                        out.extend(set.iter().map(|&at| spare[at]));
                        let lost = self.lost(&out);
                        if !count.step() {
                            return None;
                        }
                        let less = best.as_ref().is_none_or(|best| lost < best.0);
                        if less && self.works(&out, known, count)? {
                            best = Some((lost, out));
                        }
                    }
                }
                if let Some((_, out)) = best {
                    return Some(out);
                }
            }
        }
        None
    }

    /// These parts and all bound to one of them: with a part gone, its unit is another, and what was
    /// learned about the unit no longer holds.
    fn with_bound(&self, out: &[usize]) -> Bits {
        let mut gone = Bits::of(self.music.parts.len(), out);
        for group in &self.music.one_player {
            if group.iter().any(|part| out.contains(part)) {
                group.iter().for_each(|&part| gone.insert(part));
            }
        }
        gone
    }
}
