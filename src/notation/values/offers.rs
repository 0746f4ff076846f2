//! What was probably meant by a value that cannot be read: offered, never taken for it.

use super::super::of::Of;
use super::moment::{both_halves, show_time};
use super::{Day, Money, Titled, read};
use crate::notation::scan;

/// The values that were probably meant, each in the one form.
pub fn offers(of: Of, text: &str) -> Vec<String> {
    let text = text.trim();
    let mut found = match of {
        Of::Money | Of::Price => Money::offers(text),
        Of::Moment => hours(text),
        Of::Grade => quoted_list(text).into_iter().collect(),
        Of::Title | Of::Held | Of::Listed => titles(text),
        Of::Pickup => vec![format!("{text} beats"), format!("{text} eighths")],
        Of::Lasts | Of::ConcertLength => vec![format!("{text} minutes")],
        Of::Needs => vec![format!("{text} percussionists")],
        _ => Vec::new(),
    };
    found.retain(|offer| offer != text && read(of, offer).is_some());
    found
}

/// `2026-12-10, 7`: evening and morning.
fn hours(text: &str) -> Vec<String> {
    let ends = text
        .char_indices()
        .filter(|(_, c)| *c == ',' || c.is_whitespace());
    for (at, _) in ends {
        let (Some(day), Some(rest)) = (text.get(..at).and_then(Day::read), text.get(at + 1..)) else {
            continue;
        };
        let rest = rest.trim();
        let rest = rest.strip_prefix("at ").unwrap_or(rest);
        if let Some(halves) = both_halves(rest) {
            return halves
                .iter()
                .map(|time| format!("{day}, {}", show_time(*time)))
                .collect();
        }
    }
    Vec::new()
}

/// `1.5 Thrum Hollow list`: the list in quotation marks.
fn quoted_list(text: &str) -> Option<String> {
    let (grade, list) = text.split_once(' ')?;
    let list = ["by ", "in ", "on "]
        .iter()
        .find_map(|lead| list.strip_prefix(lead))
        .unwrap_or(list);
    (!list.contains(scan::is_quote)).then(|| format!("{grade} \"{}\"", list.trim()))
}

/// `Long Song` in quotation marks; `"A" and "B"` as two.
fn titles(text: &str) -> Vec<String> {
    if !text.contains(scan::is_quote) {
        let plain = super::titled::without_bullet(text);
        return vec![format!("\"{plain}\"")];
    }
    Vec::new()
}

/// The titles of an item that joins several, each in the one form: `"A" and "B"`.
pub fn joined_titles(text: &str) -> Option<Vec<String>> {
    let titles = Titled::read_joined(text).filter(|titles| titles.len() > 1)?;
    Some(titles.iter().map(ToString::to_string).collect())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_was_probably_meant() {
        for (of, text, offered) in [
            (Of::Money, "60 UDS", vec!["60 USD"]),
            (Of::Money, "$6.2", vec!["6.20 USD", "62 USD"]),
            (
                Of::Moment,
                "2026-12-10, 7",
                vec!["2026-12-10, 19:00", "2026-12-10, 07:00"],
            ),
            (
                Of::Grade,
                "1.5 Thrum Hollow list",
                vec!["1.5 \"Thrum Hollow list\""],
            ),
            (Of::Held, "Long Song", vec!["\"Long Song\""]),
            (Of::ConcertLength, "5", vec!["5 minutes"]),
            (Of::Money, "zqxv", vec![]),
        ] {
            assert_eq!(offers(of, text), offered, "{text}");
        }
        assert_eq!(
            joined_titles("\"A\" and \"B\""),
            Some(vec!["\"A\"".to_owned(), "\"B\"".to_owned()])
        );
    }
}
