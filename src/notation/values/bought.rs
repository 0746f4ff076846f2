//! When and where a set was bought: `2024-03-02 from Rivermark Editions`.

use std::fmt;

use super::cursor::{Cursor, single};
use super::day::Day;
use super::money::Money;

/// What is said of a purchase.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Bought {
    /// The day, where it is said.
    pub day: Option<Day>,
    /// What was paid, where it is said.
    pub price: Option<Money>,
    /// Whether it was bought secondhand.
    pub used: bool,
    /// Where, in the director's own words to the end of the item.
    pub from: Option<String>,
}

/// Where sets are bought besides shops (common practice, no source).
const PLACES: [&str; 14] = [
    "reading session",
    "state reading session",
    "summer reading session",
    "convention",
    "state convention",
    "conference",
    "clinic",
    "midwinter clinic",
    "music fair",
    "exhibit hall",
    "estate sale",
    "garage sale",
    "library sale",
    "festival",
];

impl Bought {
    /// Reads `2024-03-02 from Rivermark Editions`, `August 2015`, `$58 from the shop in town`, `donated`,
    /// `used for ten dollars`.
    ///
    /// What stands after `from` is a name, to the end of the item.
    pub fn read(text: &str) -> Option<Bought> {
        let text = single(text);
        let (head, from) = match text.strip_prefix("from ") {
            Some(from) => ("", Some(from)),
            None => match text.split_once(" from ") {
                Some((head, from)) => (head, Some(from)),
                None => (text.as_str(), None),
            },
        };
        let head = head.replace(',', " ");
        let mut words = Cursor::new(&head);
        // `at the reading session, summer 2024`: where, in one of the usual words.
        let at = words.clone().any(&["at the", "at a", "at our", "at"]).then(|| {
            words.any(&["at the", "at a", "at our", "at"]);
            words.one_of(&PLACES.map(|place| (place, place)))
        });
        let from = match at {
            Some(place) => Some(place?).filter(|_| from.is_none()),
            None => from,
        };
        words.any(&["in", "on"]);
        let (mut day, mut price, mut used) = (None, None, false);
        while !words.done() {
            if !used && words.any(&["used", "secondhand", "second-hand", "second hand"]) {
                used = true;
            } else if day.is_none()
                && let Some(found) = words.longest(Day::read)
            {
                day = Some(found);
            } else if price.is_none() {
                words.take("for");
                price = Some(words.longest(Money::read)?);
            } else {
                return None;
            }
        }
        let from = from.map(str::to_owned);
        let said = day.is_some() || price.is_some() || used || from.is_some();
        said.then_some(Bought {
            day,
            price,
            used,
            from,
        })
    }
}

impl fmt::Display for Bought {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let mut parts: Vec<String> = Vec::new();
        parts.extend(self.day.map(|day| day.to_string()));
        parts.extend(self.used.then(|| "used".to_owned()));
        parts.extend(self.price.as_ref().map(ToString::to_string));
        parts.extend(self.from.as_ref().map(|from| format!("from {from}")));
        f.write_str(&parts.join(" "))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn purchases_are_read() {
        for (written, one_form) in [
            (
                "2024-03-02 from Rivermark Editions",
                Some("2024-03-02 from Rivermark Editions"),
            ),
            ("August 2015", Some("2015-08")),
            ("2015 for $58", Some("2015 58 USD")),
            ("donated", Some("free")),
            ("used for ten dollars", Some("used 10 USD")),
            ("2019, secondhand", Some("2019 used")),
            ("used used", None),
            ("from a friend", Some("from a friend")),
            ("2020-13-14", None),
            ("2091-01-01", None),
            ("2024-03-02 zqxv from Rivermark Editions", None),
            ("zqxv 2024-03-02", None),
        ] {
            let read = Bought::read(written);
            let shown = read.as_ref().map(ToString::to_string);
            assert_eq!(shown.as_deref(), one_form, "{written}");
            assert_eq!(
                shown.and_then(|shown| Bought::read(&shown)),
                read,
                "{written} again"
            );
        }
    }
}
