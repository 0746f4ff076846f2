//! Slips of the hand: which known word was meant, and whether that is certain.

use crate::notation::slips_at_most;

/// A known word that is near what was written.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct Near {
    /// The known word.
    pub word: String,
    /// Whether it is one slip away and no other known word is as near.
    pub certain: bool,
}

/// How many slips lie between two words, capitals aside.
pub(crate) fn slips(one: &str, other: &str) -> usize {
    strsim::damerau_levenshtein(&one.to_lowercase(), &other.to_lowercase())
}

/// The nearest of the known words, where a typo explains the difference.
pub(crate) fn near<'k>(written: &str, known: impl Iterator<Item = &'k str> + Clone) -> Option<Near> {
    let word = crate::notation::nearest(written, known.clone())?;
    let away = slips(written, word);
    let small = written.to_lowercase();
    let as_near = known
        .filter(|other| *other != word && slips_at_most(&small, other, away).is_some())
        .count();
    Some(Near {
        word: word.to_owned(),
        // A word of three letters is one slip away from too much.
        certain: away == 1 && as_near == 0 && written.chars().count() > 3,
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn near_words_are_told_from_certain_ones() {
        let known = ["tempo", "tuba", "tube", "publisher"];
        for (written, word, certain) in [
            ("tepmo", Some("tempo"), true),
            ("publsher", Some("publisher"), true),
            ("pblsher", Some("publisher"), false),
            ("tubs", Some("tuba"), false),
            ("kettle", None, false),
        ] {
            let found = near(written, known.into_iter());
            assert_eq!(found.as_ref().map(|near| near.word.as_str()), word, "{written}");
            assert_eq!(found.is_some_and(|near| near.certain), certain, "{written}");
        }
    }
}
