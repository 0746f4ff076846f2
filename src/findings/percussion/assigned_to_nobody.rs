//! A player or a part in an assignment that is not there.

use crate::catalogue::EntryId;
use crate::catalogue::model::{Ensemble, Piece, Said};
use crate::catalogue::names::key as title_key;
use crate::findings::card::Card;
use crate::findings::finding::Saying;
use crate::findings::rule::{Notice, Noticed};
use crate::music::instruments::{key, split_part};
use crate::notation::names::is_group;
use crate::notation::values::Pin;
use crate::rule;
use crate::text::sentences::{joined, the};

rule! {
    /// A word about who plays what that names a seat which is not among the band's percussionists, or a part that
    /// the piece does not have.
    ///
    /// # Why it matters
    ///
    /// It counts for nothing: the part goes to whoever is free, and you believe it is settled.
    ///
    /// # Draws it
    ///
    /// ```levare
    /// ensemble "Seventh Grade Band"
    ///   percussionists
    ///     P1 P2 P3        anything
    ///   assigned        P7 on timpani
    ///                   ^^^^^^^^^^^^^
    /// ```
    ///
    /// ```levare
    /// ensemble "Seventh Grade Band"
    ///   percussionists
    ///     P1 P2 P3        anything
    ///
    /// piece "Hayloft Dance"
    ///   percussion
    ///     snare           1-32
    ///   assigned        P3 on bass drum
    ///                   ^^^^^^^^^^^^^^^
    /// ```
    ///
    /// # Does not
    ///
    /// On a band's card or in the handbook the part may be in some pieces only.
    ///
    /// ```levare
    /// ensemble "Seventh Grade Band"
    ///   percussionists
    ///     P1 P2 P3        anything
    ///   assigned        P3 on timpani
    ///
    /// piece "Hayloft Dance"
    ///   percussion
    ///     snare           1-32, for P2
    /// ```
    ///
    /// # What to do
    ///
    /// Write the seat as the band's card has it, or the part as the piece's.
    AssignedToNobody: "assigned to nobody", Percussion, Warning, reads Catalogue, looks at Any
}

/// What is not there.
pub enum Missing {
    /// A seat, the band, and the seats that it has.
    Seat(String, String, Vec<String>),
    /// A part, and the piece.
    Part(String, String),
}

impl Notice for AssignedToNobody {
    type What = Missing;

    fn notice(card: &Card<'_>) -> Vec<Noticed<Missing>> {
        let mut found = Vec::new();
        for Decision { pin, bands, piece } in decisions(card) {
            if !pin.is_certain() {
                continue;
            }
            found.extend(missing_seat(&pin.value, &bands).map(|what| Noticed::new(pin.span, what)));
            if let Some((title, piece)) = piece {
                let part = missing_part(card, &pin.value, piece);
                found.extend(part.map(|part| Noticed::new(pin.span, Missing::Part(part, title.to_owned()))));
            }
        }
        found
    }

    fn say(what: &Missing, _card: &Card<'_>) -> Saying {
        let (says, todo) = match what {
            Missing::Seat(seat, band, there) if there.is_empty() => (
                format!(
                    "{seat} is given something to play, and {} only counts its percussionists.",
                    the(band)
                ),
                format!("Write the seats on the card of {}, such as P1 to P6.", the(band)),
            ),
            Missing::Seat(seat, band, there) => (
                format!(
                    "{} has no percussionist {seat}; there is {}.",
                    the(band),
                    joined(there)
                ),
                "Write the seat as the band's card has it.".to_owned(),
            ),
            Missing::Part(part, title) => (
                format!("\"{title}\" has no percussion part {part}."),
                "Write the part as the piece's card has it, or add its row.".to_owned(),
            ),
        };
        Saying {
            place: String::new(),
            says: crate::text::sentences::capital(&says),
            why: "It counts for nothing: the part goes to whoever is free, and you believe it is settled."
                .to_owned(),
            todo,
        }
    }
}

type Bands<'c> = Vec<(&'c str, &'c Ensemble)>;

/// What a card decides, for which bands, and in which piece where it is about the parts of one.
struct Decision<'c> {
    pin: Said<Pin>,
    bands: Bands<'c>,
    piece: Option<(&'c str, &'c Piece)>,
}

fn decisions<'c>(card: &Card<'c>) -> Vec<Decision<'c>> {
    let snapshot = card.snapshot;
    let bands = |ids: &[EntryId]| -> Bands<'c> {
        ids.iter()
            .filter_map(|id| {
                let entry = snapshot.entry(*id)?;
                Some((entry.name.as_str(), entry.ensemble()?))
            })
            .collect()
    };
    let entry = card.entry;
    let mut found = Vec::new();
    let mut add = |pins: &[Said<Pin>], bands: &Bands<'c>, piece: Option<(&'c str, &'c Piece)>| {
        found.extend(pins.iter().map(|pin| Decision {
            pin: pin.clone(),
            bands: bands.clone(),
            piece,
        }));
    };
    if let Some(piece) = card.piece() {
        let judges: Bands<'c> = match snapshot.listings_of(card.id).first() {
            Some(listing) if !listing.bands.is_empty() => bands(&listing.bands),
            _ => bands(&snapshot.bands_of(card.id)),
        };
        add(&piece.assigned, &judges, Some((entry.name.as_str(), piece)));
        for part in card.rows_of_percussion().iter().flat_map(|course| &course.parts) {
            add(&part.assigned, &judges, None);
        }
    }
    if let Some(concert) = entry.concert() {
        let named = |names: &mut dyn Iterator<Item = &str>| -> Vec<EntryId> {
            names.filter_map(|name| snapshot.ensemble_named(name)).collect()
        };
        let mut all = named(&mut concert.bands.iter().map(|band| band.value.name.as_str()));
        if all.is_empty() {
            all = snapshot.usual_bands();
        }
        add(&concert.assigned, &bands(&all), None);
        for row in concert.program.iter().filter(|row| !row.assigned.is_empty()) {
            let own = named(&mut row.bands.iter().map(String::as_str));
            let who = if own.is_empty() { &all } else { &own };
            let titled = snapshot.pieces_titled(&row.title.value.name, row.title.value.by.as_deref());
            let piece = titled.first().and_then(|id| snapshot.entry(*id));
            let piece = piece.and_then(|entry| Some((entry.name.as_str(), entry.piece()?)));
            let piece = piece.filter(|(name, _)| title_key(name) == title_key(&row.title.value.name));
            add(&row.assigned, &bands(who), piece);
        }
    }
    if let Some(band) = entry.ensemble() {
        add(&band.assigned, &vec![(entry.name.as_str(), band)], None);
    }
    if let Some(handbook) = entry.handbook() {
        add(&handbook.assigned, &bands(snapshot.ensembles()), None);
    }
    found
}

/// A seat that is in none of the bands; nothing where no band says who its percussionists are.
fn missing_seat(pin: &Pin, bands: &Bands<'_>) -> Option<Missing> {
    let (name, _) = bands.first()?;
    let known = bands.iter().any(|(_, band)| band.percussion_players().is_some());
    let there: Vec<String> = bands
        .iter()
        .flat_map(|(_, band)| &band.percussionists)
        .map(|player| player.seat.clone())
        .collect();
    let is_there = |seat: &&String| there.iter().any(|known| key(known) == key(seat));
    let lost = pin.seats.iter().find(|seat| !is_there(seat)).filter(|_| known)?;
    Some(Missing::Seat(lost.clone(), (*name).to_owned(), there))
}

/// A part that the piece does not have; nothing where its card lists no percussion.
fn missing_part(card: &Card<'_>, pin: &Pin, piece: &Piece) -> Option<String> {
    let movements = piece
        .movements
        .iter()
        .flat_map(|movement| &movement.piece.percussion);
    let rows: Vec<&str> = piece
        .percussion
        .iter()
        .chain(movements)
        .flat_map(|row| row.names.iter().chain(row.partners()))
        .map(|name| name.text.as_str())
        .collect();
    let of = |words: &str| card.instrument(split_part(words).0).map(|found| &found.name);
    let is_there = |part: &&String| {
        is_group(part)
            || rows
                .iter()
                .any(|row| key(row) == key(split_part(part).0) || of(row).is_some() && of(row) == of(part))
    };
    let lost = pin.parts.iter().find(|part| !is_there(part));
    lost.filter(|_| !rows.is_empty()).cloned()
}
