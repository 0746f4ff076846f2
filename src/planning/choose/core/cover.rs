//! The cheapest way to have everything: offers that hold things, and what each seller takes for an order.
//!
//! Weighted set cover with charges, exact. Which sellers are bought from is settled first, so that their charges
//! are known; then offers are taken, always for the missing thing that fewest offers hold. A branch ends where
//! what is spent and a bound on the rest reach the best that is known. The bound shares prices out over the
//! things (a feasible solution of the dual problem): no way of having the missing things costs less.

/// Something that can be bought.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Offer {
    /// Its price.
    pub price: u64,
    /// Its seller's number.
    pub seller: usize,
    /// The numbers of the things it holds.
    pub holds: Vec<usize>,
}

/// What a seller takes for an order.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Charge {
    /// The charge.
    pub fee: u64,
    /// The sum of prices from which on nothing is taken.
    pub free_from: Option<u64>,
}

/// The cheapest way that was found.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Cheapest {
    /// The offers, in order.
    pub offers: Vec<usize>,
    /// What they cost in all.
    pub cost: u64,
    /// How much of that is charges.
    pub charges: u64,
    /// Whether nothing costs less.
    pub proven: bool,
}

/// The most sellers whose sets are all looked at.
const MOST_SELLERS: usize = 10;

/// The cheapest offers that hold all of `things` (their numbers below 64) in at most so many steps; none where
/// something is not offered.
pub fn cheapest(offers: &[Offer], charges: &[Charge], things: &[usize], steps: u64) -> Option<Cheapest> {
    let wanted = things
        .iter()
        .filter(|at| **at < 64)
        .fold(0u64, |mask, at| mask | 1 << at);
    let mask = |offer: &Offer| {
        let held = offer
            .holds
            .iter()
            .filter(|at| **at < 64)
            .fold(0u64, |mask, at| mask | 1 << at);
        held & wanted
    };
    let charge = |seller: usize| charges.get(seller).copied().unwrap_or_default();
    let lifts = |seller: usize| charge(seller).fee > 0 && charge(seller).free_from.is_some();
    let all: Vec<(usize, u64, u64, usize)> = offers
        .iter()
        .enumerate()
        .map(|(at, offer)| (at, offer.price, mask(offer), offer.seller))
        // What holds nothing that is missing may still lift a sum over the mark from which on nothing is charged.
        .filter(|(_, _, held, seller)| *held != 0 || lifts(*seller))
        .collect();
    let offered = all.iter().fold(0, |held, offer| held | offer.2);
    if offered != wanted {
        return None;
    }
    let mut sellers: Vec<usize> = all.iter().map(|offer| offer.3).collect();
    sellers.sort_unstable();
    sellers.dedup();
    let mut search = Search {
        best: None,
        left: steps,
        cut: sellers.len() > MOST_SELLERS,
    };
    sellers.truncate(MOST_SELLERS);
    if wanted == 0 {
        return Some(Cheapest {
            offers: Vec::new(),
            cost: 0,
            charges: 0,
            proven: true,
        });
    }
    // A seller who charges nothing is bought from or not for nothing.
    let sorted: Vec<usize> = sellers
        .iter()
        .copied()
        .filter(|seller| charge(*seller).fee > 0)
        .collect();
    // For each charging seller: none of them is bought from, or with the charge, or for so much that it falls.
    let mut ways: Vec<Vec<(usize, Way)>> = vec![Vec::new()];
    for seller in &sorted {
        let own: Vec<Way> = match charge(*seller).free_from {
            None => vec![Way::Not, Way::Charged],
            Some(from) => vec![Way::Not, Way::Charged, Way::Free(from)],
        };
        ways = ways
            .iter()
            .flat_map(|before| {
                own.iter()
                    .map(|way| [before.as_slice(), &[(*seller, *way)]].concat())
            })
            .collect();
    }
    let fees = |way: &[(usize, Way)]| -> u64 {
        let charged = way.iter().filter(|(_, way)| *way == Way::Charged);
        charged.map(|(seller, _)| charge(*seller).fee).sum()
    };
    ways.sort_by_key(|way| fees(way));
    for way in ways {
        let open: Vec<(usize, u64, u64, usize)> = all
            .iter()
            .copied()
            .filter(|offer| !way.contains(&(offer.3, Way::Not)))
            .collect();
        search.one_way(&open, wanted, &way, fees(&way));
    }
    let proven = !search.cut;
    search.best.map(|(cost, charges, mut offers)| {
        offers.sort_unstable();
        Cheapest {
            offers,
            cost,
            charges,
            proven,
        }
    })
}

/// How it is bought from a seller.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Way {
    Not,
    Charged,
    /// For at least so much.
    Free(u64),
}

struct Search {
    /// The best: its cost, its charges, its offers.
    best: Option<(u64, u64, Vec<usize>)>,
    left: u64,
    cut: bool,
}

/// An offer as the search sees it: its number, its price, the things it holds, its seller.
type Open = (usize, u64, u64, usize);

impl Search {
    fn one_way(&mut self, open: &[Open], wanted: u64, way: &[(usize, Way)], fees: u64) {
        let offered = open.iter().fold(0, |held, offer| held | offer.2);
        if offered & wanted != wanted {
            return;
        }
        // What another holds as well for no more is not needed, unless its price lifts a sum over a mark.
        let lifts = way.iter().any(|(_, way)| matches!(way, Way::Free(_)));
        let useful: Vec<Open> = open
            .iter()
            .copied()
            .filter(|one| {
                lifts
                    || !open.iter().any(|other| {
                        one.2 & other.2 == one.2
                            && (other.1, other.2 != one.2, other.0) < (one.1, false, one.0)
                            && (other.1 < one.1 || other.0 != one.0)
                            && (other.1 <= one.1)
                    })
            })
            .collect();
        let useful = match useful.iter().fold(0, |held, offer| held | offer.2) & wanted == wanted {
            true => useful,
            false => open.to_vec(),
        };
        self.go(&useful, wanted, way, fees, 0, &mut Vec::new());
    }

    fn go(
        &mut self,
        open: &[Open],
        missing: u64,
        way: &[(usize, Way)],
        fees: u64,
        spent: u64,
        bought: &mut Vec<Open>,
    ) {
        let Some(left) = self.left.checked_sub(1) else {
            self.cut = true;
            return;
        };
        self.left = left;
        let known = self.best.as_ref().map_or(u64::MAX, |best| best.0);
        if missing == 0 {
            let short = way.iter().any(|(seller, way)| match way {
                Way::Free(from) => {
                    bought
                        .iter()
                        .filter(|offer| offer.3 == *seller)
                        .map(|offer| offer.1)
                        .sum::<u64>()
                        < *from
                }
                _ => false,
            });
            if short {
                return self.lift(open, way, fees, spent, bought);
            }
            let cost = spent.saturating_add(fees);
            if cost < known {
                self.best = Some((cost, fees, bought.iter().map(|offer| offer.0).collect()));
            }
            return;
        }
        if spent.saturating_add(fees).saturating_add(bound(open, missing)) >= known {
            return;
        }
        // The missing thing that fewest offers hold.
        let things = (0..64).filter(|at| missing >> at & 1 == 1);
        let holders = |at: &u32| open.iter().filter(|offer| offer.2 >> at & 1 == 1).count();
        let Some(thing) = things.min_by_key(holders) else {
            return;
        };
        let mut each: Vec<Open> = open
            .iter()
            .copied()
            .filter(|offer| offer.2 >> thing & 1 == 1)
            .collect();
        each.sort_by_key(|offer| {
            (
                offer.1 / u64::from((offer.2 & missing).count_ones().max(1)),
                offer.0,
            )
        });
        let mut tried: Vec<usize> = Vec::new();
        for offer in each {
            // Those tried before are not bought beside it: that was looked at.
            let rest: Vec<Open> = open
                .iter()
                .copied()
                .filter(|other| other.0 != offer.0 && !tried.contains(&other.0))
                .collect();
            bought.push(offer);
            self.go(
                &rest,
                missing & !offer.2,
                way,
                fees,
                spent.saturating_add(offer.1),
                bought,
            );
            bought.pop();
            tried.push(offer.0);
        }
    }

    /// More than is needed is bought where that lifts a sum over the mark from which on nothing is charged.
    fn lift(&mut self, open: &[Open], way: &[(usize, Way)], fees: u64, spent: u64, bought: &mut Vec<Open>) {
        let short = way.iter().find_map(|(seller, way)| match way {
            Way::Free(from) => {
                let sum: u64 = bought
                    .iter()
                    .filter(|offer| offer.3 == *seller)
                    .map(|offer| offer.1)
                    .sum();
                (sum < *from).then(|| (*seller, from.saturating_sub(sum)))
            }
            _ => None,
        });
        let Some((seller, lacks)) = short else { return };
        let known = self.best.as_ref().map_or(u64::MAX, |best| best.0);
        if spent.saturating_add(fees).saturating_add(lacks) >= known {
            return;
        }
        let own: Vec<Open> = open.iter().copied().filter(|offer| offer.3 == seller).collect();
        for (at, offer) in own.iter().enumerate() {
            let rest: Vec<Open> = open
                .iter()
                .copied()
                .filter(|other| other.0 != offer.0 && !own.iter().take(at).any(|tried| tried.0 == other.0))
                .collect();
            bought.push(*offer);
            self.go(&rest, 0, way, fees, spent.saturating_add(offer.1), bought);
            bought.pop();
        }
    }
}

/// What the missing things cost at least: shares of prices that no offer's things exceed, raised in turn.
fn bound(open: &[Open], missing: u64) -> u64 {
    // In hundredths of the smallest coin, so that little is lost to rounding.
    let mut slack: Vec<u64> = open.iter().map(|offer| offer.1.saturating_mul(100)).collect();
    let mut shares = [0u64; 64];
    let things: Vec<usize> = (0..64).filter(|at| missing >> at & 1 == 1).collect();
    // First evenly, then whatever is left over.
    for round in 0..2 {
        for thing in &things {
            let holders = || {
                open.iter()
                    .enumerate()
                    .filter(|(_, offer)| offer.2 >> thing & 1 == 1)
            };
            let most = holders()
                .map(|(at, offer)| {
                    let free = slack.get(at).copied().unwrap_or(0);
                    match round {
                        0 => {
                            let held = u64::from((offer.2 & missing).count_ones().max(1));
                            (offer.1.saturating_mul(100) / held).min(free)
                        }
                        _ => free,
                    }
                })
                .min()
                .unwrap_or(0);
            let taken: Vec<usize> = holders().map(|(at, _)| at).collect();
            for at in taken {
                if let Some(free) = slack.get_mut(at) {
                    *free = free.saturating_sub(most);
                }
            }
            if let Some(share) = shares.get_mut(*thing) {
                *share = share.saturating_add(most);
            }
        }
    }
    shares.iter().sum::<u64>().div_ceil(100)
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    fn every_way(offers: &[Offer], charges: &[Charge], things: usize) -> Option<u64> {
        let ways = (0u32..1 << offers.len()).map(|bits| {
            (0..offers.len())
                .filter(|at| bits >> at & 1 == 1)
                .collect::<Vec<_>>()
        });
        let holds_all = |bought: &Vec<usize>| {
            (0..things).all(|thing| bought.iter().any(|at| offers[*at].holds.contains(&thing)))
        };
        ways.filter(holds_all)
            .map(|bought| {
                let goods = |seller: usize| {
                    bought
                        .iter()
                        .filter(|at| offers[**at].seller == seller)
                        .map(|at| offers[*at].price)
                        .sum::<u64>()
                };
                let buys = |seller: usize| bought.iter().any(|at| offers[*at].seller == seller);
                let charged = charges.iter().enumerate().filter(|(seller, charge)| {
                    buys(*seller) && charge.free_from.is_none_or(|from| goods(*seller) < from)
                });
                let fees: u64 = charged.map(|(_, charge)| charge.fee).sum();
                bought.iter().map(|at| offers[*at].price).sum::<u64>() + fees
            })
            .min()
    }

    proptest! {
        #![proptest_config(ProptestConfig::with_cases(400))]

        #[test]
        fn nothing_costs_less(
            offers in prop::collection::vec((1u64..60, 0usize..3, prop::collection::btree_set(0usize..5, 1..4)), 1..9),
            charges in prop::collection::vec((0u64..25, prop::option::of(1u64..90)), 3),
            things in 0usize..5,
        ) {
            let offers: Vec<Offer> = offers.into_iter().map(|(price, seller, holds)| Offer { price, seller, holds: holds.into_iter().collect() }).collect();
            let charges: Vec<Charge> = charges.into_iter().map(|(fee, free_from)| Charge { fee, free_from }).collect();
            let wanted: Vec<usize> = (0..things).collect();
            let found = cheapest(&offers, &charges, &wanted, u64::MAX);
            prop_assert_eq!(found.as_ref().map(|found| found.cost), every_way(&offers, &charges, things));
            if let Some(found) = found {
                prop_assert!(found.proven);
                let goods: u64 = found.offers.iter().map(|at| offers[*at].price).sum();
                prop_assert_eq!(goods + found.charges, found.cost);
            }
        }
    }
}
