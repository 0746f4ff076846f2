//! Tests of the drawing of cards.

use std::sync::Arc;

use proptest::prelude::*;

use super::*;
use crate::cli::room::Sheet;

fn drawn(text: &str, spans: &[Span], width: usize) -> String {
    let sheet = Sheet {
        shown: "x.levare".to_owned(),
        read: None,
        text: text.into(),
        asked: true,
    };
    let lines = Arc::new(Lines::of(text));
    let places: Vec<Place<'_>> = spans
        .iter()
        .map(|span| Place {
            sheet: &sheet,
            lines: Arc::clone(&lines),
            span: *span,
        })
        .collect();
    let marks: Vec<Mark<'_, '_>> = places
        .iter()
        .enumerate()
        // After the first, every other one is only shown.
        .map(|(index, place)| Mark {
            place,
            ringed: index % 2 == 0,
        })
        .collect();
    let manner = Manner {
        width,
        severity: Severity::Warning,
        paint: Paint::new(false),
    };
    let rows = draw(&marks, manner);
    rows.iter().map(|row| format!("{row}\n")).collect()
}

fn words(text: &str, words: &str) -> Span {
    let start = text.find(words).expect("the words are in the text");
    Span::long(start as u32, words.len() as u32)
}

/// Rows with their margin, so that a table shows what is seen.
fn rows(rows: &[&str]) -> String {
    rows.iter().map(|row| format!("{row}\n")).collect()
}

#[test]
fn rings_stand_around_their_words() {
    let text = "piece \"A\"\n  by              Zoë Marchetti\n  key signature   3 flats, B♭ 音楽 here\n";
    let table: [(Vec<Span>, &[&str]); 6] = [
        (
            vec![words(text, "3 flats")],
            &[
                "                     ╭───────╮",
                "      key signature   3 flats, B♭ 音楽 here",
                "                     ╰───────╯",
            ],
        ),
        (
            vec![words(text, "here")],
            &[
                "                                      ╭────╮",
                "      key signature   3 flats, B♭ 音楽 here",
                "                                      ╰────╯",
            ],
        ),
        // The second is only shown; the first and the third are ringed.
        (
            vec![words(text, "3 flats"), words(text, "\"A\""), words(text, "♭")],
            &[
                "    piece \"A\"",
                "                     ╭───────╮ ╭─╮",
                "      key signature   3 flats, B♭ 音楽 here",
                "                     ╰───────╯ ╰─╯",
            ],
        ),
        // Words a column apart share a ring.
        (
            vec![words(text, "3"), words(text, "\"A\""), words(text, "flats")],
            &[
                "    piece \"A\"",
                "                     ╭───────╮",
                "      key signature   3 flats, B♭ 音楽 here",
                "                     ╰───────╯",
            ],
        ),
        // Over the end of a line, and an empty place.
        (
            vec![words(text, "Marchetti\n  key")],
            &[
                "                         ╭─────────╮",
                "      by              Zoë Marchetti",
                "                         ╰─────────╯",
                "     ╭───╮",
                "      key signature   3 flats, B♭ 音楽 here",
                "     ╰───╯",
            ],
        ),
        (
            vec![Span::at(9)],
            &["           ╭─╮", "    piece \"A\"", "           ╰─╯"],
        ),
    ];
    for (spans, wanted) in table {
        assert_eq!(drawn(text, &spans, 80), rows(wanted), "{spans:?}");
    }
}

#[test]
fn tabs_are_blanks_up_to_the_next_fourth_column() {
    let text = "\t\tsnare\t1-88\n";
    let wanted = [
        "                   ╭────╮",
        "            snare   1-88",
        "                   ╰────╯",
    ];
    assert_eq!(drawn(text, &[words(text, "1-88")], 80), rows(&wanted));
}

#[test]
fn accents_by_themselves_take_no_column() {
    let text = "by  Zoe\u{308} here\n";
    let wanted = [
        "           ╭────╮",
        "    by  Zoe\u{308} here",
        "           ╰────╯",
    ];
    assert_eq!(drawn(text, &[words(text, "here")], 80), rows(&wanted));
}

#[test]
fn long_lines_are_cut_around_the_mark() {
    let text = format!("  notes  {} here {}\n", "word ".repeat(30), "more ".repeat(30));
    let shown = drawn(&text, &[words(&text, "here")], 60);
    for row in shown.lines() {
        assert!(columns(row) <= 60, "{row}");
    }
    let rows: Vec<Vec<char>> = shown.lines().map(|row| row.chars().collect()).collect();
    let ring = rows[0].iter().position(|c| *c == '╭').expect("a ring");
    let words: String = rows[1][ring + 1..ring + 5].iter().collect();
    assert_eq!(words, "here", "{shown}");
}

#[test]
fn lines_left_out_are_a_gap() {
    let text = "one\ntwo\nthree\nfour\n";
    let sheet = [
        words(text, "four"),
        words(text, "one"),
        words(text, "four"),
        words(text, "two"),
    ];
    let wanted = ["    one", "    two", "   ╭────╮", "    four", "   ╰────╯"];
    assert_eq!(drawn(text, &sheet, 80), rows(&wanted));
}

#[test]
fn many_lines_are_counted() {
    let text = "a\nb\nc\nd\ne\nf\n";
    let shown = drawn(text, &[Span::new(0, 11)], 80);
    assert!(shown.ends_with("    and 2 lines more\n"), "{shown}");
}

#[test]
fn every_sort_of_line_end_counts_as_editors_count() {
    // A form feed, NEL and U+2028 end no line.
    let text = "a\u{c}b\u{85}c\u{2028}d\rsecond\r\nthird";
    assert!(drawn(text, &[words(text, "third")], 80).contains("\n    third\n"));
    assert!(drawn(text, &[words(text, "second")], 80).contains("\n    second\n"));
    assert!(drawn(text, &[words(text, "d")], 80).contains('╭'));
}

proptest! {
    /// Nothing in a card and no place can stop the drawing, and no row is wider than it may be.
    #[test]
    fn anything_can_be_drawn(
        text in "[ a-c\t\r\n\u{0}\u{b}\u{c}\u{1b}\u{85}\u{2028}♭é音👩\u{200d}]{0,120}",
        starts in prop::collection::vec((0u32..400, 0u32..400), 0..4),
        width in 0usize..90,
    ) {
        let spans: Vec<Span> = starts.into_iter().map(|(start, end)| Span { start, end }).collect();
        let shown = drawn(&text, &spans, width);
        let escapes = shown.contains('\u{1b}');
        prop_assert!(!escapes);
        for row in shown.lines() {
            let wide = columns(row) > width.max(MARGIN + 20);
            prop_assert!(!wide, "{row}");
        }
    }
}
