//! Quoted names inside a value.

use crate::text::Span;

/// Where the quoted names inside `span` stand, without their quotes.
pub fn quoted_spans(text: &str, span: Span) -> Vec<Span> {
    let mut spans = Vec::new();
    let mut open: Option<usize> = None;
    for (at, c) in span.slice(text).char_indices() {
        if matches!(c, '"' | '“' | '”' | '„' | '«' | '»') {
            match open.take() {
                None => open = Some(at + c.len_utf8()),
                Some(start) => spans.push(Span::new(span.start + start as u32, span.start + at as u32)),
            }
        }
    }
    spans
}

/// The quoted names in a text, in order.
pub fn quoted_names(text: &str) -> Vec<String> {
    quoted_spans(text, Span::whole(text))
        .into_iter()
        .map(|span| span.slice(text).trim().to_owned())
        .filter(|name| !name.is_empty())
        .collect()
}
