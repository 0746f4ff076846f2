//! The plan for the players there are.

use super::bits::Bits;
use super::collide::{Unit, collisions, units};
use super::limits::{Count, Limits};
use super::plan::{Plan, Worth, plays};
use super::seats::{self, kinds};
use super::sets::Sets;
use super::settle::Settle;
use super::share::Shared;
use super::{Handing, Music, Player, Why, apart, hands, leave_out, share};

/// The most hands the exact sharing looks at; beyond them it settles for a good one, and says so.
const MOST_HANDS: usize = 20_000;

/// Shares a piece out among players. What counts, the first that differs decides:
/// fewest vital parts left out, fewest spare parts left out, least playing lost, fewest parts
/// that change hands (only with `hand_over`), fewest walks, the busiest player playing least, the
/// idlest playing most, and stations the players had least before. Who is to be kept apart is, and nobody has more
/// parts than allowed.
pub fn assign(music: &Music, players: &[Player], hand_over: bool, limits: Limits) -> Plan {
    match apart::is_said(music, players) {
        true => apart::assign(music, players, hand_over, limits),
        false => plain(music, players, hand_over, limits),
    }
}

/// The same for players who may have any parts beside any others.
pub(super) fn plain(music: &Music, players: &[Player], hand_over: bool, limits: Limits) -> Plan {
    let mut count = Count::new(limits);
    let (left_out, played) = leave_out::search(music, players, hand_over, &mut count);
    if matches!(left_out.why, Some(Why::TooMany { .. })) {
        return finish(None, 0, left_out, false, count.steps);
    }
    let mut proven = left_out.proven;
    let mut ways = Vec::new();
    for passed in handed(music, &played, players, hand_over, &mut count) {
        ways.extend(Way::new(music, players, &played, &passed, &mut count));
    }
    // The promising ways first, so that the others need only be shown to be no better.
    ways.sort_by_key(|way| way.start.0);
    let mut best: Option<(Shared, Vec<Unit>)> = None;
    let mut at_least = usize::MAX;
    for way in ways {
        let beat = best.as_ref().map(|best| best.0.0);
        let (shared, bound, all) = way.best(music, players, beat, &mut count);
        proven &= all;
        at_least = at_least.min(bound);
        best = shared.map(|shared| (shared, way.units)).or(best);
    }
    finish(best, at_least, left_out, proven && !count.cut, count.steps)
}

/// The ways to choose the fewest parts that change hands; one empty way when none must.
fn handed(
    music: &Music,
    played: &[usize],
    players: &[Player],
    hand_over: bool,
    count: &mut Count,
) -> Vec<Vec<usize>> {
    let may = |part: &usize| {
        let part = &music.parts[*part];
        hand_over && part.handing == Handing::MayPass && part.entrances.len() > 1
    };
    let open: Vec<usize> = played.iter().copied().filter(may).collect();
    for size in 0..=open.len() {
        let mut ways = Vec::new();
        for set in Sets::new(open.len(), size) {
            let passed: Vec<usize> = set.into_iter().map(|at| open[at]).collect();
            let units = units(music, played, &|part| passed.contains(&part));
            let against = collisions(music, &units);
            if seats::seat(&against, &kinds(&units, players), players.len(), count).is_some() {
                ways.push(passed);
            }
            if count.cut {
                break;
            }
        }
        if !ways.is_empty() {
            return ways;
        }
        if count.cut {
            break;
        }
    }
    // A limit was met: let all change hands that may.
    vec![open]
}

/// One way to choose what changes hands, with a good sharing found quickly.
struct Way {
    units: Vec<Unit>,
    against: Vec<Bits>,
    start: Shared,
}

impl Way {
    fn new(
        music: &Music,
        players: &[Player],
        played: &[usize],
        passed: &[usize],
        count: &mut Count,
    ) -> Option<Way> {
        let units = units(music, played, &|part| passed.contains(&part));
        let against = collisions(music, &units);
        let seated = seats::seat(&against, &kinds(&units, players), players.len(), count)
            .or_else(|| first_fit(&units, &against, players))?;
        let settle = Settle {
            music,
            units: &units,
            against: &against,
            players,
        };
        // A round looks at all pairs of units.
        let start = settle.improve(seated, (400_000 / units.len().max(1).pow(2)).min(60));
        Some(Way {
            units,
            against,
            start,
        })
    }

    /// The best sharing if it beats another, a bound on the walks, and whether all was looked at.
    fn best(
        &self,
        music: &Music,
        players: &[Player],
        beat: Option<Worth>,
        count: &mut Count,
    ) -> (Option<Shared>, usize, bool) {
        let start = self.start.clone();
        match hands::all(music, &self.units, &self.against, players, MOST_HANDS, count) {
            Some(hands) => {
                let (best, bound) = share::best(music, &self.units, players, &hands, (start, beat), count);
                (best, bound, !count.cut)
            }
            None => {
                let better = beat.is_none_or(|beat| start.0 < beat);
                (better.then_some(start), 0, false)
            }
        }
    }
}

fn first_fit(units: &[Unit], against: &[Bits], players: &[Player]) -> Option<Vec<usize>> {
    let mut seated: Vec<usize> = Vec::new();
    for (at, unit) in units.iter().enumerate() {
        let free = |player: &usize| {
            let here = (0..at).filter(|&other| seated[other] == *player);
            seats::can_take(*player, &players[*player], unit)
                && !here.into_iter().any(|other| against[at].has(other))
        };
        let player = (0..players.len()).find(free)?;
        seated.push(player);
    }
    Some(seated)
}

fn finish(
    best: Option<(Shared, Vec<Unit>)>,
    at_least: usize,
    left_out: leave_out::LeftOut,
    proven: bool,
    steps: u64,
) -> Plan {
    let found = best.is_some();
    let nobody = Worth {
        walks: 0,
        most: 0,
        least: 0,
        had: 0,
    };
    let ((worth, seated), units) = best.unwrap_or(((nobody, Vec::new()), Vec::new()));
    let plays = plays(&units, &seated);
    let changes = plays
        .windows(2)
        .filter(|two| two[0].part == two[1].part && two[0].player != two[1].player);
    let mut handed_over: Vec<usize> = changes.map(|two| two[0].part).collect();
    handed_over.dedup();
    Plan {
        plays,
        left_out,
        handed_over,
        walks: worth.walks,
        walks_at_least: at_least.min(worth.walks),
        most: worth.most,
        least: worth.least.saturating_neg(),
        had: worth.had,
        proven: proven && found,
        steps,
    }
}
