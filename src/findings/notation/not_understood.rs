//! Words that are not what their line holds.

use crate::findings::card::Card;
use crate::findings::finding::{Repair, Saying, Severity};
use crate::findings::rule::{Notice, Noticed};
use crate::notation::fields::Shape;
use crate::notation::row::Fact;
use crate::notation::{Of, items, values};
use crate::rule;
use crate::text::{Edit, Span};

use super::walk::levels;
use crate::findings::slips;

rule! {
    /// Words that cannot be read as what their line holds: a tempo without a note value, a meter that does not
    /// exist, a day with five figures in its year, a range with a note that is none.
    ///
    /// # Why it matters
    ///
    /// What is not understood is left out of every count, so the piece is judged as if the line were not there.
    ///
    /// # Draws it
    ///
    /// ```levare
    /// piece "Blue Shutters"
    ///   tempo           quater = 76
    ///                   ^^^^^^^^^^^
    /// ```
    ///
    /// ```levare
    /// piece "Odd Socks"
    ///   meter           4/5
    ///                   ^^^
    /// ```
    ///
    /// ```levare
    /// piece "Gatepost March"
    ///   parts
    ///     alto sax        D-B5
    ///                     ^^^^
    /// ```
    ///
    /// # Does not
    ///
    /// ```levare
    /// piece "Hinge"
    ///   tempo           q = 88, then a little slower
    ///   meter           cut
    ///   price           about $45
    ///   parts
    ///     alto sax        D4 - B5
    /// ```
    ///
    /// # What to do
    ///
    /// Write it the way the message shows, or move the words to `notes`.
    NotUnderstood: "not understood", Notation, Error, reads Card
}

/// What could not be read, and what it may have been meant for.
pub struct Puzzle {
    place: String,
    words: String,
    expected: String,
    meant: Vec<String>,
    /// Whether the line only tells of the music, so that no player and no instrument is lost with it.
    music: bool,
}

/// Lines whose words a director may well mean, though they are read only as figures.
const MUSIC: [&str; 4] = ["tempo", "tonal center", "meter", "roadmap"];

impl Notice for NotUnderstood {
    type What = Puzzle;

    fn notice(card: &Card<'_>) -> Vec<Noticed<Puzzle>> {
        let mut found = Vec::new();
        for level in levels(card) {
            for field in level.fields {
                let Some(spec) = field.spec else { continue };
                let place = level.at(spec.name);
                if let Shape::List(of) | Shape::Value(of) = spec.shape {
                    for item in field.items().iter().filter(|item| item.is_wrong()) {
                        let span = wrong_part(card, of, item.core);
                        let words = card.words(span).to_owned();
                        found.push(Noticed::new(
                            span,
                            Puzzle {
                                place: place.clone(),
                                expected: expected(of, &words),
                                meant: meant(of, &words),
                                music: MUSIC.contains(&spec.name),
                                words,
                            },
                        ));
                    }
                }
                for row in field.rows() {
                    let names: Vec<String> = row.row.names.iter().map(|name| name.one_form()).collect();
                    for fact in &row.row.facts {
                        let Fact::NoRange(words) = &fact.what else {
                            continue;
                        };
                        found.push(Noticed::new(
                            fact.span,
                            Puzzle {
                                place: format!("{place}, {}", names.join(", ")),
                                words: words.clone(),
                                expected: expected_range(words),
                                meant: ranges_meant(words),
                                music: false,
                            },
                        ));
                    }
                }
            }
        }
        found
    }

    fn severity(what: &Puzzle) -> Option<Severity> {
        what.music.then_some(Severity::Warning)
    }

    fn say(what: &Puzzle, _card: &Card<'_>) -> Saying {
        let meant = match what.meant.as_slice() {
            [one] => format!(" Did you mean {one}?"),
            [one, other, ..] => format!(" Did you mean {one} or {other}?"),
            [] => String::new(),
        };
        Saying {
            place: what.place.clone(),
            says: format!(
                "Levare cannot read \"{}\" here; it expects {}.{meant}",
                what.words, what.expected
            ),
            why: "What cannot be read is left out of every count, so the piece is judged without it."
                .to_owned(),
            todo: "Mend the words, or move them to notes.".to_owned(),
        }
    }

    fn repairs(noticed: &Noticed<Puzzle>, _card: &Card<'_>) -> Vec<Repair> {
        let what = &noticed.what;
        let only = what.meant.len() == 1
            && what
                .meant
                .first()
                .is_some_and(|one| slips::slips(one, &what.words) == 1);
        what.meant
            .iter()
            .map(|meant| Repair {
                title: format!("Write {meant}"),
                // A figure that slipped may have been any other; only a word's spelling is certain.
                safe: only && figures(meant) == figures(&what.words),
                edits: vec![Edit::replace(noticed.span, meant.clone())],
            })
            .collect()
    }
}

/// The part that cannot be read: of a performance the day in front of the band.
fn wrong_part(card: &Card<'_>, of: Of, span: Span) -> Span {
    let words = card.words(span);
    let day = words.split(super::name_without_quotes::is_quote).next();
    let day = day.map_or(words, |day| day.trim_end_matches([' ', '\t', ',']));
    match of {
        Of::Performance if !day.is_empty() => Span::long(span.start, day.len() as u32),
        _ => span,
    }
}

fn figures(text: &str) -> String {
    text.chars().filter(char::is_ascii_digit).collect()
}

/// What the field holds, with a word more about the commonest slips.
fn expected(of: Of, words: &str) -> String {
    let lower = words.rsplit_once('/').map(|(_, lower)| lower.trim());
    let odd = lower.is_some_and(|lower| lower.parse::<u32>().is_ok());
    match of {
        Of::Meter if odd => {
            format!("{}; the lower number is 1, 2, 4, 8, 16 or 32", of.expected())
        }
        Of::Range | Of::InstrumentRange if words.contains(['h', 'H']) => {
            format!("{}; the notes are A to G", of.expected())
        }
        Of::Performance => "a day that the calendar has, such as 2024-05-12".to_owned(),
        Of::Moment => format!("{}, and a day that the calendar has", of.expected()),
        _ => of.expected().to_owned(),
    }
}

fn expected_range(words: &str) -> String {
    let why = match words.to_lowercase().contains('h') {
        true => "the notes are A to G, with b for flat and # for sharp",
        false => "each note needs the number of its octave",
    };
    format!("two written pitches, such as A3-C5 (C4 is middle C); {why}")
}

/// Words that lines of a kind are made of, for finding the one that slipped.
fn vocabulary(of: Of) -> &'static [&'static str] {
    match of {
        Of::Tempo => &["whole", "half", "quarter", "eighth", "sixteenth", "dotted"],
        Of::Key => &[
            "major",
            "minor",
            "dorian",
            "phrygian",
            "lydian",
            "mixolydian",
            "aeolian",
        ],
        Of::Signature => &["flats", "flat", "sharps", "sharp", "none"],
        Of::Meter => &["cut", "common", "none"],
        Of::Lasts => &["minutes", "minute", "seconds", "second"],
        Of::Moment | Of::Performance => &[
            "January",
            "February",
            "March",
            "April",
            "May",
            "June",
            "July",
            "August",
            "September",
            "October",
            "November",
            "December",
        ],
        Of::Road => &[
            "repeat", "segno", "coda", "fine", "ending", "time", "only", "open",
        ],
        Of::Number => &["measures"],
        Of::Grade => &["grade", "publisher", "ours"],
        _ => &[],
    }
}

/// What may have been meant: the words with one of them mended, where that can be read.
fn meant(of: Of, words: &str) -> Vec<String> {
    let mut found: Vec<String> = Vec::new();
    // `6/8 and 2/4`: two values, one after the other.
    let pieces: Vec<&str> = [" and ", " & ", " to ", ";"]
        .into_iter()
        .find(|joint| words.contains(joint))
        .map(|joint| words.split(joint).map(str::trim).collect())
        .unwrap_or_default();
    let all_read = pieces.iter().all(|piece| values::read(of, piece).is_some());
    if items::changes(of) && pieces.len() > 1 && all_read {
        found.push(pieces.join(", then "));
    }
    // The letters O and l for the figures 0 and 1 beside other figures.
    let figures: String = words
        .split_inclusive(char::is_whitespace)
        .map(|word| match word.contains(|c: char| c.is_ascii_digit()) {
            true => word.replace(['O', 'o'], "0").replace(['l', 'I'], "1"),
            false => word.to_owned(),
        })
        .collect();
    if figures != words && values::read(of, &figures).is_some() {
        found.push(figures);
    }
    for word in words
        .split(|c: char| !c.is_alphabetic())
        .filter(|word| word.len() > 2)
    {
        let Some(near) = slips::near(word, vocabulary(of).iter().copied()) else {
            continue;
        };
        let mended = words.replacen(word, &near.word, 1);
        if mended != words && values::read(of, &mended).is_some() && !found.contains(&mended) {
            found.push(mended);
        }
    }
    found.truncate(3);
    found
}

/// Ranges that `D-B5` may stand for: the two octaves that leave a width most like a band part's.
fn ranges_meant(words: &str) -> Vec<String> {
    use crate::music::PitchRange;
    let Some((low, high)) = words.split_once(['-', '–', '—']) else {
        return Vec::new();
    };
    let whole = |low: &str, high: &str| {
        let text = format!("{low}-{high}");
        PitchRange::read(&text).map(|range| (text, range.high.midi() - range.low.midi()))
    };
    let lacks = |end: &str| !end.contains(|c: char| c.is_ascii_digit());
    let octaves = (0..8).rev();
    let mut found: Vec<(String, i32)> = match (lacks(low), lacks(high)) {
        (true, false) => octaves
            .filter_map(|octave| whole(&format!("{low}{octave}"), high))
            .collect(),
        (false, true) => (0..8)
            .filter_map(|octave| whole(low, &format!("{high}{octave}")))
            .collect(),
        _ => Vec::new(),
    };
    // Parts of a school band span about an octave and a half (common practice, no source).
    found.retain(|(_, width)| (5..36).contains(width));
    found.sort_by_key(|(_, width)| (width - 18).abs());
    found.into_iter().map(|(text, _)| text).take(2).collect()
}
