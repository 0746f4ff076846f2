//! What there is to say about an offer, worked out when the typist stops at it.

use crate::findings;
use crate::music::{Key, Signature};
use crate::notation::fields::Shape;
use crate::notation::{Kind, Of};
use crate::text::sentences::sentence;

use super::super::line::here;
use super::super::markdown::words;
use super::super::{Place, hover};
use super::{Here, Offer, OfferKind};

/// The whole documentation of an offer, in Markdown that reads well as it stands.
pub fn of(place: &Place<'_>, offer: &Offer) -> String {
    let more = match offer.kind {
        OfferKind::Phrase => findings::find(&offer.label).map(hover::rule_page),
        OfferKind::Name => card(place, offer),
        OfferKind::Instrument => hover::instrument(place, &offer.label),
        OfferKind::Value => key(place, offer),
        OfferKind::Card => Some(format!("{}\n\n```\n{}\n```", offer.says, offer.text)),
        OfferKind::Field => Some(field(offer)),
        OfferKind::Kind | OfferKind::Words => None,
    };
    more.unwrap_or_else(|| words(&offer.says))
}

fn field(offer: &Offer) -> String {
    let mut text = words(&offer.says);
    if !offer.detail.is_empty() {
        text.push_str(&format!("\n\nFor example: `{}`", offer.detail));
    }
    if !offer.also.is_empty() {
        text.push_str(&format!(
            "\n\n{}",
            sentence(&format!("Also written: {}", offer.also.join(", ")))
        ));
    }
    text
}

fn card(place: &Place<'_>, offer: &Offer) -> Option<String> {
    let name = offer.also.first()?;
    let (id, _) = place
        .snapshot
        .entries()
        .find(|(_, entry)| entry.name == *name && entry.kind != Some(Kind::Handbook))?;
    hover::card_summary(place.snapshot, id)
}

/// What each section reads, for a key or a signature.
fn key(place: &Place<'_>, offer: &Offer) -> Option<String> {
    let here = here(place.entry.kind, &place.reading.tree, place.text(), place.offset)?;
    let Here::Value(spec, _) = here else {
        return None;
    };
    match spec.shape {
        Shape::Value(Of::Key) | Shape::List(Of::KeyTaught) => {
            Some(hover::key(place, Key::read(&offer.label)?))
        }
        Shape::Value(Of::Signature) => {
            let signature = (-7..=7)
                .filter_map(Signature::new)
                .find(|one| one.to_string() == offer.label)?;
            Some(hover::signature(place, signature))
        }
        Shape::List(Of::Skill) => hover::skill_words(place, &offer.label),
        _ => None,
    }
}
