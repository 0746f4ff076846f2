//! A line that belongs somewhere else: a field among rows, a row among fields, a card's first line with blanks.

use crate::findings::card::Card;
use crate::findings::finding::{Repair, Saying};
use crate::findings::rule::{Notice, Noticed};
use crate::notation::starts_indented;
use crate::notation::tree::{Field, Row};
use crate::rule;
use crate::text::{Edit, Span};

use super::walk::{ending_of, indent_of};

rule! {
    /// A line in another line's column: `asks` or `owns` among the rows of a table, an instrument
    /// beside its table instead of under it, a card's first line with spaces in front. Levare reads it as what it
    /// is.
    ///
    /// # Why it matters
    ///
    /// The next person who reads the card takes the line for what its column says: an `owns` among the
    /// percussionists looks like a player, and a drum beside `percussion` like something else altogether.
    ///
    /// # Draws it
    ///
    /// ```levare
    /// piece "Jump Rope Rag"
    ///   percussion
    ///     snare           1-40
    ///     grade           2 ours
    ///     ^^^^^^^^^^^^^^^^^^^^^^
    ///     triangle        9-16
    /// ```
    ///
    /// ```levare
    /// piece "Jump Rope Rag"
    ///   percussion
    ///   snare           1-40
    ///   ^^^^^^^^^^^^^^^^^^^^
    /// ```
    ///
    /// # Does not
    ///
    /// ```levare
    /// piece "Jump Rope Rag"
    ///   percussion
    ///     snare           1-40
    ///       asks            flams
    ///   grade           2 ours
    /// ```
    ///
    /// # What to do
    ///
    /// Move the line to its own column.
    LineInTheWrongColumn: "line in the wrong column", Notation, Warning, reads Card, looks at Any
}

/// What stands where.
pub enum Slipped {
    /// A field among the rows of a table: the field's words, the table's name, and the table's last line.
    FieldAmongRows(String, String, usize),
    /// A row among the card's fields: the table's name.
    RowAmongFields(String),
    /// A card's first line with spaces in front.
    Head,
}

impl Notice for LineInTheWrongColumn {
    type What = Slipped;

    fn notice(card: &Card<'_>) -> Vec<Noticed<Slipped>> {
        let tree = &card.reading.tree;
        let mut found = Vec::new();
        let unknown = tree.fields.iter().filter(|field| field.spec.is_none());
        let lines = unknown.filter_map(|field| tree.lines.get(field.line));
        let heads = lines.filter(|line| line.indent > 0 && starts_indented(card.words(line.body)));
        found.extend(heads.map(|line| Noticed::new(line.body, Slipped::Head)));
        for field in &tree.fields {
            // Where its table has no word, there is nothing to stand under.
            let beside = |row: &&Row| row.among_fields && !field.word.is_empty();
            for row in field.rows.iter().filter(beside) {
                let table = name(card, field);
                found.push(Noticed::new(row.body, Slipped::RowAmongFields(table)));
            }
            if !field.among_rows {
                continue;
            }
            let table = tree
                .fields
                .iter()
                .rfind(|other| !other.among_rows && other.line < field.line);
            let (Some(table), Some(line)) = (table, tree.lines.get(field.line)) else {
                continue;
            };
            // Which parts make it complete may stand among them.
            if card.words(field.word).eq_ignore_ascii_case("complete with") && name(card, table) == "parts" {
                continue;
            }
            let last = deepest(&table.rows)
                .max(table.line)
                .max(deepest(&field.rows))
                .max(field.line);
            let what = Slipped::FieldAmongRows(card.words(field.word).to_owned(), name(card, table), last);
            found.push(Noticed::new(line.body, what));
        }
        found
    }

    fn say(what: &Slipped, _card: &Card<'_>) -> Saying {
        let (says, why, todo) = match what {
            Slipped::FieldAmongRows(field, table, _) => (
                format!("The line \"{field}\" is among the rows of {table}."),
                format!("Read as it looks, {field} would be one more of the {table}."),
                format!("Move it out, to the column of {table}."),
            ),
            Slipped::RowAmongFields(table) => (
                format!("This line belongs under {table} and is beside it."),
                format!("Whoever reads the card looks for it under {table}."),
                "Put two more spaces in front of it.".to_owned(),
            ),
            Slipped::Head => (
                "This line starts a card and has spaces in front of it.".to_owned(),
                "Cards begin at the margin; until this one does, the lines below it belong to no piece."
                    .to_owned(),
                "Take the spaces away.".to_owned(),
            ),
        };
        Saying {
            place: String::new(),
            says,
            why,
            todo,
        }
    }

    fn repairs(noticed: &Noticed<Slipped>, card: &Card<'_>) -> Vec<Repair> {
        let tree = &card.reading.tree;
        let text = card.text();
        let here = tree
            .lines
            .iter()
            .find(|line| line.body.start == noticed.span.start);
        let Some(line) = here else { return Vec::new() };
        let blanks = Span::new(line.span.start, line.body.start);
        match &noticed.what {
            Slipped::Head => vec![Repair::safe(
                "Take the spaces away",
                vec![Edit::replace(blanks, "")],
            )],
            Slipped::RowAmongFields(_) => vec![Repair::safe(
                "Put it under its table",
                vec![Edit::insert(line.body.start, indent_of(card))],
            )],
            Slipped::FieldAmongRows(_, _, last) => {
                let Some(last) = tree.lines.get(*last) else {
                    return Vec::new();
                };
                let title = "Move it out of the table";
                if last.span == line.span {
                    return vec![Repair::safe(title, vec![Edit::replace(blanks, indent_of(card))])];
                }
                let ending = match last.span.slice(text).ends_with(['\n', '\r']) {
                    true => "",
                    false => ending_of(text),
                };
                let moved = format!(
                    "{ending}{}{}{}",
                    indent_of(card),
                    line.body.slice(text),
                    if ending.is_empty() { ending_of(text) } else { "" }
                );
                vec![Repair::safe(
                    title,
                    vec![Edit::replace(line.span, ""), Edit::insert(last.span.end, moved)],
                )]
            }
        }
    }
}

fn name(card: &Card<'_>, field: &Field) -> String {
    field
        .spec
        .map_or_else(|| card.words(field.word).to_owned(), |spec| spec.name.to_owned())
}

/// The last line below these rows; 0 where there is none.
fn deepest(rows: &[Row]) -> usize {
    let mut last = 0;
    let mut open: Vec<&Row> = rows.iter().collect();
    while let Some(row) = open.pop() {
        last = last.max(row.line);
        open.extend(row.rows.iter());
    }
    last
}
