//! A pickup in a director's words.

use crate::music::BeatUnit;
use crate::music::fraction::Fraction;

/// The length of a pickup as directors write it: `1 beat`, `two eighths`, `a quarter note`, `half a beat`.
pub(super) fn pickup(words: &str, beat: Option<BeatUnit>) -> Option<Fraction> {
    let words = words.trim().to_lowercase();
    let (count, unit) = match words.split_once(' ') {
        Some((count, unit)) => match count {
            "a" | "an" | "one" => (1, unit),
            "two" => (2, unit),
            "three" => (3, unit),
            "four" => (4, unit),
            "five" => (5, unit),
            _ => match count.parse::<u32>() {
                Ok(count) if (1..=64).contains(&count) => (count, unit),
                _ => (1, words.as_str()),
            },
        },
        None => (1, words.as_str()),
    };
    let unit = unit.trim();
    let one = match unit {
        "beat" | "beats" => beat?,
        _ => BeatUnit::read(unit.trim_end_matches('s'))
            .or_else(|| BeatUnit::read(unit.strip_suffix(" notes").unwrap_or(unit)))?,
    };
    let one = one.length();
    Fraction::new(one.numerator().checked_mul(count)?, one.denominator())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::music::Meter;

    #[test]
    fn pickups_are_read_in_words() {
        let beat = Meter::read("6/8").and_then(|meter| meter.beat());
        for (words, length) in [
            ("1 beat", Some((3, 8))),
            ("two eighths", Some((1, 4))),
            ("a quarter note", Some((1, 4))),
            ("3 eighth notes", Some((3, 8))),
            ("quarter", Some((1, 4))),
            ("a bit of noise", None),
            ("", None),
        ] {
            let read = pickup(words, beat).map(|length| (length.numerator(), length.denominator()));
            assert_eq!(read, length, "{words}");
        }
    }
}
