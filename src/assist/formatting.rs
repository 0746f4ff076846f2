//! Laying a file out in the one form, as few small edits as will do.

use crate::text::{Edit, Span, minimal};

/// The edits that turn a file's text into what `recopied` says; only those that touch `within`, when it
/// is given. Line endings are left as the file has them.
pub fn edits(text: &str, recopied: &str, within: Option<Span>) -> Vec<Edit> {
    minimal(text, recopied)
        .into_iter()
        .filter(|edit| {
            within.is_none_or(|within| {
                // An edit that only inserts at the edge of the stretch still belongs to it.
                within.touches(edit.span.start) && within.touches(edit.span.end) || within.overlaps(edit.span)
            })
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn only_what_is_asked_for() {
        let text = "a  1\nb  2\n";
        let wanted = "a 1\nb 2\n";
        assert_eq!(edits(text, wanted, None).len(), 2);
        let first = edits(text, wanted, Some(Span::new(0, 4)));
        assert_eq!(first.len(), 1);
        assert!(first.iter().all(|edit| edit.span.end <= 4));
        assert!(edits(text, text, None).is_empty());
    }
}
