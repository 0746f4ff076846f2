//! What it costs to buy pieces: singles and bundles, and what each seller takes for sending them.

use crate::catalogue::model::{Bundle, Facts};
use crate::catalogue::names::key;
use crate::catalogue::{EntryId, Snapshot};

/// Something that can be bought.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Offer {
    /// What it is called: the title, or the bundle's name.
    pub name: String,
    /// Whether it is a bundle.
    pub bundle: bool,
    /// Who sells it; empty where no card says.
    pub seller: String,
    /// Its price in hundredths.
    pub cents: u64,
    /// The pieces that come with it.
    pub holds: Vec<EntryId>,
}

/// All offers in one currency.
#[derive(Debug, Clone, Default)]
pub struct Offers {
    /// The offers.
    pub all: Vec<Offer>,
    /// What each seller takes for an order, in hundredths.
    pub postage: u64,
}

/// The cheapest way to buy some pieces.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Purchase {
    /// The offers, by their numbers.
    pub offers: Vec<usize>,
    /// What they cost with postage, in hundredths.
    pub cents: u64,
    /// How much of that is postage.
    pub postage: u64,
}

/// No purchase for a concert needs more than so many ways tried.
const MOST_STEPS: u32 = 200_000;

impl Offers {
    /// The offers for pieces of a catalogue. An uncertain price is none.
    pub fn of(snapshot: &Snapshot, pieces: &[EntryId], currency: &str, postage: u64) -> Offers {
        let mut all = Vec::new();
        for id in pieces {
            let Some(entry) = snapshot.entry(*id) else {
                continue;
            };
            let Some(piece) = entry.piece() else { continue };
            let price = piece.price.as_ref().filter(|said| !said.open);
            if let Some(price) = price.filter(|said| said.value.currency == currency) {
                all.push(Offer {
                    name: entry.name.clone(),
                    bundle: false,
                    seller: piece.house().map(|said| said.value.clone()).unwrap_or_default(),
                    cents: price.value.high,
                    holds: vec![*id],
                });
            }
        }
        for (_, entry) in snapshot.entries() {
            let Facts::Bundle(Bundle {
                from, price, holds, ..
            }) = &entry.facts
            else {
                continue;
            };
            let Some(price) = price
                .as_ref()
                .filter(|said| !said.open && said.value.currency == currency)
            else {
                continue;
            };
            let held = holds.iter().filter(|said| said.is_certain()).flat_map(|said| {
                let found = snapshot.pieces_titled(&said.value.name, said.value.by.as_deref());
                // Of two pieces of one title nobody knows which comes with it.
                if found.len() == 1 { found } else { Vec::new() }
            });
            all.push(Offer {
                name: entry.name.clone(),
                bundle: true,
                seller: from.as_ref().map(|said| said.value.clone()).unwrap_or_default(),
                cents: price.value.high,
                holds: held.filter(|id| pieces.contains(id)).collect(),
            });
        }
        Offers { all, postage }
    }

    /// Whether a piece can be bought at all.
    pub fn sells(&self, piece: EntryId) -> bool {
        self.all.iter().any(|offer| offer.holds.contains(&piece))
    }

    /// The least that a piece can add to the cost of any purchase: its share of the best offer.
    pub fn share(&self, piece: EntryId) -> u64 {
        let shares = self
            .all
            .iter()
            .filter(|offer| offer.holds.contains(&piece))
            .map(|offer| offer.cents / offer.holds.len().max(1) as u64);
        shares.min().unwrap_or(0)
    }

    /// The cheapest way to buy all of these; none where one of them is not sold.
    pub fn cheapest(&self, pieces: &[EntryId]) -> Option<Purchase> {
        let useful: Vec<usize> = self
            .all
            .iter()
            .enumerate()
            .filter(|(_, offer)| offer.holds.iter().any(|id| pieces.contains(id)))
            .map(|(at, _)| at)
            .collect();
        let mut search = Cheapest {
            offers: self,
            useful,
            pieces,
            best: None,
            left: MOST_STEPS,
        };
        search.go(&mut Vec::new());
        search.best
    }

    fn cost(&self, bought: &[usize]) -> Purchase {
        let offers: Vec<&Offer> = bought.iter().filter_map(|at| self.all.get(*at)).collect();
        let mut sellers: Vec<String> = offers.iter().map(|offer| key(&offer.seller)).collect();
        sellers.sort();
        sellers.dedup();
        let postage = self.postage.saturating_mul(sellers.len() as u64);
        let goods = offers
            .iter()
            .fold(0u64, |sum, offer| sum.saturating_add(offer.cents));
        Purchase {
            offers: bought.to_vec(),
            cents: goods.saturating_add(postage),
            postage,
        }
    }
}

struct Cheapest<'o> {
    offers: &'o Offers,
    useful: Vec<usize>,
    pieces: &'o [EntryId],
    best: Option<Purchase>,
    left: u32,
}

impl Cheapest<'_> {
    /// Buys each offer in turn that holds the first piece that is still missing.
    fn go(&mut self, bought: &mut Vec<usize>) {
        let Some(left) = self.left.checked_sub(1) else {
            return;
        };
        self.left = left;
        let cost = self.offers.cost(bought);
        if self.best.as_ref().is_some_and(|best| best.cents <= cost.cents) {
            return;
        }
        let has = |id: &EntryId| {
            bought
                .iter()
                .filter_map(|at| self.offers.all.get(*at))
                .any(|offer| offer.holds.contains(id))
        };
        let Some(missing) = self.pieces.iter().find(|id| !has(id)).copied() else {
            self.best = Some(cost);
            return;
        };
        for at in self.useful.clone() {
            let holds = self
                .offers
                .all
                .get(at)
                .is_some_and(|offer| offer.holds.contains(&missing));
            if holds && !bought.contains(&at) {
                bought.push(at);
                self.go(bought);
                bought.pop();
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn id(entry: u32) -> EntryId {
        EntryId { file: 0, entry }
    }

    fn offer(seller: &str, cents: u64, holds: &[u32]) -> Offer {
        Offer {
            name: String::new(),
            bundle: holds.len() > 1,
            seller: seller.to_owned(),
            cents,
            holds: holds.iter().map(|at| id(*at)).collect(),
        }
    }

    /// Every choice of offers, the cheapest that holds all.
    fn every_way(offers: &Offers, pieces: &[EntryId]) -> Option<u64> {
        let ways = (0u32..1 << offers.all.len()).map(|bits| {
            let all = 0..offers.all.len();
            all.filter(|at| bits >> at & 1 == 1).collect::<Vec<usize>>()
        });
        ways.filter(|bought| {
            pieces
                .iter()
                .all(|piece| bought.iter().any(|at| offers.all[*at].holds.contains(piece)))
        })
        .map(|bought| offers.cost(&bought).cents)
        .min()
    }

    #[test]
    fn a_bundle_may_cost_less_and_postage_may_turn_it() {
        let mut offers = Offers {
            all: vec![
                offer("A", 4000, &[0]),
                offer("B", 3500, &[1]),
                offer("A", 4500, &[1]),
                offer("C", 8000, &[0, 1, 2]),
                offer("A", 3000, &[2]),
            ],
            postage: 0,
        };
        assert_eq!(offers.cheapest(&[id(0), id(1)]).map(|all| all.cents), Some(7500));
        // With postage the dearer single of the same seller wins.
        offers.postage = 1500;
        assert_eq!(offers.cheapest(&[id(0), id(1)]).map(|all| all.cents), Some(9500));
        assert_eq!(
            offers.cheapest(&[id(0), id(1), id(2)]).map(|all| all.offers),
            Some(vec![3])
        );
        assert_eq!(offers.cheapest(&[id(7)]), None);
        assert_eq!(offers.cheapest(&[]).map(|all| all.cents), Some(0));
        for wanted in 0u32..8 {
            let pieces: Vec<EntryId> = (0..3).filter(|at| wanted >> at & 1 == 1).map(id).collect();
            for postage in [0, 400, 1500, 5000] {
                offers.postage = postage;
                let found = offers.cheapest(&pieces).map(|all| all.cents);
                assert_eq!(found, every_way(&offers, &pieces), "{pieces:?} {postage}");
            }
        }
    }
}
