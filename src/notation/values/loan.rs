//! What is said of a set that was lent: `2026-05-01 to the high school, due 2026-09-01, back 2026-08-30`.

use std::fmt;

use crate::notation::scan;

use super::copies::Copies;
use super::cursor::{Cursor, single};
use super::day::Day;
use super::partner;

/// One item of a loan.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Loan {
    /// A loan begins: when, to whom, and which part where it is not the whole set.
    Out {
        /// The day.
        day: Option<Day>,
        /// To whom.
        to: Option<String>,
        /// The part, where it is not the whole set.
        part: Option<Copies>,
    },
    /// The day it is due.
    Due(Day),
    /// It came back, perhaps on a day.
    Back(Option<Day>),
    /// Nobody has it.
    Nobody,
    /// It is not back yet.
    StillOut,
    /// Who signed for it, in the director's own words.
    SignedBy(String),
}

impl Loan {
    /// Reads one item: `2026-05-01 to the high school`, `to "Anna's section"`, `2 flute 1`,
    /// `due 2026-09-01`, `due back Sept 1, 2026`, `back 2026-08-30`, `back`.
    ///
    /// `back by` a day is when it is due.
    pub fn read(text: &str) -> Option<Loan> {
        Loan::led(text).or_else(|| {
            // `county music center, 2022-11-12`: whom without a `to`, in one of the usual words.
            let to = partner::read(text)?;
            let part = Copies::read(&to).is_some_and(|copies| copies.is_known());
            (!part && Day::read(text).is_none()).then_some(Loan::Out {
                day: None,
                to: Some(to),
                part: None,
            })
        })
    }

    /// One item whose words lead to what they say.
    fn led(text: &str) -> Option<Loan> {
        let mut words = Cursor::new(text);
        if words.any(&[
            "due back on",
            "due back by",
            "due back",
            "due on",
            "due by",
            "due",
            "back by",
            "until",
            "till",
            "til",
            "by",
        ]) {
            words.take("in");
            let day = words.longest(Day::read)?;
            return words.done().then_some(Loan::Due(day));
        }
        if words.any(&[
            "back on",
            "back",
            "returned on",
            "returned",
            "came back",
            "is back",
        ]) {
            let day = match words.done() {
                true => None,
                false => Some(words.longest(Day::read)?),
            };
            return words.done().then_some(Loan::Back(day));
        }
        if [
            "nobody",
            "no one",
            "to nobody",
            "to no one",
            "not lent",
            "no",
            "none",
            "not at the moment",
        ]
        .iter()
        .any(|none| single(text).eq_ignore_ascii_case(none))
        {
            return Some(Loan::Nobody);
        }
        let still = [
            "not back",
            "not back yet",
            "not returned",
            "not returned yet",
            "still out",
            "never came back",
            "never returned",
            "still gone",
        ];
        if still.iter().any(|words| single(text).eq_ignore_ascii_case(words)) {
            return Some(Loan::StillOut);
        }
        if let Some(who) = ["signed for by ", "signed out by ", "signed out to "]
            .iter()
            .find_map(|lead| single(text).strip_prefix(lead).map(str::to_owned))
        {
            let plain = !who.is_empty() && !who.contains(scan::is_quote) && who.split(' ').count() <= 5;
            return plain.then_some(Loan::SignedBy(who));
        }
        if let Some(out) = has_it(text) {
            return Some(out);
        }
        let (mut day, mut to, mut part) = (None, None, None);
        while !words.done() {
            if day.is_none() {
                words.any(&["on", "since"]);
            }
            if day.is_none()
                && let Some(found) = words.longest(Day::read)
            {
                day = Some(found);
            } else if to.is_none() && words.any(&["lent to", "loaned to", "to"]) {
                to = Some(whom(&mut words)?);
            } else if part.is_none() {
                part = Some(words.longest(|text| Copies::read(text).filter(Copies::is_known))?);
            } else {
                return None;
            }
        }
        let some = day.is_some() || to.is_some() || part.is_some();
        some.then_some(Loan::Out { day, to, part })
    }
}

/// To whom: one of the usual words, a name, or the director's own words, before a day where one stands behind them.
fn whom(words: &mut Cursor<'_>) -> Option<String> {
    let start = words.clone();
    if let Some(found) = words.longest(partner::read) {
        let rest = words.clone().rest();
        if rest.is_empty() || Day::read(&rest).is_some() || Loan::led(&rest).is_some() {
            return Some(found);
        }
        *words = start;
    }
    let all = words.rest();
    if let Ok((after, name)) = scan::quoted(&all) {
        return after.is_empty().then(|| format!("\"{name}\""));
    }
    if all.contains(scan::is_quote) {
        return None;
    }
    // A day behind the words is no part of whom.
    let ends_in_day = all
        .match_indices(' ')
        .any(|(at, _)| all.get(at..).is_some_and(|tail| Day::read(tail).is_some()));
    (!ends_in_day && !all.is_empty()).then_some(all)
}

/// `Ms. T has it`, `the kids took home trumpet 2 Nov 3`: whoever has it, in the director's own words, and since when.
fn has_it(text: &str) -> Option<Loan> {
    let text = single(text);
    let verbs = [
        " has them",
        " has the set",
        " has it",
        " have it",
        " have them",
        " took it home",
        " took home",
        " borrowed it",
        " borrowed the set",
        " borrowed",
        " took",
        " has",
    ];
    let (who, rest) = verbs.iter().find_map(|verb| {
        let (who, rest) = text.split_once(verb)?;
        (rest.is_empty() || rest.starts_with(' ')).then_some((who, rest))
    })?;
    let few = (1..=5).contains(&who.split(' ').count()) && !who.contains(scan::is_quote);
    let mut words = Cursor::new(rest);
    let part = words.longest(|text| Copies::read(text).filter(Copies::is_known));
    words.any(&["on", "since"]);
    let day = words.longest(Day::read);
    (few && words.done()).then(|| Loan::Out {
        day,
        to: Some(who.to_owned()),
        part,
    })
}

impl fmt::Display for Loan {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Loan::Nobody => f.write_str("nobody"),
            Loan::StillOut => f.write_str("not back yet"),
            Loan::SignedBy(who) => write!(f, "signed for by {who}"),
            Loan::Due(day) => write!(f, "due {day}"),
            Loan::Back(None) => f.write_str("back"),
            Loan::Back(Some(day)) => write!(f, "back {day}"),
            Loan::Out { day, to, part } => {
                let mut parts: Vec<String> = Vec::new();
                parts.extend(day.map(|day| day.to_string()));
                parts.extend(part.as_ref().map(ToString::to_string));
                parts.extend(to.as_ref().map(|to| format!("to {to}")));
                f.write_str(&parts.join(" "))
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn loans_are_read_as_directors_write_them() {
        for (written, one_form) in [
            (
                "2026-05-01 to the high school",
                Some("2026-05-01 to the high school"),
            ),
            ("to Brackenholt Town Band", Some("to Brackenholt Town Band")),
            (
                "to \"the band across the river\"",
                Some("to \"the band across the river\""),
            ),
            (
                "2026-04-10 to the middle school across town",
                Some("2026-04-10 to the middle school across town"),
            ),
            ("2 flute 1 to the church", Some("2 flute 1 to the church")),
            ("til xmas", Some("due Dec 25")),
            ("due Apr 10, 2026", Some("due 2026-04-10")),
            ("due back 2026-09-01", Some("due 2026-09-01")),
            ("back by 31 January 2027", Some("due 2027-01-31")),
            ("back 2026-05-02", Some("back 2026-05-02")),
            ("back", Some("back")),
            ("2026-05-01 zqxv to the high school", None),
            (
                "to Coach V's band across town",
                Some("to Coach V's band across town"),
            ),
            ("Ms T has it", Some("to Ms T")),
            ("kids took home tpt 2 nov 3", Some("Nov 3 trumpet 2 to kids")),
            ("half the set", Some("half the set")),
            ("2026-05-01 to the tall one", Some("2026-05-01 to the tall one")),
            ("kids took home zqxv", None),
            ("Ms T has it zqxv", None),
            ("due zqxv", None),
            ("due 2026-09-01 zqxv", None),
        ] {
            let read = Loan::read(written);
            let shown = read.as_ref().map(ToString::to_string);
            assert_eq!(shown.as_deref(), one_form, "{written}");
            assert_eq!(
                shown.and_then(|shown| Loan::read(&shown)),
                read,
                "{written} again"
            );
        }
    }
}
