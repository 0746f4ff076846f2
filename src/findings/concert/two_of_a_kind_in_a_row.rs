//! Two pieces in a row that are alike in style, key and tempo.

use std::collections::BTreeSet;

use crate::catalogue::conditions::Subject;
use crate::findings::card::Card;
use crate::findings::finding::Saying;
use crate::findings::rule::{Notice, Noticed};
use crate::music::Tempo;
use crate::rule;

use super::neighbors::{Neighbors, neighbors};

rule! {
    /// Two neighbors of a program, played by the same band, that have the same style, begin in the same key
    /// and go at nearly the same tempo, within 12 beats a minute. How alike is too alike is common practice,
    /// no source.
    ///
    /// # Why it matters
    ///
    /// The second one sounds like more of the first, to the families and to the players.
    ///
    /// # Draws it
    ///
    /// ```levare
    /// piece "Evening Air"
    ///   style           lyrical
    ///   tonal center    Bb major
    ///   tempo           quarter = 72
    ///
    /// piece "Morning Air"
    ///   style           lyrical
    ///   tonal center    Bb major
    ///   tempo           quarter = 76
    ///
    /// concert "Winter evening"
    ///   program
    ///     "Evening Air"
    ///     "Morning Air"
    ///     ^^^^^^^^^^^^^
    /// ```
    ///
    /// # Does not
    ///
    /// Another key, or another tempo, is contrast enough.
    ///
    /// ```levare
    /// piece "Evening Air"
    ///   style           lyrical
    ///   tonal center    Bb major
    ///   tempo           quarter = 72
    ///
    /// piece "Morning Air"
    ///   style           lyrical
    ///   tonal center    F major
    ///   tempo           quarter = 76
    ///
    /// concert "Winter evening"
    ///   program
    ///     "Evening Air"
    ///     "Morning Air"
    /// ```
    ///
    /// # What to do
    ///
    /// Put something else between them.
    TwoOfAKindInARow: "two of a kind in a row", Concert, Hint, reads Catalogue, looks at Concert
}

/// How far apart two tempos are that still seem the same, in beats a minute. Common practice, no source.
const SAME_TEMPO: u16 = 12;

/// Two pieces and what they share.
pub struct Alike {
    first: String,
    second: String,
    shared: String,
}

impl Notice for TwoOfAKindInARow {
    type What = Alike;

    fn notice(card: &Card<'_>) -> Vec<Noticed<Alike>> {
        let Some((_, neighbors)) = neighbors(card) else {
            return Vec::new();
        };
        neighbors
            .into_iter()
            .filter_map(|Neighbors { first, second }| {
                let what = Alike {
                    first: first.0.title.value.name.clone(),
                    second: second.0.title.value.name.clone(),
                    shared: shared(&first.1, &second.1)?,
                };
                Some(Noticed::new(second.0.title.span, what))
            })
            .collect()
    }

    fn say(what: &Alike, _card: &Card<'_>) -> Saying {
        Saying {
            place: "program".to_owned(),
            says: format!(
                "\"{}\" and \"{}\" follow each other and are alike: {}, at nearly the same tempo.",
                what.first, what.second, what.shared
            ),
            why: "The second one sounds like more of the first, to the families and to the players."
                .to_owned(),
            todo: "Put something else between them, or let it stand.".to_owned(),
        }
    }
}

/// `lyrical, in Bb major`, where two pieces surely share style, first key and first tempo.
pub(super) fn shared(one: &Subject<'_>, other: &Subject<'_>) -> Option<String> {
    let styles = styles(one)?;
    if styles != self::styles(other)? {
        return None;
    }
    let (key, other_key) = (one.keys(), other.keys());
    let (key, other_key) = (key.certain.first()?, other_key.certain.first()?);
    let (tempo, other_tempo) = (tempo(one)?, tempo(other)?);
    let near = tempo.0 == other_tempo.0 && tempo.1.abs_diff(other_tempo.1) <= SAME_TEMPO;
    (key == other_key && near).then(|| {
        let styles: Vec<String> = styles.into_iter().collect();
        format!("{}, in {key}", styles.join(", "))
    })
}

/// All certain styles of a piece; none where one of them is not certain.
pub(super) fn styles(subject: &Subject<'_>) -> Option<BTreeSet<String>> {
    let all = &subject.piece.styles;
    let certain = !all.is_empty() && all.iter().all(|said| said.is_certain());
    certain.then(|| all.iter().map(|said| said.value.to_lowercase()).collect())
}

/// The note counted and the figure of the one tempo of a piece; none where it has others.
fn tempo(subject: &Subject<'_>) -> Option<(Option<crate::music::BeatUnit>, u16)> {
    let values = subject.values(|piece| &piece.tempos);
    match (values.certain.as_slice(), values.complete) {
        ([only], true) => match only.tempo.as_ref()? {
            Tempo::Mark { unit, low, high } if low == high => Some((*unit, *low)),
            _ => None,
        },
        _ => None,
    }
}
