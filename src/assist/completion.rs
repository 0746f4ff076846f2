//! What could be written at the cursor.

mod documentation;
mod names;
mod rows;
mod sayings;
mod values;

use crate::notation::Kind;
use crate::notation::fields::{FieldSpec, Shape};
use crate::text::Span;

use super::line::{Here, here};
pub use super::offers::{Offer, OfferKind};
use super::{Place, drafts};

pub use documentation::of as documentation;

/// What could stand at the place, the likeliest first. What is typed already narrows it; when that is whole,
/// nothing is offered, so that the Enter key ends the line as it was meant to.
pub fn of(place: &Place<'_>) -> Vec<Offer> {
    let text = place.text();
    let Some(here) = here(place.entry.kind, &place.reading.tree, text, place.offset) else {
        return Vec::new();
    };
    if in_words(place, &here) {
        return Vec::new();
    }
    let mut offers = match here {
        Here::Margin(written) => kinds(Some(place), written),
        Here::Name(kind, written) => name(place, kind, written),
        Here::FieldWord(specs, written) => fields(place, specs, written),
        Here::Value(spec, value) => values::of(place, spec, value),
        Here::Row(of, written) => rows::of(place, of, written),
        Here::Facts(_, written) => rows::facts(place, rows::segment(text, written)),
    };
    let typed = |offer: &Offer| {
        let end = place.offset.min(offer.replaces.end);
        Span::new(offer.replaces.start.min(end), end).slice(text)
    };
    if offers.iter().any(|offer| {
        let typed = typed(offer);
        !typed.trim().is_empty() && offer.is_typed(typed)
    }) {
        return Vec::new();
    }
    // Whoever puts the cursor into a word that is whole has it already.
    let word = place.word();
    let inside = word.start < place.offset && place.offset < word.end;
    let is_word = |known: &str| known.eq_ignore_ascii_case(word.slice(text));
    if inside
        && offers
            .iter()
            .any(|offer| offer.text.split([' ', '"']).any(is_word))
    {
        return Vec::new();
    }
    offers.retain(|offer| offer.fits(typed(offer)));
    for offer in &mut offers {
        offer.replaces = place.in_file(offer.replaces);
    }
    offers.sort_by_key(|offer| offer.rank);
    offers
}

/// What is offered unasked when a blank is typed: only where a value begins, or the partner of a relation or
/// the place behind `at`. Whoever indents a line or fills a column with blanks is left alone, since the Enter
/// key would take the first offer.
pub fn after_blank(place: &Place<'_>) -> Vec<Offer> {
    let here = here(place.entry.kind, &place.reading.tree, place.text(), place.offset);
    let wanted = match here {
        Some(Here::Value(..)) => true,
        Some(Here::Row(_, written) | Here::Facts(_, written)) => {
            let words = written.slice(place.text());
            words.ends_with(" at ") || rows::ends_with_relation(words)
        }
        _ => false,
    };
    if wanted { of(place) } else { Vec::new() }
}

/// Whether the cursor is in words that are the director's own: a remark, or a reason.
fn in_words(place: &Place<'_>, here: &Here) -> bool {
    let written = match here {
        Here::Margin(written)
        | Here::Name(_, written)
        | Here::FieldWord(_, written)
        | Here::Value(_, written)
        | Here::Row(_, written)
        | Here::Facts(_, written) => written.slice(place.text()),
    };
    let opened = written.matches('(').count() > written.matches(')').count();
    opened || written.contains(" because ")
}

fn kinds(place: Option<&Place<'_>>, written: Span) -> Vec<Offer> {
    let says = |kind: Kind| match kind {
        Kind::Handbook => "What holds for the whole catalog.",
        Kind::Ensemble => "A band: its players, its percussionists, what it owns and has been taught.",
        Kind::Piece => "A piece on the shelf, or one that is wanted.",
        Kind::Concert => "An evening, its program and what it calls for.",
        Kind::Criteria => "Conditions under a name, such as your own grades.",
        Kind::Bundle => "Pieces sold together.",
        Kind::List => "A list of pieces published by somebody, with its grades.",
        Kind::Skill => "Something to be taught.",
        Kind::Instrument => "An instrument that Levare does not know, or knows differently.",
    };
    let bare = Kind::ALL.into_iter().map(|kind| {
        let offer = Offer::new(kind.word(), written, OfferKind::Kind)
            .detail("a card")
            .says(says(kind));
        match kind.is_named() {
            true => offer.drafts(drafts::Draft(vec![
                drafts::Bit::Text(format!("{kind} \"")),
                drafts::Bit::Blank,
                drafts::Bit::Text("\"".to_owned()),
            ])),
            false => offer.writes(kind.word()),
        }
    });
    let whole = Kind::ALL.into_iter().filter_map(|kind| {
        let place = place?;
        let draft = drafts::card(place.snapshot, None, kind);
        Some(
            Offer::new(format!("{kind}, the whole card"), written, OfferKind::Card)
                .drafts(draft)
                .detail("a card with its usual lines")
                .says(says(kind))
                .rank(6),
        )
    });
    bare.chain(whole).collect()
}

/// Behind a kind and an opening quotation mark: the whole card. A closing mark behind the cursor, which editors
/// put there by themselves, is replaced along.
fn name(place: &Place<'_>, kind: Kind, written: Span) -> Vec<Offer> {
    let after = Span::new(written.end, u32::MAX).slice(place.text());
    let closing = after.chars().next().filter(|c| matches!(c, '"' | '”'));
    let closing = closing.map_or(0, char::len_utf8);
    let replaces = Span::new(
        written.start,
        written.end.saturating_add(u32::try_from(closing).unwrap_or(0)),
    );
    let bands: Vec<&str> = drafts::bands(place.snapshot, None)
        .into_iter()
        .filter_map(|id| place.snapshot.entry(id))
        .map(|entry| entry.name.as_str())
        .collect();
    let detail = match (kind, bands.is_empty()) {
        (Kind::Piece, false) => format!("with the instruments of {}", bands.join(", ")),
        (Kind::Concert, false) => format!("for {}", bands.join(", ")),
        _ => "with its usual lines".to_owned(),
    };
    let draft = drafts::card(place.snapshot, None, kind);
    vec![
        Offer::new(
            format!("{kind} \"...\" with all its usual lines"),
            replaces,
            OfferKind::Card,
        )
        .drafts(draft)
        .detail(detail)
        .also(vec![written.slice(place.text()).to_owned()]),
    ]
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
    let all = usual_lines(place, specs, &here, written);
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
        .chain(all)
        .collect()
}

/// On a card that has nothing but its head: all lines it usually has, at once.
fn usual_lines(
    place: &Place<'_>,
    specs: &'static [FieldSpec],
    here: &[&str],
    written: Span,
) -> Option<Offer> {
    let kind = place.entry.kind?;
    if !std::ptr::eq(specs, top(place)) || !here.is_empty() {
        return None;
    }
    let draft = drafts::body(place.snapshot, Some(place.id), kind);
    // The first line is the one the cursor is on, with the indent that stands there.
    let mut bits = draft.0;
    if let Some(drafts::Bit::Text(first)) = bits.first_mut() {
        *first = first.trim_start().to_owned();
    }
    Some(
        Offer::new(format!("all usual lines of a {kind}"), written, OfferKind::Card)
            .drafts(drafts::Draft(bits))
            .detail("with gaps to fill in")
            .rank(6),
    )
}

fn top(place: &Place<'_>) -> &'static [FieldSpec] {
    place.entry.kind.map_or(&[], crate::notation::fields::fields_of)
}

/// What could stand in an empty file.
pub fn first() -> Vec<Offer> {
    kinds(None, Span::at(0))
}
