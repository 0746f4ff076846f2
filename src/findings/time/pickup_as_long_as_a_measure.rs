//! A pickup that fills a measure.

use crate::findings::card::Card;
use crate::findings::finding::Saying;
use crate::findings::rule::{Notice, Noticed};
use crate::rule;

rule! {
    /// A pickup as long as the first measure or longer.
    ///
    /// # Why it matters
    ///
    /// Music that fills a measure is counted as measure 1, so every number after it on the card is one too low.
    ///
    /// # Draws it
    ///
    /// ```levare
    /// piece "Bridge Street"
    ///   meter           2/4
    ///   pickup          2 beats
    ///                   ^^^^^^^
    /// ```
    ///
    /// # Does not
    ///
    /// ```levare
    /// piece "Bridge Street"
    ///   meter           6/8
    ///   pickup          3 eighths
    /// ```
    ///
    /// # What to do
    ///
    /// Look at the first bar line: fix the pickup or the meter.
    PickupAsLongAsAMeasure: "pickup as long as a measure", Time, Warning, reads Card, looks at Piece
}

/// The pickup and the meter.
pub struct Pickup {
    place: String,
    words: String,
    meter: String,
}

impl Notice for PickupAsLongAsAMeasure {
    type What = Pickup;

    fn notice(card: &Card<'_>) -> Vec<Noticed<Pickup>> {
        card.courses()
            .iter()
            .filter_map(|course| {
                let said = course.piece.pickup.as_ref().filter(|said| said.is_certain())?;
                let length = course.timeline().pickup?;
                let first = course.meters.at(1).filter(|leg| leg.is_certain())?;
                let meter = &first.stage.said.value;
                (length >= meter.measure()?).then(|| {
                    let what = Pickup {
                        place: course.place("pickup"),
                        words: said.value.to_string(),
                        meter: meter.to_string(),
                    };
                    Noticed::new(said.span, what)
                })
            })
            .collect()
    }

    fn say(what: &Pickup, _card: &Card<'_>) -> Saying {
        Saying {
            place: what.place.clone(),
            says: format!("A pickup of {} fills a whole measure of {}.", what.words, what.meter),
            why: "Music that fills a measure is counted as measure 1, so every number after it would be one too low.".to_owned(),
            todo: "Look at the first bar line: fix the pickup or the meter.".to_owned(),
        }
    }
}
