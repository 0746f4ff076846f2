//! Several concerts together: no piece comes twice, one budget holds for all, and what one concert has taught is new
//! to nobody after it. A concert that can have no program is told, and the others are chosen without it.

use std::collections::BTreeSet;

use crate::catalogue::{EntryId, Snapshot};
use crate::notation::values::Money;
use crate::planning::fitting::asking_for;
use crate::planning::teach::{Learned, taught_before};

use super::clash::clash;
use super::demand::Demand;
use super::model::{Also, Model};
use super::offers::{Offer, Offers, Postage, Purchase};
use super::program::program;
use super::together::{Ended, Limited, STEPS, Search, teach};
use super::wishes::{candidates, demands, new_skills_on_card};
use super::{Program, Wish, plays_apart};

/// A concert of a season with its program.
#[derive(Debug, Clone, PartialEq)]
pub struct Evening {
    /// The concert.
    pub concert: EntryId,
    /// Its program. What earlier concerts have taught is not new to it.
    pub program: Program,
}

/// A concert that has no program even by itself.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Alone {
    /// The concert.
    pub concert: EntryId,
    /// The demands that cannot hold together, and whether no smaller set clashes; none where that was not found.
    pub clash: Option<(Vec<String>, bool)>,
}

/// What came of it.
#[derive(Debug, Clone, PartialEq)]
pub struct Season {
    /// The concerts that have no program even by themselves; the others were chosen without them.
    pub alone: Vec<Alone>,
    /// What came of the others.
    pub others: Others,
}

/// What came of the concerts that have a program by themselves.
#[derive(Debug, Clone, PartialEq)]
pub enum Others {
    /// The best programs that were found; none where every concert is impossible by itself.
    Programs {
        /// The concerts, in the order that was asked for.
        evenings: Vec<Evening>,
        /// What all of them are worth.
        value: i64,
        /// Nothing is worth more than this.
        bound: i64,
        /// What has to be bought for all of them: the offers, and what they cost.
        purchase: Option<(Vec<Offer>, Purchase)>,
    },
    /// Each could have one, and these not all together, with why. No fewer of the concerts clash.
    Clash(Vec<EntryId>, Because),
    /// None was found in the ways that were looked at, and none is ruled out.
    NotFound,
}

/// Why concerts have no programs together.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Because {
    /// There are too few pieces to play none of them twice.
    Pieces,
    /// The budget does not hold for all of them.
    Money,
    /// Too much would be new to a band.
    Skills,
    /// The budget and what is new, neither of them alone.
    Several,
}

/// What is asked of all concerts together, beside what is asked of each.
#[derive(Debug, Clone, Default)]
pub struct SeasonWish {
    /// What may be spent in all.
    pub budget: Option<Money>,
    /// What each seller takes for an order, in hundredths; what the handbook says where that is none.
    pub postage: Option<u64>,
    /// How many skills each band may have to learn over all of them at most.
    pub new_skills: Option<u32>,
}

/// A concert with all that is asked of it by itself.
fn limited<'s>(snapshot: &'s Snapshot, one: &Wish<'s>, wish: &SeasonWish, season: &[EntryId]) -> Limited<'s> {
    let own = [one.new_skills, new_skills_on_card(snapshot, one)];
    let own = own.into_iter().flatten().min();
    let apart = plays_apart(snapshot, one);
    let bands = u32::try_from(one.bands.len()).unwrap_or(1).max(1);
    // What a season lets each band learn, bands that play as one may learn each by itself.
    let of_season = wish
        .new_skills
        .map(|most| if apart { most } else { most.saturating_mul(bands) });
    let one = Wish {
        budget: wish.budget.clone(),
        postage: wish.postage,
        // What a season leaves is dealt out as far as it goes.
        uneven: true,
        new_skills: own.into_iter().chain(of_season).min(),
        ..one.clone()
    };
    let pieces = candidates(snapshot, &one);
    let ids: Vec<EntryId> = pieces.iter().map(|piece| piece.subject.id).collect();
    let mut model = Model::new(
        asking_for(snapshot, one.bands),
        demands(snapshot, &one),
        pieces,
        offers(snapshot, &ids, wish),
    );
    if let Some(concert) = one.concert {
        model.learn(&taught_before(snapshot, concert, season));
    }
    Limited {
        model,
        new_skills: own.map(|most| of_season.map_or(most, |all| most.min(all))),
        // Each band has a limit of its own, and all of them together once more.
        in_all: own.map(|most| {
            if apart {
                most.saturating_mul(bands + 1)
            } else {
                most
            }
        }),
        of_season,
    }
}

/// Builds several concerts, in the order in which they come. The wishes name their concerts and no budget.
pub fn season(snapshot: &Snapshot, wishes: &[Wish<'_>], wish: &SeasonWish) -> Season {
    let ids: Vec<EntryId> = wishes.iter().filter_map(|one| one.concert).collect();
    let each = wishes.iter().map(|one| limited(snapshot, one, wish, &ids));
    let concerts: Vec<Limited<'_>> = each.collect();
    let all: BTreeSet<EntryId> = concerts
        .iter()
        .flat_map(|concert| concert.model.pieces.iter().map(|piece| piece.subject.id))
        .collect();
    let all: Vec<EntryId> = all.into_iter().collect();
    let taught = taught(snapshot, wishes);
    let mut search = Search::new(&concerts, &taught, wish);
    search.shop = offers(snapshot, &all, wish);
    search.steps = wishes.iter().filter_map(|one| one.steps).min().unwrap_or(STEPS);
    let concert = |at: &usize| wishes.get(*at)?.concert;
    let alone = search
        .set_aside()
        .iter()
        .filter_map(|at| {
            let learned = search.learned(*at, &[]);
            let by_then = Also {
                learned: Some(&learned),
                ..Also::default()
            };
            let found = clash(&concerts.get(*at)?.model, by_then);
            let says = |at: &usize, number: &usize| {
                let demand: &Demand = concerts.get(*at)?.model.demands.get(*number)?;
                Some(demand.says())
            };
            Some(Alone {
                concert: concert(at)?,
                clash: found.map(|found| {
                    let demands = found.demands.iter().filter_map(|number| says(at, number));
                    (demands.collect(), found.smallest)
                }),
            })
        })
        .collect();
    let others = match search.best() {
        Ended::Best(best, bound) => {
            let purchase = search.purchase(&best).filter(|(offers, _)| !offers.is_empty());
            let value = best.value;
            let chosen = search
                .only
                .iter()
                .filter_map(|at| Some((*at, best.programs.get(*at)?.clone())));
            let chosen: Vec<(usize, Vec<usize>)> = chosen.collect();
            Others::Programs {
                evenings: evenings(snapshot, wishes, concerts, taught, &chosen),
                value,
                bound,
                purchase,
            }
        }
        Ended::Clash => {
            let clash = search.smallest_clash();
            let because = search.because(&clash);
            Others::Clash(clash.iter().filter_map(concert).collect(), because)
        }
        Ended::NotFound => Others::NotFound,
    };
    Season { alone, others }
}

/// The programs in words, each concert after those before have taught what they ask.
fn evenings(
    snapshot: &Snapshot,
    wishes: &[Wish<'_>],
    concerts: Vec<Limited<'_>>,
    mut learned: Learned,
    chosen: &[(usize, Vec<usize>)],
) -> Vec<Evening> {
    let mut evenings = Vec::new();
    for (at, (Limited { mut model, .. }, wish)) in concerts.into_iter().zip(wishes).enumerate() {
        let own = chosen.iter().find(|(one, _)| *one == at);
        let (Some((_, chosen)), Some(concert)) = (own, wish.concert) else {
            continue;
        };
        model.learn(&learned);
        let pieces = || chosen.iter().filter_map(|at| model.pieces.get(*at));
        let value = pieces().map(|piece| piece.value().max(0)).sum();
        pieces().for_each(|piece| teach(piece, &mut learned));
        evenings.push(Evening {
            concert,
            program: program(snapshot, &model, wish.bands, chosen, value, value),
        });
    }
    evenings
}

/// What the bands' cards say that they have been taught.
fn taught(snapshot: &Snapshot, wishes: &[Wish<'_>]) -> Learned {
    let mut learned = Learned::default();
    for band in wishes.iter().flat_map(|wish| wish.bands) {
        let card = snapshot.entry(*band).and_then(|entry| entry.ensemble());
        for said in card.into_iter().flat_map(|card| &card.taught) {
            learned.add(*band, &snapshot.ladder().one_name(&said.value.name));
        }
    }
    learned
}

fn offers(snapshot: &Snapshot, ids: &[EntryId], wish: &SeasonWish) -> Option<Offers> {
    let money = wish.budget.as_ref()?;
    let said = || Postage::of(snapshot, &money.currency).0;
    let postage = wish.postage.map_or_else(said, Postage::of_all);
    Some(Offers::of(snapshot, ids, &money.currency, postage))
}
