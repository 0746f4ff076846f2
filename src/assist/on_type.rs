//! What is put right when a line is left: its value goes into its column, and the new line is indented.

use crate::catalogue::CardFile;
use crate::notation::fields::Shape;
use crate::notation::recopy::recopy;
use crate::notation::tree::LineKind;
use crate::text::{Edit, Span, minimal};

/// The edits after a line break that ends at `offset` of the file (the cursor stands on the new line).
pub fn line_left(cards: &CardFile, offset: u32) -> Vec<Edit> {
    let text = cards.text();
    let at = crate::text::floor(&text, offset as usize);
    let start = text
        .get(..at)
        .and_then(|before| before.rfind(['\n', '\r']))
        .map_or(0, |at| at + 1);
    let Some(above) = text.get(..start) else {
        return Vec::new();
    };
    let above = above
        .strip_suffix("\r\n")
        .or_else(|| above.strip_suffix(['\n', '\r']))
        .unwrap_or(above);
    if above.len() == start {
        return Vec::new();
    }
    let Some((index, inside)) = Span::whole(above)
        .end
        .checked_sub(1)
        .and_then(|last| cards.entry_at(last))
    else {
        return Vec::new();
    };
    // Only the card up to the line that was left; what stands below it is not looked at.
    let length = inside.saturating_add(1);
    let Some(entry) = cards.entries.get(index) else {
        return Vec::new();
    };
    let card = Span::new(0, length).slice(&entry.text);
    let first = Span::whole(above).end.saturating_sub(length);
    let reading = crate::notation::read(card);
    let Some((number, line)) = reading.tree.lines.iter().enumerate().next_back() else {
        return Vec::new();
    };
    let mut edits: Vec<Edit> = Vec::new();
    let copied = recopy(card).text;
    let copied: Vec<&str> = copied.lines().collect();
    if copied.len() == reading.tree.lines.len()
        && let Some(wanted) = copied.get(number)
        && matches!(line.kind, LineKind::Field | LineKind::Deeper | LineKind::Head)
    {
        let written = line.span.slice(card);
        let shift = i64::from(first).saturating_add(i64::from(line.span.start));
        let here = minimal(written, wanted).into_iter();
        edits.extend(here.map(|edit| Edit::replace(edit.span.shift(shift), edit.text)));
    }
    // The indent of the new line, when nothing stands on it yet.
    let rest = text.get(start..).unwrap_or("");
    let new = rest.split(['\n', '\r']).next().unwrap_or("");
    let indent = if reading.tree.head.is_some() {
        indent_after(&reading, number)
    } else {
        None
    };
    if let Some(indent) = indent
        && new.trim().is_empty()
        && new.len() != indent
    {
        let from = u32::try_from(start).unwrap_or(u32::MAX);
        let old = Span::long(from, Span::whole(new).end);
        edits.push(Edit::replace(old, " ".repeat(indent)));
    }
    edits
}

/// How far the one form indents a line below this one: fields two blanks, what hangs below them two more.
fn indent_after(reading: &crate::notation::Reading, number: usize) -> Option<usize> {
    let line = reading.tree.lines.get(number)?;
    match line.kind {
        LineKind::Head => Some(2),
        LineKind::Field => {
            let field = reading.tree.fields.iter().find(|field| field.line == number)?;
            let opens = matches!(
                field.spec.map(|spec| spec.shape),
                Some(Shape::Rows(_) | Shape::Block(_))
            );
            Some(if opens && field.value.is_empty() { 4 } else { 2 })
        }
        LineKind::Deeper => Some(4),
        // Whoever leaves a blank line behind is done with the card.
        LineKind::Blank => Some(0),
        LineKind::Remark | LineKind::Stray => None,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::text::apply;

    #[test]
    fn a_line_that_is_left_is_put_right() {
        // The bar marks the cursor just behind the line break.
        let table = [
            ("piece \"X\"\n|", "piece \"X\"\n  "),
            (
                "piece \"X\"\n  key Bb major\n|",
                "piece \"X\"\n  tonal center    Bb major\n  ",
            ),
            ("piece \"X\"\n  parts\n  |", "piece \"X\"\n  parts\n    "),
            (
                "piece \"X\"\n  parts\n    flute D5-C6\n    |",
                "piece \"X\"\n  parts\n    flute           D5-C6\n    ",
            ),
            (
                "piece \"X\"\n  meter 4/4\n|\n  tempo 76\n",
                "piece \"X\"\n  meter           4/4\n  \n  tempo 76\n",
            ),
            (
                "piece \"X\"\r\n  bars 72\r\n|",
                "piece \"X\"\r\n  measures        72\r\n  ",
            ),
            ("piece \"X\"\n  zzz yyy\n  |", "piece \"X\"\n  zzz yyy\n  "),
            ("\n|", "\n"),
            ("|", ""),
        ];
        for (marked, wanted) in table {
            let at = marked.find('|').unwrap_or(0);
            let text = marked.replacen('|', "", 1);
            let cards = CardFile::read("a.levare", &text);
            let edits = line_left(&cards, at as u32);
            assert_eq!(
                apply(&text, &edits).as_deref(),
                Ok(wanted),
                "{marked:?}: {edits:?}"
            );
        }
    }
}
