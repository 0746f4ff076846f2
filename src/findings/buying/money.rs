//! Sums of money of one currency.

use crate::notation::values::Money;

/// The sum of several amounts; none where they are of different currencies or there are none.
pub(super) fn sum<'m>(amounts: impl Iterator<Item = &'m Money>) -> Option<Money> {
    let mut total: Option<Money> = None;
    for amount in amounts {
        total = Some(match total {
            None => amount.clone(),
            // What is free costs nothing in any currency.
            Some(before) if amount.high == 0 => before,
            Some(before) if before.high == 0 => amount.clone(),
            Some(before) if before.currency == amount.currency => Money {
                cents: before.cents.saturating_add(amount.cents),
                high: before.high.saturating_add(amount.high),
                postage: before.postage || amount.postage,
                currency: before.currency,
            },
            Some(_) => return None,
        });
    }
    total
}
