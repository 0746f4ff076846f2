//! A section with fewer copies than players.

use crate::catalogue::model::{Piece, Said};
use crate::catalogue::sections::{desks, same_chair};
use crate::findings::card::Card;
use crate::findings::finding::{Related, Saying};
use crate::findings::judging::{Judging, for_each_band};
use crate::findings::rule::{Notice, Noticed};
use crate::music::Instrument;
use crate::music::instruments::split_part;
use crate::notation::values::{Copies, Money};
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
        let mut instruments: Vec<&Instrument> = Vec::new();
        for said in &piece.library.copies {
            // What the card says is short is known.
            let short = piece.library.short.iter().any(|short| {
                let name = |copies: &Copies| {
                    card.instrument(split_part(&copies.part).0)
                        .map(|found| &found.name)
                };
                name(&short.value).is_some() && name(&short.value) == name(&said.value)
            });
            if short {
                continue;
            }
            if let Some(instrument) = card.instrument(split_part(&said.value.part).0)
                && !instrument.family.is_percussion()
                && !instruments
                    .iter()
                    .any(|known| same_chair(&known.name, &instrument.name))
            {
                instruments.push(instrument);
            }
        }
        // `2 other parts` counts every part that is not counted by itself.
        if others(piece).is_some() {
            for name in card.snapshot.part_names(piece) {
                if let Some(instrument) = card.instrument(&name.text)
                    && !instrument.family.is_percussion()
                    && !instruments
                        .iter()
                        .any(|known| same_chair(&known.name, &instrument.name))
                {
                    instruments.push(instrument);
                }
            }
        }
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

/// How many copies there are of each part that is not counted by itself, where that is said for certain.
fn others(piece: &Piece) -> Option<&Said<Copies>> {
    let mut copies = piece.library.copies.iter();
    copies.find(|said| said.value.is_of_the_others() && said.is_certain())
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
    let of_it: Vec<(&Said<Copies>, Option<u8>)> = piece
        .library
        .copies
        .iter()
        .filter_map(|said| {
            let (name, number) = split_part(&said.value.part);
            let found = card.instrument(name)?;
            same_chair(&found.name, &instrument.name).then_some((said, number))
        })
        .collect();
    let mut copies: u32 = 0;
    for (said, _) in &of_it {
        copies = copies.saturating_add(said.value.count.filter(|_| said.is_certain())?);
    }
    let parts = desks(piece, card.instruments(), &instrument.name, |_| true);
    let covers = |part: u32| {
        of_it
            .iter()
            .any(|(_, number)| number.is_none_or(|number| u32::from(number) == part))
    };
    let uncounted = (1..=parts).filter(|part| !covers(*part)).count() as u32;
    let others = others(piece).filter(|_| uncounted > 0);
    if uncounted > 0 {
        let each = others?.value.count?;
        copies = copies.saturating_add(each.saturating_mul(uncounted));
    }
    let sections = judging.sections(card);
    let (players, stands) = (sections.players(instrument)?, sections.stands(instrument)?);
    let last = others.or(of_it.last().map(|(said, _)| *said))?;
    let section = sections.named(&instrument.name).next();
    let what = Few {
        instrument: instrument.name.to_string(),
        copies,
        players,
        band: judging.name(),
        bands: judging.bands.len(),
        costs: costs(piece, stands.saturating_sub(copies)),
        related: section
            .map(|section| judging.beside(card, section.band, section.span, "the players of the section"))
            .unwrap_or_default(),
    };
    (copies < stands).then(|| Noticed::judged(last.span, true, what))
}
