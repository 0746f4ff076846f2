//! Tests of `text::lines`.

use super::*;
use crate::text::{Edit, apply};
use proptest::prelude::*;

const ALL: [Encoding; 3] = [Encoding::Utf8, Encoding::Utf16, Encoding::Utf32];

/// Each text, and its lines written out.
#[test]
fn lines_end_at_three_breaks_only() {
    let table: &[(&str, &[&str])] = &[
        ("", &[""]),
        ("one", &["one"]),
        ("one\n", &["one", ""]),
        ("one\r\ntwo\rthree\nfour", &["one", "two", "three", "four"]),
        ("\r\r\n\n", &["", "", "", ""]),
        ("\n\r", &["", "", ""]),
        // Breaks elsewhere, none here: line separator, next line, vertical tab, form feed.
        (
            "a\u{2028}b\u{85}c\u{b}d\u{c}e",
            &["a\u{2028}b\u{85}c\u{b}d\u{c}e"],
        ),
    ];
    for (text, expected) in table {
        let lines = Lines::of(text);
        let found: Vec<&str> = (0..lines.line_count())
            .map(|line| lines.line_span(line).slice(text))
            .collect();
        assert_eq!(&found, expected, "{text:?}");
        let whole: String = (0..lines.line_count())
            .map(|line| lines.full_line_span(line).slice(text))
            .collect();
        assert_eq!(&whole, text);
        assert_eq!(lines.line_span(99), Span::at(text.len() as u32));
    }
}

/// "B♭ 🎺 x": the flat sign is 3 bytes, 1 unit of UTF-16; the trumpet is 4 bytes, 2 units. Sizes from
/// The Unicode Standard 15.0, section 3.9, tables 3-5 and 3-6.
#[test]
fn columns_in_three_units() {
    let text = "key\r\nB♭ 🎺 x\n";
    let lines = Lines::of(text);
    let table = [
        // offset, column in utf-8, utf-16, utf-32
        (5, 0, 0, 0),
        (6, 1, 1, 1),
        (9, 4, 2, 2),
        (10, 5, 3, 3),
        (14, 9, 5, 4),
        (16, 11, 7, 6),
    ];
    for (offset, utf8, utf16, utf32) in table {
        for (encoding, column) in ALL.into_iter().zip([utf8, utf16, utf32]) {
            let position = Position::new(1, column);
            assert_eq!(
                lines.position(text, offset, encoding),
                position,
                "{offset} {encoding:?}"
            );
            assert_eq!(
                lines.offset(text, position, encoding),
                offset,
                "{offset} {encoding:?}"
            );
        }
    }
}

#[test]
fn places_that_do_not_exist_are_moved_back() {
    let text = "key\r\nB♭ 🎺 x\nlast";
    let lines = Lines::of(text);
    let offsets = [
        // position, encoding, offset
        ((0, 99), Encoding::Utf16, 3, "past a line's end, before its break"),
        ((1, u32::MAX), Encoding::Utf8, 16, "past a line's end"),
        ((9, 0), Encoding::Utf16, 21, "past the last line"),
        ((u32::MAX, u32::MAX), Encoding::Utf32, 21, "past everything"),
        ((1, 4), Encoding::Utf16, 10, "inside a surrogate pair"),
        ((1, 2), Encoding::Utf8, 6, "inside the flat sign"),
        ((1, 8), Encoding::Utf8, 10, "inside the trumpet"),
    ];
    for ((line, column), encoding, offset, what) in offsets {
        let position = Position::new(line, column);
        assert_eq!(lines.offset(text, position, encoding), offset, "{what}");
    }
    let positions = [
        (4, (0, 3), "between \\r and \\n"),
        (8, (1, 1), "inside the flat sign"),
        (99, (2, 4), "past the end"),
    ];
    for (offset, (line, column), what) in positions {
        let found = lines.position(text, offset, Encoding::Utf16);
        assert_eq!(found, Position::new(line, column), "{what}");
    }
}

/// Counts by walking every character from the start, the slow way, to compare with.
fn walked(text: &str, offset: usize, encoding: Encoding) -> Position {
    let mut at = Position::default();
    let mut rest = text.char_indices().peekable();
    while let Some((index, character)) = rest.next() {
        if index + character.len_utf8() > offset {
            break;
        }
        let next = rest.peek().map(|(_, next)| *next);
        match character {
            '\r' if next == Some('\n') => {
                if index + 2 > offset {
                    break;
                }
            }
            '\r' | '\n' => at = Position::new(at.line + 1, 0),
            other => at.column += encoding.units(other),
        }
    }
    at
}

pub(crate) fn bandish() -> impl Strategy<Value = String> {
    let part = prop_oneof![
        Just("\n"),
        Just("\r\n"),
        Just("\r"),
        Just("  "),
        Just("a"),
        Just("♭"),
        Just("🎺"),
        Just("e\u{301}"),
        Just("piece \"Air\""),
        Just("handbook"),
        Just("\u{feff}"),
        Just("\u{2028}"),
    ];
    proptest::collection::vec(part, 0..24).prop_map(|parts| parts.concat())
}

fn encodings() -> impl Strategy<Value = Encoding> {
    prop_oneof![Just(Encoding::Utf8), Just(Encoding::Utf16), Just(Encoding::Utf32)]
}

proptest! {
    #[test]
    fn positions_are_what_walking_gives(text in bandish(), encoding in encodings()) {
        let lines = Lines::of(&text);
        for offset in 0..=text.len() + 2 {
            let found = lines.position(&text, offset as u32, encoding);
            prop_assert_eq!(found, walked(&text, offset, encoding), "offset {}", offset);
        }
    }

    #[test]
    fn there_and_back(text in bandish(), encoding in encodings()) {
        let lines = Lines::of(&text);
        for (offset, _) in text.char_indices() {
            let inside_break = text[..offset].ends_with('\r') && text[offset..].starts_with('\n');
            if !inside_break {
                let position = lines.position(&text, offset as u32, encoding);
                prop_assert_eq!(lines.offset(&text, position, encoding), offset as u32);
            }
        }
    }

    /// An editor that counts in its own units and keeps its text as a row of such units makes the same
    /// text as ours, whatever places it sends.
    #[test]
    fn a_script_of_edits_gives_the_text_an_editor_has(
        start in bandish(),
        encoding in encodings(),
        script in proptest::collection::vec(
            ((0u32..6, 0u32..30), (0u32..6, 0u32..30), bandish()), 0..8),
    ) {
        let mut ours = start.clone();
        let mut editor = start;
        for ((line_a, column_a), (line_b, column_b), text) in script {
            let a = Position::new(line_a, column_a);
            let b = Position::new(line_b, column_b);
            let (from, to) = (a.min(b), a.max(b));
            let lines = Lines::of(&ours);
            let span = lines.span(&ours, from, to, encoding);
            ours = apply(&ours, &[Edit::replace(span, text.clone())]).map_err(|e| TestCaseError::fail(e.to_string()))?;
            editor = rebuilt(&editor, from, to, encoding, &text);
            prop_assert_eq!(&ours, &editor);
        }
    }
}

/// Replaces by building the new text line by line and character by character.
fn rebuilt(text: &str, from: Position, to: Position, encoding: Encoding, new: &str) -> String {
    let place = |position: Position| {
        // Every place an editor can name, in order, with its position.
        let mut best = 0;
        for offset in (0..=text.len()).filter(|offset| text.is_char_boundary(*offset)) {
            let inside_break = text[..offset].ends_with('\r') && text[offset..].starts_with('\n');
            if !inside_break && walked(text, offset, encoding) <= position {
                best = offset;
            }
        }
        best
    };
    let (from, to) = (place(from), place(to));
    [&text[..from], new, &text[to..]].concat()
}

#[test]
fn whole_lines_are_those_of_the_text() {
    for text in ["", "a", "a\n", "a\r\nb\rc\n\nd", "\r\n\r\n", "\r", "a\r\n"] {
        let lines = Lines::of(text);
        for start in 0..=text.len() as u32 {
            for end in start..=text.len() as u32 {
                let first = lines.full_line_span(lines.line_at(start));
                let last = lines.full_line_span(lines.line_at(end));
                assert_eq!(
                    whole_lines(text, Span::new(start, end)),
                    first.cover(last),
                    "{text:?} {start}-{end}"
                );
            }
        }
    }
}
