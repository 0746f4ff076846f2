//! Sums of money, with the currency's ISO 4217 letters in the one form.

use std::fmt;

/// A sum of money.
#[derive(Debug, Clone, PartialEq, Eq, Hash)]
pub struct Money {
    /// Hundredths of the currency's unit.
    pub cents: u64,
    /// The currency's three letters (ISO 4217).
    pub currency: String,
}

const SIGNS: [(&str, &str); 10] = [
    ("$", "USD"),
    ("€", "EUR"),
    ("£", "GBP"),
    ("¥", "JPY"),
    ("dollars", "USD"),
    ("dollar", "USD"),
    ("bucks", "USD"),
    ("euros", "EUR"),
    ("euro", "EUR"),
    ("pounds", "GBP"),
];

impl Money {
    /// Reads `62 USD`, `$62`, `62.50 dollars`, `1,200 USD`; a bare number is in dollars.
    pub fn read(text: &str) -> Option<Money> {
        let text = text.trim();
        let is_amount = |c: char| c.is_ascii_digit() || c == '.' || c == ',';
        let start = text.find(|c: char| c.is_ascii_digit())?;
        let amount_end = text
            .get(start..)?
            .find(|c| !is_amount(c))
            .map_or(text.len(), |end| start + end);
        let amount = text.get(start..amount_end)?.trim_end_matches(['.', ',']);
        let before = text.get(..start)?.trim();
        let after = text.get(start + amount.len()..)?.trim();
        let sign = if before.is_empty() { after } else { before };
        let said_twice = !before.is_empty() && !after.is_empty();
        let dollars_twice = before == "$" && after.eq_ignore_ascii_case("usd");
        if said_twice && !dollars_twice {
            return None;
        }
        let currency = if sign.is_empty() {
            "USD".to_owned()
        } else if let Some((_, code)) = SIGNS.iter().find(|(word, _)| sign.eq_ignore_ascii_case(word)) {
            (*code).to_owned()
        } else if sign.len() == 3 && sign.chars().all(|c| c.is_ascii_alphabetic()) {
            sign.to_uppercase()
        } else {
            return None;
        };
        Some(Money {
            cents: cents(amount)?,
            currency,
        })
    }
}

fn cents(amount: &str) -> Option<u64> {
    let plain: String = amount.chars().filter(|c| *c != ',').collect();
    let (whole, part) = plain.split_once('.').unwrap_or((&plain, ""));
    let part: u64 = match part.len() {
        0 => 0,
        1 => part.parse::<u64>().ok()? * 10,
        2 => part.parse().ok()?,
        _ => return None,
    };
    whole.parse::<u64>().ok()?.checked_mul(100)?.checked_add(part)
}

impl fmt::Display for Money {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let (whole, part) = (self.cents / 100, self.cents % 100);
        match part {
            0 => write!(f, "{whole} {}", self.currency),
            part => write!(f, "{whole}.{part:02} {}", self.currency),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn prices_are_read_as_directors_write_them() {
        for (written, one_form) in [
            ("62 USD", Some("62 USD")),
            ("$62", Some("62 USD")),
            ("$62.50", Some("62.50 USD")),
            ("62 dollars", Some("62 USD")),
            ("1,200 usd", Some("1200 USD")),
            ("45", Some("45 USD")),
            ("€ 40", Some("40 EUR")),
            ("cheap", None),
            ("$1.234", None),
            ("99999999999999999999 USD", None),
        ] {
            assert_eq!(
                Money::read(written).map(|sum| sum.to_string()).as_deref(),
                one_form,
                "{written}"
            );
        }
    }
}
