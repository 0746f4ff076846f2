//! Sums of money, with the currency's ISO 4217 letters in the one form.

use std::fmt;

use super::cursor::Cursor;
use crate::notation::nearest::nearest;

/// A sum of money, or a span from one to another.
#[derive(Debug, Clone, PartialEq, Eq, Hash)]
pub struct Money {
    /// Hundredths of the currency's unit; none of them for what is free.
    pub cents: u64,
    /// The upper end in hundredths; the same for a single sum.
    pub high: u64,
    /// The currency's three letters (ISO 4217).
    pub currency: String,
    /// Whether postage comes on top.
    pub postage: bool,
}

const SIGNS: [(&str, &str); 16] = [
    ("us$", "USD"),
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
    ("pound", "GBP"),
    ("quid", "GBP"),
    ("yen", "JPY"),
    ("ca$", "CAD"),
    ("a$", "AUD"),
];

/// The letters of the currencies in use (ISO 4217, list one; from memory).
const CODES: [&str; 154] = [
    "AED", "AFN", "ALL", "AMD", "AOA", "ARS", "AUD", "AWG", "AZN", "BAM", "BBD", "BDT", "BGN", "BHD", "BIF",
    "BMD", "BND", "BOB", "BRL", "BSD", "BTN", "BWP", "BYN", "BZD", "CAD", "CDF", "CHF", "CLP", "CNY", "COP",
    "CRC", "CUP", "CVE", "CZK", "DJF", "DKK", "DOP", "DZD", "EGP", "ERN", "ETB", "EUR", "FJD", "FKP", "GBP",
    "GEL", "GHS", "GIP", "GMD", "GNF", "GTQ", "GYD", "HKD", "HNL", "HTG", "HUF", "IDR", "ILS", "INR", "IQD",
    "IRR", "ISK", "JMD", "JOD", "JPY", "KES", "KGS", "KHR", "KMF", "KPW", "KRW", "KWD", "KYD", "KZT", "LAK",
    "LBP", "LKR", "LRD", "LSL", "LYD", "MAD", "MDL", "MGA", "MKD", "MMK", "MNT", "MOP", "MRU", "MUR", "MVR",
    "MWK", "MXN", "MYR", "MZN", "NAD", "NGN", "NIO", "NOK", "NPR", "NZD", "OMR", "PAB", "PEN", "PGK", "PHP",
    "PKR", "PLN", "PYG", "QAR", "RON", "RSD", "RUB", "RWF", "SAR", "SBD", "SCR", "SDG", "SEK", "SGD", "SHP",
    "SLE", "SOS", "SRD", "SSP", "STN", "SVC", "SYP", "SZL", "THB", "TJS", "TMT", "TND", "TOP", "TRY", "TTD",
    "TWD", "TZS", "UAH", "UGX", "USD", "UYU", "UZS", "VES", "VND", "VUV", "WST", "XAF", "XCD", "XOF", "XPF",
    "YER", "ZAR", "ZMW", "ZWG",
];

impl Money {
    /// One sum.
    pub fn sum(cents: u64, currency: impl Into<String>) -> Money {
        Money {
            cents,
            high: cents,
            currency: currency.into(),
            postage: false,
        }
    }

    /// Reads `62 USD`, `$62`, `62.50 dollars`, `1,200 USD`, `$100-110`, `60 plus postage`, `free`,
    /// `donated`; a bare number is in dollars.
    pub fn read(text: &str) -> Option<Money> {
        const POSTAGE: [&str; 12] = [
            "plus postage",
            "plus shipping",
            "+ postage",
            "+ shipping",
            "and postage",
            "and shipping",
            "+ ship",
            "plus p&p",
            "+ s/h",
            "+ s&h",
            "plus s/h",
            "plus s&h",
        ];
        // A price is that of the whole anyway.
        const WHOLE: [&str; 24] = [
            " new",
            " for all",
            " for everything",
            " for the lot",
            " all together",
            " w shipping",
            " w/ shipping",
            " including shipping",
            " for all three",
            " for the three",
            " the three",
            " for both",
            " the pair",
            " carriage paid",
            " postage paid",
            " post paid",
            " including postage",
            " with shipping",
            " for the set",
            " the set",
            " a set",
            " per set",
            " in all",
            " altogether",
        ];
        let lower = text.trim().to_lowercase();
        if ["free", "donated", "gift", "a gift", "no charge", "free of charge"].contains(&lower.as_str()) {
            return Some(Money::sum(0, "USD"));
        }
        let mut lower = lower;
        for _ in 0..2 {
            let found = WHOLE.iter().find_map(|words| lower.strip_suffix(words));
            if let Some(head) = found {
                lower = head.trim_end_matches([',', ' ']).to_owned();
            }
        }
        let (body, postage) = POSTAGE
            .iter()
            .find_map(|words| Some((lower.strip_suffix(words)?.trim_end(), true)))
            .unwrap_or((&lower, false));
        let body = body.strip_suffix(" each").unwrap_or(body);
        let (low, high) = match span(body) {
            Some(span) => span,
            None => (one(body)?, one(body)?),
        };
        let currency = match (low.1, high.1) {
            (Some(one), Some(other)) if one != other => return None,
            (one, other) => one.or(other).unwrap_or("USD"),
        };
        (low.0 <= high.0).then(|| Money {
            cents: low.0,
            high: high.0,
            currency: currency.to_owned(),
            postage,
        })
    }

    /// What was probably meant by a sum that cannot be read: `6.2` as `6.20 USD`, `60 UDS` as `60 USD`.
    pub fn offers(text: &str) -> Vec<String> {
        let mut found = Vec::new();
        let words = Cursor::new(text);
        if let (Some(sum), Some(code)) = (words.peek().map(str::to_owned), text.split_whitespace().nth(1))
            && one(&sum.to_lowercase()).is_some()
            && let Some(near) = nearest(code, CODES)
        {
            found.push(format!("{sum} {near}"));
        }
        if let Some((head, tail)) = text.split_once('.') {
            let digits = tail.chars().take_while(char::is_ascii_digit).count();
            if digits == 1 {
                let (digit, rest) = tail.split_at(1);
                let tens = format!("{head}.{digit}0{rest}");
                let whole = format!("{head}{digit}{rest}");
                found.extend(
                    [tens, whole]
                        .iter()
                        .filter_map(|text| Money::read(text))
                        .map(|sum| sum.to_string()),
                );
            }
        }
        found
    }
}

type Amount = (u64, Option<&'static str>);

/// `100-110`, `$100 to $110`, `100 or 110 usd`.
fn span(text: &str) -> Option<(Amount, Amount)> {
    [" to ", " or ", "-", "–", "—"].iter().find_map(|joint| {
        let (low, high) = text.split_once(joint)?;
        Some((one(low)?, one(high)?))
    })
}

/// One amount, with its currency where that is said.
fn one(text: &str) -> Option<Amount> {
    let text = text.trim();
    let Some(start) = text.find(|c: char| c.is_ascii_digit()) else {
        // `ten`, `ten dollars`: a whole number in words.
        let (number, unit) = text.split_once(' ').unwrap_or((text, ""));
        let currency = match unit.trim() {
            "" => None,
            unit => Some(currency_named(unit)?),
        };
        return Some((
            u64::from(super::cursor::number(number)?).checked_mul(100)?,
            currency,
        ));
    };
    let length = text
        .get(start..)?
        .find(|c: char| !(c.is_ascii_digit() || c == '.' || c == ','))
        .unwrap_or(text.len() - start);
    let amount = text.get(start..start + length)?.trim_end_matches(',');
    let before = text.get(..start)?.trim();
    let after = text.get(start + amount.len()..)?.trim();
    let currency = match (before, after) {
        ("", "") => None,
        ("$", "usd") => Some("USD"),
        ("£", "gbp") => Some("GBP"),
        ("€", "eur") => Some("EUR"),
        ("$", "cad") => Some("CAD"),
        ("$", "aud") => Some("AUD"),
        ("", sign) | (sign, "") => Some(currency_named(sign)?),
        _ => return None,
    };
    Some((cents(amount)?, currency))
}

fn currency_named(sign: &str) -> Option<&'static str> {
    let sign = sign.trim_end_matches('.');
    let named = SIGNS
        .iter()
        .find(|(word, _)| *word == sign)
        .map(|(_, code)| *code);
    named.or_else(|| CODES.into_iter().find(|code| code.eq_ignore_ascii_case(sign)))
}

/// Hundredths. One figure behind the point may be tens or a slip (`6.2`), so it is not read.
fn cents(amount: &str) -> Option<u64> {
    let (whole, part) = amount.split_once('.').unwrap_or((amount, ""));
    let part: u64 = match part.len() {
        0 if !amount.contains('.') => 0,
        2 => part.parse().ok()?,
        _ => return None,
    };
    let groups: Vec<&str> = whole.split(',').collect();
    let grouped = groups.iter().skip(1).all(|group| group.len() == 3);
    if !grouped {
        return None;
    }
    groups
        .concat()
        .parse::<u64>()
        .ok()?
        .checked_mul(100)?
        .checked_add(part)
}

fn show(cents: u64) -> String {
    match (cents / 100, cents % 100) {
        (whole, 0) => whole.to_string(),
        (whole, part) => format!("{whole}.{part:02}"),
    }
}

impl fmt::Display for Money {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        if (self.cents, self.high) == (0, 0) && !self.postage {
            return f.write_str("free");
        }
        f.write_str(&show(self.cents))?;
        if self.high != self.cents {
            write!(f, "-{}", show(self.high))?;
        }
        write!(f, " {}", self.currency)?;
        if self.postage {
            f.write_str(" plus postage")?;
        }
        Ok(())
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
            ("£45", Some("45 GBP")),
            ("45 pounds", Some("45 GBP")),
            ("$100-110", Some("100-110 USD")),
            ("$100 to $110", Some("100-110 USD")),
            ("60 plus postage", Some("60 USD plus postage")),
            ("45 + ship", Some("45 USD plus postage")),
            ("$48 for the set", Some("48 USD")),
            ("£38.50 the set", Some("38.50 GBP")),
            ("£110 the three, carriage paid", Some("110 GBP")),
            ("$60 zqxv paid", None),
            ("the set", None),
            ("free", Some("free")),
            ("donated", Some("free")),
            ("cheap", None),
            ("6.2", None),
            ("$5.2", None),
            ("60 UDS", None),
            ("1,20 USD", None),
            ("$1.234", None),
            ("$110-100", None),
            ("60 USD zqxv", None),
            ("99999999999999999999 USD", None),
        ] {
            let read = Money::read(written);
            let shown = read.as_ref().map(ToString::to_string);
            assert_eq!(shown.as_deref(), one_form, "{written}");
            assert_eq!(
                shown.and_then(|shown| Money::read(&shown)),
                read,
                "{written} again"
            );
        }
    }

    #[test]
    fn what_was_probably_meant_is_offered() {
        assert_eq!(Money::offers("60 UDS"), ["60 USD"]);
        assert_eq!(Money::offers("$6.2"), ["6.20 USD", "62 USD"]);
    }
}
