//! The table of fields: which a card may have, what they are called, and how each is read.
//!
//! The reader, the recopier, completion, hover and the manual all work from this one table.

mod band;
mod by_letter;
mod handbook;
pub mod meant;
mod others;
mod piece;

use super::kind::Kind;
use super::of::Of;

/// One field of a card.
#[derive(Debug, PartialEq)]
pub struct FieldSpec {
    /// The field's words in the one form.
    pub name: &'static str,
    /// Other words that directors use for it; `recopy` writes the name instead.
    pub also: &'static [&'static str],
    /// How its value is read.
    pub shape: Shape,
    /// What it says, in one sentence for the manual and for hover.
    pub says: &'static str,
    /// An example line's value. In a table, rows stand on lines of their own.
    pub example: &'static str,
}

/// How a field's value is read.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Shape {
    /// Text to the end of its paragraph, in which commas, `?` and parentheses mean nothing.
    Running,
    /// Items between commas; a deeper line is another item.
    List(Of),
    /// One value, which may change on the way at places in the piece.
    Value(Of),
    /// A table: each row a name and its facts; rows may also stand on the field's own line.
    Rows(RowsOf),
    /// Fields of its own, one to a deeper line.
    Block(&'static [FieldSpec]),
}

/// What the rows of a table are.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum RowsOf {
    /// Wind parts of a piece.
    Parts,
    /// Percussion parts of a piece.
    Percussion,
    /// Head counts of an ensemble.
    Players,
    /// Percussionists of an ensemble by seat or initials, and what they can do.
    Percussionists,
    /// Pieces of a program, in order.
    Program,
    /// Printed pages and what is on them.
    Pages,
    /// Movements, each with fields of its own below it.
    Movements,
    /// Rows of chairs.
    Seats,
}

/// The fields that a kind of card may have, in the order of the one form.
pub fn fields_of(kind: Kind) -> &'static [FieldSpec] {
    match kind {
        Kind::Handbook => handbook::FIELDS,
        Kind::Ensemble => band::FIELDS,
        Kind::Piece => piece::FIELDS,
        Kind::Concert => others::CONCERT,
        Kind::Criteria => others::CRITERIA,
        Kind::Bundle => others::BUNDLE,
        Kind::List => others::LIST,
        Kind::Skill => others::SKILL,
        Kind::Instrument => others::INSTRUMENT,
    }
}

/// The fields that may stand under one movement of a piece.
pub fn movement_fields() -> &'static [FieldSpec] {
    piece::FIELDS
}

/// The field that the first words of a line name, with the length of those words in bytes.
///
/// The longest name wins, so `key signature 2 flats` is a key signature and no key.
/// Capitals and the number of blanks between two words do not matter.
pub fn find<'t>(fields: &'t [FieldSpec], line: &str) -> Option<(&'t FieldSpec, usize)> {
    let mut found: Option<(&FieldSpec, usize)> = None;
    let mut take = |spec: &'t FieldSpec, name: &str| {
        if let Some(length) = starts_with_words(line, name)
            && found.is_none_or(|(_, longest)| length >= longest)
        {
            found = Some((spec, length));
        }
    };
    match by_letter::starting_like(fields, line) {
        Some(named) => named.iter().for_each(|(at, name)| {
            if let Some(spec) = fields.get(*at) {
                take(spec, name);
            }
        }),
        None => {
            for spec in fields {
                take(spec, spec.name);
                spec.also.iter().for_each(|name| take(spec, name));
            }
        }
    }
    let found = found?;
    let is_other = meant::NO_FIELDS
        .iter()
        .any(|words| starts_with_words(line, words).is_some_and(|length| length > found.1));
    (!is_other).then_some(found)
}

/// The length in bytes of `words` at the start of `line`, where they stand there as whole words.
#[inline]
pub fn starts_with_words(line: &str, words: &str) -> Option<usize> {
    // Most names are refused at their first byte.
    match super::scan::same_start(line, words) {
        true => length_of_words(line, words),
        false => None,
    }
}

fn length_of_words(line: &str, words: &str) -> Option<usize> {
    let rest = super::scan::behind(line, words)?;
    let ends = rest
        .chars()
        .next()
        .is_none_or(|c| !(c.is_alphanumeric() || c == '-' || c == '\''));
    ends.then_some(line.len() - rest.len())
}

/// A field by any of its names, for words that stand alone.
pub fn named<'t>(fields: &'t [FieldSpec], name: &str) -> Option<&'t FieldSpec> {
    fields
        .iter()
        .find(|spec| spec.name == name || spec.also.contains(&name))
}

/// The known field name nearest to what was written, where one is near.
pub fn nearest(fields: &'static [FieldSpec], written: &str) -> Option<&'static str> {
    let names = fields
        .iter()
        .flat_map(|spec| std::iter::once(spec.name).chain(spec.also.iter().copied()));
    super::nearest::nearest(written, names)
}

/// Lines whose items are the director's own words or names: they are kept as they are written, whatever they
/// are. With the lines of running text (see, notes, subject, learned) these are all places where every word
/// counts as understood.
pub const OWN_WORDS: [&str; 26] = [
    "stage",
    "style",
    "form",
    "tunes",
    "techniques",
    "features",
    "suits",
    "liked",
    "includes",
    "wanted",
    "by",
    "publisher",
    "place",
    "condition",
    "score",
    "rehearsed",
    "at",
    "from",
    "item",
    "also",
    "sticks",
    "asks",
    "teaches",
    "taught",
    "introduced",
    "after",
];

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_lines_of_own_words_are_those_that_the_table_reads_as_words() {
        fn words(fields: &'static [FieldSpec], found: &mut Vec<&'static str>) {
            for spec in fields {
                match spec.shape {
                    Shape::List(Of::Words | Of::People | Of::Skill)
                    | Shape::Value(Of::Words | Of::People | Of::Skill) => {
                        found.push(spec.name);
                    }
                    Shape::Block(inside) => words(inside, found),
                    _ => {}
                }
            }
        }
        let mut found = Vec::new();
        for kind in Kind::ALL {
            words(fields_of(kind), &mut found);
        }
        found.sort_unstable();
        found.dedup();
        // The name of a chart is told by a rule of its own where nobody knows it.
        found.retain(|name| *name != "follows");
        let mut listed = OWN_WORDS.to_vec();
        listed.sort_unstable();
        assert_eq!(found, listed);
    }
}
