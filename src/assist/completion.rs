//! What could be written at the cursor.

mod names;
mod rows;
mod values;

use crate::notation::Kind;
use crate::notation::fields::{FieldSpec, Shape};
use crate::text::Span;

use super::Place;
use super::line::{Here, here};
pub use super::offers::{Offer, OfferKind};

/// What could stand at the place, the likeliest first.
pub fn of(place: &Place<'_>) -> Vec<Offer> {
    let text = place.text();
    let Some(here) = here(place.entry.kind, &place.reading.tree, text, place.offset) else {
        return Vec::new();
    };
    let mut offers = match here {
        Here::Margin(written) => kinds(written),
        Here::FieldWord(specs, written) => fields(place, specs, written),
        Here::Value(spec, value) => values::of(place, spec, value),
        Here::Row(of, written) => rows::of(place, of, written),
        Here::Facts(_, written) => rows::facts(place, rows::segment(text, written)),
    };
    for offer in &mut offers {
        offer.replaces = place.in_file(offer.replaces);
    }
    offers.sort_by_key(|offer| offer.rank);
    offers
}

fn kinds(written: Span) -> Vec<Offer> {
    let says = |kind: Kind| match kind {
        Kind::Handbook => "What holds for the whole catalogue.",
        Kind::Ensemble => "A band: its players, its percussionists, what it owns and has been taught.",
        Kind::Piece => "A piece on the shelf, or one that is wanted.",
        Kind::Concert => "An evening, its program and what it calls for.",
        Kind::Criteria => "Conditions under a name, such as your own grades.",
        Kind::Bundle => "Pieces sold together.",
        Kind::List => "A list of pieces published by somebody, with its grades.",
        Kind::Skill => "Something to be taught.",
        Kind::Instrument => "An instrument that the standard table lacks, or one of it changed.",
    };
    Kind::ALL
        .into_iter()
        .map(|kind| {
            let text = if kind.is_named() {
                format!("{kind} \"\"")
            } else {
                kind.word().to_owned()
            };
            Offer::new(kind.word(), written, OfferKind::Kind)
                .writes(text)
                .detail("a card")
                .says(says(kind))
        })
        .collect()
}

/// The fields that the card does not have yet come first; lists may be written again, so they stay.
fn fields(place: &Place<'_>, specs: &'static [FieldSpec], written: Span) -> Vec<Offer> {
    let here: Vec<&str> = if std::ptr::eq(specs, top(place)) {
        place
            .reading
            .fields
            .iter()
            .filter(|field| !field.word.touches(place.offset))
            .filter_map(|field| field.name())
            .collect()
    } else {
        let siblings = place.fields();
        let parent = siblings.iter().rev().nth(usize::from(siblings.len() > 1));
        match parent.map(|field| &field.body) {
            Some(crate::notation::Body::Block(inside)) => inside
                .iter()
                .filter(|field| !field.word.touches(place.offset))
                .filter_map(|field| field.name())
                .collect(),
            _ => Vec::new(),
        }
    };
    specs
        .iter()
        .filter(|spec| !here.contains(&spec.name) || spec.name == "stet")
        .map(|spec| {
            let text = match spec.shape {
                Shape::Block(_) => spec.name.to_owned(),
                // The one form puts values into the seventeenth column of their line.
                _ => format!("{:<15} ", spec.name),
            };
            Offer::new(spec.name, written, OfferKind::Field)
                .writes(text)
                .detail(spec.example)
                .says(spec.says)
                .also(spec.also.iter().map(|also| (*also).to_owned()).collect())
        })
        .collect()
}

fn top(place: &Place<'_>) -> &'static [FieldSpec] {
    place.entry.kind.map_or(&[], crate::notation::fields::fields_of)
}

/// What could stand in an empty file.
pub fn first() -> Vec<Offer> {
    kinds(Span::at(0))
}
