//! Tests of `text::sheet`.

use super::*;
use proptest::prelude::*;

/// An entry starts where a line at the left margin has a lower-case word and then a quote.
fn by_quoted_names(text: &str) -> Vec<usize> {
    let lines = Lines::of(text);
    (0..lines.line_count())
        .map(|line| lines.line_span(line))
        .filter(|span| {
            let line = span.slice(text);
            let rest = line.trim_start_matches(|c: char| c.is_ascii_lowercase());
            rest.len() < line.len() && rest.trim_start_matches(' ').starts_with('"')
        })
        .map(|span| span.start as usize)
        .collect()
}

fn texts(sheet: &Sheet) -> Vec<String> {
    sheet.chunks().map(|chunk| chunk.text.to_string()).collect()
}

const CARDS: &str = "(our shelf)\n\npiece \"Air\"\n  grade 1\npiece \"March\"\n  meter 2/4\nlist \"Fall\"\n";

#[test]
fn one_piece_an_entry() {
    let sheet = Sheet::new(CARDS, by_quoted_names);
    assert_eq!(
        texts(&sheet),
        [
            "(our shelf)\n\n",
            "piece \"Air\"\n  grade 1\n",
            "piece \"March\"\n  meter 2/4\n",
            "list \"Fall\"\n",
        ]
    );
    assert_eq!(sheet.to_string(), CARDS);
    let starts: Vec<(u32, u32)> = sheet.chunks().map(|c| (c.start, c.line)).collect();
    assert_eq!(starts, [(0, 0), (13, 2), (35, 4), (61, 6)]);
    assert_eq!((sheet.len(), sheet.line_count()), (73, 8));
    assert_eq!(sheet.slice(Span::new(28, 49)), "rade 1\npiece \"March\"\n");
}

#[test]
fn an_edit_keeps_the_other_pieces() {
    let mut sheet = Sheet::new(CARDS, by_quoted_names);
    let before: Vec<Shared> = sheet.chunks().map(|c| c.text.clone()).collect();
    let at = CARDS.find("grade 1").map_or(0, |at| at as u32 + 6);
    let change = sheet.replace(Span::new(at, at + 1), "2");
    assert_eq!(
        change,
        Change {
            first: 1,
            removed: 1,
            added: 1
        }
    );
    let same: Vec<bool> = sheet
        .chunks()
        .zip(&before)
        .map(|(chunk, old)| chunk.text.is(old))
        .collect();
    assert_eq!(same, [true, false, true, true]);
    assert_eq!(sheet.to_string(), CARDS.replace("grade 1", "grade 2"));
}

#[test]
fn entries_come_and_go() {
    let table: &[(&str, &str, Change)] = &[
        // what is replaced, by what, the change
        (
            "piece \"March\"\n",
            "",
            Change {
                first: 1,
                removed: 2,
                added: 1,
            },
        ),
        (
            "  meter",
            "skill \"ties\"\n  meter",
            Change {
                first: 2,
                removed: 1,
                added: 2,
            },
        ),
        (
            "(our",
            "piece \"New\"\n(our",
            Change {
                first: 0,
                removed: 1,
                added: 1,
            },
        ),
        (
            "(our shelf)\n\n",
            "",
            Change {
                first: 0,
                removed: 1,
                added: 0,
            },
        ),
        (
            CARDS,
            "",
            Change {
                first: 0,
                removed: 4,
                added: 0,
            },
        ),
        (
            "grade",
            "grade",
            Change {
                first: 4,
                removed: 0,
                added: 0,
            },
        ),
    ];
    for (old, new, expected) in table {
        let mut sheet = Sheet::new(CARDS, by_quoted_names);
        let at = CARDS.find(old).unwrap_or(0) as u32;
        let change = sheet.replace(Span::new(at, at + old.len() as u32), new);
        let fresh = Sheet::new(&CARDS.replacen(old, new, 1), by_quoted_names);
        assert_eq!(texts(&sheet), texts(&fresh), "{old:?}");
        if expected.removed + expected.added > 0 {
            assert_eq!(change, *expected, "{old:?}");
        } else {
            assert_eq!((change.removed, change.added), (0, 0), "{old:?}");
        }
    }
}

#[test]
fn typing_into_an_empty_file() {
    let mut sheet = Sheet::new("", by_quoted_names);
    assert!(sheet.is_empty() && sheet.line_count() == 1);
    assert_eq!(sheet.offset(Position::new(7, 7), Encoding::Utf16), 0);
    assert_eq!(sheet.position(9, Encoding::Utf16), Position::default());
    sheet.replace(Span::new(4, 9), "piece \"Air\"");
    assert_eq!(texts(&sheet), ["piece \"Air\""]);
}

#[test]
fn a_break_of_two_characters_is_never_cut() {
    let mut sheet = Sheet::new("list \"a\"\rlist \"b\"\r", by_quoted_names);
    assert_eq!(texts(&sheet), ["list \"a\"\r", "list \"b\"\r"]);
    sheet.replace(Span::at(9), "\n");
    assert_eq!(texts(&sheet), ["list \"a\"\r\n", "list \"b\"\r"]);
}

#[test]
fn a_careless_splitter_does_no_harm() {
    let wild: Splitter = |text| vec![0, 1, 2, 3, 2, 4, text.len(), usize::MAX, 5, 9];
    let sheet = Sheet::new("a\r\n♭\nb\nc", wild);
    assert_eq!(sheet.to_string(), "a\r\n♭\nb\nc");
    assert_eq!(texts(&sheet), ["a\r\n", "♭\nb\n", "c"]);
}

fn words() -> impl Strategy<Value = String> {
    let part = prop_oneof![
        Just("\n"),
        Just("\r\n"),
        Just("\r"),
        Just(" "),
        Just("♭"),
        Just("🎺"),
        Just("\""),
        Just("list \"b\"\n"),
        Just("\npiece \"a\"\r\n  grade 1"),
        Just("piece"),
        Just("\rpiece \"a\"\r"),
    ];
    proptest::collection::vec(part, 0..14).prop_map(|parts| parts.concat())
}

proptest! {
    /// After any edits a sheet is what a fresh cut of the whole text gives, keeps every piece it says it
    /// keeps, and answers as the whole text's lines do.
    #[test]
    fn a_sheet_is_its_text(
        start in words(),
        script in proptest::collection::vec((0u32..60, 0u32..20, words()), 1..6),
    ) {
        let mut text = start;
        let mut sheet = Sheet::new(&text, by_quoted_names);
        for (at, length, new) in script {
            let span = Span::new(at, at + length);
            let old: Vec<Shared> = sheet.chunks().map(|c| c.text.clone()).collect();
            let change = sheet.replace(span, &new);
            text.replace_range(span.range(&text), &new);

            prop_assert_eq!(sheet.to_string(), text.clone());
            prop_assert_eq!(texts(&sheet), texts(&Sheet::new(&text, by_quoted_names)));

            let new: Vec<Shared> = sheet.chunks().map(|c| c.text.clone()).collect();
            prop_assert_eq!(old.len() - change.removed + change.added, new.len());
            for number in 0..change.first {
                prop_assert!(old[number].is(&new[number]));
            }
            for back in 1..=old.len() - change.first - change.removed {
                prop_assert!(old[old.len() - back].is(&new[new.len() - back]));
            }

            let lines = Lines::of(&text);
            prop_assert_eq!(sheet.line_count(), lines.line_count());
            prop_assert_eq!(sheet.len() as usize, text.len());
            for encoding in [Encoding::Utf8, Encoding::Utf16, Encoding::Utf32] {
                for offset in 0..text.len() as u32 + 3 {
                    let position = lines.position(&text, offset, encoding);
                    prop_assert_eq!(sheet.position(offset, encoding), position);
                    prop_assert_eq!(
                        sheet.offset(position, encoding), lines.offset(&text, position, encoding));
                }
                let past = Position::new(lines.line_count() + 1, 3);
                prop_assert_eq!(sheet.offset(past, encoding) as usize, text.len());
            }
            for line in 0..=lines.line_count() {
                prop_assert_eq!(sheet.line_span(line), lines.line_span(line));
            }
        }
    }

    #[test]
    fn only_the_neighborhood_is_cut_again(number in 0usize..40, word in words()) {
        let text: String = (0..40).map(|n| format!("piece \"{n:02}\"\n  grade 1\n")).collect();
        let mut sheet = Sheet::new(&text, by_quoted_names);
        let change = sheet.replace(Span::at(number as u32 * 21 + 12), &word);
        prop_assert!(change.first + 1 >= number && change.removed <= 3, "{:?}", change);
    }
}
