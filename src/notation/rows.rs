//! Reading rows of tables: where a name ends, what numbers mean, which names share facts.

use super::build::trim_span;
use super::facts;
use super::fields::RowsOf;
use super::items::split_commas;
use super::names;
use super::row::{Count, Fact, RowFact, RowItem, RowName};
use super::scan;
use super::values::Titled;
use crate::text::Span;

/// Reads the rows that stand in `span`: one for a deeper line, several where they stand on the field's own line.
pub fn read(masked: &str, span: Span, line: usize, of: RowsOf, inline: bool) -> Vec<RowItem> {
    let span = trim_span(masked, span);
    if span.is_empty() {
        return Vec::new();
    }
    match of {
        RowsOf::Program => program(masked, span, line, inline),
        RowsOf::Movements => movements(masked, span, line, inline),
        RowsOf::Seats => vec![seats(masked, span, line)],
        RowsOf::Percussionists => percussionists(masked, span, line),
        _ => table(masked, span, line, of, inline),
    }
}

/// The segments between commas, trimmed, empty ones left out.
fn segments(masked: &str, span: Span) -> Vec<Span> {
    split_commas(span.slice(masked))
        .into_iter()
        .map(|(offset, piece)| trim_span(masked, Span::long(span.start + offset as u32, piece.len() as u32)))
        .filter(|segment| !segment.is_empty())
        .collect()
}

/// The offset of the first wide gap (two blanks, or a tab) inside a text.
fn wide_gap(text: &str) -> Option<usize> {
    let double = text.find("  ");
    let tab = text.find('\t');
    match (double, tab) {
        (Some(double), Some(tab)) => Some(double.min(tab)),
        (gap, None) | (None, gap) => gap,
    }
}

fn empty_row(span: Span, line: usize) -> RowItem {
    RowItem {
        span,
        line,
        names: Vec::new(),
        count: None,
        facts: Vec::new(),
    }
}

fn table(masked: &str, span: Span, line: usize, of: RowsOf, inline: bool) -> Vec<RowItem> {
    let text = span.slice(masked);
    if let Some(what) = facts::complete_with(text.trim_end_matches('?')) {
        let mut row = empty_row(span, line);
        row.facts.push(RowFact {
            span,
            about: false,
            open: text.ends_with('?'),
            what,
        });
        return vec![row];
    }
    // On a line of its own, a wide gap parts the names from the facts for certain.
    let gap = if inline { None } else { wide_gap(text) };
    let (names_span, facts_span) = match gap {
        Some(gap) => {
            let at = span.start + gap as u32;
            (
                Span::new(span.start, at),
                Some(trim_span(masked, Span::new(at, span.end))),
            )
        }
        None => (span, None),
    };
    let mut rows: Vec<RowItem> = Vec::new();
    for segment in segments(masked, names_span) {
        add_segment(masked, segment, line, of, inline, facts_span.is_some(), &mut rows);
    }
    if let (Some(facts_span), Some(row)) = (facts_span, rows.last_mut()) {
        for segment in segments(masked, facts_span) {
            add_facts(masked, segment, of, row);
        }
    }
    if let [row] = rows.as_mut_slice() {
        row.span = span;
    }
    rows
}

fn add_segment(
    masked: &str,
    segment: Span,
    line: usize,
    of: RowsOf,
    inline: bool,
    gapped: bool,
    rows: &mut Vec<RowItem>,
) {
    let text = segment.slice(masked);
    let first = rows.iter().all(|row| row.names.is_empty());
    // Behind a name, `2 players` is how many it takes and no count of all parts.
    if let Some(count) = parts_counted(text).filter(|_| first || !facts::starts_fact(text)) {
        let mut row = empty_row(segment, line);
        row.count = Some(Count {
            number: count,
            span: segment,
            about: text.starts_with("about"),
            open: text.ends_with('?'),
        });
        rows.push(row);
        return;
    }
    // `percussion  optional, snare` says something of all of it before it names anything.
    if rows.is_empty() && !gapped && inline && facts::is_keyword(text) {
        let mut row = empty_row(segment, line);
        add_facts(masked, segment, of, &mut row);
        rows.push(row);
        return;
    }
    // `part 1 for flute, oboe, violin`: what follows are instruments for the part, no names of the row.
    let for_more = !gapped && !text.starts_with("part ") && rows.last().is_some_and(is_for);
    // Behind a hundred facts nobody goes on with names, and each look for a near one takes its time.
    let many = rows.last().is_some_and(|row| row.facts.len() > 100);
    let named = gapped || first || (!for_more && !many && starts_name(text, of, inline));
    if !named && let Some(row) = rows.last_mut() {
        add_facts(masked, segment, of, row);
        row.span = Span::new(row.span.start, segment.end);
        return;
    }
    if first || (inline && !gapped) {
        rows.push(empty_row(segment, line));
    }
    let Some(row) = rows.last_mut() else { return };
    row.span = Span::new(row.span.start, segment.end);
    let name_end = if gapped {
        text.len()
    } else {
        names::name_end(text, of == RowsOf::Parts)
    };
    let whole = Span::long(segment.start, name_end as u32);
    for span in names::split_joined(whole.slice(masked)) {
        let (name, count) = row_name(masked, span.shift(i64::from(whole.start)), of);
        row.names.extend(name);
        row.count = row.count.or(count);
    }
    let rest = trim_span(masked, Span::new(segment.start + name_end as u32, segment.end));
    if !rest.is_empty() {
        add_facts(masked, rest, of, row);
    }
}

fn add_facts(masked: &str, segment: Span, of: RowsOf, row: &mut RowItem) {
    let text = segment.slice(masked);
    if of == RowsOf::Players {
        let (bare, open) = match text.strip_suffix('?') {
            Some(bare) => (bare.trim_end(), true),
            None => (text, false),
        };
        if row.count.is_none()
            && let Some(count) = head_count(masked, segment)
        {
            row.count = Some(count);
            return;
        }
        if let Some(what) = facts::some(bare) {
            row.facts.push(RowFact {
                span: segment,
                about: false,
                open,
                what,
            });
            return;
        }
    }
    // More instruments that a flexible part is for: `for flute, oboe, violin`.
    if let Some(RowFact {
        span,
        what:
            Fact::Relation {
                relation: super::row::Relation::For,
                target,
                target_span,
                ..
            },
        ..
    }) = row.facts.last_mut()
        && !facts::starts_fact(text)
    {
        target.push_str(", ");
        target.push_str(text);
        *target_span = Span::new(target_span.start, segment.end);
        *span = Span::new(span.start, segment.end);
        return;
    }
    row.facts.extend(facts::read(masked, segment));
}

/// Whether the last thing said of a row is for which instruments it is.
fn is_for(row: &RowItem) -> bool {
    let last = row.facts.last().map(|fact| &fact.what);
    matches!(
        last,
        Some(Fact::Relation {
            relation: super::row::Relation::For,
            ..
        })
    )
}

/// Whether a segment after the first starts a new name rather than a fact.
fn starts_name(text: &str, of: RowsOf, inline: bool) -> bool {
    if names::known_prefix(text).is_some() || names::ordinal_prefix(text).is_some() {
        return true;
    }
    if !inline || facts::starts_fact(text) {
        return false;
    }
    match of {
        RowsOf::Players => !text.starts_with(|c: char| c.is_ascii_digit()) && facts::some(text).is_none(),
        RowsOf::Percussion | RowsOf::Pages => true,
        _ => names::nearest_known(text).is_some() || text.starts_with("part "),
    }
}

/// `9 parts`, `about 6 instruments`.
fn parts_counted(text: &str) -> Option<u32> {
    let text = text.trim_end_matches('?').trim();
    let text = text.strip_prefix("about ").unwrap_or(text);
    let (rest, number) = scan::number(text).ok()?;
    matches!(
        rest.trim(),
        "parts" | "part" | "instruments" | "percussion parts" | "percussionists" | "players"
    )
    .then_some(number)
}

fn head_count(masked: &str, span: Span) -> Option<Count> {
    let text = span.slice(masked);
    let (bare, open) = match text.strip_suffix('?') {
        Some(bare) => (bare.trim_end(), true),
        None => (text, false),
    };
    let (bare, about) = match super::items::about_word(bare) {
        Ok((rest, ())) => (rest, true),
        Err(_) => (bare, false),
    };
    match scan::number(bare) {
        Ok(("", number)) => Some(Count {
            number,
            span,
            about,
            open,
        }),
        _ => None,
    }
}

/// A name with its number; in a roster the number is a head count.
fn row_name(masked: &str, span: Span, of: RowsOf) -> (Option<RowName>, Option<Count>) {
    let span = trim_span(masked, span);
    let text = span.slice(masked);
    let (bare, open) = match text.strip_suffix('?') {
        Some(bare) => (bare.trim_end_matches(['?', ' ']), true),
        None => (text, false),
    };
    if bare.is_empty() {
        return (None, None);
    }
    let cut = names::cut_number(bare, of != RowsOf::Percussion);
    let words_span = Span::long(span.start + cut.words_at as u32, cut.words.len() as u32);
    let words = names::in_full(cut.words);
    let mut name = RowName {
        span,
        words: words_span,
        text: words,
        numbers: cut.numbers,
        open,
    };
    if of == RowsOf::Players
        && let Some((number, last)) = cut.numbers.filter(|_| !cut.ordinal)
    {
        let count = Count {
            number: last.max(number),
            span: Span::new(words_span.end, span.end),
            about: cut.about,
            open,
        };
        name.numbers = None;
        name.span = words_span;
        return (
            Some(name),
            Some(Count {
                span: trim_span(masked, count.span),
                ..count
            }),
        );
    }
    (Some(name), None)
}

fn program(masked: &str, span: Span, line: usize, inline: bool) -> Vec<RowItem> {
    let pieces = if inline {
        segments(masked, span)
    } else {
        vec![span]
    };
    let mut rows: Vec<RowItem> = Vec::new();
    for piece in pieces {
        let text = piece.slice(masked);
        if inline
            && !text.starts_with(scan::is_quote)
            && !rows.is_empty()
            && let Some(row) = rows.last_mut()
        {
            row.facts.extend(facts::read(masked, piece));
            row.span = Span::new(row.span.start, piece.end);
            continue;
        }
        let mut row = empty_row(piece, line);
        if text.starts_with("for ") {
            row.facts.extend(facts::read(masked, piece));
            rows.push(row);
            continue;
        }
        let head_end = if text.starts_with(scan::is_quote) {
            title_end(text)
        } else {
            text.find(',').unwrap_or(text.len())
        };
        let head = trim_span(masked, Span::long(piece.start, head_end as u32));
        let what = match Titled::read(head.slice(masked).trim_end_matches('?').trim_end()) {
            Some(titled) => Fact::Title(titled),
            None => Fact::Words(
                head.slice(masked)
                    .split_whitespace()
                    .collect::<Vec<_>>()
                    .join(" "),
                None,
            ),
        };
        row.facts.push(RowFact {
            span: head,
            about: false,
            open: head.slice(masked).ends_with('?'),
            what,
        });
        let rest = Span::new(piece.start + head_end as u32, piece.end);
        for segment in segments(masked, rest) {
            row.facts.extend(facts::read(masked, segment));
        }
        rows.push(row);
    }
    rows
}

/// Where a quoted title and the words that tell it apart end: at the next comma, or at two blanks.
fn title_end(text: &str) -> usize {
    let Ok((rest, _)) = scan::quoted(text) else {
        return text.len();
    };
    let name_end = text.len() - rest.len();
    let comma = rest.find(',').unwrap_or(rest.len());
    // Blanks right after the name only line up the column behind it.
    let lead = rest.len() - rest.trim_start().len();
    let gap = rest
        .get(lead..)
        .and_then(wide_gap)
        .map_or(rest.len(), |gap| lead + gap);
    name_end + comma.min(gap)
}

fn movements(masked: &str, span: Span, line: usize, inline: bool) -> Vec<RowItem> {
    let pieces = if inline {
        segments(masked, span)
    } else {
        vec![span]
    };
    let mut rows = Vec::new();
    for piece in pieces {
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
            [wide_gap(after), if inline { None } else { after.find(',') }]
                .into_iter()
                .flatten()
                .min()
                .unwrap_or(after.len())
        };
        let words = trim_span(masked, Span::long(name_start, end as u32));
        row.names.push(RowName {
            span: Span::new(piece.start, words.end.max(piece.start)),
            words,
            text: words.slice(masked).trim_matches(scan::is_quote).to_owned(),
            numbers: number.map(|number| (number, number)),
            open: false,
        });
        for segment in segments(masked, Span::new(name_start + end as u32, piece.end)) {
            row.facts.extend(facts::read(masked, segment));
        }
        rows.push(row);
    }
    rows
}

fn seats(masked: &str, span: Span, line: usize) -> RowItem {
    let mut row = empty_row(span, line);
    for segment in segments(masked, span) {
        let (name, _) = row_name(masked, segment, RowsOf::Seats);
        row.names.extend(name);
    }
    row
}

fn percussionists(masked: &str, span: Span, line: usize) -> Vec<RowItem> {
    let text = span.slice(masked);
    let mut row = empty_row(span, line);
    if let Some(count) = head_count(masked, span) {
        row.count = Some(count);
        return vec![row];
    }
    if let Some(number) = parts_counted(text) {
        row.count = Some(Count {
            number,
            span,
            about: text.starts_with("about"),
            open: text.ends_with('?'),
        });
        return vec![row];
    }
    let name_end = match wide_gap(text) {
        Some(gap) => gap,
        None => names::seats_end(text),
    };
    let mut at = 0;
    for word in text
        .get(..name_end)
        .unwrap_or("")
        .split_inclusive([' ', '\t', ','])
    {
        let trimmed = word.trim_end_matches([' ', '\t', ',', ':']);
        if !trimmed.is_empty() && trimmed != "and" {
            let place = Span::long(span.start + at as u32, trimmed.len() as u32);
            row.names.push(RowName {
                span: place,
                words: place,
                text: trimmed.to_owned(),
                numbers: None,
                open: false,
            });
        }
        at += word.len();
    }
    let rest = Span::new(span.start + name_end as u32, span.end);
    for segment in segments(masked, rest) {
        row.facts.extend(facts::read(masked, segment));
    }
    vec![row]
}
