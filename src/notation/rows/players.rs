//! Percussionists by seat or initials, and rows of chairs.

use super::names_of::{head_count, row_name};
use super::{after_colon, empty_row, segments};
use crate::notation::facts;
use crate::notation::fields::RowsOf;
use crate::notation::heard::Ear;
use crate::notation::names;
use crate::notation::row::{Count, Fact, RowFact, RowItem, RowName};
use crate::notation::scan;
use crate::notation::values::Pin;
use crate::text::Span;

/// Words behind a row of chairs that say which it is; the rows stand in their order anyway (common practice, no source).
const WHICH_ROW: [&str; 29] = [
    "in the front row",
    "in the front",
    "in front",
    "front row",
    "front",
    "in the first row",
    "first row",
    "first",
    "1st",
    "in the second row",
    "second row",
    "second",
    "2nd",
    "in the third row",
    "third row",
    "third",
    "3rd",
    "in the back row",
    "in the back",
    "at the back",
    "back row",
    "in back",
    "in the way back",
    "way back",
    "far back",
    "back",
    "behind them",
    "behind",
    "standing",
];

/// The rows of chairs on one line: one, or several with semicolons between them.
pub fn rows_of_chairs(ear: &mut Ear, masked: &str, span: Span, line: usize) -> Vec<RowItem> {
    let text = span.slice(masked);
    if !text.contains(';') {
        let rows = rows_in_a_row(text);
        if rows.is_empty() {
            return vec![seats(ear, masked, span, line)];
        }
        let at = |from: usize, to: usize| Span::new(span.start + from as u32, span.start + to as u32);
        let rows = rows.into_iter().map(|(from, named, end)| {
            ear.hear(at(named, end));
            seats(ear, masked, at(from, named), line)
        });
        return rows.collect();
    }
    let mut rows = Vec::new();
    let mut start = span.start;
    for piece in text.split(';') {
        let whole = Span::long(start, piece.len() as u32);
        start = whole.end + 1;
        let row = crate::notation::build::trim_span(masked, whole);
        if row.is_empty() {
            continue;
        }
        let words = row.slice(masked);
        let lower = words.to_lowercase();
        let tail = WHICH_ROW
            .iter()
            .filter(|tail| lower.strip_suffix(**tail).is_some_and(|head| head.ends_with(' ')))
            .max_by_key(|tail| tail.len());
        let named = tail.map_or(words.len(), |tail| words.len() - tail.len());
        let who = crate::notation::build::trim_span(masked, Span::long(row.start, named as u32));
        ear.hear(Span::new(who.end, row.end));
        rows.push(seats(ear, masked, who, line));
    }
    rows
}

/// `flutes & clarinets front saxes 2nd brass back`: rows whose semicolons were left out, each as where it begins, where
/// its names end and where it ends; none where that may be anything else, such as numbers of parts.
fn rows_in_a_row(text: &str) -> Vec<(usize, usize, usize)> {
    let lower = text.to_ascii_lowercase();
    let mut found = Vec::new();
    let (mut start, mut sure) = (0, false);
    for (at, _) in text.match_indices(' ') {
        let (from, rest) = (at + 1, lower.get(at + 1..).unwrap_or(""));
        if from <= start + 1 || text.get(start..at).is_none_or(|names| names.trim().is_empty()) {
            continue;
        }
        let tail = WHICH_ROW
            .iter()
            .filter(|tail| scan::after_phrase(rest, tail).is_some())
            .max_by_key(|tail| tail.len());
        let Some(tail) = tail else { continue };
        let end = from + tail.len();
        let behind = text.get(end..).unwrap_or("").trim_start();
        if !behind.is_empty() && names::known_prefix(behind).is_none() {
            continue;
        }
        sure |= ["front", "back", "row", "behind"]
            .iter()
            .any(|word| tail.contains(word));
        found.push((start, at, end));
        start = text.len() - behind.len();
    }
    match sure && found.len() > 1 && start == text.len() {
        true => found,
        false => Vec::new(),
    }
}

/// A row of chairs: the names of those who sit there.
fn seats(ear: &mut Ear, masked: &str, span: Span, line: usize) -> RowItem {
    let mut row = empty_row(span, line);
    for segment in segments(masked, span) {
        // `all other brass`: those who do not sit elsewhere.
        let lead = ["all other ", "all the other ", "the other ", "all the "]
            .iter()
            .find(|lead| segment.slice(masked).starts_with(**lead));
        let segment = match lead {
            Some(lead) => {
                ear.hear(Span::long(segment.start, lead.len() as u32));
                Span::new(segment.start + lead.len() as u32, segment.end)
            }
            None => segment,
        };
        let end = names::name_end(segment.slice(masked), true);
        let whole = Span::long(segment.start, end as u32);
        let each = names::split_joined(whole.slice(masked));
        if each.len() > 1 {
            // Between names that are known stands nothing but what joins them.
            ear.hear(whole);
        }
        for span in each {
            let (names, _) = row_name(ear, masked, span.shift(i64::from(whole.start)), RowsOf::Seats);
            row.names.extend(names);
        }
    }
    row
}

/// One line of the roster: seats or initials, then what they play; or only how many there are.
pub fn percussionists(ear: &mut Ear, masked: &str, span: Span, line: usize) -> Vec<RowItem> {
    let mut row = empty_row(span, line);
    let all = segments(masked, span);
    let Some(first) = all.first().copied() else {
        return vec![row];
    };
    if let Some(count) = head_count(masked, first).or_else(|| counted(masked, first)) {
        ear.hear(count.span);
        row.count = Some(count);
        let rest = Span::new(count.span.end, first.end);
        row.facts
            .extend(facts::read(ear, masked, rest, RowsOf::Percussionists));
        for segment in all.iter().skip(1) {
            row.facts
                .extend(facts::read(ear, masked, *segment, RowsOf::Percussionists));
        }
        return vec![row];
    }
    let mut in_names = true;
    for segment in all {
        // `P1 and P4 never together` is said of players who have rows of their own.
        let of_several = (in_names && row.names.is_empty())
            .then(|| Pin::read_of_the_section(segment.slice(masked)))
            .flatten();
        if let Some(pin) = of_several {
            ear.hear(segment);
            row.facts.push(RowFact {
                what: Fact::Pin(pin),
                span: segment,
                about: false,
                open: false,
            });
            continue;
        }
        if !in_names {
            row.facts
                .extend(facts::read(ear, masked, segment, RowsOf::Percussionists));
            continue;
        }
        let text = segment.slice(masked);
        let end = seats_end(text, row.names.is_empty());
        for seat in seats_in(text.get(..end).unwrap_or(""), segment.start) {
            if !is_seat(&seat.text) {
                continue;
            }
            ear.hear(seat.span);
            row.names.push(seat);
        }
        let rest = after_colon(masked, Span::new(segment.start + end as u32, segment.end));
        if !rest.is_empty() || text.get(end..).is_some_and(|rest| rest.starts_with(':')) {
            in_names = false;
            row.facts
                .extend(facts::read(ear, masked, rest, RowsOf::Percussionists));
        }
    }
    vec![row]
}

/// `6 percussionists`, `6 players`.
fn counted(masked: &str, span: Span) -> Option<Count> {
    let text = span.slice(masked);
    let body = text.strip_prefix("about ").unwrap_or(text);
    let (rest, number) = scan::number(body)
        .or_else(|_| facts::keywords::counted(body))
        .ok()?;
    let rest = rest.trim_start();
    let kinds = [
        "percussionists",
        "percussion players",
        "players",
        "kids",
        "students",
    ];
    let kind = kinds.into_iter().find(|kind| scan::phrase(kind)(rest).is_ok())?;
    let used = text.len() - rest.len() + kind.len();
    Some(Count {
        number,
        span: Span::long(span.start, used as u32),
        about: text.starts_with("about "),
        open: text.get(used..).is_some_and(|rest| rest.starts_with('?')),
    })
}

/// Where the seats or initials at the start of a text end.
///
/// A seat is short and holds a capital or a figure, or is no word that the roster knows: `P1`, `AK`, `wj`,
/// `seat 3`, `K. W.`. An instrument or another fact ends them.
fn seats_end(text: &str, first: bool) -> usize {
    if first && is_initials(text) {
        return text.len();
    }
    let mut end = 0;
    let mut at = 0;
    let words: Vec<&str> = text.split_inclusive([' ', '\t', '\u{a0}']).collect();
    let mut index = 0;
    while let Some(word) = words.get(index) {
        let bare = word.trim_end_matches([' ', '\t', '\u{a0}']);
        let trimmed = bare.trim_end_matches([':', ',']);
        let rest = text.get(at..).unwrap_or("");
        if let Some(length) = numbered(rest) {
            end = at + length;
            let taken = rest
                .get(..length)
                .map_or(1, |seat| seat.split_whitespace().count());
            let skipped: usize = words.iter().skip(index).take(taken).map(|word| word.len()).sum();
            at += skipped;
            index += taken;
            if rest.get(length..).is_some_and(|rest| rest.starts_with(':')) {
                return end;
            }
            continue;
        }
        let joins = matches!(trimmed, "and" | "&" | "to" | "-" | "–" | "+");
        if !joins && !trimmed.is_empty() {
            let known = names::known_prefix(rest).is_some() || facts::starts_fact(rest) || is_said(rest);
            let short = trimmed.chars().count() <= 4 && trimmed.starts_with(|c: char| c.is_alphanumeric());
            let capital = trimmed.starts_with(char::is_uppercase);
            let digit = trimmed.chars().any(|c| c.is_ascii_digit());
            let lone = end == 0 && first;
            // A capital letter or a figure makes a seat even of letters that abbreviate an instrument.
            let seat = (short && (digit || (capital && trimmed.chars().all(|c| !c.is_lowercase()))))
                || (!known && (capital || (short && trimmed.chars().count() <= 3)))
                || (lone && !known && trimmed.chars().count() <= 3);
            if !seat {
                // Before the first seat an unknown word is passed over, so that it is told and takes no seat away.
                if end == 0 && first && !known && more_seats(rest.get(trimmed.len()..).unwrap_or("")) {
                    at += word.len();
                    index += 1;
                    continue;
                }
                break;
            }
            end = at + trimmed.len();
            if bare.ends_with(':') {
                return end;
            }
        }
        at += word.len();
        index += 1;
    }
    end
}

/// Whether a text is the initials of several players, `ak wj bt`, though the last may also be short for an
/// instrument.
fn is_initials(text: &str) -> bool {
    let words: Vec<&str> = text.split_whitespace().collect();
    let is_pair = |word: &&str| word.len() == 2 && word.chars().all(|c| c.is_ascii_lowercase());
    match words.as_slice() {
        [before @ .., last] if before.len() > 1 => {
            is_pair(last)
                && before
                    .iter()
                    .all(|word| is_pair(word) && super::super::names::known_prefix(word).is_none())
        }
        _ => false,
    }
}

/// Whether a seat with a figure in it follows, such as `P1`.
fn more_seats(text: &str) -> bool {
    text.split(scan::is_blank).any(|word| {
        let word = word.trim_end_matches([':', ',']);
        word.starts_with(char::is_uppercase) && word.chars().count() <= 4
    })
}

/// `seat 3`, `player 2`, `percussionist 4`: a word and its number.
fn numbered(text: &str) -> Option<usize> {
    // `2nd desk`: the number stands before the word.
    let ordinal = text.split(scan::is_blank).next()?;
    if [
        "1st", "2nd", "3rd", "4th", "5th", "6th", "first", "second", "third", "fourth",
    ]
    .contains(&ordinal)
    {
        let desk = ["desk", "seat", "player", "chair"].into_iter().find(|desk| {
            text.get(ordinal.len() + 1..)
                .is_some_and(|rest| scan::phrase(desk)(rest).is_ok())
        });
        if let Some(desk) = desk {
            return Some(ordinal.len() + 1 + desk.len());
        }
    }
    let lead = ["seat", "player", "percussionist", "desk", "student"]
        .into_iter()
        .find(|lead| scan::phrase(lead)(text).is_ok())?;
    let rest = text.get(lead.len()..)?;
    let blank = rest.len() - rest.trim_start().len();
    let digits = rest.trim_start().chars().take_while(char::is_ascii_digit).count();
    (blank > 0 && digits > 0).then_some(lead.len() + blank + digits)
}

/// Whether something that a roster says of a player starts here.
fn is_said(text: &str) -> bool {
    let words = [
        "anything",
        "everything",
        "all",
        "not",
        "no",
        "cannot",
        "can't",
        "strong",
        "new",
        "beginner",
        "plays",
        "only",
        "prefers",
        "since",
        "never",
        "just",
        "also",
        "mostly",
        "out",
        "absent",
        "can",
        "good",
        "any",
    ];
    words.into_iter().any(|word| scan::phrase(word)(text).is_ok())
}

/// The seats in a stretch, ranges among them written out: `P1-P3` and `P1 to P3` are three.
fn seats_in(text: &str, start: u32) -> Vec<RowName> {
    let mut found: Vec<RowName> = Vec::new();
    let mut through = false;
    let mut at = 0;
    while let Some(rest) = text.get(at..).filter(|rest| !rest.is_empty()) {
        let blank = rest.len() - rest.trim_start_matches([' ', '\t', '\u{a0}', ',']).len();
        if blank > 0 {
            at += blank;
            continue;
        }
        let length =
            numbered(rest).unwrap_or_else(|| rest.find([' ', '\t', '\u{a0}', ',']).unwrap_or(rest.len()));
        let word = rest.get(..length).unwrap_or("").trim_end_matches(':');
        let span = Span::long(start + at as u32, word.len() as u32);
        at += length.max(1);
        match word {
            "" | "and" | "&" | "+" => continue,
            "to" | "-" | "–" | "through" => {
                through = true;
                continue;
            }
            _ => {}
        }
        if let Some((first, last)) = word.split_once(['-', '–']).filter(|_| !through)
            && let Some(names) = between(first, last)
        {
            found.extend(names.into_iter().map(|text| seat(text, span)));
            continue;
        }
        let range = found
            .last()
            .filter(|_| through)
            .and_then(|before| between(&before.text, word).map(|names| (before.span, names)));
        if let Some((before, names)) = range {
            let whole = Span::new(before.start, span.end);
            found.pop();
            found.extend(names.into_iter().map(|text| seat(text, whole)));
        } else {
            found.push(seat(word.split_whitespace().collect::<Vec<_>>().join(" "), span));
        }
        through = false;
    }
    found
}

/// Whether words can be a seat: short, with a capital or a figure, or a number behind a word.
fn is_seat(text: &str) -> bool {
    text.chars().count() <= 3 || text.chars().any(|c| c.is_uppercase() || c.is_ascii_digit())
}

fn seat(text: String, span: Span) -> RowName {
    RowName {
        span,
        words: span,
        text,
        numbers: None,
        open: false,
    }
}

/// The seats from one to another: `P1` and `P6`, `P1` and `6`.
fn between(first: &str, last: &str) -> Option<Vec<String>> {
    let cut = |seat: &str| {
        let digits = seat.chars().rev().take_while(char::is_ascii_digit).count();
        let (head, number) = seat.split_at_checked(seat.len() - digits)?;
        Some((head.trim().to_owned(), number.parse::<u32>().ok()?))
    };
    let ((lead, from), (end, to)) = (cut(first)?, cut(last)?);
    let same = end.is_empty() || end.eq_ignore_ascii_case(&lead);
    (same && !lead.is_empty() && from < to && to - from < 60)
        .then(|| (from..=to).map(|number| format!("{lead}{number}")).collect())
}
