//! A second part that lies higher than the first.

use crate::findings::card::Card;
use crate::findings::finding::{Related, Saying};
use crate::findings::pieces::{levels, place};
use crate::findings::ranges::beyond_what_they_play::BeyondWhatTheyPlay;
use crate::findings::rule::{Notice, Noticed};
use crate::music::{Family, PitchRange};
use crate::notation::row::RowItem;
use crate::rule;
use crate::text::Span;

use super::rows::whole_range;

rule! {
    /// A lower part that goes more than a whole step above the part before it, and no lower down: trumpet 2
    /// above trumpet 1. Horns are compared in pairs, 1 with 2 and 3 with 4, since the third horn is a high part
    /// (common practice, no source).
    ///
    /// # Why it matters
    ///
    /// The first chairs sit on the first part because it lies highest. When the ranges are swapped, the seconds
    /// are judged by notes that they never see.
    ///
    /// # Draws it
    ///
    /// ```levare
    /// piece "Overture for a Small Hall"
    ///   parts
    ///     trumpet 1       Bb3-D5
    ///     trumpet 2       C4-G5
    ///                     ^^^^^
    /// ```
    ///
    /// # Does not
    ///
    /// ```levare
    /// piece "Overture for a Small Hall"
    ///   parts
    ///     trumpet 1       C4-G5
    ///     trumpet 2       Bb3-D5
    ///     clarinet 1      A3-C5
    ///     clarinet 2      G3-D5
    ///     horn 2          G3-Bb4
    ///     horn 3          A3-D5
    /// ```
    ///
    /// # What to do
    ///
    /// Look in the score whether the two ranges changed places.
    SecondPartAboveTheFirst: "second part above the first", Voices, Information, reads Catalogue,
        looks at Parts
}

/// Two parts.
pub struct Above {
    place: String,
    lower: (String, PitchRange),
    upper: (String, PitchRange, Span),
}

impl Notice for SecondPartAboveTheFirst {
    type What = Above;

    fn notice(card: &Card<'_>) -> Vec<Noticed<Above>> {
        let Some(piece) = card.piece() else {
            return Vec::new();
        };
        let mut found = Vec::new();
        for (movement, level) in levels(piece) {
            let rows: Vec<&RowItem> = level.parts.iter().take(200).collect();
            for row in &rows {
                let Some(noticed) = above(card, &rows, row) else {
                    continue;
                };
                let (span, mut what) = noticed;
                what.place = place(movement, "parts");
                found.push(Noticed::new(span, what));
            }
        }
        if found.is_empty() {
            return found;
        }
        // A note that these players do not have is told as that, and once.
        let beyond = BeyondWhatTheyPlay::notice(card);
        found.retain(|above| !beyond.iter().any(|beyond| beyond.span == above.span));
        found
    }

    fn say(what: &Above, _card: &Card<'_>) -> Saying {
        let ((lower, low_range), (upper, high_range, _)) = (&what.lower, &what.upper);
        Saying {
            place: what.place.clone(),
            says: format!("{lower} ({low_range}) lies above {upper} ({high_range})."),
            why: "The strongest sit on the first part, so the ranges have probably changed places."
                .to_owned(),
            todo: "Look in the score which range belongs to which part.".to_owned(),
        }
    }

    fn related(what: &Above, card: &Card<'_>) -> Vec<Related> {
        vec![card.beside(card.entry, what.upper.2, "the range of the part above it")]
    }
}

fn above(card: &Card<'_>, rows: &[&RowItem], row: &RowItem) -> Option<(Span, Above)> {
    let [name] = row.names.as_slice() else { return None };
    let own = whole_range(row)?;
    let instrument = card.instrument(&name.text)?;
    let (number, _) = name.numbers.filter(|(first, last)| first == last && *first > 1)?;
    // The third horn begins a pair of its own.
    if instrument.family == Family::Horns && number % 2 == 1 {
        return None;
    }
    let upper = rows.iter().find_map(|other| {
        let [upper] = other.names.as_slice() else {
            return None;
        };
        let before = upper.numbers == Some((number - 1, number - 1));
        let same = upper.text == name.text && before;
        Some((upper, whole_range(other).filter(|_| same)?))
    });
    let (upper, range) = upper.filter(|(_, range)| range.concert == own.concert)?;
    // Which notes of a range that stands backwards are meant, nobody knows.
    if own.range.is_upside_down() || range.range.is_upside_down() {
        return None;
    }
    let (mine, first) = (own.range, range.range);
    let higher = mine.high.midi().saturating_sub(first.high.midi()) > 2;
    (higher && mine.low.midi() >= first.low.midi()).then(|| {
        let what = Above {
            place: String::new(),
            lower: (name.one_form(), own.range),
            upper: (upper.one_form(), range.range, range.span),
        };
        (own.span, what)
    })
}
