//! What to order, for the least money: sets and parts, bundles against singles, and postage.
//!
//! [`wanting`] finds what is lacking; the exact [`core::cover`](super::choose::core::cover) finds the cheapest
//! order that has all of it, and with a budget the exact [`core`](super::choose::core) the wishes that are worth
//! most within it.

#[cfg(test)]
mod tests;
mod wanting;
pub mod words;

pub use wanting::{PartWanted, Scope, SetWanted, Wanting, Why, is_there, wanting};

use crate::catalogue::conditions::{Condition, Subject};
use crate::catalogue::names::key;
use crate::catalogue::{EntryId, Snapshot};
use crate::notation::values::Money;
use crate::planning::choose::core::cover::{self, Charge};
use crate::planning::choose::core::{Problem, Row, best};
use crate::planning::choose::offers::{Offers, Postage};
use crate::planning::fitting::asking;

/// More things than these are not looked at in one order.
pub const MOST: usize = 60;
/// No order of a school band needs more ways tried.
const STEPS: u64 = 400_000;
/// Steps of the choice among wishes.
const STEPS_OF_WISHES: u64 = 200_000;

/// What a wish is worth, and what each preference it meets adds.
const WISH: i64 = 10;
const PREFERRED: i64 = 20;

/// What is asked.
#[derive(Debug, Clone, Default)]
pub struct Wish {
    /// What may be spent.
    pub budget: Option<Money>,
    /// Conditions that make a wish worth more.
    pub prefer: Vec<Condition>,
    /// What each seller takes for an order; what the handbook says where that is none.
    pub postage: Option<Money>,
}

/// Something on an order.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Line {
    /// What it is.
    pub what: What,
    /// Its seller; empty where no card says who.
    pub seller: String,
    /// What it costs, in hundredths.
    pub cents: u64,
}

/// What is bought.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum What {
    /// A set by itself.
    Set(String),
    /// A bundle with the sets in it that are lacking.
    Bundle {
        /// Its name.
        name: String,
        /// The sets.
        holds: Vec<String>,
    },
    /// Copies of a part.
    Part {
        /// How many.
        count: u32,
        /// Of which part.
        part: String,
        /// Of which piece.
        piece: String,
        /// Why.
        why: Why,
    },
}

/// What to order.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Order {
    /// The currency.
    pub currency: String,
    /// What is bought, by seller.
    pub lines: Vec<Line>,
    /// The postage of each seller that takes any.
    pub postage: Vec<(String, u64)>,
    /// All of it, in hundredths.
    pub cents: u64,
    /// What it would cost without bundles, where everything is sold singly.
    pub singly: Option<u64>,
    /// Whether nothing costs less, and no wishes within the budget are worth more.
    pub proven: bool,
    /// Wishes that the budget leaves out.
    pub left_out: Vec<String>,
    /// What is needed and has no price on any card.
    pub no_price: Vec<String>,
    /// Sets in time or not: those whose first rehearsal is near or past.
    pub urgent: Vec<SetWanted>,
}

/// Why nothing can be ordered.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum NoOrder {
    /// Prices are in several currencies.
    Currencies(Vec<String>),
    /// More than [`MOST`] things.
    TooMuch(usize),
    /// What is needed costs more than may be spent: the least, and the budget, in hundredths.
    OverBudget {
        /// The order that costs least.
        least: Box<Order>,
        /// What may be spent.
        budget: u64,
    },
}

/// Days before a first rehearsal within which an order is urgent, as for a concert's order date.
const URGENT: i32 = 21;

/// The currencies of all prices that count, each once.
fn currencies(snapshot: &Snapshot, wanting: &Wanting, wish: &Wish) -> Vec<String> {
    let mut found: Vec<String> = Vec::new();
    let mut add = |money: &Money| {
        // What is free costs nothing in any currency.
        if money.high > 0 && !found.contains(&money.currency) {
            found.push(money.currency.clone());
        }
    };
    wish.budget.iter().chain(&wish.postage).for_each(&mut add);
    for set in &wanting.sets {
        let piece = snapshot.entry(set.id).and_then(|entry| entry.piece());
        if let Some(price) = piece
            .and_then(|piece| piece.price.as_ref())
            .filter(|said| !said.open)
        {
            add(&price.value);
        }
    }
    wanting
        .parts
        .iter()
        .filter_map(|part| part.each.as_ref())
        .for_each(&mut add);
    found
}

/// The order that costs least; with a budget, the wishes worth most within it.
pub fn order(snapshot: &Snapshot, wanting: &Wanting, wish: &Wish) -> Result<Order, NoOrder> {
    let mut all = currencies(snapshot, wanting, wish);
    let currency = all.first().cloned().unwrap_or_else(|| "USD".to_owned());
    let (postage, others) = match &wish.postage {
        Some(money) => (Postage::of_all(money.high), Vec::new()),
        None => Postage::of(snapshot, &currency),
    };
    for other in others {
        if !all.contains(&other) {
            all.push(other);
        }
    }
    if all.len() > 1 {
        return Err(NoOrder::Currencies(all));
    }
    let things = wanting.sets.len().saturating_add(wanting.parts.len());
    if things > MOST {
        return Err(NoOrder::TooMuch(things));
    }
    let ids: Vec<EntryId> = wanting.sets.iter().map(|set| set.id).collect();
    let shop = Shop {
        wanting,
        offers: Offers::of(snapshot, &ids, &currency, postage),
        currency,
    };
    let (needed, wishes): (Vec<usize>, Vec<usize>) = (0..wanting.sets.len())
        .filter(|at| shop.sells(*at))
        .partition(|at| {
            wanting.sets.get(*at).is_some_and(|set| set.concert.is_some()) || wish.budget.is_none()
        });
    let Some(budget) = wish.budget.as_ref().map(|money| money.high) else {
        return Ok(shop.order(snapshot, &needed, &[], true));
    };
    let least = shop.order(snapshot, &needed, &[], true);
    if least.cents > budget {
        return Err(NoOrder::OverBudget {
            least: Box::new(least),
            budget,
        });
    }
    let (chosen, proven) = shop.wishes(snapshot, &needed, &wishes, budget, &wish.prefer);
    let left: Vec<usize> = wishes.iter().copied().filter(|at| !chosen.contains(at)).collect();
    let bought: Vec<usize> = needed.iter().chain(&chosen).copied().collect();
    Ok(shop.order(snapshot, &bought, &left, proven))
}

struct Shop<'w> {
    wanting: &'w Wanting,
    offers: Offers,
    currency: String,
}

impl Shop<'_> {
    fn id(&self, set: usize) -> Option<EntryId> {
        self.wanting.sets.get(set).map(|set| set.id)
    }

    fn sells(&self, set: usize) -> bool {
        self.id(set).is_some_and(|id| self.offers.sells(id))
    }

    /// The parts that have a price, by their places.
    fn parts(&self) -> Vec<(usize, u64)> {
        let all = self.wanting.parts.iter().enumerate();
        all.filter_map(|(at, part)| {
            let each = part.each.as_ref()?.high;
            Some((at, each.saturating_mul(u64::from(part.count))))
        })
        .collect()
    }

    /// The cheapest way to have these sets and all parts with a price, from offers of sets that pass.
    fn cheapest(&self, sets: &[usize], bundles: bool) -> Option<(cover::Cheapest, Vec<Line>, Vec<String>)> {
        let mut sellers: Vec<String> = Vec::new();
        let mut number = |seller: &str| {
            let known = sellers.iter().position(|known| key(known) == key(seller));
            known.unwrap_or_else(|| {
                sellers.push(seller.to_owned());
                sellers.len() - 1
            })
        };
        let mut offers = Vec::new();
        let mut lines = Vec::new();
        for offer in self.offers.all.iter().filter(|offer| bundles || !offer.bundle) {
            let holds: Vec<usize> = sets
                .iter()
                .enumerate()
                .filter(|(_, set)| self.id(**set).is_some_and(|id| offer.holds.contains(&id)))
                .map(|(at, _)| at)
                .collect();
            let names = holds
                .iter()
                .filter_map(|at| self.wanting.sets.get(*sets.get(*at)?))
                .map(|set| set.name.clone());
            lines.push(Line {
                what: match offer.bundle {
                    true => What::Bundle {
                        name: offer.name.clone(),
                        holds: names.collect(),
                    },
                    false => What::Set(offer.name.clone()),
                },
                seller: offer.seller.clone(),
                cents: offer.cents,
            });
            offers.push(cover::Offer {
                price: offer.cents,
                seller: number(&offer.seller),
                holds,
            });
        }
        let mut thing = sets.len();
        for (at, cents) in self.parts() {
            let Some(part) = self.wanting.parts.get(at) else {
                continue;
            };
            lines.push(Line {
                what: What::Part {
                    count: part.count,
                    part: part.part.clone(),
                    piece: part.name.clone(),
                    why: part.why,
                },
                seller: part.seller.clone(),
                cents,
            });
            offers.push(cover::Offer {
                price: cents,
                seller: number(&part.seller),
                holds: vec![thing],
            });
            thing += 1;
        }
        let charges: Vec<Charge> = sellers
            .iter()
            .map(|seller| self.offers.postage.charge(seller))
            .collect();
        let things: Vec<usize> = (0..thing).collect();
        let found = cover::cheapest(&offers, &charges, &things, STEPS)?;
        Some((found, lines, sellers))
    }

    fn order(&self, snapshot: &Snapshot, sets: &[usize], left: &[usize], proven: bool) -> Order {
        let nothing = cover::Cheapest {
            offers: Vec::new(),
            cost: 0,
            charges: 0,
            proven: true,
        };
        let (found, all, sellers) = self
            .cheapest(sets, true)
            .unwrap_or_else(|| (nothing, Vec::new(), Vec::new()));
        let mut lines: Vec<Line> = found
            .offers
            .iter()
            .filter_map(|at| all.get(*at).cloned())
            .collect();
        lines.sort_by_key(|line| {
            let seller = sellers.iter().position(|known| key(known) == key(&line.seller));
            (line.seller.is_empty(), seller)
        });
        let mut postage = Vec::new();
        for seller in &sellers {
            let own = lines.iter().filter(|line| key(&line.seller) == key(seller));
            let goods: Vec<u64> = own.map(|line| line.cents).collect();
            let charge = self.offers.postage.charge(seller);
            let sum: u64 = goods.iter().sum();
            if !goods.is_empty() && charge.fee > 0 && charge.free_from.is_none_or(|from| sum < from) {
                postage.push((seller.clone(), charge.fee));
            }
        }
        let bundled = lines.iter().any(|line| matches!(line.what, What::Bundle { .. }));
        let singly = bundled.then(|| self.cheapest(sets, false)).flatten();
        let unsold = self
            .wanting
            .sets
            .iter()
            .enumerate()
            .filter(|(at, _)| !self.sells(*at));
        let unpriced = self.wanting.parts.iter().filter(|part| part.each.is_none());
        let no_price = unsold
            .map(|(_, set)| format!("\"{}\"", set.name))
            .chain(unpriced.map(|part| words::copies(part.count, &part.part, &part.name)))
            .collect();
        let near = snapshot.today.checked_add(jiff::Span::new().days(URGENT)).ok();
        let urgent = self.wanting.sets.iter().filter(|set| {
            let day = set.rehearsed.or(set.concert.as_ref().map(|(_, day)| *day));
            day.zip(near).is_some_and(|(day, near)| day < near)
        });
        Order {
            currency: self.currency.clone(),
            lines,
            postage,
            cents: found.cost,
            singly: singly.map(|(found, ..)| found.cost),
            proven: proven && found.proven,
            left_out: left
                .iter()
                .filter_map(|at| Some(self.wanting.sets.get(*at)?.name.clone()))
                .collect(),
            no_price,
            urgent: urgent.cloned().collect(),
        }
    }

    /// The wishes that are worth most within the budget, beside what is needed.
    fn wishes(
        &self,
        snapshot: &Snapshot,
        needed: &[usize],
        wishes: &[usize],
        budget: u64,
        prefer: &[Condition],
    ) -> (Vec<usize>, bool) {
        let asked = asking(snapshot);
        let values: Vec<i64> = wishes
            .iter()
            .map(|at| {
                let id = self.id(*at);
                let subject = id.and_then(|id| Subject::of(id, snapshot.entry(id)?));
                let meets = |condition: &&Condition| {
                    subject
                        .as_ref()
                        .is_some_and(|subject| asked.piece(condition, subject).is_yes())
                };
                let preferred = prefer.iter().filter(meets).count();
                WISH.saturating_add(PREFERRED.saturating_mul(i64::try_from(preferred).unwrap_or(0)))
            })
            .collect();
        let share = |at: &usize| self.id(*at).map_or(0, |id| self.offers.share(id));
        let fixed: u64 =
            needed.iter().map(share).sum::<u64>() + self.parts().iter().map(|(_, cents)| cents).sum::<u64>();
        let small = |cents: u64| i64::try_from(cents).unwrap_or(i64::MAX / 64);
        let row = Row {
            weights: wishes.iter().map(|at| small(share(at))).collect(),
            low: None,
            high: Some(small(budget.saturating_sub(fixed))),
        };
        let affords = |chosen: &[usize]| {
            let sets: Vec<usize> = needed
                .iter()
                .copied()
                .chain(chosen.iter().filter_map(|at| wishes.get(*at).copied()))
                .collect();
            self.cheapest(&sets, true)
                .is_some_and(|(found, ..)| found.cost <= budget)
        };
        let problem = Problem {
            fewest: 0,
            most: wishes.len(),
            rows: vec![row],
            kinds: Vec::new(),
            apart: Vec::new(),
            pinned: Vec::new(),
            holds: &affords,
            accepts: &|_| true,
            values,
        };
        let found = best(&problem, STEPS_OF_WISHES, false);
        let proven = found.proven();
        let chosen = found.chosen.unwrap_or_default();
        (
            chosen
                .into_iter()
                .filter_map(|at| wishes.get(at).copied())
                .collect(),
            proven,
        )
    }
}
