//! Who is to play what, or not: `P3 on snare`, `P2 not on bass drum`, `without P5`.

use std::fmt;

use crate::notation::names;

use super::absent::seats;
use super::cursor::Cursor;
use super::instrument_name::is_known;

/// What a director decides before anything is shared out.
#[derive(Debug, Clone, PartialEq, Eq, Hash)]
pub struct Pin {
    /// The percussionists, by seat or initials.
    pub seats: Vec<String>,
    /// The parts, in full; none where it is about everything there is to play.
    pub parts: Vec<String>,
    /// Whether this is what they are not to play.
    pub not: bool,
}

/// Between the player and the part.
const ON: [&str; 20] = [
    "on",
    "plays",
    "play",
    "will play",
    "should play",
    "has",
    "have",
    "takes",
    "take",
    "gets",
    "get",
    "does",
    "do",
    "covers",
    "cover",
    "is on",
    "are on",
    "stays on",
    "stay on",
    "to",
];

/// The same, where it is not to be.
const NOT_ON: [&str; 18] = [
    "not on",
    "never on",
    "off",
    "off of",
    "does not play",
    "do not play",
    "doesn't play",
    "doesnt play",
    "don't play",
    "dont play",
    "never plays",
    "never play",
    "not to play",
    "must not play",
    "should not play",
    "is not on",
    "are not on",
    "not",
];

/// Between the part and the player.
const BY: [&str; 14] = [
    "to",
    "for",
    "by",
    "goes to",
    "go to",
    "is for",
    "is played by",
    "played by",
    "given to",
    "belongs to",
    "with",
    "is",
    "are for",
    "is with",
];

/// The same, where it is not to be.
const NOT_BY: [&str; 8] = [
    "not to",
    "not for",
    "not by",
    "never for",
    "never by",
    "never to",
    "not with",
    "not",
];

/// Nothing to play.
const OUT: [&str; 14] = [
    "out",
    "is out",
    "are out",
    "sits out",
    "sit out",
    "sits this out",
    "sits this one out",
    "rests",
    "does not play",
    "doesn't play",
    "doesnt play",
    "not playing",
    "plays nothing",
    "not in this one",
];

impl Pin {
    /// Reads `P3 on snare`, `P3 plays snare and triangle`, `snare to P3`, `P2 not on bass drum`, `no snare for P2`,
    /// `without P5`, `P5 sits out`.
    pub fn read(text: &str) -> Option<Pin> {
        let plain = text.replace(": ", " on ").replace(" = ", " on ");
        let mut words = Cursor::new(&plain);
        if words.any(&["without", "not with", "leave out"]) {
            let seats = words.longest(seats)?;
            return words.done().then_some(Pin::new(seats, Vec::new(), true));
        }
        words.any(&["keep", "give", "put", "have", "let", "always", "please"]);
        let no = words.any(&["no", "not", "never"]);
        if let Some(seats) = words.longest(seats) {
            return Pin::of_player(words, seats, no);
        }
        let parts = parts(&mut words)?;
        let not = words.any(&NOT_BY);
        if !not && !words.any(&BY) {
            return None;
        }
        let seats = words.longest(seats)?;
        words.done().then_some(Pin::new(seats, parts, no || not))
    }

    fn of_player(mut words: Cursor<'_>, seats: Vec<String>, no: bool) -> Option<Pin> {
        if words.done() {
            // `not P5` leaves somebody out; `P5` alone says nothing.
            return no.then_some(Pin::new(seats, Vec::new(), true));
        }
        let mut out = words.clone();
        if out.any(&OUT) && out.done() {
            return Some(Pin::new(seats, Vec::new(), true));
        }
        words.any(&["always", "only"]);
        let not = words.any(&NOT_ON);
        if !not {
            words.any(&ON);
        }
        let parts = parts(&mut words)?;
        words.any(&["please", "always"]);
        words.done().then_some(Pin::new(seats, parts, no || not))
    }

    /// Reads what the row of a part says of its player: `for P3`, `played by P3`, `P3 plays this`, `not P2`. No parts
    /// are named, since it stands beside its part.
    pub fn read_beside(text: &str) -> Option<Pin> {
        // No player and none of the words before one begin with a figure, as measures do.
        if text.starts_with(|c: char| c.is_ascii_digit()) {
            return None;
        }
        let mut words = Cursor::new(text);
        let anybody = words.any(&["anybody but", "anyone but", "everybody but", "all but"]);
        let led = words.any(&NOT_BY) || words.any(&["never", "no", "without"]);
        let by = !led && words.any(&BY);
        let seats = words.longest(seats).filter(|seats| {
            // A bare `B4` or `F` beside a part is a note.
            led || by || anybody || seats.iter().all(|seat| !is_note(seat))
        })?;
        words.any(&[
            "plays this",
            "plays it",
            "plays",
            "play this",
            "play it",
            "has this",
            "has it",
            "takes this",
            "takes it",
            "only",
            "please",
        ]);
        words
            .done()
            .then_some(Pin::new(seats, Vec::new(), led || anybody))
    }

    fn new(seats: Vec<String>, parts: Vec<String>, not: bool) -> Pin {
        Pin { seats, parts, not }
    }
}

/// Whether a seat could as well be a pitch, a rehearsal letter or a roman numeral.
fn is_note(seat: &str) -> bool {
    seat.chars().count() < 2
        || seat.starts_with(|c: char| ('A'..='G').contains(&c))
        || seat.starts_with(['I', 'V'])
}

/// Instruments or parts, joined by `and`.
fn parts(words: &mut Cursor<'_>) -> Option<Vec<String>> {
    let part = |text: &str| {
        let cut = names::cut_number(text, true);
        let known = is_known(cut.words) || is_known(text);
        known.then(|| names::part_in_full(text))
    };
    let mut found = Vec::new();
    loop {
        words.any(&["the", "her", "his", "their"]);
        found.push(words.longest(part)?);
        words.any(&["part", "parts"]);
        if !words.any(&["and", "&", "+"]) {
            return Some(found);
        }
    }
}

impl fmt::Display for Pin {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let seats = self.seats.join(" and ");
        match (self.parts.is_empty(), self.not) {
            (true, true) => write!(f, "without {seats}"),
            (true, false) => write!(f, "for {seats}"),
            (false, true) => write!(f, "{seats} not on {}", self.parts.join(" and ")),
            (false, false) => write!(f, "{seats} on {}", self.parts.join(" and ")),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_a_director_decides_is_read() {
        for (written, one_form) in [
            ("P3 on snare", Some("P3 on snare")),
            ("P3 plays the snare drum", Some("P3 on snare drum")),
            ("P3: snare", Some("P3 on snare")),
            ("give snare to P3", Some("P3 on snare")),
            ("snare for P3", Some("P3 on snare")),
            (
                "P1 and P2 on snare and triangle",
                Some("P1 and P2 on snare and triangle"),
            ),
            ("P1-P3 on snare", Some("P1 and P2 and P3 on snare")),
            ("AK has bells", Some("AK on bells")),
            ("keep P2 off bass drum", Some("P2 not on bass drum")),
            ("P2 never on bass drum", Some("P2 not on bass drum")),
            ("no snare for P2", Some("P2 not on snare")),
            ("P2 doesn't play timpani", Some("P2 not on timpani")),
            ("not P2 on bells", Some("P2 not on bells")),
            ("without P5", Some("without P5")),
            ("P5 sits out", Some("without P5")),
            ("not P5", Some("without P5")),
            ("P5", None),
            ("P3 on zqxv", None),
            ("zqxv on snare", None),
            ("P3 zqxv on snare", None),
            ("P3 on snare zqxv", None),
            ("snare", None),
            ("P1 and P4 never together", None),
        ] {
            let read = Pin::read(written);
            let shown = read.as_ref().map(ToString::to_string);
            assert_eq!(shown.as_deref(), one_form, "{written}");
            assert_eq!(shown.and_then(|shown| Pin::read(&shown)), read, "{written} again");
        }
    }

    #[test]
    fn what_stands_beside_a_part_is_read() {
        for (written, seats, not) in [
            ("for P3", "P3", false),
            ("played by P1", "P1", false),
            ("P4", "P4", false),
            ("P2 plays this", "P2", false),
            ("not P2", "P2", true),
            ("not for P1 and P2", "P1 P2", true),
            ("anybody but P2", "P2", true),
            ("F4", "", false),
            ("for zqxv", "", false),
            ("P3 zqxv", "", false),
            ("for flute", "", false),
        ] {
            let read = Pin::read_beside(written);
            let found = read.as_ref().map_or(String::new(), |pin| pin.seats.join(" "));
            assert_eq!(found, seats, "{written}");
            assert!(read.is_none_or(|pin| pin.not == not), "{written}");
        }
    }
}
