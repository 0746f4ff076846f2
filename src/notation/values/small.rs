//! Short values: marks, instruments owned, copies, needs, titles and what is said of them.

use std::fmt;

use nom::Parser;
use nom::branch::alt;
use nom::combinator::opt;
use nom::sequence::preceded;

use super::day::Day;
use super::grade::Grade;
use super::place::{measure_word, stretch};
use crate::music::PitchRange;
use crate::notation::names;
use crate::notation::scan::{self, blanks, blanks1, number, word};

/// A rehearsal mark and the measure it stands at.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Mark {
    /// The mark's name; for a mark that is a measure number, that number.
    pub name: String,
    /// Its measure.
    pub measure: u32,
}

impl Mark {
    /// Reads `A 9`, `B at m. 33`, `coda = 81`, `17` (a mark that is its measure's number).
    pub fn read(text: &str) -> Option<Mark> {
        let text = text.trim();
        if let Ok(("", measure)) = preceded(opt(measure_word), number).parse(text) {
            return Some(Mark {
                name: measure.to_string(),
                measure,
            });
        }
        let digits = text.len() - text.trim_end_matches(|c: char| c.is_ascii_digit()).len();
        let (head, tail) = text.split_at_checked(text.len() - digits)?;
        let measure = tail.parse().ok()?;
        let mut name = head.trim_end();
        for lead in ["measure", "bar", "mm.", "m.", "at", "=", ":", "@"] {
            if let Some(rest) = strip_end(name, lead) {
                name = rest;
            }
        }
        let name = name.split_whitespace().collect::<Vec<_>>().join(" ");
        let name = name.trim_matches(scan::is_quote).to_owned();
        (!name.is_empty() && name.chars().count() <= 40).then_some(Mark { name, measure })
    }
}

/// `name` without `lead` at its end, where it stands there as a word of its own.
fn strip_end<'a>(name: &'a str, lead: &str) -> Option<&'a str> {
    let head = name.get(..name.len().checked_sub(lead.len())?)?;
    let tail = name.get(head.len()..)?;
    let apart = head.ends_with(scan::is_blank) || !lead.starts_with(char::is_alphabetic);
    (tail.eq_ignore_ascii_case(lead) && apart && !head.trim().is_empty()).then(|| head.trim_end())
}

impl fmt::Display for Mark {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        if self.name == self.measure.to_string() {
            return f.write_str(&self.name);
        }
        write!(f, "{} {}", self.name, self.measure)
    }
}

/// An instrument or section and a range of written pitches.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct NamedRange {
    /// The instrument or part as written.
    pub name: String,
    /// The range, written pitch.
    pub range: PitchRange,
}

impl NamedRange {
    /// Reads `trumpet Bb3-D5` or `clarinet 2 G3-B4`.
    pub fn read(text: &str) -> Option<NamedRange> {
        let words: Vec<&str> = text.split_whitespace().collect();
        (1..words.len().min(8)).find_map(|at| {
            let range = PitchRange::read(&words.get(at..)?.join(" "))?;
            Some(NamedRange {
                name: names::part_in_full(words.get(..at)?.join(" ").trim_end_matches(':')),
                range,
            })
        })
    }
}

impl fmt::Display for NamedRange {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{} {}", self.name, self.range)
    }
}

/// Percussion instruments that are owned or borrowed.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Equipment {
    /// How many; one unless said.
    pub count: u32,
    /// The instrument as written, in the singular or plural.
    pub name: String,
    /// Drum sizes in inches, as for timpani.
    pub sizes: Vec<u32>,
    /// Where it comes from, when that is said.
    pub from: Option<String>,
}

impl Equipment {
    /// Reads `bells`, `2 snares`, `timpani 29 and 26`, `chimes from the high school`.
    pub fn read(text: &str) -> Option<Equipment> {
        let text = text.trim();
        let (text, from) = match text.split_once(" from ") {
            Some((head, from)) => (head.trim(), Some(from.trim().to_owned())),
            None => (text, None),
        };
        let (rest, count) = opt(nom::sequence::terminated(
            number,
            (blanks, opt(alt((word("x"), word("×"))))),
        ))
        .parse(text)
        .ok()?;
        let rest = rest.trim();
        let name_end = rest.find(|c: char| c.is_ascii_digit()).unwrap_or(rest.len());
        let (name, tail) = rest.split_at_checked(name_end)?;
        let sizes: Option<Vec<u32>> = tail
            .split(|c: char| !c.is_ascii_digit())
            .filter(|digits| !digits.is_empty())
            .map(|digits| digits.parse().ok())
            .collect();
        let name = name.trim().trim_end_matches([':', '(']).trim();
        // Words after the sizes would be lost, so such an item keeps all of its words as the name.
        let sizes_only = tail
            .split(|c: char| c.is_whitespace() || c == '"' || c == '″' || c == '&' || c == '-' || c == '/')
            .all(|word| {
                word.is_empty() || word == "and" || word == "inch" || word.chars().all(|c| c.is_ascii_digit())
            });
        let (name, sizes) = if sizes_only {
            (name, sizes?)
        } else {
            (rest, Vec::new())
        };
        (!name.is_empty()).then(|| Equipment {
            count: count.unwrap_or(1),
            name: names::in_full(name),
            sizes,
            from,
        })
    }
}

impl fmt::Display for Equipment {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        if self.count != 1 {
            write!(f, "{} ", self.count)?;
        }
        f.write_str(&self.name)?;
        let sizes: Vec<String> = self.sizes.iter().map(u32::to_string).collect();
        if !sizes.is_empty() {
            write!(f, " {}", sizes.join(" and "))?;
        }
        match &self.from {
            Some(from) => write!(f, " from {from}"),
            None => Ok(()),
        }
    }
}

/// Something taught or asked, perhaps by a day.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Skill {
    /// Its name as written.
    pub name: String,
    /// The day by which it is taught.
    pub by: Option<Day>,
}

impl Skill {
    /// Whether it stands for every skill on its line: `all by 2026-10-01`.
    pub fn is_all(&self) -> bool {
        self.by.is_some() && self.name.eq_ignore_ascii_case("all")
    }

    /// Reads `slurs by 2026-10-01`; never fails on words.
    pub fn read(text: &str) -> Option<Skill> {
        let text = text.trim();
        let split = text
            .rfind(" by ")
            .and_then(|at| Some((text.get(..at)?, Day::read(text.get(at + 4..)?)?)));
        let (name, by) = match split {
            Some((name, day)) => (name.trim(), Some(day)),
            None => (text, None),
        };
        (!name.is_empty()).then(|| Skill {
            name: name.split_whitespace().collect::<Vec<_>>().join(" "),
            by,
        })
    }
}

impl fmt::Display for Skill {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.name)?;
        match self.by {
            Some(day) => write!(f, " by {day}"),
            None => Ok(()),
        }
    }
}

/// Copies of a part.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Copies {
    /// How many, where that is said.
    pub count: Option<u32>,
    /// The part as written.
    pub part: String,
}

impl Copies {
    /// Reads `8 flute 1`, `1 score`, `tuba`.
    pub fn read(text: &str) -> Option<Copies> {
        let text = text.trim();
        let (rest, count) = opt(nom::sequence::terminated(number, blanks1)).parse(text).ok()?;
        let part = names::part_in_full(rest);
        (!part.is_empty()).then_some(Copies { count, part })
    }
}

impl fmt::Display for Copies {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self.count {
            Some(count) => write!(f, "{count} {}", self.part),
            None => f.write_str(&self.part),
        }
    }
}

/// What a piece needs: players in a number from–to, or other words.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Needs {
    /// The fewest and the most, where numbers are given.
    pub players: Option<(u32, u32)>,
    /// Of what, such as `percussionists` or `minimum`.
    pub what: String,
}

impl Needs {
    /// Reads `4-5 percussionists`, `4 minimum`, `at least 4 percussionists`, `a strong trumpet`.
    pub fn read(text: &str) -> Option<Needs> {
        let text = text.split_whitespace().collect::<Vec<_>>().join(" ");
        let least = ["at least ", "minimum of ", "minimum ", "min. ", "min "]
            .iter()
            .find_map(|lead| text.strip_prefix(lead));
        let body = least.unwrap_or(&text);
        let Ok((rest, counted)) = stretch(body) else {
            return (!text.is_empty()).then_some(Needs {
                players: None,
                what: text,
            });
        };
        let mut what = rest.trim().to_owned();
        if least.is_some() {
            what = format!("{what} minimum").trim().to_owned();
        }
        let what = match what.strip_prefix("percussion players") {
            Some(rest) => format!("percussionists{rest}"),
            None => what,
        };
        Some(Needs {
            players: Some((counted.first, counted.last)),
            what,
        })
    }

    /// Whether it counts percussionists; a bare number or minimum does.
    pub fn is_percussion(&self) -> bool {
        let what = self
            .what
            .trim_end_matches("minimum")
            .trim_end_matches("min")
            .trim();
        matches!(what, "" | "percussionists" | "percussionist" | "percussion")
    }

    /// Whether the number is the fewest with which it can be done.
    pub fn is_minimum(&self) -> bool {
        self.what.ends_with("minimum") || self.what.ends_with("min")
    }
}

impl fmt::Display for Needs {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self.players {
            Some((low, high)) if low == high => write!(f, "{low}")?,
            Some((low, high)) => write!(f, "{low}-{high}")?,
            None => return f.write_str(&self.what),
        }
        if self.what.is_empty() {
            Ok(())
        } else {
            write!(f, " {}", self.what)
        }
    }
}

/// The quoted name of another card, with its writer where two cards share the name, and the rest of the item.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Titled {
    /// The name between the quotes.
    pub name: String,
    /// Who wrote it, to tell two pieces of one title apart.
    pub by: Option<String>,
    /// The grade given after the name.
    pub grade: Option<Grade>,
    /// Other words after the name.
    pub words: String,
}

impl Titled {
    /// Reads `"Air" by Lindqvist`, `"Harbor Parade" grade 1.5`, `"Suite" movements 1 and 3`.
    pub fn read(text: &str) -> Option<Titled> {
        let (rest, name) = scan::quoted(text.trim()).ok()?;
        let mut titled = Titled {
            name: name.to_owned(),
            by: None,
            grade: None,
            words: String::new(),
        };
        let rest = rest.trim();
        let (rest, grade) = match find_word(rest, "grade") {
            Some(at) => (rest.get(..at)?.trim(), Some(Grade::read(rest.get(at..)?)?)),
            None => (rest, None),
        };
        titled.grade = grade;
        match rest.strip_prefix("by ") {
            Some(by) => titled.by = Some(by.trim().to_owned()),
            None => titled.words = rest.split_whitespace().collect::<Vec<_>>().join(" "),
        }
        Some(titled)
    }
}

fn find_word(text: &str, word: &str) -> Option<usize> {
    text.match_indices(word).map(|(at, _)| at).find(|at| {
        *at == 0
            || text
                .get(..*at)
                .is_some_and(|before| before.ends_with(scan::is_blank))
    })
}

impl fmt::Display for Titled {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "\"{}\"", self.name)?;
        if let Some(by) = &self.by {
            write!(f, " by {by}")?;
        }
        if !self.words.is_empty() {
            write!(f, " {}", self.words)?;
        }
        match &self.grade {
            Some(grade) => write!(f, " grade {grade}"),
            None => Ok(()),
        }
    }
}

/// A finding that is let stand, and why.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Stet {
    /// The finding's phrase.
    pub phrase: String,
    /// The reason after `because`, where one is given.
    pub reason: Option<String>,
}

impl Stet {
    /// Reads `over the break because the seconds are eighth graders`; a phrase may also stand alone.
    pub fn read(text: &str) -> Option<Stet> {
        let text = text.split_whitespace().collect::<Vec<_>>().join(" ");
        let (phrase, reason) = match find_word(&text, "because ") {
            Some(at) => (
                text.get(..at)?.trim(),
                text.get(at + 8..).map(|reason| reason.trim().to_owned()),
            ),
            None => (text.strip_suffix(" because").unwrap_or(&text), None),
        };
        let phrase = phrase.trim_end_matches(',').trim_end();
        (!phrase.is_empty()).then(|| Stet {
            phrase: phrase.to_lowercase(),
            reason: reason.filter(|reason| !reason.is_empty()),
        })
    }
}

impl fmt::Display for Stet {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.phrase)?;
        match &self.reason {
            Some(reason) => write!(f, " because {reason}"),
            None => Ok(()),
        }
    }
}

/// One performance: the day, the bands, and how it went, in the words used.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Performance {
    /// The day, month or year.
    pub day: Option<Day>,
    /// The bands, by the names of their cards.
    pub bands: Vec<String>,
    /// The rest, item by item.
    pub words: Vec<String>,
}

impl Performance {
    /// Reads `2024-05-12 "Seventh Grade Band", took 6 weeks, result I I II`.
    pub fn read(text: &str) -> Option<Performance> {
        let text = text.trim();
        let head_end = text
            .find(scan::is_quote)
            .or_else(|| first_comma_after_day(text))
            .unwrap_or(text.len());
        let head = text.get(..head_end)?.trim().trim_end_matches([',', ';']);
        let head = head
            .strip_suffix(" by")
            .or_else(|| head.strip_suffix(" with"))
            .unwrap_or(head);
        let mut performance = Performance {
            day: Day::read(head),
            bands: Vec::new(),
            words: Vec::new(),
        };
        // Figures in front were meant as a day, unless a word that is no month leads them: `spring 2019`.
        let first = head.split_whitespace().next().unwrap_or("");
        let is_season =
            first.chars().all(char::is_alphabetic) && Day::read(&format!("{first} 2020")).is_none();
        if performance.day.is_none() && !is_season && head.contains(|c: char| c.is_ascii_digit()) {
            return None;
        }
        if performance.day.is_none() && !head.is_empty() {
            performance
                .words
                .push(head.split_whitespace().collect::<Vec<_>>().join(" "));
        }
        for piece in super::super::items::split_commas(text.get(head_end..)?) {
            let mut rest = piece.1.trim();
            while let Ok((tail, name)) = scan::quoted(rest) {
                performance.bands.push(name.to_owned());
                rest = tail.trim_start();
                rest = rest.strip_prefix("and ").unwrap_or(rest).trim_start();
            }
            if !rest.is_empty() {
                performance
                    .words
                    .push(rest.split_whitespace().collect::<Vec<_>>().join(" "));
            }
        }
        Some(performance)
    }
}

/// The comma that ends the day: not the one inside `May 12, 2024`.
fn first_comma_after_day(text: &str) -> Option<usize> {
    let commas: Vec<usize> = text.match_indices(',').map(|(at, _)| at).take(3).collect();
    commas
        .iter()
        .rev()
        .copied()
        .find(|at| text.get(..*at).is_some_and(|head| Day::read(head).is_some()))
        .or_else(|| commas.first().copied())
}

impl fmt::Display for Performance {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let mut head: Vec<String> = self.day.iter().map(Day::to_string).collect();
        head.extend(self.bands.iter().map(|band| format!("\"{band}\"")));
        let mut parts = Vec::new();
        if !head.is_empty() {
            parts.push(head.join(" "));
        }
        parts.extend(self.words.iter().cloned());
        f.write_str(&parts.join(", "))
    }
}
