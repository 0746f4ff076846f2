//! What a percussionist can play, in the words of the roster.

use crate::catalogue::cupboard::meant;
use crate::catalogue::{family_named, instrument_named};
use crate::music::instruments::{key, split_part};
use crate::music::{Family, Instrument, Instruments};

/// Whether a percussionist of whom the roster says `plays` can play an instrument, by its name as written.
/// Nothing said means anything; an instrument nobody has a word for is anybody's.
pub fn can_play(plays: &[String], name: &str, instruments: &Instruments) -> bool {
    let said: Vec<String> = plays
        .iter()
        .map(|words| words.trim().to_lowercase())
        // What a percussionist plays besides is no percussion.
        .filter(|words| !words.starts_with("also ") && !words.starts_with("strong player"))
        .collect();
    let (not, can): (Vec<&str>, Vec<&str>) = said
        .iter()
        .map(String::as_str)
        .partition(|words| without(words).is_some());
    let wanted = wanted(instruments, name);
    let names = |words: &str| {
        let words = words.strip_prefix("strong ").unwrap_or(words);
        let all = ["everything", "anything", "all", "all percussion"].contains(&words);
        all || key(words) == key(name) || wanted.iter().any(|wanted| names(words, wanted, instruments))
    };
    if not.iter().filter_map(|words| without(words)).any(names) {
        return false;
    }
    can.is_empty() || wanted.is_empty() || can.into_iter().any(names)
}

/// Whether the roster calls the player a strong one for this instrument.
pub fn is_strong(plays: &[String], name: &str, instruments: &Instruments) -> bool {
    plays.iter().any(|words| {
        let words = words.trim().to_lowercase();
        match words.strip_prefix("strong") {
            Some("" | " player") => true,
            Some(rest) => can_play(&[rest.trim().to_owned()], name, instruments),
            None => false,
        }
    })
}

fn without(words: &str) -> Option<&str> {
    [
        "not ",
        "no ",
        "never ",
        "everything but ",
        "anything but ",
        "all but ",
    ]
    .iter()
    .find_map(|lead| words.strip_prefix(lead))
    .map(|rest| rest.strip_prefix("the ").unwrap_or(rest))
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
    match words {
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

    fn words(plays: &str) -> Vec<String> {
        let words = plays.split(',').map(|word| word.trim().to_owned());
        words.filter(|word| !word.is_empty()).collect()
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
