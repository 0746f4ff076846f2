//! Which fields would understand a line that does not begin with a field's word: `4/22/27 7p` on a concert says when
//! it is, `flutes 8` on a band is one of its players.

use super::fields::{self, FieldSpec, RowsOf, Shape};
use super::kind::Kind;
use super::names;
use super::of::Of;
use super::read::{Body, FieldReading, read};
use super::recopy;
use super::remarks;
use super::scan;
use super::values::absent::is_seat;
use crate::music::{Instruments, Lookup};

/// No line that somebody means for one field is longer (our own figure).
const LONGEST: usize = 80;

/// The fields of a card that would understand every word of a line; where none would, the table in which the
/// instrument at its start has its row.
pub fn takers(kind: Kind, line: &str) -> Vec<&'static str> {
    let found = understanding(kind, line);
    match found.is_empty() {
        true => table_of(kind, line).into_iter().collect(),
        false => found.into_iter().map(|spec| spec.name).collect(),
    }
}

/// The field that a line without its word can only be, so that it is read as that; none where it may be several, or
/// holds a word that is not understood.
pub(super) fn only(kind: Kind, line: &str) -> Option<&'static FieldSpec> {
    let masked = remarks::blanked(line);
    let bare = masked.trim();
    // Nothing else on a concert is numbered; a title that no card has is told as one.
    if kind == Kind::Concert && is_numbered(bare) {
        return fields::named(fields::fields_of(kind), "program");
    }
    let [found] = understanding(kind, bare).try_into().ok()?;
    // `mm 92` may be measures as well, whatever reads it.
    let meant = fields::meant::meant(kind, false, bare);
    meant
        .iter()
        .all(|meant| meant.field == found.name)
        .then_some(found)
}

/// The fields of a card that would understand every word of a line; fields that take any words do not count.
fn understanding(kind: Kind, line: &str) -> Vec<&'static FieldSpec> {
    let quoted = line.starts_with(scan::is_quote);
    if line.len() > LONGEST || !(quoted || says_something(line)) {
        return Vec::new();
    }
    let takes = |spec: &&FieldSpec| may_take(spec, line) && understands(kind, spec, line);
    fields::fields_of(kind).iter().filter(takes).collect()
}

/// Whether there is more to a line than a bare figure, or a word that may be meant in any way.
fn says_something(line: &str) -> bool {
    let figure = line.contains(|c: char| c.is_ascii_digit());
    let more = line.contains(|c: char| !(c.is_ascii_digit() || matches!(c, '.' | ',' | ' ' | '?' | '-')));
    more && (figure || names_mode(line) || scan::find_word(line, "time").is_some())
}

fn names_mode(line: &str) -> bool {
    let lower = line.to_lowercase();
    lower.contains(" major") || lower.contains(" minor")
}

/// `1. Moss and Lantern`, `2) "Harbor Parade"`.
fn is_numbered(line: &str) -> bool {
    let behind = line.trim_start_matches(|c: char| c.is_ascii_digit());
    let title = behind.strip_prefix(['.', ')']).map(str::trim_start);
    behind.len() < line.len() && title.is_some_and(|title| title.starts_with(|c: char| !c.is_ascii_digit()))
}

/// Whether a field takes some words and not others.
fn may_take(spec: &FieldSpec, line: &str) -> bool {
    match spec.shape {
        // A figure with a unit before it may be anything; a beat and its figure are a tempo.
        Shape::Value(Of::Tempo) => line.contains('=') || line.to_lowercase().contains("bpm"),
        // With its mode a key is a tonal center, though a signature may be told that way too.
        Shape::Value(Of::Signature) => !names_mode(line),
        // Lists of names take any words; who plays and where is looked up elsewhere.
        Shape::Value(of) | Shape::List(of) => {
            matches!(
                of,
                Of::Moment
                    | Of::ConcertLength
                    | Of::Lasts
                    | Of::Meets
                    | Of::Season
                    | Of::Meter
                    | Of::Price
                    | Of::Key
                    | Of::Measures
                    | Of::Road
            ) || of == Of::Held && line.starts_with(scan::is_quote)
        }
        Shape::Rows(RowsOf::Program) => line.starts_with(scan::is_quote),
        Shape::Rows(of @ (RowsOf::Parts | RowsOf::Percussion | RowsOf::Players)) => {
            // A head count before a name is a band's; before a part it would be the part's name.
            let counted = match of {
                RowsOf::Players => line.trim_start_matches(|c: char| c.is_ascii_digit() || c == ' '),
                _ => line,
            };
            names::known_prefix(counted).is_some_and(|end| {
                let name = counted.get(..end).unwrap_or("");
                of == RowsOf::Players || is_percussion(name) == (of == RowsOf::Percussion)
            })
        }
        Shape::Rows(RowsOf::Percussionists) => line.split([' ', '-']).next().is_some_and(is_seat),
        _ => false,
    }
}

fn is_percussion(name: &str) -> bool {
    let found = Instruments::standard().find(name).exact();
    found.is_some_and(|instrument| instrument.family.is_percussion())
}

/// The table of a card in which the instrument at the start of a line has its row.
fn table_of(kind: Kind, line: &str) -> Option<&'static str> {
    let name = line.get(..names::known_prefix(line)?)?;
    if Instruments::standard().find(name) == Lookup::None {
        return None;
    }
    match kind {
        Kind::Piece if is_percussion(name) => Some("percussion"),
        Kind::Piece => Some("parts"),
        Kind::Ensemble => Some("players"),
        _ => None,
    }
}

fn understands(kind: Kind, spec: &FieldSpec, line: &str) -> bool {
    let card = format!("{}\n  {} {line}\n", recopy::head(kind, "x"), spec.name);
    let reading = read(&card);
    let said = |field: &FieldReading| match &field.body {
        Body::Items(items) => items
            .iter()
            .all(|item| item.value.is_some() && !item.partial && !item.open),
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
            (Kind::Ensemble, "clarinets zqxv", "players"),
            (Kind::Piece, "6/8", "meter"),
            (Kind::Piece, "quarter = 120", "tempo"),
            (Kind::Piece, "$70", "price"),
            (Kind::Piece, "snare 1-20", "percussion"),
            (Kind::Piece, "snare zqxv", "percussion"),
            (Kind::Piece, "zqxv 9", ""),
            (Kind::Piece, "lovely", ""),
        ] {
            assert_eq!(takers(kind, line).join(", "), fields, "{line}");
        }
    }

    #[test]
    fn a_line_that_can_only_be_one_field_is_that() {
        let lines = [
            (Kind::Piece, "4/4", Some("meter")),
            (Kind::Piece, "cut time", Some("meter")),
            (Kind::Piece, "3/4, 4/4 at 33", Some("meter")),
            (Kind::Piece, "q=72", Some("tempo")),
            (Kind::Piece, "quarter = 120 (the band can do 112)", Some("tempo")),
            (Kind::Piece, "3:15", Some("lasts")),
            (Kind::Piece, "c minor", Some("tonal center")),
            (Kind::Piece, "B-flat major", Some("tonal center")),
            (
                Kind::Piece,
                "Bb major, Eb major at the trio",
                Some("tonal center"),
            ),
            (Kind::Piece, "2 flats", Some("key signature")),
            (Kind::Piece, "$45", Some("price")),
            (Kind::Piece, "flute D4-Bb5", Some("parts")),
            (Kind::Piece, "snare drum 1-40, rolls at 17", Some("percussion")),
            (Kind::Ensemble, "flutes 8", Some("players")),
            (Kind::Ensemble, "1 tuba", Some("players")),
            (Kind::Ensemble, "alto saxes 4", Some("players")),
            (Kind::Ensemble, "Mon Wed Fri, 45 minutes", Some("meets")),
            (Kind::Concert, "Dec 12 2026, 7pm", Some("on")),
            (Kind::Concert, "1. \"Moss and Lantern\"", Some("program")),
            (Kind::Concert, "\"Moss and Lantern\"", Some("program")),
            (Kind::Concert, "2) Moss and Lantern", Some("program")),
            (Kind::Bundle, "$60", Some("price")),
            (Kind::List, "\"Moss and Lantern\" grade 2", Some("holds")),
            // A bare figure or word may be anything, and a word that nobody reads is told.
            (Kind::Piece, "120", None),
            (Kind::Piece, "2.5", None),
            (Kind::Piece, "Bb", None),
            (Kind::Piece, "march", None),
            (Kind::Piece, "fast", None),
            (Kind::Piece, "flute", None),
            (Kind::Piece, "mm 92", None),
            (Kind::Piece, "3 clarinets", None),
            (Kind::Piece, "4/4 zqxv", None),
            (Kind::Piece, "zqxv 4/4", None),
            (Kind::Piece, "q=zqxv", None),
            (Kind::Ensemble, "flutes zqxv 8", None),
            (Kind::Ensemble, "8", None),
            (Kind::Concert, "30 minutes", None),
            (Kind::Concert, "Moss and Lantern", None),
            (Kind::Handbook, "4/4", None),
        ];
        let found = lines.map(|(kind, line, _)| (kind, line, only(kind, line).map(|spec| spec.name)));
        let wrong: Vec<_> = found
            .iter()
            .zip(&lines)
            .filter(|(found, wanted)| found != wanted)
            .collect();
        assert!(wrong.is_empty(), "{wrong:#?}");
    }
}
