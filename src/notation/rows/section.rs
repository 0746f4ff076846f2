//! A section of the band with the head counts of its instruments: `saxes: 4 alto, 2 tenor, 1 bari`.

use super::empty_row;
use super::names_of::row_name;
use crate::notation::facts::keywords;
use crate::notation::fields::RowsOf;
use crate::notation::heard::Ear;
use crate::notation::names;
use crate::notation::row::{Count, RowItem, RowName};
use crate::notation::scan;
use crate::text::Span;

/// A section and what its short words mean within it (common practice, no source).
struct Section {
    names: &'static [&'static str],
    short: &'static [(&'static str, &'static str)],
}

const SAXES: &[(&str, &str)] = &[
    ("soprano", "soprano sax"),
    ("sop", "soprano sax"),
    ("altos", "alto sax"),
    ("alto", "alto sax"),
    ("tenors", "tenor sax"),
    ("tenor", "tenor sax"),
    ("baritones", "baritone sax"),
    ("baritone", "baritone sax"),
    ("baris", "baritone sax"),
    ("bari", "baritone sax"),
    ("tens", "tenor sax"),
    ("ten", "tenor sax"),
    ("ten.", "tenor sax"),
    ("alt", "alto sax"),
    ("alts", "alto sax"),
];

const LOW_BRASS: &[(&str, &str)] = &[
    ("baritones", "baritone"),
    ("baritone", "baritone"),
    ("baris", "baritone"),
    ("bari", "baritone"),
    ("bones", "trombone"),
    ("basses", "tuba"),
    ("bass", "tuba"),
];

const CLARINETS: &[(&str, &str)] = &[
    ("B-flat", "clarinet"),
    ("Bb", "clarinet"),
    ("E-flat", "Eb clarinet"),
    ("Eb", "Eb clarinet"),
    ("soprano", "clarinet"),
    ("alto", "alto clarinet"),
    ("bass", "bass clarinet"),
    ("contra", "contra-alto clarinet"),
];

const SECTIONS: [Section; 3] = [
    Section {
        names: &["sax section", "saxophones", "saxophone", "saxes", "saxs", "sax"],
        short: SAXES,
    },
    Section {
        names: &["low brass", "low br.", "low br", "brass"],
        short: LOW_BRASS,
    },
    Section {
        names: &["clarinet section", "clarinet family", "clarinets", "clars"],
        short: CLARINETS,
    },
];

/// Reads a section whose every instrument has its head count, on either side of it; none where a word is left.
pub fn read(ear: &mut Ear, masked: &str, span: Span, line: usize) -> Option<Vec<RowItem>> {
    let text = span.slice(masked);
    let (head, short) = head(text)?;
    let mut found: Vec<RowItem> = Vec::new();
    let mut at = head;
    while let Some(start) = next(text, at) {
        let rest = text.get(start..)?;
        let (before, behind) = match number(rest) {
            Some((number, taken)) => (Some((number, start, taken)), start + taken),
            None => (None, start),
        };
        let name_at = next(text, behind)?;
        let (full, taken) = name(text.get(name_at..)?, short)?;
        let name_end = name_at + taken;
        let (number, from, length) = match before {
            Some(found) => found,
            None => {
                let from = next(text, name_end)?;
                let (number, taken) = number(text.get(from..)?)?;
                (number, from, taken)
            }
        };
        at = name_end.max(from + length);
        let place = |from: usize, to: usize| Span::new(span.start + from as u32, span.start + to as u32);
        let mut row = empty_row(place(start, at), line);
        let words = place(name_at, name_end);
        match full {
            Some(full) => row.names.push(RowName {
                span: words,
                words,
                text: full.to_owned(),
                numbers: None,
                open: false,
            }),
            None => row.names.extend(row_name(ear, masked, words, RowsOf::Parts).0),
        }
        row.count = Some(Count {
            number,
            span: place(from, from + length),
            about: false,
            open: false,
        });
        found.push(row);
    }
    (!found.is_empty()).then(|| {
        ear.hear(span);
        found
    })
}

/// Where the section's name ends, and its short words.
fn head(text: &str) -> Option<(usize, &'static [(&'static str, &'static str)])> {
    let led = |name: &'static str| {
        let (rest, _) = scan::phrase(name)(text).ok()?;
        Some(text.len() - rest.len())
    };
    for section in &SECTIONS {
        if let Some(end) = section.names.iter().find_map(|name| led(name)) {
            return Some((end, section.short));
        }
    }
    let end = names::known_prefix(text)?;
    names::is_group(text.get(..end)?).then_some((end, &[]))
}

/// Where the next word starts: blanks, commas, a colon and what only joins are passed over.
fn next(text: &str, mut at: usize) -> Option<usize> {
    loop {
        let rest = text.get(at..)?;
        let bare =
            rest.trim_start_matches(|c: char| scan::is_blank(c) || matches!(c, ',' | ';' | ':' | '&' | '+'));
        at += rest.len() - bare.len();
        match scan::phrase("and")(bare) {
            Ok((behind, _)) => at += bare.len() - behind.len(),
            Err(_) => return (!bare.is_empty()).then_some(at),
        }
    }
}

/// A head count in figures or in words, and its length; `no` is none.
fn number(text: &str) -> Option<(u32, usize)> {
    let read = scan::number(text)
        .or_else(|_| keywords::counted(text))
        .or_else(|_| scan::phrase("nobody on")(text).map(|(rest, _)| (rest, 0)))
        .or_else(|_| scan::phrase("no one on")(text).map(|(rest, _)| (rest, 0)))
        .or_else(|_| scan::phrase("no")(text).map(|(rest, _)| (rest, 0)));
    let (rest, number) = read.ok()?;
    let ends = rest.is_empty() || rest.starts_with(|c: char| scan::is_blank(c) || matches!(c, ',' | ';'));
    ends.then_some((number, text.len() - rest.len()))
}

/// An instrument at the start of some words: in full where the section's short word was written, and its length.
fn name(text: &str, short: &'static [(&'static str, &'static str)]) -> Option<(Option<&'static str>, usize)> {
    let known = names::known_prefix(text);
    let within = short.iter().find_map(|(word, full)| {
        let (rest, _) = scan::phrase(word)(text).ok()?;
        Some((Some(*full), text.len() - rest.len()))
    });
    // `baritone sax` is longer than the section's `baritone`.
    match (known, within) {
        (Some(end), Some((_, taken))) if end > taken => Some((None, end)),
        (_, Some(within)) => Some(within),
        (Some(end), None) => Some((None, end)),
        (None, None) => None,
    }
}
