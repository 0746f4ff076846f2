//! A program that costs more than may be spent on it.

use crate::findings::card::Card;
use crate::findings::finding::Saying;
use crate::findings::rule::{Notice, Noticed};
use crate::notation::values::Money;
use crate::planning::buy::is_there;
use crate::rule;
use crate::text::sentences::joined;

use super::money::sum;

rule! {
    /// A concert whose pieces that are still to be bought cost more than its budget. A piece with copies in the
    /// library or performed before is taken as owned; one without a certain price is not guessed at.
    ///
    /// # Why it matters
    ///
    /// The order is turned down when the program is already promised.
    ///
    /// # Draws it
    ///
    /// ```levare
    /// piece "Creek Bridge"
    ///   price           95 USD
    /// piece "Long Bridge"
    ///   price           85 USD
    /// ensemble "Seventh Grade Band"
    /// concert "Winter evening"
    ///   budget          150 USD
    ///                   ^^^^^^^
    ///   program
    ///     "Creek Bridge"
    ///     "Long Bridge"
    /// ```
    ///
    /// # Does not
    ///
    /// ```levare
    /// piece "Creek Bridge"
    ///   price           95 USD
    ///   library
    ///     copies          1 score
    /// piece "Long Bridge"
    ///   price           85 USD
    /// ensemble "Seventh Grade Band"
    /// concert "Winter evening"
    ///   budget          150 USD
    ///   program
    ///     "Creek Bridge"
    ///     "Long Bridge"
    /// ```
    ///
    /// # What to do
    ///
    /// Borrow a set, look for a bundle, or choose a piece that is in the library.
    OverTheBudget: "over the budget", Buying, Warning, reads Catalogue, looks at Concert
}

/// The budget, and what is to be bought.
pub struct Spent {
    budget: Money,
    cost: Money,
    titles: Vec<String>,
}

impl Notice for OverTheBudget {
    type What = Spent;

    fn notice(card: &Card<'_>) -> Vec<Noticed<Spent>> {
        let Some(concert) = card.entry.concert() else {
            return Vec::new();
        };
        // What was bought for a concert that is over is paid.
        let day = concert.on.as_ref().and_then(|on| on.value.day.last());
        if day.is_some_and(|day| day < card.snapshot.today) {
            return Vec::new();
        }
        let Some(budget) = concert.budget.as_ref().filter(|budget| budget.is_certain()) else {
            return Vec::new();
        };
        let (budget, span) = (&budget.value, budget.span);
        let mut wanted = Vec::new();
        let mut prices = Vec::new();
        for listed in &concert.program {
            let title = &listed.title.value;
            let pieces = card.snapshot.pieces_titled(&title.name, title.by.as_deref());
            let [id] = pieces.as_slice() else { continue };
            let Some(piece) = card.snapshot.entry(*id).and_then(|entry| entry.piece()) else {
                continue;
            };
            let owned = is_there(piece) || wanted.contains(id);
            if let Some(price) = piece.price.as_ref().filter(|price| price.is_certain() && !owned) {
                wanted.push(*id);
                prices.push((&price.value, title.name.clone()));
            }
        }
        sum(prices.iter().map(|(price, _)| *price))
            .filter(|cost| cost.currency == budget.currency && cost.cents > budget.cents)
            .map(|cost| {
                let what = Spent {
                    budget: budget.clone(),
                    cost,
                    titles: prices
                        .into_iter()
                        .map(|(_, title)| format!("\"{title}\""))
                        .collect(),
                };
                Noticed::new(span, what)
            })
            .into_iter()
            .collect()
    }

    fn say(what: &Spent, _card: &Card<'_>) -> Saying {
        Saying {
            place: "budget".to_owned(),
            says: format!(
                "{} may be spent, and {} would cost {}.",
                what.budget,
                joined(&what.titles),
                what.cost
            ),
            why: "The order is turned down when the program is already promised.".to_owned(),
            todo: "Borrow a set, look for a bundle, or choose a piece that is in the library.".to_owned(),
        }
    }
}
