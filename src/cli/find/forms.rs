//! What was found for programs and for spreadsheets.
//!
//! JSON is one object a line; `about` is `piece`, and `meets` says whether it meets all conditions (true) or
//! nobody can say (null). In a spreadsheet that is `yes` and `not known`. Lengths are in seconds, from the
//! shortest to the longest.

use std::io::{self, Write};

use serde::Serialize;

use crate::cli::report::lines;
use crate::planning::find::{Found, Hit, length_words};

#[derive(Serialize)]
struct PieceLine<'f> {
    about: &'static str,
    piece: &'f str,
    by: &'f [String],
    meets: Option<bool>,
    why: &'f [String],
    not_known: &'f [String],
    grades: &'f [String],
    styles: &'f [String],
    lasts: Option<[u64; 2]>,
    price: Option<String>,
    owned: Option<bool>,
    performed: Option<String>,
}

fn all(found: &Found) -> impl Iterator<Item = &Hit> {
    found.met.iter().chain(&found.open)
}

/// Writes what was found as JSON.
pub fn json(found: &Found, out: &mut dyn Write) -> io::Result<()> {
    for hit in all(found) {
        let line = PieceLine {
            about: "piece",
            piece: &hit.row.title,
            by: &hit.row.by,
            meets: hit.missing.is_empty().then_some(true),
            why: &hit.why,
            not_known: &hit.missing,
            grades: &hit.row.grades,
            styles: &hit.row.styles,
            lasts: hit.row.lasts.map(|(low, high)| [low, high]),
            price: hit.row.price.as_ref().map(ToString::to_string),
            owned: hit.row.owned,
            performed: hit.row.performed.map(|day| day.to_string()),
        };
        lines::line(&line, out)?;
    }
    Ok(())
}

/// A cell of a table between commas (RFC 4180).
pub fn cell(words: &str) -> String {
    match words.contains([',', '"', '\n', '\r']) || words.trim() != words {
        true => format!("\"{}\"", words.replace('"', "\"\"")),
        false => words.to_owned(),
    }
}

/// Writes what was found as a table between commas, with a line of headings.
pub fn csv(found: &Found, out: &mut dyn Write) -> io::Result<()> {
    let mut row = |cells: &[String]| {
        let cells: Vec<String> = cells.iter().map(|words| cell(words)).collect();
        write!(out, "{}\r\n", cells.join(","))
    };
    let heads = [
        "piece",
        "by",
        "meets",
        "why",
        "not known",
        "grade",
        "style",
        "lasts",
        "price",
        "performed",
    ];
    row(&heads.map(str::to_owned))?;
    for hit in all(found) {
        row(&[
            hit.row.title.clone(),
            hit.row.by.join("; "),
            match hit.missing.is_empty() {
                true => "yes".to_owned(),
                false => "not known".to_owned(),
            },
            hit.why.join("; "),
            hit.missing.join("; "),
            hit.row.grades.join("; "),
            hit.row.styles.join("; "),
            hit.row.lasts.map(length_words).unwrap_or_default(),
            hit.row
                .price
                .as_ref()
                .map(ToString::to_string)
                .unwrap_or_default(),
            hit.row.performed.map(|day| day.to_string()).unwrap_or_default(),
        ])?;
    }
    Ok(())
}
