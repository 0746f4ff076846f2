//! Two pieces in a row that take the same brass to the top of what they have.

use crate::catalogue::high_brass::all_at_the_top;
use crate::catalogue::model::Ensemble;
use crate::findings::card::Card;
use crate::findings::finding::Saying;
use crate::findings::rule::{Notice, Noticed};
use crate::rule;
use crate::text::sentences;

use super::neighbors::{Neighbors, neighbors};

rule! {
    /// Two neighbors of a program, played by the same band, in which every brass section whose range the
    /// band's card gives, three or more of them, goes to its very top. The figure is from memory.
    ///
    /// # Why it matters
    ///
    /// Young lips tire fastest at the top. After one such piece the notes are gone for a while,
    /// and the second piece is where the audience hears it.
    ///
    /// # Draws it
    ///
    /// ```levare
    /// ensemble "Seventh Grade Band"
    ///   ranges          trumpet Bb3-D5, horn C4-C5, trombone Bb2-D4
    ///
    /// piece "Overture for a Small Hall"
    ///   parts
    ///     trumpet         C4-D5
    ///     horn            D4-C5
    ///     trombone        C3-D4
    ///
    /// piece "Bridgekeeper's March"
    ///   parts
    ///     trumpet         D4-D5
    ///     horn            E4-C5
    ///     trombone        Bb2-D4
    ///
    /// concert "Winter evening"
    ///   for             "Seventh Grade Band"
    ///   program
    ///     "Overture for a Small Hall"
    ///     "Bridgekeeper's March"
    ///     ^^^^^^^^^^^^^^^^^^^^^^
    /// ```
    ///
    /// # Does not
    ///
    /// A good piece takes a section or two to the top; where one of them rests, the brass is not tired out.
    ///
    /// ```levare
    /// ensemble "Seventh Grade Band"
    ///   ranges          trumpet Bb3-D5, horn C4-C5, trombone Bb2-D4
    ///
    /// piece "Overture for a Small Hall"
    ///   parts
    ///     trumpet         C4-D5
    ///     horn            D4-C5
    ///     trombone        C3-D4
    ///
    /// piece "Evening Air"
    ///   parts
    ///     trumpet         C4-D5
    ///     horn            C4-A4
    ///     trombone        C3-D4
    ///
    /// concert "Winter evening"
    ///   for             "Seventh Grade Band"
    ///   program
    ///     "Overture for a Small Hall"
    ///     "Evening Air"
    /// ```
    ///
    /// # What to do
    ///
    /// Put a piece between them that lets the brass rest, or have other players sit on the high part.
    HighBrassTwiceInARow: "high brass twice in a row", Concert, Hint, reads Catalogue, looks at Concert
}

/// Two pieces, and the sections that have high notes in both.
pub struct Tired {
    first: String,
    second: String,
    sections: Vec<String>,
}

impl Notice for HighBrassTwiceInARow {
    type What = Tired;

    fn notice(card: &Card<'_>) -> Vec<Noticed<Tired>> {
        let Some((concert, neighbors)) = neighbors(card) else {
            return Vec::new();
        };
        neighbors
            .into_iter()
            .filter_map(|Neighbors { first, second }| {
                let names = match second.0.bands.is_empty() {
                    true => concert
                        .bands
                        .iter()
                        .map(|band| band.value.name.as_str())
                        .collect(),
                    false => second.0.bands.iter().map(String::as_str).collect(),
                };
                let sections = bands(card, names).into_iter().find_map(|band| {
                    let at_the_top = |subject| all_at_the_top(card.snapshot, subject, band);
                    at_the_top(&first.1).filter(|_| at_the_top(&second.1).is_some())
                })?;
                let what = Tired {
                    first: first.0.title.value.name.clone(),
                    second: second.0.title.value.name.clone(),
                    sections,
                };
                Some(Noticed::new(second.0.title.span, what))
            })
            .collect()
    }

    fn say(what: &Tired, _card: &Card<'_>) -> Saying {
        Saying {
            place: "program".to_owned(),
            says: format!(
                "\"{}\" and \"{}\" follow each other, and both take {} to the top of what they have here.",
                what.first,
                what.second,
                sentences::joined(&what.sections)
            ),
            why: "Young lips tire fastest at the top, and the second piece is where it is heard.".to_owned(),
            todo:
                "Put a piece between them that lets the brass rest, or let other players have the high part."
                    .to_owned(),
        }
    }
}

/// The bands of these names; without any, the bands that pieces are judged for.
fn bands<'s>(card: &Card<'s>, names: Vec<&str>) -> Vec<&'s Ensemble> {
    let ids: Vec<_> = match names.is_empty() {
        true => card.snapshot.usual_bands(),
        false => names
            .into_iter()
            .filter_map(|name| card.snapshot.ensemble_named(name))
            .collect(),
    };
    ids.into_iter()
        .filter_map(|id| card.snapshot.entry(id)?.ensemble())
        .collect()
}
