//! What is the matter with an instrument that is there all the same: `missing the top bar`.

use super::cursor::single;

/// What may be the matter with an instrument that is there all the same, in the usual words (common practice, no
/// source).
const FLAWS: &[&str] = &[
    "missing", "lacks", "lacking", "slips", "sticks", "slipping", "sticking", "bad", "torn", "dented",
    "cracked", "loose", "worn", "old", "dead", "rattles", "rattling", "wobbly", "bent", "rusty", "stuck",
    "no", "chipped", "ripped", "broken", "split", "cracking", "missing", "bent", "damaged",
];
const THINGS: &[&str] = &[
    "bar",
    "bars",
    "pedal",
    "pedals",
    "strainer",
    "stand",
    "stands",
    "head",
    "heads",
    "lug",
    "lugs",
    "rod",
    "rods",
    "frame",
    "resonator",
    "resonators",
    "strap",
    "straps",
    "wheel",
    "wheels",
    "cover",
    "snares",
    "gauge",
    "gauges",
    "case",
    "mallets",
    "beater",
    "beaters",
    "damper",
    "cord",
    "cords",
];
const AROUND: &[&str] = &[
    "the", "a", "an", "its", "on", "of", "with", "one", "two", "top", "bottom", "has", "is", "and", "low",
    "high", "it",
];

/// `missing the top Bb bar`, `the pedal on the 23" slips`, `with no stand`: what is the matter with it, in words that
/// are all of these.
pub(super) fn is_flaw(text: &str) -> bool {
    let lower = single(text).to_lowercase();
    let (mut flaw, mut thing) = (false, false);
    let known = lower.split(' ').all(|word| {
        let bare = word.trim_end_matches(['"', '″', '”']);
        let size = bare.len() == 2 && bare.chars().all(|c| c.is_ascii_digit());
        let note = crate::music::Tonic::read(&capital(bare)).is_some();
        flaw |= FLAWS.contains(&bare);
        thing |= THINGS.contains(&bare);
        size || note || FLAWS.contains(&bare) || THINGS.contains(&bare) || AROUND.contains(&bare)
    });
    known && flaw && (thing || lower.split(' ').count() > 2) && !lower.starts_with("no ")
}

fn capital(word: &str) -> String {
    let mut letters = word.chars();
    letters
        .next()
        .map_or_else(String::new, |first| first.to_uppercase().chain(letters).collect())
}

/// `xylo missing the top Bb bar`, `a bass drum with no stand`, `1 timp the 29 pedal sticks`.
pub(super) fn take_flaw(text: &str) -> (&str, Option<&str>) {
    let found = text.match_indices(' ').take(8).find_map(|(at, _)| {
        let (head, tail) = (text.get(..at)?, text.get(at + 1..)?);
        let led = [
            "missing ",
            "with ",
            "w ",
            "but ",
            "the ",
            "one with ",
            "has ",
            "lacks ",
            "whose ",
        ]
        .iter()
        .any(|lead| tail.starts_with(lead));
        (led && is_flaw(tail.strip_prefix("but ").unwrap_or(tail)) && !head.trim().is_empty())
            .then_some((head, tail))
    });
    match found {
        Some((head, tail)) => (head.trim_end_matches([' ', ',']), Some(tail)),
        None => (text, None),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn flaws_are_read_in_the_usual_words() {
        for (text, head, flaw) in [
            (
                "xylo missing the top Bb bar",
                "xylo",
                Some("missing the top Bb bar"),
            ),
            ("a bass drum with no stand", "a bass drum", Some("with no stand")),
            (
                "bass drum 1 but the head is ripped",
                "bass drum 1",
                Some("but the head is ripped"),
            ),
            (
                "1 timp the 29 pedal sticks",
                "1 timp",
                Some("the 29 pedal sticks"),
            ),
            (
                "2 snares one with a bad strainer",
                "2 snares",
                Some("one with a bad strainer"),
            ),
            ("xylo missing the zqxv bar", "xylo missing the zqxv bar", None),
            ("no mallets", "no mallets", None),
            ("bells with mallets", "bells with mallets", None),
        ] {
            assert_eq!(take_flaw(text), (head, flaw), "{text}");
        }
        assert!(is_flaw("the pedal on the 23\" slips"));
    }
}
