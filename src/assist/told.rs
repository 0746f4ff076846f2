//! What is told of a file while it is open: which findings, in which words, and which still wait.

use std::collections::HashSet;

use xxhash_rust::xxh3::xxh3_64;

use crate::catalogue::known::{Known, Mark};
use crate::catalogue::{EntryId, Snapshot};
use crate::findings::Finding;
use crate::text::{Encoding, Sheet, Span};

/// The most findings that are told of one file.
pub const MOST: usize = 200;

/// What is told of a file.
#[derive(Debug, Default)]
pub struct Told<'f> {
    /// The findings in the order of the text, each with its place in the file and its card.
    pub found: Vec<(Span, EntryId, &'f Finding)>,
    /// How many more there are than are told.
    pub remaining: usize,
    /// Whether some wait until the line they are on has been written.
    pub waiting: bool,
}

/// What is told of a file: the findings of its cards, without those that were written down as known and those on
/// the line that is being `written`, unless they were told `before`. Of too many the worst are told.
pub fn of_file<'f>(
    snapshot: &Snapshot,
    findings: impl IntoIterator<Item = (EntryId, &'f [Finding])>,
    mut known: Known,
    written: Option<Span>,
    before: &HashSet<u64>,
) -> Told<'f> {
    let mut told = Told::default();
    for (id, findings) in findings {
        let (Some(cards), Some(entry)) = (snapshot.file_of(id), snapshot.entry(id)) else {
            continue;
        };
        for finding in findings {
            if !known.is_empty() && known.take(&Mark::of(entry, finding.phrase, finding.span)) {
                continue;
            }
            let span = cards.in_file(id.entry as usize, finding.span);
            let waits = written.is_some_and(|line| span.overlaps(line) || span.touches(line.end))
                && !before.contains(&digest(finding));
            told.waiting |= waits;
            if !waits {
                told.found.push((span, id, finding));
            }
        }
    }
    told.remaining = told.found.len().saturating_sub(MOST);
    if told.remaining > 0 {
        told.found
            .sort_by_key(|(span, _, finding)| (finding.severity, span.start));
        told.found.truncate(MOST);
    }
    told.found
        .sort_by_key(|(span, _, finding)| (span.start, span.end, finding.severity));
    told
}

/// The line that the last edit ended on, up to there: the line is still being written, so that half a field's
/// word (`tonal c`) or half a value is no mistake yet.
pub fn being_written(sheet: &Sheet, offset: u32) -> Span {
    let line = sheet.line_span(sheet.position(offset, Encoding::Utf8).line);
    Span::new(line.start.min(offset), offset)
}

/// What a finding says, wherever it stands.
pub fn digest(finding: &Finding) -> u64 {
    xxh3_64(format!("{}\n{}", finding.phrase, finding.saying.says).as_bytes())
}

/// What is wrong, why it matters and what to do, each a paragraph; the card's name first, since a list of
/// findings shows no card. The place in the music is said only where it tells more than the line does, as
/// measures worked out from several lines.
pub fn message(card: &str, finding: &Finding) -> String {
    let saying = &finding.saying;
    let place = match saying.place.contains("measure") {
        true => saying.place.as_str(),
        false => "",
    };
    // A sentence that begins with the card's name already needs no other beginning.
    let named = saying.says.trim_start_matches(['"', '“']).starts_with(card);
    let card = if named { "" } else { card };
    let leads: Vec<&str> = [card, place]
        .into_iter()
        .filter(|lead| !lead.is_empty())
        .collect();
    let says = match leads.is_empty() {
        true => saying.says.clone(),
        false => format!("{}: {}", capital(&leads.join(", ")), saying.says),
    };
    let parts: Vec<&str> = [says.as_str(), &saying.why, &saying.todo]
        .into_iter()
        .filter(|part| !part.trim().is_empty())
        .collect();
    match parts.is_empty() {
        // Some editors refuse a finding that says nothing.
        true => finding.phrase.to_owned(),
        false => parts.join("\n\n"),
    }
}

/// What is said of the findings that are not told.
pub fn remainder(remaining: usize) -> String {
    let more = match remaining {
        1 => "One more finding in this file is not shown.".to_owned(),
        _ => format!("{remaining} more findings in this file are not shown."),
    };
    format!("{more} The worst {MOST} are; fix some of them and the others appear.")
}

fn capital(words: &str) -> String {
    let mut rest = words.chars();
    rest.next()
        .map(|first| first.to_uppercase().chain(rest).collect())
        .unwrap_or_default()
}
