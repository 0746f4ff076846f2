//! Players kept apart, and players who have at most so many parts.
//!
//! Neither is a matter of one part and one player, so the searches know nothing of them. They are asked as if neither
//! had been said. Where the best answer breaks one of the two, it shows some pairings of a part with a player that
//! cannot all be; the question is then asked once more for each of them, without that one pairing. The most promising
//! question goes first, so the first answer that breaks nothing is the best there is.

use std::cmp::Reverse;
use std::collections::{BTreeMap, BTreeSet};

use super::plan::{Plan, Play};
use super::{Limits, Music, Player, Tenths};

/// The most questions one answer may take; far more than two or three such words need.
const MOST_ASKED: usize = 200;

/// Each question may take at least this part of all steps, however many went before.
const PART_OF_STEPS: u64 = 100;

/// Pairings of a part with a player.
type Pairings = BTreeSet<(usize, usize)>;

/// Answers that may still break something, the cheapest first.
type Open<A> = BTreeMap<(Cost, Reverse<usize>), (A, Pairings)>;

/// Whether anything of the kind was said.
pub(super) fn is_said(music: &Music, players: &[Player]) -> bool {
    !music.apart.is_empty() || players.iter().any(|player| player.most.is_some())
}

/// Whether who plays what keeps apart who is to be, and gives nobody more parts than allowed.
pub fn keeps_apart(music: &Music, players: &[Player], plays: &[Play]) -> bool {
    broken(music, players, plays).is_none()
}

/// Pairings that cannot all be; none where nothing is broken.
fn broken(music: &Music, players: &[Player], plays: &[Play]) -> Option<Vec<(usize, usize)>> {
    let held: Pairings = plays.iter().map(|play| (play.part, play.player)).collect();
    let of = |player: usize| held.iter().filter(move |held| held.1 == player).copied();
    for &(one, other) in music.apart.iter().filter(|(one, other)| one != other) {
        for first in of(one) {
            if let Some(second) = of(other).find(|second| music.in_one_place(first.0, second.0)) {
                return Some(vec![first, second]);
            }
        }
    }
    for (player, most) in players.iter().enumerate() {
        let Some(most) = most.most else { continue };
        let over: Vec<(usize, usize)> = of(player).take(most.saturating_add(1)).collect();
        if over.len() > most {
            return Some(over);
        }
    }
    None
}

/// The music without some pairings.
fn without(music: &Music, pairings: &Pairings) -> Music {
    let mut music = music.clone();
    for &(part, player) in pairings {
        if let Some(part) = music.parts.get_mut(part) {
            part.not_for.push(player);
        }
    }
    music
}

/// What is asked again and again: an answer with its cost, the lower the better.
pub(super) struct Asking<'a, A> {
    /// Asks the question as if nothing of the kind had been said; none where it has no answer.
    pub(super) ask: &'a mut dyn FnMut(&Music) -> Option<A>,
    /// What orders the answers.
    pub(super) cost: &'a dyn Fn(&A) -> Cost,
    /// Who plays what in an answer.
    pub(super) plays: &'a dyn Fn(&A) -> &[Play],
    /// Whether an answer is the best to its question.
    pub(super) proven: &'a dyn Fn(&A) -> bool,
}

/// Costs of an answer, the first that differs decides.
pub(super) type Cost = [Tenths; 8];

/// The best answer that breaks nothing, and whether that is proven; or, where there is none, whether that is.
pub(super) fn best<A>(
    music: &Music,
    players: &[Player],
    asking: &mut Asking<'_, A>,
) -> (Result<A, Option<A>>, bool) {
    let mut open: Open<A> = BTreeMap::new();
    let mut seen: BTreeSet<Pairings> = BTreeSet::new();
    let mut proven = true;
    let mut asked = 0usize;
    let mut put = |pairings: Pairings, open: &mut Open<A>| -> (bool, bool) {
        if !seen.insert(pairings.clone()) {
            return (true, true);
        }
        asked += 1;
        let found = (asking.ask)(&without(music, &pairings));
        let whole = found.as_ref().is_none_or(|found| (asking.proven)(found));
        if let Some(found) = found {
            // Of answers that cost as much the last goes first: fewer of its words are broken.
            open.insert(((asking.cost)(&found), Reverse(asked)), (found, pairings));
        }
        (whole, asked < MOST_ASKED)
    };
    let mut time = true;
    proven &= put(Pairings::new(), &mut open).0;
    while let Some((_, (found, pairings))) = open.pop_first() {
        let Some(broken) = broken(music, players, (asking.plays)(&found)) else {
            return (Ok(found), proven);
        };
        if !time {
            return (Err(Some(found)), false);
        }
        for pairing in broken {
            let mut fewer = pairings.clone();
            fewer.insert(pairing);
            let (whole, more) = put(fewer, &mut open);
            proven &= whole;
            time &= more;
        }
    }
    (Err(None), proven)
}

/// A plan with what breaks a word left out, where there was no time to find a better one.
pub(super) fn cut_down(music: &Music, players: &[Player], mut plan: Plan) -> Plan {
    while let Some(broken) = broken(music, players, &plan.plays) {
        let Some(&(part, _)) = broken.last() else { break };
        plan.plays.retain(|play| play.part != part);
        let spare = music.parts.get(part).is_some_and(|part| part.spare);
        let out = match spare {
            true => &mut plan.left_out.spare,
            false => &mut plan.left_out.vital,
        };
        out.push(part);
        out.sort_unstable();
        plan.left_out.proven = false;
        plan.left_out.why = plan.left_out.why.or(Some(super::Why::CutShort));
    }
    plan.proven = false;
    plan
}

/// Shares a piece out with such words kept.
pub(super) fn assign(music: &Music, players: &[Player], hand_over: bool, limits: Limits<'_>) -> Plan {
    let mut left = limits.steps;
    let mut spent = 0u64;
    let lost = |plan: &Plan| -> Tenths {
        let out = plan.left_out.vital.iter().chain(&plan.left_out.spare);
        out.filter_map(|&part| music.parts.get(part))
            .map(super::Part::plays)
            .fold(0, Tenths::saturating_add)
    };
    let count = |all: usize| Tenths::try_from(all).unwrap_or(Tenths::MAX);
    let mut ask = |music: &Music| {
        let limits = Limits {
            steps: left.max(limits.steps / PART_OF_STEPS),
            ..limits
        };
        let plan = super::roster::plain(music, players, hand_over, limits);
        left = left.saturating_sub(plan.steps);
        spent = spent.saturating_add(plan.steps);
        Some(plan)
    };
    let (found, proven) = best(
        music,
        players,
        &mut Asking {
            ask: &mut ask,
            cost: &|plan| {
                [
                    count(plan.left_out.vital.len()),
                    count(plan.left_out.spare.len()),
                    lost(plan),
                    count(plan.handed_over.len()),
                    count(plan.walks),
                    plan.most,
                    plan.least.saturating_neg(),
                    count(usize::try_from(plan.had).unwrap_or(usize::MAX)),
                ]
            },
            plays: &|plan| &plan.plays,
            proven: &|plan| plan.proven || (plan.plays.is_empty() && plan.left_out.proven),
        },
    );
    let mut plan = match found {
        Ok(plan) => plan,
        Err(Some(plan)) => cut_down(music, players, plan),
        // With every pairing taken away nothing is played and nothing is broken, so there always is an answer.
        Err(None) => super::roster::plain(music, &[], hand_over, limits),
    };
    plan.steps = spent;
    plan.proven &= proven;
    plan.left_out.proven &= proven;
    plan
}
