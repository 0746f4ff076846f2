//! A tempo with the words that directors put beside the figure: `Allegro q = 138`, `144 swing`, `in 2, half = 80`.

use std::fmt;

use crate::music::Tempo;
use crate::music::tempo_vocabulary::{self, Speed};
use crate::notation::scan;

/// A tempo and the words before or behind it.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct TempoSaid {
    /// Words before the tempo, such as `Allegro` before a figure; the director's own words in quotation marks.
    pub before: String,
    /// What the trade's arithmetic understands; none when there are only words.
    pub tempo: Option<Tempo>,
    /// In how many beats it is conducted, where that is said.
    pub beats: Option<u8>,
    /// Whether eighths are swung (or else straight), where that is said beside a tempo.
    pub swing: Option<bool>,
    /// Whether the figure is only near enough: `ca. 120`, `120ish`.
    pub about: bool,
}

impl TempoSaid {
    /// Reads a tempo, with known words before or behind it, or known words alone. A word that is not known does
    /// not read, unless the words stand in quotation marks.
    pub fn read(text: &str) -> Option<TempoSaid> {
        let text = text.trim();
        let text = text.strip_prefix("back to ").unwrap_or(text);
        // `120 to the quarter`: the note stands behind its figure.
        if let Some((figure, note)) = text.split_once(" to the ")
            && !figure.is_empty()
            && figure.bytes().all(|byte| byte.is_ascii_digit())
            && let Some(said) = TempoSaid::read(&format!("{note} = {figure}"))
        {
            return Some(said);
        }
        let tokens: Vec<&str> = text
            .split(scan::is_blank)
            .filter(|token| !token.is_empty())
            .collect();
        if tokens.len() > 16 {
            return quoted(text);
        }
        if let Some(said) = quoted(text) {
            return Some(said);
        }
        for length in (1..=tokens.len()).rev() {
            for start in 0..=tokens.len() - length {
                let end = start + length;
                let Some((tempo, about)) = tempo(tokens.get(start..end)?) else {
                    continue;
                };
                let mut said = TempoSaid {
                    tempo: Some(tempo),
                    about,
                    ..TempoSaid::default()
                };
                let (head, tail) = (tokens.get(..start)?, tokens.get(end..)?);
                if said.beside(head) && said.beside(tail) {
                    return Some(said);
                }
            }
        }
        let mut said = TempoSaid::default();
        let alone = said.beside(&tokens);
        (alone && (said.beats.is_some() || !said.is_degree())).then_some(said)
    }

    /// Takes words beside a tempo; answers whether all of them are known.
    fn beside(&mut self, tokens: &[&str]) -> bool {
        let mut rest = tokens;
        while let Some((beats, swing, used)) = side(rest) {
            if beats.is_some() && self.beats.is_some() || swing.is_some() && self.swing.is_some() {
                return false;
            }
            self.beats = self.beats.or(beats);
            self.swing = self.swing.or(swing);
            rest = rest.get(used..).unwrap_or_default();
        }
        // The same words at the end.
        for used in (1..=2).rev() {
            let Some(start) = rest.len().checked_sub(used) else {
                continue;
            };
            let tail = rest.get(start..).unwrap_or_default();
            if let Some((beats, swing, all)) = side(tail)
                && all == used
            {
                self.beats = self.beats.or(beats);
                self.swing = self.swing.or(swing);
                rest = rest.get(..start).unwrap_or_default();
                break;
            }
        }
        let words = rest.join(" ");
        let words = words
            .trim()
            .trim_matches(|c| matches!(c, '(' | ')' | ',' | ';'))
            .trim();
        if words.is_empty() {
            return true;
        }
        // `faster, like 120` says the change and the figure that comes of it.
        let change =
            || self.tempo.is_some() && matches!(Tempo::read(words), Some(Tempo::Faster | Tempo::Slower));
        let known = tempo_vocabulary::read(words).is_some() || quoted(words).is_some() || change();
        if known {
            let both = format!("{} {words}", self.before);
            both.trim().clone_into(&mut self.before);
        }
        known
    }

    /// Whether its words alone mean nothing: `a little`.
    fn is_degree(&self) -> bool {
        tempo_vocabulary::read(&self.before).is_some_and(|phrase| phrase.is_degree)
            || self.before.is_empty() && self.swing.is_none()
    }

    /// How fast its words say that it goes, where they say so.
    pub fn speed(&self) -> Option<Speed> {
        let term = match &self.tempo {
            Some(Tempo::Term(term)) => tempo_vocabulary::read(term),
            _ => None,
        };
        let phrase = term.or_else(|| tempo_vocabulary::read(&self.before))?;
        // `a little slow` is no speed where the change is told by the tempo itself.
        phrase.speed
    }

    /// Whether its words say that it is slow: `Adagio`, `slowly`.
    pub fn is_slow(&self) -> bool {
        self.speed() == Some(Speed::Slow)
    }

    /// Whether its words say that it is fast: `Allegro`, `brisk`.
    pub fn is_fast(&self) -> bool {
        self.speed() == Some(Speed::Fast)
    }

    /// Whether it only describes a tempo that stands beside it: `swing`, `in 2`, `Allegro`, `gently`.
    pub fn describes(&self) -> bool {
        matches!(
            self.tempo,
            None | Some(Tempo::Swing | Tempo::Straight | Tempo::Hold | Tempo::Term(_))
        )
    }
}

/// A director's own words in quotation marks, which are kept.
fn quoted(text: &str) -> Option<TempoSaid> {
    let (rest, words) = scan::quoted(text).ok()?;
    let closed = text.ends_with(scan::is_quote) && text.chars().count() > words.chars().count() + 1;
    (rest.is_empty() && closed && !words.is_empty()).then(|| TempoSaid {
        before: format!("\"{words}\""),
        ..TempoSaid::default()
    })
}

/// A tempo that is all of these words, and whether it is marked as near enough.
fn tempo(tokens: &[&str]) -> Option<(Tempo, bool)> {
    let mut about = false;
    let mut kept: Vec<&str> = Vec::with_capacity(tokens.len());
    let mut figure = false;
    for (index, token) in tokens.iter().enumerate() {
        const ABOUT: [&str; 12] = [
            "ca.", "ca", "c.", "circa", "about", "around", "roughly", "approx.", "approx", "~", "like",
            "maybe",
        ];
        let says_about = ABOUT.iter().any(|about| about.eq_ignore_ascii_case(token));
        if says_about && index + 1 < tokens.len() {
            about = true;
            continue;
        }
        let mut word = token.trim_matches(['(', ')']);
        if let Some(rest) = word.strip_prefix('~') {
            about = true;
            word = rest;
        }
        for ending in ["-ish", "ish"] {
            if let Some(rest) = word.strip_suffix(ending)
                && rest.ends_with(|c: char| c.is_ascii_digit())
            {
                about = true;
                word = rest;
                break;
            }
        }
        figure |= word.contains(|c: char| c.is_ascii_digit());
        kept.push(word);
    }
    if kept.len() > 2 && kept.ends_with(&["or", "so"]) {
        about = true;
        kept.truncate(kept.len() - 2);
    }
    let tempo = Tempo::read(&kept.join(" "))?;
    (!about || figure && matches!(tempo, Tempo::Mark { .. })).then_some((tempo, about))
}

/// `in 2`, `swing`, `straight eighths` at the start of these words, and how many words that takes.
fn side(tokens: &[&str]) -> Option<(Option<u8>, Option<bool>, usize)> {
    let lower: Vec<String> = tokens
        .iter()
        .take(2)
        .map(|token| token.trim_matches([',', ';', '(', ')']).to_lowercase())
        .collect();
    let first = lower.first()?.as_str();
    let second = lower.get(1).map_or("", String::as_str);
    if first == "in" {
        let beats = match second {
            "one" => 1,
            "two" => 2,
            "three" => 3,
            "four" => 4,
            "six" => 6,
            _ => second.parse().ok().filter(|beats| (1..=12).contains(beats))?,
        };
        return Some((Some(beats), None, 2));
    }
    let swing = match first {
        "swing" | "swung" => true,
        "straight" | "even" if matches!(second, "eighths" | "8ths") => false,
        "straight" if second.is_empty() => false,
        _ => return None,
    };
    let more = matches!(second, "eighths" | "8ths" | "feel" | "style");
    Some((None, Some(swing), if more { 2 } else { 1 }))
}

impl fmt::Display for TempoSaid {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let mut all: Vec<String> = Vec::new();
        if !self.before.is_empty() {
            all.push(self.before.clone());
        }
        if self.about {
            all.push("about".to_owned());
        }
        all.extend(self.tempo.iter().map(Tempo::to_string));
        all.extend(self.beats.map(|beats| format!("in {beats}")));
        all.extend(
            self.swing
                .map(|swing| if swing { "swing" } else { "straight eighths" }.to_owned()),
        );
        f.write_str(&all.join(" "))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn tempos_keep_the_words_beside_the_figure() {
        for (written, one_form) in [
            ("q = 76", Some("quarter = 76")),
            ("Allegro q = 138", Some("Allegro quarter = 138")),
            ("March tempo (q = 120)", Some("March tempo quarter = 120")),
            ("gently rocking", Some("gently rocking")),
            ("quater = 76", None),
            ("76 or so 9", None),
            ("ca. 120", Some("about 120")),
            ("c. 120", Some("about 120")),
            ("q = ca. 120", Some("about quarter = 120")),
            ("~108", Some("about 108")),
            ("120ish", Some("about 120")),
            ("120 or so", Some("about 120")),
            ("Allegro ca. 120", Some("Allegro about 120")),
            ("faster like 120", Some("faster about 120")),
            ("like zqxv 120", None),
            ("120 bpm", Some("120")),
            ("120-126", Some("120-126")),
            ("@ 120", Some("120")),
            ("144 swing", Some("144 swing")),
            ("swing 144", Some("144 swing")),
            ("swing", Some("swing")),
            ("swing eighths", Some("swing")),
            ("medium swing", Some("medium swing")),
            ("in 2", Some("in 2")),
            ("in 2 half = 80", Some("half = 80 in 2")),
            ("80 in two", Some("80 in 2")),
            ("a little slower", Some("a little slower")),
            ("molto rit.", Some("molto ritardando")),
            ("accel. poco a poco", Some("poco a poco accelerando")),
            ("tempo I", Some("tempo primo")),
            ("a tempo", Some("a tempo")),
            ("bright march", Some("bright march")),
            ("Slowly, with expression", Some("Slowly, with expression")),
            ("\"with a wobble\"", Some("\"with a wobble\"")),
            (
                "\"bouncy castle\" q = 120",
                Some("\"bouncy castle\" quarter = 120"),
            ),
            ("with a wobble", None),
            ("a little", None),
            ("zqxv", None),
            ("Allegro zqxv q = 138", None),
            ("zqxv 144 swing", None),
            ("144 swing zqxv", None),
            ("in zqxv 2", None),
            ("quarter = 1108", Some("quarter = 1108")),
            ("", None),
        ] {
            let read = TempoSaid::read(written);
            let shown = read.as_ref().map(ToString::to_string);
            assert_eq!(shown.as_deref(), one_form, "{written}");
            if let Some(shown) = shown {
                assert_eq!(TempoSaid::read(&shown), read, "{written} again");
            }
        }
    }

    #[test]
    fn words_are_slow_and_fast() {
        let slow = |text: &str| TempoSaid::read(text).map(|said| (said.is_slow(), said.is_fast()));
        assert_eq!(slow("Adagio"), Some((true, false)));
        assert_eq!(slow("slow"), Some((true, false)));
        assert_eq!(slow("Allegro"), Some((false, true)));
        assert_eq!(slow("fast"), Some((false, true)));
        assert_eq!(slow("fast swing"), Some((false, true)));
        assert_eq!(slow("Moderato"), Some((false, false)));
        assert_eq!(slow("bright march"), Some((false, false)));
    }
}
