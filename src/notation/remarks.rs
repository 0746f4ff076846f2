//! Remarks: text in parentheses that readers of values do not see.

use std::borrow::Cow;

use super::scan;

/// The text with every remark replaced by as many blanks as it has bytes, so that places stay where they are.
///
/// Parentheses inside a quoted name are part of the name. A remark that is never closed ends with its line.
pub fn blanked(text: &str) -> Cow<'_, str> {
    if !text.contains('(') {
        return Cow::Borrowed(text);
    }
    let mut out = String::with_capacity(text.len());
    let mut depth = 0usize;
    let mut quoted = false;
    for c in text.chars() {
        match c {
            '\n' | '\r' => {
                depth = 0;
                quoted = false;
                out.push(c);
                continue;
            }
            '(' if !quoted => depth += 1,
            c if depth == 0 && scan::is_quote(c) => quoted = !quoted,
            _ => {}
        }
        if depth > 0 {
            out.extend(std::iter::repeat_n(' ', c.len_utf8()));
        } else {
            out.push(c);
        }
        if c == ')' {
            depth = depth.saturating_sub(1);
        }
    }
    Cow::Owned(out)
}

/// The remarks of a text in order, each with its parentheses, as byte offsets from its start.
pub fn remarks(text: &str) -> Vec<(usize, usize)> {
    let masked = blanked(text);
    let mut found = Vec::new();
    let mut depth = 0usize;
    let mut start = 0;
    for (at, c) in text.char_indices() {
        // A parenthesis that the mask left standing belongs to a quoted name.
        let hidden = masked.as_bytes().get(at) == Some(&b' ');
        match c {
            '(' if hidden => {
                if depth == 0 {
                    start = at;
                }
                depth += 1;
            }
            ')' if depth > 0 => {
                depth -= 1;
                if depth == 0 {
                    found.push((start, at + 1));
                }
            }
            '\n' | '\r' if depth > 0 => {
                found.push((start, at));
                depth = 0;
            }
            _ => {}
        }
    }
    if depth > 0 {
        found.push((start, text.len()));
    }
    found
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn remarks_are_blanked_in_place() {
        for (text, masked) in [
            ("2 flats (check) at 9", "2 flats         at 9"),
            ("\"Air (old)\" grade 1", "\"Air (old)\" grade 1"),
            ("5-20 (softly (very)), 49", "5-20                , 49"),
            ("88 (never closed", "88              "),
            ("é (é) é", "é      é"),
        ] {
            assert_eq!(blanked(text), masked);
            assert_eq!(blanked(text).len(), text.len());
        }
    }

    #[test]
    fn remarks_are_found() {
        let text = "2 flats (check), \"a (b)\" (c) (d";
        let found: Vec<&str> = remarks(text)
            .into_iter()
            .map(|(start, end)| &text[start..end])
            .collect();
        assert_eq!(found, ["(check)", "(c)", "(d"]);
    }
}
