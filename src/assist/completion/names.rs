//! Names of cards in quotation marks.

use crate::notation::Kind;
use crate::text::Span;

use super::super::Place;
use super::super::offers::{Offer, OfferKind};

/// The names of these kinds of cards. `written` may begin with the opening quotation mark.
pub(super) fn of(place: &Place<'_>, kinds: &[Kind], written: Span) -> Vec<Offer> {
    let text = place.text();
    // A closing mark behind the cursor, which editors put there by themselves, is replaced along.
    let after = Span::new(written.end, u32::MAX).slice(text);
    let opened = written.slice(text).starts_with(['"', '“', '„']);
    let closes = opened && after.starts_with(['"', '”']);
    let closing = after.chars().next().map_or(0, char::len_utf8);
    let replaces = if closes {
        Span::new(
            written.start,
            written.end.saturating_add(u32::try_from(closing).unwrap_or(0)),
        )
    } else {
        written
    };
    let mut offers = Vec::new();
    for (_, entry) in place.snapshot.entries() {
        let Some(kind) = entry.kind.filter(|kind| kinds.contains(kind)) else {
            continue;
        };
        if entry.name.is_empty() {
            continue;
        }
        let twins = place.snapshot.names().of(kind, &entry.name).count();
        let by = entry.piece().and_then(|piece| piece.by.first());
        let last = by.and_then(|person| person.name.split_whitespace().last());
        let text = match last {
            Some(last) if twins > 1 => format!("\"{}\" by {last}", entry.name),
            _ => format!("\"{}\"", entry.name),
        };
        let detail = by.map_or_else(|| kind.word().to_owned(), |person| person.name.clone());
        let says = entry.piece().map_or_else(String::new, |piece| {
            let grades: Vec<String> = piece.grades.iter().map(|said| said.value.to_string()).collect();
            let styles: Vec<&str> = piece.styles.iter().map(|said| said.value.as_str()).collect();
            [grades.join(", "), styles.join(", ")]
                .into_iter()
                .filter(|part| !part.is_empty())
                .collect::<Vec<_>>()
                .join("; ")
        });
        offers.push(
            Offer::new(text.clone(), replaces, OfferKind::Name)
                .writes(text)
                .detail(detail)
                .says(says)
                .also(vec![entry.name.clone()]),
        );
    }
    offers.dedup_by(|a, b| a.text == b.text && a.detail == b.detail);
    offers
}
