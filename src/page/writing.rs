//! While writing: what a word means, what could come next, what a value looks like, what is put right.

use serde_json::Value;

use crate::assist::completion::{self, Offer, OfferKind};
use crate::assist::drafts::Bit;
use crate::assist::{hover, markdown, on_type, reason, signature};
use crate::findings;
use crate::text::{Encoding, Span};

use super::answer::{Said, answer};
use super::places;
use super::question::At;
use super::shelf::File;

/// What there is to say about a place, as Markdown and as it reads without.
pub(super) fn hover(file: &File<'_>, at: At) -> Value {
    let hover = file.place(at).and_then(|place| hover::of(&place, true));
    match hover {
        Some(hover) => answer!(
            "at": places::range(&file.paper.sheet, hover.span),
            "text": hover.text,),
        None => Value::Null,
    }
}

fn all(file: &File<'_>, at: At, blank: bool) -> Vec<Offer> {
    match file.place(at) {
        Some(place) if blank => completion::after_blank(&place),
        Some(place) => completion::of(&place),
        // An empty file has no card yet, and its first word is a kind.
        None if blank => Vec::new(),
        None => completion::first(),
    }
}

/// What could be written at a place.
pub(super) fn offers(file: &File<'_>, at: At, blank: bool) -> Value {
    let offers: Vec<Value> = all(file, at, blank)
        .into_iter()
        .map(|offer| {
            let draft = offer.draft.as_ref().map(|draft| {
                let bits = draft.0.iter().map(|bit| match bit {
                    Bit::Text(text) => text.as_str().said(),
                    Bit::Blank => Value::Null,
                });
                bits.collect::<Vec<Value>>()
            });
            answer!(
                "label": offer.label,
                "at": places::range(&file.paper.sheet, offer.replaces),
                "text": offer.text,
                "kind": kind(offer.kind),
                "detail": offer.detail,
                "draft": draft,)
        })
        .collect();
    offers.said()
}

fn kind(kind: OfferKind) -> &'static str {
    match kind {
        OfferKind::Kind => "kind",
        OfferKind::Card => "card",
        OfferKind::Field => "field",
        OfferKind::Name => "name",
        OfferKind::Instrument => "instrument",
        OfferKind::Value => "value",
        OfferKind::Phrase => "phrase",
        OfferKind::Words => "words",
    }
}

/// More about an offer, in Markdown.
pub(super) fn offer(file: &File<'_>, at: At, label: &str) -> Value {
    let offer = all(file, at, false)
        .into_iter()
        .find(|offer| offer.label == label);
    let text = offer.map(|offer| match file.place(at) {
        Some(place) => completion::documentation(&place, &offer),
        None => offer.says,
    });
    answer!("text": text)
}

/// What the value at a place looks like: an example in stretches, which of them is being written, what it says.
pub(super) fn example(file: &File<'_>, at: At) -> Value {
    let Some(found) = file.place(at).and_then(|place| signature::of(&place)) else {
        return Value::Null;
    };
    let units = |end: u32| Encoding::Utf16.length(Span::new(0, end).slice(&found.label));
    let slots: Vec<Value> = found
        .slots
        .iter()
        .map(|slot| answer!("from": units(slot.span.start), "to": units(slot.span.end), "says": slot.says))
        .collect();
    answer!(
        "label": found.label,
        "slots": slots,
        "active": found.active,
        "says": markdown::plain(&found.says),)
}

/// What is put right after something was typed in front of a place.
pub(super) fn tidied(file: &File<'_>, at: At, typed: &str) -> Value {
    let offset = places::offset(&file.paper.sheet, at);
    file.edits(&on_type::typed(&file.paper.cards, offset, typed))
}

/// Why a finding is one, in Markdown.
pub(super) fn reason(phrase: &str) -> Value {
    answer!("text": findings::find(phrase).map(reason::page))
}
