//! A tonal center: a key, or what a director says where no key tells it.

use super::key::{Key, Mode, Tonic};
use super::leap::Leap;
use super::words;
use std::fmt;

/// Scales that give a home note but neither a mode nor a signature.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
#[allow(missing_docs)]
pub enum Scale {
    Blues,
    Pentatonic,
    WholeTone,
    Chromatic,
}

/// A tonal center as a card says it.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Center {
    /// A key.
    Key(Key),
    /// A key that is near enough: `F-ish major`.
    About(Key),
    /// A home note with a scale that is no key.
    Scale(Tonic, Scale),
    /// No tonal center at all.
    Atonal,
    /// Some mode, not said which.
    Modal,
    /// It cannot be heard which.
    Unclear,
    /// It moves through several, not said which.
    Moves,
    /// The one before.
    Same,
    /// So far from the one before.
    Up(Leap),
    /// The major or minor key with the same signature as the one before.
    Relative(Mode),
    /// The major or minor key on the same note as the one before.
    Parallel(Mode),
}

const SCALES: [(Scale, &str); 4] = [
    (Scale::Blues, "blues"),
    (Scale::Pentatonic, "pentatonic"),
    (Scale::WholeTone, "whole tone"),
    (Scale::Chromatic, "chromatic"),
];

impl Center {
    /// Reads a key in any of its forms (`concert Bb`, `Bb concert`, `key of F`, `about F`, `F-ish major`), a
    /// scale (`F blues`), `atonal`, `none`, `modal`, `unclear`, `moves`, and what is told from the one before.
    pub fn read(text: &str) -> Option<Center> {
        let tidy = words::tidy(text);
        match tidy.as_str() {
            "atonal" | "none" | "no tonal center" | "no key" | "not tonal" => return Some(Center::Atonal),
            "modal" => return Some(Center::Modal),
            "unclear" | "ambiguous" | "unknown" | "not clear" | "vague" => return Some(Center::Unclear),
            "moves" | "moving" | "several" | "various" | "changes" | "changing" | "wanders" => {
                return Some(Center::Moves);
            }
            "same" | "the same" | "same key" | "unchanged" => return Some(Center::Same),
            "relative major" => return Some(Center::Relative(Mode::Major)),
            "relative minor" => return Some(Center::Relative(Mode::Minor)),
            "parallel major" => return Some(Center::Parallel(Mode::Major)),
            "parallel minor" => return Some(Center::Parallel(Mode::Minor)),
            _ => {}
        }
        if let Some(leap) = Leap::read(&tidy) {
            return Some(Center::Up(leap));
        }
        let text = plain(text);
        if let Some(key) = Key::read(text) {
            return Some(Center::Key(key));
        }
        if let Some(key) = near(text) {
            return Some(Center::About(key));
        }
        SCALES.iter().find_map(|(scale, name)| {
            let head = words::tidy(text);
            let head = head.strip_suffix(name)?.len();
            let tonic = Tonic::read(text.trim().get(..head)?.trim())?;
            Some(Center::Scale(tonic, *scale))
        })
    }

    /// The key, where it is one for certain.
    pub fn key(self) -> Option<Key> {
        match self {
            Center::Key(key) => Some(key),
            _ => None,
        }
    }

    /// Whether it says for certain that no key is meant.
    pub fn is_no_key(self) -> bool {
        matches!(self, Center::Atonal | Center::Scale(..))
    }

    /// What it comes to behind `before`; [`Center::Unclear`] where that does not tell it.
    pub fn behind(self, before: Option<Center>) -> Center {
        let (near, key) = match before {
            Some(Center::Key(key)) => (false, Some(key)),
            Some(Center::About(key)) => (true, Some(key)),
            _ => (false, None),
        };
        let found = match self {
            Center::Same => return before.unwrap_or(Center::Unclear),
            Center::Up(leap) => key.map(|key| Key {
                tonic: leap.from(key.tonic),
                ..key
            }),
            Center::Relative(mode) => key.and_then(Key::relative).filter(|found| found.mode == mode),
            Center::Parallel(mode) => key.filter(|key| key.mode != mode).map(|key| Key { mode, ..key }),
            other => return other,
        };
        match found {
            Some(key) if near => Center::About(key),
            Some(key) => Center::Key(key),
            None => Center::Unclear,
        }
    }
}

/// A key without the words that only say that it is one.
pub(super) fn plain(text: &str) -> &str {
    let mut text = text.trim();
    for lead in [
        "back to ",
        "the key of ",
        "key of ",
        "concert ",
        "conc. ",
        "conc ",
        "in ",
    ] {
        let head = text.get(..lead.len()).unwrap_or("");
        if head.eq_ignore_ascii_case(lead) {
            text = text.get(lead.len()..).unwrap_or("").trim_start();
        }
    }
    // A conductor's score has it in concert pitch, as it is asked for.
    for tail in [" in the score", " concert"] {
        let end = text.len().saturating_sub(tail.len());
        if text
            .get(end..)
            .is_some_and(|found| found.eq_ignore_ascii_case(tail))
        {
            text = text.get(..end).unwrap_or("").trim_end();
        }
    }
    text
}

/// A key that is only near enough.
fn near(text: &str) -> Option<Key> {
    for lead in ["about ", "around ", "roughly ", "sort of "] {
        let head = text.get(..lead.len()).unwrap_or("");
        if head.eq_ignore_ascii_case(lead) {
            return Key::read(text.get(lead.len()..)?);
        }
    }
    let at = text.find("-ish")?;
    let (head, tail) = (text.get(..at)?, text.get(at + 4..)?);
    (tail.is_empty() || tail.starts_with(' ')).then(|| Key::read(&format!("{head}{tail}")))?
}

impl fmt::Display for Center {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Center::Key(key) => key.fmt(f),
            Center::About(key) => write!(f, "about {key}"),
            Center::Scale(tonic, scale) => {
                let name = SCALES.iter().find(|(found, _)| found == scale);
                write!(f, "{tonic} {}", name.map_or("", |(_, name)| name))
            }
            Center::Atonal => f.write_str("atonal"),
            Center::Modal => f.write_str("modal"),
            Center::Unclear => f.write_str("unclear"),
            Center::Moves => f.write_str("moves"),
            Center::Same => f.write_str("same"),
            Center::Up(leap) => leap.fmt(f),
            Center::Relative(mode) => write!(f, "relative {}", mode.name()),
            Center::Parallel(mode) => write!(f, "parallel {}", mode.name()),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn centers_as_directors_write_them() {
        for (given, copied) in [
            ("Bb", Some("Bb major")),
            ("concert Bb", Some("Bb major")),
            ("Bb concert", Some("Bb major")),
            ("Eb in the score", Some("Eb major")),
            ("Eb in the zqxv", None),
            ("B-flat major", Some("Bb major")),
            ("key of F", Some("F major")),
            ("C min", Some("C minor")),
            ("c min", Some("C minor")),
            ("F blues", Some("F blues")),
            ("Bb  Blues", Some("Bb blues")),
            ("G pentatonic", Some("G pentatonic")),
            ("atonal", Some("atonal")),
            ("none", Some("atonal")),
            ("modal", Some("modal")),
            ("unclear", Some("unclear")),
            ("moves", Some("moves")),
            ("about F", Some("about F major")),
            ("F-ish major", Some("about F major")),
            ("F major-ish", Some("about F major")),
            ("up a fourth", Some("up a fourth")),
            ("Up a step", Some("up a whole step")),
            ("a half-step higher", Some("up a half step")),
            ("same", Some("same")),
            ("relative minor", Some("relative minor")),
            ("parallel minor", Some("parallel minor")),
            ("up a third", None),
            ("blues", None),
            ("g", None),
            ("zqxv Bb", None),
            ("Bb zqxv", None),
            ("concert", None),
            ("F-ishy major", None),
            ("", None),
        ] {
            let read = Center::read(given);
            assert_eq!(read.map(|c| c.to_string()).as_deref(), copied, "{given}");
            if let Some(center) = read {
                assert_eq!(Center::read(&center.to_string()), read, "{given} again");
            }
        }
    }

    #[test]
    fn told_from_the_one_before() {
        for (before, given, found) in [
            ("F major", "up a fourth", "Bb major"),
            ("Bb major", "up a half step", "Cb major"),
            ("C major", "up a half step", "Db major"),
            ("F major", "down a step", "Eb major"),
            ("F major", "relative minor", "D minor"),
            ("D minor", "relative minor", "unclear"),
            ("F major", "parallel minor", "F minor"),
            ("about F", "up a fifth", "about C major"),
            ("atonal", "up a fifth", "unclear"),
            ("F major", "same", "F major"),
            ("F major", "G minor", "G minor"),
        ] {
            let center = Center::read(given).map(|center| center.behind(Center::read(before)));
            assert_eq!(
                center.map(|c| c.to_string()).as_deref(),
                Some(found),
                "{before}, {given}"
            );
        }
    }
}
