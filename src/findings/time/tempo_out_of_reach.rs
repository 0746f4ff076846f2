//! A metronome figure that nobody conducts.

use crate::findings::card::Card;
use crate::findings::finding::Saying;
use crate::findings::pieces::{levels, place};
use crate::findings::rule::{Notice, Noticed};
use crate::music::Tempo;
use crate::rule;

rule! {
    /// A metronome figure below 20, or above 240 for a quarter and longer notes (480 for an eighth and shorter
    /// ones). The limits are common practice with room to spare, no source: published tempo words go from 20
    /// (Grave) to 208 (Prestissimo).
    ///
    /// # Why it matters
    ///
    /// A digit too many or too few, and the length on the card is wrong by minutes.
    ///
    /// # Draws it
    ///
    /// ```levare
    /// piece "Bridge Street"
    ///   tempo           quarter = 760
    ///                   ^^^^^^^^^^^^^
    /// ```
    ///
    /// # Does not
    ///
    /// ```levare
    /// piece "Bridge Street"
    ///   tempo           half = 132, eighth = 300 at trio
    ///   form            march, trio
    /// ```
    ///
    /// # What to do
    ///
    /// Look in the score for the figure, and for the note in front of it.
    TempoOutOfReach: "tempo out of reach", Time, Warning, reads Card, looks at Tempos
}

/// A tempo and what is wrong with it.
pub struct Reach {
    place: String,
    tempo: String,
    fast: bool,
}

impl Notice for TempoOutOfReach {
    type What = Reach;

    fn notice(card: &Card<'_>) -> Vec<Noticed<Reach>> {
        let Some(piece) = card.piece() else {
            return Vec::new();
        };
        let mut found = Vec::new();
        for (movement, level) in levels(piece) {
            for stage in level.tempos.iter().filter(|stage| !stage.said.open) {
                let Some(tempo @ Tempo::Mark { high, .. }) = &stage.said.value.tempo else {
                    continue;
                };
                if tempo.is_out_of_reach() {
                    let what = Reach {
                        place: place(movement, "tempo"),
                        tempo: tempo.to_string(),
                        fast: *high > 100,
                    };
                    found.push(Noticed::new(stage.said.span, what));
                }
            }
        }
        found
    }

    fn say(what: &Reach, _card: &Card<'_>) -> Saying {
        let pace = if what.fast { "faster" } else { "slower" };
        Saying {
            place: what.place.clone(),
            says: format!("{} is {pace} than anybody conducts.", what.tempo),
            why: "A digit too many or too few makes the length wrong by minutes.".to_owned(),
            todo: "Look in the score for the figure, and for the note in front of it.".to_owned(),
        }
    }
}
