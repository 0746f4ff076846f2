//! Tests of the drawing of cards.

use std::sync::Arc;

use proptest::prelude::*;

use super::*;
use crate::cli::room::Sheet;

fn drawn(text: &str, spans: &[Span], width: usize) -> String {
    let sheet = Sheet {
        shown: "x.levare".to_owned(),
        read: None,
        text: text.to_owned(),
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
        // After the first, every other mark has something said beside it.
        .map(|(index, place)| Mark {
            place,
            says: (index % 2 == 1).then_some("said beside it"),
        })
        .collect();
    let manner = Manner {
        width,
        numbers: true,
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

#[test]
fn strokes_stand_under_their_words() {
    let text = "piece \"A\"\n  by              Zoë Marchetti\n  key signature   3 flats, B♭ 音楽 here\n";
    let table = [
        (
            vec![words(text, "3 flats")],
            "    3 ┊   key signature   3 flats, B♭ 音楽 here\n      ┊                   ━━━━━━━\n",
        ),
        (
            vec![words(text, "here")],
            "    3 ┊   key signature   3 flats, B♭ 音楽 here\n      ┊                                    ━━━━\n",
        ),
        (
            vec![words(text, "3 flats"), words(text, "\"A\""), words(text, "♭")],
            "    1 ┊ piece \"A\"\n      ┊       ───  said beside it\n      ┊\n    3 ┊   key signature   3 flats, B♭ 音楽 here\n      ┊                   ━━━━━━━   ━\n",
        ),
        (
            vec![words(text, "flats"), words(text, "3 flats,")],
            "    3 ┊   key signature   3 flats, B♭ 音楽 here\n      ┊                   ──━━━━━─  said beside it\n",
        ),
        // Over the end of a line, and an empty place.
        (
            vec![words(text, "Marchetti\n  key")],
            "    2 ┊   by              Zoë Marchetti\n      ┊                       ━━━━━━━━━\n    3 ┊   key signature   3 flats, B♭ 音楽 here\n      ┊   ━━━\n",
        ),
        (vec![Span::at(9)], "    1 ┊ piece \"A\"\n      ┊         ━\n"),
    ];
    for (spans, wanted) in table {
        assert_eq!(drawn(text, &spans, 80), wanted, "{spans:?}");
    }
}

#[test]
fn tabs_are_blanks_up_to_the_next_fourth_column() {
    let text = "\t\tsnare\t1-88\n";
    let wanted = "    1 ┊         snare   1-88\n      ┊                 ━━━━\n";
    assert_eq!(drawn(text, &[words(text, "1-88")], 80), wanted);
}

#[test]
fn accents_by_themselves_take_no_column() {
    let text = "by  Zoe\u{308} here\n";
    let wanted = "    1 ┊ by  Zoe\u{308} here\n      ┊         ━━━━\n";
    assert_eq!(drawn(text, &[words(text, "here")], 80), wanted);
}

#[test]
fn long_lines_are_cut_around_the_mark() {
    let text = format!("  notes  {} here {}\n", "word ".repeat(30), "more ".repeat(30));
    let shown = drawn(&text, &[words(&text, "here")], 60);
    for row in shown.lines() {
        assert!(columns(row) <= 60, "{row}");
    }
    let (line, rule) = shown.split_once('\n').expect("two rows");
    let at = rule.find('━').expect("a stroke");
    // Both have one character of three bytes at the margin; the line has the cut's beside it.
    assert_eq!(line.get(at + 2..at + 6), Some("here"), "{shown}");
}

#[test]
fn what_does_not_fit_beside_stands_below() {
    let text = "one two three\n";
    let shown = drawn(text, &[words(text, "two"), words(text, "three")], 30);
    let wanted = "    1 ┊ one two three\n      ┊     ━━━ ─────\n      ┊   said beside it\n";
    assert_eq!(shown, wanted);
}

#[test]
fn many_lines_are_counted() {
    let text = "a\nb\nc\nd\ne\nf\n";
    let shown = drawn(text, &[Span::new(0, 11)], 80);
    assert!(shown.ends_with("      ┊ and 2 lines more\n"), "{shown}");
}

#[test]
fn every_sort_of_line_end_counts_as_editors_count() {
    // A form feed, NEL and U+2028 end no line.
    let text = "a\u{c}b\u{85}c\u{2028}d\rsecond\r\nthird";
    assert!(drawn(text, &[words(text, "third")], 80).starts_with("    3 ┊ third\n"));
    assert!(drawn(text, &[words(text, "second")], 80).starts_with("    2 ┊ second\n"));
    assert!(drawn(text, &[words(text, "d")], 80).contains("━"));
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
