//! Edits that several rules offer.

use crate::text::{Edit, Span, whole_lines};

/// Takes an item out of its list, a comma beside it included; alone in its row or field, with its lines.
pub(super) fn take_out(text: &str, item: Span) -> Edit {
    let line = whole_lines(text, item);
    let before = Span::new(line.start, item.start).slice(text);
    let after = Span::new(item.end, line.end).slice(text);
    let blank = |c: char| c == ' ' || c == '\t';
    let behind = after.trim_start_matches(blank);
    if let Some(rest) = behind.strip_prefix(',') {
        let rest = rest.trim_start_matches(blank);
        return Edit::remove(Span::new(item.start, line.end - rest.len() as u32));
    }
    let front = before.trim_end_matches(blank);
    if let Some(front) = front.strip_suffix(',') {
        return Edit::remove(Span::new(line.start + front.len() as u32, item.end));
    }
    Edit::remove(line)
}

/// Takes a fact out of its row, a comma or the blanks in front of it included.
pub(super) fn take_fact_out(text: &str, fact: Span) -> Edit {
    let line = whole_lines(text, fact);
    let before = Span::new(line.start, fact.start).slice(text);
    let front = before.trim_end_matches([' ', '\t', ',']);
    match front.is_empty() {
        true => Edit::remove(line),
        false => Edit::remove(Span::new(line.start + front.len() as u32, fact.end)),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_left() {
        for (text, item, fact, left) in [
            (
                "  holds  \"A\", \"B\", \"C\"\n",
                "\"B\"",
                false,
                "  holds  \"A\", \"C\"\n",
            ),
            ("  holds  \"A\", \"B\"\n", "\"B\"", false, "  holds  \"A\"\n"),
            (
                "  holds\n    \"A\"\n    \"B\"\n",
                "\"B\"",
                false,
                "  holds\n    \"A\"\n",
            ),
            (
                "  parts\n    oboe  solo, same as oboe, tacet\n",
                "same as oboe",
                true,
                "  parts\n    oboe  solo, tacet\n",
            ),
            (
                "  parts\n    oboe  same as oboe",
                "same as oboe",
                true,
                "  parts\n    oboe",
            ),
        ] {
            let at = text.find(item).unwrap_or_default() as u32;
            let span = Span::new(at, at + item.len() as u32);
            let edit = if fact {
                take_fact_out(text, span)
            } else {
                take_out(text, span)
            };
            assert_eq!(
                crate::text::apply(text, &[edit]).as_deref(),
                Ok(left),
                "{item} of {text}"
            );
        }
    }
}
