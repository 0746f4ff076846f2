//! After a fix the value stands in its column again, where the line stood in the one form before.

use crate::notation::recopy::recopy;
use crate::text::{Edit, Span, apply, minimal};

/// The edits, with what they leave on each line laid out where the line was laid out before. Words are never
/// changed by it; where anything is in doubt the edits stay as they are.
pub(super) fn aligned(card: &str, edits: &[Edit]) -> Vec<Edit> {
    in_columns(card, edits).unwrap_or_else(|| edits.to_vec())
}

fn in_columns(card: &str, edits: &[Edit]) -> Option<Vec<Edit>> {
    let breaks = |text: &str| text.contains(['\n', '\r']);
    if edits
        .iter()
        .any(|edit| breaks(&edit.text) || breaks(edit.span.slice(card)))
    {
        return None;
    }
    let fixed = apply(card, edits).ok()?;
    let (was, is) = (recopy(card).text, recopy(&fixed).text);
    let (old, new): (Vec<&str>, Vec<&str>) = (card.lines().collect(), fixed.lines().collect());
    let (was, is): (Vec<&str>, Vec<&str>) = (was.lines().collect(), is.lines().collect());
    if old.len() != was.len() || new.len() != is.len() || old.len() != new.len() {
        return None;
    }
    let mut made = Vec::new();
    let mut start: u32 = 0;
    for (number, whole) in card.split_inclusive('\n').enumerate() {
        let (old, new, was, is) = (
            *old.get(number)?,
            *new.get(number)?,
            *was.get(number)?,
            *is.get(number)?,
        );
        let wanted = match old == was && unspaced(new) == unspaced(is) {
            true => is,
            false => new,
        };
        let here = minimal(old, wanted).into_iter();
        // A line that the fix does not touch is left alone.
        made.extend(
            here.filter(|_| old != new)
                .map(|edit| Edit::replace(edit.span.shift(i64::from(start)), edit.text)),
        );
        start = start.saturating_add(Span::whole(whole).end);
    }
    Some(made)
}

fn unspaced(words: &str) -> String {
    words.split_whitespace().collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_value_stays_in_its_column() {
        let table = [
            // The word gets shorter, and the value stands where it stood.
            (
                "  form            Bb major",
                "form",
                "tonal center",
                "  tonal center    Bb major",
            ),
            // A line that was typed freely stays as free.
            (
                "  form Bb major",
                "form",
                "tonal center",
                "  tonal center Bb major",
            ),
            ("  meter           4/3", "4/3", "4/4", "  meter           4/4"),
        ];
        for (line, word, instead, wanted) in table {
            let card = format!("piece \"X\"\n{line}\n");
            let at = card.find(word).unwrap_or(0) as u32;
            let edit = Edit::replace(Span::long(at, word.len() as u32), instead);
            let edits = aligned(&card, &[edit]);
            assert_eq!(
                apply(&card, &edits).as_deref(),
                Ok(format!("piece \"X\"\n{wanted}\n").as_str())
            );
        }
    }
}
