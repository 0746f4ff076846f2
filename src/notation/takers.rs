//! Which fields would understand a line that does not begin with a field's word: `4/22/27 7p` on a concert says when
//! it is.

use super::fields::{self, FieldSpec, RowsOf, Shape};
use super::kind::Kind;
use super::names;
use super::of::Of;
use super::read::{Body, FieldReading, read};
use super::recopy;
use super::values::absent::is_seat;
use crate::music::Instruments;

/// No line that somebody means for one field is longer (our own figure).
const LONGEST: usize = 80;

/// The fields of a card that would understand every word of a line; fields that take any words do not count.
pub fn takers(kind: Kind, line: &str) -> Vec<&'static str> {
    if line.len() > LONGEST || !line.contains(|c: char| c.is_ascii_digit()) {
        return Vec::new();
    }
    let takes = |spec: &&FieldSpec| may_take(spec, line) && understands(kind, spec, line);
    fields::fields_of(kind)
        .iter()
        .filter(takes)
        .map(|spec| spec.name)
        .collect()
}

/// Whether a field takes some words and not others.
fn may_take(spec: &FieldSpec, line: &str) -> bool {
    match spec.shape {
        // Lists of names take any words; who plays and where is looked up elsewhere.
        Shape::Value(of) | Shape::List(of) => matches!(
            of,
            Of::Moment
                | Of::ConcertLength
                | Of::Lasts
                | Of::Meets
                | Of::Season
                | Of::Meter
                | Of::Tempo
                | Of::Price
                | Of::Key
                | Of::Signature
                | Of::Measures
                | Of::Road
        ),
        Shape::Rows(of @ (RowsOf::Parts | RowsOf::Percussion | RowsOf::Players)) => {
            let counted = line.trim_start_matches(|c: char| c.is_ascii_digit() || c == ' ');
            names::known_prefix(counted).is_some_and(|end| {
                let name = counted.get(..end).unwrap_or("");
                let found = Instruments::standard().find(name).exact();
                let beaten = found.is_some_and(|instrument| instrument.family.is_percussion());
                of == RowsOf::Players || beaten == (of == RowsOf::Percussion)
            })
        }
        Shape::Rows(RowsOf::Percussionists) => line.split([' ', '-']).next().is_some_and(is_seat),
        _ => false,
    }
}

fn understands(kind: Kind, spec: &FieldSpec, line: &str) -> bool {
    let card = format!("{}\n  {} {line}\n", recopy::head(kind, "x"), spec.name);
    let reading = read(&card);
    let said = |field: &FieldReading| match &field.body {
        Body::Items(items) => items.iter().all(|item| item.value.is_some() && !item.partial),
        Body::Rows(rows) => rows.iter().all(|row| !row.row.partial),
        _ => false,
    };
    reading.unheard.is_empty() && reading.asides.is_empty() && reading.fields.iter().all(said)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_line_without_its_word_is_known_by_what_it_says() {
        for (kind, line, fields) in [
            (Kind::Concert, "4/22/27 7p gym", "on"),
            (Kind::Concert, "dec 17 2026 6pm cafeteria", "on"),
            (Kind::Concert, "30 minutes", "length, setup"),
            (
                Kind::Ensemble,
                "fl 6 ob 0 cl 9 tpt 7 hn 1 tbn 4 tuba 1",
                "players",
            ),
            (Kind::Ensemble, "3 zqxv", ""),
            (Kind::Piece, "6/8", "meter"),
            (Kind::Piece, "quarter = 120", "tempo"),
            (Kind::Piece, "$70", "price"),
            (Kind::Piece, "snare 1-20", "percussion"),
            (Kind::Piece, "zqxv 9", ""),
            (Kind::Piece, "lovely", ""),
        ] {
            assert_eq!(takers(kind, line).join(", "), fields, "{line}");
        }
    }
}
