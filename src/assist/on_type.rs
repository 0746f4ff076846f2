//! What is put right while a line is written: a value goes into its column when its line is left, the new line
//! stands where a director goes on, and a field typed among the rows of a table leaves the table.

use crate::catalogue::CardFile;
use crate::notation::fields::{self, RowsOf, Shape};
use crate::notation::recopy::recopy;
use crate::notation::tree::{Field, LineKind, Tree};
use crate::notation::{Kind, Reading};
use crate::text::{Edit, Span, minimal};

/// What is put right when a line is left, when a blank ends a word, or when a name is quoted: `typed` is what was
/// typed last, and `offset` of the file is behind it.
pub fn typed(cards: &CardFile, offset: u32, typed: &str) -> Vec<Edit> {
    match typed {
        "\n" => line_left(cards, offset),
        " " => word_ended(cards, offset),
        "\"" => quoted(cards, offset),
        _ => Vec::new(),
    }
}

/// The edits after a line break that ends at `offset` of the file (the cursor stands on the new line).
pub fn line_left(cards: &CardFile, offset: u32) -> Vec<Edit> {
    let text = cards.text();
    let Some((start, above)) = line_start(&text, offset) else {
        return Vec::new();
    };
    let above = above
        .strip_suffix("\r\n")
        .or_else(|| above.strip_suffix(['\n', '\r']))
        .unwrap_or(above);
    if above.len() == start {
        return Vec::new();
    }
    let Some(before) = Before::of(cards, above) else {
        return Vec::new();
    };
    let Before { card, reading, .. } = &before;
    let Some((number, line)) = reading.tree.lines.iter().enumerate().next_back() else {
        return Vec::new();
    };
    // An empty line is no line of the card's yet when nothing stands behind it.
    let empty = usize::from(card.ends_with(['\n', '\r']));
    let mut edits: Vec<Edit> = Vec::new();
    let copied = recopy(card).text;
    let copied: Vec<&str> = copied.lines().collect();
    let moved = before.out_of_table(true).filter(|_| empty == 0);
    if let Some((edit, _)) = &moved {
        edits.push(edit.clone());
    } else if empty == 0
        && copied.len() == reading.tree.lines.len()
        && let Some(wanted) = copied.get(number)
        && matches!(line.kind, LineKind::Field | LineKind::Deeper | LineKind::Head)
    {
        let typed = line.body.slice(card);
        let wanted = match unspaced(wanted) == unspaced(typed) {
            true => Some((*wanted).to_owned()),
            false => in_column(reading, number, card),
        };
        let written = line.span.slice(card);
        let shift = i64::from(before.first).saturating_add(i64::from(line.span.start));
        let here = wanted.into_iter().flat_map(|wanted| minimal(written, &wanted));
        edits.extend(here.map(|edit| Edit::replace(edit.span.shift(shift), edit.text)));
    }
    if moved.is_none() {
        let late = before.left_behind();
        edits.retain(|edit| !late.iter().any(|other| other.span.touches(edit.span.start)));
        edits.extend(late);
        edits.sort_by_key(|edit| edit.span.start);
    }
    // The indent of the new line, when nothing stands on it yet.
    let rest = text.get(start..).unwrap_or("");
    let mut below = rest.split('\n').map(|line| line.trim_end_matches('\r'));
    let new = below.next().unwrap_or("");
    let wanted = match moved {
        Some((_, opens)) => Some(if opens { 4 } else { 2 }),
        None if reading.tree.head.is_some() => {
            indent_after(reading, number, empty, below.find(|line| !line.trim().is_empty()))
        }
        None => None,
    };
    if let Some(indent) = wanted
        && new.trim().is_empty()
        && new.len() != indent
    {
        let from = u32::try_from(start).unwrap_or(u32::MAX);
        let old = Span::long(from, Span::whole(new).end);
        edits.push(Edit::replace(old, " ".repeat(indent)));
    }
    edits
}

/// The edits after a blank that ends at `offset` of the file: a line at the rows' depth whose first word turns
/// out to be a field of the card goes to the fields' depth.
pub fn word_ended(cards: &CardFile, offset: u32) -> Vec<Edit> {
    let text = cards.text();
    let at = crate::text::floor(&text, offset as usize);
    let Some(above) = text.get(..at).filter(|above| above.ends_with([' ', '\t'])) else {
        return Vec::new();
    };
    let Some(before) = Before::of(cards, above) else {
        return Vec::new();
    };
    match before.out_of_table(false) {
        Some((edit, _)) => vec![edit],
        None => before.left_behind(),
    }
}

/// A field whose words the one form has otherwise: its value goes into the column, every word as it was typed.
fn in_column(reading: &Reading, number: usize, card: &str) -> Option<String> {
    let field = reading.tree.fields.iter().find(|field| field.line == number)?;
    let line = reading.tree.lines.get(number)?;
    field
        .spec
        .filter(|_| !field.word.is_empty() && !field.value.is_empty() && !field.at_margin)?;
    let blanks = Span::new(line.span.start, line.body.start).slice(card);
    let value = Span::new(field.word.end, line.body.end).slice(card).trim_start();
    Some(format!("{blanks}{:<15} {value}", field.word.slice(card)))
}

/// Words alone: what was typed is never written otherwise while typing, only moved into its column.
fn unspaced(words: &str) -> String {
    words.split_whitespace().collect()
}

/// The edits after a quotation mark that ends at `offset` of the file: a card's head with blanks before it goes to
/// the margin, where cards begin.
pub fn quoted(cards: &CardFile, offset: u32) -> Vec<Edit> {
    let text = cards.text();
    let at = crate::text::floor(&text, offset as usize);
    let Some(above) = text.get(..at) else {
        return Vec::new();
    };
    Before::of(cards, above)
        .and_then(|before| before.indented_head())
        .into_iter()
        .collect()
}

/// Where the line of `offset` begins, and the text before it.
fn line_start(text: &str, offset: u32) -> Option<(usize, &str)> {
    let at = crate::text::floor(text, offset as usize);
    let start = text
        .get(..at)
        .and_then(|before| before.rfind(['\n', '\r']))
        .map_or(0, |at| at + 1);
    Some((start, text.get(..start)?))
}

/// The card up to a place; what stands below it is not looked at.
struct Before<'t> {
    card: &'t str,
    reading: Reading,
    /// Where the card begins in the file.
    first: u32,
}

impl<'t> Before<'t> {
    fn of(cards: &CardFile, above: &'t str) -> Option<Before<'t>> {
        let (_, inside) = cards.entry_at(Span::whole(above).end.checked_sub(1)?)?;
        let first = Span::whole(above).end.checked_sub(inside.saturating_add(1))?;
        let card = above.get(first as usize..)?;
        Some(Before {
            card,
            reading: crate::notation::read(card),
            first,
        })
    }

    /// What a fast typist left behind: an editor drops an answer that comes after the next key, so a table's word
    /// among the rows of another table may still stand there. It leaves that table now, and its rows follow.
    fn left_behind(&self) -> Vec<Edit> {
        let tree = &self.reading.tree;
        let Some(kind) = tree.head.as_ref().map(|head| head.kind) else {
            return Vec::new();
        };
        let last = tree.lines.len().saturating_sub(1);
        // Only in the table that is being written; what stands farther up is not touched.
        let mut tables = tree.fields.iter().filter(|field| !field.among_rows);
        let first = tables.next_back().map_or(last, |field| field.line);
        let found = (first..last).rev().find_map(|number| {
            let (depth, opens) = field_among_rows(tree, kind, self.card, number, true)?;
            Some((number, depth)).filter(|_| opens)
        });
        let Some((number, depth)) = found else {
            return Vec::new();
        };
        let indent = tree.lines.get(number).map_or(0, |line| line.indent);
        let step = indent.saturating_sub(depth);
        let lines = tree.lines.iter().enumerate().skip(number);
        lines
            .filter(|(at, line)| *at == number || line.kind == LineKind::Deeper && line.indent > indent)
            .map(|(_, line)| {
                let blanks = Span::new(line.span.start, line.body.start).shift(i64::from(self.first));
                Edit::replace(blanks, " ".repeat(line.indent.saturating_sub(step) as usize))
            })
            .collect()
    }

    /// The edit that takes the last line to the margin, when it begins a card: a kind and a name in quotation
    /// marks, or their opening one. In running text nothing begins.
    fn indented_head(&self) -> Option<Edit> {
        let tree = &self.reading.tree;
        let number = tree.lines.len().checked_sub(1)?;
        let line = tree.lines.get(number).filter(|line| line.indent > 0)?;
        let (word, name) = line.body.slice(self.card).split_once([' ', '\t'])?;
        Kind::of_word(word).filter(|kind| kind.is_named() && kind.word() == word)?;
        let name = name.trim_start();
        let begins = name.starts_with(['"', '“']) && name.ends_with(['"', '“', '”']);
        let last = tree.fields.iter().rfind(|field| field.line < number);
        let runs = line.kind == LineKind::Deeper
            && last
                .and_then(|field| field.spec)
                .is_some_and(|spec| spec.shape == Shape::Running);
        let blanks = Span::new(line.span.start, line.body.start).shift(i64::from(self.first));
        (begins && !runs).then(|| Edit::replace(blanks, ""))
    }

    /// The edit that takes the last line out of its table, and whether the line opens a table or block itself.
    /// None unless the line's first words can be nothing but a field of the card.
    fn out_of_table(&self, left: bool) -> Option<(Edit, bool)> {
        let tree = &self.reading.tree;
        let kind = tree.head.as_ref()?.kind;
        let number = tree.lines.len().checked_sub(1)?;
        let (indent, opens) = field_among_rows(tree, kind, self.card, number, left)?;
        let line = tree.lines.get(number)?;
        let blanks = Span::new(line.span.start, line.body.start).shift(i64::from(self.first));
        Some((Edit::replace(blanks, " ".repeat(indent as usize)), opens))
    }
}

/// Whether a line at the depth of a table's rows is a field of the card: the depth of the card's fields, and
/// whether a table or block is opened by it. `ended` says that the line is finished; otherwise a blank must
/// stand behind the field's word.
pub(super) fn field_among_rows(
    tree: &Tree,
    kind: Kind,
    text: &str,
    number: usize,
    ended: bool,
) -> Option<(u32, bool)> {
    let line = tree
        .lines
        .get(number)
        .filter(|line| line.kind == LineKind::Deeper)?;
    let parent = tree
        .fields
        .iter()
        .rfind(|field| field.line < number && !field.at_margin && !field.among_rows)?;
    let slipped = |field: &Field| field.among_rows && field.line == number;
    let among = tree.fields.iter().any(slipped) || parent.rows.iter().any(|row| row.line == number);
    among.then_some(())?;
    let words = line.body.slice(text);
    let (spec, length) = fields::find(fields::fields_of(kind), words)?;
    let after = line.body.start.saturating_add(u32::try_from(length).ok()?);
    let blank = text
        .get(after as usize..)
        .is_some_and(|rest| rest.starts_with([' ', '\t']));
    if !(blank || ended && words.len() == length) {
        return None;
    }
    let is_row = match parent.spec?.shape {
        // A title may begin with any word; only a small letter tells it from a field.
        Shape::Rows(RowsOf::Program | RowsOf::Movements) => !words.starts_with(char::is_lowercase),
        // Printed pages and rows of chairs are called by whole sections.
        Shape::Rows(RowsOf::Pages | RowsOf::Seats) => matches!(spec.shape, Shape::Rows(_)),
        Shape::Rows(_) => false,
        Shape::Block(inside) => fields::find(inside, words).is_some(),
        // What hangs below a list or running text goes on with it.
        Shape::Running | Shape::List(_) | Shape::Value(_) => true,
    };
    let depth = tree.lines.get(parent.line)?.indent;
    let opens = matches!(spec.shape, Shape::Rows(_) | Shape::Block(_)) && words.len() == length;
    (!is_row && depth > 0 && depth < line.indent).then_some((depth, opens))
}

/// How far the one form indents a line below this one: fields two blanks, what hangs below them two more. Each
/// empty line leaves one step behind, but never goes past what `below` still belongs to the card.
fn indent_after(reading: &Reading, number: usize, empty: usize, below: Option<&str>) -> Option<usize> {
    let lines = reading.tree.lines.get(..=number)?;
    let written = lines.iter().rposition(|line| line.kind != LineKind::Blank)?;
    let blanks = number.saturating_sub(written).saturating_add(empty);
    let line = lines.get(written)?;
    let full: usize = match line.kind {
        LineKind::Head => 2,
        LineKind::Field => {
            let field = reading.tree.fields.iter().find(|field| field.line == written)?;
            let opens = matches!(
                field.spec.map(|spec| spec.shape),
                Some(Shape::Rows(_) | Shape::Block(_))
            );
            if opens && field.value.is_empty() { 4 } else { 2 }
        }
        LineKind::Deeper => 4,
        LineKind::Blank | LineKind::Remark | LineKind::Stray => return None,
    };
    let indent = full.saturating_sub(blanks.saturating_mul(2));
    let least = below.map_or(0, |line| line.len() - line.trim_start_matches(' ').len());
    Some(if blanks == 0 {
        full
    } else {
        indent.max(least.min(full))
    })
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
                "piece \"X\"\n  tonal center Bb major\n|",
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
                "piece \"X\"\r\n  measures 72\r\n|",
                "piece \"X\"\r\n  measures        72\r\n  ",
            ),
            // The director's own words stay.
            (
                "piece \"X\"\n  key Bb\n  |",
                "piece \"X\"\n  key             Bb\n  ",
            ),
            (
                "concert \"X\"\n  on 2026-12-10, 7 pm\n  |",
                "concert \"X\"\n  on              2026-12-10, 7 pm\n  ",
            ),
            ("piece \"X\"\n  zzz yyy\n  |", "piece \"X\"\n  zzz yyy\n  "),
            // An empty row leaves the table, an empty line the card.
            (
                "piece \"X\"\n  parts\n    flute\n\n    |",
                "piece \"X\"\n  parts\n    flute\n\n  ",
            ),
            (
                "piece \"X\"\n  parts\n    flute\n\n\n  |",
                "piece \"X\"\n  parts\n    flute\n\n\n",
            ),
            (
                "piece \"X\"\n  meter           4/4\n\n  |",
                "piece \"X\"\n  meter           4/4\n\n",
            ),
            // Where the table goes on below, the line stays in it.
            (
                "piece \"X\"\n  parts\n    flute\n\n|\n    oboe\n",
                "piece \"X\"\n  parts\n    flute\n\n    \n    oboe\n",
            ),
            // A field among the rows leaves the table, and so does what comes after it.
            (
                "ensemble \"X\"\n  percussionists\n    P1              snare\n    owns\n    |",
                "ensemble \"X\"\n  percussionists\n    P1              snare\n  owns\n  ",
            ),
            (
                "piece \"X\"\n  parts\n    flute\n    percussion\n    |",
                "piece \"X\"\n  parts\n    flute\n  percussion\n    ",
            ),
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

    #[test]
    fn a_fields_word_among_rows_leaves_the_table() {
        let table = [
            ("piece \"X\"\n  percussion\n    snare\n    asks |", Some(2)),
            ("piece \"X\"\n  percussion\n    snare\n    asks|", None),
            ("piece \"X\"\n  percussion\n    grade 2 |", Some(2)),
            ("piece \"X\"\n  percussion\n    key signature |", Some(2)),
            (
                "piece \"X\"\n    percussion\n        snare\n        notes |",
                Some(4),
            ),
            ("piece \"X\"\n  percussion\n    snare |", None),
            ("piece \"X\"\n  pages\n    percussion 1 |", None),
            ("piece \"X\"\n  pages\n    asks |", Some(2)),
            ("piece \"X\"\n  notes           One.\n    grade |", None),
            ("piece \"X\"\n  library\n    price |", None),
            ("piece \"X\"\n  library\n    performed |", Some(2)),
            ("piece \"X\"\n  parts\n    flute\n      asks |", None),
            ("concert \"X\"\n  program\n    On |", None),
            ("concert \"X\"\n  program\n    length |", Some(2)),
            ("ensemble \"X\"\n  players\n    flute 3\n    owns |", Some(2)),
            ("asks |", None),
            ("|", None),
        ];
        for (marked, wanted) in table {
            let at = marked.find('|').unwrap_or(0);
            let text = marked.replacen('|', "", 1);
            let cards = CardFile::read("a.levare", &text);
            let depth = word_ended(&cards, at as u32).first().map(|edit| edit.text.len());
            assert_eq!(depth, wanted, "{marked:?}");
        }
    }

    #[test]
    fn the_editor_that_indents_by_itself_knows_every_table() {
        let rules = include_str!("../../editors/vscode/language-configuration.json");
        let indents = rules.lines().find(|line| line.contains("increaseIndentPattern"));
        let list = indents
            .and_then(|line| line.rsplit("\\\\s+(?:").next())
            .unwrap_or("");
        let list = list.split(')').next().unwrap_or("").replace("\\\\.?", "");
        let known: Vec<&str> = list.split('|').collect();
        for kind in Kind::ALL {
            for spec in fields::fields_of(kind) {
                if !matches!(spec.shape, Shape::Rows(_) | Shape::Block(_)) {
                    continue;
                }
                for word in std::iter::once(&spec.name).chain(spec.also) {
                    assert!(known.contains(&word.trim_end_matches('.')), "{word}: {known:?}");
                }
            }
        }
    }

    #[test]
    fn a_head_goes_to_the_margin() {
        let table = [
            ("piece \"X\"\n  meter 4/4\n  piece \"|", true),
            ("piece \"X\"\n  percussion\n    snare\n    piece \"Y\"|", true),
            ("piece \"X\"\n  notes One.\n    piece \"|", false),
            ("concert \"X\"\n  program\n    \"|", false),
            ("piece \"X\"\n  by piece \"|", false),
            ("piece \"|", false),
        ];
        for (marked, moves) in table {
            let at = marked.find('|').unwrap_or(0);
            let text = marked.replacen('|', "", 1);
            let cards = CardFile::read("a.levare", &text);
            let edits = quoted(&cards, at as u32);
            assert_eq!(!edits.is_empty(), moves, "{marked:?}: {edits:?}");
            let left = apply(&text, &edits).unwrap_or_default();
            assert_eq!(
                left.lines()
                    .last()
                    .is_some_and(|line| line.starts_with("piece \"")),
                moves || text.lines().count() == 1
            );
        }
    }

    #[test]
    fn a_table_left_behind_follows_later() {
        let text = "piece \"X\"\n  parts\n    flute\n    percussion\n      bells \n";
        let wanted = "piece \"X\"\n  parts\n    flute\n  percussion\n    bells \n";
        let cards = CardFile::read("a.levare", text);
        let edits = word_ended(&cards, text.len() as u32 - 1);
        assert_eq!(apply(text, &edits).as_deref(), Ok(wanted));
        // Nothing is moved where nothing was left.
        let cards = CardFile::read("a.levare", wanted);
        assert_eq!(word_ended(&cards, wanted.len() as u32 - 1), []);
        let left = "piece \"X\"\n  parts\n    flute\n    percussion\n      bells 5-20\n      ";
        let cards = CardFile::read("a.levare", left);
        let edits = line_left(&cards, left.len() as u32);
        let wanted = "piece \"X\"\n  parts\n    flute\n  percussion\n    bells 5-20\n    ";
        assert_eq!(apply(left, &edits).as_deref(), Ok(wanted));
    }
}
