//! Lines that say by themselves what they are: `4/4` on a piece, `flutes 8` on a band, `20 minutes` on a concert.
//!
//! Such a line is read as if its word stood before it, where every word of it is understood as one field and as no
//! other. The one form writes the word.

use super::fields::{self, FieldSpec, RowsOf, Shape};
use super::heard::Ear;
use super::items;
use super::kind::Kind;
use super::names;
use super::remarks;
use super::row::RowItem;
use super::rows;
use crate::music::{Instruments, Lookup};
use crate::text::Span;

/// The fields whose values nobody takes for anything else, by the kind of card.
fn candidates(kind: Kind) -> &'static [&'static str] {
    match kind {
        Kind::Piece => &[
            "meter",
            "tempo",
            "lasts",
            "tonal center",
            "key signature",
            "measures",
            "price",
            "parts",
            "percussion",
        ],
        Kind::Ensemble => &["players", "meets"],
        Kind::Concert => &["on", "length", "program"],
        Kind::Bundle | Kind::List => &["price", "holds"],
        Kind::Handbook | Kind::Criteria | Kind::Skill | Kind::Instrument => &[],
    }
}

/// The field that a line without its word can only be; none where it may be several, or holds a word that is not
/// understood.
pub(super) fn field_of(kind: Kind, body: &str) -> Option<&'static FieldSpec> {
    let masked = remarks::blanked(body);
    // With its mode a key is a tonal center, though a signature may be told that way too.
    let mode = names_mode(&masked);
    let specs = candidates(kind)
        .iter()
        .filter(|name| !(mode && **name == "key signature"))
        .filter_map(|name| fields::named(fields::fields_of(kind), name));
    let mut said = specs.filter(|spec| says(spec, &masked));
    let found = said.next()?;
    said.next().is_none().then_some(found)
}

/// Whether every word of a line is understood as this field.
fn says(spec: &FieldSpec, line: &str) -> bool {
    // Nothing else on a concert is numbered; a title that nobody knows is told as one.
    if spec.shape == Shape::Rows(RowsOf::Program) && is_numbered(line) {
        return true;
    }
    let mut ear = Ear::default();
    let span = Span::whole(line);
    let is_that = match spec.shape {
        Shape::Value(of) => tells(line) && read_whole(&items::stages(&mut ear, line, span, of)),
        Shape::List(of) => tells(line) && read_whole(&items::list(&mut ear, line, span, of)),
        Shape::Rows(of) => {
            begins_row(of, line)
                && rows::read(&mut ear, line, span, 0, of, false)
                    .iter()
                    .all(|row| is_row(of, row))
        }
        Shape::Running | Shape::Block(_) => false,
    };
    is_that && ear.unheard(line).is_empty()
}

/// `1. Moss and Lantern`, `2) Harbor Parade`.
fn is_numbered(line: &str) -> bool {
    let behind = line.trim_start_matches(|c: char| c.is_ascii_digit());
    let title = behind.strip_prefix(['.', ')']).map(str::trim_start);
    behind.len() < line.len() && title.is_some_and(|title| title.starts_with(|c: char| !c.is_ascii_digit()))
}

/// Whether there is more to a line than a bare figure or a word that may be meant in any way.
fn tells(line: &str) -> bool {
    let figure = line.contains(|c: char| c.is_ascii_digit());
    let more = line.contains(|c: char| !(c.is_ascii_digit() || matches!(c, '.' | ',' | ' ' | '?' | '-')));
    let named = names_mode(line) || line.contains("time") || line.contains(super::scan::is_quote);
    more && (figure || named)
}

fn names_mode(line: &str) -> bool {
    let lower = line.to_lowercase();
    lower.contains(" major") || lower.contains(" minor")
}

fn read_whole(items: &[items::Item]) -> bool {
    !items.is_empty()
        && items
            .iter()
            .all(|item| item.value.is_some() && !item.partial && !item.open)
}

/// Whether a line starts as a row of this table does.
fn begins_row(of: RowsOf, line: &str) -> bool {
    let figure = line.starts_with(|c: char| c.is_ascii_digit());
    match of {
        RowsOf::Program => line.starts_with(super::scan::is_quote),
        RowsOf::Players => figure || names::known_prefix(line).is_some(),
        _ => names::known_prefix(line).is_some(),
    }
}

/// Whether a row is one of this table and of no other: of known names, with something said of them.
fn is_row(of: RowsOf, row: &RowItem) -> bool {
    let said = row.count.is_some() || !row.facts.is_empty();
    let known = !row.names.is_empty();
    match of {
        RowsOf::Players => {
            known
                && row.count.is_some()
                && row
                    .names
                    .iter()
                    .all(|name| is_percussion(&name.text) != Some(true))
        }
        RowsOf::Parts => {
            known
                && said
                && row
                    .names
                    .iter()
                    .all(|name| is_percussion(&name.text) == Some(false))
        }
        RowsOf::Percussion => {
            known
                && said
                && row
                    .names
                    .iter()
                    .all(|name| is_percussion(&name.text) == Some(true))
        }
        _ => known || said,
    }
}

/// Whether a name is one of the percussion; none where nobody knows it.
fn is_percussion(name: &str) -> Option<bool> {
    match Instruments::standard().find(names::bare(name)) {
        Lookup::Exact(instrument) => Some(instrument.family.is_percussion()),
        Lookup::Ambiguous(several) => several.first().map(|one| one.family.is_percussion()),
        Lookup::None => names::is_group(name).then_some(false),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_line_that_can_only_be_one_field_needs_no_word() {
        let lines = [
            (Kind::Piece, "4/4", Some("meter")),
            (Kind::Piece, "cut time", Some("meter")),
            (Kind::Piece, "3/4, 4/4 at 33", Some("meter")),
            (Kind::Piece, "q=72", Some("tempo")),
            (Kind::Piece, "quarter = 120 (the band can do 112)", Some("tempo")),
            (Kind::Piece, "3:15", Some("lasts")),
            (Kind::Piece, "about 3 minutes", Some("lasts")),
            (Kind::Piece, "c minor", Some("tonal center")),
            (Kind::Piece, "B-flat major", Some("tonal center")),
            (
                Kind::Piece,
                "Bb major, Eb major at the trio",
                Some("tonal center"),
            ),
            (Kind::Piece, "2 flats", Some("key signature")),
            (Kind::Piece, "88 bars", Some("measures")),
            (Kind::Piece, "$45", Some("price")),
            (Kind::Piece, "flute D4-Bb5", Some("parts")),
            (Kind::Piece, "snare drum 1-40, rolls at 17", Some("percussion")),
            (Kind::Ensemble, "flutes 8", Some("players")),
            (Kind::Ensemble, "1 tuba", Some("players")),
            (Kind::Ensemble, "alto saxes 4", Some("players")),
            (Kind::Ensemble, "Mon Wed Fri, 45 minutes", Some("meets")),
            (Kind::Concert, "Dec 12 2026, 7pm", Some("on")),
            (Kind::Concert, "20 minutes", Some("length")),
            (Kind::Concert, "1. \"Moss and Lantern\"", Some("program")),
            (Kind::Concert, "\"Moss and Lantern\"", Some("program")),
            (Kind::Concert, "2) Moss and Lantern", Some("program")),
            (Kind::Bundle, "$60", Some("price")),
            // A bare figure or word may be anything, and a word that nobody reads is told.
            (Kind::Piece, "120", None),
            (Kind::Piece, "2.5", None),
            (Kind::Piece, "Bb", None),
            (Kind::Piece, "march", None),
            (Kind::Piece, "fast", None),
            (Kind::Piece, "flute", None),
            (Kind::Piece, "4/4 zqxv", None),
            (Kind::Piece, "zqxv 4/4", None),
            (Kind::Piece, "q=zqxv", None),
            (Kind::Ensemble, "flutes zqxv 8", None),
            (Kind::Ensemble, "8", None),
            (Kind::Concert, "Moss and Lantern", None),
            (Kind::Handbook, "4/4", None),
        ];
        let found = lines.map(|(kind, line, _)| (kind, line, field_of(kind, line).map(|spec| spec.name)));
        let wrong: Vec<_> = found
            .iter()
            .zip(&lines)
            .filter(|(found, wanted)| found != wanted)
            .collect();
        assert!(wrong.is_empty(), "{wrong:#?}");
    }
}
