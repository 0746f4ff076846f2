//! A section with fewer copies than players.

use crate::catalogue::copies;
use crate::catalogue::model::Piece;
use crate::findings::card::Card;
use crate::findings::finding::{Related, Saying};
use crate::findings::judging::{Judging, for_each_band};
use crate::findings::rule::{Notice, Noticed};
use crate::music::Instrument;
use crate::notation::values::Money;
use crate::rule;
use crate::text::sentences::{agree, counted};

rule! {
    /// An instrument with fewer copies in the set of a piece in a coming program than the band has players on
    /// it. Only where the copies of all its parts are counted; what is not counted is not missing,
    /// two who share a stand by the band's card need one copy, and what the card says is short is known.
    ///
    /// # Why it matters
    ///
    /// Two beginners on one stand see half as well and cannot both take the music home.
    ///
    /// # Draws it
    ///
    /// ```levare
    /// piece "Creek Bridge"
    ///   parts           clarinet 1-2
    ///   library
    ///     copies          1 score, 8 flute, 3 clarinet 1, 3 clarinet 2
    ///                                                     ^^^^^^^^^^^^
    /// ensemble "Seventh Grade Band"
    ///   players         flute 8, clarinet 10
    /// concert "Winter evening"
    ///   on              2026-12-10
    ///   program
    ///     "Creek Bridge"
    /// ```
    ///
    /// # Does not
    ///
    /// ```levare
    /// piece "Creek Bridge"
    ///   parts           clarinet 1-2
    ///   library
    ///     copies          1 score, 8 flute, 6 clarinet 1
    /// ensemble "Seventh Grade Band"
    ///   players         flute 8, clarinet 10, tuba 1
    /// concert "Winter evening"
    ///   on              2026-12-10
    ///   program
    ///     "Creek Bridge"
    /// ```
    ///
    /// `2 other parts` is two of every part that is not named.
    ///
    /// ```levare
    /// piece "Creek Bridge"
    ///   parts           clarinet 1-2, tuba
    ///   library
    ///     copies          1 score, 6 clarinet 1, 2 other parts
    /// ensemble "Seventh Grade Band"
    ///   players         clarinet 8, tuba 2
    /// concert "Winter evening"
    ///   on              2026-12-10
    ///   program
    ///     "Creek Bridge"
    /// ```
    ///
    /// # What to do
    ///
    /// Order the copies that are short, or let players share a stand.
    FewerCopiesThanPlayers: "fewer copies than players", Library, Information, reads Catalogue, looks at Piece
}

/// The copies and the players of a section.
pub struct Few {
    instrument: String,
    copies: u32,
    players: u32,
    band: String,
    bands: usize,
    /// What the copies that are short cost, where the card tells the price of a part.
    costs: Option<String>,
    related: Vec<Related>,
}

impl Notice for FewerCopiesThanPlayers {
    type What = Few;

    fn notice(card: &Card<'_>) -> Vec<Noticed<Few>> {
        let Some(piece) = card.piece().filter(|piece| !piece.library.copies.is_empty()) else {
            return Vec::new();
        };
        let instruments = copies::counted(card.snapshot, piece);
        for_each_band(card, |judging| {
            if !judging.earnest() {
                return Vec::new();
            }
            instruments
                .iter()
                .filter_map(|instrument| few(card, piece, judging, instrument))
                .collect()
        })
    }

    fn say(what: &Few, _card: &Card<'_>) -> Saying {
        Saying {
            place: "library".to_owned(),
            says: format!(
                "There {} {} for {}, and {} {} {} on it.",
                agree(what.copies as usize, "is", "are"),
                counted(what.copies as usize, "copy"),
                what.instrument,
                what.band,
                agree(what.bands, "has", "have"),
                counted(what.players as usize, "player")
            ),
            why: "Two beginners on one stand see half as well and cannot both take the music home."
                .to_owned(),
            todo: match &what.costs {
                Some(costs) => format!(
                    "Order the copies that are short ({costs} at the price on the card), or let players share a stand."
                ),
                None => "Order the copies that are short, or let players share a stand.".to_owned(),
            },
        }
    }

    fn related(what: &Few, _card: &Card<'_>) -> Vec<Related> {
        what.related.clone()
    }
}

/// What so many copies of a part cost; none where the card does not tell for certain.
fn costs(piece: &Piece, copies: u32) -> Option<String> {
    let price = piece
        .library
        .part_price
        .as_ref()
        .filter(|price| price.is_certain())?;
    let times = |cents: u64| cents.checked_mul(u64::from(copies));
    let all = Money {
        cents: times(price.value.cents)?,
        high: times(price.value.high)?,
        ..price.value.clone()
    };
    Some(all.to_string())
}

fn few(
    card: &Card<'_>,
    piece: &Piece,
    judging: &Judging<'_>,
    instrument: &Instrument,
) -> Option<Noticed<Few>> {
    let sections = judging.sections(card);
    let counted = copies::of(card.snapshot, piece, instrument, sections)?;
    let section = sections.named(&instrument.name).next();
    let what = Few {
        instrument: instrument.name.to_string(),
        copies: counted.copies,
        players: counted.players,
        band: judging.name(),
        bands: judging.bands.len(),
        costs: costs(piece, counted.short()),
        related: section
            .map(|section| judging.beside(card, section.band, section.span, "the players of the section"))
            .unwrap_or_default(),
    };
    (counted.short() > 0).then(|| Noticed::judged(counted.span, true, what))
}
