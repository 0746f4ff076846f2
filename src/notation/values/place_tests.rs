//! Places as directors write them.

use super::*;
use crate::notation::values::pass_words;

#[test]
fn places_behind_at() {
    for (written, one_form) in [
        ("33", Some("at 33")),
        ("m. 33", Some("at 33")),
        ("20-21", Some("at 20-21")),
        ("37-37", Some("at 37-37")),
        ("20 to 21", Some("at 20-21")),
        ("A", Some("at A")),
        ("b", Some("at b")),
        ("letter B", Some("at B")),
        ("rehearsal mark AA", Some("at AA")),
        ("rehearsal 4", Some("at \"4\"")),
        ("the trio", Some("at trio")),
        ("2nd strain", Some("at 2nd strain")),
        ("A to C", Some("at A to C")),
        ("A-C", Some("at A to C")),
        ("trio to the end", Some("at trio to the end")),
        ("the end", Some("at the end")),
        ("last measure", Some("at the last measure")),
        ("last 4 measures", Some("at last 4 measures")),
        ("first 8", Some("at 1-8")),
        ("33 to the end", Some("at 33 to the end")),
        ("33 on", Some("at 33 to the end")),
        ("4 before B", Some("at 4 before B")),
        ("four bars after the trio", Some("at 4 after trio")),
        ("2 before 33", Some("at 31")),
        ("pickup to 9", Some("at pickup to 9")),
        ("movement 2", Some("in movement 2")),
        ("throughout", Some("throughout")),
        ("\"big tune\"", Some("at \"big tune\"")),
        // One word is the director's own mark; a rule looks for it on the card.
        ("storm", Some("at storm")),
        ("dawn to storm", Some("at \"dawn\" to \"storm\"")),
        ("zqxv 33", None),
        ("33 zqxv", None),
        ("A zqxv", None),
        ("the big tune", None),
        ("\"unclosed", None),
        ("", None),
    ] {
        let read = after_at(written);
        let shown = read.as_ref().map(ToString::to_string);
        assert_eq!(shown.as_deref(), one_form, "{written}");
        if let Some(shown) = shown {
            let bare = shown.trim_start_matches("at ").trim_start_matches("in ");
            assert_eq!(after_at(bare), read, "{written} again");
        }
    }
}

#[test]
fn values_and_places() {
    for (written, value, place) in [
        ("3/4 at 37-37", "3/4", Some("at 37-37")),
        ("3/4 m. 33", "3/4", Some("at 33")),
        ("2 flats letter B", "2 flats", Some("at B")),
        ("poco rall. last 4 bars", "poco rall.", Some("at last 4 measures")),
        ("2 flats throughout", "2 flats", Some("throughout")),
        ("F major at zqxv 33", "F major at zqxv 33", None),
        ("mood at dawn of day", "mood at dawn of day", None),
        ("from the beginning", "from the beginning", None),
    ] {
        let (left, found) = split_place(written);
        assert_eq!(left, value, "{written}");
        assert_eq!(
            found.map(|place| place.to_string()).as_deref(),
            place,
            "{written}"
        );
    }
}

#[test]
fn what_a_part_plays() {
    for (written, read, left) in [
        ("5-20", "at 5-20", ""),
        ("mm. 5-20", "at 5-20", ""),
        ("m.5", "at 5-5", ""),
        ("16", "at 16-16", ""),
        ("bars 5 to 20", "at 5-20", ""),
        ("1-20 and 30-40", "at 1-20, at 30-40", ""),
        ("1-20 & 30-40", "at 1-20, at 30-40", ""),
        ("1-20 30-40", "at 1-20, at 30-40", ""),
        ("1-20, 30-40", "at 1-20", ", 30-40"),
        ("8, 32", "at 8-8", ", 32"),
        ("8 and 32", "at 8-8, at 32-32", ""),
        ("from 1 to 40", "at 1-40", ""),
        ("1-end", "at 1 to the end", ""),
        ("33 to the end", "at 33 to the end", ""),
        ("33 on", "at 33 to the end", ""),
        ("from 33 on", "at 33 to the end", ""),
        ("from bar 45 to the end", "at 45 to the end", ""),
        ("A-C", "at A to C", ""),
        ("A to C", "at A to C", ""),
        ("letter A to letter C", "at A to C", ""),
        ("trio", "at trio", ""),
        ("the trio", "at trio", ""),
        ("at trio", "at trio", ""),
        ("from the trio on", "at trio to the end", ""),
        ("4 bars at 33", "at 33-36", ""),
        ("4 measures at B", "at B to 3 after B", ""),
        ("at A for 8 bars", "at A to 7 after A", ""),
        ("last 4 measures", "at last 4 measures", ""),
        ("first 8", "at 1-8", ""),
        ("throughout", "throughout", ""),
        ("the whole piece", "throughout", ""),
        ("beginning to 20", "at 1-20", ""),
        ("pickup to 9", "at pickup to 9 to pickup to 9", ""),
        ("pickup to 9 to 16", "at pickup to 9 to 16", ""),
        ("1-40 optional", "at 1-40", " optional"),
        ("1-40 strong player", "at 1-40", " strong player"),
        ("5-20 yarn mallets", "at 5-20", " yarn mallets"),
        ("1-40 and 2 triangles", "at 1-40", " and 2 triangles"),
        ("1-40 4 players", "at 1-40", " 4 players"),
        ("33 on cue", "at 33-33", " on cue"),
        ("last 4 players", "", "last 4 players"),
        ("4 players", "", "4 players"),
        ("2nd time", "", "2nd time"),
        ("D4-D5", "", "D4-D5"),
        ("a clarinet", "", "a clarinet"),
        ("storm", "", "storm"),
        ("zqxv 1-20", "", "zqxv 1-20"),
        ("1-zqxv", "", "1-zqxv"),
    ] {
        let found = passages(written);
        let shown = found.as_ref().map_or(String::new(), |(places, _)| {
            places
                .iter()
                .map(ToString::to_string)
                .collect::<Vec<_>>()
                .join(", ")
        });
        assert_eq!(shown, read, "{written}");
        assert_eq!(&written[found.map_or(0, |(_, used)| used)..], left, "{written}");
    }
}

#[test]
fn times_through() {
    for (written, passes, left) in [
        ("second time only", vec![2], ""),
        ("2nd time", vec![2], ""),
        ("2nd time only, soft", vec![2], ", soft"),
        ("on the repeat", vec![2], ""),
        ("first time only", vec![1], ""),
        ("only the first time", vec![1], ""),
        ("1st and 3rd times", vec![1, 3], ""),
        ("both times", vec![1, 2], ""),
        ("second clarinet", vec![], "second clarinet"),
        ("zqxv time only", vec![], "zqxv time only"),
    ] {
        let found = pass_words(written);
        let used = found.as_ref().map_or(0, |(_, used)| *used);
        assert_eq!(found.unwrap_or_default().0, passes, "{written}");
        assert_eq!(&written[used..], left, "{written}");
    }
}
