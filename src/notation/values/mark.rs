//! Rehearsal marks.

use std::fmt;

use super::steps::Steps;
use super::{conventional, point};

/// A rehearsal mark and the measure it stands at.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Mark {
    /// The mark's name; for a mark that is a measure number, that number.
    pub name: String,
    /// Its measure.
    pub measure: u32,
}

impl Mark {
    /// Reads `A 9`, `B at m. 33`, `coda = 81`, `letter A 9`, `"big tune" 41`, `17` (a mark that is its measure's
    /// number). A name of the director's own stands in quotation marks here, where it is first told.
    pub fn read(text: &str) -> Option<Mark> {
        // `at 9, 17, 33`: marks that are the numbers of their measures.
        let text = match text.trim().strip_prefix("at ") {
            Some(rest) if rest.starts_with(|c: char| c.is_ascii_digit()) => rest,
            _ => text,
        };
        let cursor = Steps::new(text.trim());
        let mut ahead = cursor;
        ahead.measure_word();
        if let Some(measure) = ahead.number()
            && ahead.is_done()
        {
            let name = measure.to_string();
            return Some(Mark { name, measure });
        }
        if let Some(mark) = closed_up(cursor.rest) {
            return Some(mark);
        }
        // `verse 2` is verse at measure 2 here, and `verse 2 33` the second verse.
        [false, true].into_iter().find_map(|numbered| {
            let mut cursor = cursor;
            let name = point::mark(&mut cursor, true, numbered)?;
            cursor.sign(&['=', ':', '@']);
            cursor.any(&["is at", "at", "is"]);
            cursor.measure_word();
            let measure = cursor.number()?;
            cursor.is_done().then_some(Mark { name, measure })
        })
    }
}

/// `A9` is written without a blank too.
fn closed_up(text: &str) -> Option<Mark> {
    let (name, measure) = text.split_at_checked(text.find(|c: char| c.is_ascii_digit())?)?;
    let letter = conventional::letter(name, false) == Some(name.len());
    let (rest, measure) = crate::notation::scan::number(measure).ok()?;
    (letter && rest.is_empty()).then(|| Mark {
        name: name.to_owned(),
        measure,
    })
}

impl fmt::Display for Mark {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        if self.name == self.measure.to_string() {
            return f.write_str(&self.name);
        }
        match conventional::is_plain(&self.name) {
            true => write!(f, "{} {}", self.name, self.measure),
            false => write!(f, "\"{}\" {}", self.name, self.measure),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn marks_are_read_as_directors_write_them() {
        for (written, one_form) in [
            ("A 9", Some("A 9")),
            ("A9", Some("A 9")),
            ("A=9", Some("A 9")),
            ("B at m. 33", Some("B 33")),
            ("letter B: bar 33", Some("B 33")),
            ("AA 121", Some("AA 121")),
            ("coda = 81", Some("coda 81")),
            ("the trio 41", Some("trio 41")),
            ("2nd strain 17", Some("2nd strain 17")),
            ("coda 9", Some("coda 9")),
            ("verse 2 at 33", Some("verse 2 33")),
            ("\"big tune\" 41", Some("\"big tune\" 41")),
            ("17", Some("17")),
            ("m. 17", Some("17")),
            ("rehearsal 4 57", Some("\"4\" 57")),
            ("big tune 41", None),
            ("zqxv 41", None),
            ("A", None),
            ("A nine", None),
            ("\"\" 41", None),
            ("", None),
        ] {
            let read = Mark::read(written);
            let shown = read.as_ref().map(ToString::to_string);
            assert_eq!(shown.as_deref(), one_form, "{written}");
            if let Some(shown) = shown {
                assert_eq!(Mark::read(&shown), read, "{written} again");
            }
        }
    }
}
