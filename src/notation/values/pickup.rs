//! What sounds before the first full measure: `1 beat`, `3 eighths`, `none`.

use std::fmt;

use crate::music::BeatUnit;
use crate::music::fraction::Fraction;

use super::cursor::Cursor;
use crate::notation::names;

/// A pickup.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Pickup {
    /// There is none.
    None,
    /// So many beats of the meter; in halves.
    HalfBeats(u32),
    /// So many notes of a kind.
    Notes(u32, BeatUnit),
}

impl Pickup {
    /// Reads `1 beat`, `half a beat`, `2 beats`, `3 eighths`, `one quarter note`, `2 8ths`, `a quarter`, `none`.
    pub fn read(text: &str) -> Option<Pickup> {
        let mut words = Cursor::new(text);
        if words.any(&["none", "no pickup", "no upbeat", "nope", "no"]) {
            words.any(&[
                "starts on 1",
                "starts on one",
                "starts on beat 1",
                "starts on beat one",
                "starts on the downbeat",
                "it starts on 1",
                "it starts on one",
                "begins on the downbeat",
            ]);
            return words.done().then_some(Pickup::None);
        }
        let half = words.any(&["half a beat", "half beat", "a half beat", "1/2 beat"]);
        let found = if half {
            Pickup::HalfBeats(1)
        } else {
            let count = match words.any(&["a", "an"]) {
                true => 1,
                false => words.number().unwrap_or(1),
            };
            (1..=64).contains(&count).then_some(())?;
            if words.any(&["beats", "beat"]) {
                Pickup::HalfBeats(count.checked_mul(2)?)
            } else {
                let unit = words.longest(unit)?;
                words.any(&["notes", "note"]);
                Pickup::Notes(count, unit)
            }
        };
        words.any(&["upbeat", "pickup", "pick-up"]);
        words.any(&[
            "into bar 1",
            "into measure 1",
            "into m. 1",
            "into 1",
            "before bar 1",
            "before 1",
        ]);
        words.done().then_some(found)
    }

    /// Its length in whole notes, where the length of a beat is known or not asked for.
    pub fn length(self, beat: Option<BeatUnit>) -> Option<Fraction> {
        match self {
            Pickup::None => None,
            Pickup::HalfBeats(halves) => {
                let one = beat?.length();
                Fraction::new(
                    one.numerator().checked_mul(halves)?,
                    one.denominator().checked_mul(2)?,
                )
            }
            Pickup::Notes(count, unit) => {
                let one = unit.length();
                Fraction::new(one.numerator().checked_mul(count)?, one.denominator())
            }
        }
    }
}

/// Who plays it, where not everybody does: `in flute and clarinet 1 only`, `low brass has it too`, `tutti`.
pub fn players(text: &str) -> Option<String> {
    let text = text.trim();
    let text = [
        "only in ", "only ", "in the ", "in ", "by the ", "by ", "for the ", "for ", "just ",
    ]
    .iter()
    .find_map(|lead| text.strip_prefix(lead))
    .unwrap_or(text);
    let tails = [
        " only",
        " alone",
        " has it too",
        " have it too",
        " has em too",
        " have em too",
        " has them too",
        " have them too",
        " has it",
        " have it",
        " has them",
        " have them",
        " as well",
        " too",
    ];
    let tail = tails.iter().find(|tail| text.ends_with(**tail));
    let text = tail.and_then(|tail| text.strip_suffix(tail)).unwrap_or(text);
    let shade = match tail {
        Some(tail) if tail.ends_with("too") || tail.ends_with("as well") => " too",
        Some(tail) if tail.ends_with("only") || tail.ends_with("alone") => " only",
        _ => "",
    };
    if ["tutti", "all", "everybody", "everyone", "the whole band"]
        .iter()
        .any(|all| text.eq_ignore_ascii_case(all))
    {
        return Some("everybody".to_owned());
    }
    let joined = text.replace(" & ", " and ").replace(" + ", " and ");
    let names: Option<Vec<String>> = joined
        .split(" and ")
        .map(|name| {
            let cut = names::cut_number(name.trim(), true);
            let known = names::known_prefix(cut.words) == Some(cut.words.len());
            (known && !cut.about).then(|| names::part_in_full(name.trim()))
        })
        .collect();
    names.map(|names| format!("{}{shade}", names.join(" and ")))
}

fn unit(text: &str) -> Option<BeatUnit> {
    let figures = [
        ("8ths", "eighth"),
        ("8th", "eighth"),
        ("4ths", "quarter"),
        ("16ths", "sixteenth"),
        ("16th", "sixteenth"),
    ];
    let text = figures
        .iter()
        .find(|(figure, _)| *figure == text)
        .map_or(text, |(_, word)| word);
    BeatUnit::read(text).or_else(|| BeatUnit::read(text.strip_suffix('s')?))
}

impl fmt::Display for Pickup {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Pickup::None => f.write_str("none"),
            Pickup::HalfBeats(1) => f.write_str("half a beat"),
            Pickup::HalfBeats(2) => f.write_str("1 beat"),
            Pickup::HalfBeats(halves) => write!(f, "{} beats", halves / 2),
            Pickup::Notes(1, unit) => write!(f, "1 {unit}"),
            Pickup::Notes(count, unit) => write!(f, "{count} {unit}s"),
        }
    }
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
            ("half a beat", Some((3, 16))),
            ("two eighths", Some((1, 4))),
            ("2 8ths", Some((1, 4))),
            ("a quarter note", Some((1, 4))),
            ("one quarter note", Some((1, 4))),
            ("3 eighth notes", Some((3, 8))),
            ("quarter", Some((1, 4))),
            ("one crotchet upbeat", Some((1, 4))),
            ("3 eighth notes into bar 1", Some((3, 8))),
            ("3 eighths into zqxv 1", None),
            ("none", None),
            ("a bit of noise", None),
            ("1 zqxv beat", None),
            ("1 beat zqxv", None),
            ("", None),
        ] {
            let read = Pickup::read(words);
            let long = read.and_then(|pickup| pickup.length(beat));
            let long = long.map(|length| (length.numerator(), length.denominator()));
            assert_eq!(long, length, "{words}");
            let shown = read.map(|pickup| pickup.to_string());
            assert_eq!(
                shown.and_then(|shown| Pickup::read(&shown)),
                read,
                "{words} again"
            );
        }
        assert_eq!(Pickup::read("none"), Some(Pickup::None));
    }
}
