//! Finding words in a card's text as a reader does: whole words, whatever their capitals and blanks.

use crate::text::Span;

fn is_part(c: char) -> bool {
    c.is_alphanumeric() || c == '-' || c == '\'' || c == '#'
}

/// Where the words of `name` stand one after another inside `within`, as whole words.
pub(super) fn find(text: &str, within: Span, name: &str) -> Vec<Span> {
    let words: Vec<&str> = name.split_whitespace().collect();
    let inside = within.slice(text);
    let mut found = Vec::new();
    let mut from = 0usize;
    while let Some(rest) = inside.get(from..) {
        let before = inside.get(..from).and_then(|before| before.chars().next_back());
        if !before.is_some_and(is_part)
            && let Some(length) = at_start(rest, &words)
        {
            let start = within
                .start
                .saturating_add(u32::try_from(from).unwrap_or(u32::MAX));
            found.push(Span::long(start, u32::try_from(length).unwrap_or(0)));
            from = from.saturating_add(length.max(1));
            continue;
        }
        match rest.chars().next() {
            Some(c) => from = from.saturating_add(c.len_utf8()),
            None => break,
        }
    }
    found
}

/// The length in bytes of `words` at the start of `text`.
fn at_start(text: &str, words: &[&str]) -> Option<usize> {
    let mut rest = text;
    for (index, word) in words.iter().enumerate() {
        if index > 0 {
            let trimmed = rest.trim_start_matches([' ', '\t']);
            if trimmed.len() == rest.len() {
                return None;
            }
            rest = trimmed;
        }
        for wanted in word.chars() {
            let mut chars = rest.chars();
            let c = chars.next()?;
            if !c.to_lowercase().eq(wanted.to_lowercase()) {
                return None;
            }
            rest = chars.as_str();
        }
    }
    let ends = !words.is_empty() && !rest.chars().next().is_some_and(is_part);
    ends.then(|| text.len().saturating_sub(rest.len()))
}

/// A span without the blanks at its ends.
pub(super) fn trimmed(text: &str, span: Span) -> Span {
    let words = span.slice(text);
    let blanks = words.len().saturating_sub(words.trim_start().len());
    Span::long(
        span.start.saturating_add(u32::try_from(blanks).unwrap_or(0)),
        u32::try_from(words.trim().len()).unwrap_or(0),
    )
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn whole_words_only() {
        let table = [
            ("flute at trio", "trio", vec!["trio"]),
            ("trios at Trio, trio-like", "trio", vec!["Trio"]),
            (
                "Middle  section, middle section",
                "middle section",
                vec!["Middle  section", "middle section"],
            ),
            ("école École", "école", vec!["école", "École"]),
            ("A, AA, a", "A", vec!["A", "a"]),
            ("anything", "", vec![]),
        ];
        for (text, name, wanted) in table {
            let found: Vec<&str> = find(text, Span::whole(text), name)
                .into_iter()
                .map(|span| span.slice(text))
                .collect();
            assert_eq!(found, wanted, "{name} in {text}");
        }
    }
}
