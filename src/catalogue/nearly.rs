//! Which known name a misspelled one was meant for, whole names against whole names.

use super::names::key;

/// A name that is nearly the written one.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Nearly {
    /// The known name.
    pub word: String,
    /// Whether it is one slip away and no other known name is as near.
    pub certain: bool,
}

/// The known name that one slip of the hand explains, or two in a long name or where the band owns the thing.
///
/// Names of several words must have as many words and differ in one of them alone, and in one of four letters or
/// more: `bass durm` is a bass drum, but a `low drum` is no log drum.
pub fn nearly<'k>(
    written: &str,
    known: impl Iterator<Item = &'k str>,
    is_owned: impl Fn(&str) -> bool,
) -> Option<Nearly> {
    let written = key(written);
    let words: Vec<&str> = written.split(' ').collect();
    let long = written.chars().count() >= 8;
    let mut best: Option<(usize, Vec<&str>)> = None;
    for name in known {
        if is_far(&written, name) {
            continue;
        }
        let folded = key(name);
        let others: Vec<&str> = folded.split(' ').collect();
        let mut differing = words.iter().zip(&others).filter(|(word, other)| word != other);
        let (Some((word, other)), None) = (differing.next(), differing.next()) else {
            continue;
        };
        let alike = words.len() == others.len()
            && word.chars().count().min(other.chars().count()) >= 4
            && word.chars().next() == other.chars().next();
        if !alike {
            continue;
        }
        let slips = strsim::damerau_levenshtein(word, other);
        let allowed = if long || is_owned(name) { 2 } else { 1 };
        // Two slips in a short word are another word, unless the thing stands in the room.
        let short = word.chars().count() < 5 && slips > 1;
        if slips > allowed || short {
            continue;
        }
        match &mut best {
            Some((fewest, names)) if *fewest == slips => names.push(name),
            Some((fewest, _)) if *fewest < slips => {}
            _ => best = Some((slips, vec![name])),
        }
    }
    let (slips, names) = best?;
    let first = names.first()?;
    Some(Nearly {
        word: (*first).to_owned(),
        certain: slips == 1 && names.len() == 1,
    })
}

/// Whether two slips cannot make one plain name of the other, by their lengths.
fn is_far(key: &str, name: &str) -> bool {
    let plain = key.is_ascii() && name.is_ascii() && !name.contains("  ") && name.trim() == name;
    plain && key.len().abs_diff(name.len()) > 2
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::music::Instruments;

    #[test]
    fn whole_names_are_compared() {
        let instruments = Instruments::standard();
        let known = || {
            let all = instruments.all().iter();
            let names = all.flat_map(|one| std::iter::once(&one.name).chain(&one.aliases));
            names.map(|name| name.as_ref())
        };
        for (written, meant) in [
            ("crash cymbels", Some("crash cymbals")),
            ("bass drumm", Some("bass drum")),
            ("bass durm", Some("bass drum")),
            ("snair", Some("snare")),
            ("triangel", Some("triangle")),
            ("suspened cymbal", Some("suspended cymbal")),
            ("low drum", None),
            ("advanced snare", None),
            ("brake drum of a truck", None),
            ("pots", None),
        ] {
            let found = nearly(written, known(), |name| name == "snare");
            assert_eq!(found.as_ref().map(|near| near.word.as_str()), meant, "{written}");
        }
        assert_eq!(nearly("snair", known(), |_| false), None, "nobody owns a snare");
    }
}
