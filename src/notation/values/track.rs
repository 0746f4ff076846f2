//! A recorded track: its length, where it starts, who runs it.

use std::fmt;

use crate::music::Clock;
use crate::notation::scan;

use super::absent::is_seat;
use super::cursor::{Cursor, number};
use super::instrument_name::{At, at};
use super::place::Point;

/// One item about a track.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Track {
    /// How long it is.
    Lasts(Clock),
    /// Where in the piece it starts.
    Starts(Point),
    /// Who runs it, by seat or initials or in quotation marks, and where the name stands.
    Operator(String, At),
    /// There is a click track, for the conductor alone where that is said.
    Click {
        /// Whether only the conductor hears it.
        conductor: bool,
    },
    /// The piece can be played without it.
    Optional,
    /// The file or disc that it is on, by its quoted name.
    File(String),
    /// Where it is kept, in the director's own words: `on the publisher's site`.
    Kept(String),
    /// Its number on a disc.
    Number(u32),
}

impl Track {
    /// Reads one item: `cd in the back pocket`, `#7`, `4:00`, `starts at 1`, `starts at A`, `operator P6`, `click track`,
    /// `click for the conductor`, `optional`, `"lanterns.mp3"`.
    pub fn read(text: &str) -> Option<Track> {
        let text = text.trim();
        if let Some(clock) = Clock::read(text) {
            return Some(Track::Lasts(clock));
        }
        if let Ok((rest, name)) = scan::quoted(text) {
            return (rest.is_empty() && !name.is_empty()).then(|| Track::File(name.to_owned()));
        }
        if let Some(track) = kept(text) {
            return Some(track);
        }
        let mut words = Cursor::new(text);
        if words.any(&["operator", "run by", "operated by", "player"]) {
            let name = text.get(text.len() - words.rest().len()..)?.trim();
            let quoted = scan::quoted(name).ok().filter(|(rest, _)| rest.is_empty());
            let plain = quoted.is_none() && (is_seat(name) || is_person(name));
            return (plain || quoted.is_some()).then(|| Track::Operator(name.to_owned(), at(text, name)));
        }
        if words.any(&[
            "starts at",
            "starts in",
            "from",
            "start at",
            "enters at",
            "starts",
        ]) {
            words.any(&["measure", "m.", "bar"]);
            let name = words.rest();
            let mark = (1..=2).contains(&name.len()) && name.chars().all(char::is_alphanumeric);
            return match number(&name) {
                Some(measure) => Some(Track::Starts(Point::Measure(measure))),
                None => mark.then_some(Track::Starts(Point::Mark(name))),
            };
        }
        if words.any(&["click track", "click"]) {
            let conductor = words.any(&[
                "for the conductor",
                "for conductor",
                "for the director",
                "in the conductor's ear",
            ]);
            return words.done().then_some(Track::Click { conductor });
        }
        let optional = words.any(&["optional", "can be left out"]);
        (optional && words.done()).then_some(Track::Optional)
    }
}

/// `cd in the back pocket`, `yes, it's on the publisher's site`, `#7`, `no. 7`: where a track is kept. What stands
/// behind `in` and `on` is the director's own words.
fn kept(text: &str) -> Option<Track> {
    let number_of = ["#", "no. ", "track ", "number ", "no "]
        .iter()
        .find_map(|lead| text.strip_prefix(lead));
    if let Some(found) = number_of.and_then(number) {
        return Some(Track::Number(found));
    }
    let mut words = Cursor::new(text);
    let said = words.any(&["yes", "there is one"]) | words.any(&["it's", "its", "it is"]);
    words.any(&["a", "the"]);
    let cd = words.any(&["cd", "disc"]);
    let disc = cd || words.any(&["recording", "file", "mp3", "dvd"]);
    if cd && words.done() {
        return Some(Track::Kept("CD".to_owned()));
    }
    // Without such a word in front, `at A 9` would be a place of nobody's.
    let lead = ["in", "on", "at", "under"]
        .into_iter()
        .find(|lead| (said || disc) && words.take(lead))?;
    let place = words.rest();
    let what = if cd { "CD" } else { "recording" };
    (!place.is_empty() && !place.contains(scan::is_quote))
        .then(|| Track::Kept(format!("{what} {lead} {place}")))
}

/// One or two words with capitals, as a person's name is written; a rule tells full names.
fn is_person(name: &str) -> bool {
    let words: Vec<&str> = name.split_whitespace().collect();
    (1..=3).contains(&words.len()) && words.iter().all(|word| word.starts_with(char::is_uppercase))
        || matches!(name, "the director" | "the conductor" | "a student")
}

impl fmt::Display for Track {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Track::Lasts(clock) => clock.fmt(f),
            Track::Starts(point) => write!(f, "starts at {point}"),
            Track::Operator(name, _) => write!(f, "operator {name}"),
            Track::Click { conductor: false } => f.write_str("click track"),
            Track::Click { conductor: true } => f.write_str("click for the conductor"),
            Track::Optional => f.write_str("optional"),
            Track::File(name) => write!(f, "\"{name}\""),
            Track::Kept(place) => f.write_str(place),
            Track::Number(number) => write!(f, "no. {number}"),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn tracks_are_read() {
        for (written, one_form) in [
            ("4:00", Some("4:00")),
            ("starts at 1", Some("starts at 1")),
            ("starts at measure 9", Some("starts at 9")),
            ("starts at A", Some("starts at A")),
            ("operator P6", Some("operator P6")),
            ("operator AK", Some("operator AK")),
            ("click for the conductor", Some("click for the conductor")),
            ("click track", Some("click track")),
            ("optional", Some("optional")),
            ("cd in the back pocket", Some("CD in the back pocket")),
            ("CD", Some("CD")),
            ("#7", Some("no. 7")),
            (
                "yes its on the publisher site",
                Some("recording on the publisher site"),
            ),
            ("at zqxv 1", None),
            ("in the pocket", None),
            ("yes", None),
            ("zqxv", None),
            ("4:00 zqxv", None),
            ("starts at zqxv", None),
            ("starts zqxv at 1", None),
            ("operator zqxv P6", None),
            ("operator P6 zqxv", None),
            ("click zqxv track", None),
        ] {
            let read = Track::read(written);
            let shown = read.as_ref().map(ToString::to_string);
            assert_eq!(shown.as_deref(), one_form, "{written}");
            assert_eq!(
                shown.and_then(|shown| Track::read(&shown)),
                read,
                "{written} again"
            );
        }
    }
}
