//! One performance: the day, the bands, and how it went.

use std::fmt;

use crate::notation::scan;

use super::cursor::Cursor;
use super::day::{Day, weekday};
use super::grade::Grade;
use super::partner;
use super::takes::Takes;

/// One performance: the day, the bands, and how it went.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Performance {
    /// The day, month or year.
    pub day: Option<Day>,
    /// The bands, by the names of their cards.
    pub bands: Vec<String>,
    /// The rest, item by item.
    pub said: Vec<Played>,
}

/// What is said of a performance.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Played {
    /// It was performed again, on another day.
    Again(Day),
    /// It was performed once more, on a day that is not said: where.
    Once(String),
    /// How long it took to learn.
    Took(Takes),
    /// The ratings, each as written: `I I II`.
    Result(Vec<String>),
    /// The grade it was entered at.
    Grade(Grade),
    /// Where, by a quoted name or in one of the usual words.
    At(String),
    /// With whom.
    With(String),
    /// How it went, in one of the usual words.
    Went(&'static str),
    /// The director's own words, after `because` or a colon, or in quotation marks.
    Story(String),
    /// It was never performed.
    Never,
}

/// The last words of an occasion, in whose name any words stand before them: `the old people's lunch`.
pub const OCCASIONS: [&str; 45] = [
    "fête",
    "concert",
    "festival",
    "contest",
    "assembly",
    "graduation",
    "commencement",
    "parade",
    "game",
    "night",
    "house",
    "lunch",
    "dinner",
    "supper",
    "breakfast",
    "brunch",
    "tea",
    "party",
    "fair",
    "fete",
    "picnic",
    "ceremony",
    "service",
    "show",
    "showcase",
    "recital",
    "tour",
    "day",
    "week",
    "celebration",
    "social",
    "sing-along",
    "market",
    "opening",
    "wedding",
    "gala",
    "meeting",
    "conference",
    "clinic",
    "evaluation",
    "competition",
    "auction",
    "fundraiser",
    "reception",
    "banquet",
];

/// Words that lead to something else than an occasion.
const NO_OCCASION: [&str; 25] = [
    "took",
    "learned",
    "result",
    "results",
    "rating",
    "ratings",
    "rated",
    "scored",
    "grade",
    "with",
    "by",
    "played",
    "at",
    "for",
    "in",
    "and",
    "&",
    "not",
    "no",
    "never",
    "about",
    "cancelled",
    "went",
    "because",
    "well",
];

const RATINGS: [&str; 24] = [
    "I",
    "II",
    "III",
    "IV",
    "V",
    "1",
    "2",
    "3",
    "4",
    "5",
    "superior",
    "excellent",
    "good",
    "fair",
    "poor",
    "gold",
    "silver",
    "bronze",
    "platinum",
    "distinction",
    "merit",
    "pass",
    "first",
    "outstanding",
];

const PLACES: [&str; 30] = [
    "winter concert",
    "spring concert",
    "fall concert",
    "autumn concert",
    "summer concert",
    "christmas concert",
    "holiday concert",
    "concert",
    "festival",
    "spring festival",
    "fall festival",
    "contest",
    "state contest",
    "district contest",
    "assembly",
    "graduation",
    "commencement",
    "parade",
    "football game",
    "game",
    "parents' night",
    "open house",
    "evensong",
    "church",
    "mall",
    "cafeteria",
    "gym",
    "auditorium",
    "stadium",
    "elementary school",
];

/// How it went, in the one form (common practice, no source).
const WENT: [(&str, &str); 60] = [
    ("we dragged the end", "dragged"),
    ("dragged the end", "dragged"),
    ("we dragged", "dragged"),
    ("we rushed", "rushed"),
    ("it dragged", "dragged"),
    ("it rushed", "rushed"),
    ("they loved it", "well received"),
    ("parents loved it", "well received"),
    ("rough start", "rough start"),
    ("a rough start", "rough start"),
    ("shaky start", "rough start"),
    ("rained off", "canceled"),
    ("called off", "canceled"),
    ("pulled", "canceled"),
    ("scratched", "canceled"),
    ("best ever", "went very well"),
    ("nailed it", "went very well"),
    ("went very well", "went very well"),
    ("went really well", "went very well"),
    ("went great", "went very well"),
    ("went well", "went well"),
    ("good", "went well"),
    ("great", "went very well"),
    ("well received", "well received"),
    ("the audience loved it", "well received"),
    ("crowd loved it", "well received"),
    ("went ok", "went all right"),
    ("went okay", "went all right"),
    ("went all right", "went all right"),
    ("ok", "went all right"),
    ("okay", "went all right"),
    ("fine", "went all right"),
    ("went badly", "went badly"),
    ("went poorly", "went badly"),
    ("rough", "went badly"),
    ("fell apart", "fell apart"),
    ("stopped and restarted", "fell apart"),
    ("tempo ran away", "rushed"),
    ("rushed", "rushed"),
    ("dragged", "dragged"),
    ("too fast", "too fast"),
    ("too slow", "too slow"),
    ("out of tune", "out of tune"),
    ("intonation", "out of tune"),
    ("cancelled", "canceled"),
    ("canceled", "canceled"),
    ("snowed out", "canceled"),
    ("rained out", "canceled"),
    ("sight-read", "sight-read"),
    ("sightread", "sight-read"),
    ("sight-reading", "sight-read"),
    ("recorded", "recorded"),
    ("streamed", "streamed"),
    ("from memory", "from memory"),
    ("in the morning", "in the morning"),
    ("in the afternoon", "in the afternoon"),
    ("in the evening", "in the evening"),
    ("outdoors", "outdoors"),
    ("outside", "outdoors"),
    ("in the gym", "in the gym"),
];

/// `the fugue rushed`: how a part of the piece went, in the director's own words.
fn says_how_a_part_went(piece: &str) -> bool {
    let Some(rest) = scan::after_phrase(piece.trim(), "the") else {
        return false;
    };
    let rest = rest.trim_start();
    let plain = !rest.contains(|c: char| c.is_ascii_digit() || c == QUOTED);
    let went = |(known, _): &(&str, &str)| {
        let head = rest.strip_suffix(known).filter(|head| head.ends_with(' '));
        head.is_some_and(|head| (1..=2).contains(&head.split_whitespace().count()))
    };
    plain && WENT.iter().any(went)
}

impl Performance {
    /// Reads `2024-05-12 "Seventh Grade Band", took 6 weeks, result I I II`, `spring 2019, went well`,
    /// `2024-05-12 at "Three Brooks Festival" because the hall asked for it`.
    ///
    /// What stands after `because`, after a colon, or in quotation marks that no word like `at` leads and
    /// that come after a comma, is the director's own words.
    pub fn read(text: &str) -> Option<Performance> {
        let (text, story) = split_story(text);
        // Nobody writes so much by hand, and looking into it would take as long as one likes.
        if text.len() > scan::LONGEST as usize {
            return None;
        }
        let text = &without_stops(text);
        if ["never", "not yet", "never yet", "never performed"]
            .iter()
            .any(|never| text.trim().eq_ignore_ascii_case(never))
        {
            let said = std::iter::once(Played::Never)
                .chain(story.map(Played::Story))
                .collect();
            return Some(Performance {
                said,
                ..Performance::default()
            });
        }
        let (masked, names) = without_quotes(text)?;
        let mut performance = Performance::default();
        for (nth, piece) in masked.split([',', ';']).enumerate() {
            if nth > 0 && !performance.bands.is_empty() && says_how_a_part_went(piece) {
                performance
                    .said
                    .push(Played::Story(format!("\"{}\"", piece.trim())));
                continue;
            }
            performance.piece(piece, nth, &names)?;
        }
        performance.said.extend(story.map(Played::Story));
        let empty = performance == Performance::default();
        (!empty).then_some(performance)
    }

    fn piece(&mut self, piece: &str, nth: usize, names: &[&str]) -> Option<()> {
        let mut words = Cursor::new(piece);
        let quoted = |words: &mut Cursor<'_>| {
            words.longest(|text| {
                let at: usize = text.strip_prefix(QUOTED)?.parse().ok()?;
                names.get(at).copied()
            })
        };
        // A comma inside a day parts it in two: the second half was taken with the first.
        while !words.done() {
            // `last spring & once @ the mall`: another time.
            if self.day.is_some() && words.any(&["and once", "& once", "once"]) && !words.done() {
                words.any(&["at the", "at our", "@ the", "at", "@", "for the", "for"]);
                let place = words.longest(|text| occasion(text).or_else(|| usual(text, &PLACES)))?;
                self.said.push(Played::Once(place));
                continue;
            }
            if self.day.is_some() && words.any(&["and", "&", "+", "also", "again", "but"]) && !words.done() {
                continue;
            }
            // `spring concert` is no spring, and `Christmas concert` no Christmas.
            let figure = |c: char| c.is_ascii_digit() || c == QUOTED;
            let may_be_occasion = words.peek().is_some_and(|word| !word.contains(figure));
            if may_be_occasion && let Some(place) = words.longest(occasion) {
                self.said.push(Played::At(place));
            } else if self.day.is_none()
                && self.said.is_empty()
                && let Some(day) = words.longest(Day::read)
            {
                self.day = Some(day);
            } else if let Some(day) = words.longest(Day::read) {
                self.said.push(Played::Again(day));
            } else if let Some(name) = quoted(&mut words) {
                match nth > 0 && !self.bands.is_empty() {
                    true => self.said.push(Played::Story(format!("\"{name}\""))),
                    false => self.bands.push(name.to_owned()),
                }
                if words.any(&["and", "&"]) {
                    self.bands.push(quoted(&mut words)?.to_owned());
                }
            } else if let Some(band) = words.longest(|text| band_named(text).then(|| text.to_owned())) {
                self.bands.push(band);
            } else if words.any(&["by the", "by", "played by"]) {
                self.bands.push(quoted(&mut words)?.to_owned());
            } else if let Some(went) = words.one_of(&WENT) {
                self.said.push(Played::Went(went));
            } else if words.any(&["took", "learned in", "in"]) {
                self.said.push(Played::Took(words.longest(Takes::read)?));
            } else if words.any(&["results", "result", "ratings", "rating", "rated", "scored"]) {
                let mut ratings = vec![rating(&mut words)?];
                while let Some(next) = rating(&mut words) {
                    ratings.push(next);
                }
                self.said.push(Played::Result(ratings));
            } else if words
                .peek()
                .is_some_and(|word| word.eq_ignore_ascii_case("grade"))
            {
                self.said.push(Played::Grade(words.longest(Grade::read)?));
            } else if words.any(&["at the", "at our", "@ the", "at", "@", "for the", "for"]) {
                let place = match quoted(&mut words) {
                    Some(name) => format!("\"{name}\""),
                    None => words.longest(|text| occasion(text).or_else(|| usual(text, &PLACES)))?,
                };
                self.said.push(Played::At(place));
            } else if words.take("with") {
                match quoted(&mut words) {
                    Some(name) if self.bands.is_empty() => self.bands.push(name.to_owned()),
                    Some(name) => self.said.push(Played::With(format!("\"{name}\""))),
                    None => self.said.push(Played::With(words.longest(partner::read)?)),
                }
            } else {
                let place = words.longest(|text| usual(text, &PLACES))?;
                self.said.push(Played::At(place));
            }
        }
        Some(())
    }

    /// The performances that it tells of, one a day: a line may name several.
    pub fn each(&self) -> Vec<Performance> {
        let again = self.said.iter().filter_map(|said| match said {
            Played::Again(day) => Some(Performance {
                day: Some(*day),
                bands: self.bands.clone(),
                said: Vec::new(),
            }),
            Played::Once(place) => Some(Performance {
                day: None,
                bands: self.bands.clone(),
                said: vec![Played::At(place.clone())],
            }),
            _ => None,
        });
        let mut first = self.clone();
        first
            .said
            .retain(|said| !matches!(said, Played::Again(_) | Played::Once(_)));
        std::iter::once(first).chain(again).collect()
    }

    /// What is said of it beside the day and the bands, each item in the one form.
    pub fn words(&self) -> Vec<String> {
        self.said.iter().map(Played::to_string).collect()
    }

    /// Whether it says that the piece was never performed.
    pub fn is_never(&self) -> bool {
        self.said.contains(&Played::Never)
    }
}

/// Whether words are the name of a band without its quotation marks: `Seventh Grade Band`, `Year 9 band`.
fn band_named(text: &str) -> bool {
    const ENDS: [&str; 6] = ["band", "winds", "ensemble", "wind ensemble", "orchestra", "brass"];
    let words: Vec<&str> = text.split(' ').collect();
    let (Some(first), Some(last)) = (words.first(), words.last()) else {
        return false;
    };
    let inner = words.iter().take(words.len() - 1);
    let name = |word: &&str| word.starts_with(|c: char| c.is_uppercase() || c.is_ascii_digit());
    words.len() > 1
        && first.starts_with(char::is_uppercase)
        && ENDS.contains(&last.to_lowercase().as_str())
        && inner.clone().all(name)
}

/// `ok. tempo ran away`: a full stop behind a small word parts two items as a comma does.
fn without_stops(text: &str) -> String {
    let mut plain = String::with_capacity(text.len());
    let mut quoted = false;
    for (at, c) in text.char_indices() {
        if scan::is_quote(c) {
            quoted = !quoted;
        }
        let last = plain.rsplit([' ', ',', ';']).next().unwrap_or("");
        let ends = text
            .get(at + 1..)
            .is_some_and(|rest| rest.is_empty() || rest.starts_with(' '));
        let small = last.chars().count() > 1 && last.chars().all(char::is_lowercase);
        // `dec.` belongs to the day behind it.
        let stop = c == '.' && !quoted && ends && small && Day::read(last).is_none() && last != "gr";
        plain.push(if stop { ',' } else { c });
    }
    plain
}

/// Stands for a quoted name while the words around it are read.
const QUOTED: char = '\u{1}';

/// The text with each quoted name as one word, and commas inside a day taken out.
fn without_quotes(text: &str) -> Option<(String, Vec<&str>)> {
    let mut masked = String::new();
    let mut names = Vec::new();
    let mut rest = text;
    while let Some(start) = rest.find(scan::is_quote) {
        masked.push_str(rest.get(..start)?);
        let (after, name) = scan::quoted(rest.get(start..)?).ok()?;
        masked.push_str(&format!(" {QUOTED}{} ", names.len()));
        names.push(name);
        rest = after;
    }
    masked.push_str(rest);
    Some((commas_in_days(&masked), names))
}

/// The text without the commas that stand inside a day: `May 12, 2024`, `Fri, May 12, 2024`.
fn commas_in_days(text: &str) -> String {
    let mut plain = String::new();
    let mut start = 0;
    for (at, c) in text.char_indices() {
        let inside = c == ',' && {
            let head = plain.get(start..).unwrap_or("").trim();
            let after = text.get(at + 1..).unwrap_or("").split_whitespace().next();
            let after = after.unwrap_or("").trim_end_matches([',', ';']);
            let goes_on = !after.is_empty() && Day::read(&format!("{head} {after}")).is_some();
            weekday(head).is_some() || goes_on
        };
        plain.push(if inside { ' ' } else { c });
        if matches!(c, ',' | ';') && !inside {
            start = plain.len();
        }
    }
    plain
}

/// `... because the hall asked for it`, `...: tempo ran away`.
fn split_story(text: &str) -> (&str, Option<String>) {
    let mut quoted = false;
    for (at, c) in text.char_indices() {
        if scan::is_quote(c) {
            quoted = !quoted;
        }
        let rest = text.get(at..).unwrap_or("");
        if quoted {
            continue;
        }
        let lead = [" because ", ": "]
            .into_iter()
            .find(|lead| rest.starts_with(lead));
        if let Some(lead) = lead {
            let story = rest.get(lead.len()..).unwrap_or("");
            let story = story.split_whitespace().collect::<Vec<_>>().join(" ");
            let head = text.get(..at).unwrap_or("").trim_end_matches([',', ' ']);
            return (head, (!story.is_empty()).then_some(story));
        }
    }
    (text, None)
}

fn rating(words: &mut Cursor<'_>) -> Option<String> {
    words.longest(rating_of)
}

/// One rating, such as `I` or `superior`, in its one form.
pub fn rating_of(text: &str) -> Option<String> {
    usual(text, &RATINGS)
}

/// How it went, in one of the usual words: `went badly`, `fell apart`.
pub fn went_of(text: &str) -> Option<&'static str> {
    let small = text.to_lowercase();
    WENT.iter()
        .find(|(words, _)| *words == small)
        .map(|(_, went)| *went)
}

/// An occasion: words that end in one of the usual ones.
fn occasion(text: &str) -> Option<String> {
    let lower = text.to_lowercase();
    let words: Vec<&str> = lower.split(' ').collect();
    let named = (1..=6).contains(&words.len())
        && words.last().is_some_and(|last| OCCASIONS.contains(last))
        && !words.iter().any(|word| NO_OCCASION.contains(word))
        && !text.contains(|c: char| c.is_ascii_digit() || c == QUOTED);
    named.then(|| match usual(text, &PLACES) {
        Some(usual) => usual,
        None => text.to_owned(),
    })
}

fn usual(text: &str, known: &[&str]) -> Option<String> {
    known
        .iter()
        .find(|known| text.eq_ignore_ascii_case(known))
        .map(|known| (*known).to_owned())
}

impl fmt::Display for Played {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Played::Again(day) => day.fmt(f),
            Played::Took(takes) => write!(f, "took {takes}"),
            Played::Result(ratings) => write!(f, "result {}", ratings.join(" ")),
            Played::Grade(grade) => write!(f, "grade {grade}"),
            Played::Once(place) => write!(f, "once at {place}"),
            Played::At(place) if place.starts_with('"') => write!(f, "at {place}"),
            Played::At(place) => f.write_str(place),
            Played::With(with) => write!(f, "with {with}"),
            Played::Went(went) => f.write_str(went),
            Played::Never => f.write_str("never"),
            Played::Story(story) if story.starts_with('"') => f.write_str(story),
            Played::Story(story) => write!(f, "because {story}"),
        }
    }
}

impl fmt::Display for Performance {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let mut head: Vec<String> = self.day.iter().map(Day::to_string).collect();
        head.extend(self.bands.iter().map(|band| format!("\"{band}\"")));
        let mut text = head.join(" ");
        for said in &self.said {
            let because = matches!(said, Played::Story(story) if !story.starts_with('"'));
            if !text.is_empty() {
                text.push_str(if because { " " } else { ", " });
            }
            text.push_str(&said.to_string());
        }
        f.write_str(&text)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn performances_are_read_as_directors_write_them() {
        for (written, one_form) in [
            (
                "2024-05-12 \"Seventh Grade Band\", took 6 weeks, result I I II",
                Some("2024-05-12 \"Seventh Grade Band\", took 6 weeks, result I I II"),
            ),
            ("Dec 10, 2025 \"Band\"", Some("2025-12-10 \"Band\"")),
            (
                "Fri, Dec 12, 2025 by \"Band\", went well",
                Some("Friday 2025-12-12 \"Band\", went well"),
            ),
            ("spring 2019", Some("spring 2019")),
            (
                "3 December 2025, old people's lunch",
                Some("2025-12-03, old people's lunch"),
            ),
            (
                "dec 18, ok. tempo ran away",
                Some("Dec 18, went all right, rushed"),
            ),
            ("last spring & once @ the mall", Some("last spring, once at mall")),
            ("last spring & once @ the zqxv", None),
            (
                "2024-12-03 \"Band\", rated Superior; the fugue rushed",
                Some("2024-12-03 \"Band\", result superior, \"the fugue rushed\""),
            ),
            ("2024-12-03 \"Band\", the 2nd fugue rushed", None),
            ("2024-12-03 \"Band\", the zqxv", None),
            ("never", Some("never")),
            (
                "2024-05-12 Christmas concert",
                Some("2024-05-12, christmas concert"),
            ),
            ("2024-05-12, took lunch", None),
            ("2024-05-12, zqxv", None),
            ("May 12, 2019; December 10, 2024", Some("2019-05-12, 2024-12-10")),
            (
                "2024-05-12 \"A\" and \"B\", at \"Three Brooks Festival\", grade 2",
                Some("2024-05-12 \"A\" \"B\", at \"Three Brooks Festival\", grade 2"),
            ),
            ("8 July 2025, summer concert", Some("2025-07-08, summer concert")),
            (
                "2024-05-12 \"Band\", in the afternoon",
                Some("2024-05-12 \"Band\", in the afternoon"),
            ),
            ("2024-05-12, with the choir", Some("2024-05-12, with the choir")),
            (
                "2024-05-12, ok: tempo ran away",
                Some("2024-05-12, went all right because tempo ran away"),
            ),
            (
                "2024-05-12 because zqxv the hall asked",
                Some("2024-05-12 because zqxv the hall asked"),
            ),
            ("May 14, 20226 \"Band\"", None),
            ("2024-05-12 zqxv \"Band\"", None),
            ("2024-05-12 \"Band\" zqxv", None),
            ("2024-05-12 \"Band\", took zqxv 6 weeks", None),
            ("2024-05-12 \"Band\", result I zqxv II", None),
            ("zqxv", None),
            ("", None),
        ] {
            let read = Performance::read(written);
            let shown = read.as_ref().map(ToString::to_string);
            assert_eq!(shown.as_deref(), one_form, "{written}");
            assert_eq!(
                shown.and_then(|shown| Performance::read(&shown)),
                read,
                "{written} again"
            );
        }
    }
}
