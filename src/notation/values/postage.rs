//! What sending an order costs, as the handbook says it: `8 USD`, `6 USD free over 75 USD from Rivermark Editions`.

use std::fmt;

use super::cursor::single;
use super::money::Money;

/// One item of the handbook's `postage`.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Postage {
    /// What an order costs to send; none where only is said from which sum on it is free (`free over 75 USD`).
    pub fee: Option<Money>,
    /// The sum of an order from which on nothing is charged.
    pub free_over: Option<Money>,
    /// The seller, in the director's own words to the end of the item; none for all others.
    pub from: Option<String>,
}

impl Postage {
    /// Reads `8 USD`, `8 USD an order`, `free from Kelpwick Hall Music`, `6 USD free over 75 USD from Rivermark
    /// Editions`. What stands after `from` is a name, to the end of the item.
    pub fn read(text: &str) -> Option<Postage> {
        let text = single(text);
        let (head, from) = match text.split_once(" from ") {
            Some((head, from)) => (head, Some(from.trim_matches(crate::notation::scan::is_quote))),
            None => (text.as_str(), None),
        };
        let (fee, free) = [" free over ", " free from ", " free above ", " free at "]
            .iter()
            .find_map(|words| head.split_once(words))
            .map_or((head, None), |(fee, free)| (fee, Some(free)));
        let tail = [
            " an order",
            " a parcel",
            " per order",
            " each order",
            " each time",
        ];
        let bare = |words: &str| {
            let words = words.trim().trim_end_matches(',');
            let cut = tail.iter().find_map(|tail| words.strip_suffix(tail));
            cut.unwrap_or(words).to_owned()
        };
        let one = |words: &str| {
            let money = Money::read(&bare(words))?;
            (money.cents == money.high && !money.postage).then_some(money)
        };
        let alone = ["free over ", "free from ", "free above "];
        let alone = alone.iter().find_map(|words| head.strip_prefix(words));
        let (fee, free_over) = match (alone.and_then(one), free) {
            // What another item charges falls from this sum on.
            (Some(free), None) => (None, Some(free)),
            (_, Some(free)) => {
                let fee = one(fee)?;
                let free = one(free).filter(|free| free.currency == fee.currency)?;
                (Some(fee), Some(free))
            }
            (None, None) => (Some(one(fee)?), None),
        };
        let named = from.is_none_or(|from| !from.trim().is_empty());
        named.then(|| Postage {
            fee,
            free_over,
            from: from.map(str::to_owned),
        })
    }
}

impl fmt::Display for Postage {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match (&self.fee, &self.free_over) {
            (Some(fee), None) => write!(f, "{fee}")?,
            (Some(fee), Some(free)) => write!(f, "{fee} free over {free}")?,
            (None, Some(free)) => write!(f, "free over {free}")?,
            (None, None) => {}
        }
        match &self.from {
            Some(from) => write!(f, " from {from}"),
            None => Ok(()),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn postage_is_read() {
        for (written, one_form) in [
            ("8 USD", Some("8 USD")),
            ("$8 an order", Some("8 USD")),
            (
                "$6.50 from Rivermark Editions",
                Some("6.50 USD from Rivermark Editions"),
            ),
            (
                "6 USD free over 75 USD from \"Rivermark Editions\"",
                Some("6 USD free over 75 USD from Rivermark Editions"),
            ),
            (
                "free over 75 USD from Rivermark Editions",
                Some("free over 75 USD from Rivermark Editions"),
            ),
            ("free over $75", Some("free over 75 USD")),
            (
                "free from Rivermark Editions",
                Some("free from Rivermark Editions"),
            ),
            ("free over", None),
            ("6 USD free over 75 EUR", None),
            ("6-8 USD", None),
            ("6 USD zqxv", None),
            ("zqxv from Rivermark Editions", None),
            ("6 USD from ", Some("6 USD")),
        ] {
            let read = Postage::read(written);
            let shown = read.as_ref().map(ToString::to_string);
            // What is cut off at the end leaves no seller, which is no name.
            if written.ends_with("from ") {
                assert_eq!(read, None, "{written}");
                continue;
            }
            assert_eq!(shown.as_deref(), one_form, "{written}");
            assert_eq!(
                shown.and_then(|shown| Postage::read(&shown)),
                read,
                "{written} again"
            );
        }
    }
}
