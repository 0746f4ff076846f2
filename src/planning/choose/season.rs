//! Several concerts together: no piece comes twice, one budget holds for all, and what is new to a band
//! is counted over all of them. Exact, with a proven bound.
//!
//! Each concert is solved by itself, and what all of them are worth by themselves is more than any season can be
//! worth. Where a piece comes twice, it is taken out of one concert or out of the other; where the budget does not
//! hold, one of the pieces that would be bought is taken out; where a band would have to learn too much, one of those
//! that ask something new of it. What promises most is looked at first, so that the
//! first season that holds is the best, and the others need not be looked at.

use std::collections::{BTreeMap, BTreeSet, BinaryHeap, HashMap};

use crate::catalogue::{EntryId, Snapshot};
use crate::notation::values::Money;
use crate::planning::fitting::asking_for;

use super::core::Found;
use super::model::{Also, Model};
use super::offers::{Offer, Offers, Postage, Purchase};
use super::program::{program, skill_words};
use super::wishes::{candidates, demands, new_skills_on_card};
use super::{Program, Wish};

/// Steps for one concert; a shelf of a school needs far fewer.
const STEPS: u64 = 300_000;
/// So many ways of taking pieces out are looked at.
const MOST_WAYS: usize = 3_000;

/// A concert of a season with its program.
#[derive(Debug, Clone, PartialEq)]
pub struct Evening {
    /// The concert.
    pub concert: EntryId,
    /// Its program.
    pub program: Program,
    /// The skills that are new to the band and were not asked by a concert before.
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
    /// Each could have one, and these not all together, with why. No fewer of the concerts clash.
    Together(Vec<EntryId>, Because),
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

/// For each concert the pieces that are taken out of it.
type Out = Vec<BTreeSet<EntryId>>;

/// The skills that are new to a band, and the picks that ask for them by concert and number.
type New<'s> = (BTreeSet<&'s String>, Vec<(usize, usize)>);

/// A way of taking pieces out, by what it promises.
#[derive(Debug, PartialEq, Eq, PartialOrd, Ord)]
struct Way {
    bound: i64,
    out: Out,
}

/// Builds several concerts, in the order in which they come. The wishes name their concerts and no budget.
pub fn season(snapshot: &Snapshot, wishes: &[Wish<'_>], wish: &SeasonWish) -> Season {
    let models: Vec<Model<'_>> = wishes
        .iter()
        .map(|one| {
            let one = Wish {
                budget: wish.budget.clone(),
                postage: wish.postage,
                // What a season leaves is dealt out as far as it goes.
                uneven: true,
                // No concert may ask for more than all of them.
                new_skills: [one.new_skills, new_skills_on_card(snapshot, one), wish.new_skills]
                    .into_iter()
                    .flatten()
                    .min(),
                ..one.clone()
            };
            let pieces = candidates(snapshot, &one);
            let ids: Vec<EntryId> = pieces.iter().map(|piece| piece.subject.id).collect();
            Model::new(
                asking_for(snapshot, one.bands),
                demands(snapshot, &one),
                pieces,
                offers(snapshot, &ids, wish),
            )
        })
        .collect();
    let all: BTreeSet<EntryId> = models
        .iter()
        .flat_map(|model| model.pieces.iter().map(|piece| piece.subject.id))
        .collect();
    let all: Vec<EntryId> = all.into_iter().collect();
    let mut search = Search {
        models: &models,
        shop: offers(snapshot, &all, wish),
        budget: wish.budget.as_ref().map(|money| money.high),
        new_skills: wish.new_skills.map(|most| most as usize),
        steps: wishes.iter().filter_map(|one| one.steps).min().unwrap_or(STEPS),
        known: HashMap::new(),
        only: (0..models.len()).collect(),
    };
    let (best, bound) = match search.best() {
        Ended::Best(best, bound) => (best, bound),
        Ended::Alone(all) => {
            return Season::Alone(all.iter().filter_map(|at| wishes.get(*at)?.concert).collect());
        }
        Ended::Together => {
            let clash = search.smallest_clash();
            let because = search.because(&clash);
            let clash = clash.iter().filter_map(|at| wishes.get(*at)?.concert);
            return Season::Together(clash.collect(), because);
        }
        Ended::NotFound => return Season::NotFound,
    };
    let purchase = search.purchase(&best).filter(|(offers, _)| !offers.is_empty());
    // What each band has met; several that play as one learn it together.
    let mut met: BTreeSet<(Vec<EntryId>, String)> = BTreeSet::new();
    let mut evenings = Vec::new();
    for ((model, wish), chosen) in models.iter().zip(wishes).zip(&best.programs) {
        let pieces = || chosen.iter().filter_map(|at| model.pieces.get(*at));
        let asked: BTreeSet<(Vec<EntryId>, String)> = pieces()
            .flat_map(|piece| {
                let skills = piece.new_skills.iter().flatten();
                skills.map(|skill| (piece.bands.to_vec(), skill.clone()))
            })
            .collect();
        let value = pieces().map(|piece| piece.value().max(0)).sum();
        let alone = |bands: &[EntryId]| match bands {
            [only] if wish.bands.len() > 1 => Some(*only),
            _ => None,
        };
        let new = asked
            .difference(&met)
            .map(|(bands, name)| skill_words(snapshot, alone(bands), name))
            .collect();
        met.extend(asked);
        let Some(concert) = wish.concert else { continue };
        evenings.push(Evening {
            concert,
            program: program(snapshot, model, wish.bands, chosen, value, value),
            new_skills: new,
        });
    }
    Season::Programs {
        evenings,
        value: best.value,
        bound,
        purchase,
    }
}

fn offers(snapshot: &Snapshot, ids: &[EntryId], wish: &SeasonWish) -> Option<Offers> {
    let money = wish.budget.as_ref()?;
    let said = || Postage::of(snapshot, &money.currency).0;
    let postage = wish.postage.map_or_else(said, Postage::of_all);
    Some(Offers::of(snapshot, ids, &money.currency, postage))
}

/// Programs of all concerts, by the numbers of the pieces in each model.
#[derive(Debug, Clone)]
struct Best {
    programs: Vec<Vec<usize>>,
    value: i64,
}

enum Ended {
    Best(Best, i64),
    Alone(Vec<usize>),
    Together,
    NotFound,
}

struct Search<'m, 's> {
    models: &'m [Model<'s>],
    shop: Option<Offers>,
    budget: Option<u64>,
    new_skills: Option<usize>,
    /// Steps for one concert.
    steps: u64,
    /// What was found for a concert without some pieces.
    known: HashMap<(usize, BTreeSet<EntryId>), Found>,
    /// The concerts that are looked at; the others play nothing.
    only: Vec<usize>,
}

impl Search<'_, '_> {
    fn found(&mut self, at: usize, out: &BTreeSet<EntryId>) -> Found {
        if !self.only.contains(&at) {
            return Found {
                chosen: Some(Vec::new()),
                value: 0,
                bound: Some(0),
                steps: 0,
            };
        }
        if let Some(known) = self.known.get(&(at, out.clone())) {
            return known.clone();
        }
        let nothing = Found {
            chosen: None,
            value: 0,
            bound: None,
            steps: 0,
        };
        let found = self.models.get(at).map_or(nothing, |model| {
            let all: Vec<usize> = (0..model.demands.len()).collect();
            let without: Vec<EntryId> = out.iter().copied().collect();
            let also = Also {
                without: &without,
                ..Also::default()
            };
            model.within(&all, also, self.steps)
        });
        self.known.insert((at, out.clone()), found.clone());
        found
    }

    /// What a way promises; none where one of its concerts can have no program.
    fn bound(&mut self, out: &Out) -> Option<i64> {
        let mut sum = 0i64;
        for (at, own) in out.iter().enumerate() {
            sum = sum.saturating_add(self.found(at, own).bound?);
        }
        Some(sum)
    }

    fn id(&self, concert: usize, piece: usize) -> Option<EntryId> {
        Some(self.models.get(concert)?.pieces.get(piece)?.subject.id)
    }

    fn is_pinned(&self, concert: usize, piece: usize) -> bool {
        let piece = self.models.get(concert).and_then(|model| model.pieces.get(piece));
        piece.is_some_and(|piece| piece.pinned)
    }

    /// The pieces that have to be bought for these programs, by concert and number.
    fn bought(&self, best: &Best) -> Vec<(usize, usize)> {
        let mut found = Vec::new();
        for (concert, program) in best.programs.iter().enumerate() {
            for piece in program {
                let model = self
                    .models
                    .get(concert)
                    .and_then(|model| model.pieces.get(*piece));
                let sold = |id: EntryId| self.shop.as_ref().is_some_and(|shop| shop.sells(id));
                if model.is_some_and(|model| model.to_buy == Some(true) && sold(model.subject.id)) {
                    found.push((concert, *piece));
                }
            }
        }
        found
    }

    fn purchase(&self, best: &Best) -> Option<(Vec<Offer>, Purchase)> {
        let shop = self.shop.as_ref()?;
        let bought = self.bought(best);
        let mut ids: Vec<EntryId> = bought
            .iter()
            .filter_map(|(concert, piece)| self.id(*concert, *piece))
            .collect();
        ids.sort_unstable();
        ids.dedup();
        if ids.is_empty() {
            return None;
        }
        let purchase = shop.cheapest(&ids)?;
        let offers = purchase.offers.iter().filter_map(|at| shop.all.get(*at).cloned());
        Some((offers.collect(), purchase))
    }

    /// The picks of which at least one must go, where these programs cannot stand together; none of those can that
    /// the director has put there.
    fn clash(&self, best: &Best) -> Option<Vec<(usize, usize)>> {
        let mut where_first: HashMap<EntryId, (usize, usize)> = HashMap::new();
        for (concert, program) in best.programs.iter().enumerate() {
            for piece in program {
                let Some(id) = self.id(concert, *piece) else {
                    continue;
                };
                let Some(first) = where_first.insert(id, (concert, *piece)) else {
                    continue;
                };
                let both = [first, (concert, *piece)];
                let free: Vec<(usize, usize)> = both
                    .into_iter()
                    .filter(|(concert, piece)| !self.is_pinned(*concert, *piece))
                    .collect();
                // The director may well play a piece twice.
                if !free.is_empty() {
                    return Some(free);
                }
            }
        }
        if let Some(free) = self.too_much_to_learn(best) {
            return Some(free);
        }
        let budget = self.budget?;
        let (_, purchase) = self.purchase(best)?;
        (purchase.cents > budget).then(|| {
            let bought = self.bought(best).into_iter();
            bought
                .filter(|(concert, piece)| !self.is_pinned(*concert, *piece))
                .collect()
        })
    }

    /// Where a band would have to learn more over all concerts than is allowed, the picks that ask something new of
    /// it: one of them must go, whatever else comes.
    fn too_much_to_learn(&self, best: &Best) -> Option<Vec<(usize, usize)>> {
        let most = self.new_skills?;
        let mut asked: BTreeMap<EntryId, New<'_>> = BTreeMap::new();
        for (concert, program) in best.programs.iter().enumerate() {
            for piece in program {
                let model = self
                    .models
                    .get(concert)
                    .and_then(|model| model.pieces.get(*piece));
                let Some(one) = model else { continue };
                let skills: Vec<&String> = one.new_skills.iter().flatten().collect();
                for band in one.bands.iter().filter(|_| !skills.is_empty()) {
                    let (all, picks) = asked.entry(*band).or_default();
                    all.extend(skills.iter().copied());
                    picks.push((concert, *piece));
                }
            }
        }
        let (_, picks) = asked.into_values().find(|(skills, _)| skills.len() > most)?;
        let free = picks
            .into_iter()
            .filter(|(concert, piece)| !self.is_pinned(*concert, *piece));
        Some(free.collect())
    }

    /// The fewest concerts that cannot have programs together, where that is known; else all of them.
    fn smallest_clash(&mut self) -> Vec<usize> {
        let all = self.only.clone();
        for size in 2..all.len() {
            let mut sets: Vec<Vec<usize>> = vec![Vec::new()];
            for at in &all {
                let longer: Vec<Vec<usize>> = sets
                    .iter()
                    .filter(|set| set.len() < size)
                    .map(|set| [set.as_slice(), &[*at]].concat())
                    .collect();
                sets.extend(longer);
            }
            for set in sets.into_iter().filter(|set| set.len() == size) {
                self.only.clone_from(&set);
                if matches!(self.best(), Ended::Together) {
                    return set;
                }
            }
        }
        all
    }

    /// Why some concerts clash: which of the limits on all of them would have to go.
    fn because(&mut self, clash: &[usize]) -> Because {
        self.only = clash.to_vec();
        let (budget, skills) = (self.budget, self.new_skills);
        let mut clashes = |budget: Option<u64>, skills: Option<usize>| {
            (self.budget, self.new_skills) = (budget, skills);
            matches!(self.best(), Ended::Together)
        };
        if !clashes(budget, None) {
            Because::Skills
        } else if !clashes(None, skills) {
            Because::Money
        } else if clashes(None, None) {
            Because::Pieces
        } else {
            Because::Several
        }
    }

    fn best(&mut self) -> Ended {
        let root: Out = vec![BTreeSet::new(); self.models.len()];
        let alone: Vec<usize> = (0..self.models.len())
            .filter(|at| self.found(*at, &BTreeSet::new()).bound.is_none())
            .collect();
        if !alone.is_empty() {
            return Ended::Alone(alone);
        }
        let mut open: BinaryHeap<Way> = BinaryHeap::new();
        let mut seen: BTreeSet<Out> = BTreeSet::new();
        let mut best: Option<Best> = None;
        // The most that is promised by a way that was given up.
        let mut left = i64::MIN;
        if let Some(bound) = self.bound(&root) {
            open.push(Way { bound, out: root });
        }
        let mut ways = 0;
        while let Some(way) = open.pop() {
            let value = best.as_ref().map_or(i64::MIN, |best| best.value);
            if way.bound <= value {
                break;
            }
            ways += 1;
            if ways > MOST_WAYS {
                left = left.max(way.bound);
                break;
            }
            let found: Vec<Found> = way
                .out
                .iter()
                .enumerate()
                .map(|(at, own)| self.found(at, own))
                .collect();
            let programs: Option<Vec<Vec<usize>>> = found.iter().map(|found| found.chosen.clone()).collect();
            let Some(programs) = programs else {
                // Nobody knows whether there is a program.
                left = left.max(way.bound);
                continue;
            };
            let here = Best {
                programs,
                value: found.iter().map(|found| found.value).sum(),
            };
            match self.clash(&here) {
                None => {
                    // A concert that was not searched to the end may have more in it.
                    if here.value < way.bound {
                        left = left.max(way.bound);
                    }
                    if here.value > value {
                        best = Some(here);
                    }
                }
                Some(free) => {
                    for (concert, piece) in free {
                        let Some(id) = self.id(concert, piece) else {
                            continue;
                        };
                        let mut out = way.out.clone();
                        if let Some(own) = out.get_mut(concert) {
                            own.insert(id);
                        }
                        if seen.insert(out.clone())
                            && let Some(bound) = self.bound(&out)
                        {
                            open.push(Way { bound, out });
                        }
                    }
                }
            }
        }
        match best {
            Some(best) => {
                let bound = best.value.max(left);
                Ended::Best(best, bound)
            }
            None if left == i64::MIN => Ended::Together,
            None => Ended::NotFound,
        }
    }
}
