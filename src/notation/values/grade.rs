//! Grades and who gives them.

use std::fmt;

use crate::notation::scan;

/// A grade in hundredths, so that 1.5 and 2.25 compare exactly.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Grade {
    /// The lower end in hundredths.
    pub low: u32,
    /// The upper end in hundredths; the same as the lower for a single grade.
    pub high: u32,
    /// Who gives it.
    pub who: Who,
}

/// Who gives a grade.
#[derive(Debug, Clone, PartialEq, Eq, Hash)]
pub enum Who {
    /// Nobody is named.
    Unsaid,
    /// The publisher.
    Publisher,
    /// The directors who keep the catalogue.
    Ours,
    /// A list with a card, or a book, by its quoted name.
    List(String),
    /// Anybody else, as written.
    Other(String),
}

impl Grade {
    /// Reads `1.5 publisher`, `2 ours`, `1.5 "Thrum Hollow list"`, `2-3`, `grade 2½`.
    pub fn read(text: &str) -> Option<Grade> {
        let text = text.trim();
        let text = match text.get(..6) {
            Some(word) if word.eq_ignore_ascii_case("grade ") => text.get(6..)?.trim_start(),
            _ => text,
        };
        let (low, rest) = hundredths(text)?;
        let (high, rest) = match rest.trim_start().strip_prefix(['-', '–', '—']) {
            Some(rest) => hundredths(rest.trim_start())?,
            None => (low, rest),
        };
        let rest = rest.trim();
        let rest = ["by ", "in ", "on ", "from ", "per "]
            .iter()
            .find_map(|lead| rest.strip_prefix(lead))
            .map_or(rest, str::trim_start);
        let who = match rest.to_lowercase().as_str() {
            "" => Who::Unsaid,
            "publisher" | "the publisher" | "pub" | "pub." | "publisher's" => Who::Publisher,
            "ours" | "our" | "mine" | "us" | "me" => Who::Ours,
            _ => match scan::quoted(rest) {
                Ok(("", name)) => Who::List(name.to_owned()),
                Ok(_) => return None,
                Err(_) if rest.starts_with(|c: char| c.is_alphabetic()) => Who::Other(rest.to_owned()),
                Err(_) => return None,
            },
        };
        Some(Grade { low, high, who })
    }
}

/// A number with at most two decimals (or ½, ¼, ¾), in hundredths, and what follows it.
fn hundredths(text: &str) -> Option<(u32, &str)> {
    let end = text.find(|c: char| !c.is_ascii_digit()).unwrap_or(text.len());
    let whole: u32 = text.get(..end)?.parse().ok()?;
    let rest = text.get(end..)?;
    let whole = whole.checked_mul(100)?;
    for (sign, part) in [('½', 50), ('¼', 25), ('¾', 75)] {
        if let Some(rest) = rest.trim_start().strip_prefix(sign) {
            return Some((whole.checked_add(part)?, rest));
        }
    }
    match rest.strip_prefix('.') {
        Some(decimals) => {
            let end = decimals
                .find(|c: char| !c.is_ascii_digit())
                .unwrap_or(decimals.len());
            let part: u32 = match end {
                1 => decimals.get(..1)?.parse::<u32>().ok()? * 10,
                2 => decimals.get(..2)?.parse().ok()?,
                _ => return None,
            };
            Some((whole.checked_add(part)?, decimals.get(end..)?))
        }
        None => Some((whole, rest)),
    }
}

/// Writes hundredths as a grade: 150 is `1.5`.
pub fn show_hundredths(hundredths: u32) -> String {
    let (whole, part) = (hundredths / 100, hundredths % 100);
    match part {
        0 => whole.to_string(),
        part if part % 10 == 0 => format!("{whole}.{}", part / 10),
        part => format!("{whole}.{part:02}"),
    }
}

impl fmt::Display for Who {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Who::Unsaid => Ok(()),
            Who::Publisher => f.write_str("publisher"),
            Who::Ours => f.write_str("ours"),
            Who::List(name) => write!(f, "\"{name}\""),
            Who::Other(words) => f.write_str(words),
        }
    }
}

impl fmt::Display for Grade {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&show_hundredths(self.low))?;
        if self.high != self.low {
            write!(f, "-{}", show_hundredths(self.high))?;
        }
        match self.who {
            Who::Unsaid => Ok(()),
            ref who => write!(f, " {who}"),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn grades_are_read_as_directors_write_them() {
        for (written, one_form) in [
            ("1 publisher", Some("1 publisher")),
            ("1.5 \"Thrum Hollow list\"", Some("1.5 \"Thrum Hollow list\"")),
            ("2 ours", Some("2 ours")),
            ("2½", Some("2.5")),
            ("grade 2-3 mine", Some("2-3 ours")),
            ("1.25 by the state", Some("1.25 the state")),
            ("easy", None),
            ("1.5 \"Thrum Hollow list\" twice", None),
            ("99999999999", None),
        ] {
            assert_eq!(
                Grade::read(written).map(|grade| grade.to_string()).as_deref(),
                one_form,
                "{written}"
            );
        }
    }
}
