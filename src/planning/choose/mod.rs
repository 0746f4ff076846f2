//! Building a concert: which pieces, and in which order. Exact, with a proven bound.
//!
//! What is asked becomes [`Demand`]s; [`pool`] asks each piece, [`model`] hands what remains to the exact
//! [`core`], [`order`] puts the pieces in order, and [`clash`] says what cannot hold together.

mod clash;
pub mod core;
mod demand;
mod model;
pub mod offers;
pub mod order;
mod pool;
pub mod season;
#[cfg(test)]
mod tests;

pub use clash::Clash;
pub use demand::Demand;
pub use offers::{Offer, Purchase};
pub use pool::{A_MINUTE, PREFERRED, WANTED};

use std::collections::BTreeSet;

use crate::catalogue::conditions::{Condition, Facet, Subject, Term, Truth, lasts, of_field};
use crate::catalogue::{EntryId, Snapshot};
use crate::notation::values::Money;
use crate::planning::find::{pieces, plainly};
use crate::planning::fitting::asking_for;
use crate::text::sentences::joined;

use model::Model;
use offers::{Offers, Postage};
use order::Traits;
use pool::{Candidate, candidate};

/// Far more steps than the shelf of a school band needs.
const STEPS: u64 = 3_000_000;
/// Steps for looking at what a demand costs.
const STEPS_WITHOUT: u64 = 200_000;
/// A concert of no given length is given so many pieces.
const FEW: usize = 4;

/// What is asked for.
#[derive(Debug, Clone, Default)]
pub struct Wish<'w> {
    /// The concert, where there is a card.
    pub concert: Option<EntryId>,
    /// The bands that play together.
    pub bands: &'w [EntryId],
    /// Conditions beside those of the concert's card.
    pub conditions: Vec<Condition>,
    /// Conditions that make a piece worth more.
    pub prefer: Vec<Condition>,
    /// Pieces to keep beside those of the program.
    pub keep: Vec<EntryId>,
    /// Pieces that are not wanted.
    pub without: Vec<EntryId>,
    /// How long it may last in seconds; the card's length where that is none.
    pub length: Option<u32>,
    /// Seconds between two pieces; the card's where that is none.
    pub between: Option<u32>,
    /// What may be spent.
    pub budget: Option<Money>,
    /// What each seller takes for an order, in hundredths of the budget's currency; what the handbook says where
    /// that is none.
    pub postage: Option<u64>,
    /// How many new skills at most.
    pub new_skills: Option<u32>,
    /// How many years a piece rests; 0 for none.
    pub rests: u32,
    /// Whether pieces may be alike in style, key and composer.
    pub alike: bool,
    /// How many steps the search may take; far more than usual where that is none.
    pub steps: Option<u64>,
    /// Whether only the program is wanted, and not what the limits cost nor why there is none.
    pub briefly: bool,
}

/// So many years a piece rests after a performance where nothing else is said (common practice, no source).
pub const RESTS: u32 = 2;

impl<'w> Wish<'w> {
    /// What is asked for where a director says nothing more.
    pub fn usual(bands: &'w [EntryId]) -> Wish<'w> {
        Wish {
            bands,
            rests: RESTS,
            ..Wish::default()
        }
    }
}

/// The bands that play a concert together: those on its card, else the usual one.
pub fn bands_of(snapshot: &Snapshot, concert: EntryId) -> Vec<EntryId> {
    let card = snapshot.entry(concert).and_then(|entry| entry.concert());
    let said = card.map_or(&[][..], |card| card.bands.as_slice());
    match said.is_empty() {
        // Bands of a handbook do not play together.
        true => snapshot.usual_bands().into_iter().take(1).collect(),
        false => said
            .iter()
            .filter_map(|band| snapshot.ensemble_named(&band.value.name))
            .collect(),
    }
}

/// The seconds that a concert's program leaves free; none where the length of something is not known.
pub fn left_over(snapshot: &Snapshot, concert: EntryId) -> Option<u32> {
    let bands = bands_of(snapshot, concert);
    let wish = Wish {
        concert: Some(concert),
        ..Wish::usual(&bands)
    };
    let length = demands(snapshot, &wish)
        .into_iter()
        .find_map(|demand| match demand {
            Demand::Length { allowed, between } => Some((allowed, between)),
            _ => None,
        });
    let (allowed, between) = length?;
    let mut taken = 0u32;
    for piece in kept(snapshot, &wish) {
        let subject = Subject {
            movements: piece.1,
            ..Subject::of(piece.0, snapshot.entry(piece.0)?)?
        };
        let (_, high) = lasts(&subject)?;
        taken = taken
            .saturating_add(u32::try_from(high).unwrap_or(u32::MAX))
            .saturating_add(between);
    }
    Some(allowed.saturating_sub(taken))
}

/// A piece of the program.
#[derive(Debug, Clone, PartialEq)]
pub struct Pick {
    /// The piece.
    pub id: EntryId,
    /// Its title, with who wrote it where several share it.
    pub name: String,
    /// Whether the director had put it there.
    pub kept: bool,
    /// The longest it may last, in seconds.
    pub seconds: Option<u32>,
    /// What it is worth, with the reasons.
    pub points: Vec<(i64, String)>,
    /// What is not known of it though it was asked.
    pub unsure: Vec<String>,
    /// The demands that it misses; only a piece that was kept does.
    pub misses: Vec<(String, String)>,
}

/// A demand with what it costs.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct GivenUp {
    /// Without what, in words that can begin a sentence: `Without "up to 3 flats"`.
    pub how: String,
    /// So many points more there would be.
    pub points: i64,
    /// The pieces that would come in.
    pub pieces: Vec<String>,
}

/// A program.
#[derive(Debug, Clone, PartialEq)]
pub struct Program {
    /// The pieces in order.
    pub picks: Vec<Pick>,
    /// What it is worth.
    pub value: i64,
    /// No program is worth more than this.
    pub bound: i64,
    /// Seconds of music, of the pieces of which that is known.
    pub music: u32,
    /// Seconds between the pieces.
    pub gaps: u32,
    /// Whether the order is the best there is; false for a program too long to be put in order.
    pub ordered: bool,
    /// What has to be bought: the offers, and what they cost.
    pub purchase: Option<(Vec<Offer>, Purchase)>,
    /// The skills that are new to the band, by name.
    pub new_skills: Vec<String>,
    /// What the demands cost, the dearest first.
    pub given_up: Vec<GivenUp>,
    /// Whether every demand was looked at so.
    pub given_up_in_full: bool,
}

/// What came of a wish.
#[derive(Debug, Clone, PartialEq)]
pub struct Choice {
    /// The demands in words.
    pub demands: Vec<String>,
    /// How long it may last, in seconds.
    pub allowed: Option<u32>,
    /// The program, or why there is none.
    pub outcome: Outcome,
    /// Pieces that a demand rules out: the demand, and the pieces with the reason.
    pub ruled_out: Vec<(String, Vec<(String, String)>)>,
    /// Pieces that were not looked at because something is not known, with what.
    pub apart: Vec<(String, Vec<String>)>,
}

/// Whether there is a program.
#[derive(Debug, Clone, PartialEq)]
pub enum Outcome {
    /// The best that was found.
    Program(Box<Program>),
    /// There is none: these demands cannot hold together, and whether no smaller set clashes.
    Clash(Vec<String>, bool),
    /// None was found in the steps there are, and none is ruled out.
    NotFound,
}

/// Builds a concert.
pub fn choose(snapshot: &Snapshot, wish: &Wish<'_>) -> Choice {
    let demands = demands(snapshot, wish);
    let candidates = candidates(snapshot, wish);
    let offers = wish.budget.as_ref().map(|money| {
        let ids: Vec<EntryId> = candidates.iter().map(|piece| piece.subject.id).collect();
        let said = || Postage::of(snapshot, &money.currency).0;
        let postage = wish.postage.map_or_else(said, Postage::of_all);
        Offers::of(snapshot, &ids, &money.currency, postage)
    });
    let model = Model::new(asking_for(snapshot, wish.bands), demands, candidates, offers);
    let all: Vec<usize> = (0..model.demands.len()).collect();
    let found = model.best(&all, wish.steps.unwrap_or(STEPS), false);
    let outcome = match (&found.chosen, found.bound) {
        (Some(chosen), bound) => {
            let bound = bound.unwrap_or(found.value);
            let mut program = program(snapshot, &model, chosen, found.value, bound);
            if !wish.briefly {
                (program.given_up, program.given_up_in_full) = given_up(&model, chosen, found.value);
            }
            Outcome::Program(Box::new(program))
        }
        (None, None) if wish.briefly => Outcome::NotFound,
        (None, None) => match clash::clash(&model) {
            Some(Clash { demands, smallest }) => {
                let says = |at: &usize| model.demands.get(*at).map(Demand::says);
                Outcome::Clash(demands.iter().filter_map(says).collect(), smallest)
            }
            None => Outcome::NotFound,
        },
        (None, Some(_)) => Outcome::NotFound,
    };
    let (ruled_out, apart) = left_aside(&model);
    Choice {
        demands: model.demands.iter().map(Demand::says).collect(),
        allowed: model.demands.iter().find_map(|demand| match demand {
            Demand::Length { allowed, .. } => Some(*allowed),
            _ => None,
        }),
        outcome,
        ruled_out,
        apart,
    }
}

fn demands(snapshot: &Snapshot, wish: &Wish<'_>) -> Vec<Demand> {
    let mut demands = Vec::new();
    let card = wish.concert.and_then(|id| snapshot.entry(id));
    let concert = card.and_then(|entry| entry.concert());
    let asked = asking_for(snapshot, wish.bands);
    let kept = kept(snapshot, wish);
    let titles: Vec<String> = kept
        .iter()
        .filter_map(|(id, _)| snapshot.entry(*id))
        .map(|entry| entry.name.clone())
        .collect();
    if !titles.is_empty() {
        demands.push(Demand::Keep(titles));
    }
    let own = match (card, concert) {
        (Some(entry), Some(concert)) => of_field(snapshot, &entry.text, &concert.calls_for),
        _ => Vec::new(),
    };
    let all: Vec<Condition> = own.into_iter().chain(wish.conditions.iter().cloned()).collect();
    for (_, condition, under) in asked.opened(&all) {
        // What is not understood is told elsewhere, and holds nobody back.
        if condition.is_heard() {
            demands.push(Demand::Condition { condition, under });
        }
    }
    let says = |wanted: fn(&Term) -> bool| {
        demands.iter().any(|demand| match demand {
            Demand::Condition { condition, .. } => holds_term(condition, wanted),
            _ => false,
        })
    };
    let performed = says(|term| matches!(term, Term::Performed(_)));
    let sized = demands.iter().any(|demand| demand.pieces().is_some());
    let all_lasts = says(|term| matches!(term, Term::LengthInAll(_)));
    if wish.rests > 0 && !performed {
        demands.push(Demand::Rested(wish.rests));
    }
    match &wish.budget {
        Some(money) => demands.push(Demand::Budget(money.clone())),
        None => demands.push(Demand::OnTheShelf),
    }
    let between = wish
        .between
        .or_else(|| Some(concert?.between.as_ref()?.value.high.seconds()));
    let allowed = wish.length.or_else(|| {
        let concert = concert?;
        let whole = concert
            .length
            .as_ref()
            .filter(|said| !said.open)?
            .value
            .high
            .seconds();
        // A warm-up or an intermission in the program takes what its row says.
        let taken = concert.interludes.iter().map(|lasts| lasts.high.seconds()).sum();
        Some(whole.saturating_sub(taken))
    });
    match allowed {
        Some(allowed) => demands.push(Demand::Length {
            allowed,
            between: between.unwrap_or(0),
        }),
        None if !sized && !all_lasts => demands.push(Demand::Pieces(FEW.max(kept.len()))),
        None => {}
    }
    if let Some(most) = wish.new_skills {
        demands.push(Demand::NewSkills(most));
    }
    if !wish.alike {
        demands.push(Demand::Alike(Facet::Style, 2));
        demands.push(Demand::Alike(Facet::Key, 2));
        demands.push(Demand::Alike(Facet::Composer, 2));
    }
    // It takes by far the most work, so that it is asked last, of those that nothing else rules out.
    demands.push(Demand::Covered);
    demands
}

fn holds_term(condition: &Condition, wanted: fn(&Term) -> bool) -> bool {
    match &condition.term {
        Term::Not(inner) | Term::Only(inner) => holds_term(inner, wanted),
        Term::Any(all) => all.iter().any(|one| holds_term(one, wanted)),
        term => wanted(term),
    }
}

/// The pieces of the program and those to keep, with the movements that are played.
fn kept<'s>(snapshot: &'s Snapshot, wish: &Wish<'_>) -> Vec<(EntryId, &'s [u32])> {
    let concert = wish
        .concert
        .and_then(|id| snapshot.entry(id))
        .and_then(|entry| entry.concert());
    let mut kept: Vec<(EntryId, &[u32])> = Vec::new();
    for subject in concert
        .map(|concert| asking_for(snapshot, &[]).pieces_of(concert))
        .into_iter()
        .flatten()
        .flatten()
    {
        if !kept.iter().any(|(id, _)| *id == subject.id) {
            kept.push((subject.id, subject.movements));
        }
    }
    for id in &wish.keep {
        if !kept.iter().any(|(known, _)| known == id) {
            kept.push((*id, &[]));
        }
    }
    kept
}

fn candidates<'s>(snapshot: &'s Snapshot, wish: &Wish<'_>) -> Vec<Candidate<'s>> {
    let kept = kept(snapshot, wish);
    let subject = |id: EntryId| Subject::of(id, snapshot.entry(id)?);
    let pinned = kept.iter().filter_map(|(id, movements)| {
        let subject = Subject {
            movements,
            ..subject(*id)?
        };
        Some(candidate(snapshot, wish.bands, subject, true, &wish.prefer))
    });
    let others = pieces(snapshot).into_iter().filter(|id| {
        !kept.iter().any(|(known, _)| known == id)
            && !wish.without.contains(id)
            && snapshot.is_judged(*id)
            // A piece that its own card gives to other bands is not for these.
            && is_for(snapshot, *id, wish.bands)
    });
    let others =
        others.filter_map(|id| Some(candidate(snapshot, wish.bands, subject(id)?, false, &wish.prefer)));
    pinned.chain(others).collect()
}

fn is_for(snapshot: &Snapshot, id: EntryId, bands: &[EntryId]) -> bool {
    let piece = snapshot.entry(id).and_then(|entry| entry.piece());
    let own: Vec<EntryId> = piece
        .into_iter()
        .flat_map(|piece| &piece.bands)
        .filter_map(|said| snapshot.ensemble_named(&said.value.name))
        .collect();
    own.is_empty() || bands.iter().any(|band| own.contains(band))
}

/// The pieces that are ruled out, by the first demand that does, and those of which something is not known.
#[allow(clippy::type_complexity)]
fn left_aside(model: &Model<'_>) -> (Vec<(String, Vec<(String, String)>)>, Vec<(String, Vec<String>)>) {
    let mut ruled_out: Vec<(String, Vec<(String, String)>)> = Vec::new();
    let mut apart = Vec::new();
    for (at, piece) in model.pieces.iter().enumerate().filter(|(_, piece)| !piece.pinned) {
        let mut missing: Vec<String> = Vec::new();
        let mut no = None;
        for (number, demand) in model.demands.iter().enumerate() {
            match model.answer(number, at) {
                Some(Truth::No(why)) => {
                    no = Some((demand.says(), plainly(why)));
                    break;
                }
                Some(Truth::Unknown(what)) if !demand.is_lenient() && !missing.contains(what) => {
                    missing.push(what.clone());
                }
                _ => {}
            }
        }
        match no {
            Some((says, why)) => match ruled_out.iter_mut().find(|(known, _)| *known == says) {
                Some((_, pieces)) => pieces.push((piece.name.clone(), why)),
                None => ruled_out.push((says, vec![(piece.name.clone(), why)])),
            },
            None if !missing.is_empty() => apart.push((piece.name.clone(), missing)),
            None => {}
        }
    }
    (ruled_out, apart)
}

fn program(snapshot: &Snapshot, model: &Model<'_>, chosen: &[usize], value: i64, bound: i64) -> Program {
    // The kept pieces stand first among all, in the order of the program, and keep that order.
    let traits: Vec<Traits> = chosen
        .iter()
        .filter_map(|at| model.pieces.get(*at))
        .map(|piece| Traits::of(&model.asked, &piece.subject))
        .collect();
    let fixed: Vec<usize> = chosen
        .iter()
        .enumerate()
        .filter(|(_, at)| model.pieces.get(**at).is_some_and(|piece| piece.pinned))
        .map(|(place, _)| place)
        .collect();
    let order = order::best(&traits, &fixed);
    let ordered = order.is_some();
    let order: Vec<usize> = order
        .unwrap_or_else(|| (0..chosen.len()).collect())
        .into_iter()
        .filter_map(|place| chosen.get(place).copied())
        .collect();
    let picks: Vec<Pick> = order.iter().filter_map(|at| pick(model, *at)).collect();
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
    let skills: BTreeSet<&String> = pieces
        .iter()
        .flat_map(|piece| piece.new_skills.iter().flatten())
        .collect();
    let ladder = snapshot.ladder();
    Program {
        picks,
        value,
        bound,
        music,
        gaps: gaps.saturating_mul(between.unwrap_or(0)),
        ordered,
        purchase,
        new_skills: skills.into_iter().map(|name| ladder.written(name)).collect(),
        given_up: Vec::new(),
        given_up_in_full: true,
    }
}

fn pick(model: &Model<'_>, at: usize) -> Option<Pick> {
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
        name: piece.name.clone(),
        kept: piece.pinned,
        seconds: piece.seconds,
        points: piece.points.clone(),
        unsure,
        misses,
    })
}

/// So many seconds more are tried where the length is a limit.
const MORE_TIME: u32 = 5 * 60;

/// What each demand costs: the best program without it, or for the length with some minutes more.
fn given_up(model: &Model<'_>, chosen: &[usize], value: i64) -> (Vec<GivenUp>, bool) {
    let mut found = Vec::new();
    let mut in_full = true;
    let all: Vec<usize> = (0..model.demands.len()).collect();
    for (number, demand) in model.demands.iter().enumerate() {
        let others: Vec<usize> = all.iter().copied().filter(|at| *at != number).collect();
        let (how, without) = match demand {
            Demand::Pieces(_) => continue,
            // Of a longer evening nobody would say that it has no end.
            Demand::Length { .. } => {
                let how = format!("With {} minutes more", MORE_TIME / 60);
                (how, model.longer(&all, MORE_TIME, STEPS_WITHOUT))
            }
            Demand::Keep(titles) => {
                let titles: Vec<String> = titles.iter().map(|title| format!("\"{title}\"")).collect();
                let how = format!("Without {} on the program", joined(&titles));
                (how, model.best(&others, STEPS_WITHOUT, false))
            }
            demand => {
                let says = demand.says();
                let how = match says.contains('"') {
                    true => format!("Without {says}"),
                    false => format!("Without \"{says}\""),
                };
                (how, model.best(&others, STEPS_WITHOUT, false))
            }
        };
        in_full &= without.proven();
        let points = without.value.saturating_sub(value);
        if points > 0 {
            let come = without.chosen.iter().flatten().filter(|at| !chosen.contains(at));
            found.push(GivenUp {
                how,
                points,
                pieces: come
                    .filter_map(|at| Some(model.pieces.get(*at)?.name.clone()))
                    .collect(),
            });
        }
    }
    found.sort_by(|one, other| other.points.cmp(&one.points).then(one.how.cmp(&other.how)));
    (found, in_full)
}
