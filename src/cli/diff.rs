//! What changes between two texts, line by line.

use similar::{ChangeTag, TextDiff};

use super::color::Paint;
use super::wrap::plain;

/// Lines shown around a change.
const AROUND: usize = 2;

/// The changed lines of a file with a few around them: `was` before what goes, `now` before what comes.
/// Nothing when the texts are the same.
pub fn show(name: &str, before: &str, after: &str, paint: Paint) -> String {
    let mut shown = String::new();
    let diff = TextDiff::from_lines(before, after);
    for group in diff.grouped_ops(AROUND) {
        let first = group.first().map_or(0, |op| op.old_range().start);
        if !shown.is_empty() {
            shown.push('\n');
        }
        let head = format!("{}, line {}", plain(name), first.saturating_add(1));
        shown.push_str(&paint.bold(&head));
        shown.push('\n');
        for op in &group {
            for change in diff.iter_changes(op) {
                let line = plain(change.value().trim_end_matches(['\r', '\n']));
                let line = match change.tag() {
                    ChangeTag::Delete => paint.old(&format!("was  {line}")),
                    ChangeTag::Insert => paint.new_words(&format!("now  {line}")),
                    ChangeTag::Equal => format!("     {line}"),
                };
                shown.push_str(line.trim_end());
                shown.push('\n');
            }
        }
    }
    shown
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn changed_lines_and_those_around_them() {
        let before = "a\nb\nc\nd\ne\nf\ng\nh\ni\nj\n";
        let after = "a\nb\nc\nD\ne\nf\ng\nh\ni\nj\nk\n";
        let shown = show("x.levare", before, after, Paint::new(false));
        let wanted = "x.levare, line 2\n     b\n     c\nwas  d\nnow  D\n     e\n     f\n\nx.levare, line 9\n     i\n     j\nnow  k\n";
        assert_eq!(shown, wanted);
        assert_eq!(show("x.levare", before, before, Paint::new(false)), "");
    }
}
