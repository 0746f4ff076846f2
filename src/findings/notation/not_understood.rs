//! Words that are not what their line holds.

use crate::catalogue::doubt::is_slip;
use crate::findings::card::Card;
use crate::findings::finding::{Repair, Saying, Severity};
use crate::findings::rule::{Notice, Noticed};
use crate::music::Instruments;
use crate::notation::fields::{RowsOf, Shape};
use crate::notation::row::Fact;
use crate::notation::{Expected, Of, Unheard, items, values};
use crate::rule;
use crate::text::{Edit, Lines, Span};

use crate::findings::concert::morning_or_evening::in_doubt;
use crate::findings::slips;

rule! {
    /// Words that cannot be read as what their line holds: a tempo without a note value, a meter that does not
    /// exist, a day with five figures in its year, a range with a note that does not exist.
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
    ///                   ^^^^^^
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
    NotUnderstood: "not understood", Notation, Error, reads Card, looks at Any
}

/// What could not be read, and what it may have been meant for.
pub struct Puzzle {
    place: String,
    words: String,
    /// Other words on the same line that could not be read either.
    more: Vec<String>,
    expected: String,
    meant: Vec<String>,
    /// Whether the rest of the item was understood, so that only these words count for nothing.
    left_over: bool,
    /// Another line that the words are right for, with the place of the line's own word.
    line: Option<(&'static str, Span)>,
    /// Whether the line only tells of the music, so that no player and no instrument is lost with it.
    music: bool,
}

/// Lines whose words a director may well mean, though they are read only as figures.
const MUSIC: [&str; 4] = ["tempo", "tonal center", "meter", "roadmap"];

impl Notice for NotUnderstood {
    type What = Puzzle;

    fn notice(card: &Card<'_>) -> Vec<Noticed<Puzzle>> {
        let mut found: Vec<Noticed<Puzzle>> = Vec::new();
        let lines = (!card.reading.unheard.is_empty()).then(|| Lines::of(card.text()));
        let mut told = None;
        for unheard in &card.reading.unheard {
            if in_doubt(card, unheard).is_some() || is_size_of_a_stranger(card, unheard.span) {
                continue;
            }
            let line = lines.as_ref().map(|lines| lines.line_at(unheard.span.start));
            // One finding a line: the first words, with the others named beside them.
            if told == line
                && let Some(last) = found.last_mut()
            {
                last.what.more.push(card.words(unheard.span).to_owned());
                continue;
            }
            told = line;
            found.push(puzzle(card, unheard));
        }
        for level in card.levels() {
            for field in level.fields {
                let Some(spec) = field.spec else { continue };
                for row in field.rows() {
                    let names: Vec<String> = row.row.names.iter().map(|name| name.one_form()).collect();
                    for fact in &row.row.facts {
                        let Fact::NoRange(words) = &fact.what else {
                            continue;
                        };
                        found.push(Noticed::new(
                            fact.span,
                            Puzzle {
                                place: format!("{}, {}", level.at(spec.name), names.join(", ")),
                                words: words.clone(),
                                more: Vec::new(),
                                expected: expected_range(words),
                                meant: ranges_meant(words),
                                left_over: false,
                                line: None,
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
        (what.music || what.left_over).then_some(Severity::Warning)
    }

    fn say(what: &Puzzle, _card: &Card<'_>) -> Saying {
        let line = what.line.map(|(name, _)| format!(" That is a {name}."));
        let meant = match what.meant.as_slice() {
            [one] => format!(" Perhaps {one}?"),
            [one, other, ..] => format!(" Perhaps {one} or {other}?"),
            [] => String::new(),
        };
        let words: Vec<String> = std::iter::once(&what.words)
            .chain(&what.more)
            .map(|words| format!("\"{words}\""))
            .collect();
        let words = match words.as_slice() {
            [head @ .., before, last] => {
                let head: String = head.iter().map(|words| format!("{words}, ")).collect();
                format!("{head}{before} and {last}")
            }
            words => words.concat(),
        };
        Saying {
            place: what.place.clone(),
            says: format!(
                "Levare cannot read {words} here; it expects {}.{}",
                what.expected,
                line.unwrap_or(meant)
            ),
            why: match what.left_over {
                true => {
                    "These words count for nothing. The rest of the line is read as if they were not there."
                        .to_owned()
                }
                false => "What cannot be read is left out of every count, so the card is judged without it."
                    .to_owned(),
            },
            todo: match what.meant.first().filter(|meant| meant.starts_with('"')) {
                Some(title) => format!("If it is a title, write {title}; a remark goes in parentheses."),
                None => {
                    "Say it another way, put it in parentheses as a remark, or move it to notes.".to_owned()
                }
            },
        }
    }

    fn repairs(noticed: &Noticed<Puzzle>, card: &Card<'_>) -> Vec<Repair> {
        let what = &noticed.what;
        let only = what.meant.len() == 1
            && what
                .meant
                .first()
                .is_some_and(|one| slips::slips(one, &what.words) == 1);
        if let Some((name, word)) = what.line {
            return vec![Repair::to_decide(
                format!("Write {name} {}", what.words),
                vec![Edit::replace(word, name)],
            )];
        }
        let mut repairs: Vec<Repair> = what
            .meant
            .iter()
            .map(|meant| Repair {
                title: format!("Write {meant}"),
                // A figure that slipped may have been any other; only a word's spelling is certain.
                safe: only && figures(meant) == figures(&what.words),
                edits: vec![Edit::replace(noticed.span, meant.clone())],
            })
            .collect();
        let plain = !what.words.contains(['(', ')']) && !what.words.is_empty();
        if plain && what.more.is_empty() {
            let remark = format!("({})", card.words(noticed.span));
            repairs.push(Repair::to_decide(
                format!("Make it a remark: {remark}"),
                vec![Edit::replace(noticed.span, remark)],
            ));
        }
        repairs
    }
}

/// Whether words are the sizes of drums behind a name that no instrument goes by, which is told: `timpanni 29`.
fn is_size_of_a_stranger(card: &Card<'_>, span: Span) -> bool {
    let is_size = |word: &str| word == "and" || word.trim_matches(['"', '”', ',']).parse::<u8>().is_ok();
    if !card.words(span).split_whitespace().all(is_size) {
        return false;
    }
    let fields = card.fields("owns").chain(card.fields("borrowed"));
    let mut fields = fields.filter(|field| field.whole.overlaps(span));
    fields.any(|field| {
        let before = field.items().iter().filter(|item| item.span.start < span.start);
        let thing = before.rev().find_map(|item| match &item.value {
            Some(values::Value::Equipment(thing)) => Some(thing),
            _ => None,
        });
        thing.is_some_and(|thing| !thing.known && is_slip(&thing.name, Instruments::standard()))
    })
}

/// What stands where words were not understood: the field, the row, what is left of the item.
fn puzzle(card: &Card<'_>, unheard: &Unheard) -> Noticed<Puzzle> {
    let mut place = String::new();
    let mut span = unheard.span;
    let mut left_over = true;
    let mut line = None;
    let mut music = false;
    // Of levels, fields, rows and items only those that the words touch are looked at: all stand in the order of the
    // text, and a card may have as many as it has such words.
    let mut levels: Vec<usize> = card
        .levels_over()
        .touching(unheard.span)
        .map(|(_, at)| at)
        .collect();
    levels.sort_unstable();
    for level in levels.into_iter().filter_map(|at| card.levels().get(at)) {
        for field in over(level.fields, |field| field.whole, unheard.span) {
            let Some(spec) = field.spec else { continue };
            let deeper = matches!(field.body, crate::notation::Body::Block(_));
            if deeper {
                continue;
            }
            let rows = field.rows();
            let before = rows.partition_point(|row| row.row.span.start <= unheard.span.start);
            let row = before.checked_sub(1).and_then(|at| rows.get(at));
            let inner = row.is_some_and(|row| {
                over(&row.fields, |inner| inner.whole, unheard.span)
                    .next()
                    .is_some()
            });
            if inner {
                continue;
            }
            let names: Vec<String> = row
                .map(|row| row.row.names.iter().map(|name| name.one_form()).collect())
                .unwrap_or_default();
            place = match names.is_empty() {
                true => level.at(spec.name),
                false => format!("{}, {}", level.at(spec.name), names.join(", ")),
            };
            let item = over(field.items(), |item| item.span, unheard.span).next();
            if let (Some(item), Shape::List(of) | Shape::Value(of)) = (item, spec.shape)
                && item.value.is_none()
            {
                span = wrong_part(card, of, item.core);
                left_over = false;
                music = MUSIC.contains(&spec.name);
                line = other_line(of, card.words(span))
                    .filter(|_| field.items().len() == 1 && !field.word.is_empty())
                    .map(|name| (name, field.word));
            }
        }
    }
    let words = card.words(span).to_owned();
    let (expected, meant) = match unheard.expected {
        Expected::Item(of) if left_over => (of.expected().to_owned(), near_words(&words, vocabulary(of))),
        Expected::Item(of) => (expected(of, &words), meant(of, &words)),
        Expected::Row(RowsOf::Program) if let Some(title) = bare_title(&words) => {
            (expected_in(RowsOf::Program).to_owned(), vec![title])
        }
        Expected::Row(of @ RowsOf::Parts) if let Some(both) = two_ways(&words) => {
            (expected_in(of).to_owned(), both)
        }
        Expected::Row(of) => (expected_in(of).to_owned(), near_words(&words, words_of(of))),
    };
    Noticed::new(
        span,
        Puzzle {
            place,
            words,
            more: Vec::new(),
            expected,
            meant,
            left_over,
            line,
            music,
        },
    )
}

/// Words of a row that may mean one thing or its opposite: `cue tbn 1`, `to G5`.
fn two_ways(words: &str) -> Option<Vec<String>> {
    const BOTH: [(&str, [&str; 2]); 2] = [("cue", ["cued in", "cues for"]), ("to", ["up to", "down to"])];
    let (word, rest) = words.split_once(' ').unwrap_or((words, ""));
    let (_, both) = BOTH.iter().find(|(said, _)| word.eq_ignore_ascii_case(said))?;
    Some(
        both.iter()
            .map(|one| format!("{one} {rest}").trim_end().to_owned())
            .collect(),
    )
}

/// The words with the first one that is nearly a known one put right.
fn near_words(words: &str, known: &'static [&'static str]) -> Vec<String> {
    // A known word is no slip: what is wrong lies in the words around it.
    let near = |written: &str| {
        let found = slips::near(written, known.iter().copied())?;
        (!found.word.eq_ignore_ascii_case(written)).then_some(found.word)
    };
    if let Some(near) = near(words) {
        return vec![near];
    }
    let parts = words.split(' ').filter(|word| word.chars().count() > 3);
    let mut mended = parts.filter_map(|word| Some(words.replacen(word, &near(word)?, 1)));
    mended.next().into_iter().collect()
}

/// A title as people type it on a program, between quotation marks; other words there are no names.
fn bare_title(words: &str) -> Option<String> {
    let named =
        words.starts_with(char::is_uppercase) && !words.contains(super::name_without_quotes::is_quote);
    named.then(|| format!("\"{words}\""))
}

/// What is read behind the name in a row.
fn expected_in(of: RowsOf) -> &'static str {
    match of {
        RowsOf::Parts => {
            "a range such as A3-C5, measures, solo 5-12, over the break, cued in flute, same as flute, divisi, optional"
        }
        RowsOf::Percussion => {
            "measures such as 5-20, optional, strong player, one player, 2 players, same as flute, instead of snare, or sticks such as yarn mallets"
        }
        RowsOf::Players => {
            "a head count and what some of them can do, such as 12, 4 over the break or 2 up to G5"
        }
        RowsOf::Percussionists => {
            "what this player plays, such as snare, bass drum, anything but timpani, or strong, beginner, cannot roll yet"
        }
        RowsOf::Program => {
            "a title in quotation marks, then movements 1 and 3, opener, closer, or an intermission"
        }
        RowsOf::Pages => "the percussion instruments on that page",
        RowsOf::Movements => "a number and a title, then a comma and attacca",
        RowsOf::Seats => "instruments, such as flute, oboe, clarinet 1",
    }
}

/// The words that rows are made of besides names, for finding the one that slipped.
fn words_of(of: RowsOf) -> &'static [&'static str] {
    match of {
        RowsOf::Parts | RowsOf::Percussion => &[
            "optional",
            "throughout",
            "tacet",
            "divisi",
            "doubles",
            "follows",
            "concert",
            "instead of",
            "same as",
            "cued in",
            "over the break",
            "below the break",
            "one player",
            "two players",
            "strong player",
            "octaves",
            "melody",
            "mallets",
            "sticks",
            "brushes",
            "players",
            "solo",
            "soli",
            "events",
            "only",
            "second time only",
        ],
        RowsOf::Players => &["over the break", "up to", "down to", "treble clef", "also"],
        RowsOf::Percussionists => &[
            "anything",
            "everything",
            "mallets",
            "timpani",
            "accessories",
            "snare",
            "bass drum",
            "cymbals",
            "strong",
            "beginner",
            "not",
        ],
        RowsOf::Program | RowsOf::Movements => &[
            "attacca",
            "opener",
            "closer",
            "intermission",
            "movements",
            "encore",
        ],
        RowsOf::Pages | RowsOf::Seats => &[],
    }
}

/// The part that cannot be read: of a performance the day in front of the band.
fn wrong_part(card: &Card<'_>, of: Of, span: Span) -> Span {
    let words = card.words(span);
    let day_reads = |day: &str| values::read(Of::Performance, day).is_some();
    let day = words.split(super::name_without_quotes::is_quote).next();
    let day = day.map_or(words, |day| day.trim_end_matches([' ', '\t', ',']));
    match of {
        Of::Performance if !day.is_empty() && !day_reads(day) => Span::long(span.start, day.len() as u32),
        _ => span,
    }
}

/// The line for which the words are right, where it is another one: `key 2 flats` is a key signature.
fn other_line(of: Of, words: &str) -> Option<&'static str> {
    let others: &[(Of, &'static str)] = match of {
        Of::Key => &[(Of::Signature, "key signature")],
        Of::Signature => &[(Of::Key, "tonal center")],
        Of::Meter => &[(Of::Lasts, "lasts")],
        Of::Number | Of::Measures => &[(Of::Lasts, "lasts")],
        _ => &[],
    };
    others
        .iter()
        .find(|(other, _)| values::read(*other, words).is_some())
        .map(|(_, name)| *name)
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
        Of::Performance if !words.contains(super::name_without_quotes::is_quote) => {
            "a day that the calendar has, such as 2024-05-12".to_owned()
        }
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
        Of::Number | Of::Measures => &["measures"],
        Of::Grade => &["grade", "publisher", "ours"],
        _ => &[],
    }
}

/// What may have been meant: the words with one of them mended, where that can be read.
fn meant(of: Of, words: &str) -> Vec<String> {
    let mut found: Vec<String> = values::offers::offers(of, words);
    found.extend(
        values::offers::joined_titles(words)
            .filter(|_| of == Of::Held)
            .map(|titles| titles.join(", ")),
    );
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

/// Those of a row of things in the order of the text that overlap a place.
fn over<T>(all: &[T], span: impl Fn(&T) -> Span, place: Span) -> impl Iterator<Item = &T> {
    let from = all.partition_point(|one| span(one).end <= place.start);
    let from = all.get(from..).unwrap_or(&[]).iter();
    let all = from.map(move |one| (span(one), one));
    all.take_while(move |(span, _)| span.start < place.end)
        .filter(move |(span, _)| span.overlaps(place))
        .map(|(_, one)| one)
}
