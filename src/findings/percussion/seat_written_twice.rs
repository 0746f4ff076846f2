//! One seat twice among a band's percussionists.

use crate::findings::card::Card;
use crate::findings::finding::{Related, Saying};
use crate::findings::rule::{Notice, Noticed};
use crate::music::instruments::key;
use crate::rule;
use crate::text::Span;

rule! {
    /// A seat that stands twice among the percussionists of one band.
    ///
    /// # Why it matters
    ///
    /// The two count as two players, and nobody can say which of them a part is for.
    ///
    /// # Draws it
    ///
    /// ```levare
    /// ensemble "Seventh Grade Band"
    ///   percussionists
    ///     P1 P2           snare, bass drum
    ///     P2              mallets
    ///     ^^
    /// ```
    ///
    /// # Does not
    ///
    /// ```levare
    /// ensemble "Seventh Grade Band"
    ///   percussionists
    ///     P1 P2           snare, bass drum
    ///     P3              mallets
    ///     P2 and P3 never together
    /// ```
    ///
    /// # What to do
    ///
    /// Put what both rows say into one, or give one of the two another seat.
    SeatWrittenTwice: "seat written twice", Percussion, Warning, reads Card, looks at Ensemble
}

/// The seat, and where it stands first.
pub struct Twice {
    seat: String,
    first: Span,
}

impl Notice for SeatWrittenTwice {
    type What = Twice;

    fn notice(card: &Card<'_>) -> Vec<Noticed<Twice>> {
        let Some(band) = card.entry.ensemble() else {
            return Vec::new();
        };
        let mut known: std::collections::HashMap<String, Span> = std::collections::HashMap::new();
        let mut found = Vec::new();
        for player in &band.percussionists {
            match known.get(&key(&player.seat)) {
                Some(first) => found.push(Noticed::new(
                    player.span,
                    Twice {
                        seat: player.seat.clone(),
                        first: *first,
                    },
                )),
                None => {
                    known.insert(key(&player.seat), player.span);
                }
            }
        }
        found
    }

    fn say(what: &Twice, _card: &Card<'_>) -> Saying {
        Saying {
            place: "percussionists".to_owned(),
            says: format!("{} is written twice.", what.seat),
            why: "The two count as two players, and nobody can say which of them a part is for.".to_owned(),
            todo: "Put what both rows say into one, or give one of the two another seat.".to_owned(),
        }
    }

    fn related(what: &Twice, card: &Card<'_>) -> Vec<Related> {
        vec![card.beside(card.entry, what.first, "where it stands first")]
    }
}
