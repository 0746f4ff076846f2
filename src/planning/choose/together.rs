//! The exact search over several concerts, with a proven bound.
//!
//! Each concert is solved by itself, and what all of them are worth by themselves is more than any season can be
//! worth. Where a piece comes twice, it is taken out of one concert or out of the other; where the budget does not
//! hold, one of the pieces that would be bought is taken out; where a band would have to learn too much over all of
//! them, one of those that ask something new of it.
//!
//! What an earlier concert could teach counts as learned at first. Where a program rests on skills that the earlier
//! programs do not teach, each such skill is either new after all, or one of the earlier concerts has to ask it.
//!
//! What promises most is looked at first, so that the first season that holds is the best, and the others need not be
//! looked at.

use std::collections::{BTreeSet, BinaryHeap, HashMap};

use crate::catalogue::EntryId;
use crate::planning::teach::Learned;

use super::core::Found;
use super::demand::Demand;
use super::model::{Also, Model};
use super::offers::{Offer, Offers, Purchase};
use super::pool::{Candidate, most_new};
use super::season::{Because, SeasonWish};

/// Steps for one concert; a shelf of a school needs far fewer.
pub(super) const STEPS: u64 = 300_000;
/// So many ways of taking pieces out are looked at.
const MOST_WAYS: usize = 3_000;

/// A concert with what may be new at it.
pub(super) struct Limited<'s> {
    /// All that is asked of it by itself.
    pub model: Model<'s>,
    /// How many skills may be new by then, where the concert says so.
    pub new_skills: Option<u32>,
    /// How many it can teach at most, where that is known.
    pub in_all: Option<u32>,
    /// How many it may ask that no card says were taught, where the season has a limit.
    pub of_season: Option<u32>,
}

/// A band and a skill, as compared.
type Lesson = (EntryId, String);

/// What is asked of a concert beside its own demands.
#[derive(Debug, Clone, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
struct Asked {
    /// Pieces that are taken out of it.
    out: BTreeSet<EntryId>,
    /// What is new to a band by then, though an earlier concert could teach it.
    new: Vec<Lesson>,
    /// What it has to ask.
    asks: Vec<Lesson>,
}

/// A way of asking more of the concerts, by what it promises.
#[derive(Debug, PartialEq, Eq, PartialOrd, Ord)]
struct Way {
    bound: i64,
    each: Vec<Asked>,
}

/// Programs of all concerts, by the numbers of the pieces in each model.
#[derive(Debug, Clone)]
pub(super) struct Best {
    /// The programs.
    pub programs: Vec<Vec<usize>>,
    /// What they are worth.
    pub value: i64,
}

/// How the search ended.
pub(super) enum Ended {
    /// With the best that was found, and the most that any could be worth.
    Best(Best, i64),
    /// With the proof that there are no programs for all of them.
    Clash,
    /// With neither.
    NotFound,
}

/// A pick: the concert, and the piece by its number.
type Place = (usize, usize);

/// The search.
pub(super) struct Search<'m, 's> {
    concerts: &'m [Limited<'s>],
    /// What the bands' cards say was taught.
    taught: &'m Learned,
    /// What can be bought, where there is a budget.
    pub shop: Option<Offers>,
    budget: Option<u64>,
    new_skills: Option<usize>,
    /// Whether limits on new skills hold.
    counts_skills: bool,
    /// Steps for one concert.
    pub steps: u64,
    /// What was found for a concert with what is asked of it.
    known: HashMap<(usize, Asked), Found>,
    /// The concerts that have a program by themselves.
    playing: Vec<usize>,
    /// Those of them that are looked at; of the others nothing is asked.
    pub only: Vec<usize>,
}

impl<'m, 's> Search<'m, 's> {
    /// A search over all of the concerts, in the order in which they come.
    pub fn new(concerts: &'m [Limited<'s>], taught: &'m Learned, wish: &SeasonWish) -> Search<'m, 's> {
        Search {
            concerts,
            taught,
            shop: None,
            budget: wish.budget.as_ref().map(|money| money.high),
            new_skills: wish.new_skills.map(|most| most as usize),
            counts_skills: true,
            steps: STEPS,
            known: HashMap::new(),
            playing: (0..concerts.len()).collect(),
            only: (0..concerts.len()).collect(),
        }
    }

    /// Takes the concerts out that have no program even by themselves.
    pub fn set_aside(&mut self) -> Vec<usize> {
        let mut aside = Vec::new();
        loop {
            let (none, rest): (Vec<usize>, Vec<usize>) = self
                .playing
                .clone()
                .into_iter()
                .partition(|at| self.found(*at, &Asked::default()).bound.is_none());
            if none.is_empty() {
                aside.sort_unstable();
                return aside;
            }
            aside.extend(none);
            // What these could teach, nobody learns from them.
            self.only.clone_from(&rest);
            self.playing = rest;
            self.known.clear();
        }
    }

    /// What the bands can have learned by a concert from earlier ones, unless it is held to be new; where the concert
    /// has no limit, what their cards say.
    pub fn learned(&self, at: usize, new: &[Lesson]) -> Learned {
        let mut learned = self.taught.clone();
        let is_limited = self.concerts.get(at).is_some_and(|one| one.new_skills.is_some());
        for teacher in self.playing.iter().filter(|one| is_limited && **one < at) {
            for (band, skill) in self.could_teach(*teacher) {
                if !new.iter().any(|(one, name)| *one == band && name == skill) {
                    learned.add(band, skill);
                }
            }
        }
        learned
    }

    /// All that any piece of a concert could teach.
    fn could_teach(&self, at: usize) -> impl Iterator<Item = (EntryId, &'m String)> {
        let pieces = self.concerts.get(at).map(|one| &one.model.pieces);
        let taught = self.taught;
        pieces
            .into_iter()
            .flatten()
            .flat_map(move |piece| piece.to_learn(taught))
    }

    /// How many skills a concert can ask at most, those that earlier ones teach counted.
    fn most_with_learned(&self, at: usize) -> Option<usize> {
        let concert = self.concerts.get(at)?;
        let earlier = self.playing.iter().filter(|one| **one < at);
        let mut earlier = earlier.map(|one| self.concerts.get(*one)?.in_all);
        let own = concert
            .new_skills
            .and_then(|own| earlier.try_fold(own, |sum, one| Some(sum.saturating_add(one?))));
        own.into_iter()
            .chain(concert.of_season)
            .min()
            .map(|most| most as usize)
    }

    fn found(&mut self, at: usize, asked: &Asked) -> Found {
        let nothing = |chosen, bound| Found {
            chosen,
            value: 0,
            bound,
            steps: 0,
        };
        if !self.only.contains(&at) {
            return nothing(Some(Vec::new()), Some(0));
        }
        let key = (at, asked.clone());
        if let Some(known) = self.known.get(&key) {
            return known.clone();
        }
        let Some(Limited { model, .. }) = self.concerts.get(at) else {
            return nothing(None, None);
        };
        let counts = |demand: &Demand| self.counts_skills || !matches!(demand, Demand::NewSkills { .. });
        let demands = model.demands.iter().enumerate();
        let all: Vec<usize> = demands
            .filter(|(_, demand)| counts(demand))
            .map(|(at, _)| at)
            .collect();
        let without: Vec<EntryId> = asked.out.iter().copied().collect();
        let learned = self.learned(at, &asked.new);
        let also = Also {
            without: &without,
            learned: Some(&learned),
            with_learned: self.most_with_learned(at),
            asks: &asked.asks,
            ..Also::default()
        };
        let found = model.within(&all, also, self.steps);
        self.known.insert(key, found.clone());
        found
    }

    /// What a way promises; none where one of its concerts can have no program.
    fn bound(&mut self, each: &[Asked]) -> Option<i64> {
        let mut sum = 0i64;
        for (at, asked) in each.iter().enumerate() {
            sum = sum.saturating_add(self.found(at, asked).bound?);
        }
        Some(sum)
    }

    fn piece(&self, (concert, piece): Place) -> Option<&'m Candidate<'s>> {
        self.concerts.get(concert)?.model.pieces.get(piece)
    }

    /// All picks of these programs.
    fn picks<'b>(&'b self, best: &'b Best) -> impl Iterator<Item = (Place, &'m Candidate<'s>)> {
        let places = best.programs.iter().enumerate();
        let places = places.flat_map(|(at, program)| program.iter().map(move |piece| (at, *piece)));
        places.filter_map(|place| Some((place, self.piece(place)?)))
    }

    /// Those of some picks that the director has not put there.
    fn free(&self, picks: impl IntoIterator<Item = Place>) -> Vec<Place> {
        let is_pinned = |place: &Place| self.piece(*place).is_some_and(|piece| piece.pinned);
        picks.into_iter().filter(|place| !is_pinned(place)).collect()
    }

    /// The pieces that have to be bought for these programs.
    fn bought(&self, best: &Best) -> Vec<Place> {
        let sold = |id: EntryId| self.shop.as_ref().is_some_and(|shop| shop.sells(id));
        self.picks(best)
            .filter(|(_, piece)| piece.to_buy == Some(true) && sold(piece.subject.id))
            .map(|(place, _)| place)
            .collect()
    }

    /// What has to be bought for these programs.
    pub fn purchase(&self, best: &Best) -> Option<(Vec<Offer>, Purchase)> {
        let shop = self.shop.as_ref()?;
        let bought = self.bought(best).into_iter();
        let mut ids: Vec<EntryId> = bought
            .filter_map(|place| Some(self.piece(place)?.subject.id))
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
    fn clash(&self, best: &Best) -> Option<Vec<Place>> {
        let mut where_first: HashMap<EntryId, Place> = HashMap::new();
        for (place, piece) in self.picks(best) {
            let Some(first) = where_first.insert(piece.subject.id, place) else {
                continue;
            };
            let free = self.free([first, place]);
            // The director may well play a piece twice.
            if !free.is_empty() {
                return Some(free);
            }
        }
        if let Some(free) = self.too_much_to_learn(best) {
            return Some(free);
        }
        let budget = self.budget?;
        let (_, purchase) = self.purchase(best)?;
        (purchase.cents > budget).then(|| self.free(self.bought(best)))
    }

    /// Where a band would have to learn more over all concerts than is allowed, the picks that ask something new of
    /// it: one of them must go, whatever else comes.
    fn too_much_to_learn(&self, best: &Best) -> Option<Vec<Place>> {
        let most = self.new_skills.filter(|_| self.counts_skills)?;
        let lessons = |(place, piece): (Place, &'m Candidate<'s>)| {
            piece
                .to_learn(self.taught)
                .map(move |(band, skill)| (place, band, skill))
        };
        let all: Vec<(Place, EntryId, &String)> = self.picks(best).flat_map(lessons).collect();
        let skills_of = |band: EntryId| {
            let mut skills: Vec<&String> = Vec::new();
            for (_, _, skill) in all.iter().filter(|(_, one, _)| *one == band) {
                if !skills.contains(skill) {
                    skills.push(skill);
                }
            }
            skills.len()
        };
        let (_, band, _) = all.iter().find(|(_, band, _)| skills_of(*band) > most)?;
        let mut picks: Vec<Place> = Vec::new();
        for (place, _, _) in all.iter().filter(|(_, one, _)| one == band) {
            if picks.last() != Some(place) {
                picks.push(*place);
            }
        }
        Some(self.free(picks))
    }

    /// The first concert that asks more that is new by then than it allows, with what its bands have not learned by
    /// then and earlier concerts could have taught.
    fn not_learned(&self, best: &Best, each: &[Asked]) -> Option<(usize, Vec<Lesson>)> {
        let mut learned = self.taught.clone();
        for (at, concert) in self.concerts.iter().enumerate() {
            let program = best.programs.get(at).into_iter().flatten();
            let pieces: Vec<&Candidate<'s>> = program
                .filter_map(|piece| concert.model.pieces.get(*piece))
                .collect();
            let most = concert.new_skills.map_or(usize::MAX, |most| most as usize);
            if most_new(&pieces, &learned) > most {
                let could = self.learned(at, &each.get(at)?.new);
                let mut lessons: Vec<Lesson> = Vec::new();
                for (band, skill) in pieces.iter().flat_map(|piece| piece.to_learn(&learned)) {
                    let lesson = (band, skill.clone());
                    if could.has(band, skill) && !lessons.contains(&lesson) {
                        lessons.push(lesson);
                    }
                }
                return Some((at, lessons));
            }
            pieces.iter().for_each(|piece| teach(piece, &mut learned));
            // A concert that is not looked at may teach whatever it could.
            if self.playing.contains(&at) && !self.only.contains(&at) {
                self.could_teach(at)
                    .for_each(|(band, skill)| learned.add(band, skill));
            }
        }
        None
    }

    /// What can be asked instead where these programs cannot stand together; none where they can.
    fn instead(&self, best: &Best, each: &[Asked]) -> Option<Vec<Vec<Asked>>> {
        let with = |at: usize, turn: &dyn Fn(&mut Asked)| {
            let mut each = each.to_vec();
            each.get_mut(at).into_iter().for_each(turn);
            each
        };
        if let Some(free) = self.clash(best) {
            let take_out = |place: &Place| {
                let id = self.piece(*place)?.subject.id;
                Some(with(place.0, &|asked| {
                    asked.out.insert(id);
                }))
            };
            return Some(free.iter().filter_map(take_out).collect());
        }
        let (at, lessons) = self.not_learned(best, each).filter(|_| self.counts_skills)?;
        let mut ways = Vec::new();
        for (nth, lesson) in lessons.iter().enumerate() {
            let teaches = |one: &usize| {
                self.could_teach(*one)
                    .any(|(band, skill)| (band, skill) == (lesson.0, &lesson.1))
            };
            for teacher in self.playing.iter().filter(|one| **one < at && teaches(one)) {
                let mut way = with(at, &|asked| asked.new.extend(lessons.iter().take(nth).cloned()));
                if let Some(asked) = way.get_mut(*teacher).filter(|asked| !asked.asks.contains(lesson)) {
                    asked.asks.push(lesson.clone());
                }
                ways.push(way);
            }
        }
        ways.push(with(at, &|asked| asked.new.extend(lessons.iter().cloned())));
        Some(ways)
    }

    /// The fewest concerts that cannot have programs together, where that is known; else all of them.
    pub fn smallest_clash(&mut self) -> Vec<usize> {
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
                if matches!(self.best(), Ended::Clash) {
                    return set;
                }
            }
        }
        all
    }

    /// Why some concerts clash: which of the limits on all of them would have to go.
    pub fn because(&mut self, clash: &[usize]) -> Because {
        self.only = clash.to_vec();
        let budget = self.budget;
        let mut clashes = |budget: Option<u64>, counts_skills: bool| {
            (self.budget, self.counts_skills) = (budget, counts_skills);
            self.known.clear();
            matches!(self.best(), Ended::Clash)
        };
        if !clashes(budget, false) {
            Because::Skills
        } else if !clashes(None, true) {
            Because::Money
        } else if clashes(None, false) {
            Because::Pieces
        } else {
            Because::Several
        }
    }

    /// The best programs of the concerts that are looked at.
    pub fn best(&mut self) -> Ended {
        let root: Vec<Asked> = vec![Asked::default(); self.concerts.len()];
        let mut open: BinaryHeap<Way> = BinaryHeap::new();
        let mut seen: BTreeSet<Vec<Asked>> = BTreeSet::new();
        let mut best: Option<Best> = None;
        // The most that is promised by a way that was given up.
        let mut left = i64::MIN;
        if let Some(bound) = self.bound(&root) {
            open.push(Way { bound, each: root });
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
            let asked = way.each.iter().enumerate();
            let found: Vec<Found> = asked.map(|(at, asked)| self.found(at, asked)).collect();
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
            let Some(instead) = self.instead(&here, &way.each) else {
                // A concert that was not searched to the end may have more in it.
                if here.value < way.bound {
                    left = left.max(way.bound);
                }
                if here.value > value {
                    best = Some(here);
                }
                continue;
            };
            for each in instead {
                if seen.insert(each.clone())
                    && let Some(bound) = self.bound(&each)
                {
                    open.push(Way { bound, each });
                }
            }
        }
        match best {
            Some(best) => {
                let bound = best.value.max(left);
                Ended::Best(best, bound)
            }
            None if left == i64::MIN => Ended::Clash,
            None => Ended::NotFound,
        }
    }
}

/// Those who play a piece learn what it asks.
pub(super) fn teach(piece: &Candidate<'_>, learned: &mut Learned) {
    for skill in piece.new_skills.iter().flatten() {
        piece.bands.iter().for_each(|band| learned.add(*band, skill));
    }
}
