//! A seat named for a job that the band does not have.

use crate::findings::card::Card;
use crate::findings::finding::{Related, Saying};
use crate::findings::rule::{Notice, Noticed};
use crate::notation::values::absent::is_seat;
use crate::notation::values::{Absent, Away, Track, Value};
use crate::rule;
use crate::text::Span;
use crate::text::sentences::{capital, the};

rule! {
    /// A percussionist named by seat or initials, to run a track or as absent, who is not among the band's
    /// percussionists.
    ///
    /// # Why it matters
    ///
    /// On the night somebody has to press the button, and the list on the door says who.
    ///
    /// # Draws it
    ///
    /// ```levare
    /// ensemble "Concert Band"
    ///   percussionists
    ///     P1 P2           snare, bass drum
    /// piece "Oxen Tow"
    ///   track           4:00, operator P9
    ///                         ^^^^^^^^^^^
    /// ```
    ///
    /// # Does not
    ///
    /// ```levare
    /// ensemble "Concert Band"
    ///   percussionists
    ///     P1 P2           snare, bass drum
    /// piece "Oxen Tow"
    ///   track           4:00, operator P2
    /// ```
    ///
    /// # What to do
    ///
    /// Name a seat that the band's card has, or add the seat there.
    PlayerNotOnTheRoster: "player not on the roster", Concert, Warning, reads Catalogue, looks at Any
}

/// A seat and the band that lacks it.
pub struct Seat {
    seat: String,
    band: crate::catalogue::EntryId,
}

/// The seats among those who are away, each with the place where they are told.
fn seats_of(who: &[Absent], span: Span) -> Vec<(String, Span)> {
    let seats = who.iter().flat_map(|one| match one {
        Absent::Seats(seats) => seats.as_slice(),
        _ => &[],
    });
    seats.map(|seat| (seat.clone(), span)).collect()
}

impl Notice for PlayerNotOnTheRoster {
    type What = Seat;

    fn notice(card: &Card<'_>) -> Vec<Noticed<Seat>> {
        let (named, bands): (Vec<(String, Span)>, Vec<_>) = if let Some(piece) = card.piece() {
            let operators = piece.track.iter().filter(|said| said.is_certain());
            let operators = operators.filter_map(|said| match &said.value {
                Track::Operator(seat, _) => is_seat(seat).then(|| (seat.clone(), said.span)),
                _ => None,
            });
            let bands = card
                .judges()
                .into_iter()
                .map(|(judge, ..)| judge.ensemble)
                .collect();
            (operators.collect(), bands)
        } else if let Some(concert) = card.entry.concert() {
            let absent = concert.absent.iter();
            let absent = absent.flat_map(|said| seats_of(std::slice::from_ref(&said.value), said.span));
            let bands = concert
                .bands
                .iter()
                .filter_map(|band| card.snapshot.ensemble_named(&band.value.name))
                .collect();
            (absent.collect(), bands)
        } else if card.entry.ensemble().is_some() {
            let items = card.fields("absent").flat_map(|field| field.items());
            let seats = items.flat_map(|item| match &item.value {
                Some(Value::Away(Away::On(who, _))) => seats_of(who, item.core),
                _ => Vec::new(),
            });
            (seats.collect(), vec![card.id])
        } else {
            return Vec::new();
        };
        let seats: Vec<&str> = bands
            .iter()
            .filter_map(|id| card.snapshot.entry(*id)?.ensemble())
            .flat_map(|band| band.percussionists.iter().map(|player| player.seat.as_str()))
            .collect();
        // A band that only counts its percussionists has no seats to compare with.
        let Some(band) = bands.first().copied().filter(|_| !seats.is_empty()) else {
            return Vec::new();
        };
        named
            .into_iter()
            .filter(|(seat, _)| !seats.contains(&seat.as_str()))
            .map(|(seat, span)| Noticed::new(span, Seat { seat, band }))
            .collect()
    }

    fn say(what: &Seat, card: &Card<'_>) -> Saying {
        let band = card
            .snapshot
            .entry(what.band)
            .map_or_else(|| "The band".to_owned(), |entry| capital(&the(&entry.name)));
        Saying {
            place: what.seat.clone(),
            says: format!("{band} has no percussionist {}.", what.seat),
            why: "On the night somebody has to do this job, and the list on the door says who.".to_owned(),
            todo: "Name a seat that the band's card has, or add the seat there.".to_owned(),
        }
    }

    fn related(what: &Seat, card: &Card<'_>) -> Vec<Related> {
        let Some(entry) = card.snapshot.entry(what.band) else {
            return Vec::new();
        };
        let span = entry.ensemble().and_then(|band| band.percussionists_span);
        span.map(|span| card.beside(entry, span, "the percussionists there are"))
            .into_iter()
            .collect()
    }
}
