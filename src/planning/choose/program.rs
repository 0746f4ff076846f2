//! A program in words: its order, what it buys and teaches, and what was left aside for it.

use std::collections::{BTreeMap, BTreeSet};

use crate::catalogue::conditions::Truth;
use crate::catalogue::{EntryId, Snapshot};
use crate::planning::find::plainly;
use crate::planning::remembered::remembered;

use super::demand::Demand;
use super::model::Model;
use super::order::{self, Traits};
use super::pool::Candidate;
use super::{Pick, Program};

/// The pieces in order: band after band as the program has them, each band's in the best order that keeps what the
/// director has put there in its own; and whether all of that is the best there is.
fn in_order(model: &Model<'_>, chosen: &[usize], bands: usize) -> (Vec<usize>, bool) {
    let piece = |at: usize| model.pieces.get(at);
    let band_of = |at: usize| piece(at).and_then(|piece| piece.band);
    let is_pinned = |at: usize| piece(at).is_some_and(|piece| piece.pinned);
    // A band may come up more than once.
    let mut runs: Vec<(Option<usize>, Vec<usize>)> = Vec::new();
    let mut run_of: BTreeMap<usize, usize> = BTreeMap::new();
    for at in chosen.iter().copied().filter(|at| is_pinned(*at)) {
        if runs.last().is_none_or(|(band, _)| *band != band_of(at)) {
            runs.push((band_of(at), Vec::new()));
        }
        run_of.insert(at, runs.len() - 1);
    }
    let each: Vec<Option<usize>> = (0..bands).map(Some).chain([None]).collect();
    for band in &each {
        if !runs.iter().any(|(known, _)| known == band) {
            runs.push((*band, Vec::new()));
        }
    }
    let mut ordered = true;
    for band in each {
        let own: Vec<usize> = chosen.iter().copied().filter(|at| band_of(*at) == band).collect();
        let traits: Vec<Traits> = own
            .iter()
            .filter_map(|at| piece(*at))
            .map(|piece| Traits::of(&model.asked_of(piece), &piece.subject))
            .collect();
        let fixed: Vec<usize> = (0..own.len())
            .filter(|place| own.get(*place).is_some_and(|at| is_pinned(*at)))
            .collect();
        let best = order::best(&traits, &fixed);
        ordered &= best.is_some();
        let best = best.unwrap_or_else(|| (0..own.len()).collect());
        let mut run = runs.iter().position(|(known, _)| *known == band);
        for at in best.into_iter().filter_map(|place| own.get(place).copied()) {
            run = run_of.get(&at).copied().or(run);
            if let Some((_, list)) = run.and_then(|run| runs.get_mut(run)) {
                list.push(at);
            }
        }
    }
    (runs.into_iter().flat_map(|(_, list)| list).collect(), ordered)
}

/// The program of some pieces.
pub(super) fn program(
    snapshot: &Snapshot,
    model: &Model<'_>,
    bands: &[EntryId],
    chosen: &[usize],
    value: i64,
    bound: i64,
) -> Program {
    let (order, ordered) = in_order(model, chosen, bands.len());
    let band_of = |piece: &Candidate<'_>| piece.band.and_then(|at| bands.get(at)).copied();
    let picks: Vec<Pick> = order
        .iter()
        .filter_map(|at| {
            let piece = model.pieces.get(*at)?;
            pick(snapshot, model, *at, band_of(piece))
        })
        .collect();
    let music = picks.iter().filter_map(|pick| pick.seconds).sum();
    let between = model.demands.iter().find_map(|demand| match demand {
        Demand::Length { between, .. } => Some(*between),
        _ => None,
    });
    let gaps = u32::try_from(picks.len().saturating_sub(1)).unwrap_or(0);
    let pieces: Vec<&Candidate<'_>> = order.iter().filter_map(|at| model.pieces.get(*at)).collect();
    let purchase = model.offers.as_ref().and_then(|offers| {
        let needed = pieces.iter().filter(|piece| piece.to_buy == Some(true));
        let needed: Vec<EntryId> = needed
            .map(|piece| piece.subject.id)
            .filter(|id| offers.sells(*id))
            .collect();
        let purchase = offers.cheapest(&needed).filter(|_| !needed.is_empty())?;
        let bought = purchase
            .offers
            .iter()
            .filter_map(|at| offers.all.get(*at).cloned());
        Some((bought.collect(), purchase))
    });
    let skills: BTreeSet<(Option<EntryId>, &String)> = pieces
        .iter()
        .flat_map(|piece| {
            let band = band_of(piece);
            piece.new_skills.iter().flatten().map(move |skill| (band, skill))
        })
        .collect();
    Program {
        picks,
        value,
        bound,
        music,
        gaps: gaps.saturating_mul(between.unwrap_or(0)),
        ordered,
        purchase,
        new_skills: skills
            .into_iter()
            .map(|(band, skill)| skill_words(snapshot, band, skill))
            .collect(),
        given_up: Vec::new(),
        given_up_in_full: true,
        others: Vec::new(),
        left_out: Vec::new(),
        not_preferred: Vec::new(),
    }
}

/// A skill as it is written, with the band that has to learn it where each band plays its own pieces.
pub(super) fn skill_words(snapshot: &Snapshot, band: Option<EntryId>, skill: &str) -> String {
    let written = snapshot.ladder().written(skill);
    match band.and_then(|id| snapshot.entry(id)) {
        Some(band) => format!("{written} ({})", band.name),
        None => written,
    }
}

fn pick(snapshot: &Snapshot, model: &Model<'_>, at: usize, band: Option<EntryId>) -> Option<Pick> {
    let piece = model.pieces.get(at)?;
    let mut unsure: Vec<String> = Vec::new();
    let mut misses = Vec::new();
    for (number, demand) in model.demands.iter().enumerate() {
        match model.answer(number, at) {
            Some(Truth::Unknown(what)) if !unsure.contains(what) => unsure.push(what.clone()),
            Some(Truth::No(why)) => misses.push((demand.says(), plainly(why))),
            _ => {}
        }
    }
    Some(Pick {
        id: piece.subject.id,
        band,
        movements: piece.subject.movements.to_vec(),
        name: piece.name.clone(),
        kept: piece.pinned || piece.kept,
        seconds: piece.seconds,
        points: piece.points.clone(),
        unsure,
        misses,
        remembered: remembered(snapshot, &piece.subject),
    })
}

/// Pieces that a demand rules out: the demand, and the pieces with the reason.
pub type RuledOut = Vec<(String, Vec<(String, String)>)>;
/// Pieces of which something is not known, with what.
pub type Apart = Vec<(String, Vec<String>)>;

/// The pieces that are ruled out, by the first demand that does, and those of which something is not known. Where
/// several bands play, a piece that one of them could play is neither.
pub(super) fn left_aside(model: &Model<'_>) -> (RuledOut, Apart) {
    let mut ruled_out: RuledOut = Vec::new();
    let mut apart = Vec::new();
    let mut places: Vec<(EntryId, Vec<usize>)> = Vec::new();
    let mut known: BTreeMap<EntryId, usize> = BTreeMap::new();
    for (at, piece) in model.pieces.iter().enumerate().filter(|(_, piece)| !piece.pinned) {
        let place = *known.entry(piece.subject.id).or_insert_with(|| {
            places.push((piece.subject.id, Vec::new()));
            places.len() - 1
        });
        if let Some((_, list)) = places.get_mut(place) {
            list.push(at);
        }
    }
    for (_, list) in places {
        let answers: Vec<(usize, Answered)> = list.iter().map(|at| (*at, answered(model, *at))).collect();
        if answers.iter().any(|(_, answer)| matches!(answer, Answered::Fits)) {
            continue;
        }
        let open = answers
            .iter()
            .position(|(_, answer)| matches!(answer, Answered::Open(_)));
        let Some((at, answer)) = answers.into_iter().nth(open.unwrap_or(0)) else {
            continue;
        };
        let Some(name) = model.pieces.get(at).map(|piece| piece.name.clone()) else {
            continue;
        };
        match answer {
            Answered::Fits => {}
            Answered::Open(missing) => apart.push((name, missing)),
            Answered::Out(says, why) => match ruled_out.iter_mut().find(|(known, _)| *known == says) {
                Some((_, pieces)) => pieces.push((name, why)),
                None => ruled_out.push((says, vec![(name, why)])),
            },
        }
    }
    (ruled_out, apart)
}

/// What a piece answers to all demands together.
pub(super) enum Answered {
    /// It may be chosen.
    Fits,
    /// Something is not known.
    Open(Vec<String>),
    /// A demand rules it out: the demand, and why.
    Out(String, String),
}

/// What a piece answers to all demands together.
pub(super) fn answered(model: &Model<'_>, at: usize) -> Answered {
    let mut missing: Vec<String> = Vec::new();
    for (number, demand) in model.demands.iter().enumerate() {
        match model.answer(number, at) {
            Some(Truth::No(why)) => return Answered::Out(demand.says(), plainly(why)),
            Some(Truth::Unknown(what)) if !demand.is_lenient() && !missing.contains(what) => {
                missing.push(what.clone());
            }
            _ => {}
        }
    }
    match missing.is_empty() {
        true => Answered::Fits,
        false => Answered::Open(missing),
    }
}
