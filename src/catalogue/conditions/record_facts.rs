//! Answers from what was learned and from the card's own words: weeks, ratings, loans, movements, fields.

use crate::notation::values::takes::Teaching;
use crate::notation::values::{Played, Takes};
use crate::notation::{Body, FieldReading};
use crate::text::sentences::counted;

use super::amount::Amount;
use super::judge::Evaluator;
use super::subject::Subject;
use super::term::Term;
use super::truth::{Truth, sentence};

impl Evaluator<'_> {
    /// Answers conditions on records and fields; none for others.
    pub(super) fn records(&self, term: &Term, subject: &Subject<'_>) -> Option<Truth> {
        Some(match term {
            Term::Took(amount) => took(*amount, subject),
            Term::Rated(rating) => rated(rating, subject),
            Term::Went(went) => went_so(went, subject),
            Term::Lent => lent(subject),
            Term::Movements(amount) => movements(*amount, subject),
            Term::PercussionParts(amount) => percussion_parts(*amount, subject),
            Term::Holds(field, words) => holds(*field, words, subject),
            Term::Known(field) => known(field, subject),
            _ => return None,
        })
    }
}

/// What certain performances say.
fn played<'s>(subject: &Subject<'s>) -> impl Iterator<Item = &'s Played> {
    let certain = subject.piece.performed.iter().filter(|said| said.is_certain());
    certain.flat_map(|said| &said.value.said)
}

/// How many weeks, from and up to; none where rehearsals are counted, for nobody knows how many make a week.
fn weeks(takes: &Takes) -> Option<(u64, Option<u64>)> {
    let low = takes.count.low.map_or(0, u64::from);
    let high = takes.count.high.map(u64::from);
    match takes.unit {
        Teaching::Weeks => Some((low, high)),
        // A week that is begun counts.
        Teaching::Days => Some((low.div_ceil(7), high.map(|days| days.div_ceil(7)))),
        Teaching::Months => Some((low.saturating_mul(4), high.map(|months| months.saturating_mul(5)))),
        Teaching::Rehearsals => None,
    }
}

fn took(amount: Amount, subject: &Subject<'_>) -> Truth {
    const MISSING: &str = "how many weeks it took";
    // The last time says best how long it takes now.
    let last = played(subject).filter_map(|said| match said {
        Played::Took(takes) => Some(takes),
        _ => None,
    });
    match last.last().map(|takes| (takes, weeks(takes))) {
        Some((takes, Some((low, high)))) => Truth::within(
            amount.holds_in(low, high, false),
            format!("took {takes}"),
            MISSING,
        ),
        _ => Truth::Unknown(MISSING.to_owned()),
    }
}

fn rated(rating: &str, subject: &Subject<'_>) -> Truth {
    let mut given: Vec<&String> = Vec::new();
    for said in played(subject) {
        if let Played::Result(ratings) = said {
            given.extend(ratings);
        }
    }
    let all: Vec<&str> = given.iter().map(|rating| rating.as_str()).collect();
    match all.is_empty() {
        true => Truth::Unknown("what it was rated".to_owned()),
        false => Truth::of(
            all.iter().any(|one| one.eq_ignore_ascii_case(rating)),
            format!("was rated {}", all.join(" ")),
        ),
    }
}

fn went_so(wanted: &str, subject: &Subject<'_>) -> Truth {
    let all: Vec<&str> = played(subject)
        .filter_map(|said| match said {
            Played::Went(went) => Some(*went),
            _ => None,
        })
        .collect();
    match (all.is_empty(), all.contains(&wanted)) {
        (true, _) => Truth::Unknown("how it went".to_owned()),
        (_, is) => Truth::of(is, sentence(format!("last noted: {}", all.join(", ")))),
    }
}

fn lent(subject: &Subject<'_>) -> Truth {
    let library = &subject.piece.library;
    match (library.lent.is_empty(), library.said) {
        (false, _) => Truth::Yes("has parts on loan".to_owned()),
        (true, true) => Truth::No("has nothing on loan".to_owned()),
        (true, false) => Truth::Unknown("whether parts are on loan".to_owned()),
    }
}

fn movements(amount: Amount, subject: &Subject<'_>) -> Truth {
    let count = subject.piece.movements.len();
    match count {
        0 => Truth::Unknown("how many movements it has".to_owned()),
        _ => Truth::of(
            amount.holds(count as u64),
            format!("has {}", counted(count, "movement")),
        ),
    }
}

fn percussion_parts(amount: Amount, subject: &Subject<'_>) -> Truth {
    const MISSING: &str = "how many percussion parts it has";
    let piece = subject.piece;
    // Said in a number, that number counts; else the rows are the parts.
    let count = piece
        .percussion_count
        .as_ref()
        .filter(|count| !count.about && !count.open);
    let said = count.map(|count| (u64::from(count.number), u64::from(count.number)));
    let rows: usize = piece.percussion.iter().map(|row| row.names.len()).sum();
    let (low, high) = match (said, rows) {
        (Some(said), _) => said,
        (None, 0) => return Truth::Unknown(MISSING.to_owned()),
        (None, rows) => (rows as u64, rows as u64),
    };
    let why = format!(
        "has {}",
        counted(usize::try_from(low).unwrap_or(usize::MAX), "percussion part")
    );
    Truth::within(amount.holds_in(low, Some(high), false), why, MISSING)
}

/// Words as they are looked for: small, with single blanks.
fn flat(words: &str) -> String {
    words
        .to_lowercase()
        .split_whitespace()
        .collect::<Vec<_>>()
        .join(" ")
}

fn holds(field: Option<&str>, words: &str, subject: &Subject<'_>) -> Truth {
    let wanted = flat(words);
    let text = &subject.entry.text;
    let Some(field) = field else {
        return Truth::of(
            flat(text).contains(&wanted),
            match flat(text).contains(&wanted) {
                true => sentence(format!("its card says \"{words}\"")),
                false => sentence(format!("its card does not say \"{words}\"")),
            },
        );
    };
    let lines = lines_of(field, subject);
    if lines.is_empty() {
        return Truth::Unknown(format!("what its {field} says"));
    }
    match lines.iter().find(|line| flat(line).contains(&wanted)) {
        Some(line) => Truth::Yes(sentence(format!("{field} says {}", shortened(line)))),
        None => Truth::No(sentence(format!("{field} does not say \"{words}\""))),
    }
}

fn known(field: &str, subject: &Subject<'_>) -> Truth {
    match lines_of(field, subject).is_empty() {
        true => Truth::No(format!("does not say its {field}")),
        false => Truth::Yes(format!("tells its {field}")),
    }
}

/// All that stands in the fields of a name, those inside blocks and under movements too.
pub fn lines_of(field: &str, subject: &Subject<'_>) -> Vec<String> {
    let reading = subject.entry.reading();
    let mut found = Vec::new();
    let mut open: Vec<&FieldReading> = reading.fields.iter().rev().collect();
    while let Some(one) = open.pop() {
        if one.name() == Some(field) {
            let inside = one.whole.slice(&subject.entry.text);
            let word = one.word.slice(&subject.entry.text);
            found.push(inside.strip_prefix(word).unwrap_or(inside).trim().to_owned());
        }
        match &one.body {
            Body::Block(inside) => open.extend(inside.iter().rev()),
            Body::Rows(rows) => open.extend(rows.iter().rev().flat_map(|row| row.fields.iter().rev())),
            _ => {}
        }
    }
    found
}

/// At most so many letters of a line are shown as a reason.
const MOST_SHOWN: usize = 60;

fn shortened(line: &str) -> String {
    let line = line.split_whitespace().collect::<Vec<_>>().join(" ");
    match line.char_indices().nth(MOST_SHOWN) {
        Some((at, _)) => format!("{}…", line.get(..at).unwrap_or("")),
        None => line,
    }
}
