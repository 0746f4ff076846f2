//! Laying a file out in the one form, as few small edits as will do.

use crate::text::{Edit, Span, minimal};

/// The edits that turn a file's text into what `recopied` says; only those that touch `within`, when it
/// is given. Line endings are left as the file has them.
pub fn edits(text: &str, recopied: &str, within: Option<Span>) -> Vec<Edit> {
    minimal(text, recopied)
        .into_iter()
        .flat_map(|edit| line_by_line(text, edit))
        .filter(|edit| {
            within.is_none_or(|within| {
                // An edit that only inserts at the edge of the stretch still belongs to it.
                within.touches(edit.span.start) && within.touches(edit.span.end) || within.overlaps(edit.span)
            })
        })
        .collect()
}

/// An edit of several lines that keeps their number, as one edit for each line that changes. So a stretch
/// can be laid out without its neighbors.
fn line_by_line(text: &str, edit: Edit) -> Vec<Edit> {
    let old: Vec<&str> = edit.span.slice(text).split_inclusive('\n').collect();
    let new: Vec<&str> = edit.text.split_inclusive('\n').collect();
    if old.len() != new.len() {
        return vec![edit];
    }
    let mut start = edit.span.start;
    let mut edits = Vec::new();
    for (old, new) in old.into_iter().zip(new) {
        let here = minimal(old, new).into_iter();
        edits.extend(here.map(|edit| Edit::replace(edit.span.shift(i64::from(start)), edit.text)));
        start = start.saturating_add(Span::whole(old).end);
    }
    edits
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
