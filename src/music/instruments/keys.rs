//! How names of instruments are compared, and tables that are looked into with such names.

use std::collections::HashMap;
use std::hash::{BuildHasherDefault, Hasher};

/// The most bytes of a name that is compared without being copied to the heap. Names of instruments are shorter.
const ROOM: usize = 64;

/// How a name is compared: lower case, no dots, hyphens or spaces, each word in the singular.
pub fn key(name: &str) -> String {
    with_key(name, str::to_owned)
}

/// Whether two names are one when they are compared.
pub fn same(one: &str, other: &str) -> bool {
    one == other || with_key(one, |one| with_key(other, |other| one == other))
}

/// Hands a name's key on, without a copy of its own where the name is short and plain, as nearly all are.
pub(super) fn with_key<T>(name: &str, then: impl FnOnce(&str) -> T) -> T {
    let mut room = [0; ROOM];
    match plain(name, &mut room).and_then(|length| std::str::from_utf8(room.get(..length)?).ok()) {
        Some(key) => then(key),
        None => then(&whole(name)),
    }
}

/// Writes the key of a plain name into `room` and gives its length; none where it is too long, holds other letters
/// than a plain typewriter's, or spells out a flat.
fn plain(name: &str, room: &mut [u8; ROOM]) -> Option<usize> {
    if name.len() > ROOM {
        return None;
    }
    let mut length = 0;
    let mut start = 0;
    let mut has_f = false;
    for byte in name.bytes() {
        match byte {
            b'a'..=b'z' | b'0'..=b'9' | b'A'..=b'Z' => {
                let small = byte.to_ascii_lowercase();
                has_f |= small == b'f';
                *room.get_mut(length)? = small;
                length += 1;
            }
            b' ' | b'-' | b'/' | b'.' | b'\'' | b'\t'..=b'\r' => {
                length = start + single(room.get(start..length)?, has_f)?;
                (start, has_f) = (length, false);
            }
            128.. => return None,
            byte => {
                *room.get_mut(length)? = byte;
                length += 1;
            }
        }
    }
    Some(start + single(room.get(start..length)?, has_f)?)
}

/// The length of a word's singular; none for a word with `flat` in it, where it has an `f` at all.
fn single(word: &[u8], has_f: bool) -> Option<usize> {
    if has_f && word.windows(4).any(|letters| letters == b"flat") {
        return None;
    }
    let plain = match word {
        [.., before, b's'] if word.len() > 3 && *before != b's' => word.len() - 1,
        _ => word.len(),
    };
    Some(match word.first() {
        Some(b's') => match word {
            b"saxes" | b"saxophone" | b"saxophones" | b"saxs" => 3,
            _ => plain,
        },
        Some(b'b') if word == b"basses" => 4,
        _ => plain,
    })
}

/// The key of any name.
fn whole(name: &str) -> String {
    let lower = name.to_lowercase();
    let gap = |c: char| c.is_whitespace() || matches!(c, '-' | '‑' | '–' | '/' | '.' | '\'' | '’');
    let words = |text: &str, joint: &str| {
        let mut out = String::with_capacity(text.len());
        for word in text.split(gap).filter(|word| !word.is_empty()) {
            if !out.is_empty() {
                out.push_str(joint);
            }
            out.push_str(singular(word));
        }
        out
    };
    if !lower.contains("flat") && !lower.contains('♭') {
        return words(&lower, "");
    }
    // "E flat clarinet" and "Eb clarinet" are one, and so are "woodblock" and "wood block".
    words(&lower.replace('♭', "b"), " ")
        .replace("e flat ", "eb ")
        .replace("b flat ", "bb ")
        .replace(' ', "")
}

fn singular(word: &str) -> &str {
    match word {
        "saxes" | "saxophone" | "saxophones" | "saxs" => "sax",
        "basses" => "bass",
        "glockenspiels" => "glockenspiel",
        _ if word.len() > 3 && word.ends_with('s') && !word.ends_with("ss") => {
            word.strip_suffix('s').unwrap_or(word)
        }
        _ => word,
    }
}

/// A table that is looked into with short words.
pub(crate) type Table<K, V> = HashMap<K, V, BuildHasherDefault<ShortHash>>;

/// A hash that costs little for short words, and is the same in every run.
#[derive(Default, Clone, Copy)]
pub(crate) struct ShortHash(u64);

impl Hasher for ShortHash {
    fn write(&mut self, bytes: &[u8]) {
        self.0 = xxhash_rust::xxh3::xxh3_64_with_seed(bytes, self.0);
    }

    /// The byte behind a word, which says nothing here: only whole words are looked up.
    fn write_u8(&mut self, _: u8) {}

    fn finish(&self) -> u64 {
        self.0
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_short_way_says_the_same_as_the_long_one() {
        let rows = super::super::Instruments::standard().all();
        let words = rows.iter().flat_map(|row| {
            std::iter::once(&row.name)
                .chain(&row.aliases)
                .chain(&row.abbreviations)
        });
        let odd = [
            "",
            " ",
            "S",
            "Saxes",
            "alto  saxophones",
            "bass'",
            "basses/tubas",
            "E flat Clarinets",
            "Flatsss",
            "b-flat",
            "♭",
            "Ça",
            "glass",
            "cymbal\u{b}s",
            "Glockenspiels",
        ];
        for word in words.map(AsRef::as_ref).chain(odd) {
            assert_eq!(key(word), whole(word), "{word}");
            assert_eq!(key(&word.to_uppercase()), whole(&word.to_uppercase()), "{word}");
            assert!(same(word, &word.to_uppercase()), "{word}");
        }
        assert!(!same("alto sax", "tenor sax"));
        let long = "snare ".repeat(40);
        assert_eq!(key(&long), whole(&long));
    }
}
