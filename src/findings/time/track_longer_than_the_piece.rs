//! A recorded track that goes on after the piece has ended.

use crate::findings::card::Card;
use crate::findings::finding::{Related, Saying};
use crate::findings::pieces::{levels, place};
use crate::findings::rule::{Notice, Noticed};
use crate::music::Clock;
use crate::notation::values::{Lasts, Track};
use crate::rule;
use crate::text::Span;

rule! {
    /// A recorded track that is more than five seconds longer than the piece lasts (a choice, no source: a track
    /// may ring out).
    ///
    /// # Why it matters
    ///
    /// The band sits there with its instruments down while the loudspeakers play on, or one of the two lengths
    /// is wrong and the click will not fit.
    ///
    /// # Draws it
    ///
    /// ```levare
    /// piece "Oxen Tow"
    ///   lasts           4:00
    ///   track           5:30, click for the conductor
    ///                   ^^^^
    /// ```
    ///
    /// # Does not
    ///
    /// ```levare
    /// piece "Oxen Tow"
    ///   lasts           4:00
    ///   track           4:03, click for the conductor
    /// ```
    ///
    /// # What to do
    ///
    /// Play the track with a clock beside it, and write the length that is right.
    TrackLongerThanThePiece: "track longer than the piece", Time, Warning, reads Card, looks at Piece
}

/// How many seconds a track may ring out.
const RINGS_OUT: u32 = 5;

/// The two lengths.
pub struct Longer {
    place: String,
    track: Clock,
    lasts: Lasts,
    beside: Span,
}

impl Notice for TrackLongerThanThePiece {
    type What = Longer;

    fn notice(card: &Card<'_>) -> Vec<Noticed<Longer>> {
        let Some(piece) = card.piece() else {
            return Vec::new();
        };
        let mut found = Vec::new();
        for (movement, level) in levels(piece) {
            let Some(lasts) = level.lasts.as_ref().filter(|said| said.is_certain()) else {
                continue;
            };
            let track = level.track.iter().filter(|said| said.is_certain());
            let track = track
                .filter_map(|said| match &said.value {
                    Track::Lasts(clock) => Some((said.span, *clock)),
                    _ => None,
                })
                .next();
            if let Some((span, track)) = track
                && track.seconds() > lasts.value.high.seconds().saturating_add(RINGS_OUT)
            {
                let what = Longer {
                    place: place(movement, "track"),
                    track,
                    lasts: lasts.value,
                    beside: lasts.span,
                };
                found.push(Noticed::new(span, what));
            }
        }
        found
    }

    fn say(what: &Longer, _card: &Card<'_>) -> Saying {
        Saying {
            place: what.place.clone(),
            says: format!("The track lasts {}, and the piece {}.", what.track, what.lasts),
            why: "The loudspeakers would play on after the band has ended, or the click does not fit."
                .to_owned(),
            todo: "Play the track with a clock beside it, and write the length that is right.".to_owned(),
        }
    }

    fn related(what: &Longer, card: &Card<'_>) -> Vec<Related> {
        vec![card.beside(card.entry, what.beside, "the length of the piece")]
    }
}
