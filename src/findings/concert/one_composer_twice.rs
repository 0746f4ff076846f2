//! Two pieces by one composer on a festival program.

use crate::catalogue::conditions::{Condition, Term, of_field};
use crate::findings::card::Card;
use crate::findings::finding::Saying;
use crate::findings::names::writers::{Writers, compare};
use crate::findings::rule::{Notice, Noticed};
use crate::rule;

use super::neighbors::coming;

rule! {
    /// A program that goes by the criteria or the list of a festival (`calls for`) with two pieces by the same
    /// composer or, of arranged tunes, by the same arranger. A whole program by one person was meant so. (That
    /// festivals look for different composers: common practice, no source.)
    ///
    /// # Why it matters
    ///
    /// Many festivals ask for different composers, and pieces by one person tend to sound alike.
    ///
    /// # Draws it
    ///
    /// ```levare
    /// piece "Harbor Parade"
    ///   by              Odile Marchetti
    ///   style           march
    ///   key signature   1 flat
    /// piece "Lanterns on the Weir"
    ///   by              Odile Marchetti
    ///   style           lyrical
    ///   key signature   1 flat
    /// piece "Drum Hill"
    ///   by              Corwin Hale
    ///   key signature   1 flat
    /// criteria "County festival"
    ///   calls for       up to 3 flats
    /// concert "Festival"
    ///   calls for       "County festival"
    ///   program
    ///     "Drum Hill"
    ///     "Harbor Parade"
    ///     "Lanterns on the Weir"
    ///     ^^^^^^^^^^^^^^^^^^^^^^
    /// ```
    ///
    /// # Does not
    ///
    /// ```levare
    /// piece "Two Folk Songs"
    ///   by              trad., arr. Nell Farrow
    ///   style           song
    ///   key signature   1 flat
    /// piece "Harbor Parade"
    ///   by              Odile Marchetti
    ///   style           march
    ///   key signature   1 flat
    /// piece "Lanterns on the Weir"
    ///   by              Odile Marchetti
    ///   style           lyrical
    ///   key signature   1 flat
    /// piece "Drum Hill"
    ///   by              trad., arr. Corwin Hale
    ///   style           song
    ///   key signature   1 flat
    /// criteria "County festival"
    ///   calls for       up to 3 flats
    /// concert "Festival"
    ///   calls for       "County festival"
    ///   program
    ///     "Two Folk Songs"
    ///     "Drum Hill"
    ///     "Lanterns on the Weir"
    /// concert "Winter evening"
    ///   calls for       a lyrical piece or a march or a song
    ///   program
    ///     "Harbor Parade"
    ///     "Two Folk Songs"
    ///     "Lanterns on the Weir"
    /// ```
    ///
    /// # What to do
    ///
    /// Read the festival's rules, and choose another piece where they ask for it.
    OneComposerTwice: "one composer twice", Concert, Hint, reads Catalogue, looks at Concert
}

/// The two titles.
pub struct Twice {
    first: String,
    second: String,
}

impl Notice for OneComposerTwice {
    type What = Twice;

    fn notice(card: &Card<'_>) -> Vec<Noticed<Twice>> {
        let Some((concert, rows)) = coming(card) else {
            return Vec::new();
        };
        // A festival has criteria or a list of its own; other wishes are the director's.
        let named = |condition: &Condition| matches!(condition.term, Term::Named(_));
        if !of_field(card.snapshot, card.text(), &concert.calls_for)
            .iter()
            .any(named)
        {
            return Vec::new();
        }
        let known: Vec<_> = rows
            .iter()
            .filter_map(|(listed, subject)| Some((listed, (*subject)?)))
            .collect();
        let before = |at: usize| {
            let (listed, piece) = known.get(at)?;
            let (other, _) = known.iter().take(at).find(|(_, other)| {
                other.id != piece.id && compare(&other.piece.by, &piece.piece.by) == Writers::Same
            })?;
            Some((listed, other))
        };
        let pairs: Vec<_> = (0..known.len()).filter_map(before).collect();
        if pairs.len().saturating_add(1) >= rows.len() {
            return Vec::new();
        }
        pairs
            .into_iter()
            .map(|(listed, other)| {
                let what = Twice {
                    first: other.title.value.name.clone(),
                    second: listed.title.value.name.clone(),
                };
                Noticed::new(listed.title.span, what)
            })
            .collect()
    }

    fn say(what: &Twice, _card: &Card<'_>) -> Saying {
        Saying {
            place: "program".to_owned(),
            says: format!(
                "\"{}\" is by the same composer as \"{}\".",
                what.second, what.first
            ),
            why: "Many festivals ask for different composers, and pieces by one person tend to sound alike."
                .to_owned(),
            todo: "Read the festival's rules, and choose another piece where they ask for it.".to_owned(),
        }
    }
}
