//! A set without its score.

use crate::findings::card::Card;
use crate::findings::finding::Saying;
use crate::findings::rule::{Notice, Noticed};
use crate::music::instruments::split_part;
use crate::notation::row::RowName;
use crate::rule;

rule! {
    /// A set whose copies are counted for every part on the card, with no score among them. A count that is
    /// only begun draws nothing.
    ///
    /// # Why it matters
    ///
    /// Nobody can conduct from the flute part, and festivals want scores for the judges.
    ///
    /// # Draws it
    ///
    /// ```levare
    /// piece "Creek Bridge"
    ///   parts           flute, clarinet 1-2, trumpet, trombone
    ///   library
    ///     copies          8 flute, 6 clarinet 1, 6 clarinet 2, 8 trumpet, 6 trombone
    ///                     ^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^
    /// ```
    ///
    /// # Does not
    ///
    /// ```levare
    /// piece "Creek Bridge"
    ///   parts           flute, clarinet 1-2, trumpet, trombone
    ///   library
    ///     copies          8 flute, 6 clarinet 1, 6 clarinet 2
    /// piece "Long Bridge"
    ///   parts           flute, clarinet, trumpet
    ///   library
    ///     copies          8 flute, 6 clarinet, 8 trumpet, 1 conductor
    /// ```
    ///
    /// # What to do
    ///
    /// Add the score to the count, or order one.
    ScoreMissing: "score missing", Library, Hint, reads Catalogue, looks at Piece
}

/// A set without a score.
pub struct Scoreless;

impl Notice for ScoreMissing {
    type What = Scoreless;

    fn notice(card: &Card<'_>) -> Vec<Noticed<Scoreless>> {
        let Some(piece) = card.piece() else {
            return Vec::new();
        };
        let copies = &piece.library.copies;
        let (Some(first), Some(last)) = (copies.first(), copies.last()) else {
            return Vec::new();
        };
        let said = copies.iter().chain(&piece.library.missing);
        if said.into_iter().any(|said| said.value.is_score()) {
            return Vec::new();
        }
        let names: Vec<&RowName> = piece.parts.iter().flat_map(|row| &row.names).collect();
        let counted = |name: &&RowName| {
            let wanted = card.instrument(&name.text).map(|found| &found.name);
            copies.iter().any(|said| {
                let found = card.instrument(split_part(&said.value.part).0);
                found.map(|found| &found.name) == wanted
            })
        };
        // Three parts are as few as any set for a band has; fewer are a count just begun.
        let complete = names.len() >= 3 && names.iter().all(counted);
        complete
            .then(|| Noticed::new(first.span.cover(last.span), Scoreless))
            .into_iter()
            .collect()
    }

    fn say(_what: &Scoreless, _card: &Card<'_>) -> Saying {
        Saying {
            place: "library".to_owned(),
            says: "Copies of all parts are counted, and no score.".to_owned(),
            why: "Nobody can conduct from a part, and festivals want scores for the judges.".to_owned(),
            todo: "Add the score to the count, or order one.".to_owned(),
        }
    }
}
