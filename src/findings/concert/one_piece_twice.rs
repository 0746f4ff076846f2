//! A program that lists a piece twice.

use crate::catalogue::model::ProgramPiece;
use crate::catalogue::names::key;
use crate::findings::card::Card;
use crate::findings::finding::{Related, Saying};
use crate::findings::rule::{Notice, Noticed};
use crate::rule;
use crate::text::Span;

rule! {
    /// A program in which one band plays a piece twice. Movements of a suite may be listed apart, and two bands
    /// may play one piece.
    ///
    /// # Why it matters
    ///
    /// The evening is figured too long, and another piece was likely meant.
    ///
    /// # Draws it
    ///
    /// ```levare
    /// piece "Creek Bridge"
    /// ensemble "Seventh Grade Band"
    /// concert "Winter evening"
    ///   program
    ///     "Creek Bridge"
    ///     "Creek Bridge"
    ///     ^^^^^^^^^^^^^^
    /// ```
    ///
    /// # Does not
    ///
    /// ```levare
    /// piece "Four Doors"
    ///   movements
    ///     1 The Brass Door
    ///     2 The Glass Door
    /// ensemble "Seventh Grade Band"
    /// concert "Winter evening"
    ///   program
    ///     "Four Doors", movement 1
    ///     "Four Doors", movement 2
    /// ```
    ///
    /// # What to do
    ///
    /// Write the piece that is meant, or take one of the two out.
    OnePieceTwice: "one piece twice", Concert, Information, reads Card, looks at Concert
}

/// The piece and where it stands before.
pub struct Twice {
    title: String,
    before: Span,
}

impl Notice for OnePieceTwice {
    type What = Twice;

    fn notice(card: &Card<'_>) -> Vec<Noticed<Twice>> {
        let Some(concert) = card.entry.concert() else {
            return Vec::new();
        };
        let mut found = Vec::new();
        let program: Vec<&ProgramPiece> = concert.program.iter().take(200).collect();
        for (at, listed) in program.iter().enumerate() {
            let before = program.iter().take(at).find(|before| same(before, listed));
            if let Some(before) = before {
                let what = Twice {
                    title: listed.title.value.name.clone(),
                    before: before.title.span,
                };
                found.push(Noticed::new(listed.title.span, what));
            }
        }
        found
    }

    fn say(what: &Twice, _card: &Card<'_>) -> Saying {
        Saying {
            place: "program".to_owned(),
            says: format!("\"{}\" is on the program twice.", what.title),
            why: "The evening is figured too long, and another piece was likely meant.".to_owned(),
            todo: "Write the piece that is meant, or take one of the two out.".to_owned(),
        }
    }

    fn related(what: &Twice, card: &Card<'_>) -> Vec<Related> {
        vec![card.beside(card.entry, what.before, "the same piece before it")]
    }
}

fn same(one: &ProgramPiece, other: &ProgramPiece) -> bool {
    let by = |listed: &ProgramPiece| listed.title.value.by.as_deref().map(key);
    let all = one.movements.is_empty() || other.movements.is_empty();
    let shared = all
        || one
            .movements
            .iter()
            .any(|number| other.movements.contains(number));
    // What the concert's own bands play has no band beside it.
    let bands = one.bands.is_empty() && other.bands.is_empty()
        || one.bands.iter().any(|band| other.bands.contains(band));
    key(&one.title.value.name) == key(&other.title.value.name) && by(one) == by(other) && shared && bands
}
