//! What is said of a percussionist besides an instrument: `new`, `since 2026-10-05`, `cannot roll yet`.

use std::fmt;

use crate::notation::names;

use super::cursor::Cursor;
use super::day::Day;
use super::instrument_name::is_known;

/// One thing said of a percussionist.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Standing {
    /// New to the section.
    New,
    /// There since a day.
    Since(Day),
    /// There until a day.
    Until(Day),
    /// Does not play an instrument or group, or not yet.
    Not {
        /// The instrument or group, in full.
        name: String,
        /// Whether that will change.
        yet: bool,
    },
    /// Cannot do something yet.
    Cannot(Able),
    /// Can do something, a little where that is said.
    Can(Able, bool),
    /// Plays nothing but this.
    Only(String),
    /// Plays everything but this.
    AllBut(String),
    /// Plays everything.
    Anything,
    /// Likes to play this.
    Prefers(String),
    /// A strong player.
    Strong,
    /// A beginner.
    Beginner,
    /// In this grade of the school.
    Grade(u32),
}

/// What a percussionist may not be able to do yet.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Able {
    /// Play a roll.
    Roll,
    /// Read pitches.
    ReadPitches,
    /// Tune the timpani.
    Tune,
    /// Play with four mallets.
    FourMallets,
    /// Read rhythms.
    ReadRhythms,
}

const ABLE: [(&str, Able); 23] = [
    ("play rolls", Able::Roll),
    ("play a roll", Able::Roll),
    ("rolls", Able::Roll),
    ("roll", Able::Roll),
    ("read pitches", Able::ReadPitches),
    ("read pitch", Able::ReadPitches),
    ("read notes", Able::ReadPitches),
    ("read mallets", Able::ReadPitches),
    ("read music", Able::ReadPitches),
    ("read rhythms", Able::ReadRhythms),
    ("read rhythm", Able::ReadRhythms),
    ("pitches", Able::ReadPitches),
    ("pitch", Able::ReadPitches),
    ("rhythms", Able::ReadRhythms),
    ("read", Able::ReadPitches),
    ("tune timpani", Able::Tune),
    ("tune the timpani", Able::Tune),
    ("tune", Able::Tune),
    ("retune", Able::Tune),
    ("play with four mallets", Able::FourMallets),
    ("play four mallets", Able::FourMallets),
    ("four mallets", Able::FourMallets),
    ("4 mallets", Able::FourMallets),
];

impl Standing {
    /// Reads `new`, `new since 2026-10-05`, `since October 2026`, `not yet snare`, `no mallets`,
    /// `cannot roll yet`, `snare only`, `all but mallets`, `anything`, `prefers triangle`, `strong`, `beginner`,
    /// `7th grader`.
    pub fn read(text: &str) -> Option<Standing> {
        let mut words = Cursor::new(text);
        let found = Standing::take(&mut words)?;
        words.done().then_some(found)
    }

    fn take(words: &mut Cursor<'_>) -> Option<Standing> {
        // `just started Monday`: of a day of some week there is nothing to figure but that the player is new.
        if words.any(&["just started", "just joined", "just began"]) {
            words.take("on");
            let start = words.clone();
            if let Some(day) = words.longest(Day::read) {
                return Some(Standing::Since(day));
            }
            *words = start;
            words.longest(|word| super::day::weekday(word).map(|_| ()));
            words.any(&["this week", "last week", "yesterday", "today"]);
            return Some(Standing::New);
        }
        if words.any(&[
            "new since",
            "new in",
            "joined in",
            "joined on",
            "joined",
            "started in",
            "started",
            "since",
        ]) {
            return words.longest(Day::read).map(Standing::Since);
        }
        if words.any(&["until", "leaves in", "leaves on", "leaves"]) {
            return words.longest(Day::read).map(Standing::Until);
        }
        if words.any(&["new player", "new"]) {
            return Some(Standing::New);
        }
        if let Some(can) = can(words) {
            return Some(can);
        }
        if words.clone().take("not") {
            let mut after = words.clone();
            after.take("not");
            if let Some(able) = after.one_of(&ABLE) {
                after.take("yet");
                *words = after;
                return Some(Standing::Cannot(able));
            }
        }
        if words.any(&["cannot", "can't", "cant", "can not", "not able to", "no"]) {
            let yet = words.take("yet");
            if let Some(able) = words.one_of(&ABLE) {
                words.take("yet");
                return Some(Standing::Cannot(able));
            }
            words.take("play");
            let name = instrument(words)?;
            let yet = words.take("yet") || yet;
            return Some(Standing::Not { name, yet });
        }
        if words.any(&[
            "all but",
            "anything but",
            "everything but",
            "all except",
            "anything except",
            "not",
        ]) {
            let yet = words.take("yet");
            words.take("on");
            let name = instrument(words)?;
            let yet = words.take("yet") || yet;
            return Some(match yet {
                true => Standing::Not { name, yet },
                false => Standing::AllBut(name),
            });
        }
        if words.any(&["anything", "everything", "all instruments", "all"]) {
            return Some(Standing::Anything);
        }
        if words.any(&["prefers", "likes", "best on", "wants"]) {
            return instrument(words).map(Standing::Prefers);
        }
        if words.any(&["strong player", "strong", "section leader", "leader"]) {
            return Some(Standing::Strong);
        }
        if words.any(&["beginner", "beginning", "first year", "1st year"]) {
            return Some(Standing::Beginner);
        }
        if let Some(grade) = words.longest(grade) {
            return Some(Standing::Grade(grade));
        }
        words.take("only");
        let name = instrument(words)?;
        words.take("only").then_some(Standing::Only(name))
    }
}

/// `reads rhythms`, `can read mallets a little`, `can roll`.
fn can(words: &mut Cursor<'_>) -> Option<Standing> {
    const READS: [(&str, Able); 8] = [
        ("reads rhythms", Able::ReadRhythms),
        ("reads rhythm", Able::ReadRhythms),
        ("reads pitches", Able::ReadPitches),
        ("reads pitch", Able::ReadPitches),
        ("reads notes", Able::ReadPitches),
        ("reads music", Able::ReadPitches),
        ("reads mallets", Able::ReadPitches),
        ("rolls", Able::Roll),
    ];
    let start = words.clone();
    let able = match words.one_of(&READS) {
        Some(able) => Some(able),
        None if words.take("can") => words.one_of(&ABLE),
        None => None,
    };
    let Some(able) = able else {
        *words = start;
        return None;
    };
    let little = words.any(&["a little", "a bit", "some"]);
    words.any(&["already", "now", "only"]);
    Some(Standing::Can(able, little))
}

fn grade(text: &str) -> Option<u32> {
    let number = text
        .strip_suffix(" grader")
        .or_else(|| text.strip_suffix(" grade"))?;
    let names = [
        ("sixth", 6),
        ("seventh", 7),
        ("eighth", 8),
        ("fifth", 5),
        ("ninth", 9),
    ];
    let named = names
        .iter()
        .find(|(name, _)| *name == number)
        .map(|(_, grade)| *grade);
    named
        .or_else(|| number.strip_suffix("th")?.parse().ok())
        .filter(|grade| (4..=12).contains(grade))
}

fn instrument(words: &mut Cursor<'_>) -> Option<String> {
    words.any(&["the"]);
    words.longest(|text| is_known(text).then(|| names::in_full(text)))
}

impl fmt::Display for Standing {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Standing::New => f.write_str("new"),
            Standing::Since(day) => write!(f, "since {day}"),
            Standing::Until(day) => write!(f, "until {day}"),
            Standing::Not { name, yet: true } => write!(f, "not yet {name}"),
            Standing::Not { name, yet: false } => write!(f, "no {name}"),
            Standing::Cannot(able) => f.write_str(match able {
                Able::Roll => "cannot roll yet",
                Able::ReadPitches => "cannot read pitches yet",
                Able::Tune => "cannot tune yet",
                Able::FourMallets => "cannot play four mallets yet",
                Able::ReadRhythms => "cannot read rhythms yet",
            }),
            Standing::Can(able, little) => {
                f.write_str(match able {
                    Able::Roll => "can roll",
                    Able::ReadPitches => "reads pitches",
                    Able::Tune => "can tune",
                    Able::FourMallets => "can play four mallets",
                    Able::ReadRhythms => "reads rhythms",
                })?;
                f.write_str(if *little { " a little" } else { "" })
            }
            Standing::Only(name) => write!(f, "{name} only"),
            Standing::AllBut(name) => write!(f, "all but {name}"),
            Standing::Anything => f.write_str("anything"),
            Standing::Prefers(name) => write!(f, "prefers {name}"),
            Standing::Strong => f.write_str("strong"),
            Standing::Beginner => f.write_str("beginner"),
            Standing::Grade(grade) => write!(f, "{grade}th grader"),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_said_of_a_percussionist() {
        for (written, one_form) in [
            ("new", Some("new")),
            ("new in October 2026", Some("since 2026-10")),
            ("since 2026-10-05", Some("since 2026-10-05")),
            ("not yet snare", Some("not yet snare")),
            ("no mallets", Some("no mallets")),
            ("cannot roll yet", Some("cannot roll yet")),
            ("can't read pitches", Some("cannot read pitches yet")),
            ("all but mallets", Some("all but mallets")),
            ("anything but timpani", Some("all but timpani")),
            ("bells only", Some("bells only")),
            ("anything", Some("anything")),
            ("prefers triangle", Some("prefers triangle")),
            ("strong", Some("strong")),
            ("7th grader", Some("7th grader")),
            ("reads rhythms", Some("reads rhythms")),
            ("not pitches", Some("cannot read pitches yet")),
            ("can read mallets a little", Some("reads pitches a little")),
            ("can roll", Some("can roll")),
            ("reads zqxv", None),
            ("can read zqxv", None),
            ("snare", None),
            ("just started monday", Some("new")),
            ("just joined Oct 5", Some("since Oct 5")),
            ("just zqxv started", None),
            ("new zqxv", None),
            ("zqxv new", None),
            ("not yet zqxv", None),
            ("cannot zqxv roll yet", None),
            ("all but zqxv mallets", None),
        ] {
            let read = Standing::read(written);
            let shown = read.as_ref().map(ToString::to_string);
            assert_eq!(shown.as_deref(), one_form, "{written}");
            assert_eq!(
                shown.and_then(|shown| Standing::read(&shown)),
                read,
                "{written} again"
            );
        }
    }
}
