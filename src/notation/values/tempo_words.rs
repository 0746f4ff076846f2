//! A tempo with the words that directors put beside the figure: `Allegro q = 138`, `march tempo`, `108 with spirit`.

use std::fmt;

use crate::music::Tempo;
use crate::notation::scan;

/// A tempo and the words before or behind it.
#[derive(Debug, Clone, PartialEq)]
pub struct TempoSaid {
    /// Words before the tempo, such as `Allegro` before a figure.
    pub before: String,
    /// What the trade's arithmetic understands; none when there are only words.
    pub tempo: Option<Tempo>,
}

impl TempoSaid {
    /// Reads a tempo, a tempo with words before it, or words alone. Words that hold a digit or an equals
    /// sign were meant as a figure and are refused.
    pub fn read(text: &str) -> Option<TempoSaid> {
        if let Some(tempo) = Tempo::read(text) {
            return Some(TempoSaid {
                before: String::new(),
                tempo: Some(tempo),
            });
        }
        let starts = text
            .char_indices()
            .filter(|(_, c)| scan::is_blank(*c))
            .map(|(at, c)| at + c.len_utf8());
        for start in starts {
            let (head, tail) = text.split_at_checked(start)?;
            // The words end where the first figure that can be read begins; parentheses around it go.
            let tail = tail.trim_start_matches('(').trim_end_matches(')');
            if let Some(tempo @ Tempo::Mark { .. }) = Tempo::read(tail) {
                return is_words(head).then(|| TempoSaid {
                    before: head.split_whitespace().collect::<Vec<_>>().join(" "),
                    tempo: Some(tempo),
                });
            }
        }
        is_words(text).then(|| TempoSaid {
            before: text.split_whitespace().collect::<Vec<_>>().join(" "),
            tempo: None,
        })
    }
}

fn is_words(text: &str) -> bool {
    !text.contains(|c: char| c.is_ascii_digit() || c == '=' || c == '♩' || c == '♪')
        && text.chars().any(char::is_alphabetic)
}

impl fmt::Display for TempoSaid {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.before)?;
        match &self.tempo {
            Some(tempo) if self.before.is_empty() => tempo.fmt(f),
            Some(tempo) => write!(f, " {tempo}"),
            None => Ok(()),
        }
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
        ] {
            assert_eq!(
                TempoSaid::read(written).map(|tempo| tempo.to_string()).as_deref(),
                one_form,
                "{written}"
            );
        }
    }
}
