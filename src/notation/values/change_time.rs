//! How long a percussionist needs from one instrument to the next, as the handbook says it.

use std::fmt;

use super::cursor::Cursor;
use super::instrument_name::is_name;

/// One item of the handbook's `change`.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct ChangeTime {
    /// Tenths of a second; what is finer is rounded up.
    pub tenths: i64,
    /// For what.
    pub what: Change,
}

/// For what a time is needed.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Change {
    /// To an instrument that stands beside the other.
    Neighbor,
    /// Between this and anything else.
    To(String),
    /// From the one to the other, and back where that is not said.
    Pair(String, String),
    /// To take other sticks.
    Sticks,
    /// To put this down or to take it up.
    Hands(String),
    /// For a part to go from one player to another.
    HandingOver,
}

impl Change {
    /// The instruments that it names.
    pub fn names(&self) -> Vec<&str> {
        match self {
            Change::To(name) | Change::Hands(name) => vec![name],
            Change::Pair(from, to) => vec![from, to],
            Change::Neighbor | Change::Sticks | Change::HandingOver => Vec::new(),
        }
    }
}

impl ChangeTime {
    /// Reads `5 s to a neighboring percussion instrument`, `10 s to the timpani`, `3 s from bells to snare`,
    /// `0.5 s for new sticks`, `2 s to pick up the crash cymbals`.
    pub fn read(text: &str) -> Option<ChangeTime> {
        let lower = text.trim().to_lowercase();
        let lower = turned(&lower).unwrap_or(lower);
        // `thirty seconds`: the number in words.
        let figure = lower.split(' ').next().and_then(super::number_words::read);
        let lower = match figure {
            Some(number) => format!(
                "{number}{}",
                lower.find(' ').and_then(|at| lower.get(at..)).unwrap_or("")
            ),
            None => lower,
        };
        let digits = lower.find(|c: char| !c.is_ascii_digit() && c != '.')?;
        let (number, rest) = lower.split_at_checked(digits)?;
        let mut words = Cursor::new(rest);
        let by = words.one_of(&[
            ("seconds", 1),
            ("second", 1),
            ("secs.", 1),
            ("secs", 1),
            ("sec.", 1),
            ("sec", 1),
            ("s.", 1),
            ("s", 1),
            ("minutes", 60),
            ("minute", 60),
            ("min.", 60),
            ("min", 60),
        ])?;
        let tenths = tenths(number)?.checked_mul(by)?;
        let what = what(&mut words)?;
        words.done().then_some(ChangeTime { tenths, what })
    }
}

/// `snare to timp = 10 sec at least` is `10 sec from snare to timp`.
fn turned(lower: &str) -> Option<String> {
    let (what, time) = ["=", ":", " takes ", " needs "]
        .iter()
        .find_map(|joint| lower.split_once(joint))?;
    let time = [" at least", " minimum", " min.", " or so"]
        .iter()
        .find_map(|tail| time.strip_suffix(tail))
        .unwrap_or(time);
    let (from, to) = what.split_once(" to ")?;
    Some(format!("{} from {} to {}", time.trim(), from.trim(), to.trim()))
}

fn what(words: &mut Cursor<'_>) -> Option<Change> {
    const NEIGHBOR: [&str; 16] = [
        "to a neighboring percussion instrument",
        "to a neighbouring percussion instrument",
        "to the neighboring percussion instrument",
        "to a neighboring instrument",
        "to a neighbouring instrument",
        "to the neighboring instrument",
        "to a neighbor",
        "to a neighbour",
        "to the neighbor",
        "between neighbors",
        "between neighbours",
        "between neighboring instruments",
        "to the next instrument",
        "to the next",
        "to an instrument next to it",
        "side by side",
    ];
    const STICKS: [&str; 14] = [
        "for new sticks",
        "for other sticks",
        "for new mallets",
        "for other mallets",
        "to change sticks",
        "to change mallets",
        "to change beaters",
        "for a change of sticks",
        "for a change of mallets",
        "for new beaters",
        "to swap sticks",
        "for a stick change",
        "for a mallet change",
        "for other beaters",
    ];
    const HANDING_OVER: [&str; 8] = [
        "to hand over",
        "to hand it over",
        "to hand an instrument over",
        "to hand over an instrument",
        "to hand over a part",
        "for handing over",
        "for a change of players",
        "to change players",
    ];
    if words.any(&HANDING_OVER) {
        return Some(Change::HandingOver);
    }
    if words.any(&NEIGHBOR) {
        return Some(Change::Neighbor);
    }
    if words.any(&STICKS) {
        return Some(Change::Sticks);
    }
    if words.take("from") {
        let from = name(words, &["to"])?;
        words.take("to").then_some(())?;
        return Some(Change::Pair(from, name(words, &[])?));
    }
    if words.take("between") {
        let one = name(words, &["and"])?;
        words.take("and").then_some(())?;
        return Some(Change::Pair(one, name(words, &[])?));
    }
    if words.any(&["to pick up", "to put down", "to take up", "to lay down", "for"]) {
        return name(words, &[]).map(Change::Hands);
    }
    words
        .any(&["to or from", "to and from", "to", "at"])
        .then_some(())?;
    name(words, &[]).map(Change::To)
}

/// A known instrument or group, or one of the catalogue's own.
fn name(words: &mut Cursor<'_>, stops: &[&str]) -> Option<String> {
    words.any(&["the", "a", "an"]);
    let name = words.until(stops)?;
    is_name(&name).then_some(name)
}

/// `5` or `0.3` seconds in tenths; what is finer is rounded up.
fn tenths(number: &str) -> Option<i64> {
    let (whole, part) = number.split_once('.').unwrap_or((number, "0"));
    let whole: i64 = match whole {
        "" => 0,
        whole => whole.parse().ok()?,
    };
    let digits = part.chars().all(|c| c.is_ascii_digit());
    let tenth = part.chars().next().map_or(Some(0), |c| c.to_digit(10))?;
    let finer = part.chars().skip(1).any(|c| c != '0');
    let time = whole.checked_mul(10)?.checked_add(i64::from(tenth))?;
    digits.then(|| time.checked_add(i64::from(finer))).flatten()
}

impl fmt::Display for ChangeTime {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self.tenths % 10 {
            0 => write!(f, "{} s ", self.tenths / 10)?,
            tenth => write!(f, "{}.{tenth} s ", self.tenths / 10)?,
        }
        match &self.what {
            Change::Neighbor => f.write_str("to a neighboring percussion instrument"),
            Change::To(name) => write!(f, "to the {name}"),
            Change::Pair(from, to) => write!(f, "from {from} to {to}"),
            Change::Sticks => f.write_str("for new sticks"),
            Change::HandingOver => f.write_str("to hand over"),
            Change::Hands(name) => write!(f, "for {name}"),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn times_to_change_are_read() {
        for (written, one_form) in [
            (
                "5 s to a neighboring percussion instrument",
                Some("5 s to a neighboring percussion instrument"),
            ),
            ("10 s to the timpani", Some("10 s to the timpani")),
            ("3 s from bells to snare", Some("3 s from bells to snare")),
            (
                "0.3 sec. between glock. and triangle",
                Some("0.3 s from glock. to triangle"),
            ),
            (
                "4.25 s from the accessories to the mallets",
                Some("4.3 s from accessories to mallets"),
            ),
            ("3 s for new sticks", Some("3 s for new sticks")),
            ("2 s to hand it over", Some("2 s to hand over")),
            ("2 s to hand over to snare", None),
            ("2 s for crash cymbals", Some("2 s for crash cymbals")),
            ("as fast as they can", None),
            ("5 apples to the snare", None),
            ("5 s", None),
            ("5 s to the near snare", Some("5 s to the near snare")),
            ("5 s to the snare 7Qz", None),
            ("5 s zqxv to the snare", None),
            ("3 s from bells 7Qz to snare", None),
            ("99999999999999999999 s to the snare", None),
        ] {
            let read = ChangeTime::read(written);
            let shown = read.as_ref().map(ToString::to_string);
            assert_eq!(shown.as_deref(), one_form, "{written}");
            assert_eq!(
                shown.and_then(|shown| ChangeTime::read(&shown)),
                read,
                "{written} again"
            );
        }
    }
}
