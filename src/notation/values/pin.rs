//! Who is to play what, or not: `P3 on snare`, `P2 not on bass drum`, `without P5`, `P1 and P4 never together`,
//! `P2 at most 2 parts`.

use std::fmt;

use crate::notation::{names, scan};

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
    /// What else holds for them; then no parts are named.
    pub bound: Option<Bound>,
    /// The only pieces in which it holds, by title; none for all of them.
    pub pieces: Vec<String>,
}

/// What holds for players whatever they play.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Bound {
    /// No two of them are at one instrument.
    Apart,
    /// At most so many parts in a piece.
    Parts(u32),
    /// At most so many pieces of a concert.
    Pieces(u32),
}

/// Behind two players who are to be kept apart.
const APART: [&str; 14] = [
    "never together",
    "not together",
    "never side by side",
    "not side by side",
    "never next to each other",
    "not next to each other",
    "never beside each other",
    "not beside each other",
    "apart",
    "kept apart",
    "separate",
    "separated",
    "not at one instrument",
    "never at one instrument",
];

/// Between two players who are to be kept apart.
const APART_FROM: [&str; 13] = [
    "never together with",
    "not together with",
    "never with",
    "not with",
    "never next to",
    "not next to",
    "never beside",
    "not beside",
    "not near",
    "never near",
    "apart from",
    "away from",
    "separate from",
];

/// Before the most that somebody plays.
const AT_MOST: [&str; 9] = [
    "at most",
    "no more than",
    "not more than",
    "never more than",
    "maximum",
    "max",
    "max.",
    "up to",
    "only",
];

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
        let (said, pieces) = in_pieces(text)?;
        let pin = match said.strip_suffix(" not").or_else(|| said.strip_suffix(" never")) {
            // `P5 not in "Rill"`.
            Some(who) if !pieces.is_empty() => Pin::new(seats(who)?, Vec::new(), true),
            _ => Pin::read_anywhere(said)?,
        };
        let everywhere = matches!(pin.bound, Some(Bound::Pieces(_)));
        (pieces.is_empty() || !everywhere).then_some(Pin { pieces, ..pin })
    }

    /// Reads what stands beside a title on a program: it holds for that piece.
    pub fn read_in_a_program(text: &str) -> Option<Pin> {
        let pin = Pin::read(text)?;
        let of_many = !pin.pieces.is_empty() || matches!(pin.bound, Some(Bound::Pieces(_)));
        (!of_many).then_some(pin)
    }

    /// The same without the pieces in which it holds.
    fn read_anywhere(text: &str) -> Option<Pin> {
        let plain = text.replace(": ", " on ").replace(" = ", " on ");
        let mut words = Cursor::new(&plain);
        if let Some(pin) = Pin::of_several(words.clone()) {
            return Some(pin);
        }
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

    /// `P1 and P4 never together`, `keep P1 away from P4`, `P2 at most 2 parts`, `at most 2 parts for P2`.
    fn of_several(mut words: Cursor<'_>) -> Option<Pin> {
        if let Some(most) = most(&mut words) {
            words.any(&["for", "to"]);
            let seats = words.longest(seats)?;
            words.any(&["each"]);
            return words.done().then_some(Pin::bound(seats, most));
        }
        let led = words.any(&["never", "not", "do not put", "don't put", "dont put"]);
        words.any(&["keep", "put", "please", "please keep"]);
        let mut found = words.longest(seats)?;
        words.any(&["are", "is", "must be", "should be", "stay", "always"]);
        if found.len() > 1 && (words.any(&APART) || led && words.any(&["together", "side by side"])) {
            return words.done().then_some(Pin::bound(found, Bound::Apart));
        }
        if words.any(&APART_FROM) || led && words.any(&["with", "next to", "beside"]) {
            found.extend(words.longest(seats)?);
            return words.done().then_some(Pin::bound(found, Bound::Apart));
        }
        words.any(&["plays", "play", "has", "have", "gets", "get"]);
        let most = most(&mut words).filter(|_| !led)?;
        words.any(&["each"]);
        words.done().then_some(Pin::bound(found, most))
    }

    /// Reads what stands behind a seat of the roster: `not with P4`, `at most 2 parts`. The seats named are the others.
    pub fn read_behind_a_seat(text: &str) -> Option<Pin> {
        let mut words = Cursor::new(text);
        if let Some(most) = most(&mut words) {
            return words.done().then_some(Pin::bound(Vec::new(), most));
        }
        words.any(&["keep", "stays", "sits", "stands"]);
        if !words.any(&APART_FROM) {
            return None;
        }
        let others = words.longest(seats)?;
        words.done().then_some(Pin::bound(others, Bound::Apart))
    }

    /// What stands in a row of its own among the percussionists: what holds for several of them.
    pub fn read_of_the_section(text: &str) -> Option<Pin> {
        Pin::of_several(Cursor::new(text))
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
        Pin {
            seats,
            parts,
            not,
            bound: None,
            pieces: Vec::new(),
        }
    }

    fn bound(seats: Vec<String>, bound: Bound) -> Pin {
        Pin {
            bound: Some(bound),
            ..Pin::new(seats, Vec::new(), false)
        }
    }
}

/// What is said, and the pieces in which it holds: `in "Rill" and "Weir"`.
fn in_pieces(text: &str) -> Option<(&str, Vec<String>)> {
    let Some((said, titles)) = text.split_once(" in ").filter(|(said, titles)| {
        titles.trim_start().starts_with(scan::is_quote) && !said.contains(scan::is_quote)
    }) else {
        return Some((text, Vec::new()));
    };
    let mut rest = titles.trim_start();
    let mut pieces = Vec::new();
    loop {
        let (after, title) = scan::quoted(rest).ok()?;
        pieces.push(title.trim().to_owned());
        rest = after.trim_start();
        if rest.is_empty() {
            return Some((said.trim_end(), pieces));
        }
        rest = ["and ", "& ", "or "]
            .iter()
            .find_map(|word| rest.strip_prefix(word))?
            .trim_start();
    }
}

/// `at most 2 parts`, `no more than three pieces`.
fn most(words: &mut Cursor<'_>) -> Option<Bound> {
    let mut found = words.clone();
    if !found.any(&AT_MOST) {
        return None;
    }
    let number = found.number().filter(|number| *number > 0)?;
    let bound = found.one_of(&[
        ("parts in a piece", Bound::Parts(number)),
        ("parts a piece", Bound::Parts(number)),
        ("parts", Bound::Parts(number)),
        ("part", Bound::Parts(number)),
        ("pieces", Bound::Pieces(number)),
        ("piece", Bound::Pieces(number)),
        ("songs", Bound::Pieces(number)),
        ("song", Bound::Pieces(number)),
        ("tunes", Bound::Pieces(number)),
        ("tune", Bound::Pieces(number)),
        ("numbers", Bound::Pieces(number)),
    ])?;
    *words = found;
    Some(bound)
}

impl fmt::Display for Bound {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Bound::Apart => write!(f, "never together"),
            Bound::Parts(1) => write!(f, "at most 1 part"),
            Bound::Parts(most) => write!(f, "at most {most} parts"),
            Bound::Pieces(1) => write!(f, "at most 1 piece"),
            Bound::Pieces(most) => write!(f, "at most {most} pieces"),
        }
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
        match (self.bound, self.parts.is_empty(), self.not) {
            // Behind a seat of the roster only the others are named.
            (Some(Bound::Apart), ..) if self.seats.len() == 1 => write!(f, "not with {seats}")?,
            (Some(bound), ..) if self.seats.is_empty() => write!(f, "{bound}")?,
            (Some(bound), ..) => write!(f, "{seats} {bound}")?,
            (None, true, true) if !self.pieces.is_empty() => write!(f, "{seats} not")?,
            (None, true, true) => write!(f, "without {seats}")?,
            (None, true, false) => write!(f, "for {seats}")?,
            (None, false, true) => write!(f, "{seats} not on {}", self.parts.join(" and "))?,
            (None, false, false) => write!(f, "{seats} on {}", self.parts.join(" and "))?,
        }
        let mut before = " in";
        for piece in &self.pieces {
            write!(f, "{before} \"{piece}\"")?;
            before = " and";
        }
        Ok(())
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
            ("P1 and P4 never together", Some("P1 and P4 never together")),
            ("P1 never with P4", Some("P1 and P4 never together")),
            ("keep P1 and P4 apart", Some("P1 and P4 never together")),
            ("keep P1 away from P4", Some("P1 and P4 never together")),
            (
                "P1 not next to P4 and P5",
                Some("P1 and P4 and P5 never together"),
            ),
            ("don't put P1 and P4 together", Some("P1 and P4 never together")),
            ("P1 never together", None),
            ("P1 never together with", None),
            ("P2 at most 2 parts", Some("P2 at most 2 parts")),
            ("P2 plays no more than one part", Some("P2 at most 1 part")),
            (
                "at most two parts for P2 and P3",
                Some("P2 and P3 at most 2 parts"),
            ),
            ("P2 max 3 pieces", Some("P2 at most 3 pieces")),
            ("P2 at most 0 parts", None),
            ("P2 at most 2", None),
            ("P2 at most 2 parts zqxv", None),
            ("P5 not in \"Rill\"", Some("P5 not in \"Rill\"")),
            ("without P5 in \"Rill\"", Some("P5 not in \"Rill\"")),
            (
                "P3 on snare in \"Rill\" and \"Weir\"",
                Some("P3 on snare in \"Rill\" and \"Weir\""),
            ),
            (
                "P1 and P4 never together in \"Rill\"",
                Some("P1 and P4 never together in \"Rill\""),
            ),
            ("P2 at most 2 pieces in \"Rill\"", None),
            ("P3 on snare in \"Rill\" zqxv", None),
        ] {
            let read = Pin::read(written);
            let shown = read.as_ref().map(ToString::to_string);
            assert_eq!(shown.as_deref(), one_form, "{written}");
            assert_eq!(shown.and_then(|shown| Pin::read(&shown)), read, "{written} again");
        }
    }

    #[test]
    fn what_stands_behind_a_seat_is_read() {
        for (written, one_form) in [
            ("not with P4", Some("not with P4")),
            ("never next to P4", Some("not with P4")),
            ("apart from P4 and P5", Some("P4 and P5 never together")),
            ("at most 2 parts", Some("at most 2 parts")),
            ("no more than 3 pieces", Some("at most 3 pieces")),
            ("not with snare", None),
            ("not P4", None),
            ("at most snare", None),
        ] {
            let read = Pin::read_behind_a_seat(written);
            assert_eq!(read.map(|pin| pin.to_string()).as_deref(), one_form, "{written}");
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
