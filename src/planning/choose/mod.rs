//! Building a concert: which pieces, and in which order. Exact, with a proven bound.
//!
//! What is asked becomes [`Demand`]s; [`pool`] asks each piece, [`model`] hands what remains to the exact
//! [`core`], [`order`] puts the pieces in order, and [`clash`] says what cannot hold together.

mod beside;
mod clash;
pub mod core;
mod demand;
#[cfg(test)]
mod evening_tests;
mod model;
pub mod offers;
pub mod order;
mod pool;
mod program;
pub mod season;
#[cfg(test)]
mod season_tests;
#[cfg(test)]
mod tests;
mod together;
mod wishes;

pub use clash::Clash;
pub use demand::Demand;
pub use offers::{Offer, Purchase};
pub use pool::{A_MINUTE, PREFERRED, WANTED};
pub use program::{Apart, RuledOut};
pub use wishes::plays_apart;

use crate::catalogue::conditions::{Condition, Subject, lasts};
use crate::catalogue::{EntryId, Snapshot};
use crate::notation::values::Money;
use crate::planning::fitting::asking_for;
use crate::planning::teach::taught_before;

use model::{Also, Model};
use offers::{Offers, Postage};
use program::{left_aside, program};
use wishes::{candidates, demands, kept};

/// Far more steps than the shelf of a school band needs.
const STEPS: u64 = 3_000_000;
/// A concert of no given length is given so many pieces; so many for each band, where several play.
const FEW: usize = 4;

/// What is asked for.
#[derive(Debug, Clone, Default)]
pub struct Wish<'w> {
    /// The concert, where there is a card.
    pub concert: Option<EntryId>,
    /// The bands. Where there are several, each plays its own pieces, unless the program or `together` says that
    /// they play as one.
    pub bands: &'w [EntryId],
    /// Whether several bands play all of it as one.
    pub together: bool,
    /// How many seconds a band of several has at most, the time between its pieces counted; the card's where none is
    /// given here.
    pub shares: Vec<(EntryId, u32)>,
    /// Whether a band of several may play as little as one piece; otherwise half of an even share at least, where the
    /// director says nothing else.
    pub uneven: bool,
    /// Conditions for what one band of several plays.
    pub own: Vec<(EntryId, Condition)>,
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
    /// How many new skills at most; the card's number where that is none.
    pub new_skills: Option<u32>,
    /// Whether pieces may be in keys that the band has not been taught.
    pub new_keys: bool,
    /// Whether pieces may need percussion instruments that the band does not have.
    pub borrow: bool,
    /// How many years a piece rests; 0 for none.
    pub rests: u32,
    /// Whether pieces may be alike in style, key and composer.
    pub alike: bool,
    /// How many steps the search may take; far more than usual where that is none.
    pub steps: Option<u64>,
    /// How many of the next best programs are wanted.
    pub others: usize,
    /// Whether only the program is wanted, and not what the limits cost nor why there is none.
    pub briefly: bool,
}

/// So many years a piece rests after a performance where nothing else is said (common practice, no source).
pub const RESTS: u32 = 2;
/// So many of the next best programs are told where nothing else is said.
pub const OTHERS: u32 = 2;

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

/// The bands that play a concert: those on its card, else the usual one.
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

/// What a concert's card lets be spent.
pub fn budget_of(snapshot: &Snapshot, concert: Option<EntryId>) -> Option<Money> {
    let budget = snapshot.entry(concert?)?.concert()?.budget.as_ref()?;
    budget.is_certain().then(|| budget.value.clone())
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
            movements: piece.movements,
            ..Subject::of(piece.id, snapshot.entry(piece.id)?)?
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
    /// The band that plays it, where each of several plays its own pieces.
    pub band: Option<EntryId>,
    /// The movements that are played; empty for all.
    pub movements: Vec<u32>,
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
    /// What its card remembers of the last time, in sentences.
    pub remembered: Vec<String>,
}

/// A piece that could be on the program and is not.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct LeftOut {
    /// Its title.
    pub name: String,
    /// What it is worth by itself.
    pub worth: i64,
    /// How much less the best program with it is worth; none where there is no program with it.
    pub points: Option<i64>,
    /// What that program does without.
    pub instead_of: Vec<String>,
    /// Where there is no program with it, the demand that it breaks beside the pieces that are kept, if one alone
    /// does.
    pub against: Option<String>,
}

/// One of the next best programs that truly differ.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Other {
    /// What it is worth.
    pub value: i64,
    /// Whether no other that differs so much is worth more.
    pub proven: bool,
    /// The pieces that the best program does not have.
    pub comes: Vec<String>,
    /// The pieces of the best program that it does without.
    pub goes: Vec<String>,
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
    /// The next best programs that truly differ, the best first.
    pub others: Vec<Other>,
    /// The best pieces that could be on it and are not.
    pub left_out: Vec<LeftOut>,
    /// What is preferred and met by no piece of it.
    pub not_preferred: Vec<String>,
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
    pub ruled_out: RuledOut,
    /// Pieces that were not looked at because something is not known, with what.
    pub apart: Apart,
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
        let mut ids: Vec<EntryId> = candidates.iter().map(|piece| piece.subject.id).collect();
        ids.sort_unstable();
        ids.dedup();
        let said = || Postage::of(snapshot, &money.currency).0;
        let postage = wish.postage.map_or_else(said, Postage::of_all);
        Offers::of(snapshot, &ids, &money.currency, postage)
    });
    let mut model = Model::new(asking_for(snapshot, wish.bands), demands, candidates, offers);
    if let Some(concert) = wish.concert {
        model.learn(&taught_before(snapshot, concert, &[]));
    }
    let all: Vec<usize> = (0..model.demands.len()).collect();
    let found = model.best(&all, wish.steps.unwrap_or(STEPS));
    let outcome = match (&found.chosen, found.bound) {
        (Some(chosen), bound) => {
            let bound = bound.unwrap_or(found.value);
            let mut program = program(snapshot, &model, wish.bands, chosen, found.value, bound);
            if !wish.briefly {
                (program.given_up, program.given_up_in_full) = beside::given_up(&model, chosen, found.value);
                program.left_out = beside::left_out(&model, chosen, found.value);
                program.not_preferred = beside::not_preferred(&model, &wish.prefer, chosen);
                program.others = beside::others(&model, chosen, wish.others, STEPS);
            }
            Outcome::Program(Box::new(program))
        }
        (None, None) if wish.briefly => Outcome::NotFound,
        (None, None) => match clash::clash(&model, Also::default()) {
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
