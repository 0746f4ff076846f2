//! Names of places that need no explanation, and what else may name a mark.

use std::borrow::Cow;

/// Places that directors name without defining them. Common practice, no source.
const PLACES: &[&str] = &[
    "bridge",
    "break",
    "break strain",
    "breakstrain",
    "cadenza",
    "canon",
    "chorale",
    "chorus",
    "coda",
    "codetta",
    "da capo",
    "development",
    "dog fight",
    "dogfight",
    "double bar",
    "drum break",
    "drum solo",
    "ending",
    "exposition",
    "fanfare",
    "fast bit",
    "fast part",
    "fast section",
    "final chorus",
    "final strain",
    "fine",
    "first strain",
    "first theme",
    "fugato",
    "fugue",
    "grandioso",
    "head",
    "hymn",
    "interlude",
    "intro",
    "introduction",
    "key change",
    "last chorus",
    "last strain",
    "last verse",
    "meter change",
    "middle",
    "middle bit",
    "middle part",
    "middle section",
    "outro",
    "percussion break",
    "percussion feature",
    "recap",
    "recapitulation",
    "refrain",
    "round",
    "second strain",
    "second theme",
    "segno",
    "shout",
    "shout chorus",
    "sign",
    "slow bit",
    "slow part",
    "slow section",
    "solo section",
    "stinger",
    "tag",
    "tempo change",
    "theme",
    "third strain",
    "transition",
    "trio",
    "vamp",
    "verse",
];

/// Places of which there may be several, told apart by a number behind or an ordinal before.
const COUNTED: &[&str] = &[
    "bridge",
    "chorus",
    "coda",
    "ending",
    "phrase",
    "refrain",
    "section",
    "segno",
    "strain",
    "theme",
    "trio",
    "variation",
    "verse",
];

const ORDINALS: &[&str] = &[
    "first", "second", "third", "fourth", "fifth", "sixth", "last", "final", "1st", "2nd", "3rd", "4th",
    "5th", "6th",
];

/// Single words that stand between other words and never name a mark of a director's own.
const NO_NAME: &[&str] = &[
    "a", "about", "above", "after", "all", "an", "and", "as", "at", "bar", "bars", "because", "before",
    "below", "both", "but", "by", "each", "every", "except", "first", "for", "from", "in", "into", "is",
    "last", "least", "measure", "measures", "most", "no", "not", "of", "off", "on", "once", "only", "or",
    "over", "same", "some", "than", "that", "the", "then", "this", "through", "thru", "till", "time",
    "times", "to", "under", "until", "up", "with",
];

/// How many bytes at the start of `text` name a conventional place; the longest name counts. Where `numbered`,
/// a figure behind it belongs to it: `verse 2`.
pub(super) fn place(text: &str, numbered: bool) -> Option<usize> {
    let ends = word_ends(text, 3);
    ends.into_iter().rev().find(|end| {
        let name = text.get(..*end).unwrap_or("");
        let small = name.bytes().all(|b| b.is_ascii() && !b.is_ascii_uppercase());
        let name = match small {
            true => Cow::Borrowed(name),
            false => Cow::Owned(name.to_lowercase()),
        };
        let mut words = name.split_whitespace();
        match (words.next(), words.next(), words.next()) {
            (Some(one), None, _) => PLACES.contains(&one),
            (Some(first), Some(second), None) => {
                PLACES.iter().any(|place| is_of_two(place, first, second))
                    || numbered && COUNTED.contains(&first) && is_figure(second)
                    || ORDINALS.contains(&first) && COUNTED.contains(&second)
            }
            _ => false,
        }
    })
}

/// Whether a name is these two words with a blank between them.
fn is_of_two(name: &str, first: &str, second: &str) -> bool {
    name.len() == first.len() + 1 + second.len()
        && name.starts_with(first)
        && name.ends_with(second)
        && name.as_bytes().get(first.len()) == Some(&b' ')
}

/// How many bytes at the start of `text` are a rehearsal letter: `A`, `AA`, `B1`. Small ones only where `led`.
pub(super) fn letter(text: &str, led: bool) -> Option<usize> {
    let end = word_ends(text, 1).first().copied()?;
    let name = text.get(..end)?;
    let count = name.bytes().take_while(u8::is_ascii_alphabetic).count();
    let (letters, rest) = name.split_at_checked(count)?;
    let same = match letters.as_bytes() {
        [_] => true,
        [first, second] => first == second,
        _ => false,
    };
    let large = letters.bytes().all(|letter| letter.is_ascii_uppercase()) || led;
    // `B1` is a mark of its own in long scores; `B4` could be a pitch as well, so it must be led to.
    let figure = rest.is_empty() || led && is_figure(rest);
    (same && large && figure).then_some(end)
}

/// Whether one word may be the name that a director gave a mark.
pub(in crate::notation) fn own_word(word: &str) -> bool {
    word.chars().count() > 2
        && word
            .chars()
            .all(|c| c.is_alphabetic() || c == '\'' || c == '’' || c == '-')
        && !NO_NAME.contains(&word.to_lowercase().as_str())
}

/// Whether a name reads as one without quotation marks, as a rehearsal mark of a card.
pub(in crate::notation) fn is_plain(name: &str) -> bool {
    place(name, true) == Some(name.len()) || letter(name, true) == Some(name.len())
}

fn is_figure(word: &str) -> bool {
    word.len() == 1 && word.bytes().all(|b| b.is_ascii_digit())
}

/// Where the first words of `text` end, at most `most` of them.
pub(super) fn word_ends(text: &str, most: usize) -> Vec<usize> {
    let mut ends = Vec::new();
    let mut inside = false;
    for (at, c) in text.char_indices() {
        let is_word = c.is_alphanumeric() || c == '\'' || c == '’';
        if inside && !is_word {
            ends.push(at);
            if ends.len() == most {
                return ends;
            }
        }
        if !is_word && !c.is_whitespace() {
            return ends;
        }
        inside = is_word;
    }
    if inside {
        ends.push(text.len());
    }
    ends
}
