//! Tests of `text::edit`.

use super::*;
use crate::text::{Encoding, Lines};
use proptest::prelude::*;

#[test]
fn edits_made_at_once() {
    let text = "bells 5-20";
    let table: &[(&[(u32, u32, &str)], &str)] = &[
        (&[], "bells 5-20"),
        (&[(0, 5, "snare")], "snare 5-20"),
        // Given in any order, each in places of the old text.
        (&[(6, 7, "33"), (0, 0, "soft ")], "soft bells 33-20"),
        (&[(0, 0, "a "), (0, 0, "b ")], "a b bells 5-20"),
        (&[(0, 5, "snare"), (0, 0, "two ")], "two snare 5-20"),
        (&[(0, 5, ""), (5, 10, "x")], "x"),
        (&[(8, 99, "24")], "bells 5-24"),
    ];
    for (edits, expected) in table {
        let edits: Vec<Edit> = edits
            .iter()
            .map(|(start, end, text)| Edit::replace(Span::new(*start, *end), *text))
            .collect();
        assert_eq!(apply(text, &edits).as_deref(), Ok(*expected));
    }
}

#[test]
fn edits_of_the_same_place_are_refused() {
    let clash = [
        Edit::remove(Span::new(3, 7)),
        Edit::replace(Span::new(0, 4), "snare"),
    ];
    let overlap = Overlap {
        first: Span::new(0, 4),
        second: Span::new(3, 7),
    };
    assert_eq!(apply("bells 5-20", &clash), Err(overlap));
    let inside = [Edit::remove(Span::new(3, 7)), Edit::insert(5, "x")];
    assert!(apply("bells 5-20", &inside).is_err());
}

/// Before, after, and the edits as (start, end, text).
#[test]
fn the_smallest_edits() {
    let table: &[(&str, &str, &[(u32, u32, &str)])] = &[
        ("a\nb\n", "a\nb\n", &[]),
        ("", "a\n", &[(0, 0, "a\n")]),
        ("a\n", "", &[(0, 2, "")]),
        (
            "  grade 1\n  meter 4/4\n",
            "  grade 2\n  meter 4/4\n",
            &[(8, 9, "2")],
        ),
        // Two places far apart give two edits, so that a cursor between them stays.
        (
            "x 1\nsame\ny 1\n",
            "x 2\nsame\ny 2\n",
            &[(2, 3, "2"), (11, 12, "2")],
        ),
        ("B♭\n", "B♮\n", &[(1, 4, "♮")]),
        // A break is exchanged whole.
        ("a\r\nb", "a\nb", &[(1, 3, "\n")]),
        ("a\nb", "a\r\nb", &[(1, 1, "\r")]),
        ("a\r\nb", "a\rb", &[(1, 3, "\r")]),
    ];
    for (before, after, expected) in table {
        let edits: Vec<Edit> = expected
            .iter()
            .map(|(start, end, text)| Edit::replace(Span::new(*start, *end), *text))
            .collect();
        assert_eq!(minimal(before, after), edits, "{before:?} to {after:?}");
    }
}

#[test]
fn very_many_changed_lines_become_one_edit() {
    let before: String = (0..MOST_LINES).map(|n| format!("a{n}\n")).collect();
    let after: String = (0..MOST_LINES).map(|n| format!("b{n}\n")).collect();
    let edits = minimal(&before, &after);
    assert_eq!(edits.len(), 1);
    assert_eq!(apply(&before, &edits), Ok(after));
}

fn texts() -> impl Strategy<Value = String> {
    let part = prop_oneof![
        Just("\n"),
        Just("\r\n"),
        Just("\r"),
        Just("a"),
        Just("b"),
        Just("♭"),
        Just("♮"),
        Just("🎺"),
        Just("🎷"),
        Just("a b\n"),
        Just("\n\n"),
    ];
    proptest::collection::vec(part, 0..30).prop_map(|parts| parts.concat())
}

proptest! {
    #[test]
    fn the_smallest_edits_give_the_new_text(before in texts(), after in texts()) {
        let edits = minimal(&before, &after);
        prop_assert_eq!(apply(&before, &edits), Ok(after.clone()));
        for pair in edits.windows(2) {
            prop_assert!(pair[0].span.end < pair[1].span.start);
        }
        for edit in &edits {
            for at in [edit.span.start, edit.span.end] {
                prop_assert!(before.is_char_boundary(at as usize));
                prop_assert!(!splits_break(&before, at as usize));
            }
        }
    }

    /// The edits survive being spoken as lines and columns.
    #[test]
    fn the_smallest_edits_can_be_named_by_an_editor(before in texts(), after in texts()) {
        let lines = Lines::of(&before);
        for encoding in [Encoding::Utf8, Encoding::Utf16, Encoding::Utf32] {
            let there_and_back: Vec<Edit> = minimal(&before, &after)
                .into_iter()
                .map(|edit| {
                    let from = lines.position(&before, edit.span.start, encoding);
                    let to = lines.position(&before, edit.span.end, encoding);
                    Edit::replace(lines.span(&before, from, to, encoding), edit.text)
                })
                .collect();
            prop_assert_eq!(apply(&before, &there_and_back), Ok(after.clone()));
        }
    }
}
