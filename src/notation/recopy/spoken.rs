//! Remarks that stand without parentheses, put into them: `grade 2, they love it` is `grade 2 (they love it)`.

use super::same;
use crate::notation::read::{Body, Reading, read};
use crate::notation::scan;
use crate::notation::spoken;
use crate::text::Span;

/// The card with parentheses around what is only remarked; none where there is nothing to put into them, or where
/// the card would say something else.
pub fn in_parentheses(text: &str, reading: &Reading) -> Option<String> {
    if reading.asides.is_empty() {
        return None;
    }
    let mut out = String::with_capacity(text.len() + 4 * reading.asides.len());
    let mut at = 0;
    for line in &reading.tree.lines {
        let here: Vec<_> = reading
            .asides
            .iter()
            .filter(|aside| line.body.encloses(**aside))
            .collect();
        // A parenthesis that nobody closed would swallow what is put behind it.
        let said = line.body.slice(text);
        if !here.is_empty() && said.matches('(').count() != said.matches(')').count() {
            return None;
        }
        let mut behind = String::new();
        for aside in here {
            let words = aside.slice(text).trim();
            // Parentheses of its own would close too early.
            if words.contains(['(', ')']) {
                return None;
            }
            let before = text.get(at as usize..aside.start as usize)?;
            let kept = before.trim_end_matches(|c: char| {
                scan::is_blank(c) || matches!(c, ',' | ';' | '-' | '–' | '—' | '.' | '!')
            });
            out.push_str(kept);
            // What stands before a condition is an open question.
            if spoken::is_condition(words) && !kept.ends_with('?') {
                out.push('?');
            }
            let remark = format!(" ({words})");
            // A row says all that it says before its remarks.
            match is_row(reading, *aside) {
                true => behind.push_str(&remark),
                false => out.push_str(&remark),
            }
            at = aside.end;
        }
        if !behind.is_empty() {
            out.push_str(text.get(at as usize..line.body.end as usize)?.trim_end());
            out.push_str(&behind);
            at = line.body.end;
        }
    }
    out.push_str(text.get(at as usize..)?);
    let after = read(&out);
    let same = same::but_for_remarks((text, reading), (&out, &after));
    (same && after.asides.is_empty()).then_some(out)
}

/// Whether a place is in a table.
fn is_row(reading: &Reading, place: Span) -> bool {
    let mut fields = reading.fields.iter();
    fields.any(|field| matches!(field.body, Body::Rows(_)) && field.whole.encloses(place))
}

#[cfg(test)]
mod tests {
    use super::super::recopy;

    #[test]
    fn talk_gets_its_parentheses() {
        for (line, form) in [
            ("grade 2, they love it", "grade 2 (they love it)"),
            (
                "lasts 3:10 because the trio repeats",
                "lasts 3:10 (because the trio repeats)",
            ),
            ("grade .5 lol", "grade 0.5 (lol)"),
            ("grade 2, they say 3", "grade 2, they say 3"),
            (
                "roadmap cut 70-85 unless theyre good",
                "roadmap cut 70-85? (unless theyre good)",
            ),
        ] {
            let card = format!("piece \"Air\"\n  {line}\n");
            let new = recopy(&card).text;
            let words = new.lines().nth(1).unwrap_or("").split_whitespace();
            assert_eq!(words.collect::<Vec<_>>().join(" "), form);
            assert_eq!(recopy(&new).text, new, "{line} again");
        }
        let card = "piece \"Air\"\n  percussion\n    snare  1-40, so watch it, flams 33\n";
        let new = recopy(card).text;
        assert!(
            new.ends_with("1-40, flams 33-33  (so watch it)\n") || new.ends_with("(so watch it)\n"),
            "{new}"
        );
    }
}
