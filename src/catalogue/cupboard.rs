//! The percussion that a band owns or borrows.

use jiff::civil::Date;

use crate::music::groups::Group;
use crate::music::instruments::key;
use crate::music::{Instrument, Instruments, Lookup};
use crate::notation::names::is_group;
use crate::notation::values::{Day, Equipment};
use crate::text::Span;

use super::instruments::instrument_named;
use super::model::Said;

/// What a drum set holds besides its name (common practice, no source).
const IN_A_SET: [&str; 9] = [
    "snare",
    "bass drum",
    "tom-toms",
    "hi-hat",
    "ride cymbal",
    "splash cymbal",
    "China cymbal",
    "suspended cymbal",
    "crash cymbals",
];

/// Instruments that school bands take for one another without a thought (common practice, no source).
const ALIKE: [(&str, &str); 2] = [("tam-tam", "gong"), ("gong", "tam-tam")];

/// One thing that is owned or borrowed.
#[derive(Debug, Clone, PartialEq)]
pub struct Holding {
    /// The thing.
    pub equipment: Equipment,
    /// Where it stands on its card.
    pub span: Span,
    /// The first and last day it can be had; none for always.
    pub days: Option<(Date, Date)>,
}

/// Owned things.
pub fn owned(said: &[Said<Equipment>]) -> Vec<Holding> {
    said.iter()
        .map(|said| Holding {
            equipment: said.value.clone(),
            span: said.span,
            days: None,
        })
        .collect()
}

/// Borrowed things with their days, which stand after a comma: `chimes from the high school, 2027-03-01 to
/// 2027-05-15`. `text` is the card's.
pub fn borrowed(said: &[Said<Equipment>], text: &str) -> Vec<Holding> {
    let mut holdings: Vec<Holding> = Vec::new();
    for said in said {
        match days(said.span.slice(text)) {
            Some(days) => {
                if let Some(last) = holdings.last_mut() {
                    last.days = Some(days);
                }
            }
            None => holdings.extend(owned(std::slice::from_ref(said))),
        }
    }
    holdings
}

/// `2027-03-01 to 2027-05-15`, `until 2027-05-15`, `from 2027-03-01`.
fn days(words: &str) -> Option<(Date, Date)> {
    let words = words.trim();
    if let Some(until) = words.strip_prefix("until ").or_else(|| words.strip_prefix("to ")) {
        return Some((Date::MIN, Day::read(until)?.last()?));
    }
    let words = words.strip_prefix("from ").unwrap_or(words);
    match words.split_once(" to ") {
        Some((first, last)) => Some((Day::read(first)?.first()?, Day::read(last)?.last()?)),
        None => Some((Day::read(words)?.first()?, Date::MAX)),
    }
}

impl Holding {
    /// Whether it can be had on a day; always where no day is asked about.
    pub fn is_there(&self, on: Option<Date>) -> bool {
        match (self.days, on) {
            (Some((first, last)), Some(day)) => first <= day && day <= last,
            _ => true,
        }
    }

    /// Whether it is, or holds, this instrument.
    pub fn is(&self, wanted: &Instrument, instruments: &Instruments) -> bool {
        let name = self.equipment.name.as_str();
        if key(name) == key(&wanted.name) {
            return true;
        }
        if is_group(name) {
            return Group::read(name).is_some_and(|group| group.holds(wanted));
        }
        let alike = |own: &Instrument| {
            own.name == wanted.name
                || ALIKE.contains(&(own.name.as_ref(), wanted.name.as_ref()))
                || (own.name == "drum set" && IN_A_SET.contains(&wanted.name.as_ref()))
        };
        match instruments.find(name) {
            Lookup::Exact(own) => alike(own),
            // `cymbals` in the cupboard are whichever the piece asks for.
            Lookup::Ambiguous(several) => several.into_iter().any(alike),
            Lookup::None => instrument_named(instruments, name).is_some_and(alike),
        }
    }
}

/// The instruments that a name may stand for: one, several, or none where it is a household object or a
/// grouping.
pub fn meant<'i>(instruments: &'i Instruments, name: &str) -> Vec<&'i Instrument> {
    if is_group(name) {
        return Vec::new();
    }
    match instruments.find(name) {
        Lookup::Exact(one) => vec![one],
        Lookup::Ambiguous(several) => several,
        Lookup::None => instrument_named(instruments, name).into_iter().collect(),
    }
}

/// The sizes of all timpani that are there on a day, in inches; empty where no size is known.
pub fn timpani(holdings: &[Holding], on: Option<Date>, instruments: &Instruments) -> Vec<u8> {
    let Some(timpani) = instruments.find("timpani").exact() else {
        return Vec::new();
    };
    holdings
        .iter()
        .filter(|holding| holding.is_there(on) && holding.is(timpani, instruments))
        .flat_map(|holding| &holding.equipment.sizes)
        .filter_map(|size| u8::try_from(*size).ok())
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use jiff::civil::date;

    fn holding(text: &str) -> Option<Holding> {
        Some(Holding {
            equipment: Equipment::read(text)?,
            span: Span::new(0, 0),
            days: None,
        })
    }

    #[test]
    fn what_is_in_it() {
        let table = [
            ("bells", "glockenspiel", true),
            ("bells", "chimes", false),
            ("cymbals", "crash cymbals", true),
            ("accessories", "triangle", true),
            ("accessories", "xylophone", false),
            ("mallets", "xylophone", true),
            ("drum set", "hi-hat", true),
            ("gong", "tam-tam", true),
            ("timp. 29 and 26", "timpani", true),
            ("S.D.", "snare", true),
        ];
        let instruments = Instruments::standard();
        for (own, wanted, is) in table {
            let found = holding(own)
                .zip(instruments.find(wanted).exact())
                .map(|(holding, wanted)| holding.is(wanted, instruments));
            assert_eq!(found, Some(is), "{own}: {wanted}");
        }
    }

    #[test]
    fn borrowed_for_a_time() {
        let table = [
            ("2027-03-01 to 2027-05-15", Some((date(2027, 3, 1), date(2027, 5, 15)))),
            ("until May 15, 2027", Some((Date::MIN, date(2027, 5, 15)))),
            ("2 snares", None),
            ("chimes from the high school", None),
        ];
        for (words, wanted) in table {
            assert_eq!(days(words), wanted, "{words}");
        }
    }
}
