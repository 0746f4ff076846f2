//! The quoted name of another card, with what is said of it: `"Suite" movements 1 and 3`.

use std::fmt;

use crate::notation::scan;

use super::cursor::{Cursor, number};
use super::grade::Grade;
use super::lasts::Lasts;
use super::partner;

/// The quoted name of another card, with its writer where two cards share the name, and the rest of the item.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Titled {
    /// The name between the quotes.
    pub name: String,
    /// Who wrote it, to tell two pieces of one title apart.
    pub by: Option<String>,
    /// The grade given after the name.
    pub grade: Option<Grade>,
    /// The movements meant; none for all.
    pub movements: Vec<u32>,
    /// Who joins in, such as `the choir`.
    pub with: Option<String>,
    /// What else is said, in one of the usual words.
    pub said: Option<&'static str>,
    /// The year of the list or book.
    pub year: Option<i16>,
    /// Whether it stands without quotation marks, so that it is a title only where a card has it.
    pub bare: bool,
}

/// The last words of a list's name that needs no quotation marks.
const LISTS: [&str; 8] = [
    "list",
    "lists",
    "syllabus",
    "repertoire list",
    "companion",
    "handbook",
    "guide",
    "catalog",
];

/// What is said of a piece on a program or list, in the one form (common practice, no source).
const SAID: [(&str, &str); 23] = [
    ("for two bands", "both bands"),
    ("with both bands", "both bands"),
    ("both bands", "both bands"),
    ("combined bands", "both bands"),
    ("combined", "both bands"),
    ("massed bands", "both bands"),
    ("closer", "closer"),
    ("to close", "closer"),
    ("to finish", "closer"),
    ("finale", "closer"),
    ("opener", "opener"),
    ("to open", "opener"),
    ("encore", "encore"),
    ("sight-reading", "sight-reading"),
    ("sightreading", "sight-reading"),
    ("if time", "if time allows"),
    ("if time allows", "if time allows"),
    ("if there is time", "if time allows"),
    ("not judged", "not judged"),
    ("before the interval", "before the intermission"),
    ("before the intermission", "before the intermission"),
    ("after the interval", "after the intermission"),
    ("after the intermission", "after the intermission"),
];

impl Titled {
    /// Nothing but a name.
    pub fn named(name: &str) -> Titled {
        Titled {
            name: name.to_owned(),
            by: None,
            grade: None,
            movements: Vec::new(),
            with: None,
            said: None,
            year: None,
            bare: false,
        }
    }

    /// Reads a title without quotation marks, with who wrote it or which movements of it: `Air by Lindqvist`. Any words
    /// may be one, so that only a card that bears them makes them one.
    pub fn read_bare(text: &str) -> Option<Titled> {
        const STOPS: [&str; 7] = [
            " by ",
            " grade ",
            " movements ",
            " movement ",
            " mvts ",
            " mvt ",
            " mvt. ",
        ];
        let text = text.trim();
        let words = text.split_whitespace().count();
        let plain = !text.contains(|c: char| scan::is_quote(c) || matches!(c, '?' | '=' | '\\'));
        if !plain || !(1..=12).contains(&words) || !text.contains(char::is_alphabetic) {
            return None;
        }
        let stop = STOPS.iter().filter_map(|stop| text.find(stop)).min();
        let titled = match stop {
            Some(at) => Titled::with_rest(text.get(..at)?, text.get(at..)?)?,
            None => Titled::named(text),
        };
        let name = titled.name.trim_end_matches([':', '-', '–', '—', ' ']).to_owned();
        (!name.is_empty()).then_some(Titled {
            name,
            bare: true,
            ..titled
        })
    }

    /// Reads `"Air" by Lindqvist`, `"Harbor Parade" grade 1.5`, `"Suite" movements 1 and 3`,
    /// `1. "Long Song"`, `- "Long Song"`, `"The "Old" Mill"`, `"Ode" with the choir`.
    pub fn read(text: &str) -> Option<Titled> {
        if text.len() > 2 * scan::LONGEST as usize {
            return None;
        }
        let text = without_bullet(text.trim());
        title_ends(text)
            .into_iter()
            .rev()
            .find_map(|(name, rest)| Titled::with_rest(name, rest))
    }

    /// Reads a list or book in which a piece stands: as a title, or by the words that end in `list` and their like,
    /// without quotation marks: `county festival own-choice list, 2026`.
    pub fn read_listed(text: &str) -> Option<Titled> {
        let text = text.trim();
        let (head, year) = match text.rsplit_once([',', ' ', ';']) {
            Some((head, last)) if last.len() == 4 => (head, last.parse().ok()),
            _ => (text, None),
        };
        let year: Option<i16> = year.filter(|year| (1900..=2079).contains(year));
        let head = if year.is_some() {
            head.trim_end_matches([',', ';', ' '])
        } else {
            text
        };
        if let Some(titled) = Titled::read(head) {
            return Some(Titled { year, ..titled });
        }
        // `state list grade 2`: the grade there stands behind the name.
        if let Some((name, grade)) = head.split_once(" grade ")
            && let Some(grade) = Grade::read(grade)
            && let Some(listed) = Titled::read_listed(name).filter(|listed| listed.grade.is_none())
        {
            return Some(Titled {
                year: listed.year.or(year),
                grade: Some(grade),
                ..listed
            });
        }
        let words: Vec<&str> = head.split_whitespace().collect();
        let last = words.last()?.to_lowercase();
        // What a list would say of itself is no part of its name.
        let grammar = ["grade", "and", "or", "level", "by", "not", "no"];
        let plain = !head
            .contains(|c: char| scan::is_quote(c) || matches!(c, ',' | ';') || c.is_ascii_digit())
            && !words
                .iter()
                .any(|word| grammar.contains(&word.to_lowercase().as_str()));
        let named = plain && (2..=7).contains(&words.len()) && LISTS.contains(&last.as_str());
        let name = words.join(" ");
        let name = name
            .strip_prefix("the ")
            .or_else(|| name.strip_prefix("on the "))
            .unwrap_or(&name);
        named.then(|| Titled {
            year,
            ..Titled::named(name)
        })
    }

    /// Reads two and more titles that are joined: `"A" and "B"`.
    pub fn read_joined(text: &str) -> Option<Vec<Titled>> {
        let text = without_bullet(text.trim());
        let mut found = Vec::new();
        let mut rest = text;
        loop {
            let cut = [" and ", " & ", " + ", " then "]
                .iter()
                .flat_map(|joint| {
                    rest.match_indices(joint)
                        .filter(|(at, joint)| {
                            rest.get(at + joint.len()..)
                                .is_some_and(|tail| tail.trim_start().starts_with(scan::is_quote))
                        })
                        .map(|(at, joint)| (at, joint.len()))
                        .collect::<Vec<_>>()
                })
                .find_map(|(at, length)| {
                    let first = Titled::read(rest.get(..at)?)?;
                    Some((first, rest.get(at + length..)?))
                });
            match cut {
                Some((first, tail)) => {
                    found.push(first);
                    rest = tail;
                }
                None => {
                    found.push(Titled::read(rest)?);
                    return Some(found);
                }
            }
        }
    }

    fn with_rest(name: &str, rest: &str) -> Option<Titled> {
        const STOPS: [&str; 8] = [
            "grade",
            "level",
            "movements",
            "movement",
            "mvts",
            "mvt",
            "with",
            "mvt.",
        ];
        let mut titled = Titled::named(name);
        let rest = rest.trim().trim_start_matches([':', ',']);
        let mut words = Cursor::new(rest);
        while !words.done() {
            if titled.by.is_none() && words.take("by") {
                titled.by = Some(words.until(&STOPS)?.trim_end_matches(',').to_owned());
            } else if titled.movements.is_empty()
                && words.any(&["movements", "movement", "mvts.", "mvts", "mvt.", "mvt", "mov."])
            {
                titled.movements = words.longest(movements)?;
                words.take("only");
            } else if titled.grade.is_none() && words.peek().is_some_and(is_grade_word) {
                titled.grade = Some(words.longest(Grade::read)?);
            } else if titled.said.is_none()
                && let Some(said) = words.one_of(&SAID)
            {
                titled.said = Some(said);
            } else if titled.with.is_none() && words.take("with") {
                titled.with = Some(words.longest(partner::read)?);
            } else if titled.grade.is_none() {
                // A number behind a title on a list is its grade there.
                titled.grade = Some(words.longest(Grade::read)?);
            } else {
                return None;
            }
        }
        Some(titled)
    }
}

fn is_grade_word(word: &str) -> bool {
    ["grade", "gr.", "gr", "level"]
        .iter()
        .any(|known| word.eq_ignore_ascii_case(known))
}

/// A title without the number or bullet that a list puts before it.
pub(super) fn without_bullet(text: &str) -> &str {
    let digits = text.chars().take_while(char::is_ascii_digit).count();
    let rest = text.get(digits..).unwrap_or("");
    if (1..=2).contains(&digits)
        && let Some(rest) = rest.strip_prefix(['.', ')'])
    {
        return rest.trim_start();
    }
    text.strip_prefix(['-', '*', '•', '–', '—'])
        .filter(|rest| rest.starts_with([' ', '"', '“']))
        .map_or(text, str::trim_start)
}

/// The title as it may end at one quotation mark or another: the first, or a later one where the title holds
/// quotation marks of its own. The way with the fewest words left comes last.
fn title_ends(text: &str) -> Vec<(&str, &str)> {
    let mut marks = text.char_indices().filter(|(_, c)| scan::is_quote(*c));
    let Some((0, open)) = marks.next() else {
        return Vec::new();
    };
    let start = open.len_utf8();
    let ends: Vec<(usize, usize)> = marks.map(|(at, c)| (at, c.len_utf8())).take(12).collect();
    if ends.is_empty() {
        let name = text.get(start..).unwrap_or("").trim();
        return if name.is_empty() {
            Vec::new()
        } else {
            vec![(name, "")]
        };
    }
    let mut found: Vec<(&str, &str)> = Vec::new();
    for (nth, (at, length)) in ends.iter().enumerate() {
        // Marks inside a title come in pairs.
        if nth % 2 == 1 {
            continue;
        }
        let (Some(name), Some(rest)) = (text.get(start..*at), text.get(at + length..)) else {
            continue;
        };
        let inner = name.chars().filter(|c| scan::is_quote(*c)).count();
        let apart = nth == 0 || glued(text, start, *at);
        if inner % 2 == 0 && apart && !name.trim().is_empty() {
            found.push((name.trim(), rest));
        }
    }
    found
}

/// Whether marks inside a title open and close words of it: `"The "Old" Mill"`, and not `"A" and "B"`.
fn glued(text: &str, start: usize, end: usize) -> bool {
    let name = text.get(start..end).unwrap_or("");
    let mut open = true;
    name.char_indices()
        .filter(|(_, c)| scan::is_quote(*c))
        .all(|(at, c)| {
            let before = name.get(..at).and_then(|head| head.chars().next_back());
            let after = name.get(at + c.len_utf8()..).and_then(|tail| tail.chars().next());
            let fits = match open {
                true => before.is_none_or(char::is_whitespace) && after.is_some_and(|c| !c.is_whitespace()),
                false => before.is_some_and(|c| !c.is_whitespace()) && after.is_none_or(char::is_whitespace),
            };
            open = !open;
            fits
        })
}

/// `1 and 3`, `2`, `1-3`, `1, 2 and 4`.
fn movements(text: &str) -> Option<Vec<u32>> {
    let spaced = text.replace([',', '&'], " ");
    let mut found = Vec::new();
    for word in spaced.split_whitespace().filter(|word| *word != "and") {
        let (first, last) = match word.split_once(['-', '–']) {
            Some((first, last)) => (number(first)?, number(last)?),
            None => (number(word)?, number(word)?),
        };
        (first >= 1 && first <= last && last <= 50).then_some(())?;
        found.extend(first..=last);
    }
    (!found.is_empty() && !text.trim_end().ends_with("and") && !text.starts_with("and")).then_some(found)
}

impl fmt::Display for Titled {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self.bare {
            true => f.write_str(&scan::single(&self.name))?,
            false => write!(f, "\"{}\"", self.name)?,
        }
        if let Some(by) = &self.by {
            write!(f, " by {by}")?;
        }
        match self.movements.as_slice() {
            [] => {}
            [one] => write!(f, " movement {one}")?,
            [all @ .., last] => {
                let all: Vec<String> = all.iter().map(u32::to_string).collect();
                write!(f, " movements {} and {last}", all.join(" and "))?;
            }
        }
        if let Some(grade) = &self.grade {
            write!(f, " grade {grade}")?;
        }
        if let Some(with) = &self.with {
            write!(f, " with {with}")?;
        }
        if let Some(said) = self.said {
            write!(f, " {said}")?;
        }
        match self.year {
            Some(year) => write!(f, ", {year}"),
            None => Ok(()),
        }
    }
}

/// The years or grades of players that something is for, where no band is named: `grades 6 through 8`, `6th + 7th`,
/// `bands in their second and third year`.
///
/// One year alone may be a band whose name lost its quotation marks (`seventh grade band`), so that it is not read.
pub fn whom(text: &str) -> Option<String> {
    const NUMBERS: [&str; 18] = [
        "first", "second", "third", "fourth", "fifth", "sixth", "seventh", "eighth", "ninth", "1st", "2nd",
        "3rd", "4th", "5th", "6th", "7th", "8th", "9th",
    ];
    const WORDS: [&str; 44] = [
        "grade",
        "grades",
        "graders",
        "gr",
        "gr.",
        "year",
        "years",
        "yr",
        "yrs",
        "band",
        "bands",
        "beginning",
        "beginner",
        "beginners",
        "second-year",
        "first-year",
        "third-year",
        "2nd-year",
        "1st-year",
        "3rd-year",
        "training",
        "concert",
        "middle",
        "high",
        "school",
        "elementary",
        "level",
        "players",
        "kids",
        "students",
        "in",
        "their",
        "the",
        "our",
        "my",
        "all",
        "up",
        "of",
        "not",
        "hs",
        "ms",
        "and up",
        "winds",
        "young",
    ];
    const JOINTS: [&str; 8] = ["and", "&", "+", "to", "through", "thru", "-", "or"];
    let words: Vec<String> = text.split_whitespace().map(str::to_lowercase).collect();
    let is_year = |word: &str| {
        let figure = word.len() <= 2 && word.chars().all(|c| c.is_ascii_digit());
        let span = word.split_once(['-', '–']).is_some_and(|(low, high)| {
            [low, high]
                .iter()
                .all(|end| NUMBERS.contains(end) || end.chars().all(|c| c.is_ascii_digit()))
        });
        figure || span && !word.ends_with("-year") || NUMBERS.contains(&word)
    };
    let known = words
        .iter()
        .all(|word| is_year(word) || WORDS.contains(&word.as_str()) || JOINTS.contains(&word.as_str()));
    let years = words
        .iter()
        .filter(|word| is_year(word) || word.ends_with("-year"))
        .count();
    let several = years > 1
        || years == 1
            && words
                .iter()
                .any(|word| matches!(word.as_str(), "graders" | "grades" | "years"));
    let level = words.first().is_some_and(|word| {
        matches!(
            word.as_str(),
            "training" | "beginning" | "beginner" | "beginners" | "not"
        )
    });
    let whole = words.last().is_some_and(|word| !JOINTS.contains(&word.as_str()));
    (known && whole && (several || level && words.len() > 1)).then(|| single_blanks(text))
}

fn single_blanks(text: &str) -> String {
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

/// Pieces of a bundle or list that have no name here: `two marches we already have`.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Unnamed {
    /// How many.
    pub count: u32,
    /// What they are, in one of the usual words, in the plural.
    pub what: &'static str,
    /// Whether the library has them already.
    pub owned: bool,
}

/// What pieces without a name may be (common practice, no source).
const UNNAMED: [(&str, &str); 18] = [
    ("other pieces", "pieces"),
    ("more pieces", "pieces"),
    ("pieces", "pieces"),
    ("piece", "pieces"),
    ("others", "pieces"),
    ("other", "pieces"),
    ("more", "pieces"),
    ("titles", "pieces"),
    ("marches", "marches"),
    ("march", "marches"),
    ("carols", "carols"),
    ("chorales", "chorales"),
    ("chorale", "chorales"),
    ("warm-ups", "warm-ups"),
    ("overtures", "overtures"),
    ("waltzes", "waltzes"),
    ("ballads", "ballads"),
    ("holiday pieces", "holiday pieces"),
];

impl Unnamed {
    /// Reads `2 others`, `two marches we already have`, `3 more pieces`.
    pub fn read(text: &str) -> Option<Unnamed> {
        let mut words = Cursor::new(text);
        words.any(&["and", "plus"]);
        let count = words.number().filter(|count| *count > 0)?;
        let what = words.one_of(&UNNAMED)?;
        words.any(&["that", "which"]);
        let owned = words.any(&[
            "we already have",
            "we already own",
            "we have already",
            "we have",
            "we own",
            "i already have",
        ]);
        words.done().then_some(Unnamed { count, what, owned })
    }
}

impl fmt::Display for Unnamed {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{} {}", self.count, self.what)?;
        f.write_str(if self.owned { " we already have" } else { "" })
    }
}

/// What stands on a program and is no piece: `warm-up`, `intermission 15 minutes`.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Interlude {
    /// What it is, in the one form.
    pub what: &'static str,
    /// How long it lasts, where that is said.
    pub lasts: Option<Lasts>,
    /// What a warm-up is made of, in one of the usual words.
    pub of: Vec<String>,
}

/// What may stand between pieces, in the one form (common practice, no source).
const INTERLUDES: [(&str, &str); 38] = [
    ("one more to be chosen", "to be chosen"),
    ("one more to be picked", "to be chosen"),
    ("one more tbd", "to be chosen"),
    ("one to be chosen", "to be chosen"),
    ("one more to choose", "to be chosen"),
    ("to be chosen", "to be chosen"),
    ("to be announced", "to be chosen"),
    ("to be decided", "to be chosen"),
    ("tbd", "to be chosen"),
    ("tba", "to be chosen"),
    ("principal's speech", "speech"),
    ("raffle", "raffle"),
    ("warm-up", "warm-up"),
    ("warm up", "warm-up"),
    ("warmup", "warm-up"),
    ("tuning", "tuning"),
    ("tune", "tuning"),
    ("chorale", "chorale"),
    ("intermission", "intermission"),
    ("interval", "intermission"),
    ("break", "intermission"),
    ("awards", "awards"),
    ("award presentation", "awards"),
    ("speech", "speech"),
    ("speeches", "speech"),
    ("welcome", "welcome"),
    ("announcements", "announcements"),
    ("introductions", "announcements"),
    ("talk", "speech"),
    ("stage change", "stage change"),
    ("set change", "stage change"),
    ("changeover", "stage change"),
    ("sight-reading", "sight-reading"),
    ("national anthem", "national anthem"),
    ("the national anthem", "national anthem"),
    ("carols", "carols"),
    ("choir", "choir"),
    ("jazz band", "jazz band"),
];

impl Interlude {
    /// Reads `warm-up`, `intermission 15 minutes`, `10-minute intermission`, `2. awards`.
    pub fn read(text: &str) -> Option<Interlude> {
        let plain = without_bullet(text.trim()).replace("-minute ", " minutes ");
        let mut words = Cursor::new(&plain);
        let before = words.longest(Lasts::read);
        words.any(&["of", "the", "a"]);
        let what = words.one_of(&INTERLUDES)?;
        words.any(&["of", "for", "with"]);
        let mut of = Vec::new();
        while what == "warm-up"
            && let Some(exercise) = words.longest(exercise)
        {
            of.push(exercise);
            words.any(&["and", "&", "then", "+"]);
            words.take("the");
        }
        let lasts = match before {
            None if !words.done() => Some(words.longest(Lasts::read)?),
            lasts => lasts,
        };
        words.done().then_some(Interlude { what, lasts, of })
    }
}

/// What bands warm up with: `Bb scale`, `chorale`, `long tones`.
fn exercise(text: &str) -> Option<String> {
    const EXERCISES: [&str; 9] = [
        "chorale",
        "scale",
        "scales",
        "long tones",
        "lip slurs",
        "tuning",
        "breathing",
        "rhythms",
        "stretches",
    ];
    let lower = text.to_lowercase();
    if EXERCISES.contains(&lower.as_str()) {
        return Some(lower);
    }
    let key = text.strip_suffix(" scale")?;
    let center = crate::music::Center::read(key)?;
    center.key().map(|_| format!("{key} scale"))
}

impl fmt::Display for Interlude {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self.what)?;
        if !self.of.is_empty() {
            write!(f, " {}", self.of.join(" and "))?;
        }
        match self.lasts {
            Some(lasts) => write!(f, " {lasts}"),
            None => Ok(()),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn lists_need_no_quotation_marks() {
        for (written, one_form) in [
            (
                "county festival own-choice list, 2026",
                Some("\"county festival own-choice list\", 2026"),
            ),
            (
                "\"Larch list\" grade 2, 2025",
                Some("\"Larch list\" grade 2, 2025"),
            ),
            ("the district list", Some("\"district list\"")),
            ("\"Larch list\" zqxv", None),
            ("zqxv", None),
            ("list", None),
            ("county list, zqxv", None),
            ("state list grade 2 and county list", None),
        ] {
            let read = Titled::read_listed(written);
            let shown = read.as_ref().map(ToString::to_string);
            assert_eq!(shown.as_deref(), one_form, "{written}");
            let again = shown.and_then(|shown| Titled::read_listed(&shown));
            assert_eq!(again, read, "{written} again");
        }
    }

    #[test]
    fn pieces_without_a_name_are_counted() {
        for (written, one_form) in [
            ("two marches we already have", Some("2 marches we already have")),
            ("and 3 others", Some("3 pieces")),
            ("1 chorale", Some("1 chorales")),
            ("two zqxv", None),
            ("two marches zqxv", None),
            ("marches", None),
        ] {
            let read = Unnamed::read(written);
            let shown = read.as_ref().map(ToString::to_string);
            assert_eq!(shown.as_deref(), one_form, "{written}");
            assert_eq!(
                shown.and_then(|shown| Unnamed::read(&shown)),
                read,
                "{written} again"
            );
        }
    }

    #[test]
    fn titles_are_read_as_directors_write_them() {
        for (written, one_form) in [
            ("\"Long Song\"", Some("\"Long Song\"")),
            ("1. \"Long Song\"", Some("\"Long Song\"")),
            ("- “Long Song”", Some("\"Long Song\"")),
            ("\"The \"Old\" Mill\"", Some("\"The \"Old\" Mill\"")),
            (
                "\"Air\" by Lindqvist grade 2",
                Some("\"Air\" by Lindqvist grade 2"),
            ),
            ("\"Suite\" movements 1 and 3", Some("\"Suite\" movements 1 and 3")),
            ("\"Suite\" mvt 2 only", Some("\"Suite\" movement 2")),
            (
                "\"Suite\" movements 1-3",
                Some("\"Suite\" movements 1 and 2 and 3"),
            ),
            ("\"Ode\" with the choir", Some("\"Ode\" with the choir")),
            ("\"Ode\" for two bands", Some("\"Ode\" both bands")),
            ("\"Canyon Onions\" 2", Some("\"Canyon Onions\" grade 2")),
            ("Long Song", None),
            ("\"A\" and \"B\"", None),
            ("\"Ode\" zqxv", None),
            ("\"Suite\" movements zqxv 1", None),
            ("\"Suite\" movements 1 zqxv", None),
            ("\"Ode\" with zqxv", None),
            ("zqxv \"Ode\"", None),
            ("\"\"", None),
        ] {
            let read = Titled::read(written);
            let shown = read.as_ref().map(ToString::to_string);
            assert_eq!(shown.as_deref(), one_form, "{written}");
            assert_eq!(
                shown.and_then(|shown| Titled::read(&shown)),
                read,
                "{written} again"
            );
        }
        let both = Titled::read_joined("1. \"A\" grade 2 and \"B\"").unwrap_or_default();
        let names: Vec<&str> = both.iter().map(|titled| titled.name.as_str()).collect();
        assert_eq!(names, ["A", "B"]);
        assert_eq!(Titled::read_joined("\"A\" and zqxv \"B\""), None);
    }

    #[test]
    fn what_is_no_piece_stands_on_a_program_too() {
        for (written, one_form) in [
            ("warm up", Some("warm-up")),
            ("intermission 15 minutes", Some("intermission 15:00")),
            ("10-minute intermission", Some("intermission 10:00")),
            ("2. awards", Some("awards")),
            ("zqxv", None),
            ("intermission zqxv", None),
            ("zqxv intermission", None),
        ] {
            let read = Interlude::read(written);
            let shown = read.as_ref().map(ToString::to_string);
            assert_eq!(shown.as_deref(), one_form, "{written}");
            assert_eq!(
                shown.and_then(|shown| Interlude::read(&shown)),
                read,
                "{written} again"
            );
        }
    }
}
