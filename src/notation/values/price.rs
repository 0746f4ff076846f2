//! What a set costs, what it cost before, and what a part of it costs: `38.50 GBP, extra parts 2.25 GBP each`.

use std::fmt;

use crate::notation::scan;

use super::bought::Bought;
use super::cursor::{ARTICLES, Cursor, single};
use super::money::Money;

/// What is said of a price.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Price {
    /// What the whole costs now.
    pub money: Option<Money>,
    /// What came with it for nothing more, or what it came with, in one of the usual words.
    pub with: Option<String>,
    /// What it used to cost.
    pub was: Option<Money>,
    /// What one more copy of a part costs.
    pub part: Option<Money>,
    /// When, where and for how much it was bought.
    pub bought: Option<Bought>,
    /// What the postage comes to.
    pub postage: Option<Money>,
    /// The year in which it cost that, where it is said.
    pub year: Option<i16>,
}

/// What a set may come with (common practice, no source).
const WITH: [&str; 12] = [
    "book",
    "method book",
    "bundle",
    "set",
    "order",
    "recording",
    "magazine",
    "subscription",
    "catalog",
    "folder",
    "sampler",
    "demo CD",
];

impl Price {
    /// Reads what [`Money`] reads, and `£38.50 the set, extra parts £2.25 each`, `was $40, now $62`,
    /// `$58, purchased August 2015`, `bought used for ten`, `free with the book`.
    ///
    /// Each of them may be said once: of two sums it is not known which one counts.
    pub fn read(text: &str) -> Option<Price> {
        if text.len() > scan::LONGEST as usize {
            return None;
        }
        if let Some(money) = Money::read(text) {
            return Some(Price {
                money: Some(money),
                ..Price::default()
            });
        }
        let mut price = Price::default();
        for (_, piece) in crate::notation::pieces::split_commas(text) {
            price.piece(piece.trim())?;
        }
        (price != Price::default()).then_some(price)
    }

    fn piece(&mut self, piece: &str) -> Option<()> {
        // `65 USD in 2010`: what it cost then.
        if let Some((sum, year)) = piece.rsplit_once(" in ")
            && self.year.is_none()
            && let Some(year) = (year.len() == 4).then(|| year.parse::<i16>().ok()).flatten()
            && (1950..=2079).contains(&year)
            && let Some(money) = Money::read(sum)
        {
            self.year = Some(year);
            return fill(&mut self.money, Some(money), &Cursor::new(""));
        }
        let mut words = Cursor::new(piece);
        if words.any(&["carriage paid", "postage paid", "post paid", "with postage"]) {
            return (words.done() && self.money.is_some()).then_some(());
        }
        if words.any(&[
            "was",
            "used to be",
            "used to cost",
            "formerly",
            "before",
            "old price",
            "once",
        ]) {
            return fill(&mut self.was, words.longest(Money::read), &words);
        }
        if words.any(&["purchased", "bought", "we paid", "i paid", "paid", "ordered"]) {
            return fill(&mut self.bought, words.longest(Bought::read), &words);
        }
        if let Some(money) = postage(piece) {
            return fill(&mut self.postage, Some(money), &Cursor::new(""));
        }
        // `55 plus 8 shipping`: both in one breath.
        if self.money.is_none()
            && let Some((head, money)) = [" plus ", " + ", " and "].iter().find_map(|joint| {
                let (head, tail) = piece.split_once(joint)?;
                Some((head, postage(tail)?))
            })
        {
            self.piece(head)?;
            return fill(&mut self.postage, Some(money), &Cursor::new(""));
        }
        if let Some(money) = part(piece) {
            return fill(&mut self.part, Some(money), &Cursor::new(""));
        }
        words.any(&["now", "today", "new price", "is", "costs"]);
        let money = words.longest(Money::read);
        if words.any(&["with", "w", "w/", "came with", "comes with"]) {
            let start = words.clone().any(&ARTICLES);
            words.any(&ARTICLES);
            let with = words.longest(|text| WITH.iter().find(|known| text.eq_ignore_ascii_case(known)))?;
            let free = money.as_ref().is_some_and(|money| money.high == 0);
            let with = if start {
                format!("the {with}")
            } else {
                (*with).to_owned()
            };
            (free && self.with.is_none()).then_some(())?;
            self.with = Some(with);
        }
        fill(&mut self.money, money, &words)
    }
}

/// Sets what was not said before, where every word of the piece was taken.
fn fill<T>(place: &mut Option<T>, found: Option<T>, words: &Cursor<'_>) -> Option<()> {
    if place.is_some() || !words.done() {
        return None;
    }
    *place = Some(found?);
    Some(())
}

/// `postage 3.20 GBP on top`, `8 shipping`, `plus $8 for shipping`.
fn postage(piece: &str) -> Option<Money> {
    const KINDS: [&str; 7] = [
        "postage",
        "shipping",
        "p&p",
        "delivery",
        "carriage",
        "shipping is",
        "postage is",
    ];
    let mut words = Cursor::new(piece);
    words.any(&["plus", "and", "+"]);
    let front = words.any(&KINDS);
    words.any(&["is", "of"]);
    let money = words.longest(Money::read)?;
    let behind = !front && {
        words.any(&["for", "in"]);
        words.any(&KINDS)
    };
    words.any(&["on top", "extra", "more"]);
    (words.done() && (front || behind)).then_some(money)
}

/// `extra parts £2.25 each`, `$3 a part`, `2.25 per extra part`, `single parts 2 GBP`.
fn part(piece: &str) -> Option<Money> {
    let mut words = Cursor::new(piece);
    let kind = |words: &mut Cursor<'_>| {
        let mut words_taken = words.any(&["extra", "additional", "single", "more", "replacement"]);
        words_taken |= words.any(&["parts", "part", "copies", "copy"]);
        words_taken
    };
    let front = kind(&mut words);
    let money = words.longest(Money::read)?;
    let each = words.any(&[
        "each",
        "apiece",
        "a piece",
        "per",
        "for each",
        "for an",
        "a",
        "for every",
    ]);
    let behind = !front && kind(&mut words);
    (words.done() && (front || (behind && each))).then_some(money)
}

impl fmt::Display for Price {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let mut parts: Vec<String> = Vec::new();
        if let Some(money) = &self.money {
            parts.push(match &self.with {
                Some(with) => format!("{money} with {}", single(with)),
                None => match self.year {
                    Some(year) => format!("{money} in {year}"),
                    None => money.to_string(),
                },
            });
        }
        parts.extend(self.postage.as_ref().map(|sum| format!("postage {sum}")));
        parts.extend(self.part.as_ref().map(|part| format!("extra parts {part} each")));
        parts.extend(self.was.as_ref().map(|was| format!("was {was}")));
        parts.extend(self.bought.as_ref().map(|bought| format!("bought {bought}")));
        f.write_str(&parts.join(", "))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn prices_are_read_as_directors_write_them() {
        for (written, one_form) in [
            ("62 USD", Some("62 USD")),
            (
                "£38.50 the set, extra parts £2.25 each",
                Some("38.50 GBP, extra parts 2.25 GBP each"),
            ),
            ("$60, $3 a part", Some("60 USD, extra parts 3 USD each")),
            ("was $40, now $62", Some("62 USD, was 40 USD")),
            (
                "was $40, now $62, bought used for ten",
                Some("62 USD, was 40 USD, bought used 10 USD"),
            ),
            ("$58.00, purchased August 2015", Some("58 USD, bought 2015-08")),
            ("free w the book", Some("free with the book")),
            ("free with the method book", Some("free with the method book")),
            ("£110 the three, carriage paid", Some("110 GBP")),
            ("1,200 USD, was 900 USD", Some("1200 USD, was 900 USD")),
            (
                "paid $58 from the shop in town",
                Some("bought 58 USD from the shop in town"),
            ),
            ("62 USD, 70 USD", None),
            ("was $40, was $50", None),
            ("62 with the book", None),
            ("free with the zqxv", None),
            ("was zqxv $40", None),
            ("$60, zqxv $3 a part", None),
            ("$58, purchased zqxv", None),
            ("carriage paid", None),
        ] {
            let read = Price::read(written);
            let shown = read.as_ref().map(ToString::to_string);
            assert_eq!(shown.as_deref(), one_form, "{written}");
            assert_eq!(
                shown.and_then(|shown| Price::read(&shown)),
                read,
                "{written} again"
            );
        }
    }
}
