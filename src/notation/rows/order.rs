//! Rows in an order: the pieces of a program, the movements of a piece.

use super::{empty_row, segments};
use crate::notation::build::trim_span;
use crate::notation::facts::{self, keywords};
use crate::notation::fields::RowsOf;
use crate::notation::heard::Ear;
use crate::notation::items;
use crate::notation::names;
use crate::notation::of::Of;
use crate::notation::row::{Fact, RowFact, RowItem, RowName};
use crate::notation::scan;
use crate::notation::values::{self, Titled};
use crate::text::Span;

/// The pieces on one line of a program.
pub fn program(ear: &mut Ear, masked: &str, span: Span, line: usize, inline: bool) -> Vec<RowItem> {
    let pieces = if inline {
        segments(masked, span)
    } else {
        vec![span]
    };
    let mut rows: Vec<RowItem> = Vec::new();
    for piece in pieces {
        let piece = numbered(ear, masked, piece);
        let piece = behind_then(ear, masked, piece);
        let text = piece.slice(masked);
        let titled = text.starts_with(scan::is_quote);
        let said = inline && !titled && !rows.is_empty();
        match rows.last_mut().filter(|_| said) {
            Some(row) => {
                let mark = ear.mark();
                let read = facts::read(ear, masked, piece, RowsOf::Program);
                let named = text.starts_with(char::is_uppercase) && !starts_heard(ear, mark, masked, piece);
                if named && let Some(fact) = bare(masked, piece) {
                    ear.forget(mark);
                    rows.push(untitled(ear, masked, piece, line, fact));
                    continue;
                }
                row.facts.extend(read);
                row.span = Span::new(row.span.start, piece.end);
            }
            None if text.starts_with("for ") || !titled => {
                let mut row = empty_row(piece, line);
                let mark = ear.mark();
                for segment in segments(masked, piece) {
                    row.facts
                        .extend(facts::read(ear, masked, segment, RowsOf::Program));
                }
                if !starts_heard(ear, mark, masked, piece)
                    && let Some(first) = segments(masked, piece).first()
                    && let Some(fact) = bare(masked, *first)
                {
                    ear.forget(mark);
                    row = untitled(ear, masked, piece, line, fact);
                }
                rows.push(row);
            }
            None => titles(ear, masked, piece, line, &mut rows),
        }
    }
    rows
}

/// `then "Lanterns"`: a word before a title that only says that it comes next.
fn behind_then(ear: &mut Ear, masked: &str, piece: Span) -> Span {
    let text = piece.slice(masked);
    let lead = ["and then ", "then ", "and "].iter().find_map(|lead| {
        let rest = text.strip_prefix(lead)?.trim_start();
        rest.starts_with(scan::is_quote)
            .then_some(text.len() - rest.len())
    });
    match lead {
        Some(taken) => {
            ear.hear(Span::long(piece.start, taken as u32));
            Span::new(piece.start + taken as u32, piece.end)
        }
        None => piece,
    }
}

/// Whether the first word of a stretch was understood since a mark.
fn starts_heard(ear: &Ear, mark: usize, masked: &str, span: Span) -> bool {
    let text = span.slice(masked);
    let end = text.find(scan::is_blank).unwrap_or(text.len());
    ear.understood(mark, masked, Span::long(span.start, end as u32))
}

/// A title without quotation marks at the start of a stretch, up to what is said of it.
fn bare(masked: &str, span: Span) -> Option<RowFact> {
    let text = span.slice(masked);
    let nth = text
        .char_indices()
        .filter(|(_, c)| scan::is_blank(*c))
        .map(|(at, _)| at + 1)
        .find(|at| {
            text.get(*at..)
                .is_some_and(|rest| keywords::only_nth(rest).is_some())
        });
    let end = first_fact(text)
        .into_iter()
        .chain(nth)
        .min()
        .unwrap_or(text.len());
    let head = trim_span(masked, Span::long(span.start, end as u32));
    let words = head.slice(masked);
    let titled = Titled::read_bare(words).filter(|_| !crate::notation::spoken::talks(text))?;
    Some(RowFact {
        span: head,
        about: false,
        open: false,
        what: Fact::Title(titled),
    })
}

/// A row of a program whose title stands without quotation marks.
fn untitled(ear: &mut Ear, masked: &str, piece: Span, line: usize, title: RowFact) -> RowItem {
    let mut row = empty_row(piece, line);
    ear.hear(title.span);
    let behind = Span::new(title.span.end, piece.end);
    row.facts.push(title);
    for segment in segments(masked, behind) {
        row.facts
            .extend(facts::read(ear, masked, segment, RowsOf::Program));
    }
    row
}

/// A title and what is said of it; behind `and`, another title.
fn titles(ear: &mut Ear, masked: &str, piece: Span, line: usize, rows: &mut Vec<RowItem>) {
    let mut rest = piece;
    loop {
        let text = rest.slice(masked);
        let end = title_end(text);
        let head = trim_span(masked, Span::long(rest.start, end as u32));
        let mut row = empty_row(head, line);
        if let Some((titled, taken, open)) = title(head.slice(masked)) {
            ear.hear(Span::long(head.start, taken as u32));
            row.facts.push(RowFact {
                span: Span::long(head.start, taken as u32),
                about: false,
                open,
                what: Fact::Title(titled),
            });
            let behind = trim_span(masked, Span::new(head.start + taken as u32, head.end));
            row.facts
                .extend(facts::read(ear, masked, behind, RowsOf::Program));
        }
        let after = trim_span(masked, Span::new(rest.start + end as u32, rest.end));
        let words = after.slice(masked);
        let joint = ["and ", "& ", "+ ", "/ "].iter().find(|joint| {
            words
                .strip_prefix(**joint)
                .is_some_and(|next| next.trim_start().starts_with(scan::is_quote))
        });
        if let Some(joint) = joint {
            ear.hear(Span::long(after.start, joint.len() as u32));
            rows.push(row);
            rest = trim_span(masked, Span::new(after.start + joint.len() as u32, after.end));
            continue;
        }
        row.span = Span::new(head.start, piece.end);
        for segment in segments(masked, after) {
            row.facts
                .extend(facts::read(ear, masked, segment, RowsOf::Program));
        }
        rows.push(row);
        return;
    }
}

/// The title at the start of a text with what tells it apart, the bytes it takes, and whether it is in question.
fn title(text: &str) -> Option<(Titled, usize, bool)> {
    let (rest, _) = scan::quoted(text).ok()?;
    let name = text.len() - rest.len();
    let mut ends: Vec<usize> = rest
        .char_indices()
        .filter(|(_, c)| scan::is_blank(*c))
        .map(|(at, _)| name + at)
        .collect();
    ends.push(text.len());
    ends.push(name);
    ends.sort_unstable();
    ends.into_iter().rev().find_map(|end| {
        let words = text.get(..end)?;
        let bare = words.trim_end_matches('?').trim_end();
        let titled = Titled::read(bare)?;
        Some((titled, words.trim_end().len(), words.trim_end().ends_with('?')))
    })
}

/// A row without its number or bullet: `1. "Harbor Parade"`, `2) Lanterns on the Weir`, `- "Harbor Parade"`.
fn numbered(ear: &mut Ear, masked: &str, span: Span) -> Span {
    let text = span.slice(masked);
    let bullet = text.trim_start_matches(['-', '–', '•', '*', '·']).trim_start();
    let digits = bullet.chars().take_while(char::is_ascii_digit).count();
    let rest = bullet.get(digits..).unwrap_or("");
    let after = rest.trim_start_matches(['.', ')', ':', '#']).trim_start();
    let dotted = rest.starts_with(['.', ')']) && after.starts_with(char::is_alphabetic);
    let marked = (1..3).contains(&digits)
        && (after.len() < rest.len())
        && (dotted || after.starts_with(scan::is_quote));
    let rest = if marked { after } else { bullet };
    let start = span.end - rest.len() as u32;
    if marked {
        ear.hear(Span::new(span.start, start));
    }
    Span::new(start, span.end)
}

/// Where a title ends: at the comma, at two blanks, or before another title.
fn title_end(text: &str) -> usize {
    let Ok((rest, _)) = scan::quoted(text) else {
        return text.len();
    };
    let name_end = text.len() - rest.len();
    let comma = rest.find([',', ';']).unwrap_or(rest.len());
    let next = rest.find(scan::is_quote).unwrap_or(rest.len());
    let joint = rest.get(..next).map_or(next, |words| {
        let words = words.trim_end();
        ["and", "&", "+", "/"]
            .iter()
            .find_map(|joint| words.strip_suffix(joint))
            .map_or(rest.len(), |head| head.trim_end().len())
    });
    let fact = first_fact(rest).unwrap_or(rest.len());
    name_end + comma.min(fact).min(joint)
}

/// Where something is said of a piece or movement behind its title.
fn first_fact(text: &str) -> Option<usize> {
    let starts = text.char_indices().zip(text.chars().skip(1));
    let mut starts = starts.filter(|((_, before), c)| scan::is_blank(*before) && !scan::is_blank(*c));
    starts.find_map(|((at, before), _)| {
        let from = at + before.len_utf8();
        let rest = text.get(from..)?;
        let said = is_a_length(rest.trim_end())
            || starts_music(text.get(..from).unwrap_or(""), rest)
            || keywords::order(rest).is_ok()
            || keywords::movements(rest).is_some()
            || scan::phrase("for")(rest).is_ok_and(|(rest, _)| rest.trim_start().starts_with(scan::is_quote));
        said.then_some(from)
    })
}

/// Whether a meter or a key starts here, as they stand behind a movement's title: `6/8`, `G minor`; `in G minor` is part
/// of the title.
fn starts_music(before: &str, text: &str) -> bool {
    let end = text.find([',', ';']).unwrap_or(text.len());
    let words = text.get(..end).unwrap_or("").trim();
    let first = words.split(scan::is_blank).next().unwrap_or("");
    let inside = ["in", "of", "from", "the"].iter().any(|word| {
        let last = before.trim_end().rsplit(scan::is_blank).next().unwrap_or("");
        last.eq_ignore_ascii_case(word)
    });
    let meter = first.split_once('/').is_some_and(|(beats, note)| {
        [beats, note]
            .iter()
            .all(|side| !side.is_empty() && side.bytes().all(|byte| byte.is_ascii_digit()))
    });
    let key = words.starts_with(char::is_uppercase) && (words.ends_with("minor") || words.ends_with("major"));
    meter || key && !inside && values::read(Of::Key, words).is_some()
}

/// What a segment behind a movement's title says as a line of its own would: its meter, key or tempo.
fn as_field(ear: &mut Ear, masked: &str, segment: Span) -> Option<RowFact> {
    let text = segment.slice(masked);
    let field = if text.contains('=') {
        ("tempo", Of::Tempo)
    } else if starts_music("", text) {
        match text.contains('/') {
            true => ("meter", Of::Meter),
            false => ("tonal center", Of::Key),
        }
    } else {
        ("tempo", Of::Tempo)
    };
    values::read(field.1, text)?;
    let mark = ear.mark();
    let stages = items::stages(ear, masked, segment, field.1);
    if !ear.understood(mark, masked, segment) {
        ear.forget(mark);
        return None;
    }
    Some(RowFact {
        span: segment,
        about: false,
        open: false,
        what: Fact::Line(field.0, stages),
    })
}

/// The movements on one line: a number, a title in any words, and what is said behind a comma.
pub fn movements(ear: &mut Ear, masked: &str, span: Span, line: usize, inline: bool) -> Vec<RowItem> {
    let pieces = if inline {
        segments(masked, span)
    } else {
        vec![span]
    };
    let mut rows: Vec<RowItem> = Vec::new();
    let all = pieces.len();
    for piece in pieces {
        let piece = without_their_number(ear, masked, piece, rows.is_empty() && all > 1);
        let text = piece.slice(masked);
        // `just 1 but you can stop at 48` is no title.
        let counts = ["just ", "only "].iter().find_map(|lead| text.strip_prefix(lead));
        if inline
            && let Some(rest) = counts
            && rest
                .split(' ')
                .next()
                .and_then(crate::notation::values::number_in_words)
                .is_some()
        {
            continue;
        }
        // `no. 3 can be left out` says something of one of those before it.
        if let Some((number, length)) = one_of_them(text)
            && let Some(row) = rows.get_mut(number)
        {
            ear.hear(Span::long(piece.start, length as u32));
            let rest = trim_span(masked, Span::new(piece.start + length as u32, piece.end));
            row.facts
                .extend(facts::read(ear, masked, rest, RowsOf::Movements));
            continue;
        }
        if inline
            && !rows.is_empty()
            && (keywords::order(text).is_ok_and(|(rest, _)| rest.trim().is_empty()) || is_a_length(text))
            && let Some(row) = rows.last_mut()
        {
            row.facts
                .extend(facts::read(ear, masked, piece, RowsOf::Movements));
            row.span = Span::new(row.span.start, piece.end);
            continue;
        }
        rows.push(movement(ear, masked, piece, line, inline));
    }
    rows
}

/// `four: Procession, Hobby Horse`: how many there are stands before the first, and is seen from the rest.
fn without_their_number(ear: &mut Ear, masked: &str, piece: Span, first: bool) -> Span {
    let text = piece.slice(masked);
    let Some((number, rest)) = text.split_once(':').filter(|_| first) else {
        return piece;
    };
    if crate::notation::values::number_in_words(number.trim()).is_none()
        || number.trim().parse::<u32>().is_ok()
    {
        return piece;
    }
    let rest = trim_span(masked, Span::new(piece.end - rest.len() as u32, piece.end));
    ear.hear(Span::new(piece.start, rest.start));
    rest
}

/// `no. 3 `, `movement 3 `, `the third ` before what is said of that movement: its place, from 0, and the bytes.
fn one_of_them(text: &str) -> Option<(usize, usize)> {
    let rest = ["no.", "number", "movement", "mvt.", "mvt", "mov."]
        .iter()
        .find_map(|lead| scan::after_phrase(text, lead).or_else(|| text.strip_prefix(lead)))?;
    let (after, number) = scan::number(rest.trim_start()).ok()?;
    // Alone it may be a title.
    let said = !after.trim().is_empty() && facts::starts_fact(after.trim_start());
    let place = usize::try_from(number).ok()?.checked_sub(1)?;
    said.then_some((place, text.len() - after.len()))
}

/// Whether a text says how long a movement is: `44 bars`, `2:30`. Such words are no movement of their own.
fn is_a_length(text: &str) -> bool {
    let counted = scan::number(text).is_ok_and(|(rest, _)| {
        let unit = rest.trim().to_lowercase();
        matches!(unit.as_str(), "bars" | "bar" | "measures" | "measure" | "mm")
    });
    counted || crate::music::Clock::read(text).is_some()
}

fn movement(ear: &mut Ear, masked: &str, piece: Span, line: usize, inline: bool) -> RowItem {
    let text = piece.slice(masked);
    let mut row = empty_row(piece, line);
    let (after, number) = match scan::number(text) {
        Ok((after, number)) => (after.trim_start_matches(['.', ')', ':']), Some(number)),
        Err(_) => names::roman(text).map_or((text, None), |(number, after)| (after, Some(number))),
    };
    let name_start = piece.start + (text.len() - after.trim_start().len()) as u32;
    let after = after.trim_start();
    let end = if after.starts_with(scan::is_quote) {
        scan::quoted(after).map_or(after.len(), |(rest, _)| after.len() - rest.len())
    } else {
        [
            first_fact(after),
            if inline { None } else { after.find([',', ';']) },
        ]
        .into_iter()
        .flatten()
        .min()
        .unwrap_or(after.len())
    };
    let words = trim_span(masked, Span::long(name_start, end as u32));
    ear.hear(Span::new(piece.start, words.end.max(piece.start)));
    row.names.push(RowName {
        span: Span::new(piece.start, words.end.max(piece.start)),
        words,
        text: words.slice(masked).trim_matches(scan::is_quote).to_owned(),
        numbers: number.map(|number| (number, number)),
        open: false,
    });
    for segment in segments(masked, Span::new(name_start + end as u32, piece.end)) {
        match as_field(ear, masked, segment) {
            Some(fact) => row.facts.push(fact),
            None => row
                .facts
                .extend(facts::read(ear, masked, segment, RowsOf::Movements)),
        }
    }
    row
}
