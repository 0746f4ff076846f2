//! The plan for the players there are.

use super::bits::Bits;
use super::collide::{Unit, collisions, units};
use super::limits::{Count, Limits};
use super::plan::{Plan, plays};
use super::seats::{self, kinds};
use super::sets::Sets;
use super::settle::Settle;
use super::share::Shared;
use super::{Handing, Music, Player, Why, hands, leave_out, share};

/// The most hands the exact sharing looks at; beyond them it settles for a good one, and says so.
const MOST_HANDS: usize = 20_000;

/// Shares a piece out among players. What counts, the first that differs decides:
/// fewest vital parts left out, fewest spare parts left out, least playing lost, fewest parts
/// that change hands (only with `hand_over`), fewest walks, the busiest player playing least, the
/// idlest playing most, and stations the players had least before.
pub fn assign(music: &Music, players: &[Player], hand_over: bool, limits: Limits) -> Plan {
    let mut count = Count::new(limits);
    let (left_out, played) = leave_out::search(music, players, hand_over, &mut count);
    if matches!(left_out.why, Some(Why::TooMany { .. })) {
        return finish(None, left_out, false, count.steps);
    }
    let mut best: Option<(Shared, usize, Vec<Unit>, Vec<usize>)> = None;
    let mut proven = left_out.proven;
    for passed in handed(music, &played, players, hand_over, &mut count) {
        let units = units(music, &played, &|part| passed.contains(&part));
        let before = best.as_ref().map(|best| best.0.0);
        let (shared, at_least, all) = one(music, units, players, &mut count);
        proven &= all;
        if let Some((shared, units)) = shared
            && before.is_none_or(|before| shared.0 < before)
        {
            let bound = best.as_ref().map_or(at_least, |best| best.1.min(at_least));
            best = Some((shared, bound, units, passed));
        } else if let Some(best) = &mut best {
            best.1 = best.1.min(at_least);
        }
    }
    finish(best, left_out, proven && !count.cut, count.steps)
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

type Shares = (Option<(Shared, Vec<Unit>)>, usize, bool);

/// The best sharing of these units, a bound on its walks, and whether it is proven.
fn one(music: &Music, units: Vec<Unit>, players: &[Player], count: &mut Count) -> Shares {
    let against = collisions(music, &units);
    let kinds = kinds(&units, players);
    let seated = match seats::seat(&against, &kinds, players.len(), count) {
        Some(seated) => seated,
        None => match first_fit(&units, &against, players) {
            Some(seated) => seated,
            None => return (None, 0, !count.cut),
        },
    };
    let settle = Settle {
        music,
        units: &units,
        against: &against,
        players,
    };
    // A round looks at all pairs of units.
    let start = settle.improve(seated, (400_000 / units.len().max(1).pow(2)).min(60));
    let Some(hands) = hands::all(music, &units, &against, players, MOST_HANDS, count) else {
        return (Some((start, units)), 0, false);
    };
    let (best, at_least) = share::best(music, &units, players, &hands, Some(start), count);
    (best.map(|best| (best, units)), at_least, !count.cut)
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
    best: Option<(Shared, usize, Vec<Unit>, Vec<usize>)>,
    left_out: leave_out::LeftOut,
    proven: bool,
    steps: u64,
) -> Plan {
    let nothing = Plan {
        plays: Vec::new(),
        left_out,
        handed_over: Vec::new(),
        walks: 0,
        walks_at_least: 0,
        most: 0,
        least: 0,
        had: 0,
        proven,
        steps,
    };
    let Some(((worth, seated), at_least, units, handed_over)) = best else {
        return Plan {
            proven: false,
            ..nothing
        };
    };
    Plan {
        plays: plays(&units, &seated),
        handed_over,
        walks: worth.walks,
        walks_at_least: at_least,
        most: worth.most,
        least: worth.least.saturating_neg(),
        had: worth.had,
        ..nothing
    }
}
