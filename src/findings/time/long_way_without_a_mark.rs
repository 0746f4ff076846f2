//! Many measures with no rehearsal mark.

use crate::findings::card::Card;
use crate::findings::finding::Saying;
use crate::findings::judging::for_each_band;
use crate::findings::pieces::{levels, place};
use crate::findings::rule::{Notice, Noticed};
use crate::rule;

rule! {
    /// More than 32 measures in a row with no rehearsal mark (a choice, no source), in a piece that a concert to
    /// come lists and whose card has at least three letters or numbers for marks.
    ///
    /// # Why it matters
    ///
    /// "Eleven before C" costs a minute every time, and half the band counts wrong. Either a mark was left out
    /// on the card, or it is worth having everybody write one in.
    ///
    /// # Draws it
    ///
    /// ```levare
    /// ensemble "Seventh Grade Band"
    ///   percussionists  6
    ///
    /// piece "Bridge Street"
    ///   measures        96
    ///   rehearsal marks A 9, B 25, C 73
    ///                        ^^^^
    /// concert "Winter evening"
    ///   program
    ///     "Bridge Street"
    /// ```
    ///
    /// # Does not
    ///
    /// ```levare
    /// ensemble "Seventh Grade Band"
    ///   percussionists  6
    ///
    /// piece "Bridge Street"
    ///   measures        96
    ///   rehearsal marks A 9, B 33, C 65
    /// piece "On the Shelf"
    ///   measures        96
    ///   rehearsal marks A 9, B 25, C 73
    /// concert "Winter evening"
    ///   program
    ///     "Bridge Street"
    /// ```
    ///
    /// # What to do
    ///
    /// Look in the score whether a mark is missing on the card; if not, give out the measure and have everybody
    /// pencil one in.
    LongWayWithoutAMark: "long way without a mark", Time, Hint, reads Catalogue, looks at Piece
}

/// The most measures from one mark to the next.
const LONG: u32 = 32;

/// The way.
pub struct Way {
    place: String,
    from: String,
    first: u32,
    last: u32,
}

impl Notice for LongWayWithoutAMark {
    type What = Way;

    fn notice(card: &Card<'_>) -> Vec<Noticed<Way>> {
        let Some(piece) = card.piece() else {
            return Vec::new();
        };
        for_each_band(card, |judging| {
            let mut found = Vec::new();
            if !judging.earnest() {
                return found;
            }
            for (movement, level) in levels(piece) {
                let total = level.measures.as_ref().filter(|said| said.is_certain());
                let Some(total) = total.map(|said| said.value) else {
                    continue;
                };
                let mut marks: Vec<_> = level.marks.iter().filter(|mark| mark.is_certain()).collect();
                marks.sort_by_key(|mark| mark.value.measure);
                let plain = marks.iter().all(|mark| mark.value.name.chars().count() <= 3);
                let past = marks.iter().any(|mark| mark.value.measure > total);
                let unread = level.is_unread("rehearsal marks");
                if marks.len() < 3
                    || !plain
                    || past
                    || unread
                    || movement.is_some_and(|number| !judging.plays(number))
                {
                    continue;
                }
                let ends = marks.iter().skip(1).map(|mark| mark.value.measure);
                let ends = ends.chain(std::iter::once(total.saturating_add(1)));
                let widest = marks
                    .iter()
                    .zip(ends)
                    .max_by_key(|(mark, end)| end.saturating_sub(mark.value.measure));
                if let Some((mark, end)) = widest
                    && end.saturating_sub(mark.value.measure) > LONG
                {
                    let what = Way {
                        place: place(movement, "rehearsal marks"),
                        from: mark.value.name.clone(),
                        first: mark.value.measure,
                        last: end.saturating_sub(1),
                    };
                    found.push(Noticed::new(mark.span, what));
                }
            }
            found
        })
    }

    fn say(what: &Way, _card: &Card<'_>) -> Saying {
        Saying {
            place: what.place.clone(),
            says: format!(
                "After {} there is no mark for {} measures, {}-{}.",
                what.from,
                what.last.saturating_sub(what.first).saturating_add(1),
                what.first,
                what.last
            ),
            why: "Counting back from a mark far away costs a minute every time you stop there.".to_owned(),
            todo:
                "Look in the score whether the card leaves a mark out; if not, have everybody pencil one in."
                    .to_owned(),
        }
    }
}
