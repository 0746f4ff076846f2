//! Three pieces in a row in one key.

use crate::catalogue::conditions::Subject;
use crate::findings::card::Card;
use crate::findings::finding::Saying;
use crate::findings::rule::{Notice, Noticed};
use crate::rule;
use crate::text::sentences::joined;

use super::all_in_one_key::know_another;
use super::neighbors::{coming, threes};

rule! {
    /// Three pieces of a program in a row that are in one key from beginning to end, where the band was taught
    /// another. A whole program in one key is another finding. (Three: common practice, no source.)
    ///
    /// # Why it matters
    ///
    /// The ear tires of one key before it tires of anything else, and the intonation of that key with it.
    ///
    /// # Draws it
    ///
    /// ```levare
    /// ensemble "Seventh Grade Band"
    ///   keys            Bb major, Eb major
    /// piece "One"
    ///   tonal center    Bb major
    /// piece "Two"
    ///   tonal center    Bb major
    /// piece "Three"
    ///   tonal center    Bb major
    /// piece "Four"
    ///   tonal center    Eb major
    /// concert "Winter evening"
    ///   for             "Seventh Grade Band"
    ///   program
    ///     "One"
    ///     "Two"
    ///     "Three"
    ///     ^^^^^^^
    ///     "Four"
    /// ```
    ///
    /// # Does not
    ///
    /// ```levare
    /// ensemble "Seventh Grade Band"
    ///   keys            Bb major, Eb major
    /// piece "One"
    ///   tonal center    Bb major
    /// piece "Two"
    ///   tonal center    Bb major, Eb major at 33
    /// piece "Three"
    ///   tonal center    Bb major
    /// concert "Winter evening"
    ///   for             "Seventh Grade Band"
    ///   program
    ///     "One"
    ///     "Two"
    ///     "Three"
    /// ```
    ///
    /// # What to do
    ///
    /// Put a piece in another key between them.
    OneKeyThreeInARow: "one key three in a row", Concert, Hint, reads Catalogue, looks at Concert
}

/// The three titles and their key.
pub struct OneKey {
    titles: Vec<String>,
    key: String,
}

impl Notice for OneKeyThreeInARow {
    type What = OneKey;

    fn notice(card: &Card<'_>) -> Vec<Noticed<OneKey>> {
        let Some((concert, rows)) = coming(card) else {
            return Vec::new();
        };
        let whole = |key: &str| {
            let mut all = rows
                .iter()
                .map(|(_, subject)| subject.as_ref().and_then(only_key));
            all.all(|found| found.as_deref() == Some(key))
        };
        let mut told: Option<usize> = None;
        let mut found = Vec::new();
        for (at, three) in threes(&rows) {
            let Some(key) = only_key(&three[0].1) else {
                continue;
            };
            let same = three
                .iter()
                .all(|(_, subject)| only_key(subject).as_ref() == Some(&key));
            if !same || whole(&key) || !know_another(card, concert, &key) {
                continue;
            }
            if told.is_none_or(|before| before + 1 < at) {
                let titles = three
                    .iter()
                    .map(|(listed, _)| format!("\"{}\"", listed.title.value.name));
                let what = OneKey {
                    titles: titles.collect(),
                    key,
                };
                found.push(Noticed::new(three[2].0.title.span, what));
            }
            told = Some(at);
        }
        found
    }

    fn say(what: &OneKey, _card: &Card<'_>) -> Saying {
        Saying {
            place: "program".to_owned(),
            says: format!(
                "{} follow each other, all in {} from beginning to end.",
                joined(&what.titles),
                what.key
            ),
            why: "The ear tires of one key first, and the band was taught another one.".to_owned(),
            todo: "Put a piece in another key between them.".to_owned(),
        }
    }
}

/// The key of a piece that has surely no other.
fn only_key(subject: &Subject<'_>) -> Option<String> {
    let values = subject.values(|piece| &piece.centers);
    match (values.certain.as_slice(), values.complete) {
        ([first, rest @ ..], true) if rest.iter().all(|other| other == first) => Some(first.to_string()),
        _ => None,
    }
}
