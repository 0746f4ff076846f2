//! A title that two pieces share, and nothing said of which.

use std::sync::Arc;

use crate::catalogue::Entry;
use crate::catalogue::Wants;
use crate::findings::card::Card;
use crate::findings::finding::{Related, Repair, Saying};
use crate::findings::notation::name_without_quotes::is_quote;
use crate::findings::rule::{Notice, Noticed};
use crate::notation::Kind;
use crate::rule;
use crate::text::sentences::joined;
use crate::text::{Edit, Span};

use super::writers::{Writers, compare, told_by};

rule! {
    /// A title on a program or a list that two pieces by two composers share, where the composer is not said.
    ///
    /// # Why it matters
    ///
    /// Both pieces are counted, and the band may find the wrong one in its folders.
    ///
    /// # Draws it
    ///
    /// ```levare
    /// piece "Air"
    ///   by              Tam Lindqvist
    ///
    /// piece "Air"
    ///   by              R. Abara
    ///
    /// list "Thrum Hollow list"
    ///   holds           "Air" grade 1
    ///                    ^^^
    /// ```
    ///
    /// # Does not
    ///
    /// ```levare
    /// piece "Air"
    ///   by              Tam Lindqvist
    ///
    /// piece "Air"
    ///   by              R. Abara
    ///
    /// list "Thrum Hollow list"
    ///   holds           "Air" by Lindqvist grade 1
    /// ```
    ///
    /// # What to do
    ///
    /// Write `by` and the composer's last name after the title.
    WhichPiece: "which piece is meant", Names, Warning, reads Catalogue, looks at Any
}

/// The pieces that share a title.
pub struct Shared {
    field: &'static str,
    title: String,
    pieces: Vec<Arc<Entry>>,
}

impl Shared {
    fn writers(&self) -> Vec<String> {
        let pieces = self.pieces.iter();
        pieces
            .filter_map(|entry| told_by(&entry.face.by).map(str::to_owned))
            .collect()
    }
}

impl Notice for WhichPiece {
    type What = Shared;

    fn notice(card: &Card<'_>) -> Vec<Noticed<Shared>> {
        let uses = card.entry.uses.iter();
        uses.filter(|name| {
            name.wants == Wants::Card(Kind::Piece) && name.by.is_none() && !name.name.is_empty()
        })
        .filter_map(|name| {
            let mut pieces: Vec<Arc<Entry>> = Vec::new();
            for entry in card
                .snapshot
                .meant(name)
                .into_iter()
                .filter_map(|id| card.snapshot.entry(id))
            {
                // Two cards for one piece are another matter.
                let another = pieces
                    .iter()
                    .all(|known| compare(&entry.face.by, &known.face.by) == Writers::Differ);
                if another {
                    pieces.push(Arc::clone(entry));
                }
            }
            (pieces.len() > 1).then(|| {
                let what = Shared {
                    field: name.field,
                    title: name.name.clone(),
                    pieces,
                };
                Noticed::new(name.span, what)
            })
        })
        .collect()
    }

    fn say(what: &Shared, _card: &Card<'_>) -> Saying {
        Saying {
            place: what.field.to_owned(),
            says: format!(
                "{} pieces are called \"{}\": by {}.",
                what.pieces.len(),
                what.title,
                joined(&what.writers())
            ),
            why: "All of them are counted, and the wrong one may be handed out.".to_owned(),
            todo: "Write by and the composer's last name after the title.".to_owned(),
        }
    }

    fn related(what: &Shared, card: &Card<'_>) -> Vec<Related> {
        let pieces = what.pieces.iter();
        pieces
            .map(|entry| card.beside(entry, entry.name_span, "Here is one of them."))
            .collect()
    }

    fn repairs(noticed: &Noticed<Shared>, card: &Card<'_>) -> Vec<Repair> {
        // The words go behind the closing quotation mark.
        let rest = card.text().get(noticed.span.end as usize..).unwrap_or("");
        let quote = rest.char_indices().take(4).find(|(_, c)| is_quote(*c));
        let end = quote.map_or(noticed.span.end, |(at, c)| {
            noticed.span.end + (at + c.len_utf8()) as u32
        });
        let writers = noticed.what.writers();
        writers
            .into_iter()
            .map(|writer| {
                Repair::to_decide(
                    format!("Write by {writer}"),
                    vec![Edit::replace(Span::at(end), format!(" by {writer}"))],
                )
            })
            .collect()
    }
}
