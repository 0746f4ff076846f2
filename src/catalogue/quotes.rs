//! Quoted names inside a value.

use crate::text::Span;

/// Where the quoted names inside `span` stand, without their quotes. A name whose quotation marks are not closed
/// goes to the end, as the one form closes them there.
pub fn quoted_spans(text: &str, span: Span) -> Vec<Span> {
    let mut spans = Vec::new();
    let mut open: Option<usize> = None;
    let value = span.slice(text);
    for (at, c) in value.char_indices() {
        if matches!(c, '"' | '“' | '”' | '„' | '«' | '»') {
            match open.take() {
                None => open = Some(at + c.len_utf8()),
                Some(start) => spans.push(Span::new(span.start + start as u32, span.start + at as u32)),
            }
        }
    }
    if let Some(start) = open {
        let end = value.trim_end().len();
        if start < end {
            spans.push(Span::new(span.start + start as u32, span.start + end as u32));
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

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn names_between_quotation_marks() {
        let table: [(&str, &[&str]); 6] = [
            ("\"A\" and “B”", &["A", "B"]),
            ("\"Left open  ", &["Left open"]),
            ("\"A\", \"B", &["A", "B"]),
            ("none", &[]),
            ("\"", &[]),
            ("\"\"", &[]),
        ];
        for (text, names) in table {
            assert_eq!(quoted_names(text), names, "{text}");
        }
    }
}
