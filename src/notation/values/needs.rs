//! What a piece needs: percussionists, other players, or an instrument.

use std::fmt;

use crate::notation::names;

use super::cursor::{ARTICLES, Cursor};
use super::how_many::HowMany;
use super::instrument_name::is_known;

/// One need of a piece.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Needs {
    /// Percussionists, in a number that is wanted or the fewest it can be done with.
    Percussionists {
        /// How many it wants.
        ideal: Option<HowMany>,
        /// The fewest with which it can be done.
        min: Option<u32>,
        /// How many percussion parts there are, where that is said beside the players.
        parts: Option<u32>,
        /// On what terms the fewer of them will do.
        terms: Option<Terms>,
    },
    /// Players of an instrument or group, or the instrument itself.
    Players {
        /// How many, where that is said.
        count: Option<HowMany>,
        /// What they must be, such as `strong` or `solo`.
        able: Option<&'static str>,
        /// The instruments or groups; any one of them will do.
        any_of: Vec<String>,
        /// Whether a whole section is meant.
        section: bool,
    },
}

/// On what terms so few percussionists will do.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Terms {
    /// An instrument is left out.
    Without(String),
    /// A player of this instrument comes over and helps.
    Helped(String),
}

/// What players must be, in the one form.
const ABLE: [(&str, &str); 23] = [
    ("off-stage", "offstage"),
    ("offstage", "offstage"),
    ("off stage", "offstage"),
    ("very strong", "strong"),
    ("strong", "strong"),
    ("solid", "strong"),
    ("confident", "strong"),
    ("secure", "strong"),
    ("really good", "good"),
    ("very good", "good"),
    ("good", "good"),
    ("decent", "good"),
    ("capable", "good"),
    ("reliable", "good"),
    ("able", "good"),
    ("steady", "good"),
    ("advanced", "advanced"),
    ("experienced", "advanced"),
    ("mature", "advanced"),
    ("solo", "solo"),
    ("featured", "solo"),
    ("full", "full"),
    ("big", "full"),
];

const PERCUSSIONISTS: [&str; 16] = [
    "percussion players",
    "percussion parts",
    "percussionists",
    "percussionist",
    "percussion",
    "perc. players",
    "perc players",
    "perc.",
    "perc",
    "drummers",
    "drummer",
    "players",
    "player",
    "kids",
    "people",
    "hands",
];

/// Behind a number: it can be done with so few.
const IF_SHORT: [&str; 22] = [
    "minimum",
    "min.",
    "min",
    "at a pinch",
    "in a pinch",
    "if short",
    "if need be",
    "if needed",
    "if necessary",
    "will do",
    "at the least",
    "if you must",
    "is enough",
    "are enough",
    "can do",
    "at a push",
    "can fake it",
    "can manage",
    "can cover it",
    "can do it",
    "could do it",
    "would do",
];

/// Behind a number: so many are better.
const BETTER: [&str; 9] = [
    "is better",
    "are better",
    "is best",
    "is ideal",
    "ideal",
    "ideally",
    "preferred",
    "if you have them",
    "if we have them",
];

impl Needs {
    /// Percussionists, so many.
    pub fn percussionists(count: HowMany) -> Needs {
        match count {
            HowMany { low, high: None } => Needs::Percussionists {
                ideal: None,
                min: low,
                parts: None,
                terms: None,
            },
            count => Needs::Percussionists {
                ideal: Some(count),
                min: None,
                parts: None,
                terms: None,
            },
        }
    }

    /// Reads `4-5 percussionists`, `4 minimum`, `at least 4 percussionists`, `4 at a pinch`,
    /// `6 percussionists, 4 if short`, `8 parts, playable with 4-5`, `a strong trumpet`,
    /// `2 flutes`, `piano or synth`, `4 if triangle is omitted`, `2 and a willing trombonist`.
    pub fn read(text: &str) -> Option<Needs> {
        let spaced = text.replace([',', ';'], " ");
        percussion(&spaced)
            .or_else(|| on_terms(&spaced))
            .or_else(|| players(&spaced))
    }

    /// Whether it counts percussionists; a bare number or minimum does.
    pub fn is_percussion(&self) -> bool {
        matches!(self, Needs::Percussionists { .. })
    }

    /// Whether it says only the fewest with which it can be done.
    pub fn is_minimum(&self) -> bool {
        matches!(
            self,
            Needs::Percussionists {
                ideal: None,
                min: Some(_),
                ..
            }
        )
    }

    /// The fewest percussionists with which it can be done, as far as this need says.
    pub fn fewest(&self) -> Option<u32> {
        match self {
            Needs::Percussionists { ideal, min, .. } => min.or_else(|| ideal.and_then(|ideal| ideal.low)),
            Needs::Players { .. } => None,
        }
    }

    /// The most percussionists that it says it takes.
    pub fn most(&self) -> Option<u32> {
        match self {
            Needs::Percussionists { ideal, .. } => ideal.and_then(|ideal| ideal.high),
            Needs::Players { .. } => None,
        }
    }
}

fn percussion(text: &str) -> Option<Needs> {
    let mut words = Cursor::new(text);
    // `could do it with four`, behind the number that it wants.
    if words.any(&[
        "could do it with",
        "can do it with",
        "could be done with",
        "can get by with",
        "could get by with",
        "can manage with",
        "could manage with",
    ]) {
        let min = words.number()?;
        words.any(&PERCUSSIONISTS);
        return words.done().then_some(Needs::Percussionists {
            ideal: None,
            min: Some(min),
            parts: None,
            terms: None,
        });
    }
    let parts = parts(&mut words);
    if parts.is_some() && words.done() {
        return None;
    }
    words.any(&[
        "playable with",
        "playable by",
        "can be done with",
        "can do with",
        "works with",
        "with",
        "for",
    ]);
    let mut count = HowMany::take(&mut words)?;
    words.any(&PERCUSSIONISTS);
    if words.any(&["at least", "or more", "and up"]) {
        count.high = None;
    }
    let mut ends = words.clone();
    if ends.any(&BETTER) && ends.done() {
        return Some(Needs::percussionists(count));
    }
    // `4, easier with 5`: it wants the greater number, and the smaller one does.
    let mut ends = words.clone();
    let easier = [
        "easier with",
        "better with",
        "nicer with",
        "more comfortable with",
        "comfortable with",
        "happier with",
        "best with",
    ];
    if ends.any(&easier)
        && let Some(more) = ends.number()
    {
        ends.any(&PERCUSSIONISTS);
        let least = count.low.filter(|low| count.high == Some(*low) && *low < more)?;
        return ends.done().then_some(Needs::Percussionists {
            ideal: Some(HowMany::exactly(more)),
            min: Some(least),
            parts,
            terms: None,
        });
    }
    let mut ends = words.clone();
    if ends.any(&IF_SHORT) && ends.done() {
        let min = count.low?;
        return Some(Needs::Percussionists {
            ideal: None,
            min: Some(min),
            parts,
            terms: None,
        });
    }
    let min = match words.done() {
        true => None,
        false => {
            words.any(&["but", "or", "and"]);
            let led = words.any(&[
                "can be done with",
                "could be done with",
                "could do it with",
                "can do it with",
                "could do with",
                "can get by with",
                "could get by with",
                "can manage with",
                "could manage with",
                "ok with",
                "can do with",
                "can do w",
                "playable with",
                "playable by",
                "works with",
                "at least",
                "minimum",
                "min.",
                "min",
            ]);
            let least = words.number()?;
            words.any(&PERCUSSIONISTS);
            let ends = words.any(&IF_SHORT);
            (led || ends).then_some(())?;
            Some(least)
        }
    };
    if !words.done() {
        return None;
    }
    match Needs::percussionists(count) {
        Needs::Percussionists {
            ideal,
            min: low,
            terms,
            ..
        } => {
            let min = min.or(low);
            let backwards = ideal
                .and_then(|ideal| ideal.low)
                .zip(min)
                .is_some_and(|(ideal, min)| min > ideal);
            (!backwards).then_some(Needs::Percussionists {
                ideal,
                min,
                parts,
                terms,
            })
        }
        other => Some(other),
    }
}

/// `4 if triangle is omitted`, `4 5 if you want the slide whistle`, `2 and a willing trombonist`.
fn on_terms(text: &str) -> Option<Needs> {
    let mut words = Cursor::new(text);
    words.take("or");
    let first = words.number()?;
    words.any(&PERCUSSIONISTS);
    let mut second = words.clone();
    second.any(&["but", "or", "and"]);
    let more = second.number();
    if more.is_some() {
        words = second;
        words.any(&PERCUSSIONISTS);
    }
    let (terms, wanted) = terms(&mut words)?;
    words.done().then_some(())?;
    let (most, least) = match (more, wanted) {
        // `4, 5 if you want it`: the fewer do without it.
        (Some(more), true) => (Some(more), first),
        (Some(more), false) => (Some(first), more),
        (None, true) => return None,
        (None, false) => (None, first),
    };
    most.is_none_or(|most| least < most).then_some(())?;
    Some(Needs::Percussionists {
        ideal: most.map(HowMany::exactly),
        min: Some(least),
        parts: None,
        terms: Some(terms),
    })
}

/// The terms, and whether they are told as what the greater number is for.
fn terms(words: &mut Cursor<'_>) -> Option<(Terms, bool)> {
    const WANT: [&str; 10] = [
        "if you want",
        "if u want",
        "if you use",
        "if u use",
        "if you include",
        "if you do",
        "if you count",
        "counting",
        "including",
        "if we want",
    ];
    const LEFT_OUT: [&str; 9] = [
        "is omitted",
        "is left out",
        "is skipped",
        "is cut",
        "is not played",
        "isn't played",
        "omitted",
        "left out",
        "are left out",
    ];
    if words.any(&WANT) {
        words.any(&ARTICLES);
        let name = words.rest();
        return is_known(&name).then(|| (Terms::Without(names::in_full(&name)), true));
    }
    if words.any(&[
        "without",
        "w/o",
        "if no",
        "if there is no",
        "if you skip",
        "if u skip",
        "if you leave out",
        "if u leave out",
        "minus",
    ]) {
        words.any(&ARTICLES);
        let name = words.rest();
        return is_known(&name).then(|| (Terms::Without(names::in_full(&name)), false));
    }
    if words.any(&["if", "with"]) && {
        let mut ahead = words.clone();
        ahead.any(&ARTICLES);
        ahead.until(&LEFT_OUT).is_some() && ahead.any(&LEFT_OUT)
    } {
        words.any(&ARTICLES);
        let name = words.until(&LEFT_OUT)?;
        words.any(&LEFT_OUT);
        return is_known(&name).then(|| (Terms::Without(names::in_full(&name)), false));
    }
    words.any(&["and", "plus", "+", "&"]);
    words.any(&ARTICLES).then_some(())?;
    words.any(&["willing", "spare", "borrowed", "extra", "helpful", "brave"]);
    let name = words.until(&["player", "helping", "to help"])?;
    words.take("player");
    words.any(&["helping", "to help"]);
    let name = of_its_player(&name);
    (is_known(&name) && !names::in_full(&name).is_empty())
        .then(|| (Terms::Helped(names::in_full(&name)), false))
}

/// The instrument of a `trombonist`.
fn of_its_player(name: &str) -> String {
    let lower = name.to_lowercase();
    let found = [
        ("flutist", "flute"),
        ("flautist", "flute"),
        ("oboist", "oboe"),
        ("clarinetist", "clarinet"),
        ("clarinettist", "clarinet"),
        ("bassoonist", "bassoon"),
        ("trombonist", "trombone"),
        ("euphonist", "euphonium"),
        ("tubist", "tuba"),
        ("pianist", "piano"),
        ("trumpeter", "trumpet"),
        ("hornist", "horn"),
    ];
    let found = found.iter().find(|(player, _)| *player == lower);
    found.map_or_else(|| name.to_owned(), |(_, instrument)| (*instrument).to_owned())
}

/// `8 parts`, `8 percussion parts`.
fn parts(words: &mut Cursor<'_>) -> Option<u32> {
    let start = words.clone();
    let found = words.number();
    words.any(&["percussion", "perc."]);
    if found.is_some() && words.take("parts") {
        return found;
    }
    *words = start;
    None
}

fn players(text: &str) -> Option<Needs> {
    let mut words = Cursor::new(text);
    let count = match words.any(&ARTICLES) {
        true => None,
        false => HowMany::take(&mut words),
    };
    // Any player that is needed is a real one.
    words.any(&["real", "proper", "actual", "genuine"]);
    let able = words.one_of(&ABLE);
    if able.is_some() {
        words.take("and");
        words.one_of(&ABLE);
    }
    let mut any_of = vec![instrument(&mut words)?];
    while words.any(&["or"]) {
        words.any(&ARTICLES);
        any_of.push(instrument(&mut words)?);
    }
    // What they are for is what they are then.
    let away = able.is_none()
        && words.any(&[
            "for the off-stage bit",
            "for the off-stage part",
            "for the offstage bit",
            "for the offstage part",
            "for off-stage",
            "off-stage",
            "offstage",
        ]);
    let able = if away { Some("offstage") } else { able };
    let section = words.any(&["section", "sections"]);
    let person = words.any(&["player", "players", "soloist", "soloists", "solo"]);
    if !words.done() || (count.is_none() && able.is_none() && section && person) {
        return None;
    }
    Some(Needs::Players {
        count,
        able,
        any_of,
        section,
    })
}

/// A known instrument or group, without `section` and `player` behind it.
fn instrument(words: &mut Cursor<'_>) -> Option<String> {
    words.longest(|text| {
        let ends = ["section", "sections", "player", "players", "soloist", "solo"];
        let last = text.rsplit(' ').next()?;
        let part = names::cut_number(text, true);
        // `first clarinets` is a part by its place in the section.
        let first =
            part.ordinal && part.numbers.is_some_and(|(first, last)| first == last) && is_known(part.words);
        (!ends.contains(&last) && (first || is_known(text))).then(|| names::part_in_full(text))
    })
}

impl fmt::Display for Needs {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Needs::Percussionists {
                ideal,
                min,
                parts,
                terms,
            } => {
                if let Some(parts) = parts {
                    write!(f, "{parts} parts, playable with ")?;
                }
                if let (Some(terms), Some(min)) = (terms, min) {
                    if let Some(ideal) = ideal {
                        write!(f, "{ideal} percussionists or ")?;
                    }
                    return match terms {
                        Terms::Without(name) => write!(f, "{min} without {name}"),
                        Terms::Helped(name) => write!(f, "{min} and a {name} player"),
                    };
                }
                match (ideal, min) {
                    (Some(ideal), Some(min)) => write!(f, "{ideal} percussionists, {min} minimum"),
                    (Some(ideal), None) => {
                        let one = *ideal == HowMany::exactly(1);
                        write!(f, "{ideal} percussionist{}", if one { "" } else { "s" })
                    }
                    (None, Some(min)) => write!(f, "{min} minimum"),
                    (None, None) => Ok(()),
                }
            }
            Needs::Players {
                count,
                able,
                any_of,
                section,
            } => {
                let mut parts = Vec::new();
                match (count, able) {
                    (Some(count), _) => parts.push(count.to_string()),
                    (None, Some(_)) => parts.push("a".to_owned()),
                    (None, None) => {}
                }
                parts.extend(able.map(str::to_owned));
                parts.push(any_of.join(" or "));
                if *section {
                    parts.push("section".to_owned());
                }
                f.write_str(&parts.join(" "))
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn needs_are_read_as_directors_write_them() {
        for (written, one_form, fewest) in [
            ("4 percussionists", Some("4 percussionists"), Some(4)),
            ("4", Some("4 percussionists"), Some(4)),
            ("4 or 5", Some("4-5 percussionists"), Some(4)),
            ("4-5 players", Some("4-5 percussionists"), Some(4)),
            ("4 to 5 percussion players", Some("4-5 percussionists"), Some(4)),
            ("four", Some("4 percussionists"), Some(4)),
            ("4+", Some("4 minimum"), Some(4)),
            ("at least 6", Some("6 minimum"), Some(6)),
            ("6 at least", Some("6 minimum"), Some(6)),
            ("6 percussionists at least", Some("6 minimum"), Some(6)),
            ("no more than 6", Some("at most 6 percussionists"), None),
            ("6, 4 at a pinch", Some("6 percussionists, 4 minimum"), Some(4)),
            (
                "6 percussionists, 4 if short",
                Some("6 percussionists, 4 minimum"),
                Some(4),
            ),
            ("4 can do with 3", Some("4 percussionists, 3 minimum"), Some(3)),
            ("6 can do w 3", Some("6 percussionists, 3 minimum"), Some(3)),
            (
                "6 but can do with 3",
                Some("6 percussionists, 3 minimum"),
                Some(3),
            ),
            ("4 if short", Some("4 minimum"), Some(4)),
            ("4 minimum", Some("4 minimum"), Some(4)),
            (
                "8 parts, playable with 4-5",
                Some("8 parts, playable with 4-5 percussionists"),
                Some(4),
            ),
            ("a strong trumpet", Some("a strong trumpet"), None),
            ("2 flutes", Some("2 flutes"), None),
            ("a good clarinet section", Some("a good clarinet section"), None),
            ("baritone sax", Some("baritone sax"), None),
            ("piano or synth", Some("piano or synth"), None),
            ("5 is better", Some("5 percussionists"), Some(5)),
            (
                "5 but 3 can fake it",
                Some("5 percussionists, 3 minimum"),
                Some(3),
            ),
            ("5 is zqxv better", None, None),
            ("a minimum of 3", Some("3 minimum"), Some(3)),
            ("room for 7", Some("at most 7 percussionists"), None),
            ("4 if triangle is omitted", Some("4 without triangle"), Some(4)),
            ("4 without the triangle", Some("4 without triangle"), Some(4)),
            (
                "4 kids 5 if u want the ratchet",
                Some("5 percussionists or 4 without ratchet"),
                Some(4),
            ),
            (
                "5 percussionists, 4 if no triangle",
                Some("5 percussionists or 4 without triangle"),
                Some(4),
            ),
            (
                "or two and a willing trombonist",
                Some("2 and a trombone player"),
                Some(2),
            ),
            ("4 if zqxv 7 is omitted", None, None),
            ("4 zqxv if triangle is omitted", None, None),
            ("2 and a willing zqxv", None, None),
            ("5 if you want the ratchet", None, None),
            ("4 zqxv percussionists", None, None),
            ("zqxv 4", None, None),
            ("a strong zqxv", None, None),
            ("a zqxv trumpet", None, None),
            ("patience", None, None),
            ("8 parts", None, None),
        ] {
            let read = Needs::read(written);
            let shown = read.as_ref().map(ToString::to_string);
            assert_eq!(shown.as_deref(), one_form, "{written}");
            assert_eq!(read.as_ref().and_then(Needs::fewest), fewest, "{written}");
            assert_eq!(
                shown.and_then(|shown| Needs::read(&shown)),
                read,
                "{written} again"
            );
        }
    }
}
