//! A program drafted from what a concert calls for.

use crate::catalogue::conditions::{Condition, Subject, Verdict, of_field};
use crate::catalogue::course::Course;
use crate::catalogue::model::Piece;
use crate::catalogue::{Entry, EntryId};
use crate::notation::Kind;
use crate::planning::fitting::asking;

use super::super::Place;

/// How many pieces a concert without a length is given.
const FEW: usize = 4;

/// The most cards that are looked at.
const MOST: usize = 2000;

/// The titles of a program, in quotation marks, that meets the conditions as far as the shelf allows: pieces of
/// which every condition surely holds; first those that the counts need, then what still fits the length.
pub(super) fn choose(place: &Place<'_>) -> Option<Vec<String>> {
    let snapshot = place.snapshot;
    let concert = place.entry.concert()?;
    let own = of_field(place.snapshot, place.text(), &concert.calls_for);
    let asked = asking(snapshot);
    let opened = asked.opened(&own);
    let conditions: Vec<&Condition> = opened.iter().map(|(_, condition, _)| condition).collect();
    let (counts, each): (Vec<&Condition>, Vec<&Condition>) =
        conditions.into_iter().partition(|one| one.counts());
    let fits = |subject: &Subject<'_>| each.iter().all(|one| asked.piece(one, subject).is_yes());
    let all: Vec<(EntryId, &Entry, Subject<'_>)> = snapshot
        .entries()
        .filter(|(_, entry)| entry.kind == Some(Kind::Piece) && !entry.name.is_empty())
        .take(MOST)
        .filter_map(|(id, entry)| Some((id, &**entry, Subject::of(id, entry)?)))
        .filter(|(_, _, subject)| fits(subject))
        .collect();
    let limit = concert.length.as_ref().map(|said| said.value.high.seconds());
    let gap = concert
        .between
        .as_ref()
        .map_or(0, |said| said.value.high.seconds());
    let mut chosen: Vec<usize> = Vec::new();
    let mut used = 0u32;
    let mut take = |number: usize, chosen: &mut Vec<usize>| -> bool {
        let Some((_, _, subject)) = all.get(number) else {
            return false;
        };
        let before = if chosen.is_empty() { 0 } else { gap };
        let more = match (limit, seconds(subject.piece)) {
            (Some(_), None) => return false,
            (_, length) => length.unwrap_or(0).saturating_add(before),
        };
        let sum = used.saturating_add(more);
        if chosen.contains(&number) || limit.is_some_and(|limit| sum > limit) {
            return false;
        }
        used = sum;
        chosen.push(number);
        true
    };
    let misses = |chosen: &[usize]| {
        let pieces: Vec<Option<Subject<'_>>> = chosen
            .iter()
            .filter_map(|at| all.get(*at))
            .map(|(_, _, subject)| Some(*subject))
            .collect();
        counts
            .iter()
            .filter(|one| !matches!(asked.program(one, &pieces), Verdict::Met))
            .count()
    };
    // Each piece in turn that brings the program nearer to its counts.
    let mut missing = misses(&chosen);
    let mut last = usize::MAX;
    while missing > 0 && missing < last {
        last = missing;
        for number in 0..all.len() {
            let mut tried = chosen.clone();
            tried.push(number);
            if !chosen.contains(&number) && misses(&tried) < missing && take(number, &mut chosen) {
                missing = misses(&chosen);
                break;
            }
        }
    }
    for number in 0..all.len() {
        let enough = limit.is_none() && chosen.len() >= FEW;
        let mut tried = chosen.clone();
        tried.push(number);
        if !enough && misses(&tried) <= missing {
            take(number, &mut chosen);
        }
    }
    let titles: Vec<String> = chosen
        .iter()
        .filter_map(|at| all.get(*at))
        .map(|(_, entry, _)| {
            let twins = snapshot.names().of(Kind::Piece, &entry.name).count();
            let by = entry.piece().and_then(|piece| piece.by.first());
            let last = by.and_then(|person| person.name.split_whitespace().last());
            match last {
                Some(last) if twins > 1 => format!("\"{}\" by {last}", entry.name),
                _ => format!("\"{}\"", entry.name),
            }
        })
        .collect();
    (!titles.is_empty()).then_some(titles)
}

/// How long a piece lasts, as its card says or as it comes out of its measures, in seconds.
fn seconds(piece: &Piece) -> Option<u32> {
    let said = piece.lasts.as_ref().map(|lasts| lasts.value.high.seconds());
    said.or_else(|| Some(Course::of(piece).lasting().ok()?.lasting.clocks().1.seconds()))
}
