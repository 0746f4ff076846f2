//! Names on a band's card that are not understood, and what they may have been meant for.
//!
//! What is not understood is unknown, and never absent: a roster with `trumpt 8` cannot say that nobody plays
//! the trumpet.

use crate::music::instruments::key;
use crate::music::{Instrument, Instruments, Lookup};
use crate::notation::names::{cut_number, is_group};

use super::instruments::instrument_named;
use super::model::Ensemble;
use super::nearly::nearly;

/// How many names are looked at; with more, nobody knows anything.
const MOST: usize = 20;

/// Names that no instrument goes by.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Doubts {
    names: Vec<Doubt>,
}

/// A name, and the instrument that a slip of the hand explains, where only one does.
#[derive(Debug, Clone, PartialEq, Eq)]
struct Doubt {
    name: String,
    meant: Option<String>,
}

impl Doubt {
    fn may_be(&self, instrument: &Instrument) -> bool {
        match &self.meant {
            Some(meant) => *meant == instrument.name,
            None => is_near(&self.name, instrument),
        }
    }
}

impl Doubts {
    /// Takes the names that stand for no instrument, no group and no choice of instruments.
    pub fn of<'n>(names: impl Iterator<Item = &'n str>, instruments: &Instruments) -> Doubts {
        let unknown = names.filter(|name| {
            let bare = cut_number(name, true).words;
            !name.contains('"')
                && !is_group(bare)
                && instruments.find(bare) == Lookup::None
                && (instrument_named(instruments, bare).is_none() || is_slip(bare, instruments))
        });
        Doubts {
            names: unknown
                .take(MOST)
                .map(|name| Doubt {
                    name: name.to_lowercase(),
                    meant: slip_of(cut_number(name, true).words, instruments),
                })
                .collect(),
        }
    }

    /// Whether every name is understood.
    pub fn is_empty(&self) -> bool {
        self.names.is_empty()
    }

    /// Whether this is one of the names.
    pub fn has(&self, name: &str) -> bool {
        let name = name.to_lowercase();
        self.names.iter().any(|doubt| doubt.name == name)
    }

    /// Whether one of the names may have been meant for this instrument: a slip of the hand explains it, or so
    /// many names are not understood that nobody knows.
    pub fn may_be(&self, instrument: &Instrument) -> bool {
        self.names.len() > 1 || self.names.iter().any(|doubt| doubt.may_be(instrument))
    }

    /// Whether a slip of the hand makes one of the names of this instrument.
    pub fn is_near(&self, instrument: &Instrument) -> bool {
        self.names.iter().any(|doubt| doubt.may_be(instrument))
    }
}

/// Whether a whole name is one slip from an instrument's: `basss clarinet` is no clarinet of a kind.
pub fn is_slip(name: &str, instruments: &Instruments) -> bool {
    slip_of(name, instruments).is_some()
}

/// The instrument that a whole name was meant for, where a slip explains it.
fn slip_of(name: &str, instruments: &Instruments) -> Option<String> {
    let all = instruments.all().iter();
    let known = all.flat_map(|one| std::iter::once(&one.name).chain(&one.aliases));
    let near = nearly(name, known.map(|name| name.as_ref()), |_| false)?;
    let found = instruments.find(&near.word).exact()?;
    Some(found.name.to_string())
}

/// The ranges on a band's card that nobody could read.
#[derive(Debug, Clone, Default)]
pub struct UnreadRanges {
    doubts: Doubts,
    /// The names before notes that were not understood.
    names: Vec<String>,
}

impl UnreadRanges {
    /// Looks for them on a band's card.
    pub fn of(band: &Ensemble, instruments: &Instruments) -> UnreadRanges {
        let unread = band.unread.iter().filter(|unread| unread.field == "ranges");
        let misread = band.ranges.iter().map(|said| said.value.name.as_str());
        UnreadRanges {
            doubts: Doubts::of(misread, instruments),
            names: unread.map(|unread| words_before_a_note(&unread.words)).collect(),
        }
    }

    /// Whether one of them is for this instrument, or for one whose name is not understood and may be this one.
    pub fn may_be(&self, instrument: &Instrument, instruments: &Instruments) -> bool {
        self.doubts.may_be(instrument)
            || self.names.iter().any(|name| match instruments.find(name) {
                Lookup::Exact(found) => found.name == instrument.name,
                Lookup::Ambiguous(all) => all.iter().any(|found| found.name == instrument.name),
                Lookup::None => true,
            })
    }
}

/// The words of `alto sax D-B5` before the first one with a figure or a line in it, without a part's number.
fn words_before_a_note(words: &str) -> String {
    let name: Vec<&str> = words
        .split_whitespace()
        .take_while(|word| !word.contains(|c: char| c.is_ascii_digit() || c == '-' || c == '–'))
        .collect();
    name.join(" ")
}

/// Whether words are near one of an instrument's names, by a third of their letters and three at most, or one of
/// them is.
fn is_near(written: &str, instrument: &Instrument) -> bool {
    let names = std::iter::once(&instrument.name).chain(&instrument.aliases);
    names.map(|name| key(name)).any(|name| {
        let near = |written: &str| {
            let allowed = (written.chars().count() / 3).clamp(1, 3);
            let apart = written.len().abs_diff(name.len());
            apart <= allowed * 4 && strsim::damerau_levenshtein(written, &name) <= allowed
        };
        // `trumpt in the back` may be trumpets.
        let words = written
            .split(' ')
            .filter(|word| word.chars().count() > 3)
            .map(key);
        // A word that is right as it stands was not the slip.
        near(&key(written)) || words.into_iter().any(|word| word != name && near(&word))
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_name_with_a_slip_may_be_what_it_is_near() {
        let instruments = Instruments::standard();
        let doubts = |names: &[&str]| Doubts::of(names.iter().copied(), instruments);
        let may_be = |names: &[&str], wanted: &str| {
            let found = instruments.find(wanted).exact();
            found.is_some_and(|found| doubts(names).may_be(found))
        };
        for (names, wanted, is) in [
            (&["trumpt"][..], "trumpet", true),
            (&["trumpt"], "flute", false),
            (&["trumpt", "zqxv"], "flute", true),
            (&["tenor sex"], "tenor sax", true),
            (&["timpanni"], "timpani", true),
            (&["trumpt in the back"], "trumpet", true),
            (&["trumpet"], "trumpet", false),
            (&["low reeds"], "bassoon", false),
            (&["clarinet 2"], "clarinet", false),
            (&["basss clarinet"], "bass clarinet", true),
            (&["basss clarinet"], "clarinet", false),
            (&["advanced clarinet"], "clarinet", false),
        ] {
            assert_eq!(may_be(names, wanted), is, "{names:?}: {wanted}");
        }
        assert!(doubts(&["flute", "Cl.", "low brass", "cymbals"]).is_empty());
    }
}
