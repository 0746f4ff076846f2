//! Two entrances of one row that overlap.

use crate::catalogue::model::Piece;
use crate::findings::card::Card;
use crate::findings::finding::{Related, Repair, Saying};
use crate::findings::mend;
use crate::findings::pieces::{levels, place};
use crate::findings::rule::{Notice, Noticed};
use crate::notation::row::{Fact, RowItem};
use crate::notation::values::Stretch;
use crate::rule;
use crate::text::{Edit, Span};

rule! {
    /// Two entrances in one row of which the second begins before the first has ended.
    ///
    /// # Why it matters
    ///
    /// A player cannot come in while still playing. One of the numbers slipped, and whoever needs this player
    /// elsewhere is promised a rest that is not there.
    ///
    /// # Draws it
    ///
    /// ```levare
    /// piece "Quarry Dances"
    ///   measures        72
    ///   percussion
    ///     snare           1-32, 28-40
    ///                           ^^^^^
    /// ```
    ///
    /// # Does not
    ///
    /// ```levare
    /// piece "Quarry Dances"
    ///   measures        72
    ///   percussion
    ///     snare           1-32, 33-40, 60
    /// ```
    ///
    /// # What to do
    ///
    /// Look in the score for both entrances; write them as one if the player does not stop between.
    EntrancesOverlap: "entrances overlap", Percussion, Warning, reads Card, looks at Percussion
}

/// Two entrances.
pub struct Overlap {
    place: String,
    first: (Stretch, Span),
    second: Stretch,
}

impl Notice for EntrancesOverlap {
    type What = Overlap;

    fn notice(card: &Card<'_>) -> Vec<Noticed<Overlap>> {
        let Some(piece) = card.piece() else {
            return Vec::new();
        };
        let mut found = Vec::new();
        for (movement, level) in levels(piece) {
            for (rows, of) in [(&level.percussion, "percussion"), (&level.parts, "parts")] {
                for row in rows {
                    let name = row.names.first().map(|name| name.one_form()).unwrap_or_default();
                    for (span, first, second) in overlaps(row, level) {
                        let what = Overlap {
                            place: place(movement, &format!("{of}, {name}")),
                            first,
                            second,
                        };
                        found.push(Noticed::new(span, what));
                    }
                }
            }
        }
        found
    }

    fn say(what: &Overlap, _card: &Card<'_>) -> Saying {
        let (first, second) = (what.first.0, what.second);
        Saying {
            place: what.place.clone(),
            says: format!("The entrance {second} begins before the one at {first} has ended."),
            why: "Nobody comes in while still playing, and rests that the card seems to give are not there."
                .to_owned(),
            todo:
                "Look in the score for both entrances; write them as one if the player does not stop between."
                    .to_owned(),
        }
    }

    fn related(what: &Overlap, card: &Card<'_>) -> Vec<Related> {
        vec![card.beside(card.entry, what.first.1, "the entrance before it")]
    }

    fn repairs(noticed: &Noticed<Overlap>, card: &Card<'_>) -> Vec<Repair> {
        let what = &noticed.what;
        let (first, span) = what.first;
        let both = Stretch {
            first: first.first.min(what.second.first),
            last: first.last.max(what.second.last),
        };
        vec![Repair::to_decide(
            format!("Write one entrance, {both}"),
            vec![
                Edit::replace(span, both.to_string()),
                mend::take_fact_out(card.text(), noticed.span),
            ],
        )]
    }
}

/// The entrances of a row that begin inside one written before them.
fn overlaps(row: &RowItem, piece: &Piece) -> Vec<(Span, (Stretch, Span), Stretch)> {
    let plays: Vec<(Stretch, Span)> = row
        .facts
        .iter()
        .filter(|fact| fact.is_certain())
        .filter_map(|fact| match &fact.what {
            Fact::Plays(place, _) => Some((place.measures()?, fact.span)),
            _ => None,
        })
        // Which of the figures slipped is told by the rule about the end.
        .filter(|(stretch, _)| !piece.is_past_the_end(stretch.first.max(stretch.last)))
        .take(200)
        .collect();
    let mut found = Vec::new();
    for (at, (second, span)) in plays.iter().enumerate() {
        let first = plays
            .iter()
            .take(at)
            .find(|(first, _)| first.first <= second.last && second.first <= first.last);
        found.extend(first.map(|first| (*span, *first, *second)));
    }
    found
}
