//! What stands beside the best program: what each demand costs, what the best pieces that are not on it would cost,
//! and the next best programs that truly differ. All of it by solving again, so that every figure is exact.

use crate::catalogue::EntryId;
use crate::catalogue::conditions::Condition;
use crate::text::sentences::joined;

use super::core::Found;
use super::demand::Demand;
use super::model::{Also, Model};
use super::program::{Answered, answered};
use super::{GivenUp, LeftOut, Other};

/// Steps for looking at what a demand or a piece costs.
const STEPS: u64 = 200_000;
/// So many seconds more are tried where the length is a limit.
const MORE_TIME: u32 = 5 * 60;
/// So many of the best pieces that are not on the program are looked at.
const MOST_LEFT_OUT: usize = 3;
/// So many are tried.
const MOST_TRIED: usize = 8;

fn all(model: &Model<'_>) -> Vec<usize> {
    (0..model.demands.len()).collect()
}

fn names(model: &Model<'_>, at: impl Iterator<Item = usize>) -> Vec<String> {
    at.filter_map(|at| Some(model.pieces.get(at)?.name.clone()))
        .collect()
}

/// What each demand costs: the best program without it, or for the length with some minutes more; and whether all of
/// them were looked at to the end.
pub(super) fn given_up(model: &Model<'_>, chosen: &[usize], value: i64) -> (Vec<GivenUp>, bool) {
    let mut found = Vec::new();
    let mut in_full = true;
    let all = all(model);
    for (number, demand) in model.demands.iter().enumerate() {
        let others: Vec<usize> = all.iter().copied().filter(|at| *at != number).collect();
        let (how, without) = match demand {
            Demand::Pieces(_) => continue,
            // Of a longer evening nobody would say that it has no end.
            Demand::Length { .. } => {
                let how = format!("With {} minutes more", MORE_TIME / 60);
                let longer = Also {
                    more: MORE_TIME,
                    ..Also::default()
                };
                (how, model.within(&all, longer, STEPS))
            }
            Demand::Keep(titles) => {
                let titles: Vec<String> = titles.iter().map(|title| format!("\"{title}\"")).collect();
                let how = format!("Without {} on the program", joined(&titles));
                (how, model.best(&others, STEPS))
            }
            demand => {
                let says = demand.says();
                let how = match says.contains('"') {
                    true => format!("Without {says}"),
                    false => format!("Without \"{says}\""),
                };
                (how, model.best(&others, STEPS))
            }
        };
        in_full &= without.proven();
        let points = without.value.saturating_sub(value);
        if points > 0 {
            let come = without.chosen.iter().flatten().copied();
            found.push(GivenUp {
                how,
                points,
                pieces: names(model, come.filter(|at| !chosen.contains(at))),
            });
        }
    }
    found.sort_by(|one, other| other.points.cmp(&one.points).then(one.how.cmp(&other.how)));
    (found, in_full)
}

/// The best pieces that could be on the program and are not: what the best program with each of them is worth less,
/// and what it would have to do without.
pub(super) fn left_out(model: &Model<'_>, chosen: &[usize], value: i64) -> Vec<LeftOut> {
    let id = |at: usize| model.pieces.get(at).map(|piece| piece.subject.id);
    let worth = |at: usize| model.pieces.get(at).map_or(0, |piece| piece.value());
    let is_free = |at: &&usize| model.pieces.get(**at).is_some_and(|piece| !piece.pinned);
    let least = chosen
        .iter()
        .filter(is_free)
        .map(|at| worth(*at))
        .min()
        .unwrap_or(0);
    let mut out: Vec<usize> = (0..model.pieces.len())
        .filter(|at| worth(*at) >= least && !chosen.iter().any(|one| id(*one) == id(*at)))
        .collect();
    out.sort_by_key(|at| (-worth(*at), *at));
    let mut seen: Vec<Option<EntryId>> = Vec::new();
    let mut found: Vec<LeftOut> = Vec::new();
    for at in out {
        let fit = found.iter().filter(|one| one.points.is_some()).count();
        if fit >= MOST_LEFT_OUT || seen.len() >= MOST_TRIED {
            break;
        }
        if seen.contains(&id(at)) {
            continue;
        }
        seen.push(id(at));
        // Whichever band plays it.
        let each = (0..model.pieces.len()).filter(|other| id(*other) == id(at));
        let fits: Vec<usize> = each
            .filter(|one| matches!(answered(model, *one), Answered::Fits))
            .collect();
        let tried: Vec<(usize, Found)> = fits
            .into_iter()
            .map(|one| {
                let with = Also {
                    with: Some(one),
                    ..Also::default()
                };
                (one, model.within(&all(model), with, STEPS))
            })
            .collect();
        // What was not looked at to the end is not told.
        if tried.iter().any(|(_, found)| !found.proven()) {
            continue;
        }
        let best = tried.iter().max_by_key(|(one, found)| {
            let value = found.chosen.as_ref().map(|_| found.value);
            (value, std::cmp::Reverse(*one))
        });
        let Some((one, best)) = best else { continue };
        let Some(piece) = model.pieces.get(*one) else {
            continue;
        };
        let (points, instead_of) = match &best.chosen {
            Some(other) => {
                let gone = chosen.iter().copied().filter(|one| !other.contains(one));
                (Some(value.saturating_sub(best.value)), names(model, gone))
            }
            None => (None, Vec::new()),
        };
        found.push(LeftOut {
            name: piece.name.clone(),
            worth: piece.value(),
            against: points.is_none().then(|| against(model, *one)).flatten(),
            points,
            instead_of,
        });
    }
    found.sort_by_key(|one| one.points.is_none());
    found
}

/// The one demand that a piece breaks beside the pieces that are kept.
fn against(model: &Model<'_>, at: usize) -> Option<String> {
    let numbers = || model.demands.iter().enumerate();
    let kept: Vec<usize> = numbers()
        .filter(|(_, demand)| matches!(demand, Demand::Keep(_) | Demand::One(_)))
        .map(|(number, _)| number)
        .collect();
    let any = Also {
        with: Some(at),
        any: true,
        ..Also::default()
    };
    let alone = numbers().find(|(number, demand)| {
        if matches!(demand, Demand::Keep(_) | Demand::One(_)) {
            return false;
        }
        let active = [kept.as_slice(), &[*number]].concat();
        let found = model.within(&active, any, STEPS);
        found.chosen.is_none() && found.proven()
    });
    alone.map(|(_, demand)| demand.says())
}

/// What is preferred and met by no piece of the program.
pub(super) fn not_preferred(model: &Model<'_>, prefer: &[Condition], chosen: &[usize]) -> Vec<String> {
    let pieces = || chosen.iter().filter_map(|at| model.pieces.get(*at));
    let met =
        |one: &Condition| pieces().any(|piece| model.asked_of(piece).piece(one, &piece.subject).is_yes());
    let missed = prefer.iter().filter(|one| !met(one));
    missed.map(ToString::to_string).collect()
}

/// The next best programs that truly differ: of the pieces that the director left open at most half come again from
/// the best program, and from each that was found before, and something new comes in.
pub(super) fn others(model: &Model<'_>, chosen: &[usize], wanted: usize, steps: u64) -> Vec<Other> {
    let is_free = |at: &usize| model.pieces.get(*at).is_some_and(|piece| !piece.pinned);
    let free = |chosen: &[usize]| -> Vec<EntryId> {
        let free = chosen.iter().copied().filter(is_free);
        free.filter_map(|at| Some(model.pieces.get(at)?.subject.id))
            .collect()
    };
    let all = all(model);
    let mut differs: Vec<(Vec<EntryId>, usize)> = Vec::new();
    let add = |ids: Vec<EntryId>, differs: &mut Vec<(Vec<EntryId>, usize)>| {
        let most = ids.len() / 2;
        differs.push((ids, most));
    };
    add(free(chosen), &mut differs);
    let mut found: Vec<Other> = Vec::new();
    while found.len() < wanted && differs.last().is_some_and(|(ids, _)| !ids.is_empty()) {
        let also = Also {
            differs: &differs,
            ..Also::default()
        };
        let next = model.within(&all, also, steps);
        let Some(other) = &next.chosen else { break };
        found.push(Other {
            value: next.value,
            proven: next.proven(),
            comes: names(model, other.iter().copied().filter(|at| !chosen.contains(at))),
            goes: names(model, chosen.iter().copied().filter(|at| !other.contains(at))),
        });
        add(free(other), &mut differs);
    }
    found
}
