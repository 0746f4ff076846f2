//! How long a concert may be, what lies between its pieces, and how much of it one band has.

use std::fmt;

use super::cursor::Cursor;
use super::lasts::Lasts;
use super::moment::{Hour, both_halves, read_time, show_time};

/// One item of a concert's length.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum ConcertLength {
    /// All of it: at most so long.
    Whole(Lasts),
    /// Between two pieces.
    Between(Lasts),
    /// The intermission.
    Intermission(Lasts),
    /// The music alone, without what lies between the pieces.
    Music(Lasts),
    /// Each of the two halves.
    EachHalf(Lasts),
    /// The hour at which all is over.
    OverBy(Hour),
    /// What one band of several has of it: at most so long.
    Share(String, Lasts),
}

/// Words behind a length that say that all of it is meant.
const ALL_TOLD: [&str; 26] = [
    "w talking",
    "w/ talking",
    "with the jazz band",
    "with the choir",
    "with the other bands",
    "with both bands",
    "with stage changes",
    "with changes",
    "with everything",
    "counting everything",
    "counting stage changes",
    "in all",
    "all told",
    "all in",
    "in total",
    "total",
    "altogether",
    "on stage",
    "including talking",
    "including talk",
    "including announcements",
    "including changes",
    "including everything",
    "with talking",
    "with announcements",
    "start to finish",
];

impl ConcertLength {
    /// Reads `20 minutes`, `at most 25 min`, `1:30 between pieces`, `10-minute intermission`, `10 minutes for "Sixth
    /// Grade Band"`.
    pub fn read(text: &str) -> Option<ConcertLength> {
        if let Some((before, rest)) = text.split_once('"') {
            return share(before.trim(), rest);
        }
        let plain = text.replace("-minute ", " minutes ").replace("-min ", " min ");
        if let Some(limit) = bare_limit(&plain) {
            return Some(ConcertLength::Whole(limit));
        }
        if let Some(hour) = over_by(&plain) {
            return Some(ConcertLength::OverBy(hour));
        }
        let mut words = Cursor::new(&plain);
        let included = words.any(&[
            "including a",
            "including an",
            "including",
            "with a",
            "plus a",
            "plus",
        ]);
        let most = words.any(&[
            "at most",
            "up to",
            "no more than",
            "not more than",
            "no longer than",
            "max",
            "max.",
            "maximum",
            "under",
        ]);
        let lasts = words.longest(Lasts::read)?;
        if words.any(&["of intermission", "intermission", "interval", "of break", "break"]) {
            return words.done().then_some(ConcertLength::Intermission(lasts));
        }
        if words.any(&[
            "between the pieces",
            "between pieces",
            "between two pieces",
            "between each piece",
            "between",
        ]) {
            return words.done().then_some(ConcertLength::Between(lasts));
        }
        if words.any(&["of music", "music", "of playing"]) {
            return (words.done() && !included).then_some(ConcertLength::Music(lasts));
        }
        if words.any(&["each half", "a half", "per half", "for each half"]) {
            return (words.done() && !included).then_some(ConcertLength::EachHalf(lasts));
        }
        if !most {
            words.any(&[
                "at most",
                "tops",
                "maximum",
                "max",
                "max.",
                "or less",
                "at the most",
            ]);
        }
        words.any(&ALL_TOLD);
        (words.done() && !included).then_some(ConcertLength::Whole(lasts))
    }
}

/// `10 minutes for "Sixth Grade Band"`, `"Sixth Grade Band" at most 10 minutes`, cut at the first quotation mark.
fn share(before: &str, rest: &str) -> Option<ConcertLength> {
    let (band, behind) = rest.split_once('"')?;
    let before = before.strip_suffix("the").unwrap_or(before).trim_end();
    let long = match before.strip_suffix("for").unwrap_or(before).trim_end() {
        "" => behind.trim_start_matches([':', ' ']),
        long if behind.trim().is_empty() => long,
        _ => return None,
    };
    match ConcertLength::read(long)? {
        ConcertLength::Whole(lasts) => Some(ConcertLength::Share(band.trim().to_owned(), lasts)),
        _ => None,
    }
}

/// `must be out by 7:45`, `buses at 7`, `over by 19:00`.
fn over_by(text: &str) -> Option<Hour> {
    let text = text.trim().to_lowercase();
    let leads = [
        "must be out by ",
        "must be over by ",
        "must end by ",
        "has to be over by ",
        "has to end by ",
        "out by ",
        "over by ",
        "done by ",
        "finished by ",
        "ends by ",
        "end by ",
        "buses at ",
        "buses leave at ",
        "bus at ",
    ];
    let hour = leads.iter().find_map(|lead| text.strip_prefix(lead))?;
    read_time(hour).or_else(|| both_halves(hour).map(|[later, _]| later))
}

/// `25 tops`, `at most 25`: a bare number that is a limit can only be minutes.
fn bare_limit(text: &str) -> Option<Lasts> {
    let text = text.trim().to_lowercase();
    let before = ["at most ", "up to ", "no more than ", "max ", "max. ", "under "];
    let behind = [" tops", " max", " max.", " at most", " or less", " maximum"];
    let all_told = ALL_TOLD
        .iter()
        .find_map(|words| text.strip_suffix(words)?.strip_suffix(' '));
    let number = before
        .iter()
        .find_map(|word| text.strip_prefix(word))
        .or_else(|| behind.iter().find_map(|word| text.strip_suffix(word)))
        .or(all_told)?;
    let digits = !number.is_empty() && number.len() < 4 && number.chars().all(|c| c.is_ascii_digit());
    digits
        .then(|| Lasts::read(&format!("{number} minutes")))
        .flatten()
}

impl fmt::Display for ConcertLength {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            ConcertLength::Whole(lasts) => f.write_str(&lasts.in_minutes()),
            ConcertLength::Music(lasts) => write!(f, "{} of music", lasts.in_minutes()),
            ConcertLength::EachHalf(lasts) => write!(f, "{} each half", lasts.in_minutes()),
            ConcertLength::OverBy(hour) => write!(f, "over by {}", show_time(*hour)),
            ConcertLength::Between(lasts) => write!(f, "{lasts} between pieces"),
            ConcertLength::Intermission(lasts) => write!(f, "{lasts} intermission"),
            ConcertLength::Share(band, lasts) => write!(f, "{} for \"{band}\"", lasts.in_minutes()),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn lengths_of_concerts_are_read() {
        for (written, one_form) in [
            ("20 minutes", Some("20 minutes")),
            ("at most 25 min", Some("25 minutes")),
            ("25 min tops", Some("25 minutes")),
            ("no more than 45 min including talking", Some("45 minutes")),
            ("under half an hour", Some("30 minutes")),
            ("an hour and a half", Some("90 minutes")),
            ("three quarters of an hour", Some("45 minutes")),
            ("half zqxv an hour", None),
            ("1:30 between pieces", Some("1:30 between pieces")),
            ("1 min between pieces", Some("1:00 between pieces")),
            ("including a 10-minute intermission", Some("10:00 intermission")),
            ("25 tops", Some("25 minutes")),
            ("at most 25", Some("25 minutes")),
            ("25 zqxv", None),
            ("5", None),
            ("20 minutes zqxv", None),
            ("20 zqxv minutes", None),
            ("-5 minutes", None),
            ("10 min for \"Sixth\"", Some("10 minutes for \"Sixth\"")),
            ("for the \"Sixth\" at most 10", Some("10 minutes for \"Sixth\"")),
            ("\"Sixth\": 10 minutes", Some("10 minutes for \"Sixth\"")),
            ("zqxv 10 minutes for \"Sixth\"", None),
            ("10 minutes for \"Sixth\" zqxv", None),
            ("10 minutes zqxv \"Sixth\"", None),
            ("1:30 between pieces for \"Sixth\"", None),
        ] {
            let read = ConcertLength::read(written);
            let shown = read.as_ref().map(ToString::to_string);
            assert_eq!(shown.as_deref(), one_form, "{written}");
            assert_eq!(
                shown.and_then(|shown| ConcertLength::read(&shown)),
                read,
                "{written} again"
            );
        }
    }
}
