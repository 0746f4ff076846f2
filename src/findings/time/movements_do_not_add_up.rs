//! Measures of movements that do not make the measures of the piece.

use crate::findings::card::Card;
use crate::findings::finding::{Repair, Saying};
use crate::findings::rule::{Notice, Noticed};
use crate::rule;
use crate::text::Edit;

rule! {
    /// A piece that counts its measures and those of every movement, where the movements add up to another
    /// number.
    ///
    /// # Why it matters
    ///
    /// A count is wrong, and with it the length of a movement or the number over a measure in the parts.
    ///
    /// # Draws it
    ///
    /// ```levare
    /// piece "Two Sketches"
    ///   measures        150
    ///                   ^^^
    ///   movements
    ///     1 "Gulls"
    ///       measures        96
    ///     2 "Fog"
    ///       measures        45
    /// ```
    ///
    /// # Does not
    ///
    /// ```levare
    /// piece "Two Sketches"
    ///   measures        141
    ///   movements
    ///     1 "Gulls"
    ///       measures        96
    ///     2 "Fog"
    ///       measures        45
    /// piece "Three Sketches"
    ///   measures        200
    ///   movements
    ///     1 "Gulls"
    ///       measures        96
    ///     2 "Fog"
    /// ```
    ///
    /// # What to do
    ///
    /// Count again in the score; the piece's own line may simply go.
    MovementsDoNotAddUp: "movements do not add up", Time, Warning, reads Card, looks at Movements
}

/// What the piece says, and its movements together.
pub struct Sum {
    says: u32,
    movements: Vec<u32>,
    together: u32,
}

impl Notice for MovementsDoNotAddUp {
    type What = Sum;

    fn notice(card: &Card<'_>) -> Vec<Noticed<Sum>> {
        let Some(piece) = card.piece().filter(|piece| !piece.movements.is_empty()) else {
            return Vec::new();
        };
        let Some(said) = piece.measures.as_ref().filter(|said| said.is_certain()) else {
            return Vec::new();
        };
        let movements: Option<Vec<u32>> = piece
            .movements
            .iter()
            .map(|movement| {
                let measures = movement.piece.measures.as_ref().filter(|said| said.is_certain());
                measures.map(|said| said.value)
            })
            .collect();
        let Some(movements) = movements else {
            return Vec::new();
        };
        let together = movements.iter().copied().fold(0, u32::saturating_add);
        let what = Sum {
            says: said.value,
            movements,
            together,
        };
        (together != said.value)
            .then(|| Noticed::new(said.span, what))
            .into_iter()
            .collect()
    }

    fn say(what: &Sum, _card: &Card<'_>) -> Saying {
        let counts: Vec<String> = what.movements.iter().map(u32::to_string).collect();
        Saying {
            place: "measures".to_owned(),
            says: format!(
                "The piece counts {} measures, and its movements {}: together {}.",
                what.says,
                crate::text::sentences::joined(&counts),
                what.together
            ),
            why: "One of the counts is wrong, and with it a length or the numbers over the measures."
                .to_owned(),
            todo: "Count again in the score, or take the piece's own line out.".to_owned(),
        }
    }

    fn repairs(noticed: &Noticed<Sum>, _card: &Card<'_>) -> Vec<Repair> {
        let together = noticed.what.together.to_string();
        vec![Repair::to_decide(
            format!("Write {together}"),
            vec![Edit::replace(noticed.span, together)],
        )]
    }
}
