//! What it costs to buy pieces: singles and bundles, and what each seller takes for sending them.

use crate::catalogue::model::{Bundle, Facts};
use crate::catalogue::names::key;
use crate::catalogue::{EntryId, Snapshot};
use crate::notation::Kind;
use crate::planning::choose::core::cover::{self, Charge};

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
    /// What sellers take for an order.
    pub postage: Postage,
}

/// What sellers take for an order, in hundredths.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Postage {
    /// Whoever has no charge of its own.
    pub usual: Charge,
    /// Charges of single sellers, by their names as compared.
    pub own: Vec<(String, Charge)>,
}

impl Postage {
    /// The same for every seller.
    pub fn of_all(fee: u64) -> Postage {
        let usual = Charge { fee, free_from: None };
        Postage {
            usual,
            own: Vec::new(),
        }
    }

    /// What the handbook says, in one currency; what it says in another, is told.
    pub fn of(snapshot: &Snapshot, currency: &str) -> (Postage, Vec<String>) {
        let mut postage = Postage::default();
        let mut others = Vec::new();
        let mut falls = Vec::new();
        let said = snapshot
            .handbook()
            .into_iter()
            .flat_map(|handbook| &handbook.postage);
        for said in said.filter(|said| !said.open) {
            let of = &said.value;
            let sum = of.fee.as_ref().or(of.free_over.as_ref());
            if let Some(sum) = sum.filter(|sum| sum.currency != currency && sum.high > 0) {
                others.push(sum.currency.clone());
                continue;
            }
            let free_from = of.free_over.as_ref().map(|free| free.high);
            match (&of.fee, &of.from) {
                (Some(fee), from) => {
                    let fee = fee.high;
                    let charge = Charge { fee, free_from };
                    match from {
                        Some(seller) => postage.own.push((key(seller), charge)),
                        None => postage.usual = charge,
                    }
                }
                // The charge itself stands in another item.
                (None, from) => falls.push((from.as_deref().map(key), free_from)),
            }
        }
        for (seller, free_from) in falls {
            match seller {
                Some(seller) => {
                    let Charge { fee, .. } = postage.charge(&seller);
                    postage.own.retain(|(known, _)| *known != seller);
                    postage.own.push((seller, Charge { fee, free_from }));
                }
                None => postage.usual.free_from = free_from,
            }
        }
        (postage, others)
    }

    /// What a seller takes.
    pub fn charge(&self, seller: &str) -> Charge {
        let seller = key(seller);
        let own = self.own.iter().find(|(known, _)| *known == seller);
        own.map_or(self.usual, |(_, charge)| *charge)
    }
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
const MOST_STEPS: u64 = 200_000;

impl Offers {
    /// The offers for pieces of a catalogue. An uncertain price is none.
    pub fn of(snapshot: &Snapshot, pieces: &[EntryId], currency: &str, postage: Postage) -> Offers {
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
        let bundles = snapshot
            .entries()
            .filter(|(_, entry)| entry.kind == Some(Kind::Bundle));
        for (_, entry) in bundles {
            let Facts::Bundle(Bundle {
                from, price, holds, ..
            }) = entry.facts()
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
        let mut sellers: Vec<String> = Vec::new();
        let mut number = |seller: &str| {
            let seller = key(seller);
            let known = sellers.iter().position(|known| *known == seller);
            known.unwrap_or_else(|| {
                sellers.push(seller);
                sellers.len() - 1
            })
        };
        let offers: Vec<cover::Offer> = self
            .all
            .iter()
            .map(|offer| cover::Offer {
                price: offer.cents,
                seller: number(&offer.seller),
                holds: offer
                    .holds
                    .iter()
                    .filter_map(|id| pieces.iter().position(|piece| piece == id))
                    .collect(),
            })
            .collect();
        let charges: Vec<Charge> = sellers.iter().map(|seller| self.postage.charge(seller)).collect();
        let things: Vec<usize> = (0..pieces.len()).collect();
        let found = cover::cheapest(&offers, &charges, &things, MOST_STEPS)?;
        Some(Purchase {
            offers: found.offers,
            cents: found.cost,
            postage: found.charges,
        })
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
        .map(|bought| {
            let mut sellers: Vec<&str> = bought.iter().map(|at| offers.all[*at].seller.as_str()).collect();
            sellers.sort_unstable();
            sellers.dedup();
            let goods: u64 = bought.iter().map(|at| offers.all[*at].cents).sum();
            goods + offers.postage.usual.fee * sellers.len() as u64
        })
        .min()
    }

    #[test]
    fn what_is_free_over_a_sum_may_be_said_of_another_charge() {
        let of = |line: &str| {
            let text = format!("handbook\n  postage {line}\n");
            let file = std::sync::Arc::new(crate::catalogue::CardFile::read("a.levare", &text));
            let snapshot = Snapshot::new(vec![file], jiff::civil::date(2026, 10, 20));
            let (postage, others) = Postage::of(&snapshot, "USD");
            assert!(others.is_empty());
            ["Rivermark Editions", "Kelpwick Hall"].map(|seller| {
                let charge = postage.charge(seller);
                (charge.fee, charge.free_from)
            })
        };
        let (nine, never) = ((900, None), Some(12_000));
        assert_eq!(of("9 USD"), [nine, nine]);
        assert_eq!(
            of("9 USD, free over 120 USD from Rivermark Editions"),
            [(900, never), nine]
        );
        assert_eq!(of("free over 120 USD, 9 USD"), [(900, never), (900, never)]);
        assert_eq!(of("9 USD, free from Kelpwick Hall"), [nine, (0, None)]);
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
            postage: Postage::default(),
        };
        assert_eq!(offers.cheapest(&[id(0), id(1)]).map(|all| all.cents), Some(7500));
        // With postage the dearer single of the same seller wins.
        offers.postage = Postage::of_all(1500);
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
                offers.postage = Postage::of_all(postage);
                let found = offers.cheapest(&pieces).map(|all| all.cents);
                assert_eq!(found, every_way(&offers, &pieces), "{pieces:?} {postage}");
            }
        }
    }
}
