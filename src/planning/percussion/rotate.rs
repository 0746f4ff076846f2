//! Players rotated over a program: each piece by itself as good as it can be, then who has which hand so
//! that the playing is shared fairly and nobody has the same instrument all evening.

use crate::planning::assign::{Limits, Plan, Tenths};

use super::answer::plan;
use super::ask::Question;

/// The most rounds of swaps; each looks at every two players in every piece.
const MOST_ROUNDS: usize = 12;
/// Playing is compared in steps of so many tenths of a second: nobody counts single seconds.
const STEP: Tenths = 100;

/// Shares every piece out in program order. `who` gives for every piece the place of each seat among
/// `players`. What a piece leaves out, hands over and walks is the least there is; among players who could
/// take each other's parts it is swapped for as long as a swap makes the evening fairer, or as fair and
/// more varied.
pub(super) fn rotate(
    questions: &mut [Option<Question>],
    who: &[Vec<usize>],
    players: usize,
    hand_over: bool,
    limits: Limits<'_>,
) -> Vec<Option<Plan>> {
    let mut seen: Vec<Vec<String>> = vec![Vec::new(); players];
    let mut plans: Vec<Option<Plan>> = Vec::new();
    for (question, who) in questions.iter_mut().zip(who) {
        let Some(question) = question else {
            plans.push(None);
            continue;
        };
        for (seat, player) in question.players.iter_mut().enumerate() {
            let before = who.get(seat).and_then(|at| seen.get(*at));
            player.had = question
                .stations
                .iter()
                .map(|station| {
                    let had = before.into_iter().flatten().filter(|name| **name == station.name);
                    u32::try_from(had.count()).unwrap_or(u32::MAX)
                })
                .collect();
        }
        let found = plan(question, hand_over, limits);
        for (player, name) in found.iter().flat_map(|plan| held(question, plan)) {
            if let Some(seen) = who.get(player).and_then(|at| seen.get_mut(*at)) {
                seen.push(name);
            }
        }
        plans.push(found);
    }
    let mut evening = Evening {
        questions,
        who,
        players,
    };
    evening.improve(&mut plans);
    plans
}

/// Each seat's stations, once.
fn held(question: &Question, plan: &Plan) -> Vec<(usize, String)> {
    let mut held: Vec<(usize, String)> = Vec::new();
    for play in &plan.plays {
        let Some(part) = question.parts.get(play.part) else {
            continue;
        };
        let one = (play.player, part.station.name.clone());
        if !held.contains(&one) {
            held.push(one);
        }
    }
    held
}

struct Evening<'q> {
    questions: &'q [Option<Question>],
    who: &'q [Vec<usize>],
    players: usize,
}

/// One seat's load in one piece: how long it plays, and at which stations.
type Load = (Tenths, Vec<String>);

impl Evening<'_> {
    fn improve(&mut self, plans: &mut [Option<Plan>]) {
        let mut loads: Vec<Vec<Load>> = plans
            .iter()
            .zip(self.questions)
            .map(|(plan, question)| match (plan, question) {
                (Some(plan), Some(question)) => loads(question, plan),
                _ => Vec::new(),
            })
            .collect();
        let mut best = self.worth(&loads);
        for _ in 0..MOST_ROUNDS {
            let mut changed = false;
            for at in 0..plans.len() {
                let seats = loads.get(at).map_or(0, Vec::len);
                for one in 0..seats {
                    for other in one + 1..seats {
                        let (Some(Some(plan)), Some(Some(question))) =
                            (plans.get_mut(at), self.questions.get(at))
                        else {
                            continue;
                        };
                        if !may_swap(question, plan, one, other) {
                            continue;
                        }
                        if let Some(here) = loads.get_mut(at) {
                            here.swap(one, other);
                        }
                        let worth = self.worth(&loads);
                        if worth < best {
                            best = worth;
                            changed = true;
                            swap(plan, one, other);
                        } else if let Some(here) = loads.get_mut(at) {
                            here.swap(one, other);
                        }
                    }
                }
            }
            if !changed {
                break;
            }
        }
    }

    /// How unevenly the playing is shared, then how often players have an instrument again; less is better.
    fn worth(&self, loads: &[Vec<Load>]) -> (i64, usize) {
        let mut plays: Vec<Tenths> = vec![0; self.players];
        let mut had: Vec<Vec<&str>> = vec![Vec::new(); self.players];
        for (loads, who) in loads.iter().zip(self.who) {
            for ((lasts, stations), &player) in loads.iter().zip(who) {
                if let Some(all) = plays.get_mut(player) {
                    *all = all.saturating_add(*lasts);
                }
                if let Some(all) = had.get_mut(player) {
                    all.extend(stations.iter().map(String::as_str));
                }
            }
        }
        // The sum is the same for all sharings, so the squares tell how even it is.
        let uneven = plays.iter().map(|all| {
            let steps = all.saturating_add(STEP / 2) / STEP;
            steps.saturating_mul(steps)
        });
        let again = had.iter_mut().map(|all| {
            all.sort_unstable();
            let runs = all.chunk_by(|one, other| one == other);
            runs.map(|run| run.len().saturating_sub(1).saturating_mul(run.len()))
                .sum::<usize>()
        });
        (uneven.fold(0, i64::saturating_add), again.sum())
    }
}

fn loads(question: &Question, plan: &Plan) -> Vec<Load> {
    let mut loads: Vec<Load> = vec![(0, Vec::new()); question.seats.len()];
    for play in &plan.plays {
        let Some(load) = loads.get_mut(play.player) else {
            continue;
        };
        let Some(part) = question.music.parts.get(play.part) else {
            continue;
        };
        let lasts = part
            .entrances
            .get(play.entrance)
            .map_or(0, |entrance| entrance.lasts());
        load.0 = load.0.saturating_add(lasts);
    }
    for (seat, name) in held(question, plan) {
        if let Some(load) = loads.get_mut(seat) {
            load.1.push(name);
        }
    }
    loads
}

/// Whether two seats could play each other's parts.
fn may_swap(question: &Question, plan: &Plan, one: usize, other: usize) -> bool {
    let (Some(first), Some(second)) = (question.players.get(one), question.players.get(other)) else {
        return false;
    };
    if first.absent || second.absent {
        return false;
    }
    let can = |from: usize, who: &crate::planning::assign::Player| {
        let parts = plan.plays.iter().filter(|play| play.player == from);
        parts
            .filter_map(|play| question.music.parts.get(play.part))
            .all(|part| who.can.cover(part.needs) && part.given_to.is_none())
    };
    can(one, second) && can(other, first)
}

fn swap(plan: &mut Plan, one: usize, other: usize) {
    for play in &mut plan.plays {
        play.player = match play.player {
            seat if seat == one => other,
            seat if seat == other => one,
            seat => seat,
        };
    }
}
