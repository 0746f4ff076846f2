//! Players who have at most so many pieces of an evening: in which pieces they sit out.

use std::collections::BTreeMap;

use crate::planning::assign::{self, Limits, Tenths};

use super::ask::Question;
use super::pins::Whose;

/// So many players are looked at together; more of them one group after another.
const TOGETHER: usize = 3;

/// What a choice costs: parts lost that the music needs, spare ones, playing lost, and pieces sat out.
type Cost = (usize, usize, Tenths, usize);

/// Marks as out, in the pieces where that loses least, whoever has at most so many pieces. Of all ways to choose the
/// pieces the best is taken; where several are as good, one with the fewest pieces sat out.
pub(super) fn leave_out(
    questions: &mut [Option<Question>],
    who: &[Vec<usize>],
    players: usize,
    limits: Limits<'_>,
) {
    let few: Vec<(usize, usize, Whose)> = (0..players)
        .filter_map(|player| {
            let words = questions.iter().zip(who).filter_map(|(question, who)| {
                let seat = who.iter().position(|at| *at == player)?;
                let said = question
                    .as_ref()?
                    .most_pieces
                    .iter()
                    .find(|(at, ..)| *at == seat)?;
                Some((usize::try_from(said.1).ok()?, said.2))
            });
            let (most, whose) = words.min()?;
            Some((player, most, whose))
        })
        .collect();
    for group in few.chunks(TOGETHER) {
        for_group(questions, who, group, limits);
    }
}

fn for_group(
    questions: &mut [Option<Question>],
    who: &[Vec<usize>],
    group: &[(usize, usize, Whose)],
    limits: Limits<'_>,
) {
    let most: Vec<usize> = group.iter().map(|(_, most, _)| *most).collect();
    // For each way to have spent what everybody has: the best cost, and the sets of players left out, piece by piece.
    let mut ways: BTreeMap<Vec<usize>, (Cost, Vec<u32>)> = BTreeMap::new();
    ways.insert(vec![0; group.len()], (Cost::default(), Vec::new()));
    for (question, who) in questions.iter().zip(who) {
        let seats: Vec<Option<usize>> = group
            .iter()
            .map(|(player, ..)| who.iter().position(|at| at == player))
            .collect();
        let mut next: BTreeMap<Vec<usize>, (Cost, Vec<u32>)> = BTreeMap::new();
        for out in 0..1u32 << group.len() {
            let is_out = |at: usize| out >> at & 1 == 1;
            let there = |at: usize| {
                let seat = seats.get(at).copied().flatten();
                let player = seat.and_then(|seat| question.as_ref()?.players.get(seat));
                player.is_some_and(|player| !player.absent)
            };
            // Who is not there anyway is neither left out nor counted.
            if (0..group.len()).any(|at| is_out(at) && !there(at)) {
                continue;
            }
            let lost = question
                .as_ref()
                .map_or(Cost::default(), |question| lost(question, &seats, out, limits));
            for (spent, (cost, outs)) in &ways {
                let mut spent = spent.clone();
                for (at, spent) in spent.iter_mut().enumerate() {
                    *spent += usize::from(there(at) && !is_out(at));
                }
                if spent.iter().zip(&most).any(|(spent, most)| spent > most) {
                    continue;
                }
                let cost = (
                    cost.0 + lost.0,
                    cost.1 + lost.1,
                    cost.2.saturating_add(lost.2),
                    cost.3 + lost.3,
                );
                if next.get(&spent).is_none_or(|known| cost < known.0) {
                    let mut outs = outs.clone();
                    outs.push(out);
                    next.insert(spent, (cost, outs));
                }
            }
        }
        ways = next;
    }
    let Some((_, outs)) = ways.into_values().min() else {
        return;
    };
    for ((question, who), out) in questions.iter_mut().zip(who).zip(outs) {
        for (at, (player, _, whose)) in group.iter().enumerate() {
            let seat = who.iter().position(|one| one == player);
            if let (Some(question), Some(seat), true) = (question.as_mut(), seat, out >> at & 1 == 1) {
                question.leave_out(seat);
                question.out.push((seat, *whose));
            }
        }
    }
}

/// What a piece loses without some of these players.
fn lost(question: &Question, seats: &[Option<usize>], out: u32, limits: Limits<'_>) -> Cost {
    let mut players = question.players.clone();
    for (at, seat) in seats.iter().enumerate() {
        if let Some(player) = seat
            .filter(|_| out >> at & 1 == 1)
            .and_then(|seat| players.get_mut(seat))
        {
            player.absent = true;
        }
    }
    let left = assign::leave_out(&question.music, &players, false, limits);
    let all = left.vital.iter().chain(&left.spare);
    let time = all
        .filter_map(|part| question.music.parts.get(*part))
        .map(assign::Part::plays);
    (
        left.vital.len(),
        left.spare.len(),
        time.fold(0, Tenths::saturating_add),
        out.count_ones() as usize,
    )
}
