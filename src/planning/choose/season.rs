//! Several concerts together: no piece comes twice, what was taught for one is known for the next, and one budget
//! holds for all. Exact, with a proven bound, by the same core as a single concert.

use std::collections::BTreeSet;

use crate::catalogue::{EntryId, Snapshot};
use crate::notation::values::Money;
use crate::planning::fitting::asking_for;

use super::core::{Kinds, Problem, Row, best};
use super::model::{Asking, Model};
use super::offers::{Offer, Offers, Postage, Purchase};
use super::{Program, Wish, candidates, demands, program};

/// Steps of a season; a school year has few concerts.
const STEPS: u64 = 3_000_000;

/// A concert of a season with its program.
#[derive(Debug, Clone, PartialEq)]
pub struct Evening {
    /// The concert.
    pub concert: EntryId,
    /// Its program.
    pub program: Program,
    /// The skills that are new to the band and were not needed for a concert before.
    pub new_skills: Vec<String>,
}

/// What came of it.
#[derive(Debug, Clone, PartialEq)]
pub enum Season {
    /// The best programs that were found.
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
    /// These concerts have no program even by themselves.
    Alone(Vec<EntryId>),
    /// Each could have one, and not all together: pieces would come twice, or the budget or the number of new skills
    /// does not hold for all.
    Together,
    /// None was found in the steps there are, and none is ruled out.
    NotFound,
}

/// What is asked of all concerts together, beside what is asked of each.
#[derive(Debug, Clone, Default)]
pub struct SeasonWish {
    /// What may be spent in all.
    pub budget: Option<Money>,
    /// What each seller takes for an order, in hundredths; what the handbook says where that is none.
    pub postage: Option<u64>,
    /// How many new skills each concert may ask that no concert before it did.
    pub new_skills: Option<u32>,
}

/// Builds several concerts, in the order in which they come. The wishes say neither budget nor new skills.
pub fn season(snapshot: &Snapshot, wishes: &[Wish<'_>], wish: &SeasonWish) -> Season {
    let models: Vec<Model<'_>> = wishes
        .iter()
        .map(|one| {
            let one = Wish {
                budget: wish.budget.clone(),
                postage: wish.postage,
                new_skills: None,
                ..one.clone()
            };
            let pieces = candidates(snapshot, &one);
            let ids: Vec<EntryId> = pieces.iter().map(|piece| piece.subject.id).collect();
            let offers = offers(snapshot, &ids, wish);
            Model::new(
                asking_for(snapshot, wishes_bands(wishes, one.concert)),
                demands(snapshot, &one),
                pieces,
                offers,
            )
        })
        .collect();
    let askings: Vec<Asking<'_, '_>> = models
        .iter()
        .map(|model| {
            let all: Vec<usize> = (0..model.demands.len()).collect();
            model.asking(&all, 0)
        })
        .collect();
    let all: Vec<EntryId> = askings
        .iter()
        .flat_map(|asking| asking.pieces.iter().map(|piece| piece.subject.id))
        .collect::<BTreeSet<EntryId>>()
        .into_iter()
        .collect();
    let shop = offers(snapshot, &all, wish);
    // The things are the pieces of the first concert, then those of the second, and so on.
    let starts: Vec<usize> = askings
        .iter()
        .scan(0, |at, asking| {
            let own = *at;
            *at += asking.pieces.len();
            Some(own)
        })
        .collect();
    let count: usize = askings.iter().map(|asking| asking.pieces.len()).sum();
    let spread = |own: &[i64], start: usize| {
        let mut weights = vec![0i64; count];
        for (at, weight) in own.iter().enumerate() {
            if let Some(place) = weights.get_mut(start + at) {
                *place = *weight;
            }
        }
        weights
    };
    let (mut rows, mut kinds, mut pinned, mut values) = (Vec::new(), Vec::new(), Vec::new(), Vec::new());
    let (mut fewest, mut most) = (0usize, 0usize);
    let small = |number: usize| i64::try_from(number).unwrap_or(i64::MAX / 64);
    for (asking, start) in askings.iter().zip(&starts) {
        for row in &asking.shape.rows {
            rows.push(Row {
                weights: spread(&row.weights, *start),
                ..row.clone()
            });
        }
        rows.push(Row {
            weights: spread(&vec![1; asking.pieces.len()], *start),
            low: Some(small(asking.fewest())),
            high: Some(small(asking.most().min(count))),
        });
        for own in &asking.shape.kinds {
            let mut of = vec![Vec::new(); count];
            for (at, kinds) in own.of.iter().enumerate() {
                if let Some(place) = of.get_mut(start + at) {
                    place.clone_from(kinds);
                }
            }
            // The least of different kinds is asked of each concert as a whole.
            kinds.push(Kinds {
                of,
                least_different: 0,
                ..own.clone()
            });
        }
        pinned.extend(asking.pinned().into_iter().map(|at| start + at));
        values.extend(asking.values());
        fewest += asking.fewest();
        most += asking.most().min(asking.pieces.len());
    }
    let apart = twice(&askings, &starts, &pinned);
    let own = |chosen: &[usize], at: usize| -> Vec<usize> {
        let (start, size) = (
            starts.get(at).copied().unwrap_or(0),
            askings.get(at).map_or(0, |asking| asking.pieces.len()),
        );
        let inside = chosen
            .iter()
            .filter(|thing| (start..start + size).contains(thing));
        inside.map(|thing| thing - start).collect()
    };
    let cheapest = |chosen: &[usize]| {
        let offers = shop.as_ref()?;
        let mut needed: Vec<EntryId> = Vec::new();
        for (at, asking) in askings.iter().enumerate() {
            needed.extend(asking.to_buy(&own(chosen, at)));
        }
        needed.retain(|id| offers.sells(*id));
        needed.sort_unstable();
        needed.dedup();
        match needed.is_empty() {
            true => Some((Vec::new(), Purchase::default())),
            false => offers.cheapest(&needed).map(|purchase| {
                let bought = purchase
                    .offers
                    .iter()
                    .filter_map(|at| offers.all.get(*at).cloned());
                (bought.collect(), purchase)
            }),
        }
    };
    let holds = |chosen: &[usize]| match &wish.budget {
        Some(money) => cheapest(chosen).is_some_and(|(_, purchase)| purchase.cents <= money.cents),
        None => true,
    };
    let skills = |chosen: &[usize]| -> Vec<BTreeSet<String>> {
        let mut known: BTreeSet<String> = BTreeSet::new();
        let each = askings.iter().enumerate().map(|(at, asking)| {
            let asked = asking.new_skills(&own(chosen, at));
            let new = asked.difference(&known).cloned().collect();
            known.extend(asked);
            new
        });
        each.collect()
    };
    let accepts = |chosen: &[usize]| {
        let within = |most: u32| skills(chosen).iter().all(|new| new.len() <= most as usize);
        wish.new_skills.is_none_or(within)
            && askings
                .iter()
                .enumerate()
                .all(|(at, asking)| asking.accepts(&own(chosen, at)))
    };
    let found = best(
        &Problem {
            values,
            fewest,
            most,
            rows,
            kinds,
            apart,
            pinned,
            holds: &holds,
            accepts: &accepts,
        },
        STEPS,
        false,
    );
    let Some(chosen) = found.chosen else {
        return nothing(&models, wishes, found.bound.is_none());
    };
    let new = skills(&chosen);
    let ladder = snapshot.ladder();
    let evenings = askings.iter().enumerate().filter_map(|(at, asking)| {
        let numbers: Vec<usize> = own(&chosen, at)
            .iter()
            .filter_map(|piece| asking.pool.get(*piece).copied())
            .collect();
        let model = models.get(at)?;
        let value = numbers
            .iter()
            .filter_map(|piece| model.pieces.get(*piece))
            .map(|piece| piece.value().max(0))
            .sum();
        Some(Evening {
            concert: wishes.get(at)?.concert?,
            program: program(snapshot, model, &numbers, value, value),
            new_skills: new.get(at)?.iter().map(|name| ladder.written(name)).collect(),
        })
    });
    Season::Programs {
        evenings: evenings.collect(),
        value: found.value,
        bound: found.bound.unwrap_or(found.value),
        purchase: cheapest(&chosen).filter(|(offers, _)| !offers.is_empty()),
    }
}

fn offers(snapshot: &Snapshot, ids: &[EntryId], wish: &SeasonWish) -> Option<Offers> {
    let money = wish.budget.as_ref()?;
    let said = || Postage::of(snapshot, &money.currency).0;
    let postage = wish.postage.map_or_else(said, Postage::of_all);
    Some(Offers::of(snapshot, ids, &money.currency, postage))
}

fn wishes_bands<'w>(wishes: &[Wish<'w>], concert: Option<EntryId>) -> &'w [EntryId] {
    let own = wishes.iter().find(|wish| wish.concert == concert);
    own.map_or(&[], |wish| wish.bands)
}

/// A piece is played at one concert only, but where the director has put it on two programs.
fn twice(askings: &[Asking<'_, '_>], starts: &[usize], pinned: &[usize]) -> Vec<(usize, usize)> {
    let mut all: Vec<(EntryId, usize)> = Vec::new();
    for (asking, start) in askings.iter().zip(starts) {
        for (at, piece) in asking.pieces.iter().enumerate() {
            all.push((piece.subject.id, start + at));
        }
    }
    all.sort_unstable();
    let mut apart = Vec::new();
    for (at, (id, one)) in all.iter().enumerate() {
        for (_, other) in all.iter().skip(at + 1).take_while(|(other, _)| other == id) {
            if !(pinned.contains(one) && pinned.contains(other)) {
                apart.push((*one, *other));
            }
        }
    }
    apart
}

/// Why there is no season.
fn nothing(models: &[Model<'_>], wishes: &[Wish<'_>], ruled_out: bool) -> Season {
    let alone = models.iter().zip(wishes).filter_map(|(model, wish)| {
        let all: Vec<usize> = (0..model.demands.len()).collect();
        let found = model.best(&all, STEPS / 10, true);
        (found.chosen.is_none() && found.bound.is_none()).then_some(wish.concert)?
    });
    let alone: Vec<EntryId> = alone.collect();
    match (alone.is_empty(), ruled_out) {
        (false, _) => Season::Alone(alone),
        (true, true) => Season::Together,
        (true, false) => Season::NotFound,
    }
}
