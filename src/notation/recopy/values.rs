//! One line's value in the one form: items of a list, stages, and rows on the field's own line.

use super::same;
use crate::notation::fields::RowsOf;
use crate::notation::heard::Ear;
use crate::notation::items::{self, Item};
use crate::notation::of::Of;
use crate::notation::remarks;
use crate::notation::row::{Fact, RowFact, RowItem};
use crate::notation::rows;
use crate::text::Span;

/// How the items of a line are read: as a list, or as a value with its stages.
#[derive(Clone, Copy)]
pub enum Read {
    List(Of),
    Value(Of),
}

impl Read {
    fn items(self, masked: &str, span: Span) -> Vec<Item> {
        match self {
            Read::List(of) => items::list(&mut Ear::default(), masked, span, of),
            Read::Value(of) => items::stages(&mut Ear::default(), masked, span, of),
        }
    }
}

/// Words and the remarks behind them, as they stand in `text`; `masked` is the same with remarks blanked.
pub fn cut_remarks<'t>(text: &'t str, masked: &str) -> (&'t str, &'t str) {
    let end = masked.trim_end().len();
    match text.split_at_checked(end) {
        Some((words, remarks)) => (words.trim_end(), remarks.trim()),
        None => (text, ""),
    }
}

/// Words with the remarks behind them after two blanks.
pub fn with_remarks(words: String, remarks: &str) -> String {
    match (words.is_empty(), remarks.is_empty()) {
        (_, true) => words,
        (true, _) => remarks.to_owned(),
        _ => format!("{words}  {remarks}"),
    }
}

/// The items on one line; `text` is the value alone, without the remarks behind it.
pub fn items_line(text: &str, read: Read) -> String {
    let masked = remarks::blanked(text);
    let before = read.items(&masked, Span::whole(text));
    let mut out = String::new();
    let mut at = 0;
    for (index, item) in before.iter().enumerate() {
        let gap = Span::new(at, item.span.start).slice(text);
        out.push_str(&between(gap, index == 0));
        out.push_str(&one_item(text, &masked, item, read));
        at = item.span.end;
    }
    // A comma at the end of the line says nothing; a remark behind it does.
    let tail = Span::new(at, Span::whole(text).end).slice(text);
    let tail = tail.trim_start_matches(is_nothing).trim_end();
    if !tail.is_empty() {
        out.push(' ');
        out.push_str(tail);
    }
    let after = read.items(&remarks::blanked(&out), Span::whole(&out));
    if same::items((text, &before), (&out, &after)) {
        out
    } else {
        text.to_owned()
    }
}

/// A line that is one item, parentheses and commas included.
pub fn items_line_plain(text: &str, of: Of) -> String {
    let before = items::list(&mut Ear::default(), text, Span::whole(text), of);
    let form = match before.as_slice() {
        [item] => item.one_form(),
        _ => None,
    };
    form.filter(|form| {
        let after = items::list(&mut Ear::default(), form, Span::whole(form), of);
        same::items((text, &before), (form, &after))
    })
    .unwrap_or_else(|| text.to_owned())
}

/// Commas without anything between them say no more than one.
fn is_nothing(c: char) -> bool {
    matches!(c, ',' | ';') || c.is_whitespace()
}

/// What stands between two items: a comma, and the remarks on either side of it.
fn between(gap: &str, first: bool) -> String {
    let masked = remarks::blanked(gap);
    // However many blanks there are, and whether one stands before the comma.
    let words = masked.replace([',', ';'], " , ");
    let mut words: Vec<&str> = words.split_whitespace().collect();
    words.dedup_by(|next, before| *next == "," && *before == ",");
    let gap = match words.join(" ").as_str() {
        "and" | "&" | "+" | "plus" | "except" | "exc" | "exc." | "but" | "." => ",",
        ", and" | ", &" | ", plus" => ",",
        "" if !first => ",",
        _ => gap,
    };
    let (before, after) = match remarks::blanked(gap).find([',', ';']) {
        Some(comma) => gap.split_at_checked(comma).unwrap_or((gap, "")),
        None => ("", gap),
    };
    let (before, after) = (before.trim(), after.trim_start_matches(is_nothing).trim_end());
    // A comma after a remark that begins the line parts it from nothing.
    let after = if first {
        after.trim_end_matches(is_nothing)
    } else {
        after
    };
    let mut out = String::new();
    if !before.is_empty() {
        if !first {
            out.push(' ');
        }
        out.push_str(before);
    }
    if !first {
        out.push(',');
    }
    if !out.is_empty() {
        out.push(' ');
    }
    if !after.is_empty() {
        out.push_str(after);
        out.push(' ');
    }
    out
}

fn one_item(text: &str, masked: &str, item: &Item, read: Read) -> String {
    let raw = item.span.slice(text);
    // A remark inside an item would lose its place.
    if raw != item.span.slice(masked) {
        return raw.to_owned();
    }
    let alone = read.items(raw, Span::whole(raw));
    // What a neighbor says of it (`2/4 til 40, then cut`) is lost where it stands alone.
    if let [one] = alone.as_slice()
        && !same::items((raw, &alone), (text, std::slice::from_ref(item)))
        && one.value == item.value
        && let Some(form) = item.one_form()
    {
        return form;
    }
    if let [one] = alone.as_slice()
        && one.value.is_none()
        && item.value.is_some()
        && let Some(form) = item.one_form()
    {
        return form;
    }
    let spaced = raw.split_whitespace().collect::<Vec<_>>().join(" ");
    let form = match alone.as_slice() {
        [one] => one.one_form(),
        _ => None,
    };
    [form, Some(spaced)]
        .into_iter()
        .flatten()
        .find(|form| {
            let again = read.items(form, Span::whole(form));
            same::items((raw, &alone), (form, &again))
        })
        .unwrap_or_else(|| raw.to_owned())
}

/// The rows that stand on the field's own line.
pub fn inline_rows(text: &str, of: RowsOf) -> String {
    let masked = remarks::blanked(text);
    if masked != text {
        return text.to_owned();
    }
    let before = rows::read(&mut Ear::default(), text, Span::whole(text), 0, of, true);
    // The one form has no room for words that were not understood, so they keep theirs.
    if before.iter().any(|row| row.partial) {
        return text.to_owned();
    }
    let gap = if of == RowsOf::Percussionists { "  " } else { " " };
    let parts: Vec<String> = before
        .iter()
        .map(|row| {
            let (names, facts) = row_parts(text, row, of);
            // A comma behind the name is kept: without it, words would join the name.
            let behind = row
                .names
                .last()
                .map(|name| Span::new(name.span.end, row.span.end));
            let comma = behind.is_some_and(|rest| rest.slice(text).trim_start().starts_with(','));
            let gap = match comma {
                _ if names.is_empty() || facts.is_empty() => "",
                true => ", ",
                false => gap,
            };
            format!("{names}{gap}{facts}")
        })
        .collect();
    let form = parts.join(", ");
    let after = rows::read(&mut Ear::default(), &form, Span::whole(&form), 0, of, true);
    if same::rows(&before, &after) {
        form
    } else {
        text.to_owned()
    }
}

/// One row on a line of its own, `indent` columns deep; `text` is the row without the remarks behind it.
pub fn row_line(indent: usize, text: &str, of: RowsOf) -> String {
    let plain = super::row_line(indent, text, "");
    if remarks::blanked(text) != text {
        return plain;
    }
    let before = rows::read(&mut Ear::default(), text, Span::whole(text), 0, of, false);
    let [row] = before.as_slice() else {
        return plain;
    };
    if row.partial {
        return plain;
    }
    let (names, facts) = row_parts(text, row, of);
    let form = match of {
        RowsOf::Program | RowsOf::Seats => format!("{}{names}{facts}", " ".repeat(indent)),
        _ => super::row_line(indent, &names, &facts),
    };
    let after = rows::read(&mut Ear::default(), &form, Span::whole(&form), 0, of, false);
    if same::rows(&before, &after) { form } else { plain }
}

/// A row's names and its facts, each in the one form.
fn row_parts(text: &str, row: &RowItem, of: RowsOf) -> (String, String) {
    let names: Vec<String> = row
        .names
        .iter()
        .map(|name| match (of, name.numbers) {
            // The title of a movement may stand in quotes; its number stands in front.
            (RowsOf::Movements, numbers) => {
                let title = name.words.slice(text);
                let number = numbers.map(|(number, _)| number.to_string());
                number
                    .into_iter()
                    .chain([straight(title)])
                    .filter(|word| !word.is_empty())
                    .collect::<Vec<_>>()
                    .join(" ")
            }
            _ => name.one_form(),
        })
        .collect();
    let between = if of == RowsOf::Percussionists { " " } else { ", " };
    let mut facts: Vec<String> = Vec::new();
    if let Some(count) = &row.count {
        // `9 parts` is a count without a name; its own words say what is counted.
        facts.push(if row.names.is_empty() {
            let words = count.span.slice(text);
            words.split_whitespace().collect::<Vec<_>>().join(" ")
        } else {
            count.to_string()
        });
    }
    facts.extend(row.facts.iter().map(ToString::to_string));
    (names.join(between), with_at(facts.join(", "), &row.facts))
}

/// A single measure at the start says `at`, since a bare number there could be the number of a part.
fn with_at(words: String, facts: &[RowFact]) -> String {
    match facts.first().map(|fact| (&fact.what, fact.about)) {
        Some((Fact::Plays(place, _), false)) if rows::is_one_measure(place) => format!("at {words}"),
        _ => words,
    }
}

/// Words with straight quotation marks.
pub fn straight(words: &str) -> String {
    words
        .chars()
        .map(|c| {
            if crate::notation::scan::is_quote(c) {
                '"'
            } else {
                c
            }
        })
        .collect()
}

/// Facts on a line below a row, `indent` columns deep.
pub fn facts_line(indent: usize, text: &str, of: RowsOf) -> String {
    let plain = super::row_line(indent, text, "");
    if remarks::blanked(text) != text {
        return plain;
    }
    let read = |text: &str| {
        let whole = Span::whole(text);
        let mut ear = Ear::default();
        RowItem {
            span: whole,
            line: 0,
            names: Vec::new(),
            count: None,
            facts: crate::notation::read::deeper_facts(&mut ear, text, text, whole, of),
            partial: !ear.unheard(text).is_empty(),
        }
    };
    let before = read(text);
    if before.partial {
        return plain;
    }
    let facts: Vec<String> = before.facts.iter().map(ToString::to_string).collect();
    let form = with_at(facts.join(", "), &before.facts);
    if same::row(&before) == same::row(&read(&form)) {
        super::row_line(indent, &form, "")
    } else {
        plain
    }
}
