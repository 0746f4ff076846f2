//! Whether two pieces are by the same people, as far as their cards say.

use crate::catalogue::names::key;
use crate::notation::values::{Person, Role};

/// How the writers of two pieces stand to each other.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Writers {
    /// At least one of them wrote both.
    Same,
    /// One of the cards does not say who wrote it.
    NotSaid,
    /// Nobody had a hand in both.
    Differ,
}

/// Compares the writers of two pieces. Two settings of one tune by two arrangers are two pieces.
pub(crate) fn compare(one: &[Person], other: &[Person]) -> Writers {
    if one.is_empty() || other.is_empty() {
        return Writers::NotSaid;
    }
    let of = |people: &[Person], composers: bool| -> Vec<String> {
        let people = people
            .iter()
            .filter(|person| (person.role == Role::Composer) == composers);
        people
            .map(|person| key(&person.name))
            .filter(|name| !is_nobody(name))
            .collect()
    };
    let (composers, composers_too) = (of(one, true), of(other, true));
    let (arrangers, arrangers_too) = (of(one, false), of(other, false));
    let both_arranged = !arrangers.is_empty() && !arrangers_too.is_empty();
    let shared = |some: &[String], others: &[String]| {
        some.iter()
            .any(|person| others.iter().any(|other| same(person, other)))
    };
    let same = match both_arranged {
        true => shared(&arrangers, &arrangers_too),
        false => shared(&composers, &composers_too),
    };
    if same { Writers::Same } else { Writers::Differ }
}

/// Words that stand where nobody is known.
fn is_nobody(name: &str) -> bool {
    matches!(
        name.trim_end_matches('.'),
        "trad" | "traditional" | "anon" | "anonymous" | "folk song" | "unknown"
    )
}

/// The first letter of the first name, where there is one, and the last name.
fn cut(name: &str) -> (Option<char>, &str) {
    let mut words = name.split(' ');
    let last = words.next_back().unwrap_or("");
    (words.next().and_then(|word| word.chars().next()), last)
}

/// Whether two names are one person's: the same, or the same last name with fitting first letters, a slip of the pen
/// in it allowed.
fn same(one: &str, other: &str) -> bool {
    if one == other {
        return true;
    }
    let ((first, family), (first_too, family_too)) = (cut(one), cut(other));
    let fits = first.is_none() || first_too.is_none() || first == first_too;
    // A slip of the pen in a long name is still the same person; two short names may be two people.
    let slip = || {
        family.chars().count().min(family_too.chars().count()) >= 6
            && strsim::damerau_levenshtein(family, family_too) == 1
    };
    fits && (family == family_too || slip())
}

/// The family name of the first writer, by which a title is told from another.
pub(super) fn told_by(writers: &[Person]) -> Option<&str> {
    writers.first()?.name.split_whitespace().next_back()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::catalogue::Entry;

    #[test]
    fn writers_are_compared() {
        for (one, other, expected) in [
            ("Dot Hanrahan", "Dot Hanrahan", Writers::Same),
            ("Dot Hanrahan", "D. Hanrahan", Writers::Same),
            ("Dot Hanrahan", "Lew Hanrahan", Writers::Differ),
            ("Dot Hanrahan", "Dot Hanrahn", Writers::Same),
            ("Dot Hale", "Dot Hall", Writers::Differ),
            ("Dot Hanrahan", "", Writers::NotSaid),
            ("Dot Hanrahan and A. Penrose", "A. Penrose", Writers::Same),
            (
                "trad., arr. Nell Farrow",
                "trad., arr. A. Penrose",
                Writers::Differ,
            ),
            ("trad., arr. Nell Farrow", "arr. Nell Farrow", Writers::Same),
            ("Dot Hanrahan", "Dot Hanrahan, arr. A. Penrose", Writers::Same),
            (
                "Dot Hanrahan, arr. N. Farrow",
                "Dot Hanrahan, arr. A. Penrose",
                Writers::Differ,
            ),
        ] {
            let piece =
                |by: &str| Entry::read(crate::text::Shared::from(format!("piece \"A\"\n  by {by}\n")));
            let (first, second) = (piece(one), piece(other));
            let (first, second) = (&first.face.by, &second.face.by);
            assert_eq!(compare(first, second), expected, "{one} / {other}");
            assert_eq!(compare(second, first), expected, "{other} / {one}");
        }
    }
}
