//! Known findings: those a catalogue already had when its proofreading began, so that only new ones are told.
//!
//! A finding is known by its card, its phrase and what its lines say, never by a line's number. So it stays
//! known when cards are added above it or when its file is laid out anew, and it is new again as soon as the
//! words it is about are changed.

use std::collections::BTreeMap;

use serde::{Deserialize, Serialize};

use crate::notation::Kind;
use crate::text::{Span, whole_lines};

use super::Entry;

/// The name of the file of known findings, beside the handbook.
pub const FILE: &str = "known-findings.json";

/// What a finding is known by.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Mark {
    /// The card's kind and name, as at its head: `piece "Harbor Parade"`.
    pub card: String,
    /// The rule's phrase.
    pub phrase: String,
    /// What its lines say, every run of blanks and line breaks as one blank.
    pub line: String,
}

impl Mark {
    /// The mark of a finding of a card; `span` counts from the start of the card's text.
    pub fn of(entry: &Entry, phrase: &str, span: Span) -> Mark {
        let words = whole_lines(&entry.text, span).slice(&entry.text);
        Mark {
            card: head_words(entry.kind, &entry.name),
            phrase: phrase.to_owned(),
            line: words.split_whitespace().collect::<Vec<_>>().join(" "),
        }
    }

    /// The mark on the same card under another name.
    pub fn renamed(self, kind: Kind, name: &str) -> Mark {
        let card = head_words(Some(kind), name);
        Mark {
            line: match self.line.strip_prefix(&self.card) {
                Some(rest) => format!("{card}{rest}"),
                None => self.line,
            },
            card,
            phrase: self.phrase,
        }
    }

    /// A digest that is the same on every machine, for programs that follow a finding over time. `nth` tells
    /// findings with one mark apart, counted from 0.
    pub fn digest(&self, nth: u32) -> u64 {
        let mut digest = xxhash_rust::xxh3::Xxh3::new();
        for part in [&self.card, &self.phrase, &self.line] {
            digest.update(part.as_bytes());
            // No mark holds this byte, so the parts cannot run into each other.
            digest.update(&[0xff]);
        }
        digest.update(&nth.to_le_bytes());
        digest.digest()
    }
}

/// The card's kind and name, as at its head; nothing for lines above the first card.
pub fn head_words(kind: Option<Kind>, name: &str) -> String {
    match kind {
        Some(kind) if kind.is_named() => format!("{} \"{name}\"", kind.word()),
        Some(kind) => kind.word().to_owned(),
        None => String::new(),
    }
}

/// The findings that are known, each with how often.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Known {
    times: BTreeMap<Mark, u32>,
}

#[derive(Debug, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct Line {
    card: String,
    phrase: String,
    line: String,
    #[serde(default = "once", skip_serializing_if = "is_once")]
    times: u32,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct File {
    #[serde(rename = "known findings")]
    known: Vec<Line>,
}

fn once() -> u32 {
    1
}

#[allow(clippy::trivially_copy_pass_by_ref)] // serde hands over a reference.
fn is_once(times: &u32) -> bool {
    *times == 1
}

impl Known {
    /// Adds a finding.
    pub fn add(&mut self, mark: Mark) {
        let times = self.times.entry(mark).or_insert(0);
        *times = times.saturating_add(1);
    }

    /// Whether a finding is known; each is used up once, so that a second one like it is new.
    pub fn take(&mut self, mark: &Mark) -> bool {
        match self.times.get_mut(mark) {
            Some(times) if *times > 0 => {
                *times -= 1;
                true
            }
            _ => false,
        }
    }

    /// How many are left.
    pub fn len(&self) -> usize {
        self.times
            .values()
            .fold(0usize, |sum, times| sum.saturating_add(*times as usize))
    }

    /// Whether none is left.
    pub fn is_empty(&self) -> bool {
        self.len() == 0
    }

    /// The list that holds what two people made of one: what either added is known, what either took out is not.
    pub fn put_together(base: &Known, ours: &Known, theirs: &Known) -> Known {
        let mut together = Known::default();
        for mark in ours.times.keys().chain(theirs.times.keys()) {
            let times = |known: &Known| i64::from(known.times.get(mark).copied().unwrap_or(0));
            let (was, one, two) = (times(base), times(ours), times(theirs));
            // What both added is one thing, for both looked at the same catalogue.
            let now = match one > was && two > was {
                true => one.max(two),
                false if one < was && two < was => one.min(two),
                false => one + two - was,
            };
            together
                .times
                .insert(mark.clone(), u32::try_from(now).unwrap_or(0));
        }
        together
    }

    /// The file's text: one finding a line, in the order of cards, so that two people's changes meet seldom.
    pub fn write(&self) -> String {
        let lines: Vec<String> = self
            .times
            .iter()
            .filter(|(_, times)| **times > 0)
            .filter_map(|(mark, times)| {
                let line = Line {
                    card: mark.card.clone(),
                    phrase: mark.phrase.clone(),
                    line: mark.line.clone(),
                    times: *times,
                };
                serde_json::to_string(&line).ok()
            })
            .map(|line| format!("    {line}"))
            .collect();
        if lines.is_empty() {
            return "{\n  \"known findings\": []\n}\n".to_owned();
        }
        format!("{{\n  \"known findings\": [\n{}\n  ]\n}}\n", lines.join(",\n"))
    }

    /// Reads the file's text.
    ///
    /// # Errors
    /// The line, counted from 1, on which it is no list of known findings.
    pub fn read(text: &str) -> Result<Known, usize> {
        let file: File = serde_json::from_str(text).map_err(|error| error.line())?;
        let mut known = Known::default();
        for line in file.known {
            let mark = Mark {
                card: line.card,
                phrase: line.phrase,
                line: line.line,
            };
            let times = known.times.entry(mark).or_insert(0);
            *times = times.saturating_add(line.times);
        }
        Ok(known)
    }
}

/// The largest file of known findings that is read, in bytes: some hundred thousand findings.
pub const LARGEST: u64 = 1 << 26;

/// What is wrong with a file of known findings, named as the user knows it, whose `line` is none.
pub fn amiss(file: &str, line: usize) -> String {
    format!(
        "\"{file}\" is not as it was written: line {line} is no known finding. So all findings are told. Bring the file back from version control, or write it again with levare proofread --record-known."
    )
}

#[cfg(test)]
mod tests;
