//! What the trade says of a part beside its notes and measures: a fixed vocabulary, each with its one form.
//!
//! All words here are common practice, no source.

use std::fmt;
use std::sync::LazyLock;

use super::sayings_of_parts::SAYINGS;
use crate::notation::scan::{self, Read, phrase};

/// How the names of a row go together.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Texture {
    /// The same pitches.
    Unison,
    /// The same line in octaves.
    Octaves,
    /// Thirds.
    Thirds,
    /// Fifths.
    Fifths,
    /// Sixths.
    Sixths,
    /// Different pitches in one rhythm.
    SameRhythm,
    /// Held notes below the rest.
    Drone,
    /// A hymn-like setting.
    Chorale,
    /// The tune.
    Melody,
    /// A second tune.
    Countermelody,
    /// The harmony.
    Harmony,
    /// The bass line.
    BassLine,
    /// Off-beats.
    OffBeats,
    /// A line of their own.
    Independent,
}

const TEXTURES: [(Texture, &str, &[&str]); 14] = [
    (
        Texture::Unison,
        "unison",
        &[
            "in unison",
            "all unison",
            "same thing",
            "the same thing",
            "same notes",
            "the same notes",
            "same part",
            "the same part",
            "a2",
            "a 2",
            "together",
        ],
    ),
    (Texture::Octaves, "octaves", &["in octaves"]),
    (Texture::Thirds, "thirds", &["in thirds"]),
    (Texture::Fifths, "fifths", &["in fifths", "open fifths"]),
    (Texture::Sixths, "sixths", &["in sixths"]),
    (
        Texture::SameRhythm,
        "same rhythm",
        &[
            "one rhythm",
            "the same rhythm",
            "in the same rhythm",
            "in rhythmic unison",
            "rhythmic unison",
        ],
    ),
    (
        Texture::Drone,
        "drone",
        &["a drone", "drones", "pedal note", "pedal notes", "pedal point"],
    ),
    (Texture::Chorale, "chorale", &["a chorale", "chorale style"]),
    (
        Texture::Melody,
        "melody",
        &[
            "the melody",
            "has the melody",
            "have the melody",
            "tune",
            "the tune",
            "has the tune",
            "have the tune",
            "on the tune",
            "on the melody",
            "on melody",
            "gets the tune",
            "get the tune",
            "carries the tune",
            "carry the tune",
            "takes the tune",
        ],
    ),
    (
        Texture::Countermelody,
        "countermelody",
        &["a countermelody", "counter-melody", "countermelodies"],
    ),
    (
        Texture::Harmony,
        "harmony",
        &["the harmony", "accompaniment", "harmonies"],
    ),
    (Texture::BassLine, "bass line", &["the bass line", "bass lines"]),
    (
        Texture::OffBeats,
        "off-beats",
        &["offbeats", "off beats", "upbeats", "after-beats", "afterbeats"],
    ),
    (
        Texture::Independent,
        "independent",
        &[
            "independent line",
            "independent lines",
            "independent part",
            "a line of its own",
            "own line",
        ],
    ),
];

impl Texture {
    /// The words of every texture's one form, in the order of the table.
    pub fn all() -> impl Iterator<Item = &'static str> {
        TEXTURES.iter().map(|(_, words, _)| *words)
    }

    /// The words of the one form.
    pub fn words(self) -> &'static str {
        TEXTURES
            .iter()
            .find(|(texture, ..)| *texture == self)
            .map_or("", |(_, words, _)| words)
    }

    /// Reads the words at the start of a text.
    pub fn leading(input: &str) -> Read<'_, Texture> {
        static PHRASES: LazyLock<Phrases<Texture>> = LazyLock::new(|| {
            Phrases::new(TEXTURES.iter().flat_map(|(texture, words, also)| {
                std::iter::once(*words)
                    .chain(also.iter().copied())
                    .map(|w| (*texture, w))
            }))
        });
        PHRASES.leading(input)
    }
}

impl fmt::Display for Texture {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self.words())
    }
}

/// Something the trade says of a part, by the words of its one form.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub struct Saying(pub &'static str);

impl Saying {
    /// The words of every saying's one form, in the order of the table.
    pub fn all() -> impl Iterator<Item = &'static str> {
        SAYINGS.iter().map(|(words, _)| *words)
    }

    /// Reads the words at the start of a text.
    pub fn leading(input: &str) -> Read<'_, Saying> {
        static PHRASES: LazyLock<Phrases<Saying>> = LazyLock::new(|| {
            Phrases::new(SAYINGS.iter().flat_map(|(words, also)| {
                std::iter::once(*words)
                    .chain(also.iter().copied())
                    .map(|w| (Saying(words), w))
            }))
        });
        PHRASES.leading(input)
    }
}

impl fmt::Display for Saying {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self.0)
    }
}

/// Phrases and what they mean, laid out by their first letter, so that few are tried at a word.
pub struct Phrases<T> {
    by_letter: [Vec<(T, &'static str)>; 27],
}

impl<T: Copy> Phrases<T> {
    /// Lays out phrases.
    pub fn new(phrases: impl Iterator<Item = (T, &'static str)>) -> Phrases<T> {
        let mut by_letter: [Vec<(T, &'static str)>; 27] = Default::default();
        for (meaning, words) in phrases {
            if let Some(list) = by_letter.get_mut(letter(words)) {
                list.push((meaning, words));
            }
        }
        Phrases { by_letter }
    }

    /// The meaning of the longest of them that stands at the start of a text.
    pub fn leading<'t>(&self, input: &'t str) -> Read<'t, T> {
        let mut best: Option<(&'t str, T)> = None;
        for (meaning, words) in self.by_letter.get(letter(input)).into_iter().flatten() {
            let Ok((rest, _)) = phrase_dotted(input, words) else {
                continue;
            };
            if best.as_ref().is_none_or(|(left, _)| rest.len() < left.len()) {
                best = Some((rest, *meaning));
            }
        }
        best.ok_or_else(|| nom::Err::Error(nom::error::Error::new(input, nom::error::ErrorKind::Tag)))
    }
}

/// The place of a text's first letter in the alphabet; the last place is for everything else.
fn letter(text: &str) -> usize {
    match text.as_bytes().first().map(u8::to_ascii_lowercase) {
        Some(c @ b'a'..=b'z') => usize::from(c - b'a'),
        _ => 26,
    }
}

/// A phrase whose last word may end with a dot of its own.
fn phrase_dotted<'t>(input: &'t str, words: &'static str) -> Read<'t, &'t str> {
    match words.strip_suffix('.') {
        None => phrase(words)(input),
        Some(_) => {
            // Words such as `gliss.` are compared with their dot.
            let head = input
                .get(..words.len())
                .filter(|head| head.eq_ignore_ascii_case(words));
            let rest = head.and_then(|_| input.get(words.len()..));
            match rest.filter(|rest| scan::word_end(rest).is_ok()) {
                Some(rest) => Ok((rest, head.unwrap_or(""))),
                None => Err(nom::Err::Error(nom::error::Error::new(
                    input,
                    nom::error::ErrorKind::Tag,
                ))),
            }
        }
    }
}

/// Every way of writing a texture or a saying.
#[cfg(test)]
pub(in crate::notation) fn written() -> impl Iterator<Item = &'static str> {
    let textures = TEXTURES.iter().map(|(_, words, also)| (*words, *also));
    let sayings = SAYINGS.iter().map(|(words, also)| (*words, *also));
    textures
        .chain(sayings)
        .flat_map(|(words, also)| std::iter::once(words).chain(also.iter().copied()))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_saying_reads_its_one_form() {
        for (words, also) in SAYINGS {
            for written in std::iter::once(words).chain(also.iter()) {
                assert_eq!(
                    Saying::leading(written).map(|(rest, said)| (rest, said.0)),
                    Ok(("", *words)),
                    "{written}"
                );
            }
        }
        for (texture, words, also) in TEXTURES {
            for written in std::iter::once(words).chain(also.iter().copied()) {
                assert_eq!(Texture::leading(written), Ok(("", texture)), "{written}");
            }
        }
        assert!(Saying::leading("rollszqxv").is_err());
    }
}
