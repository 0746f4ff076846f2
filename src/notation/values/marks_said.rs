//! What is said of all rehearsal marks together: `letters A to G`, `A-F every 8`, `every 16 bars`.

use std::fmt;

use super::mark::Mark;
use super::steps::Steps;

/// Rehearsal marks that are told together.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct MarksSaid {
    /// The first and the last letter, where the marks are letters.
    pub letters: Option<(char, char)>,
    /// How many measures apart they stand, where that is said.
    pub every: Option<u32>,
    /// The measure of the first, where that is said.
    pub from: Option<u32>,
    /// Whether each mark is the number of its measure.
    pub measures: bool,
    /// A letter between them that is left out.
    pub without: Option<char>,
}

impl MarksSaid {
    /// Reads `letters A to G`, `A-F every 8`, `A to F, every 8 from 9`, `every 16 bars`, `every 10 measures`.
    pub fn read(text: &str) -> Option<MarksSaid> {
        let whole = text.trim();
        let (text, without) = match whole.rsplit_once(',') {
            Some((head, tail)) if MarksSaid::left_out(tail).is_some() => (head, MarksSaid::left_out(tail)),
            _ => (whole, None),
        };
        let mut words = Steps::new(text.trim());
        if words.any(&[
            "boxed measure numbers",
            "boxed bar numbers",
            "measure numbers",
            "bar numbers",
            "boxed numbers",
            "all boxed numbers",
            "all boxed",
        ]) && words.is_done()
        {
            return Some(MarksSaid {
                letters: None,
                every: None,
                from: None,
                measures: true,
                without: None,
            });
        }
        let mut words = Steps::new(text.trim());
        let measures = words.any(&[
            "boxed measure numbers",
            "measure numbers",
            "boxed numbers",
            "numbers",
            "numbered",
        ]);
        let named = measures
            || words.any(&[
                "rehearsal letters",
                "rehearsal figures",
                "letters",
                "figures",
                "marks",
            ]);
        let letters = letters(&mut words).filter(|_| !measures);
        let every = match words.eat("every") {
            true => Some(words.count().filter(|bars| *bars > 0)?),
            false => None,
        };
        if every.is_some() {
            words.measures();
        }
        (named && letters.is_some() || every.is_some() || letters.is_some()).then_some(())?;
        let from = match words.any(&["from", "starting at", "beginning at"]) {
            true => {
                words.measure_word();
                Some(words.number()?)
            }
            false => None,
        };
        words.is_done().then_some(MarksSaid {
            letters,
            every,
            from,
            measures,
            without,
        })
    }

    /// The letter that words leave out: `no I`, `without I`.
    pub fn left_out(text: &str) -> Option<char> {
        let rest = [
            "no letter ",
            "no ",
            "without ",
            "skipping ",
            "skips ",
            "not ",
            "leaving out ",
        ]
        .iter()
        .find_map(|lead| text.trim().strip_prefix(lead))?;
        let mut chars = rest.trim().chars();
        let letter = chars.next().filter(char::is_ascii_uppercase)?;
        chars.next().is_none().then_some(letter)
    }

    /// The names of the marks.
    pub fn names(&self) -> impl Iterator<Item = String> + '_ {
        let (first, last) = self.letters.unwrap_or(('B', 'A'));
        (first..=last)
            .filter(|letter| Some(*letter) != self.without)
            .map(String::from)
    }

    /// The marks with their measures, where these follow from what is said.
    pub fn marks(&self) -> Vec<Mark> {
        let (Some(every), Some(from)) = (self.every, self.from) else {
            return Vec::new();
        };
        let measures = (0..).map(|at: u32| from.saturating_add(every.saturating_mul(at)));
        self.names()
            .zip(measures)
            .map(|(name, measure)| Mark { name, measure })
            .collect()
    }
}

/// `A to G`, `A-F`, from a letter to a later one.
fn letters(words: &mut Steps<'_>) -> Option<(char, char)> {
    let mut ahead = *words;
    let first = letter(&mut ahead)?;
    if !ahead.dash() && !ahead.any(&["to", "through", "thru"]) {
        return None;
    }
    let last = letter(&mut ahead)?;
    *words = ahead;
    (first < last).then_some((first, last))
}

fn letter(words: &mut Steps<'_>) -> Option<char> {
    words.blanks();
    let mut chars = words.rest.chars();
    let letter = chars.next().filter(char::is_ascii_uppercase)?;
    let rest = chars.as_str();
    rest.chars().next().is_none_or(|c| !c.is_alphanumeric()).then(|| {
        words.rest = rest;
        letter
    })
}

impl fmt::Display for MarksSaid {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let mut parts = Vec::new();
        if self.measures {
            parts.push("measure numbers".to_owned());
        }
        if let Some((first, last)) = self.letters {
            parts.push(format!("letters {first} to {last}"));
        }
        parts.extend(self.every.map(|bars| format!("every {bars} measures")));
        parts.extend(self.from.map(|from| format!("from {from}")));
        f.write_str(&parts.join(" "))?;
        match self.without {
            Some(letter) => write!(f, ", no {letter}"),
            None => Ok(()),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn marks_are_told_together() {
        for (written, one_form) in [
            ("letters A to G", Some("letters A to G")),
            ("A-F every 8", Some("letters A to F every 8 measures")),
            ("figures A to J, no I", Some("letters A to J, no I")),
            (
                "A to F every 8 bars from 9",
                Some("letters A to F every 8 measures from 9"),
            ),
            ("every 16 bars", Some("every 16 measures")),
            ("every eight measures", Some("every 8 measures")),
            (
                "numbered every 10 measures",
                Some("measure numbers every 10 measures"),
            ),
            ("boxed measure numbers", Some("measure numbers")),
            ("measure numbers zqxv", None),
            ("G to A", None),
            ("letters A to zqxv", None),
            ("A-F every zqxv", None),
            ("every 8 zqxv", None),
            ("letters", None),
            ("A", None),
            ("", None),
        ] {
            let read = MarksSaid::read(written);
            let shown = read.as_ref().map(ToString::to_string);
            assert_eq!(shown.as_deref(), one_form, "{written}");
            if let Some(shown) = shown {
                assert_eq!(MarksSaid::read(&shown), read, "{written} again");
            }
        }
        let said = MarksSaid::read("A-C every 8 from 9");
        let marks: Vec<String> = said
            .iter()
            .flat_map(MarksSaid::marks)
            .map(|m| m.to_string())
            .collect();
        assert_eq!(marks, ["A 9", "B 17", "C 25"]);
        assert_eq!(said.map(|said| said.names().count()), Some(3));
    }
}
