//! A concert that is streamed or recorded, with a piece whose license says no.

use std::sync::Arc;

use crate::catalogue::Entry;
use crate::catalogue::model::Concert;
use crate::findings::card::Card;
use crate::findings::finding::{Related, Saying};
use crate::findings::rule::{Notice, Noticed};
use crate::notation::values::{License, Use};
use crate::rule;
use crate::text::Span;

use super::concerts::coming;

rule! {
    /// A piece in a coming concert that is streamed or recorded, by the concert's own line, where the piece's
    /// license says that it may not be, or no longer may on that day; also a license that says that it may not be
    /// performed. A license that says nothing of it draws nothing: what the law and the publisher say then is for
    /// you to ask.
    ///
    /// # Why it matters
    ///
    /// A video that is up cannot be taken back, and the school answers for it.
    ///
    /// # Draws it
    ///
    /// ```levare
    /// piece "Creek Bridge"
    ///   library
    ///     license         may record, no streaming
    ///                                 ^^^^^^^^^^^^
    /// ensemble "Seventh Grade Band"
    /// concert "Winter evening"
    ///   on              2026-12-10
    ///   streamed        yes
    ///   program
    ///     "Creek Bridge"
    /// ```
    ///
    /// # Does not
    ///
    /// ```levare
    /// piece "Creek Bridge"
    ///   library
    ///     license         may record until 2027-06-30, no streaming
    /// ensemble "Seventh Grade Band"
    /// concert "Winter evening"
    ///   on              2026-12-10
    ///   recorded        yes
    ///   streamed        no
    ///   program
    ///     "Creek Bridge"
    /// ```
    ///
    /// # What to do
    ///
    /// Ask the publisher for the permission, leave the piece out of the stream, or play another.
    LicenseDoesNotAllowIt: "license does not allow it", Library, Warning, reads Catalogue, looks at Piece
}

/// What is not allowed, and the concert at which it is to be done.
pub struct NotAllowed {
    done: &'static str,
    ended: bool,
    concert: Arc<Entry>,
    on: Span,
}

impl Notice for LicenseDoesNotAllowIt {
    type What = NotAllowed;

    fn notice(card: &Card<'_>) -> Vec<Noticed<NotAllowed>> {
        let Some(piece) = card.piece() else {
            return Vec::new();
        };
        let said = piece.library.license.iter().filter(|said| said.is_certain());
        let uses = said.filter_map(|said| match said.value {
            License::May { what, allowed, until } => Some((said.span, what, allowed, until)),
            _ => None,
        });
        let concerts = coming(card);
        uses.filter_map(|(span, what, allowed, until)| {
            let over = |concert: &super::concerts::Coming<'_>| {
                until
                    .and_then(|until| until.last())
                    .is_some_and(|until| until < concert.day)
            };
            concerts.iter().find_map(|concert| {
                // A license to perform that ends is told by a rule of its own.
                let ended = allowed && what != Use::Perform && over(concert);
                let done = is_done(what, concert.entry.concert()?)?;
                (!allowed || ended).then(|| {
                    let what = NotAllowed {
                        done,
                        ended,
                        concert: Arc::clone(concert.entry),
                        on: concert.span,
                    };
                    Noticed::new(span, what)
                })
            })
        })
        .collect()
    }

    fn say(what: &NotAllowed, _card: &Card<'_>) -> Saying {
        Saying {
            place: "library".to_owned(),
            says: format!(
                "The license {} the piece to be {}, and \"{}\" is going to be.",
                match what.ended {
                    true => "no longer allows",
                    false => "does not allow",
                },
                what.done,
                what.concert.name
            ),
            why: match what.done {
                "performed" => {
                    "The school answers for a performance that it had no right to give.".to_owned()
                }
                _ => "A video that is up cannot be taken back, and the school answers for it.".to_owned(),
            },
            todo: match what.done {
                "performed" => "Ask the publisher for the permission, or play another piece.".to_owned(),
                done => format!(
                    "Ask the publisher for the permission, see that this piece is not {done}, or play another."
                ),
            },
        }
    }

    fn related(what: &NotAllowed, card: &Card<'_>) -> Vec<Related> {
        vec![card.beside(&what.concert, what.on, "the concert that plays it")]
    }
}

/// Whether a concert does it, in the word for it.
fn is_done(what: Use, concert: &Concert) -> Option<&'static str> {
    let yes = |said: &Option<crate::catalogue::model::Said<bool>>| {
        said.as_ref().is_some_and(|said| said.value && said.is_certain())
    };
    match what {
        Use::Stream => yes(&concert.streamed).then_some("streamed"),
        Use::Record => yes(&concert.recorded).then_some("recorded"),
        Use::Perform => Some("performed"),
        // Nothing of Levare's copies parts.
        Use::Copy => None,
    }
}
