//! Selecting more and more: the word, the value, the item, the line, the field, the card, the file.

use crate::text::Span;

use super::{Place, words};

/// The stretches around the cursor, in bytes of the file; each lies in the next, and none comes twice.
pub fn of(place: &Place<'_>) -> Vec<Span> {
    let text = place.text();
    let mut spans = vec![Span::at(place.offset), place.word()];
    if let Some((_, span)) = super::spots::thing(place) {
        spans.push(span);
    }
    if let Some(item) = place.item() {
        spans.push(item.core);
        spans.push(item.span);
    }
    if let Some(row) = place.row() {
        spans.extend(row.row.names.iter().map(|name| name.span));
        for fact in &row.row.facts {
            spans.push(fact.span);
        }
        spans.push(row.row.span);
    }
    for field in place.fields() {
        spans.push(field.word);
        spans.push(words::trimmed(text, Span::new(field.word.end, field.whole.end)));
        spans.push(field.whole);
    }
    let tree = &place.reading.tree;
    if let Some(line) = tree.line_at(place.offset).and_then(|line| tree.lines.get(line)) {
        spans.push(line.body);
        spans.push(line.span);
    }
    if let Some(head) = &tree.head {
        spans.push(head.name_span);
    }
    spans.push(words::trimmed(text, Span::whole(text)));
    spans.push(Span::whole(text));
    spans.retain(|span| span.touches(place.offset));
    spans.sort_by_key(|span| (span.len(), span.start));
    let mut nested: Vec<Span> = Vec::new();
    for span in spans {
        let fits = nested
            .last()
            .is_none_or(|inner| span.encloses(*inner) && span != *inner);
        if fits {
            nested.push(span);
        }
    }
    let mut found: Vec<Span> = nested.into_iter().map(|span| place.in_file(span)).collect();
    if let Some(cards) = place.snapshot.file_of(place.id) {
        let end = cards.entries.iter().fold(0u32, |sum, entry| {
            sum.saturating_add(Span::whole(&entry.text).end)
        });
        if found.last() != Some(&Span::new(0, end)) {
            found.push(Span::new(0, end));
        }
    }
    found
}
