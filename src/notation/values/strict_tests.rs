//! A made-up word anywhere in a value: no reader takes the value for what it was without it.

use super::super::of::Of;
use super::{Value, read};

/// Values of each kind whose words all mean something. Names after `by` and `from`, reasons after `because`,
/// the names of skills and people, and words in quotation marks are a director's own and stand elsewhere.
const TYPED: &[(Of, &[&str])] = &[
    (Of::Number, &["88", "88 measures"]),
    (Of::Lasts, &["3:10", "20 minutes", "3-5 minutes", "3 min 10 s"]),
    (
        Of::Moment,
        &[
            "2026-12-10, 19:00",
            "Thursday, Dec 10, 2026 at 7:00 p.m.",
            "10 December 2026",
            "fall 2025",
            "2026-12-10, 19:00, doors 6:30",
        ],
    ),
    (
        Of::Money,
        &[
            "62 USD",
            "$ 100-110",
            "60 dollars plus postage",
            "free",
            "1,200 USD",
        ],
    ),
    (
        Of::Price,
        &[
            "$60, extra parts $3 each",
            "was $40, now $62",
            "free with the book",
            "$58, purchased August 2015",
        ],
    ),
    (
        Of::Grade,
        &[
            "1.5 publisher",
            "2 ours",
            "grade 2-3 by the state",
            "medium easy publisher",
            "2+",
            "1 \"Thrum Hollow list\"",
        ],
    ),
    (
        Of::Needs,
        &[
            "4-5 percussionists",
            "4 or 5",
            "at least 6 percussionists",
            "6 percussionists at least",
            "6, 4 at a pinch",
            "8 parts, playable with 4-5",
            "a strong trumpet",
            "a good clarinet section",
            "piano or synth",
            "2 flutes",
        ],
    ),
    (
        Of::Equipment,
        &[
            "timpani 29 and 26",
            "2 pair crash cymbals",
            "bells",
            "no chimes",
            "chimes from the high school until 2027-05-01",
            "xylophone out for repair",
            "marimba shared with the choir",
            "26 and 23",
            "4 drums",
            "until 2027-05-01",
        ],
    ),
    (
        Of::Copies,
        &[
            "8 flute 1",
            "1 score",
            "2 extra flute 1",
            "no tuba",
            "complete set",
            "3 original scores",
        ],
    ),
    (
        Of::Held,
        &[
            "\"Suite\" movements 1 and 3",
            "\"Air\" grade 2",
            "1. \"Long Song\" with the choir",
            "\"Ode\" for two bands",
        ],
    ),
    (
        Of::Performance,
        &[
            "2024-05-12 \"Band\", took 6 weeks, result I I II",
            "2024-05-12 \"Band\" and \"Other Band\", at \"Festival\", grade 2, with the choir, went well",
        ],
    ),
    (Of::Season, &["2026-27", "2026 to 2027"]),
    (
        Of::Meets,
        &[
            "every other day",
            "Mon Wed Fri 45 min",
            "Tuesday and Thursday before school",
            "twice a week",
            "A days",
            "no rehearsal Dec 21 to Jan 3",
            "starts 2026-08-24",
        ],
    ),
    (Of::Pickup, &["1 beat", "3 eighth notes", "half a beat", "none"]),
    (Of::Takes, &["2 weeks", "a week", "3-4 rehearsals"]),
    (
        Of::Loan,
        &[
            "2026-05-01",
            "due back 2026-09-01",
            "back 2026-08-30",
            "2 flute 1",
        ],
    ),
    (
        Of::License,
        &[
            "30 printed copies until 2028-06-30",
            "may stream",
            "no photocopying of any part",
            "until 2028-06-30",
        ],
    ),
    (Of::Bought, &["2024-03-02 for $58", "August 2015"]),
    (
        Of::Track,
        &[
            "4:00",
            "starts at measure 9",
            "operator P6",
            "click for the conductor",
        ],
    ),
    (Of::Events, &["14 cued events"]),
    (
        Of::Change,
        &[
            "5 s to a neighboring percussion instrument",
            "10 s to the timpani",
            "3 s from bells to snare",
            "0.5 s for new sticks",
        ],
    ),
    (
        Of::Staffing,
        &["at least 2 to a wind part", "extra players on the upper parts"],
    ),
    (Of::Pace, &["at most 2 new skills a week", "5 weeks to a piece"]),
    (Of::Postage, &["8 USD", "6 USD free over 75 USD"]),
    (
        Of::Pin,
        &[
            "P3 on snare",
            "P1 and P2 not on bass drum",
            "without P5",
            "snare to P3",
        ],
    ),
    (Of::Away, &["P1 and P2 on 2026-10-22", "2 flutes on 2026-10-22"]),
    (Of::Absent, &["P1 and P2", "1 tuba", "P1 to P3", "two trumpets"]),
    (
        Of::ConcertLength,
        &[
            "at most 20 minutes",
            "1:30 between pieces",
            "10 minutes intermission",
            "10 minutes for \"Sixth Grade Band\"",
        ],
    ),
    (Of::NewSkills, &["at most 2", "none"]),
    (Of::Together, &["triangle and wood block"]),
    (Of::PartNumbers, &["parts 1, 3 and 5"]),
    (Of::Size, &["2 MB"]),
    (Of::YesNo, &["no"]),
    (Of::Done, &["yes", "no"]),
    (Of::Year, &["2026"]),
    (Of::PartName, &["clarinet 2", "oboe"]),
    (Of::Family, &["low brass"]),
    (Of::Clef, &["treble clef"]),
    (Of::Sounds, &["a major sixth lower"]),
];

/// The text with a word put before each of its words in turn, and behind the last; never inside quotation
/// marks.
fn planted(text: &str, word: &str) -> Vec<String> {
    let words: Vec<&str> = text.split(' ').collect();
    let mut all = Vec::new();
    let mut quoted = false;
    for at in 0..=words.len() {
        let (head, tail) = words.split_at(at);
        if !quoted {
            let parts: Vec<&str> = head
                .iter()
                .copied()
                .chain([word])
                .chain(tail.iter().copied())
                .collect();
            all.push(parts.join(" "));
        }
        if let Some(next) = words.get(at) {
            quoted ^= next.matches('"').count() % 2 == 1;
        }
    }
    all
}

#[test]
fn a_made_up_word_is_lost_in_no_value() {
    let mut lost = Vec::new();
    for (of, examples) in TYPED {
        for example in *examples {
            assert!(read(*of, example).is_some(), "{of:?}: {example}");
            for text in planted(example, "zqxv")
                .into_iter()
                .chain(planted(example, "7Qz"))
            {
                if let Some(value) = read(*of, &text) {
                    // A name that the trade does not know is one of the catalogue's own.
                    if matches!(&value, Value::Equipment(thing) if !thing.known) {
                        continue;
                    }
                    // These are names that are looked up where all cards are known; `tests/heard` holds them told.
                    let named = match &value {
                        Value::Change(change) => change.what.names(),
                        Value::Together(names) => names.iter().map(String::as_str).collect(),
                        _ => Vec::new(),
                    };
                    if named.iter().any(|name| name.contains("zqxv")) {
                        continue;
                    }
                    lost.push(format!("{of:?}: {text} as {value}"));
                }
            }
        }
    }
    assert!(lost.is_empty(), "{}", lost.join("\n"));
}

#[test]
fn what_is_shown_reads_as_the_same() {
    for (of, examples) in TYPED {
        for example in *examples {
            let Some(value) = read(*of, example) else { continue };
            let shown = value.to_string();
            assert_eq!(
                read(*of, &shown).as_ref(),
                Some(&value),
                "{example}, shown {shown}"
            );
        }
    }
}
