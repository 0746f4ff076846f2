//! What a percussionist can play, in the words of the roster.

use xxhash_rust::xxh3::xxh3_64_with_seed;

use crate::catalogue::cupboard::meant;
use crate::catalogue::model::Plays;
use crate::catalogue::{Answers, Snapshot, family_named, instrument_named};
use crate::music::instruments::{key, split_part};
use crate::music::{Family, Instrument, Instruments};
use crate::notation::names::is_group;

/// Who can play what, each asked of the words of a roster only once.
#[derive(Clone, Copy)]
pub struct Players<'a> {
    /// The instruments of the catalogue.
    pub instruments: &'a Instruments,
    /// What is known already.
    pub known: &'a Answers,
}

impl<'a> Players<'a> {
    /// The players of a catalogue.
    pub fn of(snapshot: &'a Snapshot) -> Players<'a> {
        Players {
            instruments: snapshot.instruments(),
            known: snapshot.who_plays(),
        }
    }

    /// See [`can_play`].
    pub fn can_play(self, can: &Plays, name: &str) -> bool {
        if can.plays.is_empty() && can.not.is_empty() {
            return true;
        }
        let question = digest(1, name, &[&can.plays, &can.not]);
        self.known.to(question, || can_play(can, name, self.instruments))
    }

    /// See [`is_strong`].
    pub fn is_strong(self, can: &Plays, name: &str) -> bool {
        if can.strong || can.strong_on.is_empty() {
            return can.strong;
        }
        let question = digest(2, name, &[&can.strong_on]);
        self.known.to(question, || is_strong(can, name, self.instruments))
    }
}

/// A digest of a name and lists of words; every word and list ends in a byte that no word holds.
fn digest(seed: u64, name: &str, lists: &[&[String]]) -> u64 {
    let mut digest = xxh3_64_with_seed(name.as_bytes(), seed);
    for list in lists {
        for words in *list {
            digest = xxh3_64_with_seed(words.as_bytes(), digest);
        }
        digest = xxh3_64_with_seed(&[0xff], digest);
    }
    digest
}

/// Whether a percussionist can play an instrument, by its name as written. Nothing said means anything; an
/// instrument nobody has a word for is anybody's, and a word that names nothing takes nothing away.
pub fn can_play(can: &Plays, name: &str, instruments: &Instruments) -> bool {
    let wanted = wanted(instruments, name);
    let is_wanted = |words: &str| {
        is_all(words)
            || key(words) == key(name)
            || wanted.iter().any(|wanted| names(words, wanted, instruments))
    };
    if can.not.iter().any(|words| is_wanted(words)) {
        return false;
    }
    let mut said = can
        .plays
        .iter()
        .filter(|words| is_all(words) || says_something(words, instruments))
        .peekable();
    said.peek().is_none() || wanted.is_empty() || said.any(|words| is_wanted(words))
}

/// Whether everything that a player is said to play is understood.
pub fn is_clear(can: &Plays, instruments: &Instruments) -> bool {
    let mut plays = can.plays.iter();
    plays.all(|words| is_all(words) || says_something(words, instruments))
}

fn is_all(words: &str) -> bool {
    ["everything", "anything", "all", "all percussion"]
        .iter()
        .any(|all| words.eq_ignore_ascii_case(all))
}

fn says_something(words: &str, instruments: &Instruments) -> bool {
    is_group(words)
        || family_named(words).is_some()
        || matches!(
            words.to_lowercase().as_str(),
            "cymbals" | "drums" | "battery" | "kit" | "toms"
        )
        || !meant(instruments, words).is_empty()
}

/// Whether the roster calls the player a strong one for this instrument.
pub fn is_strong(can: &Plays, name: &str, instruments: &Instruments) -> bool {
    let wanted = wanted(instruments, name);
    let fits = |words: &String| {
        key(words) == key(name) || wanted.iter().any(|wanted| names(words, wanted, instruments))
    };
    can.strong || can.strong_on.iter().any(fits)
}

/// The instrument of a part's name: `snare 2` and `advanced snare` are a snare.
pub fn instrument_of<'i>(instruments: &'i Instruments, name: &str) -> Option<&'i Instrument> {
    let bare = || instrument_named(instruments, split_part(name).0);
    instrument_named(instruments, name).or_else(bare)
}

/// The instruments that a part's name may stand for.
fn wanted<'i>(instruments: &'i Instruments, name: &str) -> Vec<&'i Instrument> {
    let mut names = [name, split_part(name).0].into_iter();
    let meant = names.find_map(|name| Some(meant(instruments, name)).filter(|found| !found.is_empty()));
    meant.unwrap_or_else(|| instrument_of(instruments, name).into_iter().collect())
}

fn names(words: &str, wanted: &Instrument, instruments: &Instruments) -> bool {
    match words.to_lowercase().as_str() {
        "cymbals" | "cymbal" => return wanted.name.contains("cymbal"),
        "drums" | "battery" => return wanted.family == Family::Battery && !wanted.name.contains("cymbal"),
        "drum set" | "kit" => return matches!(wanted.name.as_ref(), "drum set" | "hi-hat" | "ride cymbal"),
        "toms" => return wanted.name == "tom-toms",
        _ => {}
    }
    let named = meant(instruments, words);
    match named.is_empty() {
        false => named.iter().any(|found| found.name == wanted.name),
        true => match family_named(words) {
            Some(family) => {
                family == wanted.family || (family == Family::Accessories && wanted.family == Family::World)
            }
            None => false,
        },
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// What a roster's row says in these words.
    fn words(plays: &str) -> Plays {
        let text = format!("ensemble \"X\"\n  percussionists\n    P1              {plays}\n");
        let reading = crate::notation::read(&text);
        assert_eq!(reading.unheard, [], "{plays}");
        let rows = reading.fields.first().map_or(&[][..], |field| field.rows());
        rows.first()
            .map(|row| Plays::of(&row.row.facts))
            .unwrap_or_default()
    }

    #[test]
    fn who_can_play_what() {
        let table = [
            ("mallets, timpani", "bells", true),
            ("mallets, timpani", "Timp.", true),
            ("mallets, timpani", "snare", false),
            ("snare, bass drum", "advanced snare", true),
            ("snare", "bass drum", false),
            ("snare", "bass drum 2", false),
            ("snare", "snare 2", true),
            ("cymbals", "crash cymbals", true),
            ("cymbals", "suspended cymbal", true),
            ("accessories", "triangle", true),
            ("accessories", "snare", false),
            ("tom-toms", "tom-toms", true),
            ("drum set", "drum set", true),
            ("snare", "drum set", false),
            ("", "timpani", true),
            ("also flute", "timpani", true),
            ("everything", "timpani", true),
            ("everything but timpani", "timpani", false),
            ("everything but timpani", "snare", true),
            ("not mallets", "bells", false),
            ("strong snare", "snare", true),
            ("strong snare", "bells", false),
            ("snare", "soup pot", true),
        ];
        for (plays, name, can) in table {
            assert_eq!(
                can_play(&words(plays), name, Instruments::standard()),
                can,
                "{plays}: {name}"
            );
        }
    }

    #[test]
    fn who_is_strong() {
        let table = [
            ("strong player, snare", "snare", true),
            ("strong snare", "snare", true),
            ("strong snare", "bells", false),
            ("snare", "snare", false),
        ];
        for (plays, name, is) in table {
            assert_eq!(
                is_strong(&words(plays), name, Instruments::standard()),
                is,
                "{plays}: {name}"
            );
        }
    }
}
