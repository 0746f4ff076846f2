//! The smallest set of parts to leave out, so that the players there are can play the rest.

use super::collide::{Unit, collisions};
use super::fewest::{split, to_compare, too_many};
use super::limits::{Count, Limits};
use super::piece::choices;
use super::seats::{self, kinds};
use super::sets::Sets;
use super::why::{self, Why};
use super::{Music, Player, Tenths};

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

    /// Whether the rest can be played; none when a limit cut the search.
    fn works(&self, out: &[usize], count: &mut Count) -> Option<bool> {
        if !count.spend(to_compare(self.music)) {
            return None;
        }
        let units = self.units(out);
        let against = collisions(self.music, &units);
        let kinds = kinds(&units, self.players);
        let found = seats::seat(&against, &kinds, self.players.len(), count).is_some();
        (found || !count.cut).then_some(found)
    }

    /// The smallest set, rising, and why it is needed.
    fn smallest(&self, count: &mut Count) -> (Vec<usize>, Option<Why>) {
        if self.works(&[], count) == Some(true) {
            return (Vec::new(), None);
        }
        // A part that nobody can play goes in any case; what is left decides about the rest.
        let hopeless = |part: &usize| why::is_hopeless(self.music, *part, self.players);
        let hopeless: Vec<usize> = self.played.iter().copied().filter(hopeless).collect();
        let reasons = self.reasons(&hopeless, count);
        let why = match (hopeless.first(), reasons.first()) {
            (Some(&part), _) => Why::Nobody(part),
            (None, Some((places, able))) => Why::TooFew {
                places: places.clone(),
                able: able.clone(),
            },
            (None, None) => Why::Tried { steps: count.steps },
        };
        match self.by_size(&hopeless, &reasons, count) {
            Some(mut out) => {
                out.sort_unstable();
                (out, Some(why))
            }
            None => (self.greedy(), Some(why)),
        }
    }

    /// Sets of which too many collide for those who can play them, each with who can.
    fn reasons(&self, hopeless: &[usize], count: &mut Count) -> Vec<(Vec<why::Place>, Vec<usize>)> {
        let mut reasons = Vec::new();
        let mut out = hopeless.to_vec();
        loop {
            let units = self.units(&out);
            let kinds = kinds(&units, self.players);
            let against = collisions(self.music, &units);
            let demands = why::demands(&against, &kinds, count);
            let Some((set, able)) = why::too_few(&demands, &kinds) else {
                return reasons;
            };
            reasons.push((
                set.iter()
                    .map(|&at| why::place(&units[at], self.hand_over))
                    .collect(),
                able,
            ));
            // Take one part of it away and see whether there is another reason beside this one.
            match set.first().and_then(|&at| units[at].parts.first()) {
                Some(&part) => out.push(part),
                None => return reasons,
            }
        }
    }

    /// Sets in rising size until one works; none when a limit was met.
    fn by_size(
        &self,
        hopeless: &[usize],
        reasons: &[(Vec<why::Place>, Vec<usize>)],
        count: &mut Count,
    ) -> Option<Vec<usize>> {
        let open = self
            .played
            .iter()
            .copied()
            .filter(|part| !hopeless.contains(part));
        let (spare, vital): (Vec<usize>, Vec<usize>) = open.partition(|&part| self.music.parts[part].spare);
        let enough = |out: &[usize]| {
            reasons.iter().all(|(places, able)| {
                let stays = places.iter().filter(|place| !self.bound_to_any(place.0, out));
                stays.count() <= able.len()
            })
        };
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
                if enough(&out) && self.works(&out, count)? {
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
                        if less && enough(&out) && self.works(&out, count)? {
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

    /// Whether leaving out these takes the part, or one bound to it, out of its unit: then what
    /// was said about the unit no longer holds.
    fn bound_to_any(&self, part: usize, out: &[usize]) -> bool {
        let bound = |other: &usize| {
            let group = |group: &&Vec<usize>| group.contains(&part);
            self.music
                .one_player
                .iter()
                .filter(group)
                .any(|group| group.contains(other))
        };
        out.contains(&part) || out.iter().any(bound)
    }

    /// Without any search: parts one after another, vital ones first, each left out when it does
    /// not fit beside those before it at the first player who is free.
    fn greedy(&self) -> Vec<usize> {
        let mut order = self.played.to_vec();
        order.sort_by_key(|&part| (self.music.parts[part].spare, part));
        let mut hands: Vec<Vec<usize>> = vec![Vec::new(); self.players.len()];
        let mut out = Vec::new();
        for part in order {
            let fits = |player: &usize| {
                let mut with = hands[*player].clone();
                with.push(part);
                let units = super::collide::units(self.music, &with, &|_| false);
                let takes = |unit: &Unit| seats::can_take(*player, &self.players[*player], unit);
                units.iter().all(takes)
                    && collisions(self.music, &units)
                        .iter()
                        .all(super::bits::Bits::is_empty)
            };
            // Parts bound to one player are simply left out here, all but the first.
            let bound = self.bound_to_any(part, self.played)
                && self.music.one_player.iter().any(|group| {
                    group.contains(&part) && hands.iter().flatten().any(|has| group.contains(has))
                });
            match (0..self.players.len()).find(fits).filter(|_| !bound) {
                Some(player) => hands[player].push(part),
                None => out.push(part),
            }
        }
        out.sort_unstable();
        out
    }
}
