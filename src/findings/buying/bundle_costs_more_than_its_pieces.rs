//! A bundle that costs more than its pieces.

use crate::catalogue::model::Facts;
use crate::findings::card::Card;
use crate::findings::finding::Saying;
use crate::findings::rule::{Notice, Noticed};
use crate::notation::values::Money;
use crate::rule;

use super::money::sum;

rule! {
    /// A bundle that costs more than its pieces bought one by one. Only where every piece has a price for
    /// certain, all in one currency.
    ///
    /// # Why it matters
    ///
    /// A bundle is bought to save money.
    ///
    /// # Draws it
    ///
    /// ```levare
    /// piece "Creek Bridge"
    ///   price           45 USD
    /// piece "Long Bridge"
    ///   price           55 USD
    /// bundle "Two bridges"
    ///   price           110 USD
    ///                   ^^^^^^^
    ///   holds           "Creek Bridge", "Long Bridge"
    /// ```
    ///
    /// # Does not
    ///
    /// ```levare
    /// piece "Creek Bridge"
    ///   price           45 USD
    /// piece "Long Bridge"
    ///   price           about 55 USD
    /// bundle "Two bridges"
    ///   price           110 USD
    ///   holds           "Creek Bridge", "Long Bridge"
    /// ```
    ///
    /// # What to do
    ///
    /// Look the prices up again, or buy the pieces one by one.
    BundleCostsMoreThanItsPieces: "bundle costs more than its pieces", Buying, Warning, reads Catalogue,
        looks at Bundle
}

/// The two prices.
pub struct Dearer {
    bundle: Money,
    pieces: Money,
}

impl Notice for BundleCostsMoreThanItsPieces {
    type What = Dearer;

    fn notice(card: &Card<'_>) -> Vec<Noticed<Dearer>> {
        let Facts::Bundle(bundle) = card.facts else {
            return Vec::new();
        };
        // Nobody knows what pieces without a name cost.
        if !bundle.unnamed.is_empty() {
            return Vec::new();
        }
        let Some(price) = bundle.price.as_ref().filter(|price| price.is_certain()) else {
            return Vec::new();
        };
        let prices: Option<Vec<&Money>> = bundle
            .holds
            .iter()
            .map(|held| {
                let title = &held.value;
                let pieces = card.snapshot.pieces_titled(&title.name, title.by.as_deref());
                let [id] = pieces.as_slice() else { return None };
                let said = card.snapshot.entry(*id)?.piece()?.price.as_ref()?;
                said.is_certain().then_some(&said.value)
            })
            .collect();
        prices
            .and_then(|prices| sum(prices.into_iter()))
            .filter(|pieces| pieces.currency == price.value.currency && pieces.cents < price.value.cents)
            .map(|pieces| {
                let bundle = price.value.clone();
                Noticed::new(price.span, Dearer { bundle, pieces })
            })
            .into_iter()
            .collect()
    }

    fn say(what: &Dearer, _card: &Card<'_>) -> Saying {
        Saying {
            place: "price".to_owned(),
            says: format!(
                "The bundle costs {}, and its pieces one by one cost {}.",
                what.bundle, what.pieces
            ),
            why: "A bundle is bought to save money.".to_owned(),
            todo: "Look the prices up again, or buy the pieces one by one.".to_owned(),
        }
    }
}
