//! What an editor shows is what was read: a word that counts for nothing has no color, and what is offered
//! while writing is understood where it is offered.

#[allow(dead_code)]
#[path = "heard/planted.rs"]
mod planted;

use std::sync::Arc;

use levare::assist::tokens::{self, Sort};
use levare::assist::{Place, completion};
use levare::catalogue::{CardFile, Snapshot};
use levare::notation::fields::{FieldSpec, RowsOf, Shape, fields_of};
use levare::notation::{self, Kind, Of};
use levare::text::Span;
use planted::Catalogue;

const TODAY: jiff::civil::Date = jiff::civil::date(2026, 10, 20);

fn snapshot(text: &str) -> Snapshot {
    Snapshot::new(vec![Arc::new(CardFile::read("a.levare", text))], TODAY)
}

/// The words of a card that nobody understood and that have a color all the same.
fn colored(text: &str) -> Vec<String> {
    let snapshot = snapshot(text);
    let tokens = tokens::of_file(&snapshot, 0, None, &|| false);
    let unheard = notation::read(text).unheard;
    let lies_on = |span: Span| {
        let mut colors = tokens.iter().filter(|token| token.sort != Sort::Remark);
        colors.any(|token| token.span.overlaps(span))
    };
    unheard
        .iter()
        .filter(|left| lies_on(left.span))
        .map(|left| left.span.slice(text).to_owned())
        .collect()
}

#[test]
fn a_word_that_counts_for_nothing_has_no_color() {
    let folders = [
        "demo",
        "tests/catalogues/neat",
        "tests/catalogues/hasty",
        "tests/catalogues/odd",
    ];
    for (folder, word) in folders.into_iter().zip(["zqxv", "grolp", "Wembish", "plitz"]) {
        let plants = Catalogue::read(folder).plants(word);
        let mut left_over = 0;
        // Cards stand alone here, and not every place is tried twice: one in three is plenty.
        for plant in plants.iter().step_by(3) {
            left_over += notation::read(&plant.text).unheard.len();
            let colors = colored(&plant.text);
            assert!(
                colors.is_empty(),
                "{folder}: {}\n{}: {colors:?}",
                plant.card,
                plant.line
            );
        }
        assert!(left_over > 20, "{folder}: {left_over}");
    }
}

/// What is understood keeps its color beside a word that is not.
#[test]
fn the_good_half_of_a_line_keeps_its_color() {
    let text = "piece \"Fogbell\"\n  parts\n    flute           D5-C6, zqxv same as oboe\n";
    let tokens = tokens::of_file(&snapshot(text), 0, None, &|| false);
    let sort = |words: &str| {
        let at = text.find(words).unwrap() as u32;
        let found = tokens
            .iter()
            .find(|token| token.span.start <= at && at < token.span.end);
        found.map(|token| token.sort)
    };
    assert_eq!(sort("flute"), Some(Sort::Part));
    assert_eq!(sort("D5-C6"), Some(Sort::Number));
    assert_eq!(sort("zqxv"), None);
}

const BAND: &str = "
ensemble \"Seventh Grade Band\"
  players
    flute           9
    clarinet        12
  percussionists
    P1              snare, bells
    Ann             snare

piece \"Night Ferry\"
  by              Tam Lindqvist
  style           march

skill \"ties\"
  takes           1 week

list \"Thrum Hollow list\"
  year            2026

criteria \"our grade 1\"
  calls for       up to 3 flats
";

fn of_grade(spec: &FieldSpec) -> bool {
    matches!(spec.shape, Shape::List(Of::Grade) | Shape::Value(Of::Grade))
}

/// What stands before the cursor when a card, a field or a row is begun.
fn begun() -> Vec<String> {
    let mut found = Vec::new();
    for kind in Kind::ALL {
        let head = match kind.is_named() {
            true => format!("{kind} \"Fogbell\"\n"),
            false => format!("{kind}\n"),
        };
        for spec in fields_of(kind) {
            of_field(&head, 2, spec, &mut found);
        }
    }
    found
}

fn of_field(head: &str, indent: usize, spec: &FieldSpec, found: &mut Vec<String>) {
    let blanks = " ".repeat(indent);
    match spec.shape {
        // A mark is offered with a blank behind it, for the measure; a stet with its reason to be written.
        Shape::List(Of::Mark | Of::Stet | Of::Road) | Shape::Running => {}
        Shape::List(_) | Shape::Value(_) => {
            let value = if of_grade(spec) { "2 " } else { "" };
            found.push(format!("{head}{blanks}{:<15} {value}", spec.name));
        }
        Shape::Block(inside) => {
            for field in inside {
                of_field(
                    &format!("{head}{blanks}{}\n", spec.name),
                    indent + 2,
                    field,
                    found,
                );
            }
        }
        Shape::Rows(of) => {
            let table = format!("{head}{blanks}{}\n{blanks}  ", spec.name);
            let row = match of {
                RowsOf::Players => "flute           9, ",
                RowsOf::Percussionists => "Ben             snare, ",
                RowsOf::Parts => "flute           D5-C6, ",
                RowsOf::Percussion => "bells           5-20, ",
                RowsOf::Pages => "percussion 1    snare, ",
                RowsOf::Seats => "flute, ",
                RowsOf::Program => "\"Night Ferry\", ",
                RowsOf::Movements => "1 Morning, ",
            };
            if of != RowsOf::Movements {
                found.push(table.clone());
            }
            found.push(table + row);
        }
    }
}

const RELATIONS: [&str; 10] = [
    "same as",
    "with",
    "instead of",
    "cued in",
    "cues for",
    "or",
    "doubles",
    "follows",
    "for",
    "for any of",
];

/// What is left over of an offer that was taken, in words.
fn left_over(before: &str, offer: &completion::Offer) -> Vec<String> {
    let start = offer.replaces.start as usize;
    // Some offers are the first of two: a relation and its partner, an instrument and its range.
    let line = before.lines().last().unwrap_or("").trim();
    let second = match line {
        "ranges" => " C4-C5",
        "one player" => " and snare",
        _ if RELATIONS.contains(&offer.text.as_str()) => " oboe",
        _ => "",
    };
    let card = format!("{}{}{second}\n", &before[..start], offer.text);
    let reading = notation::read(&card);
    let unheard = reading
        .unheard
        .iter()
        .filter(|left| left.span.end as usize > start);
    unheard.map(|left| left.span.slice(&card).to_owned()).collect()
}

#[test]
fn what_is_offered_is_understood() {
    let mut tried = 0;
    let mut wrong = Vec::new();
    for before in begun() {
        let files = vec![
            Arc::new(CardFile::read("a.levare", &before)),
            Arc::new(CardFile::read("b.levare", BAND)),
        ];
        let snapshot = Snapshot::new(files, TODAY);
        let Some(place) = Place::at(&snapshot, 0, before.len() as u32) else {
            continue;
        };
        for offer in completion::of(&place) {
            // A beginning is not whole yet.
            if offer.text.ends_with(' ') || offer.draft.is_some() {
                continue;
            }
            tried += 1;
            let left = left_over(&before, &offer);
            if !left.is_empty() {
                let line = before.lines().last().unwrap_or("").trim();
                wrong.push(format!("{line} [{}]: {left:?}", offer.text));
            }
        }
    }
    assert!(tried > 1500, "{tried}");
    assert!(
        wrong.is_empty(),
        "{} of {tried}:\n{}",
        wrong.len(),
        wrong.join("\n")
    );
}
